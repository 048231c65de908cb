-- name: DryingPasses :many
-- The passes of the vessel in the times ashore that the job's visits fall into, of
-- whichever job. As HistoryPasses otherwise, which says why the offset.
select x.id, x.visit_id, x.visit_kind, x.job_id, x.job_number, x.client_id, x.cite, x.restricted, x.vessel_id, x.element_id, x.boot_top_mm, x.plan_id,
       x.visit_at, x.time_zone, x.lifted_at, x.date_precision, x.days_ashore_as_written, x.hand_id, x.hand_name, x.hand_as_written,
       x.instrument_id, x.instrument_name, x.instrument_model, x.instrument_serial, x.sensing, x.has_zero_reset, x.instrument_as_written,
       x.scale_id, x.scale_name, x.scale_mode, x.low_tenths, x.high_tenths, x.step_tenths, x.timber_percent,
       x.face, x.surface, x.dry_surface, x.hours_since_wash, x.hours_since_heat_off, x.heated, x.rain, x.salt_wiped, x.zero_reset, x.battery,
       x.source, x.quoted, x.state, x.began_at, x.closed_at, x.note, x.version,
       x.air_decidegrees, x.humidity_permille, x.skin_port_decidegrees, x.skin_starboard_decidegrees,
       g.taken, g.flags, g.dry
  from pass_grids g
  cross join lateral (
    select id, visit_id, visit_kind, job_id, job_number, client_id, cite, restricted, vessel_id, element_id, boot_top_mm, plan_id,
           visit_at, time_zone, lifted_at, date_precision, days_ashore_as_written, hand_id, hand_name, hand_as_written,
           instrument_id, instrument_name, instrument_model, instrument_serial, sensing, has_zero_reset, instrument_as_written,
           scale_id, scale_name, scale_mode, low_tenths, high_tenths, step_tenths, timber_percent,
           face, surface, dry_surface, hours_since_wash, hours_since_heat_off, heated, rain, salt_wiped, zero_reset, battery,
           source, quoted, state, began_at, closed_at, note, version,
           air_decidegrees, humidity_permille, skin_port_decidegrees, skin_starboard_decidegrees, practice_id
      from pass_contexts c
     where c.practice_id = g.practice_id and c.id = g.pass_id
    offset 0) x
 where g.practice_id = @practice_id
   and g.vessel_id = (select j.vessel_id from jobs j where j.practice_id = @practice_id and j.id = @job_id)
   and (x.job_id = @job_id or x.visit_id in (
         select w.id from visits w
          where w.practice_id = @practice_id
            and w.spell_id in (select o.spell_id from visits o where o.practice_id = @practice_id and o.job_id = @job_id)))
   and ((not x.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = x.practice_id and a.job_id = x.job_id and a.member_id = @member::uuid))
 order by x.began_at, x.id;

-- name: AxisOfJob :one
-- As AxisOfVessel, by a job of hers.
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
         where p.practice_id = @practice_id and p.vessel_id = (select j.vessel_id from jobs j where j.practice_id = @practice_id and j.id = @job_id)
         order by ordinal) l;

-- name: DryingCourse :one
select began_on, wall_mm, inside, outdoors_place, tent_place, target_tenths, target_because, note, version
  from drying_courses
 where practice_id = @practice_id and job_id = @job_id;

-- name: WashesOfJob :many
select w.id, w.job_id, w.at, w.how, w.extent, w.ph_tenths, w.conductivity_tenths, w.supply_tenths, w.volume_ul, w.area_mm2, w.note, coalesce(m.name, '') as by_name
  from washes w
  left join members m on m.practice_id = w.practice_id and m.id = w.by_id
 where w.practice_id = @practice_id and w.job_id = @job_id
 order by w.at, w.id;

-- name: ReboundsOfJob :many
select r.id, r.job_id, r.after, r.wash_id, r.began_at, r.read_at, r.scale_id, i.name as instrument_name, r.note, coalesce(m.name, '') as by_name,
       coalesce((select array_agg(p.ordinal order by p.ordinal) from rebound_readings x join places p on p.practice_id = x.practice_id and p.id = x.place_id
                  where x.practice_id = r.practice_id and x.rebound_id = r.id), '{}')::integer[] as places,
       coalesce((select array_agg(x.before_tenths order by p.ordinal) from rebound_readings x join places p on p.practice_id = x.practice_id and p.id = x.place_id
                  where x.practice_id = r.practice_id and x.rebound_id = r.id), '{}')::integer[] as before_tenths,
       coalesce((select array_agg(x.after_tenths order by p.ordinal) from rebound_readings x join places p on p.practice_id = x.practice_id and p.id = x.place_id
                  where x.practice_id = r.practice_id and x.rebound_id = r.id), '{}')::integer[] as after_tenths
  from rebounds r
  join scales c on c.practice_id = r.practice_id and c.id = r.scale_id
  join instruments i on i.practice_id = c.practice_id and i.id = c.instrument_id
  left join members m on m.practice_id = r.practice_id and m.id = r.by_id
 where r.practice_id = @practice_id and r.job_id = @job_id
 order by r.read_at, r.id;

-- name: SheetTestsOfJob :many
select t.id, t.job_id, t.place, t.taped_at, t.looked_at, t.condensed, t.note, coalesce(m.name, '') as by_name
  from sheet_tests t
  left join members m on m.practice_id = t.practice_id and m.id = t.by_id
 where t.practice_id = @practice_id and t.job_id = @job_id
 order by t.looked_at, t.id;

-- name: WeatherOfDrying :many
-- The newest 4000 records of the two places whose air a job names.
select w.at, w.air_decidegrees, w.humidity_permille, w.source, (w.place = c.tent_place)::boolean as tent
  from weather_records w
  join drying_courses c on c.practice_id = w.practice_id
 where w.practice_id = @practice_id and c.job_id = @job_id and w.place in (c.outdoors_place, c.tent_place) and w.place <> ''
   and w.air_decidegrees is not null and w.humidity_permille is not null
 order by w.at desc, w.id
 limit 4000;

-- name: ConditionsOfDrying :many
-- What air and skin were like at the visits of her time ashore that the member may see.
select c.at, c.air_decidegrees, c.humidity_permille, c.skin_port_decidegrees, c.skin_starboard_decidegrees, c.indoors
  from conditions c
  join visits w on w.practice_id = c.practice_id and w.id = c.visit_id
  join jobs j on j.practice_id = w.practice_id and j.id = w.job_id
 where c.practice_id = @practice_id and c.air_decidegrees is not null and c.humidity_permille is not null
   and (w.job_id = @job_id or w.spell_id in (select o.spell_id from visits o where o.practice_id = @practice_id and o.job_id = @job_id))
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
 order by c.at, c.id;

-- name: GateRules :many
select gate, least, most, because, version
  from gate_rules
 where practice_id = @practice_id
 order by gate;

-- name: GateSignatures :many
select s.id, s.gate, s.met_on, s.evidence, s.shown, s.reopened, m.name as by_name, s.at
  from gate_signatures s
  join members m on m.practice_id = s.practice_id and m.id = s.by_id
 where s.practice_id = @practice_id and s.job_id = @job_id
 order by s.at, s.id;

-- name: PutDryingCourse :execrows
-- Version 0 makes the first; any other must be the one that stands.
insert into drying_courses (practice_id, job_id, began_on, wall_mm, inside, outdoors_place, tent_place, target_tenths, target_because, note)
select @practice_id, @job_id, sqlc.narg('began_on')::date, sqlc.narg('wall_mm')::smallint, @inside::text, @outdoors_place::text, @tent_place::text,
       sqlc.narg('target_tenths')::integer, @target_because::text, @note::text
 where @version::integer = 0
on conflict do nothing;

-- name: UpdateDryingCourse :execrows
update drying_courses
   set began_on = sqlc.narg('began_on'), wall_mm = sqlc.narg('wall_mm'), inside = @inside, outdoors_place = @outdoors_place, tent_place = @tent_place,
       target_tenths = sqlc.narg('target_tenths'), target_because = @target_because, note = @note, version = version + 1
 where practice_id = @practice_id and job_id = @job_id and version = @version;

-- name: InsertWash :exec
insert into washes (practice_id, id, job_id, at, how, extent, ph_tenths, conductivity_tenths, supply_tenths, volume_ul, area_mm2, note, by_id)
values (@practice_id, @id, @job_id, @at, @how, @extent, sqlc.narg('ph_tenths'), sqlc.narg('conductivity_tenths'), sqlc.narg('supply_tenths'),
  sqlc.narg('volume_ul'), sqlc.narg('area_mm2'), @note, sqlc.narg('by_id'));

-- name: WashJob :one
select job_id, at
  from washes
 where practice_id = @practice_id and id = @id;

-- name: InsertRebound :exec
insert into rebounds (practice_id, id, job_id, after, wash_id, began_at, read_at, scale_id, note, by_id)
values (@practice_id, @id, @job_id, @after, sqlc.narg('wash_id'), @began_at, @read_at, @scale_id, @note, sqlc.narg('by_id'));

-- name: InsertReboundReadings :exec
insert into rebound_readings (practice_id, rebound_id, place_id, before_tenths, after_tenths)
select @practice_id, @rebound_id, unnest(@places::uuid[]), unnest(@before::integer[]), unnest(@after::integer[]);

-- name: ScaleEnds :one
select low_tenths, high_tenths
  from scales
 where practice_id = @practice_id and id = @id;

-- name: InsertSheetTest :exec
insert into sheet_tests (practice_id, id, job_id, place, taped_at, looked_at, condensed, note, by_id)
values (@practice_id, @id, @job_id, @place, @taped_at, @looked_at, @condensed, @note, sqlc.narg('by_id'));

-- name: InsertWeather :exec
insert into weather_records (practice_id, id, place, at, air_decidegrees, humidity_permille, source)
select @practice_id, unnest(@ids::uuid[]), @place, unnest(@at::timestamptz[]), unnest(@air::smallint[]), unnest(@humidity::smallint[]), @source;

-- name: PutGateRule :execrows
insert into gate_rules (practice_id, gate, least, most, because)
select @practice_id, @gate::text, sqlc.narg('least')::double precision, sqlc.narg('most')::double precision, @because::text
 where @version::integer = 0
on conflict do nothing;

-- name: UpdateGateRule :execrows
update gate_rules
   set least = sqlc.narg('least'), most = sqlc.narg('most'), because = @because, version = version + 1
 where practice_id = @practice_id and gate = @gate and version = @version;

-- name: InsertGateSignature :exec
insert into gate_signatures (practice_id, id, job_id, gate, met_on, evidence, shown, reopened, by_id, at)
values (@practice_id, @id, @job_id, @gate, @met_on, @evidence, @shown, @reopened, @by_id, @at);
