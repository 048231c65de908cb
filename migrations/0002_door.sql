-- What happens before a practice is known: sign-in, sessions, keys, invitations, links.

-- +goose Up
-- +goose StatementBegin
create function door.practice_create(p uuid, name text, zone text, currency text, invented boolean, now timestamptz)
returns void language sql security definer set search_path = public, pg_temp as $$
  insert into practices (practice_id, name, time_zone, currency, invented, created_at) values (p, name, zone, currency, invented, now);
  insert into heads (practice_id) values (p);
$$;
-- practice_ids is for commands that go through every practice, one at a time.
create function door.practice_ids()
returns setof uuid language sql stable security definer set search_path = public, pg_temp as $$
  select practice_id from practices order by practice_id
$$;
create function door.account_by_email(address text)
returns table (id uuid, password_hash text, disabled boolean) language sql stable security definer set search_path = public, pg_temp as $$
  select a.id, a.password_hash, a.disabled_at is not null from accounts a where a.email = lower(address)
$$;
-- account_create keeps the account that has this address already and returns its id.
create function door.account_create(new_id uuid, address text, hash text, now timestamptz)
returns uuid language sql security definer set search_path = public, pg_temp as $$
  with made as (
    insert into accounts (id, email, password_hash, created_at) values (new_id, lower(address), hash, now)
    on conflict (email) do nothing returning id
  )
  select id from made union all select a.id from accounts a where a.email = lower(address) limit 1
$$;
create function door.account_rehash(account uuid, hash text)
returns void language sql security definer set search_path = public, pg_temp as $$
  update accounts set password_hash = hash where id = account
$$;
create function door.memberships(account uuid)
returns table (practice_id uuid, practice_name text, member_id uuid, member_name text, roles text[]) language sql stable security definer set search_path = public, pg_temp as $$
  select m.practice_id, p.name, m.id, m.name, m.roles
    from members m join practices p using (practice_id) join accounts a on a.id = m.account_id
   where m.account_id = account and m.left_at is null and a.disabled_at is null
   order by p.name, m.practice_id
$$;
create function door.session_start(new_id uuid, account uuid, practice uuid, member uuid, token bytea, now timestamptz, until timestamptz)
returns void language sql security definer set search_path = public, pg_temp as $$
  insert into sessions (id, account_id, practice_id, member_id, created_at, expires_at) values (new_id, account, practice, member, now, until);
  insert into session_tokens (token_sha256, practice_id, session_id, generation) values (token, practice, new_id, 0);
$$;
-- session_rotate trades a refresh token for its successor. The current token moves the
-- family on; its parent (a lost reply) gets the same successor again; anything older
-- is a stolen token and ends the family. No row: the token opens nothing.
create function door.session_rotate(token bytea, successor bytea, now timestamptz)
returns table (session_id uuid, account_id uuid, practice_id uuid, member_id uuid, roles text[]) language plpgsql security definer set search_path = public, pg_temp as $$
#variable_conflict use_column
declare
  used session_tokens;
  s sessions;
begin
  select * into used from session_tokens t where t.token_sha256 = token;
  if not found then return; end if;
  select * into s from sessions x where x.practice_id = used.practice_id and x.id = used.session_id for update;
  if s.ended_at is not null or s.expires_at <= now then return; end if;
  if used.generation < s.generation - 1 then
    update sessions set ended_at = now where practice_id = s.practice_id and id = s.id;
    return;
  end if;
  if used.generation = s.generation then
    insert into session_tokens (token_sha256, practice_id, session_id, generation) values (successor, s.practice_id, s.id, s.generation + 1);
    update sessions set generation = s.generation + 1 where practice_id = s.practice_id and id = s.id;
  end if;
  return query select s.id, s.account_id, s.practice_id, m.id, m.roles
    from members m join accounts a on a.id = m.account_id
   where m.practice_id = s.practice_id and m.id = s.member_id and m.left_at is null and a.disabled_at is null;
end
$$;
create function door.session_member(session uuid, now timestamptz)
returns table (practice_id uuid, member_id uuid, roles text[]) language sql stable security definer set search_path = public, pg_temp as $$
  select s.practice_id, m.id, m.roles
    from sessions s join members m on m.practice_id = s.practice_id and m.id = s.member_id join accounts a on a.id = s.account_id
   where s.id = session and s.ended_at is null and s.expires_at > now and m.left_at is null and a.disabled_at is null
$$;
create function door.session_end(session uuid, now timestamptz)
returns void language sql security definer set search_path = public, pg_temp as $$
  update sessions set ended_at = now where id = session and ended_at is null
$$;
create function door.session_end_by_token(token bytea, now timestamptz)
returns void language sql security definer set search_path = public, pg_temp as $$
  update sessions set ended_at = now where ended_at is null and id = (select session_id from session_tokens where token_sha256 = token)
$$;
create function door.api_key_member(key bytea)
returns table (practice_id uuid, key_id uuid, member_id uuid, roles text[]) language sql stable security definer set search_path = public, pg_temp as $$
  select k.practice_id, k.id, m.id, m.roles
    from api_keys k join members m on m.practice_id = k.practice_id and m.id = k.member_id join accounts a on a.id = m.account_id
   where k.key_sha256 = key and k.revoked_at is null and m.left_at is null and a.disabled_at is null
$$;
create function door.invitation_by_token(token bytea, now timestamptz)
returns table (practice_id uuid, practice_name text, id uuid, email text, name text, roles text[]) language sql stable security definer set search_path = public, pg_temp as $$
  select i.practice_id, p.name, i.id, i.email, i.name, i.roles
    from invitations i join practices p using (practice_id)
   where i.token_sha256 = token and i.accepted_at is null and i.expires_at > now
$$;
create function door.reset_start(account uuid, token bytea, now timestamptz, until timestamptz)
returns void language sql security definer set search_path = public, pg_temp as $$
  insert into password_resets (token_sha256, account_id, created_at, expires_at) values (token, account, now, until)
$$;
-- reset_finish sets the new hash and ends every session of the account; false where the token opens nothing.
create function door.reset_finish(token bytea, hash text, now timestamptz)
returns boolean language plpgsql security definer set search_path = public, pg_temp as $$
declare
  account uuid;
begin
  update password_resets set used_at = now where token_sha256 = token and used_at is null and expires_at > now returning account_id into account;
  if account is null then return false; end if;
  update accounts set password_hash = hash where id = account;
  update sessions set ended_at = now where account_id = account and ended_at is null;
  return true;
end
$$;
-- +goose StatementEnd
