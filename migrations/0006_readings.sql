-- Passes and readings. `readings` rows are the truth; `pass_grids` is a read model
-- written in the same transaction and rebuilt by `practice rebuild`.

-- +goose Up
create table passes (
  practice_id uuid not null,
  id uuid not null,
  visit_id uuid not null,
  element_id uuid not null,
  plan_id uuid not null,
  hand_id uuid, -- who held the instrument
  instrument_id uuid,
  scale_id uuid,
  instrument_as_written text not null default '', -- of old reports
  hand_as_written text not null default '',
  face text not null default 'outside' constraint passes_face_known check (face in ('outside', 'inside')),
  surface text not null default '' constraint passes_surface_known check (surface in ('', 'bare gelcoat', 'antifouling', 'epoxy', 'scraped', 'laminate', 'paint')),
  dry_surface text not null default '' constraint passes_dry_surface_known check (dry_surface in ('', 'bare gelcoat', 'antifouling', 'epoxy', 'scraped', 'laminate', 'paint')),
  hours_since_wash smallint constraint passes_wash_not_negative check (hours_since_wash >= 0),
  hours_since_heat_off smallint constraint passes_heat_not_negative check (hours_since_heat_off >= 0),
  heated boolean,
  rain text not null default '' constraint passes_rain_known check (rain in ('', 'none', 'light', 'heavy')),
  salt_wiped boolean,
  zero_reset boolean,
  battery text not null default '',
  source text not null default 'metered' constraint passes_source_known check (source in ('metered', 'typed from paper', 'imported')),
  quoted boolean not null default false, -- its context did not survive: shown, never computed with
  state text not null default 'open' constraint passes_state_known check (state in ('open', 'closed', 'frozen')),
  began_at timestamptz not null,
  closed_at timestamptz,
  note text not null default '',
  version integer not null default 1,
  primary key (practice_id, id),
  foreign key (practice_id, visit_id) references visits (practice_id, id),
  foreign key (practice_id, element_id) references elements (practice_id, id),
  foreign key (practice_id, plan_id) references plans (practice_id, id),
  foreign key (practice_id, hand_id) references members (practice_id, id),
  foreign key (practice_id, instrument_id) references instruments (practice_id, id),
  foreign key (practice_id, scale_id) references scales (practice_id, id),
  constraint passes_context_or_quoted check (quoted or (instrument_id is not null and scale_id is not null and hand_id is not null))
);
call keep_apart('passes', 'select, insert, update');
create index passes_visit on passes (practice_id, visit_id);

create table block_checks (
  practice_id uuid not null,
  id uuid not null,
  pass_id uuid not null,
  block text not null constraint block_checks_block_known check (block in ('low', 'high', 'air')),
  moment text not null constraint block_checks_moment_known check (moment in ('before', 'midway', 'after')),
  value_tenths integer not null,
  at timestamptz not null,
  primary key (practice_id, id),
  foreign key (practice_id, pass_id) references passes (practice_id, id)
);
call keep_apart('block_checks', 'select, insert');
create index block_checks_pass on block_checks (practice_id, pass_id);

-- One place, one occasion. Values are twentieths of a scale unit, so that the median
-- of an even number of placements is exact; placements are tenths, as read.
create table readings (
  practice_id uuid not null,
  id uuid not null,
  pass_id uuid not null,
  place_id uuid not null,
  occasion smallint not null constraint readings_occasion_positive check (occasion > 0),
  value integer not null,
  limit_flag text not null default '' constraint readings_limit_known check (limit_flag in ('', 'below', 'above', 'range')),
  low integer, high integer, -- of a range
  as_written text not null default '',
  placements smallint[] not null default '{}' constraint readings_one_to_five_placements check (cardinality(placements) <= 5),
  surface text not null default '' constraint readings_surface_known check (surface in ('', 'bare gelcoat', 'antifouling', 'epoxy', 'scraped', 'laminate', 'paint')),
  taken_at timestamptz not null, -- the device's clock
  received_at timestamptz not null, -- the server's
  clock_offset_ms integer,
  known_before boolean not null default false, -- the hand had seen the earlier value
  blind boolean not null default false,
  follow_up boolean not null default false,
  void_reason text not null default '', -- not empty: it does not count
  supersedes_id uuid,
  supersession text not null default '' constraint readings_supersession_known check (supersession in ('', 'correct', 'replace')),
  supersession_reason text not null default '',
  current boolean not null default true, -- false once superseded
  entered_by uuid,
  primary key (practice_id, id),
  foreign key (practice_id, pass_id) references passes (practice_id, id),
  foreign key (practice_id, place_id) references places (practice_id, id),
  foreign key (practice_id, supersedes_id) references readings (practice_id, id),
  foreign key (practice_id, entered_by) references members (practice_id, id),
  constraint readings_range_in_order check ((limit_flag = 'range') = (low is not null and high is not null) and (low is null or low <= high)),
  constraint readings_supersession_told check ((supersedes_id is null) = (supersession = ''))
);
call keep_apart('readings', 'select, insert, update');
create unique index readings_one_current on readings (practice_id, pass_id, place_id, occasion) where current;
create index readings_place on readings (practice_id, place_id);

create table not_reached (
  practice_id uuid not null,
  id uuid not null,
  pass_id uuid not null,
  place_id uuid not null,
  reason text not null constraint not_reached_reason_given check (length(reason) between 1 and 200),
  at timestamptz not null,
  withdrawn_at timestamptz, -- reached after all
  primary key (practice_id, id),
  foreign key (practice_id, pass_id) references passes (practice_id, id),
  foreign key (practice_id, place_id) references places (practice_id, id)
);
call keep_apart('not_reached', 'select, insert, update');
create unique index not_reached_once on not_reached (practice_id, pass_id, place_id) where withdrawn_at is null;

create table sweeps (
  practice_id uuid not null,
  id uuid not null,
  pass_id uuid not null,
  outline jsonb not null,
  side text not null,
  low_tenths integer not null,
  typical_tenths integer not null,
  high_tenths integer not null,
  count_read integer not null,
  note text not null default '',
  primary key (practice_id, id),
  foreign key (practice_id, pass_id) references passes (practice_id, id),
  constraint sweeps_in_order check (low_tenths <= typical_tenths and typical_tenths <= high_tenths)
);
call keep_apart('sweeps', 'select, insert, update');

-- One row a pass: columns whose slot k is the vessel's place of ordinal k, so that the
-- passes of a vessel align whatever plan they followed. Shorter than the vessel's
-- places where later ones were added.
create table pass_grids (
  practice_id uuid not null,
  pass_id uuid not null,
  vessel_id uuid not null,
  taken integer[] not null default '{}', -- twentieths of a scale unit; null where not read
  flags integer[] not null default '{}', -- bits: see domain/practice/grid.go
  dry integer[] not null default '{}', -- ordinals of the dry places it is held against
  primary key (practice_id, pass_id),
  foreign key (practice_id, pass_id) references passes (practice_id, id),
  foreign key (practice_id, vessel_id) references vessels (practice_id, id)
);
call keep_apart('pass_grids', 'select, insert, update, delete');
create index pass_grids_vessel on pass_grids (practice_id, vessel_id);

-- Leave to put one object into the store: a photo or a file of readings.
create table uploads (
  practice_id uuid not null references practices (practice_id),
  id uuid not null,
  purpose text not null constraint uploads_purpose_known check (purpose in ('photo', 'readings', 'document')),
  object_key text not null,
  content_type text not null,
  size_bytes bigint not null,
  sha256 bytea not null,
  file_name text not null default '',
  granted_to uuid,
  granted_at timestamptz not null,
  expires_at timestamptz not null,
  finished_at timestamptz,
  primary key (practice_id, id),
  foreign key (practice_id, granted_to) references members (practice_id, id),
  constraint uploads_key_once unique (practice_id, object_key)
);
call keep_apart('uploads', 'select, insert, update');

create table imports (
  practice_id uuid not null,
  id uuid not null,
  upload_id uuid not null,
  pass_id uuid not null,
  kept integer not null,
  at timestamptz not null,
  primary key (practice_id, id),
  foreign key (practice_id, upload_id) references uploads (practice_id, id),
  foreign key (practice_id, pass_id) references passes (practice_id, id)
);
call keep_apart('imports', 'select, insert');

-- A pass with everything that says what its numbers are worth.
create view pass_contexts with (security_invoker = true) as
select p.practice_id, p.id, p.visit_id, v.kind as visit_kind, v.job_id, j.number as job_number, j.client_id, j.cite, j.restricted,
       j.vessel_id, p.element_id, e.boot_top_mm, p.plan_id,
       v.from_at as visit_at, v.time_zone, coalesce(s.actual_lift, s.planned_lift) as lifted_at,
       coalesce(s.date_precision, '') as date_precision, v.days_ashore_as_written,
       p.hand_id, coalesce(m.name, '') as hand_name, p.hand_as_written,
       p.instrument_id, coalesce(i.name, '') as instrument_name, coalesce(i.model, '') as instrument_model,
       coalesce(i.serial, '') as instrument_serial, coalesce(i.sensing, '') as sensing, coalesce(i.zero_reset, false) as has_zero_reset,
       p.instrument_as_written,
       p.scale_id, coalesce(c.name, '') as scale_name, coalesce(c.mode, '') as scale_mode, coalesce(c.low_tenths, 0) as low_tenths,
       coalesce(c.high_tenths, 0) as high_tenths, coalesce(c.step_tenths, 1) as step_tenths, coalesce(c.timber_percent, false) as timber_percent,
       p.face, p.surface, p.dry_surface, p.hours_since_wash, p.hours_since_heat_off, p.heated, p.rain, p.salt_wiped, p.zero_reset,
       p.battery, p.source, p.quoted, p.state, p.began_at, p.closed_at, p.note, p.version,
       w.air_decidegrees, w.humidity_permille, w.skin_port_decidegrees, w.skin_starboard_decidegrees
  from passes p
  join visits v on v.practice_id = p.practice_id and v.id = p.visit_id
  join jobs j on j.practice_id = v.practice_id and j.id = v.job_id
  join elements e on e.practice_id = p.practice_id and e.id = p.element_id
  left join spells s on s.practice_id = v.practice_id and s.id = v.spell_id
  left join members m on m.practice_id = p.practice_id and m.id = p.hand_id
  left join instruments i on i.practice_id = p.practice_id and i.id = p.instrument_id
  left join scales c on c.practice_id = p.practice_id and c.id = p.scale_id
  left join lateral (
    select n.air_decidegrees, n.humidity_permille, n.skin_port_decidegrees, n.skin_starboard_decidegrees
      from conditions n
     where n.practice_id = p.practice_id and n.visit_id = p.visit_id
     order by abs(extract(epoch from n.at - p.began_at)), n.id
     limit 1) w on true;
grant select on pass_contexts to app;

-- Letters and digits only, lower case: hull and sail numbers are looked for without their separators.
create function squeezed(t text) returns text language sql immutable parallel safe set search_path = pg_catalog, pg_temp as $$
  select regexp_replace(lower(t), '[^a-z0-9]', '', 'g')
$$;
revoke all on function squeezed(text) from public;
grant execute on function squeezed(text) to app;

-- A vessel as lists and other things name one: her silhouette, where she stands ashore
-- now, her newest pass (of jobs that are not restricted).
create view vessel_lines with (security_invoker = true) as
select v.practice_id, v.id, v.name, v.kind, v.loa_mm, v.moulded_year, v.hull_number_as_read as hull_number,
       f.figure, coalesce(s.yard, '') as yard, s.lifted_at, coalesce(s.time_zone, '') as time_zone, p.last_pass_at
  from vessels v
  left join lateral (
    select e.figure from elements e
     where e.practice_id = v.practice_id and e.vessel_id = v.id and e.kind = 'hull' and e.figure is not null order by e.id limit 1) f on true
  left join lateral (
    select y.name as yard, x.actual_lift as lifted_at, x.time_zone from spells x left join parties y on y.practice_id = x.practice_id and y.id = x.yard_id
     where x.practice_id = v.practice_id and x.vessel_id = v.id and x.cancelled_at is null and x.actual_lift is not null and x.actual_launch is null
     order by x.actual_lift desc limit 1) s on true
  left join lateral (
    select a.began_at as last_pass_at from pass_grids g
      join passes a on a.practice_id = g.practice_id and a.id = g.pass_id
      join visits w on w.practice_id = a.practice_id and w.id = a.visit_id
      join jobs j on j.practice_id = w.practice_id and j.id = w.job_id
     where g.practice_id = v.practice_id and g.vessel_id = v.id and not j.restricted
     order by a.began_at desc limit 1) p on true
 where v.merged_into is null;
grant select on vessel_lines to app;
