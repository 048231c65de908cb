-- name: InsertRecommendation :exec
insert into recommendations (practice_id, id, vessel_id, job_id, grade, sure, readings_only, what, reason, consequence, who_acts, by_on, by_as_written, closed_by, about, created_at)
values (@practice_id, @id, @vessel_id, @job_id, @grade, @sure, @readings_only, @what, @reason, @consequence, @who_acts, sqlc.narg('by_on'), @by_as_written, @closed_by, @about, @now);

-- name: UpdateRecommendation :execrows
update recommendations
   set grade = @grade, sure = @sure, readings_only = @readings_only, what = @what, reason = @reason, consequence = @consequence, who_acts = @who_acts,
       by_on = sqlc.narg('by_on'), by_as_written = @by_as_written, closed_by = @closed_by, about = @about, version = version + 1
 where practice_id = @practice_id and id = @id and version = @version and state = 'draft';

-- name: GetRecommendation :one
select r.id, r.vessel_id, r.job_id, r.grade, r.sure, r.readings_only, r.what, r.reason, r.consequence, r.who_acts, r.by_on, r.by_as_written, r.closed_by, r.about, r.state, r.created_at, r.version
  from recommendations r
  join jobs j on j.practice_id = r.practice_id and j.id = r.job_id
 where r.practice_id = @practice_id and r.id = @id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid));

-- name: RecommendationsOfVessel :many
select r.id, r.vessel_id, r.job_id, r.grade, r.sure, r.readings_only, r.what, r.reason, r.consequence, r.who_acts, r.by_on, r.by_as_written, r.closed_by, r.about, r.state, r.created_at, r.version
  from recommendations r
  join jobs j on j.practice_id = r.practice_id and j.id = r.job_id
 where r.practice_id = @practice_id and r.vessel_id = @vessel_id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
 order by r.created_at desc, r.id;

-- name: StatesOfVessel :many
select s.recommendation_id, s.state, s.reason, coalesce(m.name, s.by_name)::text as by_name, s.at
  from recommendation_states s
  join recommendations r on r.practice_id = s.practice_id and r.id = s.recommendation_id
  join jobs j on j.practice_id = r.practice_id and j.id = r.job_id
  left join members m on m.practice_id = s.practice_id and m.id = s.by_id
 where s.practice_id = @practice_id and r.vessel_id = @vessel_id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
 order by s.at, s.id;

-- name: StatesOfRecommendation :many
select s.recommendation_id, s.state, s.reason, coalesce(m.name, s.by_name)::text as by_name, s.at
  from recommendation_states s
  left join members m on m.practice_id = s.practice_id and m.id = s.by_id
 where s.practice_id = @practice_id and s.recommendation_id = @id
 order by s.at, s.id;

-- name: SetRecommendationState :execrows
update recommendations
   set state = @state, version = version + 1
 where practice_id = @practice_id and id = @id and state = @before;

-- name: InsertRecommendationState :exec
insert into recommendation_states (practice_id, id, recommendation_id, state, reason, by_id, by_name, at)
values (@practice_id, @id, @recommendation_id, @state, @reason, sqlc.narg('by_id'), @by_name, @now);

-- name: IssueRecommendations :exec
-- Drafts of a job become issued with its report, each with its line of history.
with moved as (
  update recommendations r set state = 'issued', version = version + 1
   where r.practice_id = @practice_id and r.job_id = @job_id and r.state = 'draft'
  returning r.id
)
insert into recommendation_states (practice_id, id, recommendation_id, state, reason, by_id, at)
select @practice_id, gen_random_uuid(), moved.id, 'issued', 'report ' || @number::text, sqlc.narg('by_id')::uuid, @now::timestamptz from moved;
