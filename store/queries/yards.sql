-- name: GetYard :one
select p.id, p.name, p.kind, p.is_yard, p.phone, coalesce(p.time_zone, '') as time_zone, coalesce(y.lift_hours, '') as lift_hours, coalesce(y.rules, '') as rules,
       y.latitude_e6, y.longitude_e6, coalesce(y.tide_place, '') as tide_place, coalesce(y.tide_within_minutes, 120)::integer as tide_within_minutes,
       p.email, p.address, coalesce(y.key_place, '') as key_place, coalesce(y.gate_code, '') as gate_code, coalesce(y.version, 0)::integer as version
  from parties p
  left join yards y on y.practice_id = p.practice_id and y.party_id = p.id
 where p.practice_id = @practice_id and p.id = @id and p.is_yard and p.merged_into is null and p.erased_at is null;

-- name: SlotsOfYard :many
select s.id, s.vessel_id, v.name as vessel_name, v.loa_mm, s.yard_id, s.time_zone, s.planned_lift, s.planned_launch, s.actual_lift, s.actual_launch,
       s.asked_only, s.held, s.under_cover, s.washed_at, s.date_precision, s.version,
       k.wash_at, k.chock_at, k.shift_at, coalesce(k.pays, '') as pays, coalesce(k.told, '') as told
  from spells s
  join vessels v on v.practice_id = s.practice_id and v.id = s.vessel_id
  left join slots k on k.practice_id = s.practice_id and k.spell_id = s.id
 where s.practice_id = @practice_id and s.yard_id = @yard_id and s.cancelled_at is null and s.during && tstzrange(@from_at::timestamptz, @to_at::timestamptz, '[)')
 order by coalesce(s.actual_lift, s.planned_lift), s.id
 limit 1000;

-- name: TidesOfYard :many
select t.id, t.place, t.high_at, t.height_mm, t.source
  from tides t
  join yards y on y.practice_id = t.practice_id and y.tide_place = t.place
 where t.practice_id = @practice_id and y.party_id = @yard_id and t.high_at >= @from_at::timestamptz and t.high_at < @to_at::timestamptz
 order by t.high_at;

-- name: WeatherOfYard :many
-- What was recorded of a yard, or of the place of its tides.
select w.place, w.at, w.air_decidegrees, w.humidity_permille, w.rain_mm, w.source
  from weather_records w
  join parties p on p.practice_id = w.practice_id and p.id = @yard_id
  left join yards y on y.practice_id = p.practice_id and y.party_id = p.id
 where w.practice_id = @practice_id and w.place in (p.name, nullif(y.tide_place, '')) and w.at >= @from_at::timestamptz and w.at < @to_at::timestamptz
 order by w.at;

-- name: LinksOfYard :many
select id, name, email, created_at, until, revoked_at, openings, last_opened_at
  from yard_links
 where practice_id = @practice_id and yard_id = @yard_id
 order by created_at desc, id desc;

-- name: InsertYard :execrows
insert into yards (practice_id, party_id, lift_hours, rules, key_place, gate_code, latitude_e6, longitude_e6, tide_place, tide_within_minutes)
values (@practice_id, @party_id, @lift_hours, @rules, @key_place, @gate_code, sqlc.narg('latitude_e6'), sqlc.narg('longitude_e6'), @tide_place, @tide_within_minutes)
on conflict do nothing;

-- name: UpdateYard :execrows
update yards
   set lift_hours = @lift_hours, rules = @rules, key_place = @key_place, gate_code = @gate_code, latitude_e6 = sqlc.narg('latitude_e6'), longitude_e6 = sqlc.narg('longitude_e6'),
       tide_place = @tide_place, tide_within_minutes = @tide_within_minutes, version = version + 1
 where practice_id = @practice_id and party_id = @party_id and version = @version;

-- name: SetSlot :exec
insert into slots (practice_id, spell_id, wash_at, chock_at, shift_at, pays, told)
values (@practice_id, @spell_id, sqlc.narg('wash_at'), sqlc.narg('chock_at'), sqlc.narg('shift_at'), @pays, @told)
on conflict (practice_id, spell_id) do update
   set wash_at = excluded.wash_at, chock_at = excluded.chock_at, shift_at = excluded.shift_at, pays = excluded.pays, told = excluded.told, version = slots.version + 1;

-- name: YardNamed :one
select name
  from parties
 where practice_id = @practice_id and id = @id and is_yard and merged_into is null and erased_at is null;

-- name: InsertYardLink :exec
insert into yard_links (practice_id, id, yard_id, name, email, token_sha256, created_at, created_by, until)
values (@practice_id, @id, @yard_id, @name, @email, @token_sha256, @now, sqlc.narg('by_id'), @until);

-- name: RevokeYardLink :one
update yard_links set revoked_at = coalesce(revoked_at, @now)
 where practice_id = @practice_id and id = @id
returning yard_id;

-- name: OpenYardLink :one
update yard_links l set openings = l.openings + 1, last_opened_at = @now
  from parties y, practices p
 where l.practice_id = @practice_id and l.id = @id and l.revoked_at is null and l.until > @now and y.practice_id = l.practice_id and y.id = l.yard_id and p.practice_id = l.practice_id
returning p.name as practice_name, p.invented, y.name as yard_name, l.name, l.until;

-- name: SlotsOfLink :many
-- What a yard sees of its slots: no client, no job, nobody's name.
select v.name as boat, v.kind, v.loa_mm, s.time_zone, coalesce(s.actual_lift, s.planned_lift) as lift, coalesce(s.actual_launch, s.planned_launch) as launch,
       (s.actual_lift is not null)::boolean as lifted, (s.actual_launch is not null)::boolean as launched, s.asked_only, s.held, s.under_cover,
       k.wash_at, k.chock_at, k.shift_at, coalesce(k.told, '') as told
  from yard_links l
  join spells s on s.practice_id = l.practice_id and s.yard_id = l.yard_id
  join vessels v on v.practice_id = s.practice_id and v.id = s.vessel_id
  left join slots k on k.practice_id = s.practice_id and k.spell_id = s.id
 where l.practice_id = @practice_id and l.id = @link_id and s.cancelled_at is null and s.during && tstzrange(@from_at::timestamptz, null, '[)')
 order by coalesce(s.actual_lift, s.planned_lift), s.id
 limit 500;
