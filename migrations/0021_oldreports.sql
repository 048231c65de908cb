-- +goose Up
-- A past visit may be known to the day, the month or the year alone: from_at and to_at are
-- then the ends of that time in the yard's zone. Days ashore cannot be counted from a month.
alter table visits
  add column date_precision text not null default 'instant' constraint visits_precision_known check (date_precision in ('instant', 'day', 'month', 'year')),
  add column date_as_written text not null default '' constraint visits_as_written_short check (length(date_as_written) <= 200),
  add constraint visits_range_without_spell check (date_precision in ('instant', 'day') or spell_id is null);

-- What an old report calls the place, in its own words.
alter table places
  add column told_as text not null default '' constraint places_told_as_short check (length(told_as) <= 500);

create or replace view visit_lines with (security_invoker = true) as
select w.practice_id, w.id, w.kind, w.from_at, w.to_at, w.time_zone, w.state, w.spell_id,
       w.lead_id, coalesce(m.name, '') as lead_name, coalesce(m.roles, '{}') as lead_roles, (m.id is not null and m.left_at is null)::boolean as lead_active,
       coalesce(y.name, '') as at_yard, coalesce(s.actual_lift, s.planned_lift) as spell_lift, coalesce(s.date_precision, '') as spell_precision,
       coalesce(s.time_zone, '') as spell_zone,
       w.job_id, j.number as job_number, j.restricted,
       v.id as vessel_id, v.name as vessel_name, v.kind as vessel_kind, v.loa_mm, v.moulded_year, v.hull_number, v.figure,
       v.yard, v.lifted_at, v.time_zone as yard_zone, v.last_pass_at,
       w.date_precision, w.date_as_written, w.days_ashore_as_written
  from visits w
  join jobs j on j.practice_id = w.practice_id and j.id = w.job_id
  join vessel_lines v on v.practice_id = j.practice_id and v.id = j.vessel_id
  left join members m on m.practice_id = w.practice_id and m.id = w.lead_id
  left join spells s on s.practice_id = w.practice_id and s.id = w.spell_id
  left join parties y on y.practice_id = s.practice_id and y.id = s.yard_id;

create or replace view pass_contexts with (security_invoker = true) as
select p.practice_id, p.id, p.visit_id, v.kind as visit_kind, v.job_id, j.number as job_number, j.client_id, j.cite, j.restricted,
       j.vessel_id, p.element_id, e.boot_top_mm, p.plan_id,
       v.from_at as visit_at, v.time_zone, coalesce(s.actual_lift, s.planned_lift) as lifted_at,
       coalesce(s.date_precision, '') as date_precision, v.days_ashore_as_written,
       p.hand_id, coalesce(m.name, '') as hand_name, p.hand_as_written,
       p.instrument_id, coalesce(i.name, '') as instrument_name, coalesce(i.model, '') as instrument_model,
       coalesce(i.serial, '') as instrument_serial, coalesce(i.sensing, '') as sensing, coalesce(i.zero_reset, false) as has_zero_reset,
       p.instrument_as_written,
       p.scale_id, coalesce(c.name, '') as scale_name, coalesce(c.mode, '') as scale_mode, coalesce(c.low_tenths, 0) as low_tenths,
       coalesce(c.high_tenths, 0) as high_tenths, coalesce(c.step_tenths, 1) as step_tenths, coalesce(c.timber_percent, false) as timber_percent,
       p.face, p.surface, p.dry_surface, p.hours_since_wash, p.hours_since_heat_off, p.heated, p.rain, p.salt_wiped, p.zero_reset,
       p.battery, p.source, p.quoted, p.state, p.began_at, p.closed_at, p.note, p.version,
       w.air_decidegrees, w.humidity_permille, w.skin_port_decidegrees, w.skin_starboard_decidegrees,
       v.date_precision as visit_precision, v.date_as_written as visit_as_written
  from passes p
  join visits v on v.practice_id = p.practice_id and v.id = p.visit_id
  join jobs j on j.practice_id = v.practice_id and j.id = v.job_id
  join elements e on e.practice_id = p.practice_id and e.id = p.element_id
  left join spells s on s.practice_id = v.practice_id and s.id = v.spell_id
  left join members m on m.practice_id = p.practice_id and m.id = p.hand_id
  left join instruments i on i.practice_id = p.practice_id and i.id = p.instrument_id
  left join scales c on c.practice_id = p.practice_id and c.id = p.scale_id
  left join lateral (
    select n.air_decidegrees, n.humidity_permille, n.skin_port_decidegrees, n.skin_starboard_decidegrees
      from conditions n
     where n.practice_id = p.practice_id and n.visit_id = p.visit_id
     order by abs(extract(epoch from n.at - p.began_at)), n.id
     limit 1) w on true;
