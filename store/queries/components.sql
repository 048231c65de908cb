-- What a practice measured of its own scatter, for the groups of scales that a vessel was
-- read with. Restricted jobs are left out, so that every member works with the same figures. Nothing is read
-- where the record of changes stands where it stood when all this was read before (known).

-- name: KitReadingsOfGroups :many
select s.grp, k.id as kit_id, s.instrument_id, k.made_on, r.member_id, r.spot, r.repeat, r.value_tenths
  from scale_groups s
  join repeat_kits k on k.practice_id = s.practice_id and k.scale_id = s.scale_id
  join repeat_kit_readings r on r.practice_id = k.practice_id and r.kit_id = k.id
 where s.practice_id = @practice_id
   and not exists (select from repeat_kit_replacements n where n.practice_id = k.practice_id and n.kit_id = k.id)
   and s.grp in (select z.grp from groups_of_vessel(@practice_id, @vessel_id) z)
   and (select h.seq from heads h where h.practice_id = @practice_id) <> @known::bigint
 order by s.grp, k.made_on, k.id, r.spot, r.member_id, r.repeat;

-- name: ReplacementsOfGroups :many
-- Placements of the newest passes of each group: enough of them, not all there are.
-- Each step names what it goes by and is held in this order (offset 0), whatever the
-- planner's figures say: of a practice that was just filled they say nothing.
select z.grp::text as grp, n.pass_id, n.placements
  from groups_of_vessel(@practice_id, @vessel_id) z
  cross join lateral (
    select r.pass_id, r.placements
      from (select p.id
              from passes p
              cross join lateral (select j.restricted from visits v join jobs j on j.practice_id = v.practice_id and j.id = v.job_id
                                   where v.practice_id = @practice_id and v.id = p.visit_id offset 0) j
             where p.practice_id = @practice_id and p.scale_id = any(z.scales) and not p.quoted and p.source = 'metered' and not j.restricted
             order by p.began_at desc, p.id
             limit 6) q
      cross join lateral (select r.id, r.pass_id, r.placements from readings r
                           where r.practice_id = @practice_id and r.pass_id = q.id
                             and r.current and r.void_reason = '' and r.limit_flag = '' and cardinality(r.placements) > 1 offset 0) r
     order by r.id
     limit 400) n
 where (select h.seq from heads h where h.practice_id = @practice_id) <> @known::bigint
 order by 1, 2;

-- name: RepeatsOfGroups :many
-- Places read again in one pass by a hand that had not seen the earlier value.
select z.grp::text as grp, n.value as first, n.again as later, n.placed
  from groups_of_vessel(@practice_id, @vessel_id) z
  cross join lateral (
    select f.value, r.value as again, least(cardinality(f.placements), cardinality(r.placements))::integer as placed
      from passes p
      cross join lateral (select j.restricted from visits v join jobs j on j.practice_id = v.practice_id and j.id = v.job_id
                           where v.practice_id = @practice_id and v.id = p.visit_id offset 0) j
      cross join lateral (select r.id, r.place_id, r.value, r.placements, r.surface from readings r
                           where r.practice_id = @practice_id and r.pass_id = p.id and r.occasion > 1
                             and r.current and not r.known_before and r.void_reason = '' and r.limit_flag = '' offset 0) r
      cross join lateral (select f.value, f.placements, f.surface from readings f
                           where f.practice_id = @practice_id and f.pass_id = p.id and f.place_id = r.place_id and f.occasion = 1 and f.current
                             and f.void_reason = '' and f.limit_flag = '' offset 0) f
     where p.practice_id = @practice_id and p.scale_id = any(z.scales) and not p.quoted and not j.restricted and f.surface = r.surface
     order by p.began_at desc, r.id
     limit 200) n
 where (select h.seq from heads h where h.practice_id = @practice_id) <> @known::bigint
 order by 1;

-- name: LikePairsOfGroups :many
-- Pairs of passes of one hull within the week, by one scale and on one surface, with
-- nothing done to her between: the newest forty of each group, each with the worse of the
-- two in what could cost a pass its standing.
select z.grp::text as grp, n.vessel_id, n.earlier, n.later, n.earlier_taken, n.earlier_flags, n.earlier_placed, n.later_taken, n.later_flags, n.later_placed,
       i.sensing, c.skin_decidegrees, n.hours_since_wash, n.heated, n.hours_since_heat_off, k.block_tenths
  from groups_of_vessel(@practice_id, @vessel_id) z
  cross join lateral (
    select b.vessel_id, b.like_of as earlier, b.pass_id as later, a.taken as earlier_taken, a.flags as earlier_flags, a.placed as earlier_placed,
           b.taken as later_taken, b.flags as later_flags, b.placed as later_placed,
           p.visit_id as earlier_visit, p.began_at as earlier_at, q.visit_id as later_visit, q.began_at as later_at, q.scale_id, q.heated,
           least(p.hours_since_wash, q.hours_since_wash)::smallint as hours_since_wash,
           least(coalesce(p.hours_since_heat_off, 0), coalesce(q.hours_since_heat_off, 0))::smallint as hours_since_heat_off
      from (select b.vessel_id, b.pass_id, b.like_of, b.taken, b.flags, b.placed from pass_grids b
             where b.practice_id = @practice_id and b.like_of is not null offset 0) b
      cross join lateral (select q.id, q.scale_id, q.visit_id, q.surface, q.dry_surface, q.heated, q.hours_since_wash, q.hours_since_heat_off, q.state, q.began_at from passes q
                           where q.practice_id = @practice_id and q.id = b.pass_id offset 0) q
      cross join lateral (select p.visit_id, p.surface, p.dry_surface, p.heated, p.hours_since_wash, p.hours_since_heat_off, p.state, p.began_at from passes p
                           where p.practice_id = @practice_id and p.id = b.like_of offset 0) p
      cross join lateral (select a.taken, a.flags, a.placed from pass_grids a
                           where a.practice_id = @practice_id and a.pass_id = b.like_of offset 0) a
      cross join lateral (select bool_or(j.restricted) as restricted from visits v join jobs j on j.practice_id = v.practice_id and j.id = v.job_id
                           where v.practice_id = @practice_id and v.id in (q.visit_id, p.visit_id) offset 0) j
     where q.scale_id = any(z.scales) and not j.restricted
       and p.state <> 'open' and q.state <> 'open' and p.surface = q.surface and p.dry_surface = q.dry_surface
       and p.heated is not distinct from q.heated
       and not exists (select from standing_overrides o where o.practice_id = @practice_id and o.pass_id in (b.like_of, b.pass_id) and o.withdrawn_at is null)
       and not exists (select from events e where e.practice_id = @practice_id and e.vessel_id = b.vessel_id
                          and e.from_on <= q.began_at::date and e.to_on >= p.began_at::date)
     order by q.began_at desc, q.id
     limit 40) n
  cross join lateral (select i.sensing from scales s join instruments i on i.practice_id = s.practice_id and i.id = s.instrument_id
                       where s.practice_id = @practice_id and s.id = n.scale_id) i
  cross join lateral (select min(least(w.skin_port_decidegrees, w.skin_starboard_decidegrees))::smallint as skin_decidegrees
                        from (values (n.earlier_visit, n.earlier_at), (n.later_visit, n.later_at)) x(visit_id, began_at)
                       cross join lateral (select o.skin_port_decidegrees, o.skin_starboard_decidegrees from conditions o
                                            where o.practice_id = @practice_id and o.visit_id = x.visit_id
                                            order by abs(extract(epoch from o.at - x.began_at)), o.id limit 1) w) c
  cross join lateral (select coalesce(max(abs(m.after - m.before)), 0)::integer as block_tenths
                        from (select (array_agg(k.value_tenths order by k.at, k.id) filter (where k.moment = 'before'))[1] as before,
                                     (array_agg(k.value_tenths order by k.at desc, k.id desc) filter (where k.moment = 'after'))[1] as after
                                from block_checks k
                               where k.practice_id = @practice_id and k.pass_id in (n.earlier, n.later) and k.block <> 'air'
                               group by k.pass_id, k.block) m) k
 where (select h.seq from heads h where h.practice_id = @practice_id) <> @known::bigint
 order by 1, 4;

-- name: CrossReadingsOfGroups :many
-- Two instruments of one model and scale on the same spots.
select a.grp, x.id as set_id, a.instrument_id as first_instrument, b.instrument_id as second_instrument, r.spot, r.first_tenths, r.second_tenths
  from cross_reading_sets x
  join scale_groups a on a.practice_id = x.practice_id and a.scale_id = x.first_scale_id
  join scale_groups b on b.practice_id = x.practice_id and b.scale_id = x.second_scale_id
  join cross_readings r on r.practice_id = x.practice_id and r.set_id = x.id
 where x.practice_id = @practice_id and a.grp = b.grp and a.instrument_id <> b.instrument_id
   and not exists (select from cross_reading_replacements n where n.practice_id = x.practice_id and n.set_id = x.id)
   and a.grp in (select z.grp from groups_of_vessel(@practice_id, @vessel_id) z)
   and (select h.seq from heads h where h.practice_id = @practice_id) <> @known::bigint
 order by a.grp, x.made_on, x.id, r.spot;
