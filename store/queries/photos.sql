-- name: InsertPhoto :exec
insert into photos (practice_id, id, upload_id, device_upload, visit_id, vessel_id, place_id, finding_id, caption, taken_at, clock_ahead_seconds)
values (@practice_id, @id, @upload_id, sqlc.narg('device_upload'), sqlc.narg('visit_id'), @vessel_id, sqlc.narg('place_id'), sqlc.narg('finding_id'), @caption, sqlc.narg('taken_at'),
  sqlc.narg('clock_ahead_seconds'));

-- name: GetPhoto :one
select p.id, p.vessel_id, p.visit_id, p.finding_id, p.caption, p.state, p.refused_because, p.taken_at, p.width, p.height, l.ordinal as place, p.view_key, p.thumb_key, p.printed, p.alt, p.annotation, (p.device_upload is not null)::boolean as on_device, p.version
  from photos p
  left join places l on l.practice_id = p.practice_id and l.id = p.place_id
  left join visits w on w.practice_id = p.practice_id and w.id = p.visit_id
  left join jobs j on j.practice_id = w.practice_id and j.id = w.job_id
 where p.practice_id = @practice_id and p.id = @id
   and ((not coalesce(j.restricted, false) and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid));

-- name: PhotosOfVisit :many
select p.id, p.vessel_id, p.visit_id, p.finding_id, p.caption, p.state, p.refused_because, p.taken_at, p.width, p.height, l.ordinal as place, p.view_key, p.thumb_key, p.printed, p.alt, p.annotation, (p.device_upload is not null)::boolean as on_device, p.version
  from photos p
  left join places l on l.practice_id = p.practice_id and l.id = p.place_id
 where p.practice_id = @practice_id and p.visit_id = @visit_id::uuid
 order by p.taken_at nulls last, p.id;

-- name: PhotosOfVessel :many
-- Photos of a vessel, newest first, without those of jobs that are not open to this member.
select p.id, p.vessel_id, p.visit_id, p.finding_id, p.caption, p.state, p.refused_because, p.taken_at, p.width, p.height, l.ordinal as place, p.view_key, p.thumb_key, p.printed, p.alt, p.annotation, (p.device_upload is not null)::boolean as on_device, p.version
  from photos p
  left join places l on l.practice_id = p.practice_id and l.id = p.place_id
  left join visits w on w.practice_id = p.practice_id and w.id = p.visit_id
  left join jobs j on j.practice_id = w.practice_id and j.id = w.job_id
 where p.practice_id = @practice_id and p.vessel_id = @vessel_id
   and ((not coalesce(j.restricted, false) and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
 order by p.taken_at desc nulls last, p.id desc
 limit 500;

-- name: PhotoToMake :one
-- The copies are made of the JPEG that the device made, where there is one.
select p.id, p.state, u.object_key, u.content_type, u.size_bytes, u.sha256
  from photos p
  join uploads u on u.practice_id = p.practice_id and u.id = coalesce(p.device_upload, p.upload_id)
 where p.practice_id = @practice_id and p.id = @id;

-- name: MadePhoto :execrows
update photos
   set state = @state, refused_because = @refused_because, width = sqlc.narg('width'), height = sqlc.narg('height'), view_key = @view_key,
       thumb_key = @thumb_key, view_sha256 = @view_sha256, view_width = sqlc.narg('view_width'), view_height = sqlc.narg('view_height')
 where practice_id = @practice_id and id = @id and state = 'waiting';

-- name: PlaceVessel :one
select vessel_id
  from places
 where practice_id = @practice_id and id = @id;

-- name: LockPhoto :one
select p.id, p.vessel_id, p.visit_id, p.caption, p.alt, p.printed, p.annotation, p.place_id
  from photos p
  left join visits w on w.practice_id = p.practice_id and w.id = p.visit_id
  left join jobs j on j.practice_id = w.practice_id and j.id = w.job_id
 where p.practice_id = @practice_id and p.id = @id
   and ((not coalesce(j.restricted, false) and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
   for update of p;

-- name: UpdatePhoto :execrows
update photos
   set caption = @caption, alt = @alt, printed = @printed, annotation = @annotation, place_id = sqlc.narg('place_id'), version = version + 1
 where practice_id = @practice_id and id = @id and version = @version;

-- name: PhotosOfJob :many
-- The photos of a job that its report prints, in the order in which they were taken.
select p.id, p.finding_id, p.caption, p.alt, p.taken_at, p.view_width, p.view_height, p.view_sha256, p.view_key, p.annotation, (p.device_upload is not null)::boolean as on_device, u.sha256 as original_sha256, l.ordinal as place, v.time_zone,
       coalesce(m.name, '')::text as taken_by
  from photos p
  join visits v on v.practice_id = p.practice_id and v.id = p.visit_id
  join uploads u on u.practice_id = p.practice_id and u.id = p.upload_id
  left join members m on m.practice_id = u.practice_id and m.id = u.granted_to
  left join places l on l.practice_id = p.practice_id and l.id = p.place_id
 where p.practice_id = @practice_id and v.job_id = @job_id and p.printed and p.state = 'ready' and p.view_sha256 is not null
 order by p.taken_at nulls last, p.id;

-- name: PhotosToCome :one
-- Photos of a job that its report would print and that are not made yet, and those of which
-- no picture was made: a file that is damaged, or one that only a telephone opens.
select count(*) filter (where p.state = 'waiting')::integer as waiting, count(*) filter (where p.state <> 'waiting')::integer as never
  from photos p
  join visits v on v.practice_id = p.practice_id and v.id = p.visit_id
 where p.practice_id = @practice_id and v.job_id = @job_id and p.printed and (p.state in ('waiting', 'refused') or p.view_sha256 is null);

-- name: PrintedCopy :one
-- Where the copy of a photo is kept that a report prints.
select view_key
  from photos
 where practice_id = @practice_id and id = @id and state = 'ready';
