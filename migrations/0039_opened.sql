-- Whoever holds a link that waited for money is told once that it opens.

-- +goose Up
alter table shares add column told_open_at timestamptz;
