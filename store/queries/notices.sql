-- name: Tell :exec
-- One notice a person and change, to those whose visit or job it is and to those named:
-- not to whoever made the change, and nobody who may not see the job.
insert into notices (practice_id, id, member_id, mutation_id, operation, job_id, visit_id, engagement_id, about, by_id, at)
select m.practice_id, gen_random_uuid(), m.id, @mutation_id::uuid, @what::text, j.id, sqlc.narg('visit_id')::uuid, sqlc.narg('engagement_id')::uuid, @about::text,
       sqlc.narg('by_id')::uuid, @at::timestamptz
  from members m
  left join jobs j on j.practice_id = m.practice_id
       and j.id = coalesce(sqlc.narg('job_id')::uuid, (select w.job_id from visits w where w.practice_id = @practice_id and w.id = sqlc.narg('visit_id')::uuid))
 where m.practice_id = @practice_id and m.left_at is null and m.id is distinct from sqlc.narg('by_id')::uuid
   and (m.id = any(@members::uuid[])
        or not @alone::boolean and sqlc.narg('visit_id')::uuid is null and m.id = j.lead_id
        or not @alone::boolean and exists (select from visit_people o where o.practice_id = m.practice_id and o.visit_id = sqlc.narg('visit_id')::uuid and o.member_id = m.id))
   and (cardinality(@roles::text[]) = 0 or m.roles && @roles::text[])
   and (case when j.id is null then not m.roles <@ array['guest'] else not j.restricted and not m.roles <@ array['guest']
        or exists (select from job_access a where a.practice_id = m.practice_id and a.job_id = j.id and a.member_id = m.id) end)
on conflict (practice_id, member_id, mutation_id) do nothing;

-- name: TellFetched :exec
-- Whoever leads the job and whoever made the link hear of its first fetched PDF, once.
insert into notices (practice_id, id, member_id, mutation_id, operation, job_id, about, at)
select m.practice_id, gen_random_uuid(), m.id, s.id, 'report fetched', j.id, coalesce(r.number, ''), @now::timestamptz
  from shares s
  join reports r on r.practice_id = s.practice_id and r.id = s.report_id
  join jobs j on j.practice_id = r.practice_id and j.id = r.job_id
  join members m on m.practice_id = j.practice_id and m.id in (j.lead_id, s.created_by) and m.left_at is null
 where s.practice_id = @practice_id and s.id = @share_id and @what::text = 'pdf'
   and (not j.restricted and not m.roles <@ array['guest']
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = m.id))
on conflict (practice_id, member_id, mutation_id) do nothing;

-- name: NoticesOf :many
-- A member's notices, the newest first, of what he or she may still see.
select n.id, n.operation as what, n.about, n.job_id, coalesce(j.number, '')::text as job_number, n.visit_id, coalesce(w.kind, '')::text as visit_kind, w.from_at as visit_from,
       coalesce(w.time_zone, '')::text as visit_zone, n.engagement_id, coalesce(v.name, u.name, e.boat_as_written, '')::text as boat, coalesce(b.name, '')::text as by_name, n.at, n.seen_at
  from notices n
  left join jobs j on j.practice_id = n.practice_id and j.id = n.job_id
  left join vessels v on v.practice_id = j.practice_id and v.id = j.vessel_id
  left join visits w on w.practice_id = n.practice_id and w.id = n.visit_id
  left join engagements e on e.practice_id = n.practice_id and e.id = n.engagement_id
  left join vessels u on u.practice_id = e.practice_id and u.id = e.vessel_id
  left join members b on b.practice_id = n.practice_id and b.id = n.by_id
 where n.practice_id = @practice_id and n.member_id = @member::uuid and (n.at, n.id) < (@before_at::timestamptz, @before_id::uuid)
   and (j.id is null and not @guest::boolean or not j.restricted and not @guest
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member))
 order by n.at desc, n.id desc
 limit @most;

-- name: CountUnseen :one
select count(*)::integer as unseen
  from notices n
  left join jobs j on j.practice_id = n.practice_id and j.id = n.job_id
 where n.practice_id = @practice_id and n.member_id = @member::uuid and n.seen_at is null
   and (j.id is null and not @guest::boolean or not j.restricted and not @guest
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member));

-- name: DigestSetting :one
select digest
  from notice_settings
 where practice_id = @practice_id and member_id = @member_id;

-- name: SetDigest :exec
insert into notice_settings (practice_id, member_id, digest)
values (@practice_id, @member_id, @digest)
on conflict (practice_id, member_id) do update set digest = excluded.digest, version = notice_settings.version + 1;

-- name: SeeNotices :many
update notices
   set seen_at = coalesce(seen_at, @now::timestamptz)
 where practice_id = @practice_id and member_id = @member_id and id = any(@ids::uuid[])
returning id;

-- name: DigestMembers :many
-- Who ever gets a mail, those first who get one today.
select d.member_id, (d.digest = 'daily' or @weekly::boolean)::boolean as due
  from notice_settings d
  join members m on m.practice_id = d.practice_id and m.id = d.member_id
 where d.practice_id = @practice_id and d.digest <> 'none' and m.left_at is null
 order by 2 desc, 1;

-- name: DigestAddressee :one
select m.name, m.email, p.name as practice_name, p.invented, m.roles
  from members m
  join practices p on p.practice_id = m.practice_id
 where m.practice_id = @practice_id and m.id = @member_id and m.left_at is null
   for update of m;

-- name: DigestedUntil :one
select coalesce(max(until_at), 'epoch')::timestamptz as until_at
  from digests
 where practice_id = @practice_id and member_id = @member_id;

-- name: InsertDigest :exec
insert into digests (practice_id, id, member_id, token_sha256, until_at, at)
values (@practice_id, @id, @member_id, @token_sha256, @until_at, @now);
