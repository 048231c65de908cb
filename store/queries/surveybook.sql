-- name: ScheduleVersion :one
select version
  from schedules
 where practice_id = @practice_id;

-- name: ScheduleAreas :many
select id, name, retired
  from schedule_areas
 where practice_id = @practice_id
 order by position, id;

-- name: ScheduleItems :many
select id, area_id, name, retired
  from schedule_items
 where practice_id = @practice_id
 order by position, id;

-- name: BeginSchedule :execrows
insert into schedules (practice_id)
values (@practice_id)
on conflict do nothing;

-- name: BumpSchedule :execrows
update schedules
   set version = version + 1
 where practice_id = @practice_id and version = @version;

-- name: PutScheduleArea :exec
insert into schedule_areas (practice_id, id, position, name)
values (@practice_id, @id, @position, @name)
on conflict (practice_id, id) do update set position = @position, name = @name, retired = false;

-- name: PutScheduleItem :exec
insert into schedule_items (practice_id, id, area_id, position, name)
values (@practice_id, @id, @area_id, @position, @name)
on conflict (practice_id, id) do update set area_id = @area_id, position = @position, name = @name, retired = false;

-- name: RetireSchedule :exec
-- Items have been examined in visits: what is left out of the schedule stays with those.
with gone as (
  update schedule_areas a set retired = true
   where a.practice_id = @practice_id and not a.id = any(@areas::uuid[])
)
update schedule_items i set retired = true
 where i.practice_id = @practice_id and not i.id = any(@items::uuid[]);

-- name: ScheduleItemWords :one
select i.name, a.name as area
  from schedule_items i
  join schedule_areas a on a.practice_id = i.practice_id and a.id = i.area_id
 where i.practice_id = @practice_id and i.id = @id;

-- name: ExaminationsOfJob :many
select x.id, x.visit_id, x.item_id, x.area, x.name, x.examined, x.why, x.condition, x.note, x.finding_id, x.photo_id, coalesce(m.name, '')::text as by_name, x.at, x.version
  from item_examinations x
  join visits w on w.practice_id = x.practice_id and w.id = x.visit_id
  left join members m on m.practice_id = x.practice_id and m.id = x.by_id
 where x.practice_id = @practice_id and w.job_id = @job_id
 order by w.from_at, x.at, x.id;

-- name: InsertExamination :exec
insert into item_examinations (practice_id, id, visit_id, item_id, area, name, examined, why, condition, note, finding_id, photo_id, by_id, at)
values (@practice_id, @id, @visit_id, @item_id, @area, @name, @examined, @why, @condition, @note, sqlc.narg('finding_id'), sqlc.narg('photo_id'), sqlc.narg('by_id'), @now);

-- name: LockExamination :one
select id
  from item_examinations
 where practice_id = @practice_id and id = @id and visit_id = @visit_id and item_id = @item_id
   for update;

-- name: UpdateExamination :execrows
update item_examinations
   set examined = @examined, why = @why, condition = @condition, note = @note, finding_id = sqlc.narg('finding_id'), photo_id = sqlc.narg('photo_id'), by_id = sqlc.narg('by_id'),
       at = @now, version = version + 1
 where practice_id = @practice_id and id = @id and visit_id = @visit_id and item_id = @item_id and version = @version;

-- name: ValuationOfJob :one
select x.job_id, x.figure_minor, x.currency, x.basis, x.value_on, x.said, x.comparables, coalesce(m.name, '')::text as by_name, x.at, x.version
  from valuations x
  left join members m on m.practice_id = x.practice_id and m.id = x.by_id
 where x.practice_id = @practice_id and x.job_id = @job_id;

-- name: InsertValuation :exec
insert into valuations (practice_id, job_id, figure_minor, currency, basis, value_on, said, comparables, by_id, at)
values (@practice_id, @job_id, @figure_minor, @currency, @basis, @value_on, @said, @comparables, sqlc.narg('by_id'), @now);

-- name: UpdateValuation :execrows
update valuations
   set figure_minor = @figure_minor, currency = @currency, basis = @basis, value_on = @value_on, said = @said, comparables = @comparables, by_id = sqlc.narg('by_id'), at = @now,
       version = version + 1
 where practice_id = @practice_id and job_id = @job_id and version = @version;

-- name: AttendanceNotesOfJob :many
select n.id, n.job_id, n.visit_id, n.kind, n.at, n.with_whom, n.text, coalesce(m.name, '')::text as by_name, n.written_at, n.struck_at, n.struck_reason, n.previous_surveyor
  from attendance_notes n
  left join members m on m.practice_id = n.practice_id and m.id = n.by_id
 where n.practice_id = @practice_id and n.job_id = @job_id
 order by n.at desc, n.id;

-- name: InsertAttendanceNote :exec
insert into attendance_notes (practice_id, id, job_id, visit_id, kind, at, with_whom, text, by_id, written_at, previous_surveyor)
values (@practice_id, @id, @job_id, sqlc.narg('visit_id'), @kind, @at, @with_whom, @text, sqlc.narg('by_id'), @now, @previous_surveyor);

-- name: AttendanceNoteJob :one
select n.job_id
  from attendance_notes n
  join jobs j on j.practice_id = n.practice_id and j.id = n.job_id
 where n.practice_id = @practice_id and n.id = @id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid));

-- name: StrikeAttendanceNote :execrows
update attendance_notes
   set struck_at = @now::timestamptz, struck_reason = @reason
 where practice_id = @practice_id and id = @id and struck_at is null;
