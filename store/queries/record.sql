-- name: LockMutation :exec
select pg_advisory_xact_lock(hashtextextended(@practice_id::text || @id::text, 0));

-- name: FindMutation :one
select operation, input_sha256, result, seq
  from mutations
 where practice_id = @practice_id and id = @id;

-- name: MemberRoles :one
-- None once the member left, or the session or key that the actor came by has ended.
select m.roles
  from members m
 where m.practice_id = @practice_id and m.id = @id and m.left_at is null
   and (sqlc.narg('session')::uuid is null or exists (select from sessions s where s.practice_id = m.practice_id and s.id = sqlc.narg('session') and s.ended_at is null))
   and (sqlc.narg('key')::uuid is null or exists (select from api_keys k where k.practice_id = m.practice_id and k.id = sqlc.narg('key') and k.revoked_at is null));

-- name: RecordMutation :one
select record_mutation(@practice_id, @id, sqlc.narg('actor')::uuid, @actor_kind, @operation, @input_sha256, @result, @now::timestamptz)::bigint as seq;

-- name: Head :one
select epoch, seq, chain
  from heads
 where practice_id = @practice_id;

-- name: MovedSince :many
select seq, operation, result, at
  from mutations
 where practice_id = @practice_id and seq > @since
 order by seq
 limit @most;

-- name: ChainFrom :many
select id, actor, actor_kind, operation, input_sha256, result, seq, at, chain
  from mutations
 where practice_id = @practice_id and seq > @since
 order by seq
 limit @most;

-- name: Enqueue :exec
select door.enqueue(@kind::text, @args::jsonb, @run_at::timestamptz);

-- name: AnchorsOfReports :many
-- The heads that issued reports hold.
select r.number, s.audit_seq, s.audit_chain
  from report_snapshots s
  join reports r on r.practice_id = s.practice_id and r.id = s.report_id
 where s.practice_id = @practice_id
 order by s.audit_seq, r.number;
