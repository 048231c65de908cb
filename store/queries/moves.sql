-- name: InsertMove :exec
insert into moves (practice_id, id, spell_id, reason, made_at, made_by)
values (@practice_id, @id, @spell_id, @reason, @made_at, sqlc.narg('made_by'));

-- name: InsertMoveLine :exec
insert into move_lines (practice_id, move_id, position, visit_id, from_before, to_before, from_after, to_after, version_after)
values (@practice_id, @move_id, @position, sqlc.narg('visit_id'), sqlc.narg('from_before'), sqlc.narg('to_before'), sqlc.narg('from_after'), sqlc.narg('to_after'), @version_after);

-- name: MoveToUndo :one
select id, spell_id, reason, made_at, undone_at
  from moves
 where practice_id = @practice_id and id = @id
   for update;

-- name: MoveLines :many
select visit_id, from_before, to_before, from_after, to_after, version_after
  from move_lines
 where practice_id = @practice_id and move_id = @move_id
 order by position;

-- name: UndoMove :exec
update moves set undone_at = @now
 where practice_id = @practice_id and id = @id;

-- name: FreeVisitPeople :exec
update visit_people set holds = false
 where practice_id = @practice_id and visit_id = any(@visits::uuid[]);

-- name: FreeVisitInstruments :exec
update visit_instruments set holds = false
 where practice_id = @practice_id and visit_id = any(@visits::uuid[]);

-- name: AffectedBy :many
-- Who makes these visits, each with the visits.
select m.id, m.name, m.email, array_agg(o.visit_id order by w.from_at, w.id)::uuid[] as visits
  from visit_people o
  join visits w on w.practice_id = o.practice_id and w.id = o.visit_id
  join members m on m.practice_id = o.practice_id and m.id = o.member_id
 where o.practice_id = @practice_id and o.visit_id = any(@visits::uuid[]) and m.left_at is null
 group by m.id, m.name, m.email
 order by m.id;

-- name: TakeBackSpell :execrows
update spells
   set planned_lift = sqlc.narg('planned_lift'), planned_launch = sqlc.narg('planned_launch'), version = version + 1
 where practice_id = @practice_id and id = @id and version = @version;

