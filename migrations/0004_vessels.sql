-- Vessels: what they are, where on them a place lies, what they are made of, and when they stood ashore.

-- +goose Up
create table vessels (
  practice_id uuid not null references practices (practice_id),
  id uuid not null,
  name text not null constraint vessels_name_length check (length(name) between 1 and 200),
  kind text not null default '', -- in words: fin-keel sloop
  builder text not null default '',
  model text not null default '',
  yard_number text not null default '',
  moulded_year smallint constraint vessels_moulded_year_plausible check (moulded_year between 1900 and 2200),
  hull_number_as_read text not null default '', -- HIN or CIN exactly as it stands on the hull
  hull_number_where text not null default '',
  hull_number_altered boolean not null default false,
  registry text not null default '',
  official_number text not null default '',
  sail_number text not null default '',
  loa_mm integer, hull_length_mm integer, lwl_mm integer, beam_mm integer, draught_mm integer,
  displacement_kg integer, underbody_area_m2 double precision constraint vessels_underbody_area_plausible check (underbody_area_m2 > 0 and underbody_area_m2 < 10000),
  water text not null default '' constraint vessels_water_known check (water in ('', 'salt', 'brackish', 'fresh')),
  months_afloat smallint,
  notes text not null default '',
  merged_into uuid,
  created_at timestamptz not null,
  version integer not null default 1,
  primary key (practice_id, id),
  foreign key (practice_id, merged_into) references vessels (practice_id, id)
);
call keep_apart('vessels', 'select, insert, update');
create index vessels_name on vessels (practice_id, lower(name), id);

-- Every name and number a vessel is looked for by: former names too.
create table vessel_names (
  practice_id uuid not null,
  id uuid not null,
  vessel_id uuid not null,
  kind text not null constraint vessel_names_kind_known check (kind in ('name', 'former name', 'hull number', 'official number', 'sail number', 'engine serial')),
  name text not null,
  until_year smallint,
  primary key (practice_id, id),
  foreign key (practice_id, vessel_id) references vessels (practice_id, id)
);
call keep_apart('vessel_names', 'select, insert, update, delete');
create index vessel_names_of on vessel_names (practice_id, vessel_id);

create table party_roles (
  practice_id uuid not null,
  id uuid not null,
  party_id uuid not null,
  role text not null constraint party_roles_role_known check (role in ('client', 'payer', 'owner', 'buyer', 'seller', 'broker', 'insurer', 'lender', 'yard', 'solicitor', 'builder', 'other')),
  vessel_id uuid not null,
  job_id uuid, -- key added with the jobs
  from_on date,
  to_on date,
  primary key (practice_id, id),
  foreign key (practice_id, party_id) references parties (practice_id, id),
  foreign key (practice_id, vessel_id) references vessels (practice_id, id)
);
call keep_apart('party_roles', 'select, insert, update');
create index party_roles_vessel on party_roles (practice_id, vessel_id);

create table elements (
  practice_id uuid not null,
  id uuid not null,
  vessel_id uuid not null,
  kind text not null constraint elements_kind_known check (kind in ('hull', 'keel', 'rudder', 'deck', 'transom', 'bulkhead', 'other')),
  name text not null default '',
  figure jsonb, -- the handful of dimensions its figure is drawn from, metres
  boot_top_mm integer, -- how far the top of the boot-top lies above the datum
  version integer not null default 1,
  primary key (practice_id, id),
  foreign key (practice_id, vessel_id) references vessels (practice_id, id)
);
call keep_apart('elements', 'select, insert, update');
create index elements_vessel on elements (practice_id, vessel_id);

create table datums (
  practice_id uuid not null,
  id uuid not null,
  element_id uuid not null,
  datum_version integer not null,
  mark text not null, -- the physical mark it is measured from
  offset_to_painted_waterline_mm integer,
  note text not null default '',
  valid_from date,
  primary key (practice_id, id),
  foreign key (practice_id, element_id) references elements (practice_id, id),
  constraint datums_version_once unique (practice_id, element_id, datum_version)
);
call keep_apart('datums', 'select, insert');

-- A spot that is read again. Its label and its ordinal in the vessel are for ever.
create table places (
  practice_id uuid not null,
  id uuid not null,
  vessel_id uuid not null,
  element_id uuid not null,
  ordinal integer not null constraint places_ordinal_positive check (ordinal > 0), -- its slot in every column of readings
  label text not null constraint places_label_length check (length(label) between 1 and 20),
  side text not null constraint places_side_known check (side in ('port', 'starboard', 'centre')),
  station smallint, -- numbered distance along
  row_no smallint, -- numbered distance down
  along_mm integer not null, -- forward of the aft perpendicular
  down_mm integer not null, -- down the skin below the datum; negative above it
  shifted_because text not null default '',
  position_error_mm integer not null default 0, -- for places told in words only
  retired_at timestamptz,
  primary key (practice_id, id),
  foreign key (practice_id, vessel_id) references vessels (practice_id, id),
  foreign key (practice_id, element_id) references elements (practice_id, id),
  constraint places_ordinal_once unique (practice_id, vessel_id, ordinal),
  constraint places_label_once unique (practice_id, element_id, side, label)
);
call keep_apart('places', 'select, insert, update');

create table plans (
  practice_id uuid not null,
  id uuid not null,
  vessel_id uuid not null,
  plan_version integer not null,
  kind text not null default 'grid' constraint plans_kind_known check (kind in ('grid', 'sweep')),
  note text not null default '',
  dry_change_reason text not null default '', -- why the dry places differ from the version before
  created_at timestamptz not null,
  created_by uuid,
  primary key (practice_id, id),
  foreign key (practice_id, vessel_id) references vessels (practice_id, id),
  foreign key (practice_id, created_by) references members (practice_id, id),
  constraint plans_version_once unique (practice_id, vessel_id, plan_version)
);
call keep_apart('plans', 'select, insert');

create table plan_places (
  practice_id uuid not null,
  plan_id uuid not null,
  place_id uuid not null,
  position integer not null, -- order of reading
  dry boolean not null default false,
  targeted boolean not null default false, -- over an anomaly: kept out of averages
  primary key (practice_id, plan_id, place_id),
  foreign key (practice_id, plan_id) references plans (practice_id, id),
  foreign key (practice_id, place_id) references places (practice_id, id),
  constraint plan_places_position_once unique (practice_id, plan_id, position)
);
call keep_apart('plan_places', 'select, insert');

-- Construction, coating and what lies behind, as outlines on an element.
create table layers (
  practice_id uuid not null,
  id uuid not null,
  element_id uuid not null,
  kind text not null constraint layers_kind_known check (kind in ('construction', 'coating', 'behind')),
  what text not null,
  side text constraint layers_side_known check (side in ('port', 'starboard', 'centre')), -- null: both sides
  outline jsonb not null default '[]', -- [[along mm, down mm], …]; empty: the whole element
  detail jsonb not null default '{}',
  how_known text not null default '',
  valid_from date,
  valid_to date,
  version integer not null default 1,
  primary key (practice_id, id),
  foreign key (practice_id, element_id) references elements (practice_id, id)
);
call keep_apart('layers', 'select, insert, update');
create index layers_element on layers (practice_id, element_id);

create table events (
  practice_id uuid not null,
  id uuid not null,
  vessel_id uuid not null,
  kind text not null constraint events_kind_known check (kind in ('built', 'grounding', 'repair', 'treatment', 'collision', 'refit', 'other')), -- never a lift or a launch
  what text not null,
  from_on date not null, -- a past event may be a year or a month: first and last possible day
  to_on date not null,
  as_written text not null default '',
  source text not null default '',
  detail jsonb not null default '{}',
  primary key (practice_id, id),
  foreign key (practice_id, vessel_id) references vessels (practice_id, id),
  constraint events_in_order check (from_on <= to_on)
);
call keep_apart('events', 'select, insert, update');
create index events_vessel on events (practice_id, vessel_id);

-- The only source of days ashore. Planned and actual; none overlap for a vessel.
create table spells (
  practice_id uuid not null,
  id uuid not null,
  vessel_id uuid not null,
  yard_id uuid,
  time_zone text not null, -- the yard's
  planned_lift timestamptz, planned_launch timestamptz,
  actual_lift timestamptz, actual_launch timestamptz,
  asked_only boolean not null default false, -- the yard has not yet agreed
  held text not null default '' constraint spells_held_known check (held in ('', 'slings', 'props', 'cradle', 'shed', 'dock')),
  under_cover boolean,
  washed_at timestamptz,
  date_precision text not null default 'instant' constraint spells_precision_known check (date_precision in ('instant', 'day', 'month', 'year')),
  as_written text not null default '',
  source text not null default '',
  notes text not null default '',
  cancelled_at timestamptz,
  version integer not null default 1,
  during tstzrange not null generated always as (
    case when cancelled_at is not null then 'empty'::tstzrange
         when coalesce(actual_launch, planned_launch) <= coalesce(actual_lift, planned_lift) then 'empty'::tstzrange
         else tstzrange(coalesce(actual_lift, planned_lift), coalesce(actual_launch, planned_launch), '[)') end) stored,
  primary key (practice_id, id),
  foreign key (practice_id, vessel_id) references vessels (practice_id, id),
  foreign key (practice_id, yard_id) references parties (practice_id, id),
  constraint spells_has_lift check (coalesce(actual_lift, planned_lift) is not null),
  constraint spells_launch_after_lift check (cancelled_at is not null or not isempty(during)),
  constraint spells_apart exclude using gist (practice_id with =, vessel_id with =, during with &&)
);
call keep_apart('spells', 'select, insert, update');
