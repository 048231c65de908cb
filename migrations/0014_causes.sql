-- What was judged of causes, and the checks that were made to tell them apart.

-- +goose Up
alter table cause_judgements
  add column ordinals integer[] not null default '{}', -- places it speaks of; none: the hull at large
  add constraint cause_judgements_judgement_known check (judgement in ('agrees', 'disagrees', 'adds')),
  add constraint cause_judgements_reason_given check (length(reason) between 1 and 2000),
  add constraint cause_judgements_cause_length check (length(cause) between 1 and 100);
create index cause_judgements_vessel on cause_judgements (practice_id, vessel_id);

-- A check that was made and what came of it: a sign of domain/cause. An artefact is
-- excluded by one of these, with its name and day. It is withdrawn, never rewritten.
create table cause_checks (
  practice_id uuid not null,
  id uuid not null,
  vessel_id uuid not null,
  visit_id uuid not null,
  outcome text not null constraint cause_checks_outcome_length check (length(outcome) between 1 and 60),
  ordinals integer[] not null default '{}', -- places it was made at; none: the hull at large
  finding_id uuid, -- what was found by it
  note text not null default '' constraint cause_checks_note_length check (length(note) <= 2000),
  by_id uuid,
  at timestamptz not null,
  withdrawn_at timestamptz,
  withdrawn_reason text not null default '',
  primary key (practice_id, id),
  foreign key (practice_id, vessel_id) references vessels (practice_id, id),
  foreign key (practice_id, visit_id) references visits (practice_id, id),
  foreign key (practice_id, finding_id) references findings (practice_id, id),
  foreign key (practice_id, by_id) references members (practice_id, id),
  constraint cause_checks_withdrawal_told check ((withdrawn_at is null) = (withdrawn_reason = ''))
);
call keep_apart('cause_checks', 'select, insert, update');
create index cause_checks_vessel on cause_checks (practice_id, vessel_id);
