-- A report rests on passes of earlier visits too, where it says how its own stand beside them.

-- +goose Up
-- compared tells an earlier pass that the report subtracts from; the others it prints.
alter table report_passes add column compared boolean not null default false;
