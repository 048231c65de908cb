-- name: LockVessel :one
-- Ordinals and plan versions of a vessel are given out one writer at a time.
select id
  from vessels
 where practice_id = @practice_id and id = @id
   for update;

-- name: PlacesOfVessel :many
select id, ordinal, element_id, label, side, along_mm, down_mm
  from places
 where practice_id = @practice_id and vessel_id = @vessel_id
 order by ordinal;

-- name: InsertPlaces :execrows
insert into places (practice_id, id, vessel_id, element_id, ordinal, label, side, station, row_no, along_mm, down_mm, position_error_mm, told_as)
select @practice_id, n.id, @vessel_id, @element_id, n.ordinal, n.label, n.side, nullif(n.station, -32768), nullif(n.row_no, -32768), n.along_mm, n.down_mm, n.position_error_mm, n.told_as
  from (select unnest(@ids::uuid[]) as id, unnest(@ordinals::integer[]) as ordinal, unnest(@labels::text[]) as label, unnest(@sides::text[]) as side,
               unnest(@stations::smallint[]) as station, unnest(@row_nos::smallint[]) as row_no, unnest(@along::integer[]) as along_mm, unnest(@down::integer[]) as down_mm, unnest(@errors::integer[]) as position_error_mm, unnest(@told_as::text[]) as told_as) n;

-- name: InsertPlan :one
insert into plans (practice_id, id, vessel_id, plan_version, kind, note, dry_change_reason, created_at, created_by)
select @practice_id, @id, @vessel_id, coalesce(max(p.plan_version), 0) + 1, 'grid', @note::text, @dry_change_reason::text, @now::timestamptz, sqlc.narg('created_by')::uuid
  from plans p
 where p.practice_id = @practice_id and p.vessel_id = @vessel_id
returning plan_version;

-- name: InsertPlanPlaces :execrows
insert into plan_places (practice_id, plan_id, place_id, position, dry, targeted)
select @practice_id, @plan_id, n.place_id, n.position, n.dry, n.targeted
  from (select unnest(@places::uuid[]) as place_id, unnest(@positions::integer[]) as position, unnest(@dry::boolean[]) as dry, unnest(@targeted::boolean[]) as targeted) n;

-- name: PlansOfVessel :many
select n.id, n.plan_version, n.kind, n.note, n.dry_change_reason, n.created_at,
       coalesce((select array_agg(l.ordinal order by x.position) from plan_places x join places l on l.practice_id = x.practice_id and l.id = x.place_id where x.practice_id = n.practice_id and x.plan_id = n.id), '{}')::integer[] as places,
       coalesce((select array_agg(l.ordinal order by x.position) from plan_places x join places l on l.practice_id = x.practice_id and l.id = x.place_id where x.practice_id = n.practice_id and x.plan_id = n.id and x.dry), '{}')::integer[] as dry,
       coalesce((select array_agg(l.ordinal order by x.position) from plan_places x join places l on l.practice_id = x.practice_id and l.id = x.place_id where x.practice_id = n.practice_id and x.plan_id = n.id and x.targeted), '{}')::integer[] as targeted
  from plans n
 where n.practice_id = @practice_id and n.vessel_id = @vessel_id
 order by n.plan_version desc;

-- name: GetPlan :one
select n.id, n.plan_version, n.kind, n.note, n.dry_change_reason, n.created_at,
       coalesce((select array_agg(l.ordinal order by x.position) from plan_places x join places l on l.practice_id = x.practice_id and l.id = x.place_id where x.practice_id = n.practice_id and x.plan_id = n.id), '{}')::integer[] as places,
       coalesce((select array_agg(l.ordinal order by x.position) from plan_places x join places l on l.practice_id = x.practice_id and l.id = x.place_id where x.practice_id = n.practice_id and x.plan_id = n.id and x.dry), '{}')::integer[] as dry,
       coalesce((select array_agg(l.ordinal order by x.position) from plan_places x join places l on l.practice_id = x.practice_id and l.id = x.place_id where x.practice_id = n.practice_id and x.plan_id = n.id and x.targeted), '{}')::integer[] as targeted
  from plans n
 where n.practice_id = @practice_id and n.id = @id
   and (not @guest::boolean
        or exists (select from jobs g join job_access a on a.practice_id = g.practice_id and a.job_id = g.id
                    where g.practice_id = @practice_id and g.vessel_id = n.vessel_id and a.member_id = @member::uuid));
