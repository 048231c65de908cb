-- name: InsertUpload :exec
insert into uploads (practice_id, id, purpose, object_key, content_type, size_bytes, sha256, file_name, granted_to, granted_at, expires_at)
values (@practice_id, @id, @purpose, @object_key, @content_type, @size_bytes, @sha256, @file_name, sqlc.narg('granted_to'), @granted_at, @expires_at);

-- name: GetUpload :one
select id, purpose, object_key, content_type, size_bytes, sha256, file_name, granted_to, granted_at, expires_at, finished_at
  from uploads
 where practice_id = @practice_id and id = @id;

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
