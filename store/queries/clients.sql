-- name: SharesOfAddress :many
-- Links to reports that are open and name this address.
select id
  from shares
 where practice_id = @practice_id and lower(email) = lower(@email::text) and email <> '' and revoked_at is null and until > @now::timestamptz
 order by created_at, id;

-- name: AnswersOfShare :many
-- What a person answered, by whichever link to the same address.
select a.recommendation_id, a.answer, a.reason, a.at, coalesce(p.state, '')::text as photo, coalesce(u.content_type, '')::text as content_type, coalesce(u.file_name, '')::text as file_name,
       coalesce(case when p.state = 'ready' and u.content_type = 'application/pdf' then u.object_key else p.view_key end, '')::text as file_key
  from shares s
  join shares t on t.practice_id = s.practice_id and (t.id = s.id or s.email <> '' and lower(t.email) = lower(s.email))
  join client_answers a on a.practice_id = t.practice_id and a.share_id = t.id
  left join client_photos p on p.practice_id = a.practice_id and p.upload_id = a.upload_id
  left join uploads u on u.practice_id = p.practice_id and u.id = p.upload_id
 where s.practice_id = @practice_id and s.id = @share_id
 order by a.at, a.id;

-- name: MessagesOfShare :many
select m.text, m.at
  from shares s
  join shares t on t.practice_id = s.practice_id and t.report_id = s.report_id and (t.id = s.id or s.email <> '' and lower(t.email) = lower(s.email))
  join client_messages m on m.practice_id = t.practice_id and m.share_id = t.id
 where s.practice_id = @practice_id and s.id = @share_id
 order by m.at, m.id;

-- name: PermitsOfShare :many
select m.id, m.name, m.email, m.purpose, m.given_at, m.withdrawn_at
  from shares s
  join shares t on t.practice_id = s.practice_id and t.report_id = s.report_id and (t.id = s.id or s.email <> '' and lower(t.email) = lower(s.email))
  join client_permits m on m.practice_id = t.practice_id and m.share_id = t.id
 where s.practice_id = @practice_id and s.id = @share_id
 order by m.given_at, m.id;

-- name: ShareDesk :one
-- Where what a client says of a report goes: the job, whoever leads it, and what a letter names.
select s.report_id, s.name, s.email, r.job_id, j.vessel_id, coalesce(r.number, '')::text as number, v.name as vessel_name, p.name as practice_name, p.invented,
       coalesce(nullif(m.email, ''), p.email)::text as desk,
       (s.email <> '' and (s.party_id is not null and s.party_id = j.client_id or lower(s.email) = lower(coalesce(c.email, ''))))::boolean as of_client
  from shares s
  join reports r on r.practice_id = s.practice_id and r.id = s.report_id
  join jobs j on j.practice_id = r.practice_id and j.id = r.job_id
  join vessels v on v.practice_id = j.practice_id and v.id = j.vessel_id
  join practices p on p.practice_id = s.practice_id
  left join members m on m.practice_id = j.practice_id and m.id = j.lead_id and m.left_at is null
  left join parties c on c.practice_id = j.practice_id and c.id = j.client_id
 where s.practice_id = @practice_id and s.id = @id;

-- name: CodesSince :one
select count(*) as codes
  from share_codes
 where practice_id = @practice_id and share_id = @share_id and sent_at > @since::timestamptz;

-- name: InsertShareCode :exec
insert into share_codes (practice_id, id, share_id, code_sha256, sent_at, until)
values (@practice_id, @id, @share_id, @code_sha256, @now, @until);

-- name: TryShareCode :one
-- Every typing counts before it is looked at; only the newest code counts.
update share_codes c set tries = c.tries + 1
 where c.practice_id = @practice_id and c.id = (select n.id from share_codes n where n.practice_id = @practice_id and n.share_id = @share_id order by n.sent_at desc, n.id desc limit 1)
   and c.until > @now::timestamptz and c.tries < @most
returning c.id, c.code_sha256;

-- name: RightShareCode :exec
update share_codes set tries = 0
 where practice_id = @practice_id and id = @id;

-- name: ClientActsSince :one
-- What a link was used for lately: answers, messages and leave to share.
select (select count(*) from client_answers a where a.practice_id = @practice_id and a.share_id = @share_id and a.at > @since::timestamptz)
     + (select count(*) from client_messages m where m.practice_id = @practice_id and m.share_id = @share_id and m.at > @since::timestamptz)
     + (select count(*) from client_permits m where m.practice_id = @practice_id and m.share_id = @share_id and m.given_at > @since::timestamptz) as acts;

-- name: InsertClientAnswer :exec
insert into client_answers (practice_id, id, share_id, recommendation_id, answer, reason, upload_id, at)
values (@practice_id, @id, @share_id, @recommendation_id, @answer, @reason, sqlc.narg('upload_id'), @now);

-- name: InsertClientMessage :exec
insert into client_messages (practice_id, id, share_id, text, at)
values (@practice_id, @id, @share_id, @text, @now);

-- name: InsertClientPermit :exec
insert into client_permits (practice_id, id, share_id, name, email, purpose, given_at)
values (@practice_id, @id, @share_id, @name, @email, @purpose, @now);

-- name: ClientPermits :one
select exists (
  select from client_permits m
    join shares s on s.practice_id = m.practice_id and s.id = m.share_id
   where m.practice_id = @practice_id and s.report_id = @report_id and lower(m.email) = lower(@email::text) and m.withdrawn_at is null)::boolean as given;

-- name: WithdrawClientPermit :exec
update client_permits set withdrawn_at = coalesce(withdrawn_at, @now::timestamptz)
 where practice_id = @practice_id and id = @id;

-- name: RevokeSharesWith :many
-- The links to a report that somebody's address holds.
update shares set revoked_at = @now::timestamptz
 where practice_id = @practice_id and report_id = @report_id and lower(email) = lower(@email::text) and revoked_at is null
returning id;

-- name: InsertClientPhoto :exec
insert into client_photos (practice_id, upload_id, share_id)
values (@practice_id, @upload_id, @share_id);

-- name: OpenClientPhotos :one
select count(*) as photos
  from client_photos p
  join uploads u on u.practice_id = p.practice_id and u.id = p.upload_id
 where p.practice_id = @practice_id and p.share_id = @share_id and u.granted_at > @since::timestamptz;

-- name: ClientPhotoShare :one
select share_id
  from client_photos
 where practice_id = @practice_id and upload_id = @upload_id and state = 'granted';

-- name: SentClientPhoto :execrows
update client_photos set state = 'waiting'
 where practice_id = @practice_id and upload_id = @upload_id and state = 'granted';

-- name: ClientPhotoToMake :one
select p.upload_id, p.state, u.object_key, u.content_type, u.size_bytes, u.sha256
  from client_photos p
  join uploads u on u.practice_id = p.practice_id and u.id = p.upload_id
 where p.practice_id = @practice_id and p.upload_id = @upload_id;

-- name: MadeClientPhoto :execrows
update client_photos set state = @state, refused_because = @refused_because, view_key = @view_key, thumb_key = @thumb_key
 where practice_id = @practice_id and upload_id = @upload_id and state = 'waiting';

-- name: InsertClientGrant :exec
-- One that had ended begins again: the address was proved anew.
insert into client_grants (practice_id, id, account_id, email, created_at)
values (@practice_id, @id, @account_id, @email, @now)
on conflict on constraint client_grants_once do update set ended_at = null;

-- name: PrintedCopies :many
-- Where the copies are kept that a report prints.
select id, view_key
  from photos
 where practice_id = @practice_id and id = any(@ids::uuid[]) and state = 'ready' and view_key <> '';

-- name: AnswersOfVessel :many
select a.id, a.recommendation_id, a.answer, a.reason, a.at, s.name, coalesce(r.number, '')::text as number, r.job_id,
       coalesce(p.state, '')::text as photo_state, coalesce(p.refused_because, '')::text as refused_because, coalesce(p.thumb_key, '')::text as thumb_key,
       coalesce(u.content_type, '')::text as content_type, coalesce(u.file_name, '')::text as file_name,
       coalesce(case when p.state = 'ready' and u.content_type = 'application/pdf' then u.object_key else p.view_key end, '')::text as file_key
  from client_answers a
  join shares s on s.practice_id = a.practice_id and s.id = a.share_id
  join reports r on r.practice_id = s.practice_id and r.id = s.report_id
  join jobs j on j.practice_id = r.practice_id and j.id = r.job_id
  left join client_photos p on p.practice_id = a.practice_id and p.upload_id = a.upload_id
  left join uploads u on u.practice_id = p.practice_id and u.id = p.upload_id
 where a.practice_id = @practice_id and j.vessel_id = @vessel_id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access x where x.practice_id = j.practice_id and x.job_id = j.id and x.member_id = @member::uuid))
 order by a.at, a.id;

-- name: MessagesOfVessel :many
select m.id, m.text, m.at, s.name, coalesce(r.number, '')::text as number, r.job_id
  from client_messages m
  join shares s on s.practice_id = m.practice_id and s.id = m.share_id
  join reports r on r.practice_id = s.practice_id and r.id = s.report_id
  join jobs j on j.practice_id = r.practice_id and j.id = r.job_id
 where m.practice_id = @practice_id and j.vessel_id = @vessel_id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access x where x.practice_id = j.practice_id and x.job_id = j.id and x.member_id = @member::uuid))
 order by m.at, m.id;

-- name: PermitsOfVessel :many
select m.id, m.name as whom, m.email, m.purpose, m.given_at, m.withdrawn_at, s.name, coalesce(r.number, '')::text as number, r.job_id
  from client_permits m
  join shares s on s.practice_id = m.practice_id and s.id = m.share_id
  join reports r on r.practice_id = s.practice_id and r.id = s.report_id
  join jobs j on j.practice_id = r.practice_id and j.id = r.job_id
 where m.practice_id = @practice_id and j.vessel_id = @vessel_id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access x where x.practice_id = j.practice_id and x.job_id = j.id and x.member_id = @member::uuid))
 order by m.given_at, m.id;
