-- name: InsertCrossReadingSet :exec
insert into cross_reading_sets (practice_id, id, first_scale_id, second_scale_id, made_on, note, effect_tenths, recorded_by, recorded_at)
values (@practice_id, @id, @first_scale_id, @second_scale_id, @made_on, @note, @effect_tenths, sqlc.narg('recorded_by'), @recorded_at);

-- name: ReplaceCrossReadingSet :exec
insert into cross_reading_replacements (practice_id, set_id, by_set_id, because)
values (@practice_id, @set_id, @by_set_id, @because);

-- name: InsertCrossReadings :exec
insert into cross_readings (practice_id, id, set_id, spot, first_tenths, second_tenths)
select @practice_id, gen_random_uuid(), @set_id, n.spot, n.first_tenths, n.second_tenths
  from (select unnest(@spots::smallint[]) as spot, unnest(@firsts::integer[]) as first_tenths, unnest(@seconds::integer[]) as second_tenths) n;

-- name: CrossReadingSetKept :one
select id
  from cross_reading_sets
 where practice_id = @practice_id and id = @id;

-- name: ListCrossReadingSets :many
select s.id, s.first_scale_id, s.second_scale_id, s.made_on, s.note, s.effect_tenths, s.recorded_by, coalesce(m.name, '') as recorded_by_name, s.recorded_at,
       o.set_id as replaces, coalesce(o.because, '') as because, n.by_set_id as replaced_by, coalesce(n.because, '') as replaced_because,
       r.firsts, r.seconds
  from cross_reading_sets s
  left join members m on m.practice_id = s.practice_id and m.id = s.recorded_by
  left join cross_reading_replacements o on o.practice_id = s.practice_id and o.by_set_id = s.id
  left join cross_reading_replacements n on n.practice_id = s.practice_id and n.set_id = s.id
  join lateral (
    select array_agg(c.first_tenths order by c.spot)::integer[] as firsts, array_agg(c.second_tenths order by c.spot)::integer[] as seconds
      from cross_readings c
     where c.practice_id = s.practice_id and c.set_id = s.id) r on true
 where s.practice_id = @practice_id
 order by s.made_on, s.recorded_at, s.id;
