-- name: InsertMove :exec
insert into moves (practice_id, id, spell_id, what, reason, made_at, made_by, tells_client, tells_yard)
values (@practice_id, @id, @spell_id, @what, @reason, @made_at, sqlc.narg('made_by'), @tells_client, @tells_yard);

-- name: InsertMoveLine :exec
insert into move_lines (practice_id, move_id, position, what, visit_id, from_before, to_before, from_after, to_after, version_after)
values (@practice_id, @move_id, @position, @what, sqlc.narg('visit_id'), sqlc.narg('from_before'), sqlc.narg('to_before'), sqlc.narg('from_after'), sqlc.narg('to_after'), @version_after);

-- name: MoveToUndo :one
select id, spell_id, what, reason, made_at, undone_at, tells_client, tells_yard
  from moves
 where practice_id = @practice_id and id = @id
   for update;

-- name: MoveLines :many
select what, visit_id, from_before, to_before, from_after, to_after, version_after
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


-- name: ToldOfMove :many
-- Clients whose visits are planned in a time ashore, each with those of them that moved, and its yard.
select p.id, p.name, p.email, false as is_yard, coalesce(array_agg(w.id order by w.from_at, w.id) filter (where w.id = any(@visits::uuid[])), '{}')::uuid[] as visits
  from visits w
  join jobs j on j.practice_id = w.practice_id and j.id = w.job_id
  join parties p on p.practice_id = j.practice_id and p.id = j.client_id
 where w.practice_id = @practice_id and w.spell_id = @spell_id and w.state = 'planned' and p.erased_at is null and p.email <> ''
 group by p.id, p.name, p.email
union all
select p.id, p.name, p.email, true as is_yard, '{}'::uuid[] as visits
  from spells s
  join parties p on p.practice_id = s.practice_id and p.id = s.yard_id
 where s.practice_id = @practice_id and s.id = @spell_id and p.erased_at is null and p.email <> ''
 order by is_yard, id;

-- name: SlotToMove :one
-- What the yard does in a time ashore, held until the transaction ends.
select spell_id, wash_at, chock_at, shift_at, pays, told
  from slots
 where practice_id = @practice_id and spell_id = @spell_id
   for update;

-- name: DiaryMoves :many
-- Moves made since a time and not taken back, the newest first: all, or those of one time ashore.
select m.id, m.spell_id, m.what, m.reason, m.made_at, coalesce(b.name, '') as made_by, v.name as vessel_name, s.time_zone, l.from_before, l.from_after,
       (select count(*) from move_lines x where x.practice_id = m.practice_id and x.move_id = m.id and x.visit_id is not null)::integer as visits
  from moves m
  join move_lines l on l.practice_id = m.practice_id and l.move_id = m.id and l.position = 0
  join spells s on s.practice_id = m.practice_id and s.id = m.spell_id
  join vessels v on v.practice_id = s.practice_id and v.id = s.vessel_id
  left join members b on b.practice_id = m.practice_id and b.id = m.made_by
 where m.practice_id = @practice_id and m.undone_at is null and m.made_at >= @since::timestamptz
   and (sqlc.narg('spell_id')::uuid is null or m.spell_id = sqlc.narg('spell_id')::uuid)
 order by m.made_at desc, m.id desc
 limit 8;
