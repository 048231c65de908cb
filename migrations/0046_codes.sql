-- A link may ask for a code from its address before it opens the report itself.

-- +goose Up
alter table shares add column asks_code boolean not null default false;
