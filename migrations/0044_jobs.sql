-- What has to be done next for a job: the acts that are owed, each with the day by which and
-- whom it waits for. The list of jobs takes the first of them.

-- +goose Up
-- +goose StatementBegin
-- report_to_come tells of a stage whether the job's report is still owed: an open job.
create function report_to_come(stage text) returns boolean language sql immutable as $$
  select stage not in ('issued', 'closed', 'cancelled')
$$;
-- job_over tells of a stage whether nothing is owed for the job any more.
create function job_over(stage text) returns boolean language sql immutable as $$
  select stage in ('closed', 'cancelled')
$$;
-- +goose StatementEnd
revoke all on function report_to_come(text), job_over(text) from public;
grant execute on function report_to_come(text), job_over(text) to app;

create index addenda_owed on addenda (practice_id, report_id) where state <> 'issued';

-- on_day is when the act is to be done: for leave and for the yard's word the visit that
-- waits for them, for the report the day it is due. since is when somebody was asked, or
-- when the boat was seen whose report is not begun. turn orders acts of one day. stopped is
-- when a planned visit should have ended.
create view job_acts with (security_invoker = true) as
select e.practice_id, j.id as job_id, 1 as turn, 'terms'::text as act, ''::text as detail, coalesce(c.name, '') as whom,
       null::date as since, coalesce(n.on_day, j.due_on) as on_day, null::timestamptz as stopped
  from engagements e
  join jobs j on j.practice_id = e.practice_id and j.engagement_id = e.id
  left join parties c on c.practice_id = j.practice_id and c.id = j.client_id
  left join lateral (select min(timezone(w.time_zone, w.from_at))::date as on_day from visits w
                      where w.practice_id = j.practice_id and w.job_id = j.id and w.state = 'planned') n on true
 where e.terms_accepted_at is null and report_to_come(j.stage)
union all
select j.practice_id, j.id, 2, 'lead', '', '', null, coalesce(n.on_day, j.due_on), null
  from jobs j
  left join lateral (select min(timezone(w.time_zone, w.from_at))::date as on_day from visits w
                      where w.practice_id = j.practice_id and w.job_id = j.id and w.state = 'planned') n on true
 where j.lead_id is null and report_to_come(j.stage)
union all
select p.practice_id, p.job_id, 3, 'permission', p.what, '', p.asked_on, coalesce(n.on_day, j.due_on), null
  from permissions p
  join jobs j on j.practice_id = p.practice_id and j.id = p.job_id
  left join lateral (select min(timezone(w.time_zone, w.from_at))::date as on_day from visits w
                      where w.practice_id = p.practice_id and w.job_id = p.job_id and w.state = 'planned') n on true
 where p.asked_on is not null and p.given_on is null and p.refused_on is null and report_to_come(j.stage)
union all
select w.practice_id, w.job_id, 4, 'haul-out', '', coalesce(y.name, ''), null, timezone(s.time_zone, s.planned_lift)::date, null
  from visits w
  join spells s on s.practice_id = w.practice_id and s.id = w.spell_id
  left join parties y on y.practice_id = s.practice_id and y.id = s.yard_id
 where w.state = 'planned' and s.asked_only and s.cancelled_at is null and s.actual_lift is null
union all
select w.practice_id, w.job_id, 5, 'visit', w.kind, coalesce(m.name, ''), null, timezone(w.time_zone, w.from_at)::date, w.to_at
  from visits w
  left join members m on m.practice_id = w.practice_id and m.id = w.lead_id
 where w.state = 'planned'
union all
select r.practice_id, r.job_id, 6, r.state, '', coalesce(m.name, ''), null, j.due_on, null
  from reports r
  join jobs j on j.practice_id = r.practice_id and j.id = r.job_id
  left join members m on m.practice_id = j.practice_id and m.id = j.lead_id
 where r.state in ('draft', 'in review')
union all
select a.practice_id, r.job_id, 6, 'addendum', coalesce(r.number, ''), coalesce(m.name, ''), null, null, null
  from addenda a
  join reports r on r.practice_id = a.practice_id and r.id = a.report_id
  join jobs j on j.practice_id = r.practice_id and j.id = r.job_id
  left join members m on m.practice_id = j.practice_id and m.id = j.lead_id
 where a.state <> 'issued'
union all
select j.practice_id, j.id, 7, case when seen.on_day is not null then 'write' else 'plan' end, '', coalesce(m.name, ''), seen.on_day, j.due_on, null
  from jobs j
  left join members m on m.practice_id = j.practice_id and m.id = j.lead_id
 cross join lateral (select max(timezone(w.time_zone, w.from_at))::date as on_day from visits w
                      where w.practice_id = j.practice_id and w.job_id = j.id and w.state = 'done') seen
 where report_to_come(j.stage)
   and not exists (select from visits w where w.practice_id = j.practice_id and w.job_id = j.id and w.state = 'planned')
   and not exists (select from reports r where r.practice_id = j.practice_id and r.job_id = j.id and r.state <> 'withdrawn');
grant select on job_acts to app;
