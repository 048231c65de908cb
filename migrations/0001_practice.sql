-- Practices, the people who sign in, and the record of every change.
-- Runs as the owner of the database. The roles `app` and `worker` exist before
-- (deploy/roles.sql): the service logs in as `app`, which owns nothing, so row
-- security binds it; `worker` sees the job queue alone.

-- +goose Up
-- +goose StatementBegin
do $$
begin
  if not exists (select from pg_roles where rolname = 'app') or not exists (select from pg_roles where rolname = 'worker') then
    raise exception 'the roles app and worker are missing: run deploy/roles.sql first';
  end if;
  if exists (select from pg_roles where rolname in ('app', 'worker') and (rolsuper or rolbypassrls)) then
    raise exception 'the roles app and worker must be neither superuser nor bypassrls';
  end if;
end
$$;
-- +goose StatementEnd

create extension if not exists btree_gist;

revoke all on schema public from public;
grant usage on schema public to app;

-- door: the narrow functions for what happens before a practice is known. They run
-- with the owner's rights, each with a fixed search path, and none is public.
create schema door;
grant usage on schema door to app;

-- keep_apart puts row security on a table, with the one policy that all tables
-- share, and grants what `app` may do there. The setting is read inside a select,
-- so that it is evaluated once a statement and not once a row.
-- +goose StatementBegin
create procedure public.keep_apart(t regclass, allowed text)
language plpgsql as $$
declare
  chosen constant text := $q$practice_id = (select nullif(current_setting('app.practice', true), '')::uuid)$q$;
begin
  execute format('alter table %s enable row level security', t);
  execute format('create policy in_practice on %s using (%s) with check (%s)', t, chosen, chosen);
  execute format('grant %s on %s to app', allowed, t);
end
$$;
-- +goose StatementEnd
revoke all on procedure public.keep_apart(regclass, text) from public;

create table practices (
  practice_id uuid primary key,
  name text not null constraint practices_name_length check (length(name) between 1 and 200),
  address text not null default '',
  email text not null default '',
  phone text not null default '',
  time_zone text not null default 'Etc/UTC',
  currency text not null default 'EUR' constraint practices_currency_code check (currency ~ '^[A-Z]{3}$'),
  units text not null default 'metric' constraint practices_units_known check (units in ('metric', 'imperial')),
  contrast_edges smallint[] not null default '{9,15,22}', -- scale units above the baseline where marks step up; the first edge is the pass's own
  review_required boolean not null default false,
  invented boolean not null default false, -- demonstration data says so on every screen
  settings jsonb not null default '{}',
  created_at timestamptz not null,
  version integer not null default 1
);
call keep_apart('practices', 'select, update');

-- The head of a practice's record of changes: the next write takes seq + 1.
create table heads (
  practice_id uuid primary key references practices (practice_id),
  epoch integer not null default 1, -- a restore starts a new one
  seq bigint not null default 0,
  chain bytea not null default sha256(''::bytea)
);
call keep_apart('heads', 'select, update');

-- A sign-in. Accounts belong to nobody; `app` reaches them through door alone.
create table accounts (
  id uuid primary key,
  email text not null constraint accounts_email_shape check (email = lower(email) and email like '%_@_%' and length(email) <= 254),
  password_hash text not null,
  disabled_at timestamptz,
  created_at timestamptz not null,
  constraint accounts_email_once unique (email)
);

create table members (
  practice_id uuid not null references practices (practice_id),
  id uuid not null,
  account_id uuid not null, -- accounts.id; row security has no business there, so no key
  name text not null constraint members_name_length check (length(name) between 1 and 200),
  email text not null default '',
  roles text[] not null constraint members_roles_known check (roles <@ array['principal', 'surveyor', 'trainee', 'office', 'guest'] and cardinality(roles) > 0),
  qualification text not null default '',
  started_on date,
  left_at timestamptz,
  version integer not null default 1,
  primary key (practice_id, id),
  constraint members_account_once unique (practice_id, account_id)
);
call keep_apart('members', 'select, insert, update');

create table invitations (
  practice_id uuid not null,
  id uuid not null,
  email text not null,
  name text not null default '',
  roles text[] not null,
  token_sha256 bytea not null,
  invited_by uuid not null,
  created_at timestamptz not null,
  expires_at timestamptz not null,
  accepted_at timestamptz,
  primary key (practice_id, id),
  foreign key (practice_id) references practices (practice_id),
  foreign key (practice_id, invited_by) references members (practice_id, id)
);
create index invitations_token on invitations (token_sha256);
call keep_apart('invitations', 'select, insert, update');

create table api_keys (
  practice_id uuid not null,
  id uuid not null,
  member_id uuid not null,
  name text not null,
  key_sha256 bytea not null,
  created_at timestamptz not null,
  revoked_at timestamptz,
  primary key (practice_id, id),
  foreign key (practice_id, member_id) references members (practice_id, id)
);
create index api_keys_key on api_keys (key_sha256);
call keep_apart('api_keys', 'select, insert, update');

create table devices (
  practice_id uuid not null,
  id uuid not null,
  member_id uuid not null,
  name text not null default '',
  first_seen timestamptz not null,
  primary key (practice_id, id),
  foreign key (practice_id, member_id) references members (practice_id, id)
);
call keep_apart('devices', 'select, insert, update');

-- A signed-in browser: a family of refresh tokens, of which the newest is current.
create table sessions (
  practice_id uuid not null,
  id uuid not null,
  account_id uuid not null, -- accounts.id, without a key as in members
  member_id uuid not null,
  generation integer not null default 0,
  created_at timestamptz not null,
  expires_at timestamptz not null,
  ended_at timestamptz,
  primary key (practice_id, id),
  foreign key (practice_id, member_id) references members (practice_id, id)
);
create index sessions_id on sessions (id); -- a token names the session before its practice is known
create index sessions_account on sessions (account_id);
call keep_apart('sessions', 'select');

create table session_tokens (
  token_sha256 bytea primary key,
  practice_id uuid not null,
  session_id uuid not null,
  generation integer not null,
  foreign key (practice_id, session_id) references sessions (practice_id, id)
);

create table password_resets (
  token_sha256 bytea primary key,
  account_id uuid not null references accounts (id),
  created_at timestamptz not null,
  expires_at timestamptz not null,
  used_at timestamptz
);

-- One row a change, written in its transaction: what makes a repeat harmless, the
-- order of changes and the audit line in one. Ids only; no names, no free text.
create table mutations (
  practice_id uuid not null references practices (practice_id),
  id uuid not null,
  actor uuid, -- the member; null where the service itself or a client by link acted
  actor_kind text not null,
  operation text not null,
  input_sha256 bytea not null,
  result text not null,
  seq bigint not null,
  at timestamptz not null,
  chain bytea not null,
  primary key (practice_id, id),
  constraint mutations_seq_once unique (practice_id, seq)
);
call keep_apart('mutations', 'select, insert');

-- record_mutation is the last statement of every write: it locks the practice's head,
-- takes the next seq and seals the line to the one before. Canonical bytes, version 1:
-- the previous chain, then the fields joined by '|', times in whole microseconds.
-- +goose StatementBegin
create function record_mutation(p uuid, m uuid, who uuid, kind text, op text, input bytea, res text, now timestamptz)
returns bigint language sql security invoker set search_path = public, pg_temp as $$
  with head as (
    update heads
       set seq = seq + 1,
           chain = sha256(chain || convert_to(concat_ws('|', '1', p, m, coalesce(who::text, '-'), kind, op, encode(input, 'hex'), res,
             seq + 1, (extract(epoch from now) * 1000000)::bigint), 'UTF8'))
     where practice_id = p
    returning seq, chain
  )
  insert into mutations (practice_id, id, actor, actor_kind, operation, input_sha256, result, seq, at, chain)
  select p, m, who, kind, op, input, res, head.seq, now, head.chain from head
  returning seq
$$;
-- +goose StatementEnd
revoke all on function record_mutation(uuid, uuid, uuid, text, text, bytea, text, timestamptz) from public;
grant execute on function record_mutation(uuid, uuid, uuid, text, text, bytea, text, timestamptz) to app;

-- A letter to be sent, written in the transaction that causes it.
create table mails (
  practice_id uuid not null,
  id uuid not null,
  kind text not null,
  recipient text not null,
  subject text not null,
  body text not null,
  created_at timestamptz not null,
  sent_at timestamptz,
  erased_at timestamptz,
  primary key (practice_id, id),
  foreign key (practice_id) references practices (practice_id)
);
call keep_apart('mails', 'select, insert, update');
