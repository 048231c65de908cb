-- name: EngagementsOf :many
-- Engagements with client, boat, who decided and the job that came of them; one, or a page.
select e.id, e.client_id, coalesce(c.name, '') as client_name, coalesce(c.kind, '') as client_kind, coalesce(c.is_yard, false) as client_is_yard,
       e.vessel_id, coalesce(v.name, '') as vessel_name, e.boat_as_written, e.asked_on, e.asked_by, e.contact, e.for_whom, e.asked_because, e.kind, e.scope, e.stage,
       e.currency, e.conflict_decision, e.conflict_note, e.conflict_checked_by, coalesce(m.name, '') as decider_name, coalesce(m.roles, '{}') as decider_roles,
       (m.id is not null and m.left_at is null)::boolean as decider_active, e.conflict_checked_at, e.conflict_found, e.terms_version, e.terms_accepted_at, e.terms_accepted_by,
       e.early_start_requested, coalesce(j.id, '00000000-0000-0000-0000-000000000000')::uuid as job_id, coalesce(j.number, '') as job_number, e.version, e.created_at,
       coalesce(o.name, '')::text as offered_to, o.created_at as offered_at, o.until as offered_until,
       coalesce((select array_agg(q.text order by q.id) from money_lines q where q.practice_id = e.practice_id and q.engagement_id = e.id and q.kind = 'quote'), '{}')::text[] as quote_texts,
       coalesce((select array_agg(q.amount_minor order by q.id) from money_lines q where q.practice_id = e.practice_id and q.engagement_id = e.id and q.kind = 'quote'), '{}')::bigint[] as quote_amounts,
       coalesce((select array_agg(q.tax_permille order by q.id) from money_lines q where q.practice_id = e.practice_id and q.engagement_id = e.id and q.kind = 'quote'), '{}')::integer[] as quote_taxes
  from engagements e
  left join parties c on c.practice_id = e.practice_id and c.id = e.client_id
  left join vessels v on v.practice_id = e.practice_id and v.id = e.vessel_id
  left join members m on m.practice_id = e.practice_id and m.id = e.conflict_checked_by
  left join lateral (select x.id, x.number from jobs x where x.practice_id = e.practice_id and x.engagement_id = e.id order by x.created_at limit 1) j on true
  left join terms_links o on o.practice_id = e.practice_id and o.id = (
       select l.id from terms_links l where l.practice_id = e.practice_id and l.engagement_id = e.id and l.revoked_at is null order by l.created_at desc limit 1)
 where e.practice_id = @practice_id and (e.id = sqlc.narg('id')::uuid
        or e.id = (select w.engagement_id from jobs w where w.practice_id = e.practice_id and w.id = sqlc.narg('of_job')::uuid)
        or sqlc.narg('id')::uuid is null and sqlc.narg('of_job')::uuid is null
        and (not @only_open::boolean or e.stage in ('enquiry', 'quoted') or e.stage = 'accepted' and j.id is null)
        and e.id < @before_id::uuid)
 order by e.id desc
 limit @most;

-- name: HoldEngagement :one
select id
  from engagements
 where practice_id = @practice_id and id = @id
   for update;

-- name: InsertEngagement :exec
insert into engagements (practice_id, id, client_id, vessel_id, boat_as_written, asked_on, asked_by, contact, for_whom, asked_because, kind, scope, stage, currency, created_at)
values (@practice_id, @id, sqlc.narg('client_id'), sqlc.narg('vessel_id'), @boat_as_written, @asked_on, @asked_by, @contact, @for_whom, @asked_because, @kind, @scope, @stage, @currency, @now);

-- name: UpdateEngagement :execrows
update engagements
   set client_id = sqlc.narg('client_id'), vessel_id = sqlc.narg('vessel_id'), boat_as_written = @boat_as_written, asked_by = @asked_by, contact = @contact,
       for_whom = @for_whom, asked_because = @asked_because, kind = @kind, scope = @scope, stage = @stage, currency = @currency,
       conflict_decision = @conflict_decision, version = version + 1
 where practice_id = @practice_id and id = @id and version = @version;

-- name: DecideConflict :execrows
update engagements
   set conflict_decision = @conflict_decision, conflict_note = @conflict_note, conflict_found = @found, conflict_checked_by = sqlc.narg('by_id'), conflict_checked_at = @now,
       stage = @stage, version = version + 1
 where practice_id = @practice_id and id = @id and version = @version;

-- name: ForgetQuote :exec
delete from money_lines
 where practice_id = @practice_id and engagement_id = @engagement_id and kind = 'quote';

-- name: InsertQuoteLine :exec
insert into money_lines (practice_id, id, engagement_id, kind, text, amount_minor, tax_permille, currency)
values (@practice_id, @id, @engagement_id, 'quote', @text, @amount_minor, @tax_permille, @currency);

-- name: TiesOf :many
-- Earlier and present ties of an engagement's boat and client.
with e as (select g.id, g.vessel_id, g.client_id from engagements g where g.practice_id = @practice_id and g.id = @engagement_id)
select 'job'::text as what, coalesce(p.name, '')::text as party, ''::text as role, j.number, j.kind, j.created_at as on_at,
       ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))::boolean as open
  from e
  join jobs j on j.practice_id = @practice_id and j.vessel_id = e.vessel_id and j.client_id is distinct from e.client_id
  left join parties p on p.practice_id = j.practice_id and p.id = j.client_id
 where j.stage <> 'cancelled'
union all
select 'party', p.name, r.role, j.number, j.kind, j.created_at, true
  from e
  join party_roles r on r.practice_id = @practice_id and r.vessel_id = e.vessel_id and r.party_id is distinct from e.client_id and (r.to_on is null or r.to_on >= @today::date)
  join parties p on p.practice_id = r.practice_id and p.id = r.party_id
  join lateral (select x.number, x.kind, x.created_at from jobs x
                 where x.practice_id = r.practice_id and x.client_id = r.party_id and x.vessel_id <> e.vessel_id and not x.restricted and x.stage <> 'cancelled'
                 order by x.created_at desc limit 1) j on true
union all
select 'enquiry', coalesce(p.name, o.asked_by), '', '', o.kind, o.created_at, true
  from e
  join engagements o on o.practice_id = @practice_id and o.vessel_id = e.vessel_id and o.id <> e.id and o.stage in ('enquiry', 'quoted', 'accepted')
   and (o.client_id is null or o.client_id is distinct from e.client_id)
  left join parties p on p.practice_id = o.practice_id and p.id = o.client_id
union all
select 'own', p.name, r.role, '', '', coalesce(r.from_on, @today::date)::timestamptz, true
  from e
  join party_roles r on r.practice_id = @practice_id and r.vessel_id = e.vessel_id and r.party_id = e.client_id and (r.to_on is null or r.to_on >= @today::date)
  join parties p on p.practice_id = r.practice_id and p.id = r.party_id
 order by 1, 6 desc, 2, 4
 limit 100;

-- name: PartyThere :one
select id
  from parties
 where practice_id = @practice_id and id = @id and merged_into is null and erased_at is null;

-- name: LinkJob :exec
update jobs set engagement_id = @engagement_id
 where practice_id = @practice_id and id = @id;

-- name: ListTerms :many
select id, name, body, made_at
  from terms
 where practice_id = @practice_id
 order by made_at desc, id desc;

-- name: GetTerms :one
select id, name, body, made_at
  from terms
 where practice_id = @practice_id and id = @id;

-- name: InsertTerms :exec
insert into terms (practice_id, id, name, body, made_at)
values (@practice_id, @id, @name, @body, @made_at);

-- name: InsertTermsLink :exec
insert into terms_links (practice_id, id, engagement_id, terms_id, name, email, offered, token_sha256, code_sha256, created_at, created_by, until)
values (@practice_id, @id, @engagement_id, @terms_id, @name, @email, @offered, @token_sha256, @code_sha256, @now, sqlc.narg('by_id'), @until);

-- name: RevokeTermsLinks :exec
update terms_links set revoked_at = @now
 where practice_id = @practice_id and engagement_id = @engagement_id and accepted_at is null and revoked_at is null;

-- name: GetTermsLink :one
select id, engagement_id, terms_id, name, email, offered, code_sha256, until, revoked_at, accepted_at, accepted_by, early_start
  from terms_links
 where practice_id = @practice_id and id = @id;

-- name: TermsLinkToAccept :one
select id, revoked_at, accepted_at, created_by
  from terms_links
 where practice_id = @practice_id and id = @id
   for update;

-- name: TryCode :one
-- Every typing of a code counts before it is looked at.
update terms_links set tries = tries + 1
 where practice_id = @practice_id and id = @id and tries < @most
returning tries;

-- name: AcceptTermsLink :exec
update terms_links set accepted_at = @now, accepted_by = @name, early_start = @early_start
 where practice_id = @practice_id and id = @id;

-- name: AcceptedTerms :exec
update engagements
   set terms_id = @terms_id, terms_version = @terms_name, terms_accepted_at = @now, terms_accepted_by = @name, early_start_requested = @early_start, stage = 'accepted',
       version = version + 1
 where practice_id = @practice_id and id = @id;
