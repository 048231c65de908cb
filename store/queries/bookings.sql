-- name: ClashesOf :many
-- Visits that hold one of these people or instruments within a span.
select 'person' as what, m.name, w.kind, w.from_at, w.to_at, w.time_zone, v.name as vessel, j.number,
       ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))::boolean as open
  from visit_people o
  join visits w on w.practice_id = o.practice_id and w.id = o.visit_id
  join jobs j on j.practice_id = w.practice_id and j.id = w.job_id
  join vessels v on v.practice_id = j.practice_id and v.id = j.vessel_id
  join members m on m.practice_id = o.practice_id and m.id = o.member_id
 where o.practice_id = @practice_id and o.holds and o.visit_id <> @but and o.member_id = any(@people::uuid[])
   and o.during && tstzrange(@from_at::timestamptz, @to_at::timestamptz, '[)')
union all
select 'instrument', i.name, w.kind, w.from_at, w.to_at, w.time_zone, v.name, j.number,
       ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))::boolean
  from visit_instruments o
  join visits w on w.practice_id = o.practice_id and w.id = o.visit_id
  join jobs j on j.practice_id = w.practice_id and j.id = w.job_id
  join vessels v on v.practice_id = j.practice_id and v.id = j.vessel_id
  join instruments i on i.practice_id = o.practice_id and i.id = o.instrument_id
 where o.practice_id = @practice_id and o.holds and o.visit_id <> @but and o.instrument_id = any(@instruments::uuid[])
   and o.during && tstzrange(@from_at::timestamptz, @to_at::timestamptz, '[)')
 order by 4, 2
 limit 10;

-- name: HeldBy :one
-- Who makes a visit, and with what.
select coalesce((select array_agg(o.member_id order by o.member_id) from visit_people o where o.practice_id = w.practice_id and o.visit_id = w.id), '{}')::uuid[] as people,
       coalesce((select array_agg(o.instrument_id order by o.instrument_id) from visit_instruments o where o.practice_id = w.practice_id and o.visit_id = w.id), '{}')::uuid[] as instruments
  from visits w
 where w.practice_id = @practice_id and w.id = @visit_id;

-- name: OutsideSpell :many
-- Planned visits that their time ashore does not cover.
select w.id, w.kind, w.from_at, w.to_at, w.time_zone, j.number, h.first_at, h.last_at, coalesce(y.name, '') as yard, s.time_zone as yard_zone, h.cancelled,
       ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))::boolean as open
  from visit_hours h
  join visits w on w.practice_id = h.practice_id and w.id = h.visit_id
  join jobs j on j.practice_id = w.practice_id and j.id = w.job_id
  join spells s on s.practice_id = h.practice_id and s.id = h.spell_id
  left join parties y on y.practice_id = s.practice_id and y.id = s.yard_id
 where h.practice_id = @practice_id and (h.visit_id = sqlc.narg('visit_id')::uuid or h.spell_id = sqlc.narg('spell_id')::uuid) and h.outside
 order by w.from_at, w.id
 limit 10;

-- name: SpellAcross :one
select coalesce(y.name, '') as yard, lower(s.during)::timestamptz as from_at, coalesce(s.actual_launch, s.planned_launch) as to_at, s.time_zone
  from spells s
  left join parties y on y.practice_id = s.practice_id and y.id = s.yard_id
 where s.practice_id = @practice_id and s.vessel_id = @vessel_id and s.id <> @but
   and s.during && tstzrange(@from_at::timestamptz, sqlc.narg('to_at')::timestamptz, '[)')
 order by lower(s.during)
 limit 1;

-- name: OverrideCheck :exec
insert into visit_overrides (practice_id, visit_id, code, reason, by_id, at, move_id)
values (@practice_id, @visit_id, @code, @reason, sqlc.narg('by_id'), @at, sqlc.narg('move_id'))
on conflict (practice_id, visit_id, code) do update set reason = excluded.reason, by_id = excluded.by_id, at = excluded.at, move_id = excluded.move_id;
