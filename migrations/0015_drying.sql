-- A hull that dries: washes and what rebounds, sheets, the air beside her, and who signed which coating gate.

-- +goose Up
-- How a job's drying is looked at: from when, through how thick a wall, which air is hers.
create table drying_courses (
  practice_id uuid not null,
  job_id uuid not null,
  began_on date, -- null: from the lift of the spell she dries in
  wall_mm smallint constraint drying_courses_wall_plausible check (wall_mm between 1 and 500),
  inside text not null default '' constraint drying_courses_inside_known check (inside in ('', 'no water', 'water stands there')),
  outdoors_place text not null default '', -- place names of weather records
  tent_place text not null default '',
  target_tenths integer, -- a contrast that the band is asked for; a question, never a limit
  target_because text not null default '',
  note text not null default '',
  version integer not null default 1,
  primary key (practice_id, job_id),
  foreign key (practice_id, job_id) references jobs (practice_id, id),
  constraint drying_courses_target_told check (target_tenths is null or target_because <> '')
);
call keep_apart('drying_courses', 'select, insert, update');

create table washes (
  practice_id uuid not null,
  id uuid not null,
  job_id uuid not null,
  at timestamptz not null,
  how text not null constraint washes_how_known check (how in ('fresh', 'hot', 'steam')),
  extent text not null default '',
  ph_tenths smallint constraint washes_ph_range check (ph_tenths between 0 and 140), -- of the water that came off
  conductivity_tenths integer constraint washes_conductivity_range check (conductivity_tenths between 0 and 1000000), -- tenths of a µS/cm
  supply_tenths integer constraint washes_supply_range check (supply_tenths between 0 and 1000000),
  volume_ul integer constraint washes_volume_range check (volume_ul between 10 and 1000000), -- of the water tested, µL
  area_mm2 integer constraint washes_area_range check (area_mm2 between 1 and 1000000),
  note text not null default '',
  by_id uuid,
  primary key (practice_id, id),
  foreign key (practice_id, job_id) references jobs (practice_id, id),
  foreign key (practice_id, by_id) references members (practice_id, id),
  constraint washes_volume_with_area check ((volume_ul is null) = (area_mm2 is null))
);
call keep_apart('washes', 'select, insert');
create index washes_job on washes (practice_id, job_id, at);

-- Readings at some places before a wash, or with heat on, and again after it.
create table rebounds (
  practice_id uuid not null,
  id uuid not null,
  job_id uuid not null,
  after text not null constraint rebounds_after_known check (after in ('wash', 'heat off')),
  wash_id uuid,
  began_at timestamptz not null, -- the end of the wash, or heat off
  read_at timestamptz not null,
  scale_id uuid not null,
  note text not null default '',
  by_id uuid,
  primary key (practice_id, id),
  foreign key (practice_id, job_id) references jobs (practice_id, id),
  foreign key (practice_id, wash_id) references washes (practice_id, id),
  foreign key (practice_id, scale_id) references scales (practice_id, id),
  foreign key (practice_id, by_id) references members (practice_id, id),
  constraint rebounds_of_a_wash check ((after = 'wash') = (wash_id is not null)),
  constraint rebounds_read_after check (read_at > began_at)
);
call keep_apart('rebounds', 'select, insert');
create index rebounds_job on rebounds (practice_id, job_id, read_at);

create table rebound_readings (
  practice_id uuid not null,
  rebound_id uuid not null,
  place_id uuid not null,
  before_tenths integer not null,
  after_tenths integer not null,
  primary key (practice_id, rebound_id, place_id),
  foreign key (practice_id, rebound_id) references rebounds (practice_id, id),
  foreign key (practice_id, place_id) references places (practice_id, id)
);
call keep_apart('rebound_readings', 'select, insert');

-- A plastic sheet taped to the skin: screening only.
create table sheet_tests (
  practice_id uuid not null,
  id uuid not null,
  job_id uuid not null,
  place text not null default '', -- where, in words
  taped_at timestamptz not null,
  looked_at timestamptz not null,
  condensed boolean not null,
  note text not null default '',
  by_id uuid,
  primary key (practice_id, id),
  foreign key (practice_id, job_id) references jobs (practice_id, id),
  foreign key (practice_id, by_id) references members (practice_id, id),
  constraint sheet_tests_looked_after check (looked_at > taped_at)
);
call keep_apart('sheet_tests', 'select, insert');
create index sheet_tests_job on sheet_tests (practice_id, job_id, looked_at);

-- A practice's own figures for a gate; where none stands the default does.
create table gate_rules (
  practice_id uuid not null references practices (practice_id),
  gate text not null,
  least double precision,
  most double precision,
  because text not null constraint gate_rules_because_given check (length(because) between 1 and 500),
  version integer not null default 1,
  primary key (practice_id, gate),
  constraint gate_rules_in_order check (least is null or most is null or least <= most)
);
call keep_apart('gate_rules', 'select, insert, update');

-- What the service's own line said when a gate was signed, and whether it was opened again.
alter table gate_signatures
  add column shown text not null default '',
  add column reopened boolean not null default false;
create index gate_signatures_job on gate_signatures (practice_id, job_id, at);

create index weather_records_place on weather_records (practice_id, place, at);
