-- name: InsertSpell :exec
insert into spells (practice_id, id, vessel_id, yard_id, time_zone, planned_lift, planned_launch, actual_lift, actual_launch, asked_only, held,
  under_cover, washed_at, date_precision, as_written, source, notes)
values (@practice_id, @id, @vessel_id, sqlc.narg('yard_id'), @time_zone, sqlc.narg('planned_lift'), sqlc.narg('planned_launch'), sqlc.narg('actual_lift'),
  sqlc.narg('actual_launch'), @asked_only, @held, sqlc.narg('under_cover'), sqlc.narg('washed_at'), @date_precision, @as_written, @source, @notes);

-- name: UpdateSpell :execrows
update spells
   set yard_id = sqlc.narg('yard_id'), planned_lift = sqlc.narg('planned_lift'), planned_launch = sqlc.narg('planned_launch'),
       actual_lift = sqlc.narg('actual_lift'), actual_launch = sqlc.narg('actual_launch'), asked_only = @asked_only, held = @held,
       under_cover = sqlc.narg('under_cover'), washed_at = sqlc.narg('washed_at'), notes = @notes, cancelled_at = sqlc.narg('cancelled_at'),
       version = version + 1
 where practice_id = @practice_id and id = @id and version = @version;

-- name: GetSpell :one
select id, yard_id, yard_name, yard_kind, yard_is_yard, time_zone, planned_lift, planned_launch, actual_lift, actual_launch, asked_only, held,
       under_cover, washed_at, date_precision, as_written, source, notes, cancelled_at, version,
       vessel_id, vessel_name, vessel_kind, loa_mm, moulded_year, hull_number, figure, yard, lifted_at, yard_zone, last_pass_at
  from spell_lines
 where practice_id = @practice_id and id = @id;

-- name: ListSpells :many
-- Spells that touch a span of time; one with no launch yet goes on.
select s.id, s.yard_id, s.yard_name, s.yard_kind, s.yard_is_yard, s.time_zone, s.planned_lift, s.planned_launch, s.actual_lift, s.actual_launch, s.asked_only, s.held,
       s.under_cover, s.washed_at, s.date_precision, s.as_written, s.source, s.notes, s.cancelled_at, s.version,
       s.vessel_id, s.vessel_name, s.vessel_kind, s.loa_mm, s.moulded_year, s.hull_number, s.figure, s.yard, s.lifted_at, s.yard_zone, s.last_pass_at
  from spell_lines s
 where s.practice_id = @practice_id and s.cancelled_at is null
   and s.id = any(array(select x.id from spells x where x.practice_id = @practice_id and x.during && tstzrange(@from_at::timestamptz, @to_at::timestamptz, '[)')))
 order by coalesce(s.actual_lift, s.planned_lift), s.id
 limit 500;

-- name: SpellsOfVessel :many
select id, yard_id, yard_name, yard_kind, yard_is_yard, time_zone, planned_lift, planned_launch, actual_lift, actual_launch, asked_only, held,
       under_cover, washed_at, date_precision, as_written, source, notes, cancelled_at, version,
       vessel_id, vessel_name, vessel_kind, loa_mm, moulded_year, hull_number, figure, yard, lifted_at, yard_zone, last_pass_at
  from spell_lines
 where practice_id = @practice_id and vessel_id = @vessel_id
 order by coalesce(actual_lift, planned_lift), id;

-- name: PartyIsYard :one
select is_yard
  from parties
 where practice_id = @practice_id and id = @id and merged_into is null and erased_at is null;
