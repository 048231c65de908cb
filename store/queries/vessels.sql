-- name: InsertVessel :exec
insert into vessels (practice_id, id, name, kind, builder, model, yard_number, moulded_year, hull_number_as_read, hull_number_where, hull_number_altered,
  registry, official_number, sail_number, loa_mm, hull_length_mm, lwl_mm, beam_mm, draught_mm, displacement_kg, underbody_area_m2, water, months_afloat, notes, created_at)
values (@practice_id, @id, @name, @kind, @builder, @model, @yard_number, sqlc.narg('moulded_year'), @hull_number_as_read, @hull_number_where, @hull_number_altered,
  @registry, @official_number, @sail_number, sqlc.narg('loa_mm'), sqlc.narg('hull_length_mm'), sqlc.narg('lwl_mm'), sqlc.narg('beam_mm'), sqlc.narg('draught_mm'),
  sqlc.narg('displacement_kg'), sqlc.narg('underbody_area_m2'), @water, sqlc.narg('months_afloat'), @notes, @now);

-- name: UpdateVessel :execrows
update vessels
   set name = @name, kind = @kind, builder = @builder, model = @model, yard_number = @yard_number, moulded_year = sqlc.narg('moulded_year'),
       hull_number_as_read = @hull_number_as_read, hull_number_where = @hull_number_where, hull_number_altered = @hull_number_altered,
       registry = @registry, official_number = @official_number, sail_number = @sail_number, loa_mm = sqlc.narg('loa_mm'),
       hull_length_mm = sqlc.narg('hull_length_mm'), lwl_mm = sqlc.narg('lwl_mm'), beam_mm = sqlc.narg('beam_mm'), draught_mm = sqlc.narg('draught_mm'),
       displacement_kg = sqlc.narg('displacement_kg'), underbody_area_m2 = sqlc.narg('underbody_area_m2'), water = @water,
       months_afloat = sqlc.narg('months_afloat'), notes = @notes, version = version + 1
 where practice_id = @practice_id and id = @id and version = @version;

-- name: GetVessel :one
-- A guest knows the vessels of the jobs he or she was let into, here and below.
select id, name, kind, builder, model, yard_number, moulded_year, hull_number_as_read, hull_number_where, hull_number_altered, registry,
       official_number, sail_number, loa_mm, hull_length_mm, lwl_mm, beam_mm, draught_mm, displacement_kg, underbody_area_m2,
       water, months_afloat, notes, created_at, version
  from vessels v
 where v.practice_id = @practice_id and v.id = @id and v.merged_into is null
   and (not @guest::boolean
        or exists (select from jobs g join job_access a on a.practice_id = g.practice_id and a.job_id = g.id
                    where g.practice_id = @practice_id and g.vessel_id = v.id and a.member_id = @member::uuid));

-- name: InsertVesselName :exec
insert into vessel_names (practice_id, id, vessel_id, kind, name, until_year)
values (@practice_id, @id, @vessel_id, @kind, @name, sqlc.narg('until_year'));

-- name: FormerNames :many
select name
  from vessel_names
 where practice_id = @practice_id and vessel_id = @vessel_id and kind = 'former name'
 order by id;

-- name: GetVesselLine :one
select id, name, kind, loa_mm, moulded_year, hull_number, figure, yard, lifted_at, time_zone, last_pass_at, ''::text as found_as
  from vessel_lines
 where practice_id = @practice_id and id = @id;

-- name: VesselLinesOf :many
select id, name, kind, loa_mm, moulded_year, hull_number, figure, yard, lifted_at, time_zone, last_pass_at, ''::text as found_as
  from vessel_lines
 where practice_id = @practice_id and id = any(@ids::uuid[])
 order by id;

-- name: ListVessels :many
select id, name, kind, loa_mm, moulded_year, hull_number, figure, yard, lifted_at, time_zone, last_pass_at, ''::text as found_as
  from vessel_lines v
 where v.practice_id = @practice_id and (lower(v.name), v.id) > (lower(@after_name::text), @after_id::uuid)
   and (not @guest::boolean
        or exists (select from jobs g join job_access a on a.practice_id = g.practice_id and a.job_id = g.id
                    where g.practice_id = @practice_id and g.vessel_id = v.id and a.member_id = @member::uuid))
 order by lower(name), id
 limit @most;

-- name: SearchVessels :many
-- By any name she ever had, hull, official and sail number (separators ignored), and
-- by the number of a job or report; those of restricted jobs find nothing.
select v.id, v.name, v.kind, v.loa_mm, v.moulded_year, v.hull_number, v.figure, v.yard, v.lifted_at, v.time_zone, v.last_pass_at, hit.found_as::text as found_as
  from (select h.vessel_id, min(h.found_as) as found_as
          from (select x.id as vessel_id, '' as found_as from vessels x
                 where x.practice_id = @practice_id and (strpos(lower(x.name), lower(@search::text)) > 0
                   or (@squeezed::text <> '' and (strpos(squeezed(x.hull_number_as_read), @squeezed) > 0 or strpos(squeezed(x.official_number), @squeezed) > 0 or strpos(squeezed(x.sail_number), @squeezed) > 0)))
                union all
                select n.vessel_id, n.name from vessel_names n where n.practice_id = @practice_id and strpos(lower(n.name), lower(@search)) > 0
                union all
                select j.vessel_id, 'job ' || j.number from jobs j where j.practice_id = @practice_id and not j.restricted and strpos(lower(j.number), lower(@search)) > 0
                   and (not @guest::boolean or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
                union all
                select j.vessel_id, 'report ' || r.number from reports r join jobs j on j.practice_id = r.practice_id and j.id = r.job_id
                 where r.practice_id = @practice_id and not j.restricted and strpos(lower(r.number), lower(@search)) > 0
                   and (not @guest or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member))) h
         group by h.vessel_id) hit
  join vessel_lines v on v.practice_id = @practice_id and v.id = hit.vessel_id
 where (lower(v.name), v.id) > (lower(@after_name::text), @after_id::uuid)
   and (not @guest::boolean
        or exists (select from jobs g join job_access a on a.practice_id = g.practice_id and a.job_id = g.id
                    where g.practice_id = @practice_id and g.vessel_id = v.id and a.member_id = @member::uuid))
 order by lower(v.name), v.id
 limit @most;

-- name: InsertElement :exec
insert into elements (practice_id, id, vessel_id, kind, name, figure, boot_top_mm)
values (@practice_id, @id, @vessel_id, @kind, @name, sqlc.narg('figure')::jsonb, sqlc.narg('boot_top_mm'));

-- name: UpdateElement :execrows
update elements
   set name = @name, figure = sqlc.narg('figure')::jsonb, boot_top_mm = sqlc.narg('boot_top_mm'), version = version + 1
 where practice_id = @practice_id and id = @id and version = @version;

-- name: GetElement :one
select id, vessel_id, kind, name, figure, boot_top_mm, version
  from elements e
 where e.practice_id = @practice_id and e.id = @id
   and (not @guest::boolean
        or exists (select from jobs g join job_access a on a.practice_id = g.practice_id and a.job_id = g.id
                    where g.practice_id = @practice_id and g.vessel_id = e.vessel_id and a.member_id = @member::uuid));

-- name: ElementsOfVessel :many
select id, vessel_id, kind, name, figure, boot_top_mm, version
  from elements
 where practice_id = @practice_id and vessel_id = @vessel_id
 order by id;

-- name: InsertDatum :exec
insert into datums (practice_id, id, element_id, datum_version, mark, offset_to_painted_waterline_mm, note, valid_from)
select @practice_id, @id, @element_id, coalesce(max(d.datum_version), 0) + 1, @mark::text, sqlc.narg('offset_mm')::integer, @note::text, sqlc.narg('valid_from')::date
  from datums d
 where d.practice_id = @practice_id and d.element_id = @element_id;

-- name: DatumsOfVessel :many
select distinct on (d.element_id) d.id, d.element_id, d.datum_version, d.mark, d.offset_to_painted_waterline_mm, d.note, d.valid_from
  from datums d
  join elements e on e.practice_id = d.practice_id and e.id = d.element_id
 where d.practice_id = @practice_id and e.vessel_id = @vessel_id
 order by d.element_id, d.datum_version desc;

-- name: InsertLayer :exec
insert into layers (practice_id, id, element_id, kind, what, side, outline, detail, how_known, valid_from, valid_to)
values (@practice_id, @id, @element_id, @kind, @what, sqlc.narg('side'), @outline, @detail, @how_known, sqlc.narg('valid_from'), sqlc.narg('valid_to'));

-- name: EndLayer :one
update layers
   set valid_to = @ends::date, version = version + 1
 where practice_id = @practice_id and id = @id and version = @version
returning element_id;

-- name: LayersOfVessel :many
select l.id, l.element_id, l.kind, l.what, l.side, l.outline, l.detail, l.how_known, l.valid_from, l.valid_to, l.version
  from layers l
  join elements e on e.practice_id = l.practice_id and e.id = l.element_id
 where l.practice_id = @practice_id and e.vessel_id = @vessel_id
 order by l.kind, l.valid_from nulls first, l.id;

-- name: InsertEvent :exec
insert into events (practice_id, id, vessel_id, kind, what, from_on, to_on, as_written, source)
values (@practice_id, @id, @vessel_id, @kind, @what, @from_on, @to_on, @as_written, @source);

-- name: EventsOfVessel :many
select id, kind, what, from_on, to_on, as_written, source
  from events
 where practice_id = @practice_id and vessel_id = @vessel_id
 order by from_on, id;

-- name: DatumsOfElement :many
select id, element_id, datum_version, mark, offset_to_painted_waterline_mm, note, valid_from
  from datums
 where practice_id = @practice_id and element_id = @element_id
 order by datum_version desc
 limit 1;

-- name: LayersOfElement :many
select id, element_id, kind, what, side, outline, detail, how_known, valid_from, valid_to, version
  from layers
 where practice_id = @practice_id and element_id = @element_id
 order by kind, valid_from nulls first, id;
