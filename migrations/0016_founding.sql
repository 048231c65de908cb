-- A practice begins with somebody whom nobody of the practice invited.

-- +goose Up
alter table invitations alter column invited_by drop not null; -- nobody's: the one a practice was founded with
drop function door.practice_ids(); -- no program asked it

-- practice_found makes a practice with the invitation of its first principal, which is
-- all that can be done in a practice without members.
-- +goose StatementBegin
create function door.practice_found(p uuid, name text, zone text, currency text, invented boolean,
  invitation uuid, address text, person text, roles text[], token bytea, now timestamptz, until timestamptz)
returns void language sql security definer set search_path = public, pg_temp as $$
  insert into practices (practice_id, name, time_zone, currency, invented, created_at) values (p, name, zone, currency, invented, now);
  insert into heads (practice_id) values (p);
  insert into invitations (practice_id, id, email, name, roles, token_sha256, created_at, expires_at)
  values (p, invitation, lower(address), person, roles, token, now, until);
$$;
-- +goose StatementEnd
revoke all on function door.practice_found from public;
grant execute on function door.practice_found to app;
