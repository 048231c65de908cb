-- name: GetMember :one
select id, name, email, roles, qualification, left_at, version
  from members
 where practice_id = @practice_id and id = @id;

-- name: ListMembers :many
select id, name, email, roles, qualification, left_at, version
  from members
 where practice_id = @practice_id and (lower(name), id) > (lower(@after_name::text), @after_id::uuid)
 order by lower(name), id
 limit @most;

-- name: UpdateMember :execrows
update members
   set name = @name, roles = @roles, qualification = @qualification, left_at = sqlc.narg('left_at'), version = version + 1
 where practice_id = @practice_id and id = @id and version = @version;

-- name: LockPrincipals :many
select id
  from members
 where practice_id = @practice_id and left_at is null and 'principal' = any(roles)
 order by id
   for update;

-- name: EndSessionsOf :exec
select door.session_end(s.id, @now)
  from sessions s
 where s.practice_id = @practice_id and s.member_id = @member_id and s.ended_at is null
 order by s.id;

-- name: RevokeKeysOf :exec
update api_keys
   set revoked_at = @now
 where practice_id = @practice_id and member_id = @member_id and revoked_at is null;

-- name: MemberAt :one
select exists (select from members where practice_id = @practice_id and lower(email) = @email::text and left_at is null) as there;

-- name: InvitationsThatStand :many
select id, email, name, roles, expires_at
  from invitations
 where practice_id = @practice_id and accepted_at is null and expires_at > @now
 order by created_at desc, id;

-- name: GetInvitation :one
select id, email, name, roles, expires_at
  from invitations
 where practice_id = @practice_id and id = @id;

-- name: EndInvitationsTo :exec
update invitations
   set expires_at = @now
 where practice_id = @practice_id and email = @email and accepted_at is null and expires_at > @now;

-- name: InsertInvitation :exec
insert into invitations (practice_id, id, email, name, roles, token_sha256, invited_by, created_at, expires_at)
values (@practice_id, @id, @email, @name, @roles, @token_sha256, @invited_by, @now, @expires_at);

-- name: ListAPIKeys :many
select k.id, k.name, m.id as member_id, m.name as member_name, m.roles as member_roles, (m.left_at is null)::boolean as member_active, k.created_at, k.revoked_at, k.last_used_on
  from api_keys k
  join members m on m.practice_id = k.practice_id and m.id = k.member_id
 where k.practice_id = @practice_id
 order by k.created_at desc, k.id;

-- name: GetAPIKey :one
select k.id, k.name, m.id as member_id, m.name as member_name, m.roles as member_roles, (m.left_at is null)::boolean as member_active, k.created_at, k.revoked_at, k.last_used_on
  from api_keys k
  join members m on m.practice_id = k.practice_id and m.id = k.member_id
 where k.practice_id = @practice_id and k.id = @id;

-- name: InsertAPIKey :exec
insert into api_keys (practice_id, id, member_id, name, key_sha256, created_at)
values (@practice_id, @id, @member_id, @name, @key_sha256, @now);

-- name: RevokeAPIKey :execrows
update api_keys
   set revoked_at = coalesce(revoked_at, @now)
 where practice_id = @practice_id and id = @id;
