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

-- name: InsertAirLog :exec
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
