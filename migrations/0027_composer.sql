-- Composing a report: the practice's own wording, the sections of a draft, who wrote last,
-- what was sent for review and what was said to it. Addenda as files of their own.

-- +goose Up

-- The practice's own wording of a section, proposed for some kinds of survey, or for all.
create table wordings (
  practice_id uuid not null references practices (practice_id),
  id uuid not null,
  kinds text[] not null default '{}', -- none: every kind
  title text not null,
  body text not null,
  position integer not null,
  retired boolean not null default false,
  version integer not null default 1,
  primary key (practice_id, id)
);
call keep_apart('wordings', 'select, insert, update');

-- Every version there was.
create table wording_versions (
  practice_id uuid not null,
  wording_id uuid not null,
  version integer not null,
  title text not null,
  body text not null,
  by_id uuid,
  at timestamptz not null,
  primary key (practice_id, wording_id, version),
  foreign key (practice_id, wording_id) references wordings (practice_id, id),
  foreign key (practice_id, by_id) references members (practice_id, id)
);
call keep_apart('wording_versions', 'select, insert');

-- A section of a draft: the surveyor's own text, with placeholders until it is issued.
create table report_sections (
  practice_id uuid not null,
  id uuid not null,
  report_id uuid not null,
  position integer not null,
  title text not null,
  body text not null,
  left_out boolean not null default false, -- kept with its words, and not printed
  wording_id uuid, -- where it came from
  wording_version integer,
  version integer not null default 1,
  primary key (practice_id, id),
  foreign key (practice_id, report_id) references reports (practice_id, id),
  foreign key (practice_id, wording_id) references wordings (practice_id, id)
);
create index report_sections_report on report_sections (practice_id, report_id);
call keep_apart('report_sections', 'select, insert, update');

-- What stood in a draft when it was sent for review: the report as data.
create table report_drafts (
  practice_id uuid not null,
  report_id uuid not null,
  number integer not null, -- counted within its report
  content bytea not null,
  by_id uuid,
  at timestamptz not null,
  primary key (practice_id, report_id, number),
  foreign key (practice_id, report_id) references reports (practice_id, id),
  foreign key (practice_id, by_id) references members (practice_id, id)
);
call keep_apart('report_drafts', 'select, insert');

alter table reports
  add column edited_by uuid,
  add column edited_at timestamptz,
  add foreign key (practice_id, edited_by) references members (practice_id, id);

alter table draft_comments
  add column about text not null default '', -- the statement it speaks of, as it stood
  add column resolved_by uuid,
  add foreign key (practice_id, resolved_by) references members (practice_id, id);
create index draft_comments_report on draft_comments (practice_id, report_id);

-- How long a draft lies before the only one who signs looks it through again.
alter table practices
  add column self_check_hours integer not null default 12 constraint practices_self_check_hours check (self_check_hours between 0 and 336);

-- The file of an addendum. Written once, by the job that made it.
create table addendum_issues (
  practice_id uuid not null,
  addendum_id uuid not null,
  pdf_key text not null, pdf_sha256 bytea not null, pdf_bytes bigint not null, pdf_pages integer not null,
  content bytea not null, -- the addendum as data, as it was made from
  issued_at timestamptz not null,
  primary key (practice_id, addendum_id),
  foreign key (practice_id, addendum_id) references addenda (practice_id, id)
);
create index addendum_issues_pdf on addendum_issues (pdf_sha256);
call keep_apart('addendum_issues', 'select, insert');

-- +goose StatementBegin
-- The sections of an issued report, and what was said to its draft, stay as they were.
create function drafts_stay_as_issued() returns trigger language plpgsql set search_path = public, pg_temp as $$
begin
  if new.practice_id = old.practice_id and exists (select from reports r where r.practice_id = old.practice_id and r.id = old.report_id and r.state not in ('draft', 'in review')) then
    raise exception 'an issued report is never changed' using errcode = '23514', constraint = 'reports_stay_as_issued';
  end if;
  return new;
end
$$;
create trigger drafts_stay_as_issued before update on report_sections for each row execute function drafts_stay_as_issued();
create trigger drafts_stay_as_issued before update on draft_comments for each row execute function drafts_stay_as_issued();

-- report_by_hash finds an addendum's report by the addendum's file, too.
create or replace function door.report_by_hash(hash bytea)
returns table (practice_id uuid, report_id uuid) language sql stable security definer set search_path = public, pg_temp as $$
  (select i.practice_id, i.report_id from report_issues i where i.pdf_sha256 = hash or i.page_sha256 = hash
   union all
   select a.practice_id, a.report_id from addendum_issues i join addenda a on a.practice_id = i.practice_id and a.id = i.addendum_id where i.pdf_sha256 = hash)
  limit 1
$$;
-- +goose StatementEnd
