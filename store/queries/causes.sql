-- name: InsertCauseJudgement :exec
insert into cause_judgements (practice_id, id, vessel_id, visit_id, cause, judgement, reason, ordinals, by_id, at)
values (@practice_id, @id, @vessel_id, @visit_id, @cause, @judgement, @reason, @ordinals::integer[], @by_id, @now);

-- name: InsertCauseCheck :exec
insert into cause_checks (practice_id, id, vessel_id, visit_id, outcome, ordinals, finding_id, note, by_id, at)
values (@practice_id, @id, @vessel_id, @visit_id, @outcome, @ordinals::integer[], sqlc.narg('finding_id'), @note, sqlc.narg('by_id'), @now);

-- name: WithdrawCauseCheck :execrows
update cause_checks
   set withdrawn_at = @now, withdrawn_reason = @reason
 where practice_id = @practice_id and id = @id and withdrawn_at is null;

-- name: GetCauseCheck :one
select k.id, k.vessel_id, k.visit_id, k.outcome, k.ordinals, k.finding_id, k.note, k.by_id, coalesce(m.name, '')::text as by_name, k.at, k.withdrawn_at, k.withdrawn_reason,
       w.from_at, w.time_zone, j.client_id, j.cite
  from cause_checks k
  join visits w on w.practice_id = k.practice_id and w.id = k.visit_id
  join jobs j on j.practice_id = w.practice_id and j.id = w.job_id
  left join members m on m.practice_id = k.practice_id and m.id = k.by_id
 where k.practice_id = @practice_id and k.id = @id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid));

-- name: CauseChecksOfVessel :many
select k.id, k.vessel_id, k.visit_id, k.outcome, k.ordinals, k.finding_id, k.note, k.by_id, coalesce(m.name, '')::text as by_name, k.at, k.withdrawn_at, k.withdrawn_reason,
       w.from_at, w.time_zone, j.client_id, j.cite
  from cause_checks k
  join visits w on w.practice_id = k.practice_id and w.id = k.visit_id
  join jobs j on j.practice_id = w.practice_id and j.id = w.job_id
  left join members m on m.practice_id = k.practice_id and m.id = k.by_id
 where k.practice_id = @practice_id and k.vessel_id = @vessel_id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
 order by k.at, k.id;

-- name: CauseJudgementsOfVessel :many
select g.id, g.vessel_id, g.visit_id, g.cause, g.judgement, g.reason, g.ordinals, g.by_id, m.name as by_name, g.at,
       w.from_at, w.time_zone, j.client_id, j.cite
  from cause_judgements g
  join members m on m.practice_id = g.practice_id and m.id = g.by_id
  join visits w on w.practice_id = g.practice_id and w.id = g.visit_id
  join jobs j on j.practice_id = w.practice_id and j.id = w.job_id
 where g.practice_id = @practice_id and g.vessel_id = @vessel_id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
 order by g.at, g.id;

-- name: CauseFindingsOfVessel :many
select f.id, f.visit_id, f.kind, f.sure, f.text, f.measured, w.from_at, w.time_zone, j.client_id, j.cite,
       coalesce((select array_agg(l.ordinal order by l.ordinal) from finding_places x join places l on l.practice_id = x.practice_id and l.id = x.place_id
                  where x.practice_id = f.practice_id and x.finding_id = f.id), '{}')::integer[] as places
  from findings f
  join visits w on w.practice_id = f.practice_id and w.id = f.visit_id
  join jobs j on j.practice_id = w.practice_id and j.id = w.job_id
 where f.practice_id = @practice_id and j.vessel_id = @vessel_id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
 order by w.from_at, f.id;

-- name: CauseWindowsOfVessel :many
select n.id, n.visit_id, n.element_id, n.side, n.along_mm, n.down_mm, n.width_mm, n.height_mm, n.bared_to, n.blisters_seen, w.from_at, w.time_zone, j.client_id, j.cite
  from windows n
  join visits w on w.practice_id = n.practice_id and w.id = n.visit_id
  join jobs j on j.practice_id = w.practice_id and j.id = w.job_id
 where n.practice_id = @practice_id and j.vessel_id = @vessel_id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
 order by w.from_at, n.id;

-- name: CauseConditionsOfVessel :many
-- Air, skin and what lay behind, of every visit to her.
select c.id, c.visit_id, c.at, c.air_decidegrees, c.humidity_permille, c.skin_port_decidegrees, c.skin_starboard_decidegrees, c.tank_level, c.bilge_level, w.time_zone
  from conditions c
  join visits w on w.practice_id = c.practice_id and w.id = c.visit_id
  join jobs j on j.practice_id = w.practice_id and j.id = w.job_id
 where c.practice_id = @practice_id and j.vessel_id = @vessel_id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
 order by c.at, c.id;

-- name: CauseRepeatsOfVessel :many
-- What was read again, blind or asked for, beside the first reading.
select r.pass_id, l.ordinal, f.value as first, r.value as again, r.blind
  from readings r
  join readings f on f.practice_id = r.practice_id and f.pass_id = r.pass_id and f.place_id = r.place_id and f.occasion = 1 and f.current and f.void_reason = '' and f.limit_flag = ''
  join places l on l.practice_id = r.practice_id and l.id = r.place_id
 where r.practice_id = @practice_id and l.vessel_id = @vessel_id and r.occasion > 1 and r.current and r.void_reason = '' and r.limit_flag = ''
 order by r.pass_id, l.ordinal, r.occasion;
