-- +goose Up
-- Of two jobs without a client nobody knows that they are one client's: what one of them found
-- is told in the other only where its terms allow it. A job's own evidence needs no leave.
-- +goose StatementBegin
create or replace function job_told(job_client uuid, cite text, for_client uuid)
returns boolean language sql immutable security invoker set search_path = public, pg_temp as $$
  select coalesce(job_client = for_client, false) or cite <> 'this client only'
$$;
-- +goose StatementEnd
