-- name: DueBy :many
-- One that was put off until a day is due again from that day on; nobody writes that down.
-- Those whose window opens within so many days, and those overdue.
select r.id, r.due_from, r.due_to, r.reason, r.tag, r.code, r.wants, r.waits_for, r.days_ashore, r.instrument,
       (case when r.state = 'snoozed' and r.snoozed_until <= d.day then 'due' else r.state end)::text as state, r.state_reason, r.snoozed_until, r.moved_at, r.moved_by, r.recalled_at, r.recalled_to,
       r.booked_job, r.booked_number, r.answered_by_job, r.answered_number,
       ((not r.booked_restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = r.practice_id and a.job_id = r.booked_job and a.member_id = @member::uuid))::boolean as booked_open,
       ((not r.answered_restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = r.practice_id and a.job_id = r.answered_by_job and a.member_id = @member::uuid))::boolean as answered_open,
       r.recommendation_id, r.grade, r.recommended, r.version,
       r.vessel_id, r.vessel_name, r.vessel_kind, r.loa_mm, r.moulded_year, r.hull_number, r.figure, r.yard, r.lifted_at, r.yard_zone, r.last_pass_at
  from reinspection_lines r
  cross join (select coalesce(sqlc.narg('on_day')::date, cast(timezone(p.time_zone, @now::timestamptz) as date)) as day
          from practices p where p.practice_id = @practice_id) d
 where r.practice_id = @practice_id and (r.state = 'due' or r.state = 'snoozed' and r.snoozed_until <= d.day) and r.waits_for = '' and r.due_from <= d.day + @within::integer
   and ((not r.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = r.practice_id and a.job_id = r.job_id and a.member_id = @member::uuid))
 order by r.due_to, r.id
 limit 100;

-- name: ReinspectionsOfVessel :many
select r.id, r.due_from, r.due_to, r.reason, r.tag, r.code, r.wants, r.waits_for, r.days_ashore, r.instrument,
       (case when r.state = 'snoozed' and r.snoozed_until <= d.day then 'due' else r.state end)::text as state, r.state_reason, r.snoozed_until, r.moved_at, r.moved_by, r.recalled_at, r.recalled_to,
       r.booked_job, r.booked_number, r.answered_by_job, r.answered_number,
       ((not r.booked_restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = r.practice_id and a.job_id = r.booked_job and a.member_id = @member::uuid))::boolean as booked_open,
       ((not r.answered_restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = r.practice_id and a.job_id = r.answered_by_job and a.member_id = @member::uuid))::boolean as answered_open,
       r.recommendation_id, r.grade, r.recommended, r.version,
       r.vessel_id, r.vessel_name, r.vessel_kind, r.loa_mm, r.moulded_year, r.hull_number, r.figure, r.yard, r.lifted_at, r.yard_zone, r.last_pass_at
  from reinspection_lines r
  cross join (select cast(timezone(p.time_zone, @now::timestamptz) as date) as day
          from practices p where p.practice_id = @practice_id) d
 where r.practice_id = @practice_id and r.vessel_id = @vessel_id
   and ((not r.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = r.practice_id and a.job_id = r.job_id and a.member_id = @member::uuid))
 order by r.due_to, r.id;

-- name: ReinspectionsOfJob :many
select r.id, r.due_from, r.due_to, r.reason, r.tag, r.code, r.wants, r.waits_for, r.days_ashore, r.instrument,
       (case when r.state = 'snoozed' and r.snoozed_until <= d.day then 'due' else r.state end)::text as state, r.state_reason, r.snoozed_until, r.moved_at, r.moved_by, r.recalled_at, r.recalled_to,
       r.booked_job, r.booked_number, r.answered_by_job, r.answered_number,
       ((not r.booked_restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = r.practice_id and a.job_id = r.booked_job and a.member_id = @member::uuid))::boolean as booked_open,
       ((not r.answered_restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = r.practice_id and a.job_id = r.answered_by_job and a.member_id = @member::uuid))::boolean as answered_open,
       r.recommendation_id, r.grade, r.recommended, r.version,
       r.vessel_id, r.vessel_name, r.vessel_kind, r.loa_mm, r.moulded_year, r.hull_number, r.figure, r.yard, r.lifted_at, r.yard_zone, r.last_pass_at
  from reinspection_lines r
  cross join (select cast(timezone(p.time_zone, @now::timestamptz) as date) as day
          from practices p where p.practice_id = @practice_id) d
 where r.practice_id = @practice_id and (r.job_id = @job_id or r.booked_job = @job_id or r.answered_by_job = @job_id)
   and ((not r.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = r.practice_id and a.job_id = r.job_id and a.member_id = @member::uuid))
 order by r.due_to, r.id;

-- name: ListReinspections :many
-- The page is chosen first, as an array: a view of so many joins is not reordered around it.
-- Who may see one is asked of its job alone, not of the view: where no statistics are known
-- yet, a view inside a condition was read whole for each row.
select r.id, r.due_from, r.due_to, r.reason, r.tag, r.code, r.wants, r.waits_for, r.days_ashore, r.instrument,
       (case when r.state = 'snoozed' and r.snoozed_until <= d.day then 'due' else r.state end)::text as state, r.state_reason, r.snoozed_until, r.moved_at, r.moved_by, r.recalled_at, r.recalled_to,
       r.booked_job, r.booked_number, r.answered_by_job, r.answered_number,
       ((not r.booked_restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = r.practice_id and a.job_id = r.booked_job and a.member_id = @member::uuid))::boolean as booked_open,
       ((not r.answered_restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = r.practice_id and a.job_id = r.answered_by_job and a.member_id = @member::uuid))::boolean as answered_open,
       r.recommendation_id, r.grade, r.recommended, r.version,
       r.vessel_id, r.vessel_name, r.vessel_kind, r.loa_mm, r.moulded_year, r.hull_number, r.figure, r.yard, r.lifted_at, r.yard_zone, r.last_pass_at
  from reinspection_lines r
  cross join (select cast(timezone(p.time_zone, @now::timestamptz) as date) as day
          from practices p where p.practice_id = @practice_id) d
 where r.practice_id = @practice_id
   and r.id = any(array(
         select x.id
           from reinspections x
          where x.practice_id = @practice_id and (x.due_to, x.id) > (@after_due::date, @after_id::uuid)
            and case @show::text
                  when 'due' then (x.state = 'due' or x.state = 'snoozed' and x.snoozed_until <= d.day) and x.waits_for = '' and x.due_from <= d.day + @within::integer
                  when 'overdue' then (x.state = 'due' or x.state = 'snoozed' and x.snoozed_until <= d.day) and x.waits_for = '' and x.due_to < d.day
                  when 'later' then (x.state = 'due' or x.state = 'snoozed' and x.snoozed_until <= d.day) and x.waits_for = '' and x.due_from > d.day + @within::integer
                  when 'waiting' then (x.state = 'due' or x.state = 'snoozed' and x.snoozed_until <= d.day) and x.waits_for <> ''
                  when 'snoozed' then x.state = 'snoozed' and x.snoozed_until > d.day
                  else x.state = @show::text end
            and exists (select
                          from (select x.recommendation_id, x.report_id) o
                          left join recommendations c on c.practice_id = x.practice_id and c.id = o.recommendation_id
                          left join reports p on p.practice_id = x.practice_id and p.id = o.report_id
                          left join jobs j on j.practice_id = x.practice_id and j.id = coalesce(c.job_id, p.job_id)
                         where (not coalesce(j.restricted, false) and not @guest::boolean) or @self::boolean
                            or exists (select from job_access a where a.practice_id = x.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
          order by x.due_to, x.id
          limit @most))
 order by r.due_to, r.id;

-- name: CountReinspections :one
select count(*) filter (where r.open and r.waits_for = '' and r.due_from <= r.day + @within::integer) as due,
       count(*) filter (where r.open and r.waits_for = '' and r.due_to < r.day) as overdue,
       count(*) filter (where r.open and r.waits_for = '' and r.due_from > r.day + @within::integer) as later,
       count(*) filter (where r.open and r.waits_for <> '') as waiting,
       count(*) filter (where r.state = 'booked') as booked,
       count(*) filter (where r.state = 'snoozed' and not r.open) as snoozed,
       count(*) filter (where r.state = 'declined') as declined,
       count(*) filter (where r.state = 'answered') as answered
  from (select x.due_from, x.due_to, x.waits_for, x.state, d.day, x.state = 'due' or x.state = 'snoozed' and x.snoozed_until <= d.day as open
          from reinspection_lines x
          cross join (select cast(timezone(p.time_zone, @now::timestamptz) as date) as day
          from practices p where p.practice_id = @practice_id) d
         where x.practice_id = @practice_id
           and ((not x.restricted and not @guest::boolean) or @self::boolean
                or exists (select from job_access a where a.practice_id = x.practice_id and a.job_id = x.job_id and a.member_id = @member::uuid))) r;

-- name: GetReinspection :one
select r.id, r.due_from, r.due_to, r.reason, r.tag, r.code, r.wants, r.waits_for, r.days_ashore, r.instrument,
       (case when r.state = 'snoozed' and r.snoozed_until <= d.day then 'due' else r.state end)::text as state, r.state_reason, r.snoozed_until, r.moved_at, r.moved_by, r.recalled_at, r.recalled_to,
       r.booked_job, r.booked_number, r.answered_by_job, r.answered_number,
       ((not r.booked_restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = r.practice_id and a.job_id = r.booked_job and a.member_id = @member::uuid))::boolean as booked_open,
       ((not r.answered_restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = r.practice_id and a.job_id = r.answered_by_job and a.member_id = @member::uuid))::boolean as answered_open,
       r.recommendation_id, r.grade, r.recommended, r.version,
       r.vessel_id, r.vessel_name, r.vessel_kind, r.loa_mm, r.moulded_year, r.hull_number, r.figure, r.yard, r.lifted_at, r.yard_zone, r.last_pass_at
  from reinspection_lines r
  cross join (select cast(timezone(p.time_zone, @now::timestamptz) as date) as day
          from practices p where p.practice_id = @practice_id) d
 where r.practice_id = @practice_id and r.id = @id
   and ((not r.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = r.practice_id and a.job_id = r.job_id and a.member_id = @member::uuid));

-- name: InsertReinspection :exec
insert into reinspections (practice_id, id, vessel_id, recommendation_id, due_from, due_to, reason, tag, code, report_id, wants, days_ashore, instrument_id, waits_for, created_at)
values (@practice_id, @id, @vessel_id, sqlc.narg('recommendation_id'), @due_from, @due_to, @reason, @tag, @code, sqlc.narg('report_id'), @wants,
  sqlc.narg('days_ashore'), sqlc.narg('instrument_id'), @waits_for, @now);

-- name: MoveReinspection :execrows
update reinspections
   set state = @state, state_reason = @state_reason, snoozed_until = sqlc.narg('snoozed_until'), booked_job = sqlc.narg('booked_job'),
       moved_at = @now::timestamptz, moved_by = sqlc.narg('moved_by'), version = version + 1
 where practice_id = @practice_id and id = @id and version = @version;

-- name: AnswerReinspections :exec
-- A survey answers what it covered; what was noted stays with each.
update reinspections r
   set state = 'answered', state_reason = (@notes::text[])[array_position(@ids::uuid[], r.id)], answered_by_job = @job_id::uuid, moved_at = @now::timestamptz,
       moved_by = sqlc.narg('moved_by'), version = version + 1
 where r.practice_id = @practice_id and r.id = any(@ids::uuid[]);

-- name: AnswerReinspectionsOf :exec
-- What a recommendation asked to see is answered where somebody saw it done.
update reinspections
   set state = 'answered', state_reason = @note, moved_at = @now::timestamptz, moved_by = sqlc.narg('moved_by'), version = version + 1
 where practice_id = @practice_id and recommendation_id = @recommendation_id and state in ('due', 'booked', 'snoozed');

-- name: MarkRecalled :exec
update reinspections
   set recalled_at = @now::timestamptz, recalled_party = @party_id::uuid, version = version + 1
 where practice_id = @practice_id and id = any(@ids::uuid[]);

-- name: ReinspectionFacts :one
-- What the dates to the next look depend on, after a job's last visit that was made. A
-- date that there is not is the first of all days.
select v.moulded_year,
       not exists (select from layers l
                     join elements e on e.practice_id = l.practice_id and e.id = l.element_id
                    where e.practice_id = v.practice_id and e.vessel_id = v.id and e.kind = 'hull' and l.kind = 'construction' and l.valid_to is null
                      and (l.what ilike '%epoxy%' or l.what ilike '%vinyl%')) as polyester,
       w.visited,
       coalesce((select cast(timezone(s.time_zone, min(s.planned_lift)) as date) from spells s
         where s.practice_id = v.practice_id and s.vessel_id = v.id and s.cancelled_at is null and s.actual_lift is null
           and s.planned_lift > w.from_at group by s.time_zone order by min(s.planned_lift) limit 1), '0001-01-01')::date as next_lift,
       coalesce((select cast(timezone(s.time_zone, s.planned_launch) as date) from spells s
         where s.practice_id = v.practice_id and s.vessel_id = v.id and s.cancelled_at is null and s.actual_launch is null
           and coalesce(s.actual_lift, s.planned_lift) <= w.from_at order by s.planned_lift desc nulls last, s.id limit 1), '0001-01-01')::date as launch,
       coalesce((select max(e.to_on) from events e where e.practice_id = v.practice_id and e.vessel_id = v.id and e.kind = 'treatment'), '0001-01-01')::date as treated,
       coalesce((select max(e.to_on) from events e where e.practice_id = v.practice_id and e.vessel_id = v.id and e.kind = 'grounding'), '0001-01-01')::date as grounded,
       coalesce((select min(g.ends_on) from guarantees g where g.practice_id = v.practice_id and g.vessel_id = v.id and g.ends_on >= w.visited), '0001-01-01')::date as guarantee_end,
       exists (select from passes p join visits x on x.practice_id = p.practice_id and x.id = p.visit_id
                where x.practice_id = j.practice_id and x.job_id = j.id and p.state in ('closed', 'frozen')) as metered,
       exists (select from visits x where x.practice_id = j.practice_id and x.job_id = j.id and x.state = 'done' and x.kind = 'wet look') as looked_wet,
       exists (select from windows o join visits x on x.practice_id = o.practice_id and x.id = o.visit_id
                where x.practice_id = j.practice_id and x.job_id = j.id) as opened,
       exists (select from visits x where x.practice_id = j.practice_id and x.job_id = j.id and x.state = 'done' and x.kind <> 'inside') as outside
  from jobs j
  join vessels v on v.practice_id = j.practice_id and v.id = j.vessel_id
  join lateral (select cast(timezone(x.time_zone, x.from_at) as date) as visited, x.from_at from visits x
                 where x.practice_id = j.practice_id and x.job_id = j.id and x.state = 'done' order by x.from_at desc, x.id limit 1) w on true
 where j.practice_id = @practice_id and j.id = @job_id;

-- name: LastMeterVisit :one
-- How she was read in a job: when, how long after which lift, and with what.
select w.from_at, p.instrument_id, coalesce(s.actual_lift, s.planned_lift, '0001-01-01T00:00Z')::timestamptz as lift, case when w.date_precision in ('instant', 'day') then coalesce(s.date_precision, '') else '' end as precision, coalesce(s.time_zone, '') as zone
  from passes p
  join visits w on w.practice_id = p.practice_id and w.id = p.visit_id
  left join spells s on s.practice_id = w.practice_id and s.id = w.spell_id
 where p.practice_id = @practice_id and w.job_id = @job_id and p.state in ('closed', 'frozen')
 order by p.began_at desc, p.id
 limit 1;

-- name: OpenAdvice :many
-- Issued recommendations of a vessel that nobody has seen done.
select id, grade, about, by_on
  from recommendations
 where practice_id = @practice_id and vessel_id = @vessel_id
   and state in ('issued', 'acknowledged', 'agreed', 'in hand', 'claimed done', 'not seen', 'reopened')
 order by created_at, id;

-- name: OpenReinspections :many
-- Held until the transaction ends.
select id, recommendation_id, code, due_from, due_to, waits_for, days_ashore, instrument_id
  from reinspections
 where practice_id = @practice_id and vessel_id = @vessel_id and state in ('due', 'booked', 'snoozed')
 order by due_to, id
   for update;

-- name: InsertGuarantee :exec
insert into guarantees (practice_id, id, vessel_id, what, given_by, ends_on, source, created_at)
values (@practice_id, @id, @vessel_id, @what, @given_by, @ends_on, @source, @now);

-- name: ReinspectionSettings :one
select rules, recall_monthly, recall_ahead_days, recall_opening, recall_closing, version
  from reinspection_settings
 where practice_id = @practice_id;

-- name: KeepReinspectionSettings :execrows
insert into reinspection_settings (practice_id, rules, recall_monthly, recall_ahead_days, recall_opening, recall_closing, version)
select @practice_id, @rules, @recall_monthly, @recall_ahead_days, @recall_opening, @recall_closing, 1 where @version::integer = 0
on conflict (practice_id) do nothing;

-- name: UpdateReinspectionSettings :execrows
update reinspection_settings
   set rules = @rules, recall_monthly = @recall_monthly, recall_ahead_days = @recall_ahead_days, recall_opening = @recall_opening,
       recall_closing = @recall_closing, version = version + 1
 where practice_id = @practice_id and version = @version::integer;

-- name: RecallFacts :one
-- Whom a letter about a vessel goes to: the client named, or the one whose window ends first.
select v.id as vessel_id, v.name as vessel_name, p.name as practice_name, p.email as practice_email, p.phone as practice_phone, p.invented,
       c.id as party_id, c.name as party_name, c.email as party_email, d.day
  from vessels v
  join practices p on p.practice_id = v.practice_id
  cross join (select cast(timezone(p.time_zone, @now::timestamptz) as date) as day
          from practices p where p.practice_id = @practice_id) d
  join lateral (
    select y.id, y.name, y.email from parties y
     where y.practice_id = v.practice_id and y.erased_at is null
       and y.id = coalesce(sqlc.narg('party_id')::uuid, (
             select r.client_id from reinspection_lines r
              where r.practice_id = v.practice_id and r.vessel_id = v.id and r.client_id is not null and (r.state = 'due' or r.state = 'snoozed' and r.snoozed_until <= d.day)
              order by r.due_to, r.id limit 1))) c on true
 where v.practice_id = @practice_id and v.id = @vessel_id;

-- name: RecallLines :many
-- What is due of a vessel, with whose job it comes from and whether others may be told.
select r.id, r.due_from, r.due_to, r.reason, r.wants, r.days_ashore, r.instrument, r.recalled_at, r.client_id, r.cite
  from reinspection_lines r
  cross join (select cast(timezone(p.time_zone, @now::timestamptz) as date) as day
          from practices p where p.practice_id = @practice_id) d
 where r.practice_id = @practice_id and r.vessel_id = @vessel_id and (r.state = 'due' or r.state = 'snoozed' and r.snoozed_until <= d.day) and r.waits_for = '' and r.due_from <= d.day + @within::integer
   and ((not r.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = r.practice_id and a.job_id = r.job_id and a.member_id = @member::uuid))
 order by r.due_to, r.id;

-- name: RecallsDue :many
-- Vessels and the clients whose jobs asked for another look, where a window opens within
-- so many days and no letter went out for it lately.
select distinct r.vessel_id, y.id as party_id
  from reinspection_lines r
  join parties y on y.practice_id = r.practice_id and y.id = r.client_id
  cross join (select cast(timezone(p.time_zone, @now::timestamptz) as date) as day
          from practices p where p.practice_id = @practice_id) d
 where r.practice_id = @practice_id and (r.state = 'due' or r.state = 'snoozed' and r.snoozed_until <= d.day) and r.waits_for = '' and r.due_from <= d.day + @within::integer
   and (r.recalled_at is null or r.recalled_at < @recalled_before::timestamptz)
   and y.erased_at is null and y.email <> ''
 order by r.vessel_id, y.id;
