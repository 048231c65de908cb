-- The door's functions are for `app` alone, and it reads nothing but its own tables.

-- +goose Up
-- The migrations' own table is the owner's; whether a program and its database fit is asked here.
-- +goose StatementBegin
create function door.schema_version()
returns bigint language sql stable security definer set search_path = public, pg_temp as $$
  select max(version_id) from goose_db_version where is_applied
$$;
-- +goose StatementEnd
revoke all on all functions in schema door from public;
grant execute on all functions in schema door to app;
