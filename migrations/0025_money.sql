-- Drafts of invoices may be dropped; an issued one keeps all that its page says; a held
-- report is released by somebody; notices tell of what has no job yet.

-- +goose Up
alter table money_settings
  add column number_prefix text not null default 'INV-' constraint money_settings_prefix_plain check (number_prefix ~ '^[A-Za-z0-9/-]{0,12}$');

alter table invoices
  drop constraint invoices_state_known,
  add constraint invoices_state_known check (state in ('draft', 'issued', 'dropped')),
  drop constraint invoices_numbered_once_issued,
  add constraint invoices_numbered_once_issued check ((number is not null) = (state = 'issued')),
  add column printed jsonb not null default '{}'; -- what the page says beside the lines: practice, boat, job, foot
create index invoices_credits on invoices (practice_id, credits_id) where credits_id is not null;

-- +goose StatementBegin
create or replace function invoices_stay_as_issued() returns trigger language plpgsql set search_path = public, pg_temp as $$
begin
  if old.state <> 'draft'
     and (new.id, new.job_id, new.kind, new.state, new.number, new.payer_name, new.payer_address, new.currency, new.dated, new.due_on, new.note, new.lines, new.credits_id, new.net_minor, new.tax_minor, new.issued_at, new.issued_by, new.printed)
         is distinct from
         (old.id, old.job_id, old.kind, old.state, old.number, old.payer_name, old.payer_address, old.currency, old.dated, old.due_on, old.note, old.lines, old.credits_id, old.net_minor, old.tax_minor, old.issued_at, old.issued_by, old.printed) then
    raise exception 'an issued invoice is never changed' using errcode = '23514', constraint = 'invoices_stay_as_issued';
  end if;
  return new;
end
$$;

-- What was asked for and taken back wholly was not asked for: the job stays held until it
-- is asked for anew.
create or replace function job_held(practice uuid, job uuid)
returns boolean language sql stable security invoker set search_path = public, pg_temp as $$
  select j.release_on_payment and j.released_because = ''
     and (job_owes(practice, job) > 0
          or not exists (select from invoices i
                          where i.practice_id = practice and i.job_id = job and i.state = 'issued' and i.kind = 'invoice'
                            and i.net_minor + i.tax_minor + (select coalesce(sum(c.net_minor + c.tax_minor), 0) from invoices c
                                                              where c.practice_id = practice and c.credits_id = i.id and c.state = 'issued') > 0))
    from jobs j
   where j.practice_id = practice and j.id = job
$$;
-- +goose StatementEnd

alter table jobs
  add column released_at timestamptz,
  add column released_by uuid,
  add foreign key (practice_id, released_by) references members (practice_id, id);
create index jobs_held on jobs (practice_id) where release_on_payment and released_because = '';

-- An invoice with what became of it. Amounts owed are whole minor units of its currency; a
-- credit note owes nothing by itself: it lessens what it takes back.
create view invoice_sheets with (security_invoker = true) as
select i.practice_id, i.id, i.job_id, i.kind, i.state, coalesce(i.number, '') as number, i.payer_name, i.payer_address, i.currency, i.dated, i.due_on, i.note,
       i.lines, i.credits_id, coalesce(o.number, '') as credits_number, i.net_minor, i.tax_minor, i.issued_at, i.printed, i.version,
       j.number as job_number, j.restricted, v.name as vessel_name,
       s.paid_minor, s.paid_on, s.credited_minor,
       (case when i.state = 'issued' and i.kind <> 'credit note' then i.net_minor + i.tax_minor + s.credited_minor - s.paid_minor else 0 end)::bigint as owed_minor
  from invoices i
  join jobs j on j.practice_id = i.practice_id and j.id = i.job_id
  join vessels v on v.practice_id = j.practice_id and v.id = j.vessel_id
  left join invoices o on o.practice_id = i.practice_id and o.id = i.credits_id
 cross join lateral (
   select coalesce((select sum(p.amount_minor) from invoice_payments p where p.practice_id = i.practice_id and p.invoice_id = i.id), 0)::bigint as paid_minor,
          (select max(p.paid_on) from invoice_payments p where p.practice_id = i.practice_id and p.invoice_id = i.id) as paid_on,
          coalesce((select sum(c.net_minor + c.tax_minor) from invoices c where c.practice_id = i.practice_id and c.credits_id = i.id and c.state = 'issued'), 0)::bigint as credited_minor) s;
grant select on invoice_sheets to app;

-- Notices of an engagement, and one a person and change.
alter table notices
  alter column job_id drop not null,
  add column engagement_id uuid,
  add column about text not null default '', -- a word or a number that the sentence needs, no name
  add foreign key (practice_id, engagement_id) references engagements (practice_id, id),
  add constraint notices_one_a_change unique (practice_id, member_id, mutation_id);
create index notices_unseen on notices (practice_id, member_id) where seen_at is null;
