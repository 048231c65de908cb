-- What was seen, heard, smelt or opened; photos; what is recommended; when to look again.

-- +goose Up
create table findings (
  practice_id uuid not null,
  id uuid not null,
  visit_id uuid not null,
  element_id uuid,
  kind text not null,
  sure text not null constraint findings_sure_known check (sure in ('seen', 'indicated', 'suspected')),
  text text not null default '',
  measured jsonb not null default '{}',
  outline jsonb not null default '[]',
  side text,
  look_again boolean not null default false,
  inside_of uuid, -- the same spot seen from the other face
  created_at timestamptz not null,
  by_id uuid,
  version integer not null default 1,
  primary key (practice_id, id),
  foreign key (practice_id, visit_id) references visits (practice_id, id),
  foreign key (practice_id, element_id) references elements (practice_id, id),
  foreign key (practice_id, inside_of) references findings (practice_id, id),
  foreign key (practice_id, by_id) references members (practice_id, id)
);
call keep_apart('findings', 'select, insert, update');
create index findings_visit on findings (practice_id, visit_id);

create table finding_places (
  practice_id uuid not null,
  finding_id uuid not null,
  place_id uuid not null,
  primary key (practice_id, finding_id, place_id),
  foreign key (practice_id, finding_id) references findings (practice_id, id),
  foreign key (practice_id, place_id) references places (practice_id, id)
);
call keep_apart('finding_places', 'select, insert, delete');

-- A scrape window: a bared patch of known area.
create table windows (
  practice_id uuid not null,
  id uuid not null,
  visit_id uuid not null,
  element_id uuid not null,
  side text not null,
  along_mm integer not null,
  down_mm integer not null,
  width_mm integer not null constraint windows_width_positive check (width_mm > 0),
  height_mm integer not null constraint windows_height_positive check (height_mm > 0),
  bared_to text not null default 'gelcoat',
  blisters_seen integer not null default 0 constraint windows_count_not_negative check (blisters_seen >= 0),
  made_good text not null default '',
  primary key (practice_id, id),
  foreign key (practice_id, visit_id) references visits (practice_id, id),
  foreign key (practice_id, element_id) references elements (practice_id, id)
);
call keep_apart('windows', 'select, insert, update');

create table photos (
  practice_id uuid not null,
  id uuid not null,
  upload_id uuid not null,
  visit_id uuid,
  vessel_id uuid not null,
  place_id uuid,
  finding_id uuid,
  caption text not null default '',
  taken_at timestamptz,
  width integer, height integer,
  view_key text not null default '', -- re-encoded copy, without position or serial numbers
  thumb_key text not null default '',
  state text not null default 'waiting' constraint photos_state_known check (state in ('waiting', 'ready', 'refused')),
  refused_because text not null default '',
  annotation jsonb not null default '[]',
  version integer not null default 1,
  primary key (practice_id, id),
  foreign key (practice_id, upload_id) references uploads (practice_id, id),
  foreign key (practice_id, visit_id) references visits (practice_id, id),
  foreign key (practice_id, vessel_id) references vessels (practice_id, id),
  foreign key (practice_id, place_id) references places (practice_id, id),
  foreign key (practice_id, finding_id) references findings (practice_id, id)
);
call keep_apart('photos', 'select, insert, update');
create index photos_vessel on photos (practice_id, vessel_id);

create table notes (
  practice_id uuid not null,
  id uuid not null,
  visit_id uuid not null,
  place_id uuid,
  text text not null,
  at timestamptz not null,
  by_id uuid,
  primary key (practice_id, id),
  foreign key (practice_id, visit_id) references visits (practice_id, id),
  foreign key (practice_id, place_id) references places (practice_id, id),
  foreign key (practice_id, by_id) references members (practice_id, id)
);
call keep_apart('notes', 'select, insert, update');

create table cause_judgements (
  practice_id uuid not null,
  id uuid not null,
  vessel_id uuid not null,
  visit_id uuid,
  cause text not null,
  judgement text not null,
  reason text not null,
  by_id uuid not null,
  at timestamptz not null,
  primary key (practice_id, id),
  foreign key (practice_id, vessel_id) references vessels (practice_id, id),
  foreign key (practice_id, visit_id) references visits (practice_id, id),
  foreign key (practice_id, by_id) references members (practice_id, id)
);
call keep_apart('cause_judgements', 'select, insert');

create table gate_signatures (
  practice_id uuid not null,
  id uuid not null,
  job_id uuid not null,
  gate text not null,
  met_on date not null,
  evidence text not null,
  by_id uuid not null,
  at timestamptz not null,
  primary key (practice_id, id),
  foreign key (practice_id, job_id) references jobs (practice_id, id),
  foreign key (practice_id, by_id) references members (practice_id, id)
);
call keep_apart('gate_signatures', 'select, insert');

create table recommendations (
  practice_id uuid not null,
  id uuid not null,
  vessel_id uuid not null,
  job_id uuid not null, -- the job it was first made in
  grade text not null constraint recommendations_grade_known check (grade in ('stop', 'afloat', 'ashore', 'planned', 'watch', 'further', 'record')), -- report.Grade; its words are printed
  sure text not null constraint recommendations_sure_known check (sure in ('seen', 'indicated', 'suspected')),
  readings_only boolean not null default false, -- rests on electrical evidence alone
  what text not null constraint recommendations_what_given check (length(what) between 1 and 2000),
  reason text not null default '',
  consequence text not null default '',
  who_acts text not null default '',
  by_on date,
  by_as_written text not null default '',
  closed_by text not null default '', -- what closes it
  state text not null default 'draft' constraint recommendations_state_known check (state in ('draft', 'issued', 'acknowledged', 'agreed', 'declined', 'in hand', 'claimed done', 'seen done', 'not seen', 'closed', 'reopened')),
  created_at timestamptz not null,
  version integer not null default 1,
  primary key (practice_id, id),
  foreign key (practice_id, vessel_id) references vessels (practice_id, id),
  foreign key (practice_id, job_id) references jobs (practice_id, id),
  constraint recommendations_readings_alone check (not readings_only or grade in ('watch', 'further', 'record'))
);
call keep_apart('recommendations', 'select, insert, update');
create index recommendations_vessel on recommendations (practice_id, vessel_id);

create table recommendation_states (
  practice_id uuid not null,
  id uuid not null,
  recommendation_id uuid not null,
  state text not null,
  reason text not null default '',
  by_id uuid,
  by_name text not null default '', -- a client by link
  at timestamptz not null,
  primary key (practice_id, id),
  foreign key (practice_id, recommendation_id) references recommendations (practice_id, id),
  foreign key (practice_id, by_id) references members (practice_id, id)
);
call keep_apart('recommendation_states', 'select, insert');
create index recommendation_states_of on recommendation_states (practice_id, recommendation_id);

create table recommendation_evidence (
  practice_id uuid not null,
  id uuid not null,
  recommendation_id uuid not null,
  kind text not null,
  photo_id uuid, place_id uuid, finding_id uuid,
  text text not null default '',
  at timestamptz not null,
  primary key (practice_id, id),
  foreign key (practice_id, recommendation_id) references recommendations (practice_id, id),
  foreign key (practice_id, photo_id) references photos (practice_id, id),
  foreign key (practice_id, place_id) references places (practice_id, id),
  foreign key (practice_id, finding_id) references findings (practice_id, id)
);
call keep_apart('recommendation_evidence', 'select, insert');

create table reinspections (
  practice_id uuid not null,
  id uuid not null,
  vessel_id uuid not null,
  recommendation_id uuid,
  due_from date not null,
  due_to date not null,
  reason text not null,
  tag text not null default '',
  state text not null default 'due' constraint reinspections_state_known check (state in ('due', 'booked', 'answered', 'declined', 'snoozed')),
  state_reason text not null default '',
  answered_by_job uuid,
  version integer not null default 1,
  primary key (practice_id, id),
  foreign key (practice_id, vessel_id) references vessels (practice_id, id),
  foreign key (practice_id, recommendation_id) references recommendations (practice_id, id),
  foreign key (practice_id, answered_by_job) references jobs (practice_id, id),
  constraint reinspections_in_order check (due_from <= due_to)
);
call keep_apart('reinspections', 'select, insert, update');
create index reinspections_due on reinspections (practice_id, due_to) where state = 'due';
