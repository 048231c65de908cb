-- Findings with measurements of their own kind, what closes a recommendation, notices of
-- danger, letters that say what was seen, schedules of whole-boat surveys, values,
-- attendance notes, and photos with what was drawn over them.

-- +goose Up
alter table findings
  add column form text not null default '' constraint findings_form_known check (form in ('', 'blisters', 'sounding', 'cracks', 'weep', 'fitting', 'bond', 'hardness', 'thickness', 'core', 'thermal', 'timber')), -- what `measured` holds; empty: as the surveyor put it
  add column again_of uuid, -- the earlier finding that this one looked at again
  add constraint findings_side_known check (side in ('port', 'starboard', 'centre')),
  add constraint findings_outline_is_list check (jsonb_typeof(outline) = 'array'),
  add constraint findings_measured_is_object check (jsonb_typeof(measured) = 'object'),
  add foreign key (practice_id, again_of) references findings (practice_id, id);
create index findings_again_of on findings (practice_id, again_of) where again_of is not null;
create index findings_inside_of on findings (practice_id, inside_of) where inside_of is not null;

-- What shows how far a recommendation has got. It is added, never rewritten.
alter table recommendation_evidence
  add column visit_id uuid, -- at which it was seen
  add column upload_id uuid, -- an invoice as a file
  add column by_id uuid,
  add column told_on date, -- the day of the invoice, or of the word
  add constraint recommendation_evidence_kind_known check (kind in ('photo', 'invoice', 'reinspection', 'word')),
  add constraint recommendation_evidence_text_length check (length(text) <= 2000),
  add foreign key (practice_id, visit_id) references visits (practice_id, id),
  add foreign key (practice_id, upload_id) references uploads (practice_id, id),
  add foreign key (practice_id, by_id) references members (practice_id, id);
create index recommendation_evidence_of on recommendation_evidence (practice_id, recommendation_id);

-- A notice limited to one danger. Once sent it stays as it was sent.
create table danger_notices (
  practice_id uuid not null,
  id uuid not null,
  recommendation_id uuid not null,
  job_id uuid not null,
  text text not null constraint danger_notices_text_length check (length(text) between 1 and 4000),
  drafted_by uuid,
  drafted_at timestamptz not null,
  sent_by uuid,
  sent_at timestamptz,
  version integer not null default 1,
  primary key (practice_id, id),
  foreign key (practice_id, recommendation_id) references recommendations (practice_id, id),
  foreign key (practice_id, job_id) references jobs (practice_id, id),
  foreign key (practice_id, drafted_by) references members (practice_id, id),
  foreign key (practice_id, sent_by) references members (practice_id, id)
);
call keep_apart('danger_notices', 'select, insert, update');
create index danger_notices_job on danger_notices (practice_id, job_id);

-- Who was told of it: spoken to first, then in writing.
create table danger_told (
  practice_id uuid not null,
  notice_id uuid not null,
  position smallint not null,
  name text not null constraint danger_told_name_length check (length(name) between 1 and 200),
  role text not null constraint danger_told_role_known check (role in ('owner', 'client', 'yard', 'on board', 'harbour', 'other')),
  spoken_at timestamptz, -- null: in writing alone
  how text not null default '' constraint danger_told_how_known check (how in ('', 'in person', 'by telephone', 'by radio')),
  email text not null default '',
  primary key (practice_id, notice_id, position),
  foreign key (practice_id, notice_id) references danger_notices (practice_id, id)
);
call keep_apart('danger_told', 'select, insert');

-- A letter to an insurer or lender: what it said when it was written, for good.
create table seen_letters (
  practice_id uuid not null,
  id uuid not null,
  vessel_id uuid not null,
  job_id uuid not null,
  addressed_to text not null constraint seen_letters_addressed check (length(addressed_to) between 1 and 400),
  reader text not null constraint seen_letters_reader_known check (reader in ('insurer', 'lender')),
  reference text not null default '' constraint seen_letters_reference_length check (length(reference) <= 200),
  content jsonb not null,
  sha256 bytea not null,
  by_id uuid,
  at timestamptz not null,
  primary key (practice_id, id),
  foreign key (practice_id, vessel_id) references vessels (practice_id, id),
  foreign key (practice_id, job_id) references jobs (practice_id, id),
  foreign key (practice_id, by_id) references members (practice_id, id)
);
call keep_apart('seen_letters', 'select, insert');
create index seen_letters_vessel on seen_letters (practice_id, vessel_id);

-- What a practice examines in a whole-boat survey is its own: areas with their items.
-- One that is left out later is retired, because visits have examined it.
create table schedules (
  practice_id uuid not null references practices (practice_id),
  version integer not null default 1,
  primary key (practice_id)
);
call keep_apart('schedules', 'select, insert, update');
alter table schedule_areas
  add column retired boolean not null default false,
  add constraint schedule_areas_name_length check (length(name) between 1 and 200);
alter table schedule_items
  add column retired boolean not null default false,
  add constraint schedule_items_name_length check (length(name) between 1 and 200);
create index schedule_items_area on schedule_items (practice_id, area_id);

-- An item keeps the words it was examined under.
alter table item_examinations
  add column area text not null default '',
  add column name text not null default '',
  add column finding_id uuid,
  add column photo_id uuid,
  add column by_id uuid,
  add column at timestamptz not null default now(),
  add constraint item_examinations_why_given check (examined = 'examined' or why <> ''),
  add constraint item_examinations_length check (length(why) <= 1000 and length(condition) <= 400 and length(note) <= 4000),
  add constraint item_examinations_once unique (practice_id, visit_id, item_id),
  add foreign key (practice_id, finding_id) references findings (practice_id, id),
  add foreign key (practice_id, photo_id) references photos (practice_id, id),
  add foreign key (practice_id, by_id) references members (practice_id, id);
alter table item_examinations alter column at drop default;

-- An opinion of value on a day, one a job.
create table valuations (
  practice_id uuid not null,
  job_id uuid not null,
  figure_minor bigint not null constraint valuations_figure_positive check (figure_minor > 0),
  currency text not null constraint valuations_currency_code check (currency ~ '^[A-Z]{3}$'),
  basis text not null constraint valuations_basis_length check (length(basis) between 1 and 1000),
  value_on date not null,
  said text not null default '' constraint valuations_said_length check (length(said) <= 4000),
  comparables jsonb not null default '[]' constraint valuations_comparables_are_list check (jsonb_typeof(comparables) = 'array'), -- [{"what": …, "is": …}]
  by_id uuid,
  at timestamptz not null,
  version integer not null default 1,
  primary key (practice_id, job_id),
  foreign key (practice_id, job_id) references jobs (practice_id, id),
  foreign key (practice_id, by_id) references members (practice_id, id)
);
call keep_apart('valuations', 'select, insert, update');

-- What was said to whom, when. Struck out with a reason, never rewritten.
alter table attendance_notes
  add column written_at timestamptz not null default now(),
  add column struck_at timestamptz,
  add column struck_reason text not null default '',
  add constraint attendance_notes_kind_known check (kind in ('note', 'call', 'talk', 'verbal outline', 'message')),
  add constraint attendance_notes_whom_length check (length(with_whom) <= 400),
  add constraint attendance_notes_text_length check (length(text) between 1 and 8000),
  add constraint attendance_notes_strike_told check ((struck_at is null) = (struck_reason = ''));
alter table attendance_notes alter column written_at drop default;
grant update on attendance_notes to app;
create index attendance_notes_job on attendance_notes (practice_id, job_id, at);

alter table photos
  add column device_upload uuid, -- a JPEG made on the device from an original that is kept as it came
  add column clock_ahead_seconds integer, -- how far the camera's clock was ahead of the phone's; taken_at has it taken off
  add constraint photos_annotation_is_list check (jsonb_typeof(annotation) = 'array'),
  add foreign key (practice_id, device_upload) references uploads (practice_id, id);
alter table uploads add column swept_at timestamptz; -- nobody finished or used it in time: its object is gone

-- +goose StatementBegin
create function danger_notices_stay_as_sent() returns trigger language plpgsql set search_path = public, pg_temp as $$
begin
  if old.sent_at is not null then
    raise exception 'a notice that was sent is never changed' using errcode = '23514', constraint = 'danger_notices_stay_as_sent';
  end if;
  return new;
end
$$;
create trigger danger_notices_stay_as_sent before update on danger_notices for each row execute function danger_notices_stay_as_sent();
-- +goose StatementEnd
