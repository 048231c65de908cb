-- name: GetVisitLine :one
select w.id, w.kind, w.from_at, w.to_at, w.time_zone, w.date_precision, w.date_as_written, w.days_ashore_as_written, w.state, w.lead_id, w.lead_name, w.lead_roles, w.lead_active, w.at_yard, w.spell_lift, w.spell_precision, w.spell_zone, w.job_id, w.job_number,
       w.vessel_id, w.vessel_name, w.vessel_kind, w.loa_mm, w.moulded_year, w.hull_number, w.figure, w.yard, w.lifted_at, w.yard_zone, w.last_pass_at
  from visit_lines w
 where w.practice_id = @practice_id and w.id = @id
   and ((not w.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = w.practice_id and a.job_id = w.job_id and a.member_id = @member::uuid));

-- name: GetVisit :one
-- What a visit has beside its line.
select spell_id, follows_visit_id, follows_reason, days_ashore_as_written, note, version
  from visits
 where practice_id = @practice_id and id = @id;

-- name: SpellOfVisit :one
select s.id, s.yard_id, s.yard_name, s.yard_kind, s.yard_is_yard, s.time_zone, s.planned_lift, s.planned_launch, s.actual_lift, s.actual_launch, s.asked_only, s.held,
       s.under_cover, s.washed_at, s.date_precision, s.as_written, s.source, s.notes, s.cancelled_at, s.version,
       s.vessel_id, s.vessel_name, s.vessel_kind, s.loa_mm, s.moulded_year, s.hull_number, s.figure, s.yard, s.lifted_at, s.yard_zone, s.last_pass_at
  from spell_lines s
  join visits w on w.practice_id = s.practice_id and w.spell_id = s.id
 where w.practice_id = @practice_id and w.id = @visit_id;

-- name: JobLineOfVisit :one
select j.id, j.number, j.kind, j.stage,
       j.vessel_id, j.vessel_name, j.vessel_kind, j.loa_mm, j.moulded_year, j.hull_number, j.figure, j.yard, j.lifted_at, j.yard_zone, j.last_pass_at,
       j.client_id, j.client_name, j.client_kind, j.client_is_yard, j.lead_id, j.lead_name, j.lead_roles, j.lead_active, j.due_on, j.stands_between, j.next_visit_at
  from job_lines j
  join visits w on w.practice_id = j.practice_id and w.job_id = j.id
 where w.practice_id = @practice_id and w.id = @visit_id;

-- name: ListVisits :many
-- Visits that touch a span of time.
select w.id, w.kind, w.from_at, w.to_at, w.time_zone, w.date_precision, w.date_as_written, w.days_ashore_as_written, w.state, w.lead_id, w.lead_name, w.lead_roles, w.lead_active, w.at_yard, w.spell_lift, w.spell_precision, w.spell_zone, w.job_id, w.job_number,
       w.vessel_id, w.vessel_name, w.vessel_kind, w.loa_mm, w.moulded_year, w.hull_number, w.figure, w.yard, w.lifted_at, w.yard_zone, w.last_pass_at
  from visit_lines w
 where w.practice_id = @practice_id and w.from_at < @to_at::timestamptz and w.to_at > @from_at::timestamptz
   and (@everyones::boolean or w.lead_id = @member::uuid or exists (select from visit_people o where o.practice_id = w.practice_id and o.visit_id = w.id and o.member_id = @member))
   and ((not w.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = w.practice_id and a.job_id = w.job_id and a.member_id = @member::uuid))
 order by w.from_at, w.id
 limit 500;

-- name: PassesOfSpan :many
select x.id, x.visit_id, x.instrument, x.state, x.places_read, x.places_planned
  from pass_lines x
  join visits w on w.practice_id = x.practice_id and w.id = x.visit_id
 where x.practice_id = @practice_id and w.from_at < @to_at::timestamptz and w.to_at > @from_at::timestamptz
 order by x.began_at, x.id;

-- name: VisitLinesOfJob :many
select w.id, w.kind, w.from_at, w.to_at, w.time_zone, w.date_precision, w.date_as_written, w.days_ashore_as_written, w.state, w.lead_id, w.lead_name, w.lead_roles, w.lead_active, w.at_yard, w.spell_lift, w.spell_precision, w.spell_zone, w.job_id, w.job_number,
       w.vessel_id, w.vessel_name, w.vessel_kind, w.loa_mm, w.moulded_year, w.hull_number, w.figure, w.yard, w.lifted_at, w.yard_zone, w.last_pass_at
  from visit_lines w
 where w.practice_id = @practice_id and w.job_id = @job_id
 order by w.from_at, w.id;

-- name: PassLinesOfJob :many
select x.id, x.visit_id, x.instrument, x.state, x.places_read, x.places_planned
  from pass_lines x
  join visits w on w.practice_id = x.practice_id and w.id = x.visit_id
 where x.practice_id = @practice_id and w.job_id = @job_id
 order by x.began_at, x.id;

-- name: ConditionsOfVisit :many
select id, visit_id, at, air_decidegrees, humidity_permille, skin_port_decidegrees, skin_starboard_decidegrees, inside_humidity_permille, sun, wind,
       rain_last_72h, tank_level, bilge_level, indoors, heating, note
  from conditions
 where practice_id = @practice_id and visit_id = @visit_id
 order by at, id;

-- name: GetCondition :one
select c.id, c.visit_id, c.at, c.air_decidegrees, c.humidity_permille, c.skin_port_decidegrees, c.skin_starboard_decidegrees, c.inside_humidity_permille, c.sun, c.wind, c.rain_last_72h, c.tank_level, c.bilge_level, c.indoors, c.heating, c.note
  from conditions c
  join visits w on w.practice_id = c.practice_id and w.id = c.visit_id
  join jobs j on j.practice_id = w.practice_id and j.id = w.job_id
 where c.practice_id = @practice_id and c.id = @id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid));

-- name: PassContextsOfVisit :many
select x.id, x.visit_id, x.visit_kind, x.job_id, x.job_number, x.client_id, x.cite, x.restricted, x.vessel_id, x.element_id, x.boot_top_mm, x.plan_id,
       x.visit_at, x.time_zone, x.lifted_at, x.date_precision, x.days_ashore_as_written, x.visit_precision, x.visit_as_written, x.hand_id, x.hand_name, x.hand_as_written,
       x.instrument_id, x.instrument_name, x.instrument_model, x.instrument_serial, x.sensing, x.has_zero_reset, x.instrument_as_written,
       x.scale_id, x.scale_name, x.scale_mode, x.low_tenths, x.high_tenths, x.step_tenths, x.timber_percent,
       x.face, x.surface, x.dry_surface, x.hours_since_wash, x.hours_since_heat_off, x.heated, x.rain, x.salt_wiped, x.zero_reset, x.battery,
       x.source, x.quoted, x.state, x.began_at, x.closed_at, x.note, x.version,
       x.air_decidegrees, x.humidity_permille, x.skin_port_decidegrees, x.skin_starboard_decidegrees
  from pass_contexts x
 where x.practice_id = @practice_id and x.visit_id = @visit_id
 order by x.began_at, x.id;

-- name: PlansOfVisit :many
select n.id, n.plan_version, n.kind, n.note, n.dry_change_reason, n.created_at,
       coalesce((select array_agg(l.ordinal order by x.position) from plan_places x join places l on l.practice_id = x.practice_id and l.id = x.place_id where x.practice_id = n.practice_id and x.plan_id = n.id), '{}')::integer[] as places,
       coalesce((select array_agg(l.ordinal order by x.position) from plan_places x join places l on l.practice_id = x.practice_id and l.id = x.place_id where x.practice_id = n.practice_id and x.plan_id = n.id and x.dry), '{}')::integer[] as dry,
       coalesce((select array_agg(l.ordinal order by x.position) from plan_places x join places l on l.practice_id = x.practice_id and l.id = x.place_id where x.practice_id = n.practice_id and x.plan_id = n.id and x.targeted), '{}')::integer[] as targeted
  from plans n
 where n.practice_id = @practice_id
   and n.id in (select p.plan_id from passes p where p.practice_id = @practice_id and p.visit_id = @visit_id)
 order by n.id;

-- name: AxisOfVisit :one
select coalesce(array_agg(l.id order by l.ordinal), '{}')::uuid[] as ids,
       coalesce(array_agg(l.label order by l.ordinal), '{}')::text[] as labels,
       coalesce(array_agg(l.element_id order by l.ordinal), '{}')::uuid[] as elements,
       coalesce(array_agg(l.side order by l.ordinal), '{}')::text[] as sides,
       coalesce(array_agg(coalesce(l.station, (-32768)::smallint) order by l.ordinal), '{}')::smallint[] as stations,
       coalesce(array_agg(coalesce(l.row_no, (-32768)::smallint) order by l.ordinal), '{}')::smallint[] as row_nos,
       coalesce(array_agg(l.along_mm order by l.ordinal), '{}')::integer[] as along,
       coalesce(array_agg(l.down_mm order by l.ordinal), '{}')::integer[] as down,
       coalesce(array_agg(l.position_error_mm order by l.ordinal), '{}')::integer[] as errors
  from places l
 where l.practice_id = @practice_id
   and l.vessel_id = (select j.vessel_id from visits w join jobs j on j.practice_id = w.practice_id and j.id = w.job_id
                       where w.practice_id = @practice_id and w.id = @visit_id);

-- name: GridsOfVisit :many
select g.pass_id, g.taken, g.flags, g.dry, g.placed
  from pass_grids g
  join passes p on p.practice_id = g.practice_id and p.id = g.pass_id
 where p.practice_id = @practice_id and p.visit_id = @visit_id
 order by g.pass_id;

-- name: BlockChecksOfVisit :many
select c.id, c.block, c.moment, c.value_tenths, c.at, c.pass_id
  from block_checks c
  join passes p on p.practice_id = c.practice_id and p.id = c.pass_id
 where p.practice_id = @practice_id and p.visit_id = @visit_id
 order by c.at, c.id;

-- name: EntriesOfVisit :many
select r.pass_id, l.ordinal, r.id, r.value, r.placements, r.as_written, r.surface
  from readings r
  join passes p on p.practice_id = r.practice_id and p.id = r.pass_id
  join places l on l.practice_id = r.practice_id and l.id = r.place_id
 where p.practice_id = @practice_id and p.visit_id = @visit_id and r.occasion = 1 and r.current
 order by l.ordinal;

-- name: NotReachedOfVisit :many
select n.pass_id, n.id, l.ordinal, n.reason
  from not_reached n
  join passes p on p.practice_id = n.practice_id and p.id = n.pass_id
  join places l on l.practice_id = n.practice_id and l.id = n.place_id
 where p.practice_id = @practice_id and p.visit_id = @visit_id and n.withdrawn_at is null
 order by l.ordinal;

-- name: VisitToWrite :one
-- A visit of a job that this member may see, held until the transaction ends.
select w.id, w.job_id, j.vessel_id, w.spell_id, w.kind, w.from_at, w.to_at, w.time_zone, w.state, w.lead_id, w.note, w.version
  from visits w
  join jobs j on j.practice_id = w.practice_id and j.id = w.job_id
 where w.practice_id = @practice_id and w.id = @id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
   for update of w;

-- name: InsertVisit :exec
insert into visits (practice_id, id, job_id, spell_id, kind, from_at, to_at, time_zone, lead_id, follows_visit_id, follows_reason, days_ashore_as_written, note,
  date_precision, date_as_written, state)
values (@practice_id, @id, @job_id, sqlc.narg('spell_id'), @kind, @from_at, @to_at, @time_zone, sqlc.narg('lead_id'), sqlc.narg('follows_visit_id'),
  @follows_reason, @days_ashore_as_written, @note, @date_precision, @date_as_written, @state);

-- name: UpdateVisit :execrows
update visits
   set spell_id = sqlc.narg('spell_id'), from_at = @from_at, to_at = @to_at, state = @state, lead_id = sqlc.narg('lead_id'), note = @note,
       version = version + 1
 where practice_id = @practice_id and id = @id and version = @version;

-- name: ReleaseVisitPerson :exec
delete from visit_people
 where practice_id = @practice_id and visit_id = @visit_id and member_id = @member_id;

-- name: ReleaseVisitPeople :exec
-- Those who go along no longer; the lead stays.
delete from visit_people
 where practice_id = @practice_id and visit_id = @visit_id and member_id <> all(@people::uuid[]) and member_id is distinct from sqlc.narg('lead_id')::uuid;

-- name: ReleaseVisitInstruments :exec
delete from visit_instruments
 where practice_id = @practice_id and visit_id = @visit_id and instrument_id <> all(@instruments::uuid[]);

-- name: MoveVisitPeople :exec
-- A visit holds those who make it unless it is called off, or was past when it was written down.
update visit_people o
   set during = tstzrange(w.from_at, w.to_at, '[)'), holds = w.state <> 'cancelled' and (o.holds or w.to_at > @now)
  from visits w
 where o.practice_id = @practice_id and o.visit_id = @visit_id and w.practice_id = o.practice_id and w.id = o.visit_id;

-- name: MoveVisitInstruments :exec
-- Instruments go with the visit they were booked for.
update visit_instruments i
   set during = tstzrange(w.from_at, w.to_at, '[)'), holds = w.state <> 'cancelled' and (i.holds or w.to_at > @now)
  from visits w
 where i.practice_id = @practice_id and i.visit_id = @visit_id and w.practice_id = i.practice_id and w.id = i.visit_id;

-- name: BookVisitPeople :exec
insert into visit_people (practice_id, visit_id, member_id, during, holds)
select w.practice_id, w.id, p.member_id, tstzrange(w.from_at, w.to_at, '[)'), w.state <> 'cancelled' and w.to_at > @now
  from visits w, (select distinct unnest(@people::uuid[]) as member_id) p
 where w.practice_id = @practice_id and w.id = @visit_id
on conflict (practice_id, visit_id, member_id) do nothing;

-- name: BookVisitInstruments :exec
insert into visit_instruments (practice_id, visit_id, instrument_id, during, holds)
select w.practice_id, w.id, i.instrument_id, tstzrange(w.from_at, w.to_at, '[)'), w.state <> 'cancelled' and w.to_at > @now
  from visits w, (select distinct unnest(@instruments::uuid[]) as instrument_id) i
 where w.practice_id = @practice_id and w.id = @visit_id
on conflict (practice_id, visit_id, instrument_id) do nothing;

-- name: SpellVessel :one
select vessel_id
  from spells
 where practice_id = @practice_id and id = @id
   for share;

-- name: InsertCondition :exec
insert into conditions (practice_id, id, visit_id, at, air_decidegrees, humidity_permille, skin_port_decidegrees, skin_starboard_decidegrees,
  inside_humidity_permille, sun, wind, rain_last_72h, tank_level, bilge_level, indoors, heating, note, recorded_by)
values (@practice_id, @id, @visit_id, @at, sqlc.narg('air_decidegrees'), sqlc.narg('humidity_permille'), sqlc.narg('skin_port_decidegrees'),
  sqlc.narg('skin_starboard_decidegrees'), sqlc.narg('inside_humidity_permille'), @sun, @wind, @rain_last_72h, @tank_level, @bilge_level,
  sqlc.narg('indoors'), @heating, @note, sqlc.narg('recorded_by'));

-- name: HullMarksOfVisit :many
select id, visit_id, made_with, where_on as "where", made_at, removed_at
  from hull_marks
 where practice_id = @practice_id and visit_id = @visit_id
 order by made_at, id;

-- name: InsertHullMarks :exec
insert into hull_marks (practice_id, id, visit_id, made_with, where_on, made_at, made_by)
values (@practice_id, @id, @visit_id, @made_with, @where_on, @made_at, sqlc.narg('by_id'));

-- name: GetHullMarks :one
select h.id, h.visit_id, h.made_with, h.where_on as "where", h.made_at, h.removed_at
  from hull_marks h
  join visits w on w.practice_id = h.practice_id and w.id = h.visit_id
  join jobs j on j.practice_id = w.practice_id and j.id = w.job_id
 where h.practice_id = @practice_id and h.id = @id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
   for update of h;

-- name: RemoveHullMarks :exec
update hull_marks
   set removed_at = @at::timestamptz, removed_by = sqlc.narg('by_id')
 where practice_id = @practice_id and id = @id;
