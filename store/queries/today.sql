-- name: TodayIs :one
-- The day asked for, or the one it is now in the practice's zone.
select cast(coalesce(sqlc.narg('on_day')::date, cast(timezone(time_zone, @now::timestamptz) as date)) as date) as day
  from practices
 where practice_id = @practice_id;

-- name: VisitsOfDay :many
-- Visits that touch the day, as the practice's zone counts it.
select w.id, w.kind, w.from_at, w.to_at, w.time_zone, w.date_precision, w.date_as_written, w.days_ashore_as_written, w.state, w.lead_id, w.lead_name, w.lead_roles, w.lead_active, w.at_yard, w.spell_lift, w.spell_precision, w.spell_zone, w.job_id, w.job_number,
       w.vessel_id, w.vessel_name, w.vessel_kind, w.loa_mm, w.moulded_year, w.hull_number, w.figure, w.yard, w.lifted_at, w.yard_zone, w.last_pass_at
  from visit_lines w
  cross join (select coalesce(sqlc.narg('on_day')::date, cast(timezone(p.time_zone, @now::timestamptz) as date)) as day, p.time_zone
          from practices p where p.practice_id = @practice_id) d
 where w.practice_id = @practice_id and w.state <> 'cancelled'
   and w.from_at < timezone(d.time_zone, cast(d.day + 1 as timestamp)) and w.to_at > timezone(d.time_zone, cast(d.day as timestamp))
   and (@everyones::boolean or w.lead_id = @member::uuid or exists (select from visit_people o where o.practice_id = w.practice_id and o.visit_id = w.id and o.member_id = @member))
   and ((not w.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = w.practice_id and a.job_id = w.job_id and a.member_id = @member::uuid))
 order by w.from_at, w.id;

-- name: PassesOfDay :many
select x.id, x.visit_id, x.instrument, x.state, x.places_read, x.places_planned
  from pass_lines x
  join visits w on w.practice_id = x.practice_id and w.id = x.visit_id
  cross join (select coalesce(sqlc.narg('on_day')::date, cast(timezone(p.time_zone, @now::timestamptz) as date)) as day, p.time_zone
          from practices p where p.practice_id = @practice_id) d
 where x.practice_id = @practice_id and w.state <> 'cancelled'
   and w.from_at < timezone(d.time_zone, cast(d.day + 1 as timestamp)) and w.to_at > timezone(d.time_zone, cast(d.day as timestamp))
 order by x.began_at, x.id;

-- name: JobsInHand :many
select j.id, j.number, j.kind, j.stage,
       j.vessel_id, j.vessel_name, j.vessel_kind, j.loa_mm, j.moulded_year, j.hull_number, j.figure, j.yard, j.lifted_at, j.yard_zone, j.last_pass_at,
       j.client_id, j.client_name, j.client_kind, j.client_is_yard, j.lead_id, j.lead_name, j.lead_roles, j.lead_active, j.due_on, j.stands_between, j.next_visit_at
  from job_lines j
 where j.practice_id = @practice_id
   and j.id = any(array(
         select x.id
           from jobs x
          where x.practice_id = @practice_id and x.stage in ('booked', 'visiting', 'writing', 'in review')
            and (@everyones::boolean or x.lead_id = @member::uuid)
            and ((not x.restricted and not @guest::boolean) or @self::boolean
                 or exists (select from job_access a where a.practice_id = x.practice_id and a.job_id = x.id and a.member_id = @member))
          order by x.due_on nulls last, x.id
          limit 100))
 order by j.due_on nulls last, j.next_visit_at nulls last, j.id;

-- name: WaitingFor :many
-- What waits for a person in the open jobs, oldest first.
with w as (
    select p.job_id, 'permission'::text as what, p.what as detail, p.asked_on as since
      from permissions p
     where p.practice_id = @practice_id and p.asked_on is not null and p.given_on is null and p.refused_on is null
    union all
    select r.job_id, 'second look', r.title, null::date
      from reports r
     where r.practice_id = @practice_id and r.state = 'in review'
    union all
    select r.job_id, 'addendum', coalesce(r.number, ''), null::date
      from addenda a
      join reports r on r.practice_id = a.practice_id and r.id = a.report_id
     where a.practice_id = @practice_id and a.state <> 'issued'
    union all
    select distinct v.job_id, 'haul-out', coalesce(y.name, ''), null::date
      from spells s
      join visits v on v.practice_id = s.practice_id and v.spell_id = s.id
      left join parties y on y.practice_id = s.practice_id and y.id = s.yard_id
     where s.practice_id = @practice_id and s.asked_only and s.cancelled_at is null and s.actual_lift is null
)
select w.what, w.detail, w.since,
       j.id, j.number, j.kind, j.stage,
       j.vessel_id, j.vessel_name, j.vessel_kind, j.loa_mm, j.moulded_year, j.hull_number, j.figure, j.yard, j.lifted_at, j.yard_zone, j.last_pass_at,
       j.client_id, j.client_name, j.client_kind, j.client_is_yard, j.lead_id, j.lead_name, j.lead_roles, j.lead_active, j.due_on, j.stands_between, j.next_visit_at
  from w
  join job_lines j on j.practice_id = @practice_id and j.id = w.job_id
 where j.id = any(array(select w.job_id from w)) and not job_over(j.stage)
   and (@everyones::boolean or j.lead_id = @member::uuid)
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
 order by w.since nulls last, j.number, w.what, w.detail
 limit 100;
