-- name: HistoryPasses :many
-- The offset keeps the contexts from being joined before the vessel's passes are known:
-- the planner orders eight tables of a join at most, and read every pass of the practice.
select x.id, x.visit_id, x.visit_kind, x.job_id, x.job_number, x.client_id, x.cite, x.restricted, x.vessel_id, x.element_id, x.boot_top_mm, x.plan_id,
       x.visit_at, x.time_zone, x.lifted_at, x.date_precision, x.days_ashore_as_written, x.visit_precision, x.visit_as_written, x.hand_id, x.hand_name, x.hand_as_written,
       x.instrument_id, x.instrument_name, x.instrument_model, x.instrument_serial, x.sensing, x.has_zero_reset, x.instrument_as_written,
       x.scale_id, x.scale_name, x.scale_mode, x.low_tenths, x.high_tenths, x.step_tenths, x.timber_percent,
       x.face, x.surface, x.dry_surface, x.hours_since_wash, x.hours_since_heat_off, x.heated, x.rain, x.salt_wiped, x.zero_reset, x.battery,
       x.source, x.quoted, x.state, x.began_at, x.closed_at, x.note, x.version,
       x.air_decidegrees, x.humidity_permille, x.skin_port_decidegrees, x.skin_starboard_decidegrees,
       g.taken, g.flags, g.dry, g.placed
  from pass_grids g
  cross join lateral (
    select id, visit_id, visit_kind, job_id, job_number, client_id, cite, restricted, vessel_id, element_id, boot_top_mm, plan_id,
           visit_at, time_zone, lifted_at, date_precision, days_ashore_as_written, visit_precision, visit_as_written, hand_id, hand_name, hand_as_written,
           instrument_id, instrument_name, instrument_model, instrument_serial, sensing, has_zero_reset, instrument_as_written,
           scale_id, scale_name, scale_mode, low_tenths, high_tenths, step_tenths, timber_percent,
           face, surface, dry_surface, hours_since_wash, hours_since_heat_off, heated, rain, salt_wiped, zero_reset, battery,
           source, quoted, state, began_at, closed_at, note, version,
           air_decidegrees, humidity_permille, skin_port_decidegrees, skin_starboard_decidegrees, practice_id
      from pass_contexts c
     where c.practice_id = g.practice_id and c.id = g.pass_id
    offset 0) x
 where g.practice_id = @practice_id and g.vessel_id = @vessel_id
   and ((not x.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = x.practice_id and a.job_id = x.job_id and a.member_id = @member::uuid))
 order by x.began_at, x.id;

-- name: HistoryBlockChecks :many
-- By the passes of the vessel, as in HistoryPasses: a plain join reads every check of the practice.
select c.id, c.block, c.moment, c.value_tenths, c.at, g.pass_id
  from pass_grids g
  cross join lateral (
    select b.id, b.block, b.moment, b.value_tenths, b.at
      from block_checks b
     where b.practice_id = g.practice_id and b.pass_id = g.pass_id
    offset 0) c
 where g.practice_id = @practice_id and g.vessel_id = @vessel_id
 order by c.at, c.id;

-- name: AxisOfVessel :one
-- Aggregates take the rows as they come, and they come in order: an order by in each of
-- them would sort nine times. The least smallint stands for null, which arrays of the
-- generated code do not carry.
select coalesce(array_agg(id), '{}')::uuid[] as ids,
       coalesce(array_agg(label), '{}')::text[] as labels,
       coalesce(array_agg(element_id), '{}')::uuid[] as elements,
       coalesce(array_agg(side), '{}')::text[] as sides,
       coalesce(array_agg(coalesce(station, (-32768)::smallint)), '{}')::smallint[] as stations,
       coalesce(array_agg(coalesce(row_no, (-32768)::smallint)), '{}')::smallint[] as row_nos,
       coalesce(array_agg(along_mm), '{}')::integer[] as along,
       coalesce(array_agg(down_mm), '{}')::integer[] as down,
       coalesce(array_agg(position_error_mm), '{}')::integer[] as errors
  from (select id, label, element_id, side, station, row_no, along_mm, down_mm, position_error_mm
          from places
         where practice_id = @practice_id and vessel_id = @vessel_id
         order by ordinal) l;

-- name: VesselKnown :one
select exists (select from vessels v where v.practice_id = @practice_id and v.id = @id
   and (not @guest::boolean
        or exists (select from jobs g join job_access a on a.practice_id = g.practice_id and a.job_id = g.id
                    where g.practice_id = @practice_id and g.vessel_id = v.id and a.member_id = @member::uuid))) as known;

-- name: AxisOfPass :one
-- As AxisOfVessel, by a pass of hers.
select coalesce(array_agg(id), '{}')::uuid[] as ids,
       coalesce(array_agg(label), '{}')::text[] as labels,
       coalesce(array_agg(element_id), '{}')::uuid[] as elements,
       coalesce(array_agg(side), '{}')::text[] as sides,
       coalesce(array_agg(coalesce(station, (-32768)::smallint)), '{}')::smallint[] as stations,
       coalesce(array_agg(coalesce(row_no, (-32768)::smallint)), '{}')::smallint[] as row_nos,
       coalesce(array_agg(along_mm), '{}')::integer[] as along,
       coalesce(array_agg(down_mm), '{}')::integer[] as down,
       coalesce(array_agg(position_error_mm), '{}')::integer[] as errors
  from (select id, label, element_id, side, station, row_no, along_mm, down_mm, position_error_mm
          from places p
         where p.practice_id = @practice_id and p.vessel_id = (select g.vessel_id from pass_grids g where g.practice_id = @practice_id and g.pass_id = @pass_id)
         order by ordinal) l;

-- name: GridOfPass :one
select taken, flags, dry, placed
  from pass_grids
 where practice_id = @practice_id and pass_id = @pass_id;

-- name: OverridesOfVessel :many
select o.id, o.pass_id, o.standing, o.reason, m.name as by_name, o.at
  from pass_grids g
  cross join lateral (
    select s.practice_id, s.id, s.pass_id, s.standing, s.reason, s.by_id, s.at
      from standing_overrides s
     where s.practice_id = g.practice_id and s.pass_id = g.pass_id and s.withdrawn_at is null
    offset 0) o
  join members m on m.practice_id = o.practice_id and m.id = o.by_id
 where g.practice_id = @practice_id and g.vessel_id = @vessel_id
 order by o.at, o.id;

-- name: PlanLinesOfVessel :many
select p.id, p.plan_version, p.dry_change_reason, p.created_at,
       coalesce((select array_agg(l.ordinal order by x.position) from plan_places x join places l on l.practice_id = x.practice_id and l.id = x.place_id where x.practice_id = p.practice_id and x.plan_id = p.id), '{}')::integer[] as places
  from plans p
 where p.practice_id = @practice_id and p.vessel_id = @vessel_id
 order by p.plan_version;

-- name: UnderbodyOfVessel :many
select underbody_area_m2
  from vessels
 where practice_id = @practice_id and id = @id;

-- name: GapsOfVessel :many
select n.pass_id, l.ordinal, n.reason
  from not_reached n
  join places l on l.practice_id = n.practice_id and l.id = n.place_id
 where n.practice_id = @practice_id and l.vessel_id = @vessel_id and n.withdrawn_at is null
 order by n.pass_id, l.ordinal;

-- name: WindowsOfVessel :many
select w.visit_id, w.width_mm, w.height_mm, w.blisters_seen
  from windows w
  join elements e on e.practice_id = w.practice_id and e.id = w.element_id
 where w.practice_id = @practice_id and e.vessel_id = @vessel_id
 order by w.visit_id, w.id;

-- name: InsertLoweredStanding :exec
insert into standing_overrides (practice_id, id, pass_id, standing, reason, by_id, at)
values (@practice_id, @id, @pass_id, @standing, @reason, @by_id, @now::timestamptz);

-- name: WithdrawLoweredStanding :execrows
update standing_overrides
   set withdrawn_at = @now::timestamptz, withdrawn_by = @by_id::uuid
 where practice_id = @practice_id and pass_id = @pass_id and withdrawn_at is null;
