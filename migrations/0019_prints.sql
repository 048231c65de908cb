-- What a report prints of a job's photos, and what is held of an addendum once issued.

-- +goose Up
alter table photos
  add column view_sha256 bytea, -- of the copy that is shown and printed
  add column view_width integer,
  add column view_height integer,
  add column printed boolean not null default true, -- in the report of the job whose visit it belongs to
  add column alt text not null default ''; -- what it shows, for who cannot see it

alter table addenda
  add column version integer not null default 1,
  add column chain text not null default ''; -- head of the record of changes when it was issued

-- +goose StatementBegin
create function addenda_stay_as_issued() returns trigger language plpgsql set search_path = public, pg_temp as $$
begin
  if old.state = 'issued' then
    raise exception 'an issued addendum is never changed' using errcode = '23514', constraint = 'addenda_stay_as_issued';
  end if;
  return new;
end
$$;
create trigger addenda_stay_as_issued before update on addenda for each row execute function addenda_stay_as_issued();

-- report_by_hash finds the issued report whose PDF or page has this hash. Whoever knows
-- the hash holds the bytes; it answers nothing else.
create function door.report_by_hash(hash bytea)
returns table (practice_id uuid, report_id uuid) language sql stable security definer set search_path = public, pg_temp as $$
  select i.practice_id, i.report_id from report_issues i where i.pdf_sha256 = hash or i.page_sha256 = hash limit 1
$$;
-- +goose StatementEnd
create index report_issues_pdf on report_issues (pdf_sha256);
create index report_issues_page on report_issues (page_sha256);
revoke all on function door.report_by_hash(bytea) from public;
grant execute on function door.report_by_hash(bytea) to app;
