-- name: BriefFindings :many
-- Findings of the vessel that the member may see, with whether they may be told to the job's client.
select f.kind, f.sure, f.text,
       (f.look_again and not exists (select from findings n where n.practice_id = f.practice_id and n.again_of = f.id))::boolean as look_again, w.from_at, w.time_zone,
       (j.id = o.id or job_told(j.client_id, j.cite, o.client_id))::boolean as told,
       coalesce((select array_agg(l.ordinal order by l.ordinal) from finding_places x join places l on l.practice_id = x.practice_id and l.id = x.place_id
                  where x.practice_id = f.practice_id and x.finding_id = f.id), '{}')::integer[] as places
  from jobs o
  join jobs j on j.practice_id = o.practice_id and j.vessel_id = o.vessel_id
  join visits w on w.practice_id = j.practice_id and w.job_id = j.id
  join findings f on f.practice_id = w.practice_id and f.visit_id = w.id
 where o.practice_id = @practice_id and o.id = @job_id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
 order by w.from_at desc, f.id
 limit 200;

-- name: BriefRecommendations :many
-- Recommendations of the vessel that are not closed, as above.
select r.grade, r.sure, r.what, r.reason, r.state, r.created_at, j.number as job_number,
       (j.id = o.id or job_told(j.client_id, j.cite, o.client_id))::boolean as told
  from jobs o
  join jobs j on j.practice_id = o.practice_id and j.vessel_id = o.vessel_id
  join recommendations r on r.practice_id = j.practice_id and r.job_id = j.id
 where o.practice_id = @practice_id and o.id = @job_id and r.state not in ('draft', 'seen done', 'closed')
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
 order by r.created_at desc, r.id
 limit 200;

-- name: BriefPlan :one
-- The newest plan of the job's vessel.
select n.plan_version, n.kind, n.note, n.dry_change_reason,
       (select count(*) from plan_places x where x.practice_id = n.practice_id and x.plan_id = n.id)::integer as places,
       (select count(*) from plan_places x where x.practice_id = n.practice_id and x.plan_id = n.id and x.dry)::integer as dry,
       (select count(*) from plan_places x where x.practice_id = n.practice_id and x.plan_id = n.id and x.targeted)::integer as targeted
  from plans n
 where n.practice_id = @practice_id and n.vessel_id = (select o.vessel_id from jobs o where o.practice_id = @practice_id and o.id = @job_id)
 order by n.plan_version desc
 limit 1;
