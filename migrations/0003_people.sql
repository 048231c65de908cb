-- People and organisations, and the instruments that read.

-- +goose Up
create table parties (
  practice_id uuid not null references practices (practice_id),
  id uuid not null,
  kind text not null constraint parties_kind_known check (kind in ('person', 'organisation')),
  name text not null constraint parties_name_length check (length(name) <= 200),
  email text not null default '',
  phone text not null default '',
  address text not null default '',
  is_yard boolean not null default false,
  time_zone text, -- a yard's own zone
  yard_notes text not null default '', -- lift hours, rules; keys and gate codes are staff's only
  notes text not null default '',
  merged_into uuid,
  erased_at timestamptz,
  created_at timestamptz not null,
  version integer not null default 1,
  primary key (practice_id, id),
  foreign key (practice_id, merged_into) references parties (practice_id, id)
);
call keep_apart('parties', 'select, insert, update');

create table instruments (
  practice_id uuid not null references practices (practice_id),
  id uuid not null,
  name text not null constraint instruments_name_length check (length(name) between 1 and 100),
  model text not null default '',
  serial text not null default '',
  kind text not null constraint instruments_kind_known check (kind in ('capacitance', 'pins', 'hammer', 'thermometer', 'ultrasonic', 'hardness', 'other')),
  sensing text not null default '' constraint instruments_sensing_known check (sensing in ('', 'deep', 'shallow', 'pins')),
  zero_reset boolean not null default false,
  battery_note text not null default '',
  bought_on date,
  retired_on date,
  version integer not null default 1,
  primary key (practice_id, id)
);
call keep_apart('instruments', 'select, insert, update');

-- A scale of an instrument: where it ends and how finely it is read, in tenths of its unit.
create table scales (
  practice_id uuid not null,
  id uuid not null,
  instrument_id uuid not null,
  name text not null,
  mode text not null default '',
  low_tenths integer not null,
  high_tenths integer not null,
  step_tenths integer not null default 1 constraint scales_step_positive check (step_tenths > 0),
  timber_percent boolean not null default false, -- a calibrated timber scale; all others have no unit
  primary key (practice_id, id),
  foreign key (practice_id, instrument_id) references instruments (practice_id, id),
  constraint scales_low_below_high check (low_tenths < high_tenths)
);
call keep_apart('scales', 'select, insert, update');

create table repeat_kits (
  practice_id uuid not null,
  id uuid not null,
  instrument_id uuid not null,
  scale_id uuid not null,
  made_on date not null,
  note text not null default '',
  primary key (practice_id, id),
  foreign key (practice_id, instrument_id) references instruments (practice_id, id),
  foreign key (practice_id, scale_id) references scales (practice_id, id)
);
call keep_apart('repeat_kits', 'select, insert, update');

create table repeat_kit_readings (
  practice_id uuid not null,
  id uuid not null,
  kit_id uuid not null,
  member_id uuid not null,
  spot smallint not null,
  repeat smallint not null,
  value_tenths integer not null,
  primary key (practice_id, id),
  foreign key (practice_id, kit_id) references repeat_kits (practice_id, id),
  foreign key (practice_id, member_id) references members (practice_id, id),
  constraint repeat_kit_readings_once unique (practice_id, kit_id, member_id, spot, repeat)
);
call keep_apart('repeat_kit_readings', 'select, insert');

create table cross_reading_sets (
  practice_id uuid not null,
  id uuid not null,
  first_scale_id uuid not null,
  second_scale_id uuid not null,
  made_on date not null,
  note text not null default '',
  primary key (practice_id, id),
  foreign key (practice_id, first_scale_id) references scales (practice_id, id),
  foreign key (practice_id, second_scale_id) references scales (practice_id, id)
);
call keep_apart('cross_reading_sets', 'select, insert, update');

create table cross_readings (
  practice_id uuid not null,
  id uuid not null,
  set_id uuid not null,
  spot smallint not null,
  first_tenths integer not null,
  second_tenths integer not null,
  primary key (practice_id, id),
  foreign key (practice_id, set_id) references cross_reading_sets (practice_id, id),
  constraint cross_readings_once unique (practice_id, set_id, spot)
);
call keep_apart('cross_readings', 'select, insert');
