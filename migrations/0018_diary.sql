-- What comes after the report: when she is seen again, who is told, what is owed.

-- +goose Up
alter table recommendations add column about text not null default ''
  constraint recommendations_about_known check (about in ('', 'raised-uniform', 'few-blisters', 'active-blisters', 'failing-treatment', 'suspected-wet-core', 'drying')); -- due.Kind: what the interval to the next look depends on

alter table reinspections
  add column code text not null default '', -- of the rule it came from, due.Kind or a grade; empty: entered by hand
  add column report_id uuid, -- whose issue proposed it
  add column wants text[] not null default '{}', -- what the next look should bring with it, in sentences
  add column days_ashore integer constraint reinspections_days_ashore_not_negative check (days_ashore >= 0), -- of the last reading, to be matched
  add column instrument_id uuid, -- that read her last time
  add column waits_for text not null default '' constraint reinspections_waits_for_known check (waits_for in ('', 'launch', 'access')), -- then due_to is no date to keep
  add column snoozed_until date,
  add column booked_job uuid,
  add column moved_at timestamptz,
  add column moved_by uuid,
  add column recalled_at timestamptz,
  add column recalled_party uuid,
  add column created_at timestamptz,
  add foreign key (practice_id, report_id) references reports (practice_id, id),
  add foreign key (practice_id, instrument_id) references instruments (practice_id, id),
  add foreign key (practice_id, booked_job) references jobs (practice_id, id),
  add foreign key (practice_id, moved_by) references members (practice_id, id),
  add foreign key (practice_id, recalled_party) references parties (practice_id, id),
  add constraint reinspections_reason_owed check (state not in ('declined', 'snoozed') or state_reason <> ''),
  add constraint reinspections_snoozed_to_a_day check (state <> 'snoozed' or snoozed_until is not null),
  add constraint reinspections_booked_in_a_job check (state <> 'booked' or booked_job is not null);
create index reinspections_vessel on reinspections (practice_id, vessel_id);

-- A reinspection with its vessel and whatever it hangs on. Where a job asked for it, by
-- its recommendation or its report, it is seen by whoever sees that job.
create view reinspection_lines with (security_invoker = true) as
select r.practice_id, r.id, r.due_from, r.due_to, r.reason, r.tag, r.code, r.wants, r.waits_for, r.days_ashore, coalesce(i.name, '') as instrument,
       r.state, r.state_reason, r.snoozed_until, r.moved_at, coalesce(m.name, '') as moved_by, r.recalled_at, coalesce(y.name, '') as recalled_to,
       r.booked_job, coalesce(b.number, '') as booked_number, r.answered_by_job, coalesce(x.number, '') as answered_number,
       r.recommendation_id, coalesce(c.grade, '') as grade, coalesce(c.what, '') as recommended, r.version,
       j.id as job_id, j.client_id, coalesce(j.cite, '') as cite, coalesce(j.restricted, false) as restricted,
       v.id as vessel_id, v.name as vessel_name, v.kind as vessel_kind, v.loa_mm, v.moulded_year, v.hull_number, v.figure, v.yard, v.lifted_at,
       v.time_zone as yard_zone, v.last_pass_at
  from reinspections r
  join vessel_lines v on v.practice_id = r.practice_id and v.id = r.vessel_id
  left join recommendations c on c.practice_id = r.practice_id and c.id = r.recommendation_id
  left join reports p on p.practice_id = r.practice_id and p.id = r.report_id
  left join jobs j on j.practice_id = r.practice_id and j.id = coalesce(c.job_id, p.job_id)
  left join instruments i on i.practice_id = r.practice_id and i.id = r.instrument_id
  left join members m on m.practice_id = r.practice_id and m.id = r.moved_by
  left join parties y on y.practice_id = r.practice_id and y.id = r.recalled_party
  left join jobs b on b.practice_id = r.practice_id and b.id = r.booked_job
  left join jobs x on x.practice_id = r.practice_id and x.id = r.answered_by_job;
grant select on reinspection_lines to app;

-- A guarantee on a treatment or a repair: looked at while it still runs.
create table guarantees (
  practice_id uuid not null,
  id uuid not null,
  vessel_id uuid not null,
  what text not null constraint guarantees_what_given check (length(what) between 1 and 500),
  given_by text not null default '',
  ends_on date not null,
  source text not null default '',
  created_at timestamptz not null,
  primary key (practice_id, id),
  foreign key (practice_id, vessel_id) references vessels (practice_id, id)
);
call keep_apart('guarantees', 'select, insert');
create index guarantees_vessel on guarantees (practice_id, vessel_id);

-- Where a practice's rules differ from the habits of the trade; no row: those alone.
create table reinspection_settings (
  practice_id uuid primary key references practices (practice_id),
  rules jsonb not null default '{}', -- by due.Kind: [[from months, from days, to months, to days], …]
  recall_monthly boolean not null default false,
  recall_ahead_days integer not null default 60 constraint reinspection_settings_ahead_range check (recall_ahead_days between 0 and 365),
  recall_opening text not null default '',
  recall_closing text not null default '',
  version integer not null default 1
);
call keep_apart('reinspection_settings', 'select, insert, update');

-- A visit's times as calendars count them: raised whenever she is to be met at another
-- time or place, or not at all.
alter table visits
  add column sequence integer not null default 0,
  add column revised_at timestamptz;
-- +goose StatementBegin
create function visits_count_moves() returns trigger language plpgsql set search_path = public, pg_temp as $$
begin
  if tg_op = 'INSERT' then
    new.revised_at := now();
  elsif (new.from_at, new.to_at, new.time_zone, new.spell_id, new.state = 'cancelled') is distinct from (old.from_at, old.to_at, old.time_zone, old.spell_id, old.state = 'cancelled') then
    new.sequence := old.sequence + 1;
    new.revised_at := now();
  end if;
  return new;
end
$$;
-- +goose StatementEnd
create trigger visits_count_moves before insert or update on visits for each row execute function visits_count_moves();

alter table calendar_feeds
  add column boats boolean not null default true,
  add column clients boolean not null default false,
  add constraint calendar_feeds_purpose_known check (purpose in ('my visits', 'all visits', 'reinspections'));
create unique index calendar_feeds_one_live on calendar_feeds (practice_id, member_id, purpose) where revoked_at is null;

create table visit_invitations (
  practice_id uuid not null,
  id uuid not null,
  visit_id uuid not null,
  name text not null,
  email text not null,
  method text not null constraint visit_invitations_method_known check (method in ('REQUEST', 'CANCEL')),
  sequence integer not null,
  sent_at timestamptz not null,
  sent_by uuid,
  primary key (practice_id, id),
  foreign key (practice_id, visit_id) references visits (practice_id, id),
  foreign key (practice_id, sent_by) references members (practice_id, id)
);
call keep_apart('visit_invitations', 'select, insert');
create index visit_invitations_visit on visit_invitations (practice_id, visit_id);

alter table mails
  add column calendar text not null default '', -- an invitation that goes with it
  add column method text not null default '',
  add column unsubscribe text not null default ''; -- the address that ends such letters

-- Money, as far as a small practice needs it. Amounts are whole minor units.
create table money_settings (
  practice_id uuid primary key references practices (practice_id),
  tax_permille integer not null default 0 constraint money_settings_tax_range check (tax_permille between 0 and 1000),
  mileage_minor bigint not null default 0 constraint money_settings_mileage_not_negative check (mileage_minor >= 0), -- for one unit of way
  mileage_unit text not null default 'km' constraint money_settings_mileage_unit_known check (mileage_unit in ('km', 'mile')),
  abort_fee_minor bigint not null default 0 constraint money_settings_abort_fee_not_negative check (abort_fee_minor >= 0),
  payment_days integer not null default 30 constraint money_settings_payment_days_range check (payment_days between 0 and 365),
  foot text not null default '', -- bank, tax number: what an invoice must carry where the practice is
  early_start_wording text not null default '',
  early_start_jurisdiction text not null default '',
  version integer not null default 1
);
call keep_apart('money_settings', 'select, insert, update');

alter table jobs
  add column release_on_payment boolean not null default false, -- links to her reports open once it is paid
  add column released_because text not null default '';

create table invoice_counters (
  practice_id uuid not null references practices (practice_id),
  year integer not null,
  last integer not null,
  primary key (practice_id, year)
);
call keep_apart('invoice_counters', 'select, insert, update');

create table invoices (
  practice_id uuid not null,
  id uuid not null,
  job_id uuid not null,
  kind text not null constraint invoices_kind_known check (kind in ('invoice', 'deposit', 'abort fee', 'credit note')),
  state text not null default 'draft' constraint invoices_state_known check (state in ('draft', 'issued')),
  number text,
  payer_name text not null default '',
  payer_address text not null default '',
  currency text not null constraint invoices_currency_code check (currency ~ '^[A-Z]{3}$'),
  dated date,
  due_on date,
  note text not null default '',
  lines jsonb not null default '[]', -- kind, text, quantity, price and tax of each: one row, frozen as one
  credits_id uuid, -- the invoice that a credit note takes back
  net_minor bigint not null default 0,
  tax_minor bigint not null default 0,
  created_at timestamptz not null,
  issued_at timestamptz,
  issued_by uuid,
  version integer not null default 1,
  primary key (practice_id, id),
  foreign key (practice_id, job_id) references jobs (practice_id, id),
  foreign key (practice_id, credits_id) references invoices (practice_id, id),
  foreign key (practice_id, issued_by) references members (practice_id, id),
  constraint invoices_number_once unique (practice_id, number),
  constraint invoices_numbered_once_issued check ((number is null) = (state = 'draft'))
);
call keep_apart('invoices', 'select, insert, update');
create index invoices_job on invoices (practice_id, job_id);
create index invoices_dated on invoices (practice_id, dated);

-- +goose StatementBegin
-- An issued invoice is never changed: a credit note takes it back.
create function invoices_stay_as_issued() returns trigger language plpgsql set search_path = public, pg_temp as $$
begin
  if old.state <> 'draft'
     and (new.id, new.job_id, new.kind, new.state, new.number, new.payer_name, new.payer_address, new.currency, new.dated, new.due_on, new.note, new.lines, new.credits_id, new.net_minor, new.tax_minor, new.issued_at, new.issued_by)
         is distinct from
         (old.id, old.job_id, old.kind, old.state, old.number, old.payer_name, old.payer_address, old.currency, old.dated, old.due_on, old.note, old.lines, old.credits_id, old.net_minor, old.tax_minor, old.issued_at, old.issued_by) then
    raise exception 'an issued invoice is never changed' using errcode = '23514', constraint = 'invoices_stay_as_issued';
  end if;
  return new;
end
$$;
-- +goose StatementEnd
create trigger invoices_stay_as_issued before update on invoices for each row execute function invoices_stay_as_issued();

create table invoice_payments (
  practice_id uuid not null,
  id uuid not null,
  invoice_id uuid not null,
  amount_minor bigint not null constraint invoice_payments_amount_given check (amount_minor <> 0), -- below zero: paid back
  paid_on date not null,
  how text not null default '',
  recorded_at timestamptz not null,
  recorded_by uuid,
  primary key (practice_id, id),
  foreign key (practice_id, invoice_id) references invoices (practice_id, id),
  foreign key (practice_id, recorded_by) references members (practice_id, id)
);
call keep_apart('invoice_payments', 'select, insert');
create index invoice_payments_invoice on invoice_payments (practice_id, invoice_id);

-- job_owes is what is still to be paid for a job, in minor units.
-- +goose StatementBegin
create function job_owes(practice uuid, job uuid)
returns bigint language sql stable security invoker set search_path = public, pg_temp as $$
  select coalesce(sum(i.net_minor + i.tax_minor), 0)::bigint
       - coalesce((select sum(p.amount_minor) from invoice_payments p join invoices x on x.practice_id = p.practice_id and x.id = p.invoice_id
                    where p.practice_id = practice and x.job_id = job), 0)::bigint
    from invoices i
   where i.practice_id = practice and i.job_id = job and i.state = 'issued'
$$;
-- job_held tells whether links to a job's reports stay shut until it is paid: while
-- something is owed, and while nothing was asked for yet.
create function job_held(practice uuid, job uuid)
returns boolean language sql stable security invoker set search_path = public, pg_temp as $$
  select j.release_on_payment and j.released_because = ''
     and (job_owes(practice, job) > 0
          or not exists (select from invoices i where i.practice_id = practice and i.job_id = job and i.state = 'issued' and i.kind = 'invoice'))
    from jobs j
   where j.practice_id = practice and j.id = job
$$;
-- +goose StatementEnd
revoke all on function job_owes(uuid, uuid), job_held(uuid, uuid) from public;
grant execute on function job_owes(uuid, uuid), job_held(uuid, uuid) to app;

-- A consumer's express request to begin before a right to withdraw has run out. Wording
-- and jurisdiction are the practice's; what was said stays as it was said.
create table early_starts (
  practice_id uuid not null,
  id uuid not null,
  job_id uuid not null,
  asked_on date not null,
  asked_by text not null constraint early_starts_name_given check (length(asked_by) between 1 and 200),
  how text not null default '',
  wording text not null constraint early_starts_wording_given check (length(wording) between 1 and 5000),
  jurisdiction text not null default '',
  recorded_at timestamptz not null,
  recorded_by uuid,
  primary key (practice_id, id),
  foreign key (practice_id, job_id) references jobs (practice_id, id),
  foreign key (practice_id, recorded_by) references members (practice_id, id)
);
call keep_apart('early_starts', 'select, insert');
create index early_starts_job on early_starts (practice_id, job_id);

-- What changed for a member: ids only, the words are made where it is read.
create table notices (
  practice_id uuid not null,
  id uuid not null,
  member_id uuid not null,
  mutation_id uuid not null, -- the change it tells of; kept with it, so no key
  operation text not null,
  job_id uuid not null,
  visit_id uuid,
  by_id uuid,
  at timestamptz not null,
  seen_at timestamptz,
  primary key (practice_id, id),
  foreign key (practice_id, member_id) references members (practice_id, id),
  foreign key (practice_id, job_id) references jobs (practice_id, id),
  foreign key (practice_id, visit_id) references visits (practice_id, id),
  foreign key (practice_id, by_id) references members (practice_id, id)
);
call keep_apart('notices', 'select, insert, update');
create index notices_of on notices (practice_id, member_id, at desc);

create table notice_settings (
  practice_id uuid not null,
  member_id uuid not null,
  digest text not null default 'none' constraint notice_settings_digest_known check (digest in ('none', 'daily', 'weekly')),
  version integer not null default 1,
  primary key (practice_id, member_id),
  foreign key (practice_id, member_id) references members (practice_id, id)
);
call keep_apart('notice_settings', 'select, insert, update');

-- A digest that went out, with the secret in it that ends them.
create table digests (
  practice_id uuid not null,
  id uuid not null,
  member_id uuid not null,
  token_sha256 bytea not null,
  until_at timestamptz not null, -- notices up to here were told
  at timestamptz not null,
  primary key (practice_id, id),
  foreign key (practice_id, member_id) references members (practice_id, id)
);
create index digests_token on digests (token_sha256);
create index digests_of on digests (practice_id, member_id, at desc);
call keep_apart('digests', 'select, insert');

-- +goose StatementBegin
-- A feed is read as the member it was made for: gone with the member or the account.
create or replace function door.feed_by_token(token bytea)
returns table (practice_id uuid, feed_id uuid, member_id uuid) language sql stable security definer set search_path = public, pg_temp as $$
  select f.practice_id, f.id, f.member_id
    from calendar_feeds f join members m on m.practice_id = f.practice_id and m.id = f.member_id join accounts a on a.id = m.account_id
   where f.token_sha256 = token and f.revoked_at is null and m.left_at is null and a.disabled_at is null
$$;
create function door.digest_by_token(token bytea)
returns table (practice_id uuid, member_id uuid) language sql stable security definer set search_path = public, pg_temp as $$
  select d.practice_id, d.member_id from digests d where d.token_sha256 = token
$$;
-- +goose StatementEnd
revoke all on function door.digest_by_token(bytea) from public;
grant execute on function door.digest_by_token(bytea) to app;
