-- +goose Up
-- A visit known to a month or a year may belong to a time ashore: days ashore are then known
-- to a range, from the last day of the lift to the first of the visit at least, and from the
-- first of the lift to the last of the visit at most.
alter table visits drop constraint visits_range_without_spell;
