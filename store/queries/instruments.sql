-- name: InsertInstrument :exec
insert into instruments (practice_id, id, name, model, serial, kind, sensing, zero_reset, battery_note, bought_on)
values (@practice_id, @id, @name, @model, @serial, @kind, @sensing, @zero_reset, @battery_note, sqlc.narg('bought_on'));

-- name: UpdateInstrument :execrows
update instruments
   set name = @name, serial = @serial, battery_note = @battery_note, retired_on = sqlc.narg('retired_on'), version = version + 1
 where practice_id = @practice_id and id = @id and version = @version;

-- name: GetInstrument :one
select id, name, model, serial, kind, sensing, zero_reset, battery_note, bought_on, retired_on, version
  from instruments
 where practice_id = @practice_id and id = @id;

-- name: ListInstruments :many
select id, name, model, serial, kind, sensing, zero_reset, battery_note, bought_on, retired_on, version
  from instruments
 where practice_id = @practice_id and (lower(name), id) > (lower(@after_name::text), @after_id::uuid)
 order by lower(name), id
 limit @most;

-- name: InsertScale :exec
insert into scales (practice_id, id, instrument_id, name, mode, low_tenths, high_tenths, step_tenths, timber_percent)
values (@practice_id, @id, @instrument_id, @name, @mode, @low_tenths, @high_tenths, @step_tenths, @timber_percent);

-- name: ScalesOfInstruments :many
-- The scales of the instruments on the same page of the list.
select s.id, s.instrument_id, s.name, s.mode, s.low_tenths, s.high_tenths, s.step_tenths, s.timber_percent
  from scales s
  join (select i.id
          from instruments i
         where i.practice_id = @practice_id and (lower(i.name), i.id) > (lower(@after_name::text), @after_id::uuid)
         order by lower(i.name), i.id
         limit @most) page on page.id = s.instrument_id
 where s.practice_id = @practice_id
 order by s.name, s.id;

-- name: ScalesOfInstrument :many
select id, instrument_id, name, mode, low_tenths, high_tenths, step_tenths, timber_percent
  from scales
 where practice_id = @practice_id and instrument_id = @instrument_id
 order by name, id;

-- name: BlockChecksOfInstrument :many
select c.block, c.moment, c.value_tenths, c.at, p.scale_id
  from block_checks c
  join passes p on p.practice_id = c.practice_id and p.id = c.pass_id
 where c.practice_id = @practice_id and p.instrument_id = @instrument_id
 order by c.at desc, c.id
 limit 200;

-- name: GetScale :one
select id, instrument_id, name, mode, low_tenths, high_tenths, step_tenths, timber_percent
  from scales
 where practice_id = @practice_id and id = @id;
