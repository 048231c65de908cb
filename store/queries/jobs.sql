-- name: GetJobLine :one
select j.id, j.number, j.kind, j.stage,
       j.vessel_id, j.vessel_name, j.vessel_kind, j.loa_mm, j.moulded_year, j.hull_number, j.figure, j.yard, j.lifted_at, j.yard_zone, j.last_pass_at,
       j.client_id, j.client_name, j.client_kind, j.client_is_yard, j.lead_id, j.lead_name, j.lead_roles, j.lead_active, j.due_on, j.stands_between, j.next_visit_at
  from job_lines j
 where j.practice_id = @practice_id and j.id = @id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid));

-- name: GetJob :one
-- What a job has beside its line.
select scope, cite, cite_agreed_on, restricted, version
  from jobs
 where practice_id = @practice_id and id = @id;

-- name: AccessOfJob :many
select m.id, m.name, m.roles, (m.left_at is null)::boolean as active
  from job_access x
  join members m on m.practice_id = x.practice_id and m.id = x.member_id
 where x.practice_id = @practice_id and x.job_id = @job_id
 order by lower(m.name), m.id;

-- name: PermissionsOfJob :many
select p.id, p.what, p.extent, p.windows, p.asked_on, p.given_on, p.refused_on, p.given_by_id,
       coalesce(nullif(p.given_by_name, ''), y.name, '')::text as given_by, p.makes_good, p.note, p.version
  from permissions p
  left join parties y on y.practice_id = p.practice_id and y.id = p.given_by_id
 where p.practice_id = @practice_id and p.job_id = @job_id
 order by p.asked_on nulls last, p.id;

-- name: ReportLinesOfJob :many
select id, number, title, state, job_id, job_number, created_at, issued_at,
       vessel_id, vessel_name, vessel_kind, loa_mm, moulded_year, hull_number, figure, yard, lifted_at, yard_zone, last_pass_at
  from report_lines
 where practice_id = @practice_id and job_id = @job_id
 order by id;

-- name: ReportLinesOfVessel :many
select r.id, r.number, r.title, r.state, r.job_id, r.job_number, r.created_at, r.issued_at,
       r.vessel_id, r.vessel_name, r.vessel_kind, r.loa_mm, r.moulded_year, r.hull_number, r.figure, r.yard, r.lifted_at, r.yard_zone, r.last_pass_at
  from report_lines r
 where r.practice_id = @practice_id and r.vessel_id = @vessel_id
   and ((not r.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = r.practice_id and a.job_id = r.job_id and a.member_id = @member::uuid))
 order by r.created_at desc, r.id desc;

-- name: ListJobs :many
-- In the order in which something has to be done: first the jobs whose report is to come, by
-- the day of their next act, or, where it has none, since when it waits; then those whose report is out, first where an addendum is
-- owed; then those that are over, the latest first. The page is chosen first, as an array: a
-- view of so many joins is not reordered around it.
with chosen as materialized (
  select x.id, t.turn, n.act, n.detail, n.whom, n.since, n.on_day, n.stopped
    from jobs x
    left join lateral (
      select a.act, a.detail, a.whom, a.since, a.on_day, a.stopped
        from job_acts a
       where a.practice_id = x.practice_id and a.job_id = x.id and not job_over(x.stage)
       order by a.on_day nulls last, a.turn, a.since nulls last, a.detail
       limit 1) n on true
   cross join lateral (
      select case when report_to_come(x.stage) then coalesce(n.on_day, n.since, x.due_on, '9999-12-31') - cast('0001-01-01' as date)
                  else (case when job_over(x.stage) then 30000000 when n.act is null then 20000000 else 10000000 end)
                       - (coalesce(x.due_on, cast(x.created_at as date)) - cast('0001-01-01' as date)) end as turn) t
   where x.practice_id = @practice_id
     and (t.turn, x.id) > (@after_turn::integer, @after_id::uuid)
     and (not @only_open::boolean or report_to_come(x.stage))
     and (not @only_issued::boolean or x.stage = 'issued')
     and (not @only_mine::boolean or x.lead_id = @member::uuid)
     and ((not x.restricted and not @guest::boolean) or @self::boolean
          or exists (select from job_access a where a.practice_id = x.practice_id and a.job_id = x.id and a.member_id = @member))
   order by t.turn, x.id
   limit @most)
select c.turn::integer as turn, coalesce(c.act, '')::text as act, coalesce(c.detail, '')::text as detail, coalesce(c.whom, '')::text as whom,
       c.since as asked_on, c.on_day as act_on, c.stopped as act_ends,
       j.id, j.number, j.kind, j.stage,
       j.vessel_id, j.vessel_name, j.vessel_kind, j.loa_mm, j.moulded_year, j.hull_number, j.figure, j.yard, j.lifted_at, j.yard_zone, j.last_pass_at,
       j.client_id, j.client_name, j.client_kind, j.client_is_yard, j.lead_id, j.lead_name, j.lead_roles, j.lead_active, j.due_on, j.stands_between, j.next_visit_at
  from chosen c
  join job_lines j on j.practice_id = @practice_id and j.id = c.id
 where j.id = any(array(select id from chosen))
 order by c.turn, j.id;

-- name: JobLinesOfVessel :many
select j.id, j.number, j.kind, j.stage,
       j.vessel_id, j.vessel_name, j.vessel_kind, j.loa_mm, j.moulded_year, j.hull_number, j.figure, j.yard, j.lifted_at, j.yard_zone, j.last_pass_at,
       j.client_id, j.client_name, j.client_kind, j.client_is_yard, j.lead_id, j.lead_name, j.lead_roles, j.lead_active, j.due_on, j.stands_between, j.next_visit_at
  from job_lines j
 where j.practice_id = @practice_id and j.vessel_id = @vessel_id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
 order by j.number desc, j.id;

-- name: LockJobNumbers :exec
select pg_advisory_xact_lock(hashtextextended('job numbers of ' || @practice_id::text, 0));

-- name: LastJobNumber :one
select coalesce(max(substring(number from 6)::integer), 0)::integer as last
  from jobs
 where practice_id = @practice_id and number ~ ('^' || @year::text || '-[0-9]{3,6}$');

-- name: InsertJob :exec
insert into jobs (practice_id, id, vessel_id, client_id, number, kind, scope, lead_id, cite, cite_agreed_on, restricted, due_on, stands_between, created_at)
values (@practice_id, @id, @vessel_id, sqlc.narg('client_id'), @number, @kind, @scope, sqlc.narg('lead_id'), @cite, sqlc.narg('cite_agreed_on'),
  @restricted, sqlc.narg('due_on'), @stands_between, @now);

-- name: JobToWrite :one
-- A job that this member may see, held until the transaction ends.
select j.id, j.vessel_id, j.client_id, j.kind, j.scope, j.stage, j.lead_id, j.cite, j.cite_agreed_on, j.restricted, j.due_on, j.stands_between, j.version
  from jobs j
 where j.practice_id = @practice_id and j.id = @id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
   for update of j;

-- name: UpdateJob :execrows
update jobs
   set client_id = sqlc.narg('client_id'), scope = @scope, stage = @stage, lead_id = sqlc.narg('lead_id'), cite = @cite,
       cite_agreed_on = sqlc.narg('cite_agreed_on'), restricted = @restricted, due_on = sqlc.narg('due_on'), stands_between = @stands_between,
       version = version + 1
 where practice_id = @practice_id and id = @id and version = @version;

-- name: AllowJob :exec
insert into job_access (practice_id, job_id, member_id)
values (@practice_id, @job_id, @member_id)
on conflict do nothing;

-- name: ForbidJob :exec
delete from job_access
 where practice_id = @practice_id and job_id = @job_id and member_id = @member_id;

-- name: CountJobAccess :one
select count(*) as members
  from job_access x
  join members m on m.practice_id = x.practice_id and m.id = x.member_id
 where x.practice_id = @practice_id and x.job_id = @job_id and m.left_at is null;

-- name: GetPermission :one
select id, job_id, what, extent, windows, asked_on, given_on, refused_on, given_by_id, given_by_name, makes_good, note, version
  from permissions
 where practice_id = @practice_id and id = @id;

-- name: InsertPermission :exec
insert into permissions (practice_id, id, job_id, what, extent, windows, asked_on, given_on, refused_on, given_by_id, given_by_name, makes_good, note)
values (@practice_id, @id, @job_id, @what, @extent, sqlc.narg('windows'), sqlc.narg('asked_on'), sqlc.narg('given_on'), sqlc.narg('refused_on'), sqlc.narg('given_by_id'),
  @given_by_name, @makes_good, @note);

-- name: UpdatePermission :execrows
update permissions
   set what = @what, extent = @extent, windows = sqlc.narg('windows'), asked_on = sqlc.narg('asked_on'), given_on = sqlc.narg('given_on'), refused_on = sqlc.narg('refused_on'),
       given_by_id = sqlc.narg('given_by_id'), given_by_name = @given_by_name, makes_good = @makes_good, note = @note, version = version + 1
 where practice_id = @practice_id and id = @id and version = @version;

-- name: LiftWanted :many
-- Open jobs of a vessel; the number of those alone that may be seen.
select j.kind,
       (case when (not j.restricted and not @guest::boolean) or @self::boolean
                  or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid)
             then j.number else '' end)::text as number,
       exists (select from visits w where w.practice_id = j.practice_id and w.job_id = j.id and w.state = 'done')::boolean as seen
  from jobs j
 where j.practice_id = @practice_id and j.vessel_id = @vessel_id and report_to_come(j.stage)
 order by j.id;

-- name: LeaveToLift :many
-- What was said of lifting a vessel in her open jobs.
select p.id, p.what, p.extent, p.windows, p.asked_on, p.given_on, p.refused_on, p.given_by_id,
       coalesce(nullif(p.given_by_name, ''), y.name, '')::text as given_by, p.makes_good, p.note, p.version
  from permissions p
  join jobs j on j.practice_id = p.practice_id and j.id = p.job_id
  left join parties y on y.practice_id = p.practice_id and y.id = p.given_by_id
 where p.practice_id = @practice_id and j.vessel_id = @vessel_id and report_to_come(j.stage) and p.what = 'lift'
 order by p.asked_on nulls last, p.id;

-- name: ActsWithoutLeaveOfJob :many
select x.id, x.what, x.thing, x.thing_id, x.stood, x.noted_at, x.kept_at, coalesce(m.name, '')::text as by_name, x.reason, coalesce(r.name, '')::text as reason_by, x.reason_at
  from acts_without_leave x
  left join members m on m.practice_id = x.practice_id and m.id = x.by_id
  left join members r on r.practice_id = x.practice_id and r.id = x.reason_by
 where x.practice_id = @practice_id and x.job_id = @job_id
 order by coalesce(x.noted_at, x.kept_at), x.id;

-- name: InsertActWithoutLeave :exec
insert into acts_without_leave (practice_id, id, job_id, what, thing, thing_id, stood, noted_at, kept_at, by_id, reason, reason_by, reason_at)
values (@practice_id, @id, @job_id, @what, @thing, @thing_id, @stood, sqlc.narg('noted_at'), @kept_at::timestamptz, sqlc.narg('by_id'), @reason::text,
  case when @reason::text <> '' then sqlc.narg('by_id')::uuid end, case when @reason::text <> '' then @kept_at::timestamptz end);

-- name: GetActWithoutLeave :one
select x.id, x.job_id, x.what, x.reason
  from acts_without_leave x
  join jobs j on j.practice_id = x.practice_id and j.id = x.job_id
 where x.practice_id = @practice_id and x.id = @id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
   for update of x;

-- name: ExplainAct :exec
update acts_without_leave
   set reason = @reason, reason_by = sqlc.narg('by_id'), reason_at = @now::timestamptz
 where practice_id = @practice_id and id = @id;

-- name: PracticeZone :one
select time_zone from practices where practice_id = @practice_id;

-- name: RolesInJob :many
-- What a party is to a vessel or in one of its jobs, as far as the days say.
select role
  from party_roles
 where practice_id = @practice_id and party_id = @party_id and vessel_id = @vessel_id and (job_id is null or job_id = @job_id::uuid)
   and (from_on is null or from_on <= @on_day::date) and (to_on is null or to_on >= @on_day)
 order by role;

-- name: PartyByName :one
-- Whoever of a job or its vessel is called so; of two of one name the client.
select p.id
  from parties p
 where p.practice_id = @practice_id and lower(p.name) = lower(@name) and p.erased_at is null
   and (exists (select from jobs j where j.practice_id = p.practice_id and j.id = @job_id and j.client_id = p.id)
        or exists (select from party_roles r where r.practice_id = p.practice_id and r.party_id = p.id and (r.vessel_id = @vessel_id or r.job_id = @job_id)))
 order by exists (select from jobs j where j.practice_id = p.practice_id and j.id = @job_id and j.client_id = p.id) desc, p.id
 limit 1;

-- name: FindingLinesOfJob :many
select f.id, f.visit_id, f.kind, f.sure, f.text, f.look_again
  from findings f
  join visits v on v.practice_id = f.practice_id and v.id = f.visit_id
 where f.practice_id = @practice_id and v.job_id = @job_id
 order by f.created_at, f.id;

-- name: PapersOfJob :many
select p.id, p.kind, p.title, p.issued_by, p.issued_on, p.ends_on, p.number, p.noted_at, (case when u.swept_at is null then u.object_key else '' end)::text as key, u.file_name
  from papers p
  join uploads u on u.practice_id = p.practice_id and u.id = p.upload_id
 where p.practice_id = @practice_id and p.job_id = @job_id
 order by p.issued_on nulls last, p.id;

-- name: InsertPaper :exec
insert into papers (practice_id, id, job_id, upload_id, kind, title, issued_by, issued_on, ends_on, number, noted_at, noted_by)
values (@practice_id, @id, @job_id, @upload_id, @kind, @title, @issued_by, sqlc.narg('issued_on'), sqlc.narg('ends_on'), @number, @now, sqlc.narg('noted_by'));
