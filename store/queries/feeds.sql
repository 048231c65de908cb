-- name: FeedByToken :one
-- The practice is chosen by the same token in the same trip.
select f.id, f.member_id, f.purpose, f.boats, f.clients, f.token_sha256, m.roles, m.name as member_name, p.name as practice_name
  from calendar_feeds f
  join members m on m.practice_id = f.practice_id and m.id = f.member_id
  join practices p on p.practice_id = f.practice_id
 where f.token_sha256 = @token and f.revoked_at is null and m.left_at is null;

-- name: VisitsOfFeed :many
-- A month back and a year ahead, as the member of the feed may see them now; those called
-- off stay, so that calendars take them out.
select w.id, w.kind, w.from_at, w.to_at, w.state, w.sequence, coalesce(w.revised_at, w.from_at)::timestamptz as revised_at, j.number as job_number,
       v.name as vessel_name, coalesce(c.name, '') as client_name, coalesce(y.name, '') as yard_name
  from calendar_feeds f
  join members m on m.practice_id = f.practice_id and m.id = f.member_id
  join visits w on w.practice_id = f.practice_id and w.from_at between @since::timestamptz and @until::timestamptz
  join jobs j on j.practice_id = w.practice_id and j.id = w.job_id
  join vessels v on v.practice_id = j.practice_id and v.id = j.vessel_id
  left join parties c on c.practice_id = j.practice_id and c.id = j.client_id and c.erased_at is null
  left join spells s on s.practice_id = w.practice_id and s.id = w.spell_id
  left join parties y on y.practice_id = s.practice_id and y.id = s.yard_id
 where f.token_sha256 = @token and f.revoked_at is null and m.left_at is null
   and (f.purpose = 'my visits' and (w.lead_id = f.member_id
          or exists (select from visit_people o where o.practice_id = w.practice_id and o.visit_id = w.id and o.member_id = f.member_id))
        or f.purpose = 'all visits' and m.roles && array['principal', 'surveyor', 'trainee', 'office'])
   and (not j.restricted and m.roles && array['principal', 'surveyor', 'trainee', 'office']
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = f.member_id))
 order by w.from_at, w.id;

-- name: ReinspectionsOfFeed :many
select r.id, r.due_from, r.due_to, r.version, r.vessel_name, coalesce(r.moved_at, r.due_from::timestamptz)::timestamptz as revised_at
  from calendar_feeds f
  join members m on m.practice_id = f.practice_id and m.id = f.member_id
  join reinspection_lines r on r.practice_id = f.practice_id and r.state in ('due', 'booked', 'snoozed') and r.waits_for = ''
       and r.due_to > @since::timestamptz and r.due_from < @until::timestamptz
 where f.token_sha256 = @token and f.revoked_at is null and m.left_at is null and f.purpose = 'reinspections'
   and m.roles && array['principal', 'surveyor', 'trainee', 'office']
   and (not r.restricted or exists (select from job_access a where a.practice_id = r.practice_id and a.job_id = r.job_id and a.member_id = f.member_id))
 order by r.due_to, r.id;

-- name: NoteFeedFetched :exec
update calendar_feeds
   set last_fetched_at = @now::timestamptz
 where token_sha256 = @token and revoked_at is null;

-- name: FeedsOfMember :many
select id, purpose, boats, clients, created_at, last_fetched_at
  from calendar_feeds
 where practice_id = @practice_id and member_id = @member_id and revoked_at is null
 order by purpose;

-- name: RevokeFeedOf :exec
-- An address that is made anew ends the one before.
update calendar_feeds
   set revoked_at = @now::timestamptz
 where practice_id = @practice_id and member_id = @member_id and purpose = @purpose and revoked_at is null;

-- name: InsertFeed :exec
insert into calendar_feeds (practice_id, id, member_id, purpose, boats, clients, token_sha256, created_at)
values (@practice_id, @id, @member_id, @purpose, @boats, @clients, @token_sha256, @now);

-- name: RevokeFeed :execrows
update calendar_feeds
   set revoked_at = coalesce(revoked_at, @now::timestamptz)
 where practice_id = @practice_id and id = @id and member_id = @member_id;

-- name: VisitToInvite :one
select w.id, w.kind, w.from_at, w.to_at, w.time_zone, w.state, w.sequence, coalesce(w.revised_at, w.from_at)::timestamptz as revised_at, j.number as job_number,
       v.id as vessel_id, v.name as vessel_name, j.id as job_id, coalesce(y.name, '') as yard_name,
       p.name as practice_name, p.email as practice_email, p.invented
  from visits w
  join jobs j on j.practice_id = w.practice_id and j.id = w.job_id
  join vessels v on v.practice_id = j.practice_id and v.id = j.vessel_id
  join practices p on p.practice_id = w.practice_id
  left join spells s on s.practice_id = w.practice_id and s.id = w.spell_id
  left join parties y on y.practice_id = s.practice_id and y.id = s.yard_id
 where w.practice_id = @practice_id and w.id = @id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid));

-- name: InsertVisitInvitation :exec
insert into visit_invitations (practice_id, id, visit_id, name, email, method, sequence, sent_at, sent_by)
values (@practice_id, @id, @visit_id, @name, @email, @method, @sequence, @now, sqlc.narg('sent_by'));

-- name: InvitedToVisit :many
-- The last letter to each address.
select distinct on (lower(email)) name, email, method, sequence, sent_at
  from visit_invitations
 where practice_id = @practice_id and visit_id = @visit_id
 order by lower(email), sequence desc, sent_at desc, id desc;

-- name: InvitedBehind :many
select i.name, i.email, i.method, i.sequence, i.sent_at
  from (select distinct on (lower(x.email)) x.name, x.email, x.method, x.sequence, x.sent_at
          from visit_invitations x
         where x.practice_id = @practice_id and x.visit_id = @visit_id
         order by lower(x.email), x.sequence desc, x.sent_at desc, x.id desc) i
  join visits w on w.practice_id = @practice_id and w.id = @visit_id
 where i.method = 'REQUEST' and i.sequence < w.sequence
 order by lower(i.email);
