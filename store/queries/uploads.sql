-- name: InsertUpload :exec
insert into uploads (practice_id, id, purpose, object_key, content_type, size_bytes, sha256, file_name, granted_to, granted_at, expires_at)
values (@practice_id, @id, @purpose, @object_key, @content_type, @size_bytes, @sha256, @file_name, sqlc.narg('granted_to'), @granted_at, @expires_at);

-- name: GetUpload :one
select id, purpose, object_key, content_type, size_bytes, sha256, file_name, granted_to, granted_at, expires_at, finished_at, swept_at
  from uploads
 where practice_id = @practice_id and id = @id;

-- name: UploadToUse :one
-- Held, so that nothing sweeps it away while something is pinned to it.
select id, purpose, object_key, content_type, size_bytes, sha256, file_name, granted_to, granted_at, expires_at, finished_at, swept_at
  from uploads
 where practice_id = @practice_id and id = @id
   for update;

-- name: UploadInUse :one
select (exists (select from photos p where p.practice_id = @practice_id and (p.upload_id = @id or p.device_upload = @id))
        or exists (select from imports i where i.practice_id = @practice_id and i.upload_id = @id)
        or exists (select from client_answers a where a.practice_id = @practice_id and a.upload_id = @id)
        or exists (select from recommendation_evidence e where e.practice_id = @practice_id and e.upload_id = @id))::boolean as used;

-- name: SweepUpload :exec
update uploads
   set swept_at = @now::timestamptz
 where practice_id = @practice_id and id = @id and swept_at is null;

-- name: CountOpenGrants :one
select count(*) as grants
  from uploads
 where practice_id = @practice_id and granted_to is not distinct from sqlc.narg('granted_to')::uuid and finished_at is null and expires_at > @now::timestamptz;

-- name: FinishUpload :exec
update uploads
   set finished_at = coalesce(finished_at, @now::timestamptz)
 where practice_id = @practice_id and id = @id;

-- name: InsertImport :exec
insert into imports (practice_id, id, upload_id, pass_id, kept, at)
values (@practice_id, @id, @upload_id, @pass_id, @kept, @at);
