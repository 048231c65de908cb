-- name: WindowsOfVisit :many
select id, visit_id, element_id, side, along_mm, down_mm, width_mm, height_mm, bared_to, blisters_seen, made_good
  from windows
 where practice_id = @practice_id and visit_id = @visit_id
 order by id;

-- name: FindingsOfVisit :many
select f.id, f.visit_id, f.element_id, f.form, f.kind, f.sure, f.text, f.measured, f.side, f.outline, f.inside_of, f.again_of, f.look_again, f.created_at, f.version,
       coalesce((select array_agg(l.ordinal order by l.ordinal) from finding_places x join places l on l.practice_id = x.practice_id and l.id = x.place_id
                  where x.practice_id = f.practice_id and x.finding_id = f.id), '{}')::integer[] as places
  from findings f
 where f.practice_id = @practice_id and f.visit_id = @visit_id
 order by f.created_at, f.id;

-- name: GetFinding :one
select f.id, f.visit_id, f.element_id, f.form, f.kind, f.sure, f.text, f.measured, f.side, f.outline, f.inside_of, f.again_of, f.look_again, f.created_at, f.version,
       coalesce((select array_agg(l.ordinal order by l.ordinal) from finding_places x join places l on l.practice_id = x.practice_id and l.id = x.place_id
                  where x.practice_id = f.practice_id and x.finding_id = f.id), '{}')::integer[] as places
  from findings f
  join visits w on w.practice_id = f.practice_id and w.id = f.visit_id
  join jobs j on j.practice_id = w.practice_id and j.id = w.job_id
 where f.practice_id = @practice_id and f.id = @id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid));

-- name: LookAgain :many
-- What was marked to be looked at again on a vessel, and no later finding looked at.
select f.id, f.visit_id, f.element_id, f.form, f.kind, f.sure, f.text, f.measured, f.side, f.outline, f.inside_of, f.again_of, f.look_again, f.created_at, f.version,
       coalesce((select array_agg(l.ordinal order by l.ordinal) from finding_places x join places l on l.practice_id = x.practice_id and l.id = x.place_id
                  where x.practice_id = f.practice_id and x.finding_id = f.id), '{}')::integer[] as places,
       w.job_id, w.from_at, w.time_zone,
       (select count(*) from photos p where p.practice_id = f.practice_id and p.finding_id = f.id)::integer as photos
  from jobs j
  join visits w on w.practice_id = j.practice_id and w.job_id = j.id
  join findings f on f.practice_id = w.practice_id and f.visit_id = w.id
 where j.practice_id = @practice_id and j.vessel_id = @vessel_id and f.look_again
   and not exists (select from findings n where n.practice_id = f.practice_id and n.again_of = f.id)
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
 order by w.from_at desc, f.id
 limit 200;

-- name: LockFinding :one
select f.id, f.visit_id,
       exists (select from reports r where r.practice_id = w.practice_id and r.job_id = w.job_id and r.state not in ('draft', 'in review'))::boolean as issued
  from findings f
  join visits w on w.practice_id = f.practice_id and w.id = f.visit_id
  join jobs j on j.practice_id = w.practice_id and j.id = w.job_id
 where f.practice_id = @practice_id and f.id = @id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
   for update of f;

-- name: UpdateFinding :execrows
update findings
   set element_id = sqlc.narg('element_id'), form = @form, kind = @kind, sure = @sure, text = @text, measured = @measured, side = sqlc.narg('side'), outline = @outline,
       inside_of = sqlc.narg('inside_of'), again_of = sqlc.narg('again_of'), look_again = @look_again, version = version + 1
 where practice_id = @practice_id and id = @id and version = @version;

-- name: DeleteFindingPlaces :exec
delete from finding_places
 where practice_id = @practice_id and finding_id = @finding_id;

-- name: FindingVisit :one
select visit_id
  from findings
 where practice_id = @practice_id and id = @id;

-- name: InsertWindow :exec
insert into windows (practice_id, id, visit_id, element_id, side, along_mm, down_mm, width_mm, height_mm, bared_to, blisters_seen, made_good)
values (@practice_id, @id, @visit_id, @element_id, @side, @along_mm, @down_mm, @width_mm, @height_mm, @bared_to, @blisters_seen, @made_good);

-- name: CountWindowsOfJob :one
select count(*)::integer as bared
  from windows w
  join visits v on v.practice_id = w.practice_id and v.id = w.visit_id
 where w.practice_id = @practice_id and v.job_id = @job_id;

-- name: InsertFinding :exec
insert into findings (practice_id, id, visit_id, element_id, form, kind, sure, text, measured, side, outline, inside_of, again_of, look_again, created_at, by_id)
values (@practice_id, @id, @visit_id, sqlc.narg('element_id'), @form, @kind, @sure, @text, @measured, sqlc.narg('side'), @outline, sqlc.narg('inside_of'), sqlc.narg('again_of'),
  @look_again, @now, sqlc.narg('by_id'));

-- name: InsertFindingPlaces :exec
insert into finding_places (practice_id, finding_id, place_id)
select @practice_id, @finding_id, unnest(@places::uuid[])
on conflict do nothing;
