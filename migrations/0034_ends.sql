-- What ended a report, told wherever it is opened; the page of an addendum beside its PDF.

-- +goose Up
-- +goose StatementBegin

-- Why a report was replaced or withdrawn, when and by whom: told wherever it is opened.
alter table reports
  add column ended_because text not null default '' constraint reports_ended_because_length check (length(ended_because) <= 2000),
  add column ended_at timestamptz,
  add column ended_by uuid,
  add foreign key (practice_id, ended_by) references members (practice_id, id);

create function reports_end_once() returns trigger language plpgsql set search_path = public, pg_temp as $$
begin
  if old.ended_at is not null and (new.ended_because, new.ended_at, new.ended_by, new.state, new.replaced_by) is distinct from (old.ended_because, old.ended_at, old.ended_by, old.state, old.replaced_by) then
    raise exception 'what ended a report stays as it was told' using errcode = '23514', constraint = 'reports_end_once';
  end if;
  return new;
end
$$;
create trigger reports_end_once before update on reports for each row execute function reports_end_once();
create index reports_replaced_by on reports (practice_id, replaced_by) where replaced_by is not null;

-- An addendum is a page, too: the first form, as of the report. Null where it was made before.
alter table addendum_issues
  add column page_key text, add column page_sha256 bytea, add column page_bytes bigint,
  add constraint addendum_issues_page_whole check ((page_key is null) = (page_sha256 is null) and (page_key is null) = (page_bytes is null));
create index addendum_issues_page on addendum_issues (page_sha256) where page_sha256 is not null;

-- report_by_hash finds an addendum's report by either of its files.
create or replace function door.report_by_hash(hash bytea)
returns table (practice_id uuid, report_id uuid) language sql stable security definer set search_path = public, pg_temp as $$
  (select i.practice_id, i.report_id from report_issues i where i.pdf_sha256 = hash or i.page_sha256 = hash
   union all
   select a.practice_id, a.report_id from addendum_issues i join addenda a on a.practice_id = i.practice_id and a.id = i.addendum_id where i.pdf_sha256 = hash or i.page_sha256 = hash)
  limit 1
$$;
-- +goose StatementEnd
