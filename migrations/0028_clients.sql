-- The client's own word beside the surveyor's: codes that make an act of a click, answers,
-- messages and leave to share, and accounts over several boats.

-- +goose Up
alter table share_openings drop constraint share_openings_what_known;
alter table share_openings add constraint share_openings_what_known check (what in ('page', 'pdf', 'photos'));

-- A code sent to the address that a link names. The newest counts, for a day and a few tries.
create table share_codes (
  practice_id uuid not null,
  id uuid not null,
  share_id uuid not null,
  code_sha256 bytea not null,
  tries integer not null default 0,
  sent_at timestamptz not null,
  until timestamptz not null,
  primary key (practice_id, id),
  foreign key (practice_id, share_id) references shares (practice_id, id)
);
call keep_apart('share_codes', 'select, insert, update');
create index share_codes_of on share_codes (practice_id, share_id, sent_at desc);

-- A photo that a client sent with an answer. It is not one of the practice's own: it stands
-- in no visit and no report, and its copies are made without position or serial numbers.
create table client_photos (
  practice_id uuid not null,
  upload_id uuid not null,
  share_id uuid not null,
  state text not null default 'granted' constraint client_photos_state_known check (state in ('granted', 'waiting', 'ready', 'refused')),
  refused_because text not null default '',
  view_key text not null default '',
  thumb_key text not null default '',
  primary key (practice_id, upload_id),
  foreign key (practice_id, upload_id) references uploads (practice_id, id),
  foreign key (practice_id, share_id) references shares (practice_id, id)
);
call keep_apart('client_photos', 'select, insert, update');
create index client_photos_share on client_photos (practice_id, share_id);

-- What a client says to a recommendation: a statement of the client's. The recommendation's
-- own state is the surveyor's and stays as it is.
create table client_answers (
  practice_id uuid not null,
  id uuid not null,
  share_id uuid not null,
  recommendation_id uuid not null,
  answer text not null constraint client_answers_answer_known check (answer in ('agreed', 'declined', 'claimed done')),
  reason text not null default '' constraint client_answers_reason_length check (length(reason) <= 2000),
  upload_id uuid,
  at timestamptz not null,
  primary key (practice_id, id),
  foreign key (practice_id, share_id) references shares (practice_id, id),
  foreign key (practice_id, recommendation_id) references recommendations (practice_id, id),
  foreign key (practice_id, upload_id) references client_photos (practice_id, upload_id)
);
call keep_apart('client_answers', 'select, insert, update');
create index client_answers_share on client_answers (practice_id, share_id);
create index client_answers_of on client_answers (practice_id, recommendation_id);

create table client_messages (
  practice_id uuid not null,
  id uuid not null,
  share_id uuid not null,
  text text not null constraint client_messages_length check (length(text) <= 5000),
  at timestamptz not null,
  primary key (practice_id, id),
  foreign key (practice_id, share_id) references shares (practice_id, id)
);
call keep_apart('client_messages', 'select, insert, update');
create index client_messages_share on client_messages (practice_id, share_id);

-- Leave, given to the practice by the client of a report, to share it with somebody named.
create table client_permits (
  practice_id uuid not null,
  id uuid not null,
  share_id uuid not null, -- by which the client gave it
  name text not null,
  email text not null,
  purpose text not null default '',
  given_at timestamptz not null,
  withdrawn_at timestamptz,
  primary key (practice_id, id),
  foreign key (practice_id, share_id) references shares (practice_id, id)
);
call keep_apart('client_permits', 'select, insert, update');
create index client_permits_share on client_permits (practice_id, share_id);

-- An account to which everything shared with an address is open, in this practice.
create table client_grants (
  practice_id uuid not null references practices (practice_id),
  id uuid not null,
  account_id uuid not null, -- accounts.id, without a key as in members
  email text not null,
  created_at timestamptz not null,
  ended_at timestamptz,
  primary key (practice_id, id),
  constraint client_grants_once unique (practice_id, account_id, email)
);
call keep_apart('client_grants', 'select, insert, update');
create index client_grants_account on client_grants (account_id);
create index shares_address on shares (practice_id, lower(email));

-- A browser in which a client is signed in. It belongs to an account and to no practice.
create table client_sessions (
  token_sha256 bytea primary key,
  account_id uuid not null references accounts (id),
  created_at timestamptz not null,
  expires_at timestamptz not null,
  ended_at timestamptz
);
create index client_sessions_account on client_sessions (account_id);

-- +goose StatementBegin
create function door.client_session_start(token bytea, account uuid, now timestamptz, until timestamptz)
returns void language sql security definer set search_path = public, pg_temp as $$
  insert into client_sessions (token_sha256, account_id, created_at, expires_at) values (token, account, now, until)
$$;
create function door.client_session(token bytea, now timestamptz)
returns table (account_id uuid) language sql stable security definer set search_path = public, pg_temp as $$
  select c.account_id from client_sessions c join accounts a on a.id = c.account_id
   where c.token_sha256 = token and c.ended_at is null and c.expires_at > now and a.disabled_at is null
$$;
create function door.client_session_end(token bytea, now timestamptz)
returns void language sql security definer set search_path = public, pg_temp as $$
  update client_sessions set ended_at = now where token_sha256 = token and ended_at is null
$$;
create function door.client_grants(account uuid)
returns table (practice_id uuid, practice_name text, email text) language sql stable security definer set search_path = public, pg_temp as $$
  select g.practice_id, p.name, g.email
    from client_grants g join practices p using (practice_id) join accounts a on a.id = g.account_id
   where g.account_id = account and g.ended_at is null and a.disabled_at is null
   order by p.name, g.practice_id, g.email
$$;
-- reset_finish ends what clients opened with the old password too.
create or replace function door.reset_finish(token bytea, hash text, now timestamptz)
returns boolean language plpgsql security definer set search_path = public, pg_temp as $$
declare
  account uuid;
begin
  update password_resets set used_at = now where token_sha256 = token and used_at is null and expires_at > now returning account_id into account;
  if account is null then return false; end if;
  update accounts set password_hash = hash where id = account;
  update sessions set ended_at = now where account_id = account and ended_at is null;
  update client_sessions set ended_at = now where account_id = account and ended_at is null;
  return true;
end
$$;
-- +goose StatementEnd
revoke all on function door.client_session_start(bytea, uuid, timestamptz, timestamptz) from public;
revoke all on function door.client_session(bytea, timestamptz) from public;
revoke all on function door.client_session_end(bytea, timestamptz) from public;
revoke all on function door.client_grants(uuid) from public;
grant execute on function door.client_session_start(bytea, uuid, timestamptz, timestamptz) to app;
grant execute on function door.client_session(bytea, timestamptz) to app;
grant execute on function door.client_session_end(bytea, timestamptz) to app;
grant execute on function door.client_grants(uuid) to app;
