-- When a key was last used: a day, so that a program that asks all day writes it once.

-- +goose Up
-- +goose StatementBegin
alter table api_keys add column last_used_on date;

-- api_key_used is asked by the way in when a key opens something: no row moves where the day
-- is noted already, or a later one is.
create function door.api_key_used(key bytea, day date)
returns void language sql security definer set search_path = public, pg_temp as $$
  update api_keys k set last_used_on = day
   where k.key_sha256 = key and k.revoked_at is null and (k.last_used_on is null or k.last_used_on < day)
$$;
revoke execute on function door.api_key_used(bytea, date) from public;
grant execute on function door.api_key_used(bytea, date) to app;
-- +goose StatementEnd
