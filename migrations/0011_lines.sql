-- Things as lists and other things name them, one row each: a list is one query.

-- +goose Up
-- A job with its vessel, its client, its lead and the earliest visit still to be made.
create view job_lines with (security_invoker = true) as
select j.practice_id, j.id, j.number, j.kind, j.stage, j.restricted,
       v.id as vessel_id, v.name as vessel_name, v.kind as vessel_kind, v.loa_mm, v.moulded_year, v.hull_number, v.figure,
       v.yard, v.lifted_at, v.time_zone as yard_zone, v.last_pass_at,
       j.client_id, coalesce(c.name, '') as client_name, coalesce(c.kind, '') as client_kind, coalesce(c.is_yard, false) as client_is_yard,
       j.lead_id, coalesce(m.name, '') as lead_name, coalesce(m.roles, '{}') as lead_roles, (m.id is not null and m.left_at is null)::boolean as lead_active,
       j.due_on, j.stands_between, n.next_visit_at
  from jobs j
  join vessel_lines v on v.practice_id = j.practice_id and v.id = j.vessel_id
  left join parties c on c.practice_id = j.practice_id and c.id = j.client_id
  left join members m on m.practice_id = j.practice_id and m.id = j.lead_id
  left join lateral (
    select w.from_at as next_visit_at from visits w
     where w.practice_id = j.practice_id and w.job_id = j.id and w.state = 'planned'
     order by w.from_at limit 1) n on true;
grant select on job_lines to app;

-- A visit with its job, its vessel, its lead and the lift that days ashore count from.
create view visit_lines with (security_invoker = true) as
select w.practice_id, w.id, w.kind, w.from_at, w.to_at, w.time_zone, w.state, w.spell_id,
       w.lead_id, coalesce(m.name, '') as lead_name, coalesce(m.roles, '{}') as lead_roles, (m.id is not null and m.left_at is null)::boolean as lead_active,
       coalesce(y.name, '') as at_yard, coalesce(s.actual_lift, s.planned_lift) as spell_lift, coalesce(s.date_precision, '') as spell_precision,
       coalesce(s.time_zone, '') as spell_zone,
       w.job_id, j.number as job_number, j.restricted,
       v.id as vessel_id, v.name as vessel_name, v.kind as vessel_kind, v.loa_mm, v.moulded_year, v.hull_number, v.figure,
       v.yard, v.lifted_at, v.time_zone as yard_zone, v.last_pass_at
  from visits w
  join jobs j on j.practice_id = w.practice_id and j.id = w.job_id
  join vessel_lines v on v.practice_id = j.practice_id and v.id = j.vessel_id
  left join members m on m.practice_id = w.practice_id and m.id = w.lead_id
  left join spells s on s.practice_id = w.practice_id and s.id = w.spell_id
  left join parties y on y.practice_id = s.practice_id and y.id = s.yard_id;
grant select on visit_lines to app;

-- A pass as a visit lists it: how many of its planned places hold a reading that counts.
create view pass_lines with (security_invoker = true) as
select p.practice_id, p.id, p.visit_id, coalesce(nullif(i.name, ''), p.instrument_as_written) as instrument, p.state, p.began_at,
       (select count(*) from pass_grids g, unnest(g.taken, g.flags) as t (taken, flags)
         where g.practice_id = p.practice_id and g.pass_id = p.id and t.taken is not null and t.flags & 8 = 0)::integer as places_read,
       (select count(*) from plan_places x where x.practice_id = p.practice_id and x.plan_id = p.plan_id)::integer as places_planned
  from passes p
  left join instruments i on i.practice_id = p.practice_id and i.id = p.instrument_id;
grant select on pass_lines to app;

-- A report with its job and its vessel; issued_at is when its bytes were made.
create view report_lines with (security_invoker = true) as
select r.practice_id, r.id, r.number, r.title, r.state, r.job_id, j.number as job_number, j.restricted, r.created_at, x.issued_at,
       v.id as vessel_id, v.name as vessel_name, v.kind as vessel_kind, v.loa_mm, v.moulded_year, v.hull_number, v.figure,
       v.yard, v.lifted_at, v.time_zone as yard_zone, v.last_pass_at
  from reports r
  join jobs j on j.practice_id = r.practice_id and j.id = r.job_id
  join vessel_lines v on v.practice_id = j.practice_id and v.id = j.vessel_id
  left join report_issues x on x.practice_id = r.practice_id and x.report_id = r.id;
grant select on report_lines to app;

-- A time ashore with its vessel and its yard.
create view spell_lines with (security_invoker = true) as
select s.practice_id, s.id, s.yard_id, coalesce(y.name, '') as yard_name, coalesce(y.kind, '') as yard_kind, coalesce(y.is_yard, false) as yard_is_yard,
       s.time_zone, s.planned_lift, s.planned_launch, s.actual_lift, s.actual_launch, s.asked_only, s.held, s.under_cover, s.washed_at,
       s.date_precision, s.as_written, s.source, s.notes, s.cancelled_at, s.version,
       v.id as vessel_id, v.name as vessel_name, v.kind as vessel_kind, v.loa_mm, v.moulded_year, v.hull_number, v.figure,
       v.yard, v.lifted_at, v.time_zone as yard_zone, v.last_pass_at
  from spells s
  join vessel_lines v on v.practice_id = s.practice_id and v.id = s.vessel_id
  left join parties y on y.practice_id = s.practice_id and y.id = s.yard_id;
grant select on spell_lines to app;

-- What a party is to a vessel, with its job where it is a part in one.
create view party_role_lines with (security_invoker = true) as
select r.practice_id, r.id, r.role, r.from_on, r.to_on, r.party_id, p.name as party_name, p.kind as party_kind, p.is_yard as party_is_yard,
       v.id as vessel_id, v.name as vessel_name, v.kind as vessel_kind, v.loa_mm, v.moulded_year, v.hull_number, v.figure,
       v.yard, v.lifted_at, v.time_zone as yard_zone, v.last_pass_at,
       r.job_id, coalesce(j.number, '') as job_number, coalesce(j.kind, '') as job_kind, coalesce(j.stage, '') as job_stage, coalesce(j.restricted, false) as restricted,
       j.client_id, coalesce(j.client_name, '') as client_name, coalesce(j.client_kind, '') as client_kind, coalesce(j.client_is_yard, false) as client_is_yard,
       j.lead_id, coalesce(j.lead_name, '') as lead_name, coalesce(j.lead_roles, '{}') as lead_roles, coalesce(j.lead_active, false) as lead_active,
       j.due_on, coalesce(j.stands_between, '') as stands_between, j.next_visit_at
  from party_roles r
  join parties p on p.practice_id = r.practice_id and p.id = r.party_id
  join vessel_lines v on v.practice_id = r.practice_id and v.id = r.vessel_id
  left join job_lines j on j.practice_id = r.practice_id and j.id = r.job_id;
grant select on party_role_lines to app;
