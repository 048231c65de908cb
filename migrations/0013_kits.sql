-- What a practice measures of itself. A kit or a set is kept whole and never changed:
-- a correction is another that takes its place, with a reason.

-- +goose Up
alter table repeat_kits
  add column recorded_by uuid,
  add column recorded_at timestamptz not null default now(),
  add foreign key (practice_id, recorded_by) references members (practice_id, id);
revoke update on repeat_kits from app;
create index repeat_kits_scale on repeat_kits (practice_id, scale_id);

alter table repeat_kit_readings
  add constraint repeat_kit_readings_spot_counted check (spot > 0),
  add constraint repeat_kit_readings_repeat_counted check (repeat > 0);

-- A kit whose place another has taken no longer counts.
create table repeat_kit_replacements (
  practice_id uuid not null,
  kit_id uuid not null,
  by_kit_id uuid not null,
  because text not null constraint repeat_kit_replacements_reason_given check (length(because) between 1 and 500),
  constraint repeat_kit_replacements_once primary key (practice_id, kit_id),
  foreign key (practice_id, kit_id) references repeat_kits (practice_id, id),
  foreign key (practice_id, by_kit_id) references repeat_kits (practice_id, id)
);
call keep_apart('repeat_kit_replacements', 'select, insert');

alter table cross_reading_sets
  add column effect_tenths integer not null constraint cross_reading_sets_effect_positive check (effect_tenths > 0), -- of the second scale: the least change that matters, said before the fit is seen
  add column recorded_by uuid,
  add column recorded_at timestamptz not null default now(),
  add foreign key (practice_id, recorded_by) references members (practice_id, id);
revoke update on cross_reading_sets from app;

alter table cross_readings
  add constraint cross_readings_spot_counted check (spot > 0);

create table cross_reading_replacements (
  practice_id uuid not null,
  set_id uuid not null,
  by_set_id uuid not null,
  because text not null constraint cross_reading_replacements_reason_given check (length(because) between 1 and 500),
  constraint cross_reading_replacements_once primary key (practice_id, set_id),
  foreign key (practice_id, set_id) references cross_reading_sets (practice_id, id),
  foreign key (practice_id, by_set_id) references cross_reading_sets (practice_id, id)
);
call keep_apart('cross_reading_replacements', 'select, insert');
