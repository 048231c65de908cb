-- Reports: draft, frozen snapshot, issue, addenda; shares and what was opened. Money.

-- +goose Up
create table reports (
  practice_id uuid not null,
  id uuid not null,
  job_id uuid not null,
  title text not null default '',
  state text not null default 'draft' constraint reports_state_known check (state in ('draft', 'in review', 'issuing', 'issued', 'amended', 'replaced', 'withdrawn')),
  number text,
  in_short text not null default '', -- the surveyor's own words
  scope text not null default '',
  limits text not null default '',
  body jsonb not null default '{}',
  paper text not null default 'A4' constraint reports_paper_known check (paper in ('A4', 'Letter')),
  signed_by uuid,
  second_look_by uuid,
  second_look_at timestamptz,
  replaced_by uuid,
  created_at timestamptz not null,
  version integer not null default 1,
  primary key (practice_id, id),
  foreign key (practice_id, job_id) references jobs (practice_id, id),
  foreign key (practice_id, signed_by) references members (practice_id, id),
  foreign key (practice_id, second_look_by) references members (practice_id, id),
  foreign key (practice_id, replaced_by) references reports (practice_id, id),
  constraint reports_number_once unique (practice_id, number),
  constraint reports_numbered_once_frozen check ((number is null) = (state in ('draft', 'in review')))
);
call keep_apart('reports', 'select, insert, update');
create index reports_job on reports (practice_id, job_id);

create table report_counters (
  practice_id uuid not null references practices (practice_id),
  year integer not null,
  last integer not null,
  primary key (practice_id, year)
);
call keep_apart('report_counters', 'select, insert, update');

-- What was frozen: the report as data, never changed.
create table report_snapshots (
  practice_id uuid not null,
  report_id uuid not null,
  content bytea not null,
  sha256 bytea not null,
  audit_seq bigint not null, -- head of the record of changes when it was frozen
  audit_chain bytea not null,
  at timestamptz not null,
  primary key (practice_id, report_id),
  foreign key (practice_id, report_id) references reports (practice_id, id),
  constraint report_snapshots_hash_holds check (sha256 = sha256(content))
);
call keep_apart('report_snapshots', 'select, insert');

-- The bytes that were issued. Written once, by the job that made them.
create table report_issues (
  practice_id uuid not null,
  report_id uuid not null,
  page_key text not null, page_sha256 bytea not null, page_bytes bigint not null,
  pdf_key text not null, pdf_sha256 bytea not null, pdf_bytes bigint not null, pdf_pages integer not null,
  issued_at timestamptz not null,
  primary key (practice_id, report_id),
  foreign key (practice_id, report_id) references reports (practice_id, id)
);
call keep_apart('report_issues', 'select, insert');

create table addenda (
  practice_id uuid not null,
  id uuid not null,
  report_id uuid not null,
  number integer not null,
  required_because text not null default '', -- a correction after issue asks for one
  text text not null default '',
  state text not null default 'required' constraint addenda_state_known check (state in ('required', 'draft', 'issued')),
  issued_at timestamptz,
  issued_by uuid,
  primary key (practice_id, id),
  foreign key (practice_id, report_id) references reports (practice_id, id),
  foreign key (practice_id, issued_by) references members (practice_id, id),
  constraint addenda_number_once unique (practice_id, report_id, number)
);
call keep_apart('addenda', 'select, insert, update');

create table report_passes (
  practice_id uuid not null,
  report_id uuid not null,
  pass_id uuid not null,
  primary key (practice_id, report_id, pass_id),
  foreign key (practice_id, report_id) references reports (practice_id, id),
  foreign key (practice_id, pass_id) references passes (practice_id, id)
);
call keep_apart('report_passes', 'select, insert');
create index report_passes_pass on report_passes (practice_id, pass_id);

create table draft_comments (
  practice_id uuid not null,
  id uuid not null,
  report_id uuid not null,
  section text not null default '',
  text text not null,
  by_id uuid not null,
  at timestamptz not null,
  resolved_at timestamptz,
  primary key (practice_id, id),
  foreign key (practice_id, report_id) references reports (practice_id, id),
  foreign key (practice_id, by_id) references members (practice_id, id)
);
call keep_apart('draft_comments', 'select, insert, update');

-- A link for a named person, for a purpose, until a day.
create table shares (
  practice_id uuid not null,
  id uuid not null,
  report_id uuid not null,
  party_id uuid,
  name text not null,
  email text not null default '',
  purpose text not null default '',
  token_sha256 bytea not null,
  created_at timestamptz not null,
  created_by uuid,
  until timestamptz not null,
  revoked_at timestamptz,
  primary key (practice_id, id),
  foreign key (practice_id, report_id) references reports (practice_id, id),
  foreign key (practice_id, party_id) references parties (practice_id, id),
  foreign key (practice_id, created_by) references members (practice_id, id)
);
create index shares_token on shares (token_sha256);
create index shares_report on shares (practice_id, report_id);
call keep_apart('shares', 'select, insert, update');

create table share_openings (
  practice_id uuid not null,
  id uuid not null,
  share_id uuid not null,
  what text not null constraint share_openings_what_known check (what in ('page', 'pdf')),
  at timestamptz not null,
  primary key (practice_id, id),
  foreign key (practice_id, share_id) references shares (practice_id, id)
);
call keep_apart('share_openings', 'select, insert');
create index share_openings_share on share_openings (practice_id, share_id);

create table money_lines (
  practice_id uuid not null,
  id uuid not null,
  engagement_id uuid not null,
  kind text not null constraint money_lines_kind_known check (kind in ('quote', 'deposit', 'invoice', 'expense', 'mileage', 'abort fee')),
  text text not null,
  amount_minor bigint not null, -- whole minor units, before tax
  tax_permille integer not null default 0,
  currency text not null,
  invoice_number text,
  dated date,
  primary key (practice_id, id),
  foreign key (practice_id, engagement_id) references engagements (practice_id, id)
);
call keep_apart('money_lines', 'select, insert, update, delete');

create table payments (
  practice_id uuid not null,
  id uuid not null,
  engagement_id uuid not null,
  amount_minor bigint not null,
  currency text not null,
  paid_on date not null,
  how text not null default '',
  primary key (practice_id, id),
  foreign key (practice_id, engagement_id) references engagements (practice_id, id)
);
call keep_apart('payments', 'select, insert');

-- +goose StatementBegin
-- An issued report leaves its state only towards amended, replaced or withdrawn, and keeps every word.
create function reports_stay_as_issued() returns trigger language plpgsql set search_path = public, pg_temp as $$
begin
  if old.state in ('draft', 'in review') then return new; end if;
  if (new.job_id, new.title, new.number, new.in_short, new.scope, new.limits, new.body, new.paper, new.signed_by, new.second_look_by, new.second_look_at, new.created_at)
     is distinct from
     (old.job_id, old.title, old.number, old.in_short, old.scope, old.limits, old.body, old.paper, old.signed_by, old.second_look_by, old.second_look_at, old.created_at)
     or new.state in ('draft', 'in review')
     or (old.state <> 'issuing' and new.state = 'issuing') then
    raise exception 'an issued report is never changed' using errcode = '23514', constraint = 'reports_stay_as_issued';
  end if;
  return new;
end
$$;
create trigger reports_stay_as_issued before update on reports for each row execute function reports_stay_as_issued();

create function readings_stay_once_frozen() returns trigger language plpgsql set search_path = public, pg_temp as $$
begin
  if (new.pass_id, new.place_id, new.occasion, new.value, new.limit_flag, new.low, new.high, new.as_written, new.placements, new.taken_at, new.supersedes_id, new.entered_by)
     is distinct from
     (old.pass_id, old.place_id, old.occasion, old.value, old.limit_flag, old.low, old.high, old.as_written, old.placements, old.taken_at, old.supersedes_id, old.entered_by) then
    raise exception 'a reading is never rewritten' using errcode = '23514', constraint = 'readings_never_rewritten';
  end if;
  return new;
end
$$;
create trigger readings_never_rewritten before update on readings for each row execute function readings_stay_once_frozen();

create function door.share_by_token(token bytea, now timestamptz)
returns table (practice_id uuid, share_id uuid) language sql stable security definer set search_path = public, pg_temp as $$
  select s.practice_id, s.id from shares s where s.token_sha256 = token and s.revoked_at is null and s.until > now
$$;
create function door.feed_by_token(token bytea)
returns table (practice_id uuid, feed_id uuid, member_id uuid) language sql stable security definer set search_path = public, pg_temp as $$
  select f.practice_id, f.id, f.member_id from calendar_feeds f join members m on m.practice_id = f.practice_id and m.id = f.member_id
   where f.token_sha256 = token and f.revoked_at is null and m.left_at is null
$$;
-- +goose StatementEnd
