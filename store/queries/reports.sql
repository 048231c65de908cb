-- name: InsertReport :exec
insert into reports (practice_id, id, job_id, title, paper, created_at)
values (@practice_id, @id, @job_id, @title, @paper, @now);

-- name: UpdateReport :execrows
update reports
   set title = @title, in_short = @in_short, scope = @scope, limits = @limits, paper = @paper, second_look_by = sqlc.narg('second_look_by'),
       second_look_at = sqlc.narg('second_look_at'), edited_by = sqlc.narg('edited_by'), edited_at = sqlc.narg('edited_at'), state = @state, version = version + 1
 where practice_id = @practice_id and id = @id and version = @version and state in ('draft', 'in review');

-- name: GetReport :one
select r.id, r.job_id, r.title, r.state, coalesce(r.number, '')::text as number, r.in_short, r.scope, r.limits, r.paper, r.signed_by, r.second_look_by, r.second_look_at,
       r.replaced_by, coalesce(o.number, '')::text as replaced_by_number, r.ended_because, r.ended_at, coalesce(e.name, '')::text as ended_by_name,
       r.created_at, r.edited_by, r.edited_at, r.version, j.vessel_id, j.client_id,
       i.issued_at, i.page_key, i.page_sha256, i.page_bytes, i.pdf_key, i.pdf_sha256, i.pdf_bytes, i.pdf_pages
  from reports r
  join jobs j on j.practice_id = r.practice_id and j.id = r.job_id
  left join report_issues i on i.practice_id = r.practice_id and i.report_id = r.id
  left join reports o on o.practice_id = r.practice_id and o.id = r.replaced_by
  left join members e on e.practice_id = r.practice_id and e.id = r.ended_by
 where r.practice_id = @practice_id and r.id = @id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid));

-- name: LockReport :one
select state
  from reports
 where practice_id = @practice_id and id = @id
   for update;

-- name: JobOpenTo :one
select j.id, j.vessel_id, j.client_id, j.kind
  from jobs j
 where j.practice_id = @practice_id and j.id = @id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid));

-- name: ReportLines :many
select r.id, coalesce(r.number, '')::text as number, r.title, r.state, r.job_id, j.number as job_number, j.vessel_id, r.created_at, i.issued_at
  from reports r
  join jobs j on j.practice_id = r.practice_id and j.id = r.job_id
  left join report_issues i on i.practice_id = r.practice_id and i.report_id = r.id
 where r.practice_id = @practice_id
   and (sqlc.narg('vessel_id')::uuid is null or j.vessel_id = sqlc.narg('vessel_id'))
   and (r.created_at, r.id) < (@after_at::timestamptz, @after_id::uuid)
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
 order by r.created_at desc, r.id desc
 limit @most;

-- name: VesselLinesOfReports :many
-- The boats of a page of reports.
select v.id, v.name, v.kind, v.loa_mm, v.moulded_year, v.hull_number, v.figure, v.yard, v.lifted_at, v.time_zone, v.last_pass_at, ''::text as found_as
  from vessel_lines v
 where v.practice_id = @practice_id
   and v.id in (
     select j.vessel_id from reports r
       join jobs j on j.practice_id = r.practice_id and j.id = r.job_id
      where r.practice_id = @practice_id and (r.created_at, r.id) < (@after_at::timestamptz, @after_id::uuid)
        and ((not j.restricted and not @guest::boolean) or @self::boolean
             or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
      order by r.created_at desc, r.id desc
      limit @most)
 order by v.id;

-- name: NextReportNumber :one
insert into report_counters (practice_id, year, last)
values (@practice_id, @year, 1)
on conflict (practice_id, year) do update set last = report_counters.last + 1
returning last;

-- name: FreezeReport :execrows
update reports
   set state = 'issuing', number = @number::text, signed_by = sqlc.narg('signed_by'), version = version + 1
 where practice_id = @practice_id and id = @id and version = @version and state in ('draft', 'in review');

-- name: InsertSnapshot :exec
insert into report_snapshots (practice_id, report_id, content, sha256, audit_seq, audit_chain, at)
values (@practice_id, @report_id, @content, @sha256, @audit_seq, @audit_chain, @now);

-- name: GetSnapshot :one
select content, sha256, audit_seq, audit_chain
  from report_snapshots
 where practice_id = @practice_id and report_id = @report_id;

-- name: InsertReportPasses :exec
insert into report_passes (practice_id, report_id, pass_id, compared)
select @practice_id, @report_id, p.id, p.compared
  from (select unnest(@own::uuid[]) as id, false as compared
        union all
        select unnest(@compared::uuid[]) as id, true as compared) p;

-- name: InsertReportIssue :execrows
insert into report_issues (practice_id, report_id, page_key, page_sha256, page_bytes, pdf_key, pdf_sha256, pdf_bytes, pdf_pages, issued_at)
values (@practice_id, @report_id, @page_key, @page_sha256, @page_bytes, @pdf_key, @pdf_sha256, @pdf_bytes, @pdf_pages, @issued_at)
on conflict (practice_id, report_id) do nothing;

-- name: SetReportState :execrows
update reports
   set state = @state, version = version + 1
 where practice_id = @practice_id and id = @id and state = any(@before::text[]);

-- name: WithdrawReport :execrows
update reports
   set state = 'withdrawn', ended_because = @because, ended_at = @now::timestamptz, ended_by = sqlc.narg('by_id'), version = version + 1
 where practice_id = @practice_id and id = @id and version = @version and state in ('issued', 'amended');

-- name: AddendaOfReport :many
select a.id, a.number, a.required_because, a.text, a.state, a.issued_at, a.version, i.pdf_key, i.pdf_sha256, i.pdf_bytes, i.pdf_pages, i.page_key, i.page_sha256
  from addenda a
  left join addendum_issues i on i.practice_id = a.practice_id and i.addendum_id = a.id
 where a.practice_id = @practice_id and a.report_id = @report_id
 order by a.number;

-- name: SharesOfReport :many
select s.id, s.name, s.email, s.purpose, s.asks_code, s.created_at, s.until, s.revoked_at,
       (select count(*) from share_openings o where o.practice_id = s.practice_id and o.share_id = s.id)::integer as openings,
       coalesce((select o.at from share_openings o where o.practice_id = s.practice_id and o.share_id = s.id order by o.at desc limit 1), 'epoch')::timestamptz as last_opened_at
  from shares s
 where s.practice_id = @practice_id and s.report_id = @report_id
 order by s.created_at, s.id;

-- name: InsertShare :exec
insert into shares (practice_id, id, report_id, party_id, name, email, purpose, token_sha256, asks_code, created_at, created_by, until)
values (@practice_id, @id, @report_id, sqlc.narg('party_id'), @name, @email, @purpose, @token_sha256, @asks_code, @now, sqlc.narg('created_by'), @until);

-- name: RevokeShare :one
update shares s
   set revoked_at = coalesce(s.revoked_at, @now::timestamptz)
  from reports r, jobs j
 where s.practice_id = @practice_id and s.id = @id
   and r.practice_id = s.practice_id and r.id = s.report_id
   and j.practice_id = r.practice_id and j.id = r.job_id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
returning s.report_id;

-- name: GetShare :one
select s.id, s.report_id, s.name, s.purpose, s.asks_code, s.until, r.state, coalesce(r.number, '')::text as number, r.title, n.content, p.name as practice_name, p.invented,
       coalesce((select o.number from reports o where o.practice_id = r.practice_id and o.id = r.replaced_by), '')::text as replaced_by, r.ended_because, r.ended_at,
       i.issued_at, i.page_key, i.page_bytes, i.page_sha256, i.pdf_key, i.pdf_sha256, i.pdf_bytes, i.pdf_pages,
       (select count(*) from share_openings o where o.practice_id = s.practice_id and o.share_id = s.id)::integer as openings,
       coalesce((select o.at from share_openings o where o.practice_id = s.practice_id and o.share_id = s.id order by o.at desc limit 1), 'epoch')::timestamptz as last_opened_at
  from shares s
  join reports r on r.practice_id = s.practice_id and r.id = s.report_id
  join report_snapshots n on n.practice_id = s.practice_id and n.report_id = s.report_id
  join report_issues i on i.practice_id = s.practice_id and i.report_id = s.report_id
  join practices p on p.practice_id = s.practice_id
 where s.practice_id = @practice_id and s.id = @id and s.revoked_at is null and s.until > @now::timestamptz and not job_held(r.practice_id, r.job_id);

-- name: HeldShare :one
-- A link that stays shut until its job is paid for, and whether its holder is the one who
-- was asked to pay.
select r.number::text as number, v.name as vessel_name, p.name as practice_name, (coalesce(s.party_id = j.client_id, false) or coalesce(lower(s.name) = lower(c.name), false))::boolean as to_client
  from shares s
  join reports r on r.practice_id = s.practice_id and r.id = s.report_id
  join jobs j on j.practice_id = r.practice_id and j.id = r.job_id
  join vessels v on v.practice_id = j.practice_id and v.id = j.vessel_id
  join practices p on p.practice_id = s.practice_id
  left join parties c on c.practice_id = j.practice_id and c.id = j.client_id and c.erased_at is null
 where s.practice_id = @practice_id and s.id = @id and s.revoked_at is null and s.until > @now::timestamptz and job_held(r.practice_id, r.job_id);

-- name: SharedAddenda :many
select a.number, a.text, a.issued_at, i.pdf_key, i.pdf_sha256, i.pdf_bytes, i.page_key, i.page_sha256
  from addenda a
  join shares s on s.practice_id = a.practice_id and s.report_id = a.report_id
  left join addendum_issues i on i.practice_id = a.practice_id and i.addendum_id = a.id
 where a.practice_id = @practice_id and s.id = @share_id and a.state = 'issued'
 order by a.number;

-- name: OtherSharedReports :many
-- Other issued reports of the same boat that the same person was sent and may still open.
select distinct o.number::text as number
  from shares s
  join reports r on r.practice_id = s.practice_id and r.id = s.report_id
  join jobs j on j.practice_id = r.practice_id and j.id = r.job_id
  join shares t on t.practice_id = s.practice_id and t.id <> s.id and lower(t.email) = lower(s.email) and t.revoked_at is null and t.until > @now::timestamptz
  join reports o on o.practice_id = t.practice_id and o.id = t.report_id and o.number is not null and o.id <> r.id
  join jobs k on k.practice_id = o.practice_id and k.id = o.job_id and k.vessel_id = j.vessel_id
 where s.practice_id = @practice_id and s.id = @share_id and s.email <> ''
 order by 1;

-- name: InsertOpening :exec
insert into share_openings (practice_id, id, share_id, what, at)
values (@practice_id, @id, @share_id, @what, @now);

-- name: ReportFacts :one
-- What a report says of job, client, boat and practice, and of the last visit that was made, or else is planned.
select j.id as job_id, j.number as job_number, j.kind, j.scope, j.client_id, j.vessel_id, coalesce(c.name, '')::text as client_name,
       coalesce((select x.role from party_roles x
                  where x.practice_id = j.practice_id and x.party_id = j.client_id and x.vessel_id = j.vessel_id and x.role <> 'client' and (x.job_id is null or x.job_id = j.id)
                  order by x.job_id nulls last, x.to_on desc nulls first, x.from_on desc nulls last, x.id desc limit 1), '')::text as client_as,
       exists (select from visits w where w.practice_id = j.practice_id and w.job_id = j.id and w.kind = 'wet look' and w.state = 'done') as wet_look,
       v.name, v.kind as boat_kind, v.loa_mm, v.moulded_year, v.hull_number_as_read, v.hull_number_where, v.registry, v.official_number, v.water, v.months_afloat,
       p.name as practice_name, p.address, p.email, p.phone, p.time_zone, p.units, p.contrast_edges, p.review_required, p.self_check_hours, p.invented,
       (select count(*) from members s where s.practice_id = j.practice_id and s.left_at is null and s.roles && '{principal,surveyor}')::integer as signers,
       coalesce(w.from_at, 'epoch')::timestamptz as visited_at, coalesce(w.time_zone, p.time_zone)::text as visit_zone,
       coalesce((select y.name from spells h join parties y on y.practice_id = h.practice_id and y.id = h.yard_id where h.practice_id = w.practice_id and h.id = w.spell_id), '')::text as yard,
       coalesce(m.name, '')::text as lead_name, coalesce(m.qualification, '')::text as qualification,
       coalesce((select array_agg(n.name order by n.id) from vessel_names n where n.practice_id = v.practice_id and n.vessel_id = v.id and n.kind = 'former name'), '{}')::text[] as former
  from jobs j
  join vessels v on v.practice_id = j.practice_id and v.id = j.vessel_id
  join practices p on p.practice_id = j.practice_id
  left join parties c on c.practice_id = j.practice_id and c.id = j.client_id
  left join members m on m.practice_id = j.practice_id and m.id = j.lead_id
  left join visits w on w.practice_id = j.practice_id and w.id = (
       select x.id from visits x
        where x.practice_id = j.practice_id and x.job_id = j.id and x.state <> 'cancelled'
        order by x.state = 'done' desc, x.from_at desc, x.id desc
        limit 1)
 where j.practice_id = @practice_id and j.id = @job_id;

-- name: MemberName :one
select name, qualification
  from members
 where practice_id = @practice_id and id = @id;

-- name: WindowsOfJob :many
select w.id, w.side, w.along_mm, w.down_mm, w.width_mm, w.height_mm, w.bared_to, w.blisters_seen
  from windows w
  join visits v on v.practice_id = w.practice_id and v.id = w.visit_id
 where w.practice_id = @practice_id and v.job_id = @job_id
 order by w.id;

-- name: FindingsOfJob :many
select f.id, f.form, f.kind, f.sure, f.text, f.measured, f.side, f.outline, f.inside_of as other_face,
       coalesce((select array_agg(l.ordinal order by l.ordinal) from finding_places x join places l on l.practice_id = x.practice_id and l.id = x.place_id where x.practice_id = f.practice_id and x.finding_id = f.id), '{}')::integer[] as places, f.visit_id
  from findings f
  join visits v on v.practice_id = f.practice_id and v.id = f.visit_id
 where f.practice_id = @practice_id and v.job_id = @job_id
 order by f.created_at, f.id;

-- name: GapsOfJob :many
select n.pass_id, l.ordinal, n.reason
  from not_reached n
  join passes p on p.practice_id = n.practice_id and p.id = n.pass_id
  join visits v on v.practice_id = p.practice_id and v.id = p.visit_id
  join places l on l.practice_id = n.practice_id and l.id = n.place_id
 where n.practice_id = @practice_id and v.job_id = @job_id and n.withdrawn_at is null
 order by l.ordinal;

-- name: EntriesOfJob :many
select r.pass_id, l.ordinal, r.placements, r.surface, r.void_reason, r.low, r.high
  from readings r
  join passes p on p.practice_id = r.practice_id and p.id = r.pass_id
  join visits v on v.practice_id = p.practice_id and v.id = p.visit_id
  join places l on l.practice_id = r.practice_id and l.id = r.place_id
 where r.practice_id = @practice_id and v.job_id = @job_id and r.occasion = 1 and r.current
 order by l.ordinal;

-- name: PlansOfJob :many
select p.id as pass_id, coalesce((select array_agg(l.ordinal order by x.position) from plan_places x join places l on l.practice_id = x.practice_id and l.id = x.place_id where x.practice_id = p.practice_id and x.plan_id = p.plan_id), '{}')::integer[] as places
  from passes p
  join visits v on v.practice_id = p.practice_id and v.id = p.visit_id
 where p.practice_id = @practice_id and v.job_id = @job_id
 order by p.began_at, p.id;

-- name: LockAddendum :one
select a.id, a.report_id, a.number, a.text, a.state, a.version
  from addenda a
  join reports r on r.practice_id = a.practice_id and r.id = a.report_id
  join jobs j on j.practice_id = r.practice_id and j.id = r.job_id
 where a.practice_id = @practice_id and a.id = @id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access x where x.practice_id = j.practice_id and x.job_id = j.id and x.member_id = @member::uuid))
   for update of a;

-- name: InsertAddendum :exec
-- Numbered after the report's last; the caller holds the report.
insert into addenda (practice_id, id, report_id, number, text, state)
select @practice_id, @id, @report_id, coalesce(max(a.number), 0) + 1, @text, 'draft'
  from addenda a
 where a.practice_id = @practice_id and a.report_id = @report_id;

-- name: UpdateAddendum :execrows
update addenda
   set text = @text, state = 'draft', version = version + 1
 where practice_id = @practice_id and id = @id and version = @version and state <> 'issued';

-- name: IssueAddendum :execrows
update addenda
   set state = 'issued', issued_at = @now, issued_by = sqlc.narg('issued_by'), chain = @chain, version = version + 1
 where practice_id = @practice_id and id = @id and version = @version and state = 'draft';

-- name: ReplaceReport :execrows
update reports
   set state = 'replaced', replaced_by = @replaced_by::uuid, ended_because = @because, ended_at = @now::timestamptz, ended_by = sqlc.narg('by_id'), version = version + 1
 where practice_id = @practice_id and id = @id and version = @version and state in ('issued', 'amended');

-- name: OpenShares :many
-- Links to a report that still open it.
select s.name, s.email
  from shares s
  join reports r on r.practice_id = s.practice_id and r.id = s.report_id
 where s.practice_id = @practice_id and s.report_id = @report_id and s.revoked_at is null and s.until > @now::timestamptz and not job_held(r.practice_id, r.job_id)
 order by s.id;

-- name: IssuedByHash :one
-- What whoever holds an issued report's bytes may be told of it.
select r.state, coalesce(r.number, '')::text as number, r.title, i.issued_at, (i.page_sha256 <> @hash::bytea and not exists (select from addendum_issues x where x.practice_id = r.practice_id and x.page_sha256 = @hash))::boolean as pdf, p.name as practice_name, p.invented,
       coalesce((select a.number from addendum_issues x join addenda a on a.practice_id = x.practice_id and a.id = x.addendum_id where x.practice_id = r.practice_id and (x.pdf_sha256 = @hash or x.page_sha256 = @hash)), 0)::integer as addendum,
       coalesce((select o.number from reports o where o.practice_id = r.practice_id and o.id = r.replaced_by), '')::text as replaced_by, r.ended_because, r.ended_at,
       coalesce((select array_agg(a.issued_at order by a.number) from addenda a where a.practice_id = r.practice_id and a.report_id = r.id and a.state = 'issued'), '{}')::timestamptz[] as addenda
  from reports r
  join report_issues i on i.practice_id = r.practice_id and i.report_id = r.id
  join practices p on p.practice_id = r.practice_id
 where r.practice_id = @practice_id and r.id = @report_id;

-- name: KinOfReport :many
-- Issued reports of the same boat for the same client, the latest first.
select o.id, o.number::text as number, o.title, o.state, i.issued_at, o.replaced_by, o.ended_at
  from reports r
  join jobs j on j.practice_id = r.practice_id and j.id = r.job_id
  join jobs k on k.practice_id = j.practice_id and k.vessel_id = j.vessel_id and k.client_id is not distinct from j.client_id
  join reports o on o.practice_id = k.practice_id and o.job_id = k.id and o.id <> r.id and o.number is not null
  left join report_issues i on i.practice_id = o.practice_id and i.report_id = o.id
 where r.practice_id = @practice_id and r.id = @report_id
   and ((not k.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = k.practice_id and a.job_id = k.id and a.member_id = @member::uuid))
 order by o.number desc, o.id;

-- name: ReportStory :one
-- What the row of a report and its issue tell of its course.
select r.id, coalesce(r.number, '')::text as number, r.title, r.state, j.id as job_id, j.number as job_number, v.id as vessel_id, v.name as vessel_name, coalesce(c.name, '')::text as client_name,
       r.created_at, r.edited_at, coalesce(w.name, '')::text as edited_by, r.second_look_at, coalesce(l.name, '')::text as second_look_by, coalesce(s.name, '')::text as signed_by,
       i.issued_at, i.page_sha256, i.pdf_sha256, i.pdf_pages, r.replaced_by, coalesce(o.number, '')::text as replaced_by_number, r.ended_because, r.ended_at, coalesce(e.name, '')::text as ended_by
  from reports r
  join jobs j on j.practice_id = r.practice_id and j.id = r.job_id
  join vessels v on v.practice_id = j.practice_id and v.id = j.vessel_id
  left join parties c on c.practice_id = j.practice_id and c.id = j.client_id
  left join report_issues i on i.practice_id = r.practice_id and i.report_id = r.id
  left join members w on w.practice_id = r.practice_id and w.id = r.edited_by
  left join members l on l.practice_id = r.practice_id and l.id = r.second_look_by
  left join members s on s.practice_id = r.practice_id and s.id = r.signed_by
  left join members e on e.practice_id = r.practice_id and e.id = r.ended_by
  left join reports o on o.practice_id = r.practice_id and o.id = r.replaced_by
 where r.practice_id = @practice_id and r.id = @report_id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid));

-- name: DraftsOfReport :many
select d.number, d.content, coalesce(m.name, '')::text as by_name, d.at
  from report_drafts d
  left join members m on m.practice_id = d.practice_id and m.id = d.by_id
 where d.practice_id = @practice_id and d.report_id = @report_id
 order by d.number;

-- name: LinksOfReport :many
-- Every link that was given, who gave it, and whether it was taken back.
select s.id, s.name, s.purpose, s.created_at, coalesce(m.name, '')::text as created_by, s.until, s.revoked_at
  from shares s
  left join members m on m.practice_id = s.practice_id and m.id = s.created_by
 where s.practice_id = @practice_id and s.report_id = @report_id
 order by s.created_at, s.id;

-- name: OpeningsOfReport :many
-- The latest openings by any of its links.
select s.name, o.what, o.at
  from share_openings o
  join shares s on s.practice_id = o.practice_id and s.id = o.share_id
 where s.practice_id = @practice_id and s.report_id = @report_id
 order by o.at desc, o.id
 limit @most;

-- name: AddendaTold :many
select a.number, a.required_because, a.text, a.state, a.issued_at, coalesce(m.name, '')::text as issued_by, i.pdf_sha256, i.page_sha256
  from addenda a
  left join addendum_issues i on i.practice_id = a.practice_id and i.addendum_id = a.id
  left join members m on m.practice_id = a.practice_id and m.id = a.issued_by
 where a.practice_id = @practice_id and a.report_id = @report_id
 order by a.number;
