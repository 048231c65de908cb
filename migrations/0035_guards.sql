-- What the walk of every field as everybody found, and why a session ended.

-- +goose Up
-- A reinspection may be booked or answered in a job that not everybody may see who sees
-- the reinspection: whether those jobs are restricted stands beside their numbers.
create or replace view reinspection_lines with (security_invoker = true) as
select r.practice_id, r.id, r.due_from, r.due_to, r.reason, r.tag, r.code, r.wants, r.waits_for, r.days_ashore, coalesce(i.name, '') as instrument,
       r.state, r.state_reason, r.snoozed_until, r.moved_at, coalesce(m.name, '') as moved_by, r.recalled_at, coalesce(y.name, '') as recalled_to,
       r.booked_job, coalesce(b.number, '') as booked_number, r.answered_by_job, coalesce(x.number, '') as answered_number,
       r.recommendation_id, coalesce(c.grade, '') as grade, coalesce(c.what, '') as recommended, r.version,
       j.id as job_id, j.client_id, coalesce(j.cite, '') as cite, coalesce(j.restricted, false) as restricted,
       v.id as vessel_id, v.name as vessel_name, v.kind as vessel_kind, v.loa_mm, v.moulded_year, v.hull_number, v.figure, v.yard, v.lifted_at,
       v.time_zone as yard_zone, v.last_pass_at,
       coalesce(b.restricted, false) as booked_restricted, coalesce(x.restricted, false) as answered_restricted
  from reinspections r
  join vessel_lines v on v.practice_id = r.practice_id and v.id = r.vessel_id
  left join recommendations c on c.practice_id = r.practice_id and c.id = r.recommendation_id
  left join reports p on p.practice_id = r.practice_id and p.id = r.report_id
  left join jobs j on j.practice_id = r.practice_id and j.id = coalesce(c.job_id, p.job_id)
  left join instruments i on i.practice_id = r.practice_id and i.id = r.instrument_id
  left join members m on m.practice_id = r.practice_id and m.id = r.moved_by
  left join parties y on y.practice_id = r.practice_id and y.id = r.recalled_party
  left join jobs b on b.practice_id = r.practice_id and b.id = r.booked_job
  left join jobs x on x.practice_id = r.practice_id and x.id = r.answered_by_job;

alter table sessions add column stolen boolean not null default false; -- an older token of it came back, and ended it

-- +goose StatementBegin
create or replace function door.session_rotate(token bytea, successor bytea, now timestamptz)
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
    update sessions set ended_at = now, stolen = true where practice_id = s.practice_id and id = s.id;
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
-- session_stolen tells whoever holds a token of a session that it ended because an older
-- one came back.
create function door.session_stolen(token bytea)
returns boolean language sql stable security definer set search_path = public, pg_temp as $$
  select exists (select from session_tokens t join sessions s on s.practice_id = t.practice_id and s.id = t.session_id where t.token_sha256 = token and s.stolen)
$$;
-- +goose StatementEnd
revoke all on function door.session_stolen(bytea) from public;
grant execute on function door.session_stolen(bytea) to app;
