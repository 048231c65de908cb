-- What a practice measured of its own scatter, for the groups of scales that a vessel was
-- read with. Restricted jobs are left out, so that every member works with the same figures.

-- name: KitReadingsOfGroups :many
select s.grp, k.id as kit_id, s.instrument_id, k.made_on, r.member_id, r.spot, r.repeat, r.value_tenths
  from scale_groups s
  join repeat_kits k on k.practice_id = s.practice_id and k.scale_id = s.scale_id
  join repeat_kit_readings r on r.practice_id = k.practice_id and r.kit_id = k.id
 where s.practice_id = @practice_id
   and not exists (select from repeat_kit_replacements n where n.practice_id = k.practice_id and n.kit_id = k.id)
   and s.grp in (select z.grp from scale_groups z
                   join passes p on p.practice_id = z.practice_id and p.scale_id = z.scale_id
                   join pass_grids g on g.practice_id = p.practice_id and g.pass_id = p.id
                  where z.practice_id = @practice_id and g.vessel_id = @vessel_id)
 order by s.grp, k.made_on, k.id, r.spot, r.member_id, r.repeat;

-- name: ReplacementsOfGroups :many
-- Placements of the newest passes of each group: enough of them, not all there are.
select z.grp, n.pass_id, n.placements
  from (select distinct s.grp from scale_groups s
          join passes p on p.practice_id = s.practice_id and p.scale_id = s.scale_id
          join pass_grids g on g.practice_id = p.practice_id and g.pass_id = p.id
         where s.practice_id = @practice_id and g.vessel_id = @vessel_id) z
  cross join lateral (
    select r.pass_id, r.placements
      from (select p.id
              from scale_groups s
              join passes p on p.practice_id = s.practice_id and p.scale_id = s.scale_id
              join visits v on v.practice_id = p.practice_id and v.id = p.visit_id
              join jobs j on j.practice_id = v.practice_id and j.id = v.job_id
             where s.practice_id = @practice_id and s.grp = z.grp and not p.quoted and p.source = 'metered' and not j.restricted
             order by p.began_at desc, p.id
             limit 6) q
      join readings r on r.practice_id = @practice_id and r.pass_id = q.id
     where r.current and r.void_reason = '' and r.limit_flag = '' and cardinality(r.placements) > 1
     order by r.id
     limit 400) n
 order by z.grp, n.pass_id;

-- name: RepeatsOfGroups :many
-- Places read again in one pass by a hand that had not seen the earlier value.
select z.grp, n.value as first, n.again as later, n.placed
  from (select distinct s.grp from scale_groups s
          join passes p on p.practice_id = s.practice_id and p.scale_id = s.scale_id
          join pass_grids g on g.practice_id = p.practice_id and g.pass_id = p.id
         where s.practice_id = @practice_id and g.vessel_id = @vessel_id) z
  cross join lateral (
    select f.value, r.value as again, least(cardinality(f.placements), cardinality(r.placements))::integer as placed
      from scale_groups s
      join passes p on p.practice_id = s.practice_id and p.scale_id = s.scale_id
      join visits v on v.practice_id = p.practice_id and v.id = p.visit_id
      join jobs j on j.practice_id = v.practice_id and j.id = v.job_id
      join readings r on r.practice_id = p.practice_id and r.pass_id = p.id
      join readings f on f.practice_id = r.practice_id and f.pass_id = r.pass_id and f.place_id = r.place_id
     where s.practice_id = @practice_id and s.grp = z.grp and not p.quoted and not j.restricted
       and r.occasion > 1 and r.current and not r.known_before and r.void_reason = '' and r.limit_flag = ''
       and f.occasion = 1 and f.current and f.void_reason = '' and f.limit_flag = '' and f.surface = r.surface
     order by p.began_at desc, r.id
     limit 200) n
 order by z.grp;

-- name: LikePairsOfGroups :many
-- Pairs of passes of one hull within the week, by one scale and on one surface, with
-- nothing done to her between: the newest forty of each group.
select z.grp, n.vessel_id, n.earlier, n.later, n.earlier_taken, n.earlier_flags, n.earlier_placed, n.later_taken, n.later_flags, n.later_placed
  from (select distinct s.grp from scale_groups s
          join passes p on p.practice_id = s.practice_id and p.scale_id = s.scale_id
          join pass_grids g on g.practice_id = p.practice_id and g.pass_id = p.id
         where s.practice_id = @practice_id and g.vessel_id = @vessel_id) z
  cross join lateral (
    select b.vessel_id, a.pass_id as earlier, b.pass_id as later, a.taken as earlier_taken, a.flags as earlier_flags, a.placed as earlier_placed,
           b.taken as later_taken, b.flags as later_flags, b.placed as later_placed
      from pass_grids b
      join passes q on q.practice_id = b.practice_id and q.id = b.pass_id
      join scale_groups s on s.practice_id = q.practice_id and s.scale_id = q.scale_id
      join pass_grids a on a.practice_id = b.practice_id and a.pass_id = b.like_of
      join passes p on p.practice_id = a.practice_id and p.id = a.pass_id
      join visits v on v.practice_id = q.practice_id and v.id = q.visit_id
      join jobs j on j.practice_id = v.practice_id and j.id = v.job_id
      join visits w on w.practice_id = p.practice_id and w.id = p.visit_id
      join jobs k on k.practice_id = w.practice_id and k.id = w.job_id
     where b.practice_id = @practice_id and b.like_of is not null and s.grp = z.grp and not j.restricted and not k.restricted
       and p.state <> 'open' and q.state <> 'open' and p.surface = q.surface and p.dry_surface = q.dry_surface
       and p.heated is not distinct from q.heated
       and not exists (select from standing_overrides o where o.practice_id = b.practice_id and o.pass_id in (a.pass_id, b.pass_id) and o.withdrawn_at is null)
       and not exists (select from events e where e.practice_id = b.practice_id and e.vessel_id = b.vessel_id
                          and e.from_on <= q.began_at::date and e.to_on >= p.began_at::date)
     order by q.began_at desc, q.id
     limit 40) n
 order by z.grp, n.later;

-- name: CrossReadingsOfGroups :many
-- Two instruments of one model and scale on the same spots.
select a.grp, x.id as set_id, a.instrument_id as first_instrument, b.instrument_id as second_instrument, r.spot, r.first_tenths, r.second_tenths
  from cross_reading_sets x
  join scale_groups a on a.practice_id = x.practice_id and a.scale_id = x.first_scale_id
  join scale_groups b on b.practice_id = x.practice_id and b.scale_id = x.second_scale_id
  join cross_readings r on r.practice_id = x.practice_id and r.set_id = x.id
 where x.practice_id = @practice_id and a.grp = b.grp and a.instrument_id <> b.instrument_id
   and not exists (select from cross_reading_replacements n where n.practice_id = x.practice_id and n.set_id = x.id)
   and a.grp in (select z.grp from scale_groups z
                   join passes p on p.practice_id = z.practice_id and p.scale_id = z.scale_id
                   join pass_grids g on g.practice_id = p.practice_id and g.pass_id = p.id
                  where z.practice_id = @practice_id and g.vessel_id = @vessel_id)
 order by a.grp, x.made_on, x.id, r.spot;
