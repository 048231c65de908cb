-- The job: enquiry, terms, permissions, visits and the weather they met.

-- +goose Up
create table engagements (
  practice_id uuid not null references practices (practice_id),
  id uuid not null,
  client_id uuid,
  asked_on date not null,
  asked_because text not null default '',
  kind text not null default '',
  stage text not null default 'enquiry' constraint engagements_stage_known check (stage in ('enquiry', 'quoted', 'accepted', 'declined', 'closed')),
  scope text not null default '',
  conflict_checked_by uuid,
  conflict_note text not null default '',
  terms_version text not null default '',
  terms_accepted_at timestamptz,
  terms_accepted_by text not null default '',
  early_start_requested boolean not null default false,
  currency text not null default 'EUR',
  created_at timestamptz not null,
  version integer not null default 1,
  primary key (practice_id, id),
  foreign key (practice_id, client_id) references parties (practice_id, id),
  foreign key (practice_id, conflict_checked_by) references members (practice_id, id)
);
call keep_apart('engagements', 'select, insert, update');

create table jobs (
  practice_id uuid not null,
  id uuid not null,
  engagement_id uuid,
  vessel_id uuid not null,
  client_id uuid,
  number text not null, -- the practice's own, e.g. 2026-041
  kind text not null constraint jobs_kind_known check (kind in ('pre-purchase', 'insurance', 'limited moisture', 'damage', 'repair supervision', 'completion', 'warranty', 'valuation', 'tonnage', 'code', 'expert witness', 'repeat kit')),
  scope text not null default '',
  stage text not null default 'booked' constraint jobs_stage_known check (stage in ('enquiry', 'quoted', 'booked', 'visiting', 'writing', 'in review', 'issued', 'closed', 'cancelled')),
  cite text not null default 'this client only' constraint jobs_cite_known check (cite in ('this client only', 'vessel history without names', 'named')),
  cite_agreed_on date,
  restricted boolean not null default false, -- then only those in job_access see it
  lead_id uuid, -- the surveyor who answers for it
  due_on date,
  stands_between text not null default '', -- what still stands between her and the report
  created_at timestamptz not null,
  version integer not null default 1,
  primary key (practice_id, id),
  foreign key (practice_id, engagement_id) references engagements (practice_id, id),
  foreign key (practice_id, vessel_id) references vessels (practice_id, id),
  foreign key (practice_id, client_id) references parties (practice_id, id),
  foreign key (practice_id, lead_id) references members (practice_id, id),
  constraint jobs_number_once unique (practice_id, number)
);
call keep_apart('jobs', 'select, insert, update');
create index jobs_vessel on jobs (practice_id, vessel_id);
create index jobs_stage on jobs (practice_id, stage, due_on);
alter table party_roles add foreign key (practice_id, job_id) references jobs (practice_id, id);

-- Who may see a restricted job; for a guest, the jobs that he or she may see at all.
create table job_access (
  practice_id uuid not null,
  job_id uuid not null,
  member_id uuid not null,
  primary key (practice_id, job_id, member_id),
  foreign key (practice_id, job_id) references jobs (practice_id, id),
  foreign key (practice_id, member_id) references members (practice_id, id)
);
call keep_apart('job_access', 'select, insert, delete');

-- job_open tells whether a member may see a job: the rule of `restricted to`, and of guests.
-- +goose StatementBegin
create function job_open(practice uuid, job uuid, restricted boolean, member uuid, guest boolean)
returns boolean language sql stable security invoker set search_path = public, pg_temp as $$
  select (not restricted and not guest)
      or exists (select from job_access a where a.practice_id = practice and a.job_id = job and a.member_id = member)
$$;
-- job_told tells whether a job's evidence may be used for another client: the rule of `cite`.
create function job_told(job_client uuid, cite text, for_client uuid)
returns boolean language sql immutable security invoker set search_path = public, pg_temp as $$
  select job_client is not distinct from for_client or cite <> 'this client only'
$$;
-- +goose StatementEnd
revoke all on function job_open(uuid, uuid, boolean, uuid, boolean), job_told(uuid, text, uuid) from public;
grant execute on function job_open(uuid, uuid, boolean, uuid, boolean), job_told(uuid, text, uuid) to app;

create table permissions (
  practice_id uuid not null,
  id uuid not null,
  job_id uuid not null,
  what text not null constraint permissions_what_known check (what in ('board and survey', 'lift', 'scrape', 'open blisters', 'drill or core', 'mark the hull', 'lift soles', 'photograph', 'share the report', 'approach the previous surveyor')),
  extent text not null default '', -- how many windows, where
  asked_on date,
  given_on date,
  refused_on date,
  given_by_id uuid,
  given_by_name text not null default '',
  makes_good text not null default '', -- who, with what, before relaunch
  note text not null default '',
  version integer not null default 1,
  primary key (practice_id, id),
  foreign key (practice_id, job_id) references jobs (practice_id, id),
  foreign key (practice_id, given_by_id) references parties (practice_id, id)
);
call keep_apart('permissions', 'select, insert, update');
create index permissions_job on permissions (practice_id, job_id);

create table visits (
  practice_id uuid not null,
  id uuid not null,
  job_id uuid not null,
  spell_id uuid,
  kind text not null constraint visits_kind_known check (kind in ('wet look', 'meter visit', 'repeat readings', 'inside', 'completion', 'other')),
  from_at timestamptz not null,
  to_at timestamptz not null,
  time_zone text not null,
  state text not null default 'planned' constraint visits_state_known check (state in ('planned', 'done', 'cancelled')),
  lead_id uuid,
  follows_visit_id uuid, -- the visit this one waits for
  follows_reason text not null default '',
  days_ashore_as_written text not null default '', -- of old reports, where no spell is known
  note text not null default '',
  version integer not null default 1,
  primary key (practice_id, id),
  foreign key (practice_id, job_id) references jobs (practice_id, id),
  foreign key (practice_id, spell_id) references spells (practice_id, id),
  foreign key (practice_id, lead_id) references members (practice_id, id),
  foreign key (practice_id, follows_visit_id) references visits (practice_id, id),
  constraint visits_end_after_start check (from_at < to_at)
);
call keep_apart('visits', 'select, insert, update');
create index visits_job on visits (practice_id, job_id);
create index visits_from on visits (practice_id, from_at);

create table visit_people (
  practice_id uuid not null,
  visit_id uuid not null,
  member_id uuid not null,
  during tstzrange not null,
  primary key (practice_id, visit_id, member_id),
  foreign key (practice_id, visit_id) references visits (practice_id, id),
  foreign key (practice_id, member_id) references members (practice_id, id),
  constraint visit_people_not_empty check (not isempty(during))
);
call keep_apart('visit_people', 'select, insert, update, delete');

create table visit_instruments (
  practice_id uuid not null,
  visit_id uuid not null,
  instrument_id uuid not null,
  during tstzrange not null,
  primary key (practice_id, visit_id, instrument_id),
  foreign key (practice_id, visit_id) references visits (practice_id, id),
  foreign key (practice_id, instrument_id) references instruments (practice_id, id),
  constraint visit_instruments_not_empty check (not isempty(during))
);
call keep_apart('visit_instruments', 'select, insert, update, delete');

-- What the air, the skin and the boat were like, at a time. What is missing stays null.
create table conditions (
  practice_id uuid not null,
  id uuid not null,
  visit_id uuid not null,
  at timestamptz not null,
  air_decidegrees smallint constraint conditions_air_plausible check (air_decidegrees between -500 and 600), -- tenths of a degree Celsius
  humidity_permille smallint constraint conditions_humidity_range check (humidity_permille between 0 and 1000), -- relative, outside
  skin_port_decidegrees smallint constraint conditions_skin_port_plausible check (skin_port_decidegrees between -500 and 900),
  skin_starboard_decidegrees smallint constraint conditions_skin_starboard_plausible check (skin_starboard_decidegrees between -500 and 900),
  inside_humidity_permille smallint constraint conditions_inside_humidity_range check (inside_humidity_permille between 0 and 1000),
  sun text not null default '',
  wind text not null default '',
  rain_last_72h text not null default '',
  tank_level text not null default '',
  bilge_level text not null default '',
  indoors boolean,
  heating text not null default '',
  note text not null default '',
  recorded_by uuid,
  primary key (practice_id, id),
  foreign key (practice_id, visit_id) references visits (practice_id, id),
  foreign key (practice_id, recorded_by) references members (practice_id, id)
);
call keep_apart('conditions', 'select, insert, update');
create index conditions_visit on conditions (practice_id, visit_id, at);

create table attendance_notes (
  practice_id uuid not null,
  id uuid not null,
  job_id uuid not null,
  visit_id uuid,
  at timestamptz not null,
  kind text not null default 'note',
  with_whom text not null default '',
  text text not null,
  by_id uuid,
  primary key (practice_id, id),
  foreign key (practice_id, job_id) references jobs (practice_id, id),
  foreign key (practice_id, visit_id) references visits (practice_id, id),
  foreign key (practice_id, by_id) references members (practice_id, id)
);
call keep_apart('attendance_notes', 'select, insert');

create table tides (
  practice_id uuid not null references practices (practice_id),
  id uuid not null,
  place text not null,
  high_at timestamptz not null,
  height_mm integer,
  source text not null,
  primary key (practice_id, id)
);
call keep_apart('tides', 'select, insert, delete');

create table weather_records (
  practice_id uuid not null references practices (practice_id),
  id uuid not null,
  place text not null,
  at timestamptz not null,
  air_decidegrees smallint,
  humidity_permille smallint,
  rain_mm smallint,
  source text not null,
  primary key (practice_id, id)
);
call keep_apart('weather_records', 'select, insert, delete');

create table templates (
  practice_id uuid not null references practices (practice_id),
  id uuid not null,
  kind text not null,
  name text not null,
  body text not null,
  version integer not null default 1,
  primary key (practice_id, id)
);
call keep_apart('templates', 'select, insert, update, delete');

create table schedule_areas (
  practice_id uuid not null references practices (practice_id),
  id uuid not null,
  position integer not null,
  name text not null,
  primary key (practice_id, id)
);
call keep_apart('schedule_areas', 'select, insert, update, delete');

create table schedule_items (
  practice_id uuid not null,
  id uuid not null,
  area_id uuid not null,
  position integer not null,
  name text not null,
  primary key (practice_id, id),
  foreign key (practice_id, area_id) references schedule_areas (practice_id, id)
);
call keep_apart('schedule_items', 'select, insert, update, delete');

create table item_examinations (
  practice_id uuid not null,
  id uuid not null,
  visit_id uuid not null,
  item_id uuid not null,
  examined text not null constraint item_examinations_examined_known check (examined in ('examined', 'in part', 'not')),
  why text not null default '',
  condition text not null default '',
  note text not null default '',
  version integer not null default 1,
  primary key (practice_id, id),
  foreign key (practice_id, visit_id) references visits (practice_id, id),
  foreign key (practice_id, item_id) references schedule_items (practice_id, id)
);
call keep_apart('item_examinations', 'select, insert, update');

create table leaves (
  practice_id uuid not null,
  id uuid not null,
  member_id uuid not null,
  during tstzrange not null constraint leaves_not_empty check (not isempty(during)),
  reason text not null default '',
  primary key (practice_id, id),
  foreign key (practice_id, member_id) references members (practice_id, id)
);
call keep_apart('leaves', 'select, insert, update, delete');

create table calendar_feeds (
  practice_id uuid not null,
  id uuid not null,
  member_id uuid not null,
  purpose text not null,
  token_sha256 bytea not null,
  created_at timestamptz not null,
  last_fetched_at timestamptz,
  revoked_at timestamptz,
  primary key (practice_id, id),
  foreign key (practice_id, member_id) references members (practice_id, id)
);
create index calendar_feeds_token on calendar_feeds (token_sha256);
call keep_apart('calendar_feeds', 'select, insert, update');
