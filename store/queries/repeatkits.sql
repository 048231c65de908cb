-- name: InsertRepeatKit :exec
insert into repeat_kits (practice_id, id, instrument_id, scale_id, made_on, note, recorded_by, recorded_at)
values (@practice_id, @id, @instrument_id, @scale_id, @made_on, @note, sqlc.narg('recorded_by'), @recorded_at);

-- name: ReplaceRepeatKit :exec
insert into repeat_kit_replacements (practice_id, kit_id, by_kit_id, because)
values (@practice_id, @kit_id, @by_kit_id, @because);

-- name: InsertRepeatKitReadings :exec
-- Readings have no name of their own outside: the kit is kept whole.
insert into repeat_kit_readings (practice_id, id, kit_id, member_id, spot, repeat, value_tenths)
select @practice_id, gen_random_uuid(), @kit_id, n.member_id, n.spot, n.repeat, n.value_tenths
  from (select unnest(@members::uuid[]) as member_id, unnest(@spots::smallint[]) as spot, unnest(@repeats::smallint[]) as repeat, unnest(@tenths::integer[]) as value_tenths) n;

-- name: RepeatKitKept :one
select id
  from repeat_kits
 where practice_id = @practice_id and id = @id;

-- name: ListRepeatKits :many
select k.id, k.instrument_id, k.scale_id, k.made_on, k.note, k.recorded_by, coalesce(m.name, '') as recorded_by_name, k.recorded_at,
       o.kit_id as replaces, coalesce(o.because, '') as because, n.by_kit_id as replaced_by, coalesce(n.because, '') as replaced_because
  from repeat_kits k
  left join members m on m.practice_id = k.practice_id and m.id = k.recorded_by
  left join repeat_kit_replacements o on o.practice_id = k.practice_id and o.by_kit_id = k.id
  left join repeat_kit_replacements n on n.practice_id = k.practice_id and n.kit_id = k.id
 where k.practice_id = @practice_id
 order by k.made_on, k.recorded_at, k.id;

-- name: RepeatKitReadings :many
-- A person's readings of a kit in one row, in the order of spot and repeat.
select r.kit_id, r.member_id, m.name, m.roles, (m.left_at is null)::boolean as active,
       array_agg(r.spot order by r.spot, r.repeat)::smallint[] as spots, array_agg(r.repeat order by r.spot, r.repeat)::smallint[] as repeats,
       array_agg(r.value_tenths order by r.spot, r.repeat)::integer[] as tenths
  from repeat_kit_readings r
  join members m on m.practice_id = r.practice_id and m.id = r.member_id
 where r.practice_id = @practice_id
 group by r.kit_id, r.member_id, m.name, m.roles, m.left_at
 order by r.kit_id, m.name, r.member_id;

-- name: AllScales :many
select id, instrument_id, name, mode, low_tenths, high_tenths, step_tenths, timber_percent
  from scales
 where practice_id = @practice_id
 order by name, id;

-- name: AllInstruments :many
select id, name, model, serial, kind, sensing, zero_reset, battery_note, bought_on, retired_on, version
  from instruments
 where practice_id = @practice_id
 order by lower(name), id;

-- name: PassChecksOfInstrument :many
-- Block checks pass by pass, for the chart over the years: the newest 4,000.
select c.pass_id, c.block, c.moment, c.value_tenths, c.at, p.scale_id::uuid as scale_id
  from block_checks c
  join passes p on p.practice_id = c.practice_id and p.id = c.pass_id
 where c.practice_id = @practice_id and p.instrument_id = @instrument_id and p.scale_id is not null
 order by c.at desc, c.id
 limit 4000;
