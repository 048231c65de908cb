-- name: Wordings :many
select id, kinds, title, body, position, retired, version
  from wordings
 where practice_id = @practice_id
 order by position, id;

-- name: WordingVersions :many
select v.wording_id, v.version, v.title, v.body, coalesce(m.name, '')::text as by_name, v.at
  from wording_versions v
  left join members m on m.practice_id = v.practice_id and m.id = v.by_id
 where v.practice_id = @practice_id
 order by v.wording_id, v.version desc;

-- name: InsertWording :exec
insert into wordings (practice_id, id, kinds, title, body, position, retired)
values (@practice_id, @id, @kinds, @title, @body, @position, @retired);

-- name: UpdateWording :execrows
update wordings
   set kinds = @kinds, title = @title, body = @body, position = @position, retired = @retired, version = version + 1
 where practice_id = @practice_id and id = @id and version = @version;

-- name: InsertWordingVersion :exec
insert into wording_versions (practice_id, wording_id, version, title, body, by_id, at)
values (@practice_id, @wording_id, @version, @title, @body, sqlc.narg('by_id'), @now);

-- name: ProposeSections :exec
-- The practice's wording as it stands, as sections of a new draft.
insert into report_sections (practice_id, id, report_id, position, title, body, wording_id, wording_version)
select @practice_id, o.id, @report_id, o.position, w.title, w.body, w.id, w.version
  from (select unnest(@ids::uuid[]) as id, unnest(@wordings::uuid[]) as wording, generate_subscripts(@ids::uuid[], 1) as position) o
  join wordings w on w.practice_id = @practice_id and w.id = o.wording;

-- name: SectionsOfReport :many
select id, position, title, body, left_out, wording_id, wording_version, version
  from report_sections
 where practice_id = @practice_id and report_id = @report_id
 order by position, id;

-- name: ReportOfSection :one
select report_id
  from report_sections
 where practice_id = @practice_id and id = @id;

-- name: InsertSection :exec
insert into report_sections (practice_id, id, report_id, position, title, body, wording_id, wording_version)
select @practice_id, @id, @report_id, coalesce(max(s.position), 0) + 1, @title, @body, sqlc.narg('wording_id'), sqlc.narg('wording_version')
  from report_sections s
 where s.practice_id = @practice_id and s.report_id = @report_id;

-- name: UpdateSection :execrows
update report_sections
   set title = @title, body = @body, left_out = @left_out, version = version + 1
 where practice_id = @practice_id and id = @id and version = @version;

-- name: OrderSections :execrows
update report_sections s
   set position = o.position
  from unnest(@ids::uuid[]) with ordinality as o(id, position)
 where s.practice_id = @practice_id and s.report_id = @report_id and s.id = o.id;

-- name: TouchReport :execrows
-- A change to a draft's parts: it has been written in, and asks for another second look.
update reports
   set edited_by = sqlc.narg('edited_by'), edited_at = @now::timestamptz, second_look_by = null, second_look_at = null, version = version + 1
 where practice_id = @practice_id and id = @id and state in ('draft', 'in review');

-- name: InsertDraft :exec
insert into report_drafts (practice_id, report_id, number, content, by_id, at)
select @practice_id, @report_id, coalesce(max(d.number), 0) + 1, @content, sqlc.narg('by_id'), @now
  from report_drafts d
 where d.practice_id = @practice_id and d.report_id = @report_id;

-- name: LastDraft :one
select d.number, d.content, coalesce(m.name, '')::text as by_name, d.at
  from report_drafts d
  left join members m on m.practice_id = d.practice_id and m.id = d.by_id
 where d.practice_id = @practice_id and d.report_id = @report_id
 order by d.number desc
 limit 1;

-- name: CommentsOfReport :many
select c.id, c.section, c.about, c.text, c.by_id, m.name as by_name, c.at, c.resolved_at, coalesce(x.name, '')::text as resolved_by
  from draft_comments c
  join members m on m.practice_id = c.practice_id and m.id = c.by_id
  left join members x on x.practice_id = c.practice_id and x.id = c.resolved_by
 where c.practice_id = @practice_id and c.report_id = @report_id
 order by c.at, c.id;

-- name: ReportOfComment :one
select report_id
  from draft_comments
 where practice_id = @practice_id and id = @id;

-- name: InsertComment :exec
insert into draft_comments (practice_id, id, report_id, section, about, text, by_id, at)
values (@practice_id, @id, @report_id, @section, @about, @text, @by_id, @now);

-- name: ResolveComment :execrows
update draft_comments
   set resolved_at = sqlc.narg('resolved_at'), resolved_by = sqlc.narg('resolved_by')
 where practice_id = @practice_id and id = @id;

-- name: InsertAddendumIssue :execrows
insert into addendum_issues (practice_id, addendum_id, page_key, page_sha256, page_bytes, pdf_key, pdf_sha256, pdf_bytes, pdf_pages, content, issued_at)
values (@practice_id, @addendum_id, @page_key::text, @page_sha256, @page_bytes::bigint, @pdf_key, @pdf_sha256, @pdf_bytes, @pdf_pages, @content, @issued_at)
on conflict (practice_id, addendum_id) do nothing;

-- name: AddendumToMake :one
-- An issued addendum with the report it adds to, for the job that makes its file.
select a.id, a.report_id, a.number, a.text, a.required_because, a.chain, a.issued_at, coalesce(m.name, '')::text as signer, coalesce(m.qualification, '')::text as signer_as,
       n.content, r.paper, p.time_zone,
       exists (select from addendum_issues i where i.practice_id = a.practice_id and i.addendum_id = a.id) as made
  from addenda a
  join reports r on r.practice_id = a.practice_id and r.id = a.report_id
  join report_snapshots n on n.practice_id = a.practice_id and n.report_id = a.report_id
  join practices p on p.practice_id = a.practice_id
  left join members m on m.practice_id = a.practice_id and m.id = a.issued_by
 where a.practice_id = @practice_id and a.id = @id and a.state = 'issued';

-- name: AddendumFile :one
-- Where the file of an addendum is, for whoever may see its report's job.
select a.number, coalesce(r.number, '')::text as report_number, i.page_key, i.page_sha256, i.pdf_key, i.pdf_sha256, i.issued_at
  from addendum_issues i
  join addenda a on a.practice_id = i.practice_id and a.id = i.addendum_id
  join reports r on r.practice_id = a.practice_id and r.id = a.report_id
  join jobs j on j.practice_id = r.practice_id and j.id = r.job_id
 where a.practice_id = @practice_id and a.report_id = @report_id and a.number = @number
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access x where x.practice_id = j.practice_id and x.job_id = j.id and x.member_id = @member::uuid));
