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

-- name: KeptObjects :many
-- Everything of a practice that the store of files has to hold, in the order of its keys;
-- with a key, what is kept under it. Of a small copy no hash is known.
select k.what, k.id, k.object_key, k.sha256
  from (select 'upload'::text as what, u.id, u.object_key, u.sha256 from uploads u where u.practice_id = @practice_id and u.finished_at is not null and u.swept_at is null
        union all
        select 'report page', i.report_id, i.page_key, i.page_sha256 from report_issues i where i.practice_id = @practice_id
        union all
        select 'report PDF', i.report_id, i.pdf_key, i.pdf_sha256 from report_issues i where i.practice_id = @practice_id
        union all
        select 'addendum page', i.addendum_id, i.page_key, i.page_sha256 from addendum_issues i where i.practice_id = @practice_id and i.page_key is not null
        union all
        select 'addendum PDF', i.addendum_id, i.pdf_key, i.pdf_sha256 from addendum_issues i where i.practice_id = @practice_id
        union all
        select 'photo copy', p.id, p.view_key, p.view_sha256 from photos p where p.practice_id = @practice_id and p.view_key <> ''
        union all
        select 'small photo copy', p.id, p.thumb_key, null from photos p where p.practice_id = @practice_id and p.thumb_key <> ''
        union all
        select 'client’s photo copy', c.upload_id, c.view_key, null from client_photos c where c.practice_id = @practice_id and c.view_key <> ''
        union all
        select 'client’s small photo copy', c.upload_id, c.thumb_key, null from client_photos c where c.practice_id = @practice_id and c.thumb_key <> '') k
 where k.object_key > @after::text and (@exact::text = '' or k.object_key = @exact)
 order by k.object_key, k.what
 limit @most;
