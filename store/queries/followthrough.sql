-- name: EvidenceOfVessel :many
-- What shows how far her recommendations have got, of jobs that the member may see.
select e.id, e.recommendation_id, e.kind, e.photo_id, e.finding_id, e.visit_id, e.upload_id, e.text, e.told_on, coalesce(m.name, '')::text as by_name, e.at,
       w.from_at as seen_at, coalesce(w.time_zone, '')::text as time_zone, coalesce(u.object_key, '')::text as file_key, coalesce(u.file_name, '')::text as file_name,
       coalesce(p.thumb_key, '')::text as thumb_key, coalesce(p.view_key, '')::text as view_key
  from recommendation_evidence e
  join recommendations r on r.practice_id = e.practice_id and r.id = e.recommendation_id
  join jobs j on j.practice_id = r.practice_id and j.id = r.job_id
  left join members m on m.practice_id = e.practice_id and m.id = e.by_id
  left join visits w on w.practice_id = e.practice_id and w.id = e.visit_id
  left join uploads u on u.practice_id = e.practice_id and u.id = e.upload_id
  left join photos p on p.practice_id = e.practice_id and p.id = e.photo_id and p.state = 'ready'
 where e.practice_id = @practice_id and r.vessel_id = @vessel_id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
 order by e.at, e.id;

-- name: InsertEvidence :exec
insert into recommendation_evidence (practice_id, id, recommendation_id, kind, photo_id, finding_id, visit_id, upload_id, text, told_on, by_id, at)
values (@practice_id, @id, @recommendation_id, @kind, sqlc.narg('photo_id'), sqlc.narg('finding_id'), sqlc.narg('visit_id'), sqlc.narg('upload_id'), @text, sqlc.narg('told_on'),
  sqlc.narg('by_id'), @now);

-- name: PhotoVessel :one
select p.vessel_id
  from photos p
  left join visits w on w.practice_id = p.practice_id and w.id = p.visit_id
  left join jobs j on j.practice_id = w.practice_id and j.id = w.job_id
 where p.practice_id = @practice_id and p.id = @id
   and ((not coalesce(j.restricted, false) and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid));

-- name: DangerNoticesOfVessel :many
select n.id, n.recommendation_id, n.job_id, n.text, coalesce(d.name, '')::text as drafted_by, n.drafted_at, coalesce(k.name, '')::text as sent_by, n.sent_at, n.version
  from danger_notices n
  join recommendations r on r.practice_id = n.practice_id and r.id = n.recommendation_id
  join jobs j on j.practice_id = n.practice_id and j.id = n.job_id
  left join members d on d.practice_id = n.practice_id and d.id = n.drafted_by
  left join members k on k.practice_id = n.practice_id and k.id = n.sent_by
 where n.practice_id = @practice_id and r.vessel_id = @vessel_id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
 order by n.drafted_at desc, n.id;

-- name: DangerToldOfVessel :many
select t.notice_id, t.name, t.role, t.spoken_at, t.how, t.email
  from danger_told t
  join danger_notices n on n.practice_id = t.practice_id and n.id = t.notice_id
  join recommendations r on r.practice_id = n.practice_id and r.id = n.recommendation_id
  join jobs j on j.practice_id = n.practice_id and j.id = n.job_id
 where t.practice_id = @practice_id and r.vessel_id = @vessel_id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
 order by t.notice_id, t.position;

-- name: LockDangerNotice :one
select n.id, n.recommendation_id, n.job_id, n.text, n.sent_at, n.version
  from danger_notices n
  join jobs j on j.practice_id = n.practice_id and j.id = n.job_id
 where n.practice_id = @practice_id and n.id = @id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
   for update of n;

-- name: InsertDangerNotice :exec
insert into danger_notices (practice_id, id, recommendation_id, job_id, text, drafted_by, drafted_at)
values (@practice_id, @id, @recommendation_id, @job_id, @text, sqlc.narg('by_id'), @now);

-- name: SendDangerNotice :execrows
update danger_notices
   set text = @text, sent_by = sqlc.narg('by_id'), sent_at = @now::timestamptz, version = version + 1
 where practice_id = @practice_id and id = @id and version = @version and sent_at is null;

-- name: InsertDangerTold :exec
insert into danger_told (practice_id, notice_id, position, name, role, spoken_at, how, email)
values (@practice_id, @notice_id, @position, @name, @role, sqlc.narg('spoken_at'), @how, @email);

-- name: DangerFacts :one
select r.what, r.reason, r.grade, r.job_id, r.vessel_id, v.name as vessel_name, coalesce(l.yard, '')::text as yard, coalesce(c.name, '')::text as client_name,
       coalesce(c.email, '')::text as client_email, h.name as practice_name, h.phone, h.time_zone
  from recommendations r
  join jobs j on j.practice_id = r.practice_id and j.id = r.job_id
  join practices h on h.practice_id = r.practice_id
  join vessels v on v.practice_id = r.practice_id and v.id = r.vessel_id
  left join vessel_lines l on l.practice_id = r.practice_id and l.id = r.vessel_id
  left join parties c on c.practice_id = j.practice_id and c.id = j.client_id
 where r.practice_id = @practice_id and r.id = @id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid));

-- name: LetterFacts :one
select j.vessel_id, v.name as vessel_name, v.hull_number_as_read, h.name as practice_name, h.address, h.email, h.phone, h.time_zone, h.invented
  from jobs j
  join practices h on h.practice_id = j.practice_id
  join vessels v on v.practice_id = j.practice_id and v.id = j.vessel_id
 where j.practice_id = @practice_id and j.id = @job_id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid));

-- name: RecommendationsToTell :many
-- Recommendations of the job's vessel that were issued, with whether they may be told to its client.
select r.id, r.grade, r.what, r.state, (j.id = o.id or job_told(j.client_id, j.cite, o.client_id))::boolean as told
  from jobs o
  join jobs j on j.practice_id = o.practice_id and j.vessel_id = o.vessel_id
  join recommendations r on r.practice_id = j.practice_id and r.job_id = j.id
 where o.practice_id = @practice_id and o.id = @job_id and r.state <> 'draft'
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
 order by r.created_at, r.id;

-- name: InsertSeenLetter :exec
insert into seen_letters (practice_id, id, vessel_id, job_id, addressed_to, reader, reference, content, left_out, sha256, by_id, at)
values (@practice_id, @id, @vessel_id, @job_id, @addressed_to, @reader, @reference, @content, @left_out, @sha256, sqlc.narg('by_id'), @now);

-- name: GetSeenLetter :one
select t.id, t.vessel_id, t.job_id, t.addressed_to, t.reader, t.reference, t.content, t.left_out, t.sha256, coalesce(m.name, '')::text as by_name, t.at
  from seen_letters t
  join jobs j on j.practice_id = t.practice_id and j.id = t.job_id
  left join members m on m.practice_id = t.practice_id and m.id = t.by_id
 where t.practice_id = @practice_id and t.id = @id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid));

-- name: SeenLettersOfVessel :many
select t.id, t.vessel_id, t.job_id, t.addressed_to, t.reader, t.reference, t.content, t.left_out, t.sha256, coalesce(m.name, '')::text as by_name, t.at
  from seen_letters t
  join jobs j on j.practice_id = t.practice_id and j.id = t.job_id
  left join members m on m.practice_id = t.practice_id and m.id = t.by_id
 where t.practice_id = @practice_id and t.vessel_id = @vessel_id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
 order by t.at desc, t.id;
