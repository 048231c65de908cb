-- Rules of the diary: how many windows a permission allows, acts that were done without a
-- recorded permission, marks on the hull, who judged a member competent, the practice's own
-- figures in place of the trade's, and proposed visits that were declined.

-- +goose Up
alter table permissions
  add column windows integer, -- of scraping: how many may be bared in all; null: no number was said
  add constraint permissions_windows_range check (windows between 1 and 1000),
  add constraint permissions_windows_of_scraping check (windows is null or what = 'scrape');

-- What was done though the permission for it was missing, unanswered, refused or used up.
-- Nothing that was noted is lost: the thing is kept, and this says what is to be explained.
create table acts_without_leave (
  practice_id uuid not null,
  id uuid not null,
  job_id uuid not null,
  what text not null, -- the permission, as permissions name it
  thing text not null, -- the kind of thing kept, as ids carry it
  thing_id uuid not null,
  stood text not null, -- what stood in the way, in words, when it was kept
  noted_at timestamptz, -- by the device's clock, where it was noted out of reach of the service
  kept_at timestamptz not null,
  by_id uuid,
  reason text not null default '' constraint acts_without_leave_reason_length check (length(reason) <= 1000), -- empty: asked for
  reason_by uuid,
  reason_at timestamptz,
  primary key (practice_id, id),
  foreign key (practice_id, job_id) references jobs (practice_id, id),
  foreign key (practice_id, by_id) references members (practice_id, id),
  foreign key (practice_id, reason_by) references members (practice_id, id),
  constraint acts_without_leave_once unique (practice_id, thing, thing_id, what)
);
call keep_apart('acts_without_leave', 'select, insert, update');
create index acts_without_leave_job on acts_without_leave (practice_id, job_id);

-- Marks made on the hull: chalk, tape, wax pencil. They are removed, and by whom is kept.
create table hull_marks (
  practice_id uuid not null,
  id uuid not null,
  visit_id uuid not null,
  made_with text not null constraint hull_marks_made_with_known check (made_with in ('chalk', 'tape', 'wax pencil')),
  where_on text not null constraint hull_marks_where_given check (length(where_on) between 1 and 400),
  made_at timestamptz not null,
  made_by uuid,
  removed_at timestamptz,
  removed_by uuid,
  primary key (practice_id, id),
  foreign key (practice_id, visit_id) references visits (practice_id, id),
  foreign key (practice_id, made_by) references members (practice_id, id),
  foreign key (practice_id, removed_by) references members (practice_id, id)
);
call keep_apart('hull_marks', 'select, insert, update');
create index hull_marks_visit on hull_marks (practice_id, visit_id);

alter table attendance_notes add column previous_surveyor boolean not null default false; -- it was talked over with whoever surveyed her before

-- A reason given with a move holds as long as the move does.
alter table visit_overrides
  add column move_id uuid,
  add foreign key (practice_id, move_id) references moves (practice_id, id);

-- Who judged when whether a member is competent for a kind of job, and on what grounds.
-- The newest of a kind counts; the older ones stay.
create table competence_judgements (
  practice_id uuid not null,
  id uuid not null,
  member_id uuid not null,
  kind text not null,
  competent boolean not null,
  judged_on date not null,
  judged_by uuid,
  grounds text not null default '' constraint competence_judgements_grounds_length check (length(grounds) <= 500),
  at timestamptz not null,
  primary key (practice_id, id),
  foreign key (practice_id, member_id) references members (practice_id, id),
  foreign key (practice_id, judged_by) references members (practice_id, id)
);
call keep_apart('competence_judgements', 'select, insert');
create index competence_judgements_member on competence_judgements (practice_id, member_id, kind, at);

-- A figure of the practice's own in place of the trade's. The newest of a code counts; the
-- older ones stay. No figure: the trade's counts again from then on.
create table practice_figures (
  practice_id uuid not null references practices (practice_id),
  id uuid not null,
  code text not null,
  figure jsonb, -- of a window [first, last], of one figure [it]; of a rule of the next look [[from months, from days, to months, to days], …]
  reason text not null constraint practice_figures_reason_said check (length(btrim(reason)) between 1 and 500),
  by_id uuid,
  at timestamptz not null,
  primary key (practice_id, id),
  foreign key (practice_id, by_id) references members (practice_id, id)
);
call keep_apart('practice_figures', 'select, insert');
create index practice_figures_code on practice_figures (practice_id, code, at desc, id desc);

-- A proposed visit that nobody wants, and why; taken back it is proposed again.
create table declined_visits (
  practice_id uuid not null,
  id uuid not null,
  job_id uuid not null,
  spell_id uuid not null,
  line text not null, -- which of the job's proposals
  reason text not null constraint declined_visits_reason_said check (length(btrim(reason)) between 1 and 500),
  by_id uuid,
  at timestamptz not null,
  taken_back_at timestamptz,
  taken_back_by uuid,
  primary key (practice_id, id),
  foreign key (practice_id, job_id) references jobs (practice_id, id),
  foreign key (practice_id, spell_id) references spells (practice_id, id),
  foreign key (practice_id, by_id) references members (practice_id, id),
  foreign key (practice_id, taken_back_by) references members (practice_id, id)
);
call keep_apart('declined_visits', 'select, insert, update');
create unique index declined_visits_once on declined_visits (practice_id, job_id, spell_id, line) where taken_back_at is null;
