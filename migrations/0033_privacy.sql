-- What is kept about people: exported, erased, held, and for how many years. A person goes
-- and the hull's record stays; what was issued stays as it was issued until its file's time
-- is over. The database judges both holds and time.

-- +goose Up

-- While a hold stands, nothing of what it names is erased: a person, a job, a vessel, and
-- whatever belongs to the same file. It is lifted with a reason and never rewritten.
create table holds (
  practice_id uuid not null,
  id uuid not null,
  party_id uuid,
  job_id uuid,
  vessel_id uuid,
  reason text not null constraint holds_reason_given check (length(btrim(reason)) between 1 and 1000),
  placed_at timestamptz not null,
  placed_by uuid,
  lifted_at timestamptz,
  lifted_by uuid,
  lifted_reason text not null default '',
  primary key (practice_id, id),
  foreign key (practice_id, party_id) references parties (practice_id, id),
  foreign key (practice_id, job_id) references jobs (practice_id, id),
  foreign key (practice_id, vessel_id) references vessels (practice_id, id),
  foreign key (practice_id, placed_by) references members (practice_id, id),
  foreign key (practice_id, lifted_by) references members (practice_id, id),
  constraint holds_name_something check (num_nonnulls(party_id, job_id, vessel_id) >= 1),
  constraint holds_lifting_told check ((lifted_at is null) = (btrim(lifted_reason) = ''))
);
call keep_apart('holds', 'select, insert');
grant update (lifted_at, lifted_by, lifted_reason, party_id) on holds to app; -- the person, where two entries become one
create index holds_standing on holds (practice_id) where lifted_at is null;

-- How many years files stay, as the practice states it, with where that rule comes from; no
-- row: the default. Nothing is erased by itself: what has passed its time is listed.
create table retention (
  practice_id uuid primary key references practices (practice_id),
  file_years integer not null constraint retention_file_years_range check (file_years between 1 and 100),
  file_jurisdiction text not null default '' constraint retention_file_jurisdiction_short check (length(file_jurisdiction) <= 500),
  invoice_years integer constraint retention_invoice_years_range check (invoice_years between 1 and 100), -- null: as the file
  invoice_jurisdiction text not null default '' constraint retention_invoice_jurisdiction_short check (length(invoice_jurisdiction) <= 500),
  people_years integer constraint retention_people_years_range check (people_years between 1 and 100), -- of people with no file; null: nobody said
  people_jurisdiction text not null default '' constraint retention_people_jurisdiction_short check (length(people_jurisdiction) <= 500),
  set_at timestamptz not null,
  set_by uuid, -- members.id; one row a practice points at nothing beside it
  version integer not null default 1
);
call keep_apart('retention', 'select, insert, update');

-- What was erased: when, of what kind, how many rows of which table. No names.
create table erasures (
  practice_id uuid not null,
  id uuid not null,
  kind text not null constraint erasures_kind_known check (kind in ('person', 'member', 'file')),
  party_id uuid,
  member_id uuid,
  job_id uuid,
  reason text not null constraint erasures_reason_given check (length(btrim(reason)) between 1 and 1000),
  counts jsonb not null default '{}',
  object_keys text[] not null default '{}', -- in the store, still to be removed
  objects integer not null default 0, -- how many there were
  at timestamptz not null,
  by_id uuid,
  objects_gone_at timestamptz,
  primary key (practice_id, id),
  foreign key (practice_id, party_id) references parties (practice_id, id),
  foreign key (practice_id, member_id) references members (practice_id, id),
  foreign key (practice_id, job_id) references jobs (practice_id, id),
  foreign key (practice_id, by_id) references members (practice_id, id)
);
call keep_apart('erasures', 'select, insert');
grant update (object_keys, objects_gone_at, party_id) on erasures to app;
create index erasures_at on erasures (practice_id, at desc);

create table person_exports (
  practice_id uuid not null,
  id uuid not null,
  party_id uuid not null,
  at timestamptz not null,
  by_id uuid,
  primary key (practice_id, id),
  foreign key (practice_id, party_id) references parties (practice_id, id),
  foreign key (practice_id, by_id) references members (practice_id, id)
);
call keep_apart('person_exports', 'select, insert');
grant update (party_id) on person_exports to app;
create index person_exports_of on person_exports (practice_id, party_id, at desc);

alter table jobs add column erased_at timestamptz; -- its file passed its time, and a person decided that it goes
alter table shares add column erased_at timestamptz;
alter table terms_links add column erased_at timestamptz;
alter table members add column erased_at timestamptz; -- the name stays, for what was signed
grant update (name, email) on visit_invitations to app;
grant update (by_name) on recommendation_states to app;
grant update (because) on parties_apart to app;
alter table report_snapshots
  drop constraint report_snapshots_hash_holds,
  add constraint report_snapshots_hash_holds check (sha256 = sha256(content) or content = ''::bytea); -- empty: its time is over, the hash stays

-- +goose StatementBegin
-- person_jobs lists the jobs in which somebody has a part.
create function person_jobs(p uuid, person uuid) returns setof uuid language sql stable security invoker set search_path = public, pg_temp as $$
  select id from jobs where practice_id = p and client_id = person
  union select job_id from party_roles where practice_id = p and party_id = person and job_id is not null
  union select job_id from permissions where practice_id = p and given_by_id = person
$$;
-- person_entries lists somebody's entry, and those that were made one with it.
create function person_entries(p uuid, person uuid) returns setof uuid language sql stable security invoker set search_path = public, pg_temp as $$
  with recursive entries as (
    select x.id from parties x where x.practice_id = p and x.id = person
    union select x.id from parties x join entries e on x.merged_into = e.id where x.practice_id = p)
  select id from entries
$$;
-- person_addresses lists somebody's e-mail addresses in small letters, where nobody else of
-- the practice has the same: a shared address tells no two people apart.
create function person_addresses(p uuid, person uuid) returns setof text language sql stable security invoker set search_path = public, pg_temp as $$
  select distinct lower(x.email) from parties x
   where x.practice_id = p and x.id in (select person_entries(p, person)) and x.email <> ''
     and not exists (select from parties o where o.practice_id = p and o.id not in (select person_entries(p, person)) and o.erased_at is null and lower(o.email) = lower(x.email))
$$;
-- person_names lists somebody's names in small letters.
create function person_names(p uuid, person uuid) returns setof text language sql stable security invoker set search_path = public, pg_temp as $$
  select distinct lower(btrim(x.name)) from parties x where x.practice_id = p and x.id in (select person_entries(p, person)) and x.erased_at is null and btrim(x.name) <> ''
$$;
-- names_person tells whether a text holds one of somebody's names, addresses_person whether
-- it holds one of the addresses.
create function names_person(t text, p uuid, person uuid) returns boolean language sql stable security invoker set search_path = public, pg_temp as $$
  select exists (select from person_names(p, person) n where length(n) >= 3 and strpos(lower(t), n) > 0)
$$;
create function addresses_person(t text, p uuid, person uuid) returns boolean language sql stable security invoker set search_path = public, pg_temp as $$
  select exists (select from person_addresses(p, person) n where strpos(lower(t), n) > 0)
$$;
-- person_enquiries are those that somebody made: as the client, or before there was one by
-- a name or an address that nobody else has.
create function person_enquiries(p uuid, person uuid) returns setof uuid language sql stable security invoker set search_path = public, pg_temp as $$
  select e.id from engagements e
   where e.practice_id = p
     and (e.client_id = person
          or e.client_id is null and addresses_person(e.contact, p, person)
          or e.client_id is null and lower(btrim(e.asked_by)) in (select person_names(p, person))
             and not exists (select from parties o where o.practice_id = p and o.id not in (select person_entries(p, person)) and o.erased_at is null and lower(btrim(o.name)) = lower(btrim(e.asked_by))))
$$;
create function person_shares(p uuid, person uuid) returns setof uuid language sql stable security invoker set search_path = public, pg_temp as $$
  select s.id from shares s where s.practice_id = p and (s.party_id = person or s.party_id is null and lower(s.email) in (select person_addresses(p, person)))
$$;
-- scrubbed puts words in the place of somebody's name, address and telephone in a text.
create function scrubbed(t text, p uuid, person uuid, words text) returns text language plpgsql stable security invoker set search_path = public, pg_temp as $$
declare
  word text;
begin
  for word in select w from parties x, unnest(array[x.email, x.name, x.phone]) w where x.practice_id = p and x.id in (select person_entries(p, person)) and length(btrim(w)) >= 3 loop
    t := regexp_replace(t, '(^|[^[:alnum:]])' || regexp_replace(btrim(word), '([][\\.^$|()?*+{}-])', '\\\1', 'g') || '(?![[:alnum:]])', '\1' || words, 'gi');
  end loop;
  return t;
end
$$;

-- file_held tells whether a hold keeps the file of a job: on the job, her vessel, or
-- anybody who has a part in it.
create function file_held(p uuid, job uuid) returns boolean language sql stable security invoker set search_path = public, pg_temp as $$
  select exists (
    select from holds h
     where h.practice_id = p and h.lifted_at is null
       and (h.job_id = job
            or h.vessel_id = (select j.vessel_id from jobs j where j.practice_id = p and j.id = job)
            or h.party_id in (select j.client_id from jobs j where j.practice_id = p and j.id = job
                              union select r.party_id from party_roles r where r.practice_id = p and r.job_id = job
                              union select g.given_by_id from permissions g where g.practice_id = p and g.job_id = job)))
$$;
create function person_held(p uuid, person uuid) returns boolean language sql stable security invoker set search_path = public, pg_temp as $$
  select exists (
    select from holds h
     where h.practice_id = p and h.lifted_at is null
       and (h.party_id = person
            or h.vessel_id in (select r.vessel_id from party_roles r where r.practice_id = p and r.party_id = person)))
      or exists (select from person_jobs(p, person) j (id) where file_held(p, j.id))
$$;
create function engagement_held(p uuid, engagement uuid) returns boolean language sql stable security invoker set search_path = public, pg_temp as $$
  select exists (select from engagements e where e.practice_id = p and e.id = engagement
                    and (person_held(p, e.client_id) or exists (select from holds h where h.practice_id = p and h.lifted_at is null and h.vessel_id = e.vessel_id)))
      or exists (select from jobs j where j.practice_id = p and j.engagement_id = engagement and file_held(p, j.id))
$$;
create function share_held(p uuid, share uuid) returns boolean language sql stable security invoker set search_path = public, pg_temp as $$
  select exists (select from shares s join reports r on r.practice_id = s.practice_id and r.id = s.report_id
                  where s.practice_id = p and s.id = share and (file_held(p, r.job_id) or person_held(p, s.party_id)))
$$;
create function address_held(p uuid, mailbox text) returns boolean language sql stable security invoker set search_path = public, pg_temp as $$
  select exists (select from parties x where x.practice_id = p and x.email <> '' and lower(x.email) = lower(mailbox) and person_held(p, x.id))
$$;
create function upload_held(p uuid, upload uuid) returns boolean language sql stable security invoker set search_path = public, pg_temp as $$
  select exists (select from client_photos c where c.practice_id = p and c.upload_id = upload and share_held(p, c.share_id))
      or exists (select from papers d where d.practice_id = p and d.upload_id = upload and file_held(p, d.job_id))
      or exists (select from recommendation_evidence e join recommendations r on r.practice_id = e.practice_id and r.id = e.recommendation_id
                  where e.practice_id = p and e.upload_id = upload and file_held(p, r.job_id))
      or exists (select from photos f left join visits v on v.practice_id = f.practice_id and v.id = f.visit_id
                  where f.practice_id = p and upload in (f.upload_id, f.device_upload)
                    and (file_held(p, v.job_id) or exists (select from holds h where h.practice_id = p and h.lifted_at is null and h.vessel_id = f.vessel_id)))
$$;
-- row_held tells of a row whether a hold keeps it.
create function row_held(tab text, r jsonb) returns boolean language plpgsql stable security invoker set search_path = public, pg_temp as $$
declare
  p constant uuid := r ->> 'practice_id';
begin
  case tab
    when 'parties' then return person_held(p, (r ->> 'id')::uuid);
    when 'engagements' then return engagement_held(p, (r ->> 'id')::uuid);
    when 'terms_links' then return engagement_held(p, (r ->> 'engagement_id')::uuid);
    when 'shares' then return share_held(p, (r ->> 'id')::uuid);
    when 'client_answers', 'client_messages', 'client_permits', 'client_photos' then return share_held(p, (r ->> 'share_id')::uuid);
    when 'client_grants' then return address_held(p, r ->> 'email');
    when 'mails' then return address_held(p, r ->> 'recipient');
    when 'yard_links' then return person_held(p, (r ->> 'yard_id')::uuid) or address_held(p, r ->> 'email');
    when 'uploads' then return upload_held(p, (r ->> 'id')::uuid);
    when 'visit_invitations' then return address_held(p, r ->> 'email') or file_held(p, (select v.job_id from visits v where v.practice_id = p and v.id = (r ->> 'visit_id')::uuid));
    when 'recommendation_states' then return file_held(p, (select x.job_id from recommendations x where x.practice_id = p and x.id = (r ->> 'recommendation_id')::uuid));
    when 'jobs' then return file_held(p, (r ->> 'id')::uuid);
    else return file_held(p, (r ->> 'job_id')::uuid);
  end case;
end
$$;
-- holds_stop_erasure: a column that is emptied, or filled with the words of an erasure, or
-- a time of erasure that is set, is an erasure, whoever does it and by whatever way.
create function holds_stop_erasure() returns trigger language plpgsql set search_path = public, pg_temp as $$
declare
  was constant jsonb := to_jsonb(old);
  becomes constant jsonb := to_jsonb(new);
  col text;
begin
  if old.practice_id is distinct from new.practice_id then return new; end if;
  foreach col in array tg_argv loop
    if col in ('erased_at', 'swept_at') then
      continue when was ->> col is not null or becomes ->> col is null;
    else
      continue when coalesce(was ->> col, '') in ('', '[]', '{}') or was ->> col is not distinct from becomes ->> col
        or coalesce(becomes ->> col, '') not in ('', '[]', '{}') and becomes ->> col not like '%whose details were erased on %';
    end if;
    perform pg_advisory_xact_lock(hashtextextended(old.practice_id::text || 'holds', 0));
    if row_held(tg_table_name, was) then
      raise exception 'a hold stands on this file' using errcode = '23514', constraint = 'holds_stop_erasure';
    end if;
    return new;
  end loop;
  return new;
end
$$;
-- A hold and an erasure wait for each other: whichever comes second sees the first.
create function holds_take_turns() returns trigger language plpgsql set search_path = public, pg_temp as $$
begin
  perform pg_advisory_xact_lock(hashtextextended(new.practice_id::text || 'holds', 0));
  return new;
end
$$;
create function holds_stay_as_placed() returns trigger language plpgsql set search_path = public, pg_temp as $$
begin
  if old.lifted_at is not null then
    raise exception 'a hold that was lifted is never changed' using errcode = '23514', constraint = 'holds_stay_as_placed';
  end if;
  return new;
end
$$;
-- A hold follows a person whose two entries become one, and nobody else.
create function holds_follow_entries() returns trigger language plpgsql set search_path = public, pg_temp as $$
begin
  if new.party_id is distinct from old.party_id and not exists (
       select from party_merges m where m.practice_id = old.practice_id and (m.kept_id, m.lost_id) in ((new.party_id, old.party_id), (old.party_id, new.party_id))) then
    raise exception 'a hold stays on what it is on' using errcode = '23514', constraint = 'holds_follow_entries';
  end if;
  return new;
end
$$;
-- An erased person stays erased.
create function parties_stay_erased() returns trigger language plpgsql set search_path = public, pg_temp as $$
begin
  if old.erased_at is not null then
    raise exception 'an erased person stays erased' using errcode = '23514', constraint = 'parties_stay_erased';
  end if;
  return new;
end
$$;
create function members_stay_erased() returns trigger language plpgsql set search_path = public, pg_temp as $$
begin
  if old.erased_at is not null and (new.email <> '' or new.left_at is null or new.erased_at is null) then
    raise exception 'an erased member stays erased' using errcode = '23514', constraint = 'members_stay_erased';
  end if;
  return new;
end
$$;

-- file_due is the day from which the file of a job may go: its last visit or issue, and its
-- last invoice, each with the practice's years; fifteen where it stated none.
create function file_due(p uuid, job uuid) returns date language sql stable security invoker set search_path = public, pg_temp as $$
  select greatest(
           (greatest(j.created_at,
              (select max(v.to_at) from visits v where v.practice_id = p and v.job_id = job and v.state <> 'cancelled'),
              (select max(i.issued_at) from report_issues i join reports r on r.practice_id = i.practice_id and r.id = i.report_id where i.practice_id = p and r.job_id = job),
              (select max(a.issued_at) from addenda a join reports r on r.practice_id = a.practice_id and r.id = a.report_id where a.practice_id = p and r.job_id = job))
            + make_interval(years => coalesce(t.file_years, 15)))::date,
           ((select max(i.dated) from invoices i where i.practice_id = p and i.job_id = job and i.state = 'issued')
            + make_interval(years => coalesce(t.invoice_years, t.file_years, 15)))::date)
    from jobs j left join retention t on t.practice_id = p
   where j.practice_id = p and j.id = job
$$;
-- person_due is the day from which somebody without a file may go; null while there is a
-- file, or where the practice stated no years.
create function person_due(p uuid, person uuid) returns date language sql stable security invoker set search_path = public, pg_temp as $$
  select (greatest(x.created_at,
            (select max(e.created_at) from engagements e where e.practice_id = p and e.client_id = person),
            (select max(s.created_at) from shares s where s.practice_id = p and s.party_id = person))
          + make_interval(years => t.people_years))::date
    from parties x join retention t on t.practice_id = p
   where x.practice_id = p and x.id = person and x.erased_at is null
     and not exists (select from person_jobs(p, person) f (id) join jobs j on j.practice_id = p and j.id = f.id where j.erased_at is null)
$$;
-- A file goes once, when its time is over, and not while its job is under way.
create function files_end_in_time() returns trigger language plpgsql set search_path = public, pg_temp as $$
begin
  if new.erased_at is not distinct from old.erased_at then return new; end if;
  if old.erased_at is not null or new.erased_at > now() + interval '1 day' or new.stage not in ('issued', 'closed', 'cancelled')
     or coalesce(file_due(old.practice_id, old.id) > new.erased_at::date, true) then
    raise exception 'the time of this file is not over' using errcode = '23514', constraint = 'files_end_in_time';
  end if;
  return new;
end
$$;
create function file_gone(p uuid, job uuid) returns boolean language sql stable security invoker set search_path = public, pg_temp as $$
  select exists (select from jobs j where j.practice_id = p and j.id = job and j.erased_at is not null)
$$;

-- What was issued stays as it was, until the time of its file is over: then its words go,
-- and numbers, dates, amounts and hashes stay.
create or replace function reports_stay_as_issued() returns trigger language plpgsql set search_path = public, pg_temp as $$
begin
  if old.state in ('draft', 'in review') then return new; end if;
  if (new.job_id, new.title, new.number, new.paper, new.signed_by, new.second_look_by, new.second_look_at, new.created_at)
     is distinct from
     (old.job_id, old.title, old.number, old.paper, old.signed_by, old.second_look_by, old.second_look_at, old.created_at)
     or (new.in_short, new.scope, new.limits, new.body) is distinct from (old.in_short, old.scope, old.limits, old.body)
        and ((new.in_short, new.scope, new.limits, new.body) is distinct from ('', '', '', '{}'::jsonb) or not file_gone(old.practice_id, old.job_id))
     or new.state in ('draft', 'in review')
     or (old.state <> 'issuing' and new.state = 'issuing') then
    raise exception 'an issued report is never changed' using errcode = '23514', constraint = 'reports_stay_as_issued';
  end if;
  return new;
end
$$;
create or replace function drafts_stay_as_issued() returns trigger language plpgsql set search_path = public, pg_temp as $$
begin
  if new.practice_id = old.practice_id and exists (
       select from reports r where r.practice_id = old.practice_id and r.id = old.report_id and r.state not in ('draft', 'in review')
          and not (file_gone(r.practice_id, r.job_id) and coalesce(to_jsonb(new) ->> 'body', to_jsonb(new) ->> 'text') = '')) then
    raise exception 'an issued report is never changed' using errcode = '23514', constraint = 'reports_stay_as_issued';
  end if;
  return new;
end
$$;
create or replace function addenda_stay_as_issued() returns trigger language plpgsql set search_path = public, pg_temp as $$
begin
  if old.state = 'issued'
     and not (to_jsonb(new) - 'text' = to_jsonb(old) - 'text' and new.text = ''
              and exists (select from reports r where r.practice_id = old.practice_id and r.id = old.report_id and file_gone(r.practice_id, r.job_id))) then
    raise exception 'an issued addendum is never changed' using errcode = '23514', constraint = 'addenda_stay_as_issued';
  end if;
  return new;
end
$$;
create or replace function invoices_stay_as_issued() returns trigger language plpgsql set search_path = public, pg_temp as $$
begin
  if old.state <> 'draft'
     and ((new.id, new.job_id, new.kind, new.state, new.number, new.currency, new.dated, new.due_on, new.lines, new.credits_id, new.net_minor, new.tax_minor, new.issued_at, new.issued_by)
          is distinct from
          (old.id, old.job_id, old.kind, old.state, old.number, old.currency, old.dated, old.due_on, old.lines, old.credits_id, old.net_minor, old.tax_minor, old.issued_at, old.issued_by)
          or (new.payer_name, new.payer_address, new.note, new.printed) is distinct from (old.payer_name, old.payer_address, old.note, old.printed)
             and not (file_gone(old.practice_id, old.job_id) and new.payer_address = '' and new.note = '' and new.printed = '{}' and new.payer_name like '%whose details were erased on %')) then
    raise exception 'an issued invoice is never changed' using errcode = '23514', constraint = 'invoices_stay_as_issued';
  end if;
  return new;
end
$$;

-- erase_file takes the words and the names out of a file whose time is over: what app may
-- not change by itself. The triggers on jobs judge time and holds first.
create function door.erase_file(p uuid, file uuid, words text, now timestamptz)
returns table (what text, n bigint) language plpgsql security definer set search_path = public, pg_temp as $$
declare
  k bigint;
begin
  if p is distinct from nullif(current_setting('app.practice', true), '')::uuid then
    raise exception 'another practice is chosen' using errcode = '42501';
  end if;
  update jobs set erased_at = now, scope = '', stands_between = '', version = version + 1 where practice_id = p and id = file;
  update report_snapshots s set content = ''::bytea from reports r
   where s.practice_id = p and r.practice_id = p and r.id = s.report_id and r.job_id = file and s.content <> ''::bytea;
  get diagnostics k = row_count; what := 'report_snapshots'; n := k; return next;
  update report_drafts s set content = ''::bytea from reports r where s.practice_id = p and r.practice_id = p and r.id = s.report_id and r.job_id = file;
  update report_sections s set title = '', body = '' from reports r where s.practice_id = p and r.practice_id = p and r.id = s.report_id and r.job_id = file;
  update draft_comments s set text = '', about = '' from reports r where s.practice_id = p and r.practice_id = p and r.id = s.report_id and r.job_id = file;
  update addenda s set text = '' from reports r where s.practice_id = p and r.practice_id = p and r.id = s.report_id and r.job_id = file;
  get diagnostics k = row_count; what := 'addenda'; n := k; return next;
  update addendum_issues s set content = ''::bytea from addenda a join reports r on r.practice_id = a.practice_id and r.id = a.report_id
   where s.practice_id = p and a.practice_id = p and a.id = s.addendum_id and r.job_id = file;
  update reports set in_short = '', scope = '', limits = '', body = '{}' where practice_id = p and job_id = file;
  get diagnostics k = row_count; what := 'reports'; n := k; return next;
  update attendance_notes set with_whom = '', text = words where practice_id = p and job_id = file;
  get diagnostics k = row_count; what := 'attendance_notes'; n := k; return next;
  update permissions set given_by_name = case when given_by_name = '' then '' else words end, note = '', makes_good = '' where practice_id = p and job_id = file;
  get diagnostics k = row_count; what := 'permissions'; n := k; return next;
  update early_starts set asked_by = words, how = '' where practice_id = p and job_id = file;
  get diagnostics k = row_count; what := 'early_starts'; n := k; return next;
  update danger_told t set name = words, email = '' from danger_notices d where t.practice_id = p and d.practice_id = p and d.id = t.notice_id and d.job_id = file;
  get diagnostics k = row_count; what := 'danger_told'; n := k; return next;
  update seen_letters set addressed_to = words, reference = '', content = '{}' where practice_id = p and job_id = file;
  get diagnostics k = row_count; what := 'seen_letters'; n := k; return next;
  update invoices set payer_name = words, payer_address = '', note = '', printed = '{}' where practice_id = p and job_id = file and state <> 'draft';
  get diagnostics k = row_count; what := 'invoices'; n := k; return next;
  update visit_invitations i set name = words, email = '' from visits v where i.practice_id = p and v.practice_id = p and v.id = i.visit_id and v.job_id = file;
  get diagnostics k = row_count; what := 'visit_invitations'; n := k; return next;
  update client_answers c set reason = '' from shares s join reports r on r.practice_id = s.practice_id and r.id = s.report_id where c.practice_id = p and s.practice_id = p and s.id = c.share_id and r.job_id = file;
  get diagnostics k = row_count; what := 'client_answers'; n := k; return next;
  update client_messages c set text = '' from shares s join reports r on r.practice_id = s.practice_id and r.id = s.report_id where c.practice_id = p and s.practice_id = p and s.id = c.share_id and r.job_id = file;
  get diagnostics k = row_count; what := 'client_messages'; n := k; return next;
  update client_permits c set name = words, email = '', purpose = '', withdrawn_at = coalesce(withdrawn_at, now)
    from shares s join reports r on r.practice_id = s.practice_id and r.id = s.report_id where c.practice_id = p and s.practice_id = p and s.id = c.share_id and r.job_id = file;
  get diagnostics k = row_count; what := 'client_permits'; n := k; return next;
  update client_photos c set state = 'refused', refused_because = 'erased', view_key = '', thumb_key = ''
    from shares s join reports r on r.practice_id = s.practice_id and r.id = s.report_id where c.practice_id = p and s.practice_id = p and s.id = c.share_id and r.job_id = file;
  update uploads u set swept_at = now, file_name = ''
   where u.practice_id = p and u.swept_at is null
     and (exists (select from papers d where d.practice_id = p and d.upload_id = u.id and d.job_id = file)
          or exists (select from client_photos c join shares s on s.practice_id = c.practice_id and s.id = c.share_id join reports r on r.practice_id = s.practice_id and r.id = s.report_id
                      where c.practice_id = p and c.upload_id = u.id and r.job_id = file)
          or exists (select from recommendation_evidence e join recommendations x on x.practice_id = e.practice_id and x.id = e.recommendation_id
                      where e.practice_id = p and e.upload_id = u.id and x.job_id = file));
  get diagnostics k = row_count; what := 'uploads'; n := k; return next;
  update shares s set name = words, email = '', purpose = '', revoked_at = coalesce(revoked_at, now), erased_at = now
    from reports r where s.practice_id = p and r.practice_id = p and r.id = s.report_id and r.job_id = file and s.erased_at is null;
  get diagnostics k = row_count; what := 'shares'; n := k; return next;
  update terms_links l set name = words, email = '', accepted_by = case when accepted_by = '' then '' else words end, revoked_at = coalesce(revoked_at, now), erased_at = now
    from jobs j where l.practice_id = p and j.practice_id = p and j.id = file and l.engagement_id = j.engagement_id
     and not exists (select from jobs o where o.practice_id = p and o.engagement_id = j.engagement_id and o.erased_at is null);
  get diagnostics k = row_count; what := 'terms_links'; n := k; return next;
  update engagements e set asked_by = case when asked_by = '' then '' else words end, contact = '', for_whom = '', asked_because = '', terms_accepted_by = case when terms_accepted_by = '' then '' else words end, version = e.version + 1
    from jobs j where e.practice_id = p and j.practice_id = p and j.id = file and e.id = j.engagement_id
     and not exists (select from jobs o where o.practice_id = p and o.engagement_id = e.id and o.erased_at is null);
  get diagnostics k = row_count; what := 'engagements'; n := k; return next;
end
$$;

-- account_close ends a sign-in that nothing is open to any more: no practice that its
-- owner belongs to, nothing shared. The address is free again.
create function door.account_close(account uuid, now timestamptz)
returns boolean language plpgsql security definer set search_path = public, pg_temp as $$
begin
  update accounts a set disabled_at = coalesce(disabled_at, now), email = 'erased-' || a.id || '@erased.invalid', password_hash = ''
   where a.id = account
     and not exists (select from members m where m.account_id = account and m.left_at is null)
     and not exists (select from client_grants g where g.account_id = account and g.ended_at is null);
  if not found then return false; end if;
  update client_sessions set ended_at = now where account_id = account and ended_at is null;
  update sessions set ended_at = now where account_id = account and ended_at is null;
  update password_resets set used_at = now where account_id = account and used_at is null;
  return true;
end
$$;
-- erased_link tells whoever holds a link when the details of the person it was for were
-- erased, and by whom: nothing else.
create function door.erased_link(token bytea)
returns table (practice_name text, time_zone text, erased_at timestamptz) language sql stable security definer set search_path = public, pg_temp as $$
  select p.name, p.time_zone, s.erased_at from shares s join practices p using (practice_id) where s.token_sha256 = token and s.erased_at is not null
  union all
  select p.name, p.time_zone, l.erased_at from terms_links l join practices p using (practice_id) where l.token_sha256 = token and l.erased_at is not null
  limit 1
$$;
-- +goose StatementEnd

create trigger holds_take_turns before insert on holds for each row execute function holds_take_turns();
create trigger holds_stay_as_placed before update of lifted_at, lifted_by, lifted_reason on holds for each row execute function holds_stay_as_placed();
create trigger holds_follow_entries before update of party_id on holds for each row execute function holds_follow_entries();
create trigger parties_stay_erased before update of name, email, phone, address, notes, yard_notes, erased_at on parties for each row execute function parties_stay_erased();
create trigger members_stay_erased before update of email, left_at, erased_at on members for each row execute function members_stay_erased();
create trigger files_end_in_time before update of erased_at on jobs for each row execute function files_end_in_time();

create trigger holds_stop_erasure before update of name, email, phone, address, notes, yard_notes, erased_at on parties
  for each row execute function holds_stop_erasure('name', 'email', 'phone', 'address', 'notes', 'yard_notes', 'erased_at');
create trigger holds_stop_erasure before update of asked_by, contact, for_whom, terms_accepted_by on engagements
  for each row execute function holds_stop_erasure('asked_by', 'contact', 'for_whom', 'terms_accepted_by');
create trigger holds_stop_erasure before update of name, email, accepted_by, erased_at on terms_links for each row execute function holds_stop_erasure('name', 'email', 'accepted_by', 'erased_at');
create trigger holds_stop_erasure before update of name, email, purpose, erased_at on shares for each row execute function holds_stop_erasure('name', 'email', 'purpose', 'erased_at');
create trigger holds_stop_erasure before update of reason on client_answers for each row execute function holds_stop_erasure('reason');
create trigger holds_stop_erasure before update of text on client_messages for each row execute function holds_stop_erasure('text');
create trigger holds_stop_erasure before update of name, email on client_permits for each row execute function holds_stop_erasure('name', 'email');
create trigger holds_stop_erasure before update of view_key, thumb_key on client_photos for each row execute function holds_stop_erasure('view_key', 'thumb_key');
create trigger holds_stop_erasure before update of email on client_grants for each row execute function holds_stop_erasure('email');
create trigger holds_stop_erasure before update of recipient, subject, body, erased_at on mails for each row execute function holds_stop_erasure('recipient', 'subject', 'body', 'erased_at');
create trigger holds_stop_erasure before update of name, email on yard_links for each row execute function holds_stop_erasure('name', 'email');
create trigger holds_stop_erasure before update of swept_at on uploads for each row execute function holds_stop_erasure('swept_at');
create trigger holds_stop_erasure before update of name, email on visit_invitations for each row execute function holds_stop_erasure('name', 'email');
create trigger holds_stop_erasure before update of by_name on recommendation_states for each row execute function holds_stop_erasure('by_name');
create trigger holds_stop_erasure before update of with_whom, text on attendance_notes for each row execute function holds_stop_erasure('with_whom', 'text');
create trigger holds_stop_erasure before update of given_by_name on permissions for each row execute function holds_stop_erasure('given_by_name');
create trigger holds_stop_erasure before update of payer_name, payer_address on invoices for each row execute function holds_stop_erasure('payer_name', 'payer_address');
create trigger holds_stop_erasure before update of erased_at on jobs for each row execute function holds_stop_erasure('erased_at');

revoke all on function person_jobs(uuid, uuid), person_entries(uuid, uuid), person_addresses(uuid, uuid), person_names(uuid, uuid), names_person(text, uuid, uuid), addresses_person(text, uuid, uuid), person_enquiries(uuid, uuid), person_shares(uuid, uuid), scrubbed(text, uuid, uuid, text),
  file_held(uuid, uuid), person_held(uuid, uuid), engagement_held(uuid, uuid), share_held(uuid, uuid), address_held(uuid, text), upload_held(uuid, uuid), row_held(text, jsonb),
  file_due(uuid, uuid), person_due(uuid, uuid), file_gone(uuid, uuid) from public;
grant execute on function person_jobs(uuid, uuid), person_entries(uuid, uuid), person_addresses(uuid, uuid), person_names(uuid, uuid), names_person(text, uuid, uuid), addresses_person(text, uuid, uuid), person_enquiries(uuid, uuid), person_shares(uuid, uuid), scrubbed(text, uuid, uuid, text),
  file_held(uuid, uuid), person_held(uuid, uuid), engagement_held(uuid, uuid), share_held(uuid, uuid), address_held(uuid, text), upload_held(uuid, uuid), row_held(text, jsonb),
  file_due(uuid, uuid), person_due(uuid, uuid), file_gone(uuid, uuid) to app;
revoke all on function door.erase_file(uuid, uuid, text, timestamptz), door.account_close(uuid, timestamptz), door.erased_link(bytea) from public;
grant execute on function door.erase_file(uuid, uuid, text, timestamptz), door.account_close(uuid, timestamptz), door.erased_link(bytea) to app;
