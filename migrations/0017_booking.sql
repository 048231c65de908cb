-- Booking: what the diary cannot hold, moves that can be taken back, enquiries with
-- their terms, and what is known of yards.

-- +goose Up

-- A surveyor, or an instrument, is in one place at a time. `holds` is false where nobody's
-- time is taken: the visit is called off, or was written down only after it had been.
alter table visit_people add column holds boolean not null default true;
alter table visit_instruments add column holds boolean not null default true;
-- What overlapped before the rule was there stays as it was written and holds nothing.
update visit_people o set holds = false
  from visits w
 where w.practice_id = o.practice_id and w.id = o.visit_id
   and (w.state = 'cancelled' or exists (
     select from visit_people x
      where x.practice_id = o.practice_id and x.member_id = o.member_id and x.visit_id < o.visit_id and x.during && o.during));
update visit_instruments o set holds = false
  from visits w
 where w.practice_id = o.practice_id and w.id = o.visit_id
   and (w.state = 'cancelled' or exists (
     select from visit_instruments x
      where x.practice_id = o.practice_id and x.instrument_id = o.instrument_id and x.visit_id < o.visit_id and x.during && o.during));
alter table visit_people
  add constraint visit_people_once exclude using gist (practice_id with =, member_id with =, during with &&) where (holds);
alter table visit_instruments
  add constraint visit_instruments_once exclude using gist (practice_id with =, instrument_id with =, during with &&) where (holds);
create index visit_people_member on visit_people (practice_id, member_id);
create index visits_spell on visits (practice_id, spell_id);

-- spell_hours is when a visit may be made in a time ashore. Planned times count to the
-- minute. Once she has been lifted or launched the whole day counts, in the yard's zone: a
-- crane that is late on the day puts no visit outside. A lift known to the month or the
-- year sets no border.
-- +goose StatementBegin
create function spell_hours(planned_lift timestamptz, planned_launch timestamptz, actual_lift timestamptz, actual_launch timestamptz, date_precision text, zone text)
returns tstzrange language sql stable security invoker set search_path = public, pg_temp as $$
  select case when date_precision in ('month', 'year') then tstzrange(null, null)
              else tstzrange(
                case when actual_lift is null and date_precision = 'instant' then planned_lift
                     else date_trunc('day', coalesce(actual_lift, planned_lift), zone) end,
                case when actual_launch is null and date_precision = 'instant' then planned_launch
                     else (date_trunc('day', coalesce(actual_launch, planned_launch) at time zone zone) + interval '1 day') at time zone zone end, '[)') end
$$;

-- +goose StatementEnd

-- When a visit may be made, by the time ashore it belongs to; outside tells whether one that
-- is planned lies beyond that.
create view visit_hours with (security_invoker = true) as
select w.practice_id, w.id as visit_id, w.spell_id, lower(h.hours) as first_at, upper(h.hours) as last_at, (s.cancelled_at is not null)::boolean as cancelled,
       (w.state = 'planned' and (s.cancelled_at is not null or j.vessel_id <> s.vessel_id or not h.hours @> tstzrange(w.from_at, w.to_at, '[)')))::boolean as outside
  from visits w
  join jobs j on j.practice_id = w.practice_id and j.id = w.job_id
  join spells s on s.practice_id = w.practice_id and s.id = w.spell_id
 cross join lateral (select spell_hours(s.planned_lift, s.planned_launch, s.actual_lift, s.actual_launch, s.date_precision, s.time_zone) as hours) h;
grant select on visit_hours to app;

-- A planned visit lies in its time ashore, and that is one of the same vessel. Both sides
-- are looked at when the transaction ends, so that a move may carry visits along.
-- +goose StatementBegin
create function visits_stay_in_spell() returns trigger language plpgsql set search_path = public, pg_temp as $$
begin
  perform from spells s where s.practice_id = new.practice_id and s.id = new.spell_id for share;
  if exists (select from visit_hours h where h.practice_id = new.practice_id and h.visit_id = new.id and h.outside) then
    raise exception 'a planned visit outside its time ashore' using errcode = '23514', constraint = 'visits_stay_in_spell';
  end if;
  return null;
end
$$;
create function spells_keep_visits() returns trigger language plpgsql set search_path = public, pg_temp as $$
begin
  if exists (select from visit_hours h where h.practice_id = new.practice_id and h.spell_id = new.id and h.outside) then
    raise exception 'a planned visit would lie outside its time ashore' using errcode = '23514', constraint = 'spells_keep_visits';
  end if;
  return null;
end
$$;
-- +goose StatementEnd
revoke all on function spell_hours(timestamptz, timestamptz, timestamptz, timestamptz, text, text) from public;
grant execute on function spell_hours(timestamptz, timestamptz, timestamptz, timestamptz, text, text) to app;
create constraint trigger visits_stay_in_spell after insert or update of spell_id, from_at, to_at, state, job_id on visits
  deferrable initially deferred for each row execute function visits_stay_in_spell();
create constraint trigger spells_keep_visits after update on spells
  deferrable initially deferred for each row execute function spells_keep_visits();

-- Why something that stands against a visit was let pass.
create table visit_overrides (
  practice_id uuid not null,
  visit_id uuid not null,
  code text not null,
  reason text not null constraint visit_overrides_reason_said check (btrim(reason) <> ''),
  by_id uuid,
  at timestamptz not null,
  primary key (practice_id, visit_id, code),
  foreign key (practice_id, visit_id) references visits (practice_id, id),
  foreign key (practice_id, by_id) references members (practice_id, id)
);
call keep_apart('visit_overrides', 'select, insert, update');

-- The kinds of job that a member does; none noted means that nobody said.
create table competences (
  practice_id uuid not null,
  member_id uuid not null,
  kind text not null,
  primary key (practice_id, member_id, kind),
  foreign key (practice_id, member_id) references members (practice_id, id)
);
call keep_apart('competences', 'select, insert, delete');
create index leaves_during on leaves using gist (practice_id, during);

-- A move of a time ashore with the visits that hang on it: one change, which can be taken
-- back as a whole while nothing of it was touched since.
create table moves (
  practice_id uuid not null,
  id uuid not null,
  spell_id uuid not null,
  reason text not null default '',
  made_at timestamptz not null,
  made_by uuid,
  undone_at timestamptz,
  primary key (practice_id, id),
  foreign key (practice_id, spell_id) references spells (practice_id, id),
  foreign key (practice_id, made_by) references members (practice_id, id)
);
call keep_apart('moves', 'select, insert, update');
create index moves_spell on moves (practice_id, spell_id, made_at);

-- What a move changed, before and after: the row of the spell, then one of each visit.
create table move_lines (
  practice_id uuid not null,
  move_id uuid not null,
  position integer not null,
  visit_id uuid, -- null: the spell itself
  from_before timestamptz, to_before timestamptz, -- of a spell the planned lift and launch
  from_after timestamptz, to_after timestamptz,
  version_after integer not null,
  primary key (practice_id, move_id, position),
  foreign key (practice_id, move_id) references moves (practice_id, id),
  foreign key (practice_id, visit_id) references visits (practice_id, id)
);
call keep_apart('move_lines', 'select, insert');

-- What is known of a yard. Keys and gate code are the staff's only.
create table yards (
  practice_id uuid not null,
  party_id uuid not null,
  lift_hours text not null default '',
  rules text not null default '',
  key_place text not null default '', -- where keys are
  gate_code text not null default '',
  latitude_e6 integer constraint yards_latitude_range check (latitude_e6 between -90000000 and 90000000), -- millionths of a degree
  longitude_e6 integer constraint yards_longitude_range check (longitude_e6 between -180000000 and 180000000),
  tide_place text not null default '', -- whose high waters count here; empty: lifts do not wait for a tide
  tide_within_minutes integer not null default 120 constraint yards_tide_within_positive check (tide_within_minutes > 0),
  version integer not null default 1,
  primary key (practice_id, party_id),
  foreign key (practice_id, party_id) references parties (practice_id, id),
  constraint yards_place_whole check ((latitude_e6 is null) = (longitude_e6 is null))
);
call keep_apart('yards', 'select, insert, update');

-- What a yard does in a time ashore beside lift and launch, who pays, what it was told.
create table slots (
  practice_id uuid not null,
  spell_id uuid not null,
  wash_at timestamptz,
  chock_at timestamptz,
  shift_at timestamptz, -- moved within the yard
  pays text not null default '',
  told text not null default '',
  version integer not null default 1,
  primary key (practice_id, spell_id),
  foreign key (practice_id, spell_id) references spells (practice_id, id)
);
call keep_apart('slots', 'select, insert, update');

-- A link that shows a yard its slots and nothing else.
create table yard_links (
  practice_id uuid not null,
  id uuid not null,
  yard_id uuid not null,
  name text not null,
  email text not null default '',
  token_sha256 bytea not null,
  created_at timestamptz not null,
  created_by uuid,
  until timestamptz not null,
  revoked_at timestamptz,
  last_opened_at timestamptz,
  openings integer not null default 0,
  primary key (practice_id, id),
  foreign key (practice_id, yard_id) references parties (practice_id, id),
  foreign key (practice_id, created_by) references members (practice_id, id)
);
call keep_apart('yard_links', 'select, insert, update');
create index yard_links_token on yard_links (token_sha256);

-- The same table of tides read in twice keeps nothing twice.
alter table tides add constraint tides_once unique (practice_id, place, high_at);
alter table weather_records add constraint weather_records_once unique (practice_id, place, at);

-- An enquiry: the boat may still be unknown, whoever asks may be no party yet.
alter table engagements
  add column vessel_id uuid,
  add column boat_as_written text not null default '',
  add column asked_by text not null default '',
  add column contact text not null default '',
  add column for_whom text not null default '',
  add column conflict_checked_at timestamptz,
  add column conflict_decision text not null default '' constraint engagements_conflict_decision_known check (conflict_decision in ('', 'go on', 'decline')),
  add column conflict_found jsonb not null default '[]', -- what was shown to whoever decided
  add column terms_id uuid,
  add foreign key (practice_id, vessel_id) references vessels (practice_id, id);
create index engagements_stage on engagements (practice_id, stage, created_at);
create index jobs_engagement on jobs (practice_id, engagement_id);

-- Terms as the practice wrote them, one row a version, never changed.
create table terms (
  practice_id uuid not null references practices (practice_id),
  id uuid not null,
  name text not null, -- of the version, e.g. 2026-1
  body text not null,
  made_at timestamptz not null,
  primary key (practice_id, id),
  constraint terms_name_once unique (practice_id, name)
);
call keep_apart('terms', 'select, insert');
alter table engagements add foreign key (practice_id, terms_id) references terms (practice_id, id);

-- A link by which a client reads scope, quote and terms, and accepts them by typing the
-- code. What was offered is frozen in it.
create table terms_links (
  practice_id uuid not null,
  id uuid not null,
  engagement_id uuid not null,
  terms_id uuid not null,
  name text not null,
  email text not null,
  offered jsonb not null, -- scope, lines and their sums as shown
  token_sha256 bytea not null,
  code_sha256 bytea not null,
  tries integer not null default 0,
  created_at timestamptz not null,
  created_by uuid,
  until timestamptz not null,
  revoked_at timestamptz,
  accepted_at timestamptz,
  accepted_by text not null default '', -- the name that was typed
  early_start boolean not null default false,
  primary key (practice_id, id),
  foreign key (practice_id, engagement_id) references engagements (practice_id, id),
  foreign key (practice_id, terms_id) references terms (practice_id, id),
  foreign key (practice_id, created_by) references members (practice_id, id)
);
call keep_apart('terms_links', 'select, insert, update');
create index terms_links_token on terms_links (token_sha256);
create index terms_links_engagement on terms_links (practice_id, engagement_id, created_at);

-- +goose StatementBegin
create function door.yard_link_by_token(token bytea, now timestamptz)
returns table (practice_id uuid, link_id uuid) language sql stable security definer set search_path = public, pg_temp as $$
  select l.practice_id, l.id from yard_links l where l.token_sha256 = token and l.revoked_at is null and l.until > now
$$;
create function door.terms_link_by_token(token bytea, now timestamptz)
returns table (practice_id uuid, link_id uuid) language sql stable security definer set search_path = public, pg_temp as $$
  select l.practice_id, l.id from terms_links l where l.token_sha256 = token and l.revoked_at is null and l.until > now
$$;
-- +goose StatementEnd
revoke all on function door.yard_link_by_token(bytea, timestamptz), door.terms_link_by_token(bytea, timestamptz) from public;
grant execute on function door.yard_link_by_token(bytea, timestamptz), door.terms_link_by_token(bytea, timestamptz) to app;
