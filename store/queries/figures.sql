-- name: StageFigures :many
-- Open jobs by stage, as they stand now.
select j.stage, count(*)::integer as jobs
  from jobs j
 where j.practice_id = @practice_id and not job_over(j.stage)
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
 group by j.stage
 order by j.stage;

-- name: WaitingFigures :many
-- For whom open jobs wait now, how many of them, and since when the longest.
with w as (
    select p.job_id, 'whoever gives leave'::text as whom, p.asked_on as since
      from permissions p
     where p.practice_id = @practice_id and p.asked_on is not null and p.given_on is null and p.refused_on is null
    union all
    select r.job_id, 'a second look', null::date
      from reports r
     where r.practice_id = @practice_id and r.state = 'in review'
    union all
    select r.job_id, 'an addendum of ours', null::date
      from addenda a
      join reports r on r.practice_id = a.practice_id and r.id = a.report_id
     where a.practice_id = @practice_id and a.state <> 'issued'
    union all
    select v.job_id, 'a yard', null::date
      from spells s
      join visits v on v.practice_id = s.practice_id and v.spell_id = s.id
     where s.practice_id = @practice_id and s.asked_only and s.cancelled_at is null and s.actual_lift is null
    union all
    select i.job_id, 'whoever pays', i.due_on
      from invoice_sheets i
     where i.practice_id = @practice_id and i.state = 'issued' and i.owed_minor > 0
)
select w.whom, count(distinct j.id)::integer as jobs, coalesce(min(w.since), '0001-01-01')::date as since
  from w
  join jobs j on j.practice_id = @practice_id and j.id = w.job_id and not job_over(j.stage)
 where ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
 group by w.whom
 order by 2 desc, 1;

-- name: HourFigures :many
-- Hours of visits made in the period, by kind of survey: how long each was times the
-- people at it.
select j.kind, count(*)::integer as visits,
       cast(sum(n.people * extract(epoch from w.to_at - w.from_at)) / 60 as bigint) as minutes
  from visits w
 cross join (select @from_day::date as since, @to_day::date as until) d
 cross join lateral (select greatest(1, count(o.member_id)) as people from visit_people o where o.practice_id = w.practice_id and o.visit_id = w.id) n
  join jobs j on j.practice_id = w.practice_id and j.id = w.job_id
  join practices p on p.practice_id = w.practice_id
 where w.practice_id = @practice_id and w.state = 'done'
   and w.from_at >= timezone(p.time_zone, cast(d.since as timestamp)) and w.from_at < timezone(p.time_zone, cast(d.until + 1 as timestamp))
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
 group by j.kind
 order by 3 desc, 1;

-- name: ReinspectionFigures :many
-- What became of the windows that closed in the period, and not after today.
select case when r.state = 'due' then 'not seen' when r.state = 'answered' then 'seen' when r.state = 'snoozed' then 'put off' else r.state end::text as became, count(*)::integer as windows
  from reinspection_lines r
  join practices p on p.practice_id = r.practice_id
 where r.practice_id = @practice_id and r.waits_for = '' and r.due_to between @from_day::date and least(@to_day::date, cast(timezone(p.time_zone, @now::timestamptz) as date))
   and (r.job_id is null and not @guest::boolean or (not r.restricted and not @guest) or @self::boolean
        or exists (select from job_access a where a.practice_id = r.practice_id and a.job_id = r.job_id and a.member_id = @member::uuid))
 group by 1
 order by 1;

-- name: ReportFigures :many
-- Jobs whose report was due in the period: issued by that day, later, or not yet though
-- the day is past. The first issue counts.
with issued as (
    select r.job_id, min(cast(timezone(p.time_zone, i.issued_at) as date)) as issued_on
      from reports r
      join report_issues i on i.practice_id = r.practice_id and i.report_id = r.id
      join practices p on p.practice_id = r.practice_id
     where r.practice_id = @practice_id
     group by r.job_id
)
select case when f.issued_on <= j.due_on then 'on time' when f.issued_on > j.due_on then 'late' when j.due_on < d.day then 'overdue' else 'not yet due' end::text as how, count(*)::integer as jobs,
       coalesce(percentile_disc(0.5) within group (order by coalesce(f.issued_on, d.day) - j.due_on), 0)::integer as days_late
  from jobs j
 cross join (select cast(timezone(p.time_zone, @now::timestamptz) as date) as day from practices p where p.practice_id = @practice_id) d
  left join issued f on f.job_id = j.id
 where j.practice_id = @practice_id and j.stage <> 'cancelled' and j.due_on between @from_day::date and @to_day::date
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
 group by 1
 order by 1;

-- name: HiddenJobs :one
-- Jobs that are not open to whoever asks, and so in no figure.
select count(*)::integer as jobs
  from jobs j
 where j.practice_id = @practice_id and not job_over(j.stage)
   and not ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid));
