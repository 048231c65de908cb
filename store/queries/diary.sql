-- name: DiaryVisits :many
-- Visits that touch a span of time, with who makes them, with what, and what was let pass.
select w.id, w.kind, w.from_at, w.to_at, w.time_zone, w.state, w.lead_id, w.spell_id, w.follows_visit_id, w.version,
       w.job_id, j.number, j.kind as job_kind, j.stage as job_stage, j.vessel_id, v.name as vessel_name,
       coalesce((select array_agg(o.member_id order by o.member_id) from visit_people o where o.practice_id = w.practice_id and o.visit_id = w.id), '{}')::uuid[] as people,
       coalesce((select array_agg(o.instrument_id order by o.instrument_id) from visit_instruments o where o.practice_id = w.practice_id and o.visit_id = w.id), '{}')::uuid[] as instruments,
       coalesce(o.codes, '{}')::text[] as override_codes, coalesce(o.reasons, '{}')::text[] as override_reasons,
       ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))::boolean as open
  from visits w
  join jobs j on j.practice_id = w.practice_id and j.id = w.job_id
  join vessels v on v.practice_id = j.practice_id and v.id = j.vessel_id
  left join lateral (
    select array_agg(x.code order by x.code) as codes, array_agg(x.reason order by x.code) as reasons
      from visit_overrides x
     where x.practice_id = w.practice_id and x.visit_id = w.id
       and not exists (select from moves m where m.practice_id = x.practice_id and m.id = x.move_id and m.undone_at is not null)) o on true
 where w.practice_id = @practice_id and w.from_at < @to_at::timestamptz and w.from_at >= @since::timestamptz and w.to_at > @from_at::timestamptz
 order by w.from_at, w.id;

-- name: DiarySpells :many
-- Times ashore that touch a span of time.
select s.id, s.vessel_id, v.name as vessel_name, v.loa_mm, s.yard_id, s.time_zone, s.planned_lift, s.planned_launch, s.actual_lift, s.actual_launch,
       s.asked_only, s.held, s.under_cover, s.washed_at, s.date_precision, s.version,
       k.wash_at, k.chock_at, k.shift_at, coalesce(k.pays, '') as pays, coalesce(k.told, '') as told
  from spells s
  join vessels v on v.practice_id = s.practice_id and v.id = s.vessel_id
  left join slots k on k.practice_id = s.practice_id and k.spell_id = s.id
 where s.practice_id = @practice_id and s.cancelled_at is null
   and s.id = any(array(select x.id from spells x where x.practice_id = @practice_id and x.during && tstzrange(@from_at::timestamptz, @to_at::timestamptz, '[)')))
 order by coalesce(s.actual_lift, s.planned_lift), s.id
 limit 3000;

-- name: DiaryMembers :many
-- Who makes visits, and which kinds of job each does as far as anybody said.
select m.id, m.name, m.roles, (m.left_at is null)::boolean as active, m.email,
       coalesce(k.kinds, '{}')::text[] as kinds, coalesce(k.judged_on, '{}')::date[] as judged_on, coalesce(k.judged_by, '{}')::text[] as judged_by
  from members m
  left join lateral (
    select array_agg(c.kind order by c.kind) as kinds, array_agg(coalesce(j.judged_on, '0001-01-01'::date) order by c.kind) as judged_on,
           array_agg(coalesce(j.judged_by, '') order by c.kind) as judged_by
      from competences c
      left join lateral (
        select x.judged_on, w.name as judged_by
          from competence_judgements x
          left join members w on w.practice_id = x.practice_id and w.id = x.judged_by
         where x.practice_id = c.practice_id and x.member_id = c.member_id and x.kind = c.kind and x.competent
         order by x.at desc, x.id desc
         limit 1) j on true
     where c.practice_id = m.practice_id and c.member_id = m.id) k on true
 where m.practice_id = @practice_id
   and (m.left_at is null and m.roles && array['principal', 'surveyor', 'trainee', 'guest']
        or exists (select from visit_people o where o.practice_id = m.practice_id and o.member_id = m.id and o.during && tstzrange(@from_at::timestamptz, @to_at::timestamptz, '[)')))
 order by lower(m.name), m.id;

-- name: DiaryLeaves :many
select l.id, l.member_id, lower(l.during)::timestamptz as from_at, upper(l.during)::timestamptz as to_at, l.reason
  from leaves l
 where l.practice_id = @practice_id and l.during && tstzrange(@from_at::timestamptz, @to_at::timestamptz, '[)')
 order by lower(l.during), l.id;

-- name: DiaryTides :many
select t.id, t.place, t.high_at, t.height_mm, t.source
  from tides t
 where t.practice_id = @practice_id and t.high_at >= @from_at::timestamptz and t.high_at < @to_at::timestamptz
 order by t.place, t.high_at;

-- name: DiaryWeather :many
select w.place, w.at, w.air_decidegrees, w.humidity_permille, w.rain_mm, w.source
  from weather_records w
 where w.practice_id = @practice_id and w.at >= @from_at::timestamptz and w.at < @to_at::timestamptz
 order by w.place, w.at;

-- name: DiaryYards :many
-- Every yard, with what is known of it; gate code and keys are read elsewhere.
select p.id, p.name, p.kind, p.is_yard, p.phone, coalesce(p.time_zone, '') as time_zone, coalesce(y.lift_hours, '') as lift_hours, coalesce(y.rules, '') as rules,
       y.latitude_e6, y.longitude_e6, coalesce(y.tide_place, '') as tide_place, coalesce(y.tide_within_minutes, 120)::integer as tide_within_minutes
  from parties p
  left join yards y on y.practice_id = p.practice_id and y.party_id = p.id
 where p.practice_id = @practice_id and p.is_yard and p.merged_into is null and p.erased_at is null
 order by lower(p.name), p.id;

-- name: DiaryInstruments :many
select id, name, model, sensing, retired_on
  from instruments
 where practice_id = @practice_id
 order by lower(name), id;

-- name: DiaryHulls :many
-- What waiting times rest on, of every vessel with a visit or a lift in the span, or of one.
select v.id, v.moulded_year,
       coalesce((select string_agg(l.what, '; ' order by l.id) from elements e join layers l on l.practice_id = e.practice_id and l.element_id = e.id
                  where e.practice_id = v.practice_id and e.vessel_id = v.id and l.kind = 'construction' and l.valid_to is null), '')::text as construction,
       coalesce((select string_agg(l.what, '; ' order by l.id) from elements e join layers l on l.practice_id = e.practice_id and l.element_id = e.id
                  where e.practice_id = v.practice_id and e.vessel_id = v.id and l.kind = 'coating' and l.valid_to is null), '')::text as coating,
       coalesce((select array_agg(s.actual_launch order by s.actual_launch) from spells s
                  where s.practice_id = v.practice_id and s.vessel_id = v.id and s.actual_launch is not null and s.cancelled_at is null), '{}')::timestamptz[] as launches,
       coalesce(x.id, '00000000-0000-0000-0000-000000000000')::uuid as metered_id, coalesce(x.from_at, 'epoch')::timestamptz as metered_at,
       coalesce(x.lift, 'epoch')::timestamptz as metered_lift, coalesce(x.date_precision, '')::text as metered_precision, coalesce(x.time_zone, '')::text as metered_zone,
       coalesce(x.lead_id, '00000000-0000-0000-0000-000000000000')::uuid as metered_by,
       coalesce((select array_agg(distinct p.instrument_id) from passes p where p.practice_id = v.practice_id and p.visit_id = x.id and p.instrument_id is not null), '{}')::uuid[] as metered_with,
       coalesce((select array_agg(distinct w.lead_id) from jobs j join visits w on w.practice_id = j.practice_id and w.job_id = j.id
                  where j.practice_id = v.practice_id and j.vessel_id = v.id and w.state = 'done' and w.lead_id is not null), '{}')::uuid[] as leads
  from vessels v
  left join lateral (
    select w.id, w.from_at, coalesce(s.actual_lift, s.planned_lift) as lift, case when w.date_precision in ('instant', 'day') then s.date_precision end as date_precision, s.time_zone, w.lead_id
      from jobs j
      join visits w on w.practice_id = j.practice_id and w.job_id = j.id
      left join spells s on s.practice_id = w.practice_id and s.id = w.spell_id
     where j.practice_id = v.practice_id and j.vessel_id = v.id and w.state = 'done' and w.kind in ('meter visit', 'repeat readings')
       and (not j.restricted or @self::boolean or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
     order by w.from_at desc limit 1) x on true
 where v.practice_id = @practice_id
   and (v.id = sqlc.narg('vessel_id')::uuid
        or sqlc.narg('vessel_id')::uuid is null and v.id = any(array(
          select j.vessel_id from visits w join jobs j on j.practice_id = w.practice_id and j.id = w.job_id
           where w.practice_id = @practice_id and w.from_at < @to_at::timestamptz and w.to_at > @from_at::timestamptz and w.state = 'planned')))
 order by v.id;

-- name: DiaryUnplaced :many
-- Open jobs for which no visit is planned or was made, or whose lift is planned and not the visits.
select j.id, j.number, j.kind, j.stage,
       j.vessel_id, j.vessel_name, j.vessel_kind, j.loa_mm, j.moulded_year, j.hull_number, j.figure, j.yard, j.lifted_at, j.yard_zone, j.last_pass_at,
       j.client_id, j.client_name, j.client_kind, j.client_is_yard, j.lead_id, j.lead_name, j.lead_roles, j.lead_active, j.due_on, j.stands_between, j.next_visit_at
  from job_lines j
 where j.practice_id = @practice_id
   and j.id = any(array(
         select x.id
           from jobs x
          where x.practice_id = @practice_id and x.stage = 'booked' and x.kind not in ('tonnage', 'code', 'repeat kit')
            and ((not x.restricted and not @guest::boolean) or @self::boolean
                 or exists (select from job_access a where a.practice_id = x.practice_id and a.job_id = x.id and a.member_id = @member::uuid))
            and not exists (select from visits w where w.practice_id = x.practice_id and w.job_id = x.id and w.state <> 'cancelled')
          order by x.due_on nulls last, x.id
          limit 200))
 order by j.due_on nulls last, j.id;

-- name: InsertLeave :exec
insert into leaves (practice_id, id, member_id, during, reason)
values (@practice_id, @id, @member_id, tstzrange(@from_at::timestamptz, @to_at::timestamptz, '[)'), @reason);

-- name: DeleteLeave :one
delete from leaves
 where practice_id = @practice_id and id = @id
returning member_id;

-- name: ForgetCompetences :exec
delete from competences
 where practice_id = @practice_id and member_id = @member_id;

-- name: InsertCompetences :exec
insert into competences (practice_id, member_id, kind)
select m.practice_id, m.id, k.kind
  from members m, (select distinct unnest(@kinds::text[]) as kind) k
 where m.practice_id = @practice_id and m.id = @member_id;

-- name: CompetencesOf :many
select kind
  from competences
 where practice_id = @practice_id and member_id = @member_id
 order by kind;

-- name: CompetencesOfAll :many
-- What each member who makes visits does, with the judgement that it rests on.
select m.id as member_id, m.name, m.roles, c.kind, coalesce(j.judged_on, '0001-01-01'::date)::date as judged_on, coalesce(j.judged_by, '')::text as judged_by, coalesce(j.grounds, '')::text as grounds
  from members m
  left join competences c on c.practice_id = m.practice_id and c.member_id = m.id
  left join lateral (
    select x.judged_on, w.name as judged_by, x.grounds
      from competence_judgements x
      left join members w on w.practice_id = x.practice_id and w.id = x.judged_by
     where x.practice_id = c.practice_id and x.member_id = c.member_id and x.kind = c.kind and x.competent
     order by x.at desc, x.id desc
     limit 1) j on true
 where m.practice_id = @practice_id and m.left_at is null and m.roles && array['principal', 'surveyor', 'trainee']
 order by lower(m.name), m.id, c.kind;

-- name: JudgementsOfAll :many
-- Every judgement on members who are there, newest first.
select x.id, x.member_id, x.kind, x.competent, x.judged_on, coalesce(w.name, '')::text as judged_by, x.grounds, x.at
  from competence_judgements x
  join members m on m.practice_id = x.practice_id and m.id = x.member_id and m.left_at is null
  left join members w on w.practice_id = x.practice_id and w.id = x.judged_by
 where x.practice_id = @practice_id
 order by x.at desc, x.id desc
 limit 1000;

-- name: InsertJudgement :exec
insert into competence_judgements (practice_id, id, member_id, kind, competent, judged_on, judged_by, grounds, at)
values (@practice_id, @id, @member_id, @kind, @competent, @judged_on, sqlc.narg('judged_by'), @grounds, @at);

-- name: OwnFigures :many
-- What a practice ever put in the place of the trade's figures, newest first.
select f.id, f.code, f.figure, f.reason, coalesce(m.name, '')::text as by_name, f.at
  from practice_figures f
  left join members m on m.practice_id = f.practice_id and m.id = f.by_id
 where f.practice_id = @practice_id
 order by f.at desc, f.id desc
 limit 2000;

-- name: OwnFigure :one
select f.id, f.code, f.figure, f.reason, coalesce(m.name, '')::text as by_name, f.at
  from practice_figures f
  left join members m on m.practice_id = f.practice_id and m.id = f.by_id
 where f.practice_id = @practice_id and f.code = @code
 order by f.at desc, f.id desc
 limit 1;

-- name: InsertFigure :exec
insert into practice_figures (practice_id, id, code, figure, reason, by_id, at)
values (@practice_id, @id, @code, sqlc.narg('figure'), @reason, sqlc.narg('by_id'), @at);

-- name: DeclinedOfVessel :many
-- Proposals of a vessel's jobs that nobody wants.
select d.id, d.job_id, d.spell_id, d.line, d.reason, coalesce(m.name, '')::text as by_name, d.at
  from declined_visits d
  join jobs j on j.practice_id = d.practice_id and j.id = d.job_id
  left join members m on m.practice_id = d.practice_id and m.id = d.by_id
 where d.practice_id = @practice_id and j.vessel_id = @vessel_id and d.taken_back_at is null
 order by d.at, d.id;

-- name: InsertDeclined :exec
insert into declined_visits (practice_id, id, job_id, spell_id, line, reason, by_id, at)
values (@practice_id, @id, @job_id, @spell_id, @line, @reason, sqlc.narg('by_id'), @at);

-- name: GetDeclined :one
select d.job_id
  from declined_visits d
  join jobs j on j.practice_id = d.practice_id and j.id = d.job_id
 where d.practice_id = @practice_id and d.id = @id and d.taken_back_at is null
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
   for update of d;

-- name: TakeBackDeclined :exec
update declined_visits
   set taken_back_at = @now::timestamptz, taken_back_by = sqlc.narg('by_id')
 where practice_id = @practice_id and id = @id;

-- name: WashesOfVessel :many
-- Washes of a vessel's jobs within a span, the last first.
select w.at
  from washes w
  join jobs j on j.practice_id = w.practice_id and j.id = w.job_id
 where w.practice_id = @practice_id and j.vessel_id = @vessel_id and w.at >= @from_at::timestamptz and w.at < @to_at::timestamptz
 order by w.at desc
 limit 50;

-- name: InsertTides :execrows
insert into tides (practice_id, id, place, high_at, height_mm, source)
select @practice_id, x.id, @place, x.high_at, x.height_mm, @source
  from (select unnest(@ids::uuid[]) as id, unnest(@times::timestamptz[]) as high_at, unnest(@heights::integer[]) as height_mm) x
on conflict (practice_id, place, high_at) do nothing;

-- name: DeleteTides :execrows
delete from tides
 where practice_id = @practice_id and place = @place and high_at >= @from_at::timestamptz and high_at < @to_at::timestamptz;

-- name: InsertWeather :execrows
insert into weather_records (practice_id, id, place, at, air_decidegrees, humidity_permille, rain_mm, source)
values (@practice_id, @id, @place, @at, sqlc.narg('air_decidegrees'), sqlc.narg('humidity_permille'), sqlc.narg('rain_mm'), @source)
on conflict (practice_id, place, at) do nothing;
