-- Papers that somebody else issued, kept with the job that they belong to: tonnage, class
-- and code documents are an authorised person's, and are stored here and never made.

-- +goose Up
create table papers (
  practice_id uuid not null,
  id uuid not null,
  job_id uuid not null,
  upload_id uuid not null,
  kind text not null constraint papers_kind_known check (kind in ('tonnage', 'code', 'class', 'registration', 'other')),
  title text not null constraint papers_title_given check (length(title) between 1 and 300),
  issued_by text not null constraint papers_issuer_given check (length(issued_by) between 1 and 300),
  issued_on date,
  ends_on date,
  number text not null default '',
  noted_at timestamptz not null,
  noted_by uuid,
  primary key (practice_id, id),
  foreign key (practice_id, job_id) references jobs (practice_id, id),
  foreign key (practice_id, upload_id) references uploads (practice_id, id),
  foreign key (practice_id, noted_by) references members (practice_id, id),
  constraint papers_upload_once unique (practice_id, upload_id),
  constraint papers_in_order check (ends_on >= issued_on)
);
call keep_apart('papers', 'select, insert');
create index papers_job on papers (practice_id, job_id);
