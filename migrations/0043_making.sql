-- How far the job has got that makes a report's page and PDF: figures for whoever waits for
-- it. They prove nothing and change nothing of what is kept.

-- +goose Up
create table report_makings (
  practice_id uuid not null,
  report_id uuid not null,
  step text not null constraint report_makings_step_known check (step in ('page', 'PDF')),
  parts integer not null,
  of_parts integer not null,
  photos integer not null,
  of_photos integer not null,
  pages integer not null,
  at timestamptz not null,
  primary key (practice_id, report_id),
  foreign key (practice_id, report_id) references reports (practice_id, id)
);
call keep_apart('report_makings', 'select, insert, update');
