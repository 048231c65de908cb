-- name: GetPassContext :one
select id, visit_id, visit_kind, job_id, job_number, client_id, cite, restricted, vessel_id, element_id, boot_top_mm, plan_id,
       visit_at, time_zone, lifted_at, date_precision, days_ashore_as_written, visit_precision, visit_as_written, hand_id, hand_name, hand_as_written,
       instrument_id, instrument_name, instrument_model, instrument_serial, sensing, has_zero_reset, instrument_as_written,
       scale_id, scale_name, scale_mode, low_tenths, high_tenths, step_tenths, timber_percent,
       face, surface, dry_surface, hours_since_wash, hours_since_heat_off, heated, rain, salt_wiped, zero_reset, battery,
       source, quoted, state, began_at, closed_at, note, version,
       air_decidegrees, humidity_permille, skin_port_decidegrees, skin_starboard_decidegrees
  from pass_contexts x
 where x.practice_id = @practice_id and x.id = @id
   and ((not x.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = x.practice_id and a.job_id = x.job_id and a.member_id = @member::uuid));

-- name: LockPass :one
select state
  from passes
 where practice_id = @practice_id and id = @id
   for update;

-- name: VisitOfPass :one
-- What a new pass needs of its visit: whose vessel, and whether the job lets this member write.
select v.id, j.vessel_id, j.id as job_id
  from visits v
  join jobs j on j.practice_id = v.practice_id and j.id = v.job_id
 where v.practice_id = @practice_id and v.id = @id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid));

-- name: ElementVessel :one
select vessel_id
  from elements
 where practice_id = @practice_id and id = @id;

-- name: PlanVessel :one
select vessel_id
  from plans
 where practice_id = @practice_id and id = @id;

-- name: ScaleInstrument :one
select instrument_id
  from scales
 where practice_id = @practice_id and id = @id;

-- name: InsertPass :exec
insert into passes (practice_id, id, visit_id, element_id, plan_id, hand_id, instrument_id, scale_id, instrument_as_written, hand_as_written,
  face, surface, dry_surface, hours_since_wash, hours_since_heat_off, heated, rain, salt_wiped, zero_reset, battery, source, quoted, began_at, note)
values (@practice_id, @id, @visit_id, @element_id, @plan_id, sqlc.narg('hand_id'), sqlc.narg('instrument_id'), sqlc.narg('scale_id'), @instrument_as_written, @hand_as_written,
  @face, @surface, @dry_surface, sqlc.narg('hours_since_wash'), sqlc.narg('hours_since_heat_off'), sqlc.narg('heated'), @rain, sqlc.narg('salt_wiped'), sqlc.narg('zero_reset'), @battery, @source, @quoted, @began_at, @note);

-- name: UpdatePass :execrows
update passes
   set surface = @surface, dry_surface = @dry_surface, hours_since_wash = sqlc.narg('hours_since_wash'),
       hours_since_heat_off = sqlc.narg('hours_since_heat_off'), heated = sqlc.narg('heated'), rain = @rain, salt_wiped = sqlc.narg('salt_wiped'),
       zero_reset = sqlc.narg('zero_reset'), battery = @battery, note = @note, version = version + 1
 where practice_id = @practice_id and id = @id and version = @version;

-- name: ClosePass :execrows
update passes
   set state = 'closed', closed_at = @closed_at, version = version + 1
 where practice_id = @practice_id and id = @id and version = @version and state = 'open';

-- name: HoldPassesOfReport :exec
select p.id
  from passes p
  join visits v on v.practice_id = p.practice_id and v.id = p.visit_id
  join jobs j on j.practice_id = v.practice_id and j.id = v.job_id
  join jobs own on own.practice_id = j.practice_id and own.vessel_id = j.vessel_id
  join reports r on r.practice_id = own.practice_id and r.job_id = own.id
 where p.practice_id = @practice_id and r.id = @report_id
 order by p.id
   for update of p;

-- name: FreezePasses :exec
update passes
   set state = 'frozen', closed_at = coalesce(closed_at, @now::timestamptz), version = version + 1
 where practice_id = @practice_id and id = any(@ids::uuid[]) and state <> 'frozen';

-- name: InsertBlockCheck :exec
insert into block_checks (practice_id, id, pass_id, block, moment, value_tenths, at)
values (@practice_id, @id, @pass_id, @block, @moment, @value_tenths, @at);

-- name: BlockChecksOfPass :many
select id, block, moment, value_tenths, at, pass_id
  from block_checks
 where practice_id = @practice_id and pass_id = @pass_id
 order by at, id;

-- name: PlanOfPass :one
select n.id, n.plan_version, n.kind, n.note, n.dry_change_reason, n.created_at,
       coalesce((select array_agg(l.ordinal order by x.position) from plan_places x join places l on l.practice_id = x.practice_id and l.id = x.place_id where x.practice_id = n.practice_id and x.plan_id = n.id), '{}')::integer[] as places,
       coalesce((select array_agg(l.ordinal order by x.position) from plan_places x join places l on l.practice_id = x.practice_id and l.id = x.place_id where x.practice_id = n.practice_id and x.plan_id = n.id and x.dry), '{}')::integer[] as dry,
       coalesce((select array_agg(l.ordinal order by x.position) from plan_places x join places l on l.practice_id = x.practice_id and l.id = x.place_id where x.practice_id = n.practice_id and x.plan_id = n.id and x.targeted), '{}')::integer[] as targeted
  from passes p
  join plans n on n.practice_id = p.practice_id and n.id = p.plan_id
 where p.practice_id = @practice_id and p.id = @pass_id;
