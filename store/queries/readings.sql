-- name: PlacesByOrdinal :many
select id, ordinal
  from places
 where practice_id = @practice_id and vessel_id = @vessel_id and ordinal = any(@ordinals::integer[])
 order by ordinal;

-- name: TakenOccasions :many
-- What is taken already at these places: whether the first occasion is, and the highest.
select place_id, bool_or(occasion = 1)::boolean as first, max(occasion)::smallint as last
  from readings
 where practice_id = @practice_id and pass_id = @pass_id and place_id = any(@places::uuid[]) and current
 group by place_id
 order by place_id;

-- name: ReadingsKept :many
select id
  from readings
 where practice_id = @practice_id and id = any(@ids::uuid[])
 order by id;

-- name: InsertReadings :execrows
insert into readings (practice_id, id, pass_id, place_id, occasion, value, limit_flag, low, high, as_written, placements, surface,
  taken_at, received_at, clock_offset_ms, known_before, follow_up, supersedes_id, supersession, supersession_reason, entered_by)
select @practice_id, n.id, @pass_id, n.place_id, n.occasion, n.value, n.limit_flag, nullif(n.low, -2147483648), nullif(n.high, -2147483648), n.as_written, n.placements::smallint[], n.surface,
       n.taken_at, @now::timestamptz, sqlc.narg('clock_offset_ms')::integer, n.known_before, n.follow_up,
       sqlc.narg('supersedes_id')::uuid, @supersession::text, @supersession_reason::text, sqlc.narg('entered_by')::uuid
  from (select unnest(@ids::uuid[]) as id, unnest(@places::uuid[]) as place_id, unnest(@occasions::smallint[]) as occasion, unnest(@vals::integer[]) as value,
               unnest(@limits::text[]) as limit_flag, unnest(@lows::integer[]) as low, unnest(@highs::integer[]) as high, unnest(@written::text[]) as as_written,
               unnest(@placements::text[]) as placements, unnest(@surfaces::text[]) as surface, unnest(@taken::timestamptz[]) as taken_at,
               unnest(@known::boolean[]) as known_before, unnest(@follow::boolean[]) as follow_up) n
on conflict (practice_id, id) do nothing;

-- name: GetReading :one
select r.id, r.pass_id, r.place_id, l.ordinal, r.occasion, r.value, r.limit_flag, r.low, r.high, r.as_written, r.placements, r.surface, r.taken_at, r.received_at,
       r.known_before, r.follow_up, r.void_reason, r.supersedes_id, r.supersession, r.supersession_reason, r.current,
       coalesce((select o.number from report_passes x join reports o on o.practice_id = x.practice_id and o.id = x.report_id
                  where x.practice_id = r.practice_id and x.pass_id = r.pass_id and not x.compared and o.number is not null order by o.number limit 1), '')::text as printed_in
  from readings r
  join places l on l.practice_id = r.practice_id and l.id = r.place_id
 where r.practice_id = @practice_id and r.id = @id;

-- name: ReadingsOfPlace :many
select r.id, r.pass_id, r.place_id, l.ordinal, r.occasion, r.value, r.limit_flag, r.low, r.high, r.as_written, r.placements, r.surface, r.taken_at, r.received_at,
       r.known_before, r.follow_up, r.void_reason, r.supersedes_id, r.supersession, r.supersession_reason, r.current,
       coalesce((select o.number from report_passes x join reports o on o.practice_id = x.practice_id and o.id = x.report_id
                  where x.practice_id = r.practice_id and x.pass_id = r.pass_id and not x.compared and o.number is not null order by o.number limit 1), '')::text as printed_in
  from readings r
  join places l on l.practice_id = r.practice_id and l.id = r.place_id
  join passes p on p.practice_id = r.practice_id and p.id = r.pass_id
  join visits v on v.practice_id = p.practice_id and v.id = p.visit_id
  join jobs j on j.practice_id = v.practice_id and j.id = v.job_id
 where r.practice_id = @practice_id and r.place_id = @place_id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
 order by r.taken_at, r.id;

-- name: GetPlace :one
select id, vessel_id, element_id, ordinal, label, side, station, row_no, along_mm, down_mm, position_error_mm, told_as
  from places l
 where l.practice_id = @practice_id and l.id = @id
   and (not @guest::boolean
        or exists (select from jobs g join job_access a on a.practice_id = g.practice_id and a.job_id = g.id
                    where g.practice_id = @practice_id and g.vessel_id = l.vessel_id and a.member_id = @member::uuid));

-- name: RetireReading :execrows
update readings
   set current = false
 where practice_id = @practice_id and id = @id and current;

-- name: VoidReading :execrows
update readings
   set void_reason = @reason
 where practice_id = @practice_id and id = @id and current;

-- name: MarkFollowUp :execrows
update readings
   set follow_up = @follow_up
 where practice_id = @practice_id and pass_id = @pass_id and place_id = any(@places::uuid[]) and occasion = 1 and current;

-- name: InsertNotReached :execrows
insert into not_reached (practice_id, id, pass_id, place_id, reason, at)
select @practice_id, n.id, @pass_id, n.place_id, @reason::text, @now::timestamptz
  from (select unnest(@ids::uuid[]) as id, unnest(@places::uuid[]) as place_id) n
on conflict do nothing;

-- name: WithdrawNotReached :execrows
update not_reached
   set withdrawn_at = @now::timestamptz
 where practice_id = @practice_id and pass_id = @pass_id and place_id = any(@places::uuid[]) and withdrawn_at is null;

-- name: NotReachedOfPass :many
select n.id, l.ordinal, n.reason
  from not_reached n
  join places l on l.practice_id = n.practice_id and l.id = n.place_id
 where n.practice_id = @practice_id and n.pass_id = @pass_id and n.withdrawn_at is null
 order by l.ordinal;

-- name: EntriesOfPass :many
select l.ordinal, r.id, r.value, r.placements, r.as_written, r.surface
  from readings r
  join places l on l.practice_id = r.practice_id and l.id = r.place_id
 where r.practice_id = @practice_id and r.pass_id = @pass_id and r.occasion = 1 and r.current
 order by l.ordinal;

-- name: WriteGrid :exec
-- The read model of one pass, made anew from its rows. Bits of flags: domain/practice/grid.go.
insert into pass_grids (practice_id, pass_id, vessel_id, taken, flags, dry, placed, like_of)
select p.practice_id, p.id, l.vessel_id,
       array_agg(r.value order by l.ordinal),
       array_agg((case r.limit_flag when 'below' then 1 when 'above' then 2 when 'range' then 4 else 0 end)
         | (case when r.void_reason <> '' then 8 else 0 end)
         | (case when r.follow_up then 16 else 0 end)
         | (case when n.id is not null then 32 else 0 end)
         | (case when r.supersedes_id is not null then 64 else 0 end)
         | (case when again.place_id is not null then 128 else 0 end)
         | (case when x.dry then 256 else 0 end)
         | (case when r.known_before then 512 else 0 end)
         | (case when x.targeted then 1024 else 0 end)
         | (case when r.surface <> '' and r.surface <> (case when x.dry then p.dry_surface else p.surface end) then 2048 else 0 end) order by l.ordinal),
       coalesce(array_agg(l.ordinal order by x.position) filter (where x.dry), '{}'),
       array_agg(cardinality(r.placements) order by l.ordinal),
       like_pass(p.practice_id, p.id)
  from passes p
  join elements e on e.practice_id = p.practice_id and e.id = p.element_id
  join places l on l.practice_id = p.practice_id and l.vessel_id = e.vessel_id
  left join plan_places x on x.practice_id = p.practice_id and x.plan_id = p.plan_id and x.place_id = l.id
  left join readings r on r.practice_id = p.practice_id and r.pass_id = p.id and r.place_id = l.id and r.occasion = 1 and r.current
  left join not_reached n on n.practice_id = p.practice_id and n.pass_id = p.id and n.place_id = l.id and n.withdrawn_at is null
  left join (select distinct o.place_id from readings o where o.practice_id = @practice_id and o.pass_id = @pass_id and o.occasion > 1) again on again.place_id = l.id
 where p.practice_id = @practice_id and p.id = @pass_id
 group by p.practice_id, p.id, l.vessel_id
on conflict (practice_id, pass_id) do update
   set taken = excluded.taken, flags = excluded.flags, dry = excluded.dry, placed = excluded.placed, like_of = excluded.like_of;

-- name: HoldReportsOfPass :exec
select o.id
  from report_passes x
  join reports o on o.practice_id = x.practice_id and o.id = x.report_id
 where x.practice_id = @practice_id and x.pass_id = @pass_id
 order by o.id
   for update of o;

-- name: RequireAddendum :execrows
-- One addendum for each issued report that printed a pass or compared with it, numbered after its last; the caller holds the reports.
insert into addenda (practice_id, id, report_id, number, required_because)
select @practice_id, (case when row_number() over (order by o.id) = 1 then @id::uuid else gen_random_uuid() end), o.id,
       coalesce((select max(a.number) from addenda a where a.practice_id = o.practice_id and a.report_id = o.id), 0) + 1,
       'A reading ' || case when x.compared then 'of an earlier visit that this report compares with' else 'printed in this report' end || ' was ' || @how::text || '.'
  from report_passes x
  join reports o on o.practice_id = x.practice_id and o.id = x.report_id
 where x.practice_id = @practice_id and x.pass_id = @pass_id and o.state in ('issuing', 'issued', 'amended');

-- name: PassOfReading :one
-- The pass and job of a reading, where the job lets this member see it.
select p.id, j.id as job_id
  from readings r
  join passes p on p.practice_id = r.practice_id and p.id = r.pass_id
  join visits v on v.practice_id = p.practice_id and v.id = p.visit_id
  join jobs j on j.practice_id = v.practice_id and j.id = v.job_id
 where r.practice_id = @practice_id and r.id = @id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid));
