-- How many recommendations a letter left out, since other jobs' terms keep them to their own
-- client: what the surveyor saw of it when it was written.

-- +goose Up
alter table seen_letters add column left_out integer not null default 0 constraint seen_letters_left_out_counted check (left_out >= 0);
