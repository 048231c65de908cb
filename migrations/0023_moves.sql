-- A move carries what the yard does beside lift and launch, may be one of a wash, and
-- tells the client and the yard.

-- +goose Up
alter table moves
  add column what text not null default 'lift' constraint moves_what_known check (what in ('lift', 'wash')),
  add column tells_client boolean not null default false,
  add column tells_yard boolean not null default false;
create index moves_made on moves (practice_id, made_at desc);
alter table move_lines
  add column what text not null default '' constraint move_lines_what_known check (what in ('', 'wash', 'chock', 'shift')); -- empty: a visit, or the spell where there is none
