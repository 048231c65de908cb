-- name: PartiesToCompare :many
-- Every entry by which doubles are found; as many as a list of people can be looked through.
select p.id, p.kind, p.name, p.email, p.phone, p.address, p.is_yard
  from parties p
 where p.practice_id = @practice_id and p.merged_into is null and p.erased_at is null
 order by p.id
 limit 10000;

-- name: PartiesApart :many
select first_id, second_id
  from parties_apart
 where practice_id = @practice_id
 order by first_id, second_id;

-- name: FacingRoles :many
-- Where two entries take part in one vessel's matters.
select v.name as vessel, a.role as first_role, b.role as second_role
  from party_roles a
  join party_roles b on b.practice_id = a.practice_id and b.vessel_id = a.vessel_id and b.party_id = @second_id and b.role <> a.role
  join vessels v on v.practice_id = a.practice_id and v.id = a.vessel_id
 where a.practice_id = @practice_id and a.party_id = @first_id
 order by v.name, a.role, b.role
 limit 20;

-- name: PartyMerges :many
select m.id, m.kept_id, k.name as kept_name, m.lost_id, l.name as lost_name, m.because, m.at, coalesce(b.name, '') as by_name,
       (select count(*) from party_merge_rows r where r.practice_id = m.practice_id and r.merge_id = m.id)::integer as followed,
       m.undone_at, coalesce(u.name, '') as undone_by, m.undone_because, (k.merged_into is not null)::boolean as kept_is_gone
  from party_merges m
  join parties k on k.practice_id = m.practice_id and k.id = m.kept_id
  join parties l on l.practice_id = m.practice_id and l.id = m.lost_id
  left join members b on b.practice_id = m.practice_id and b.id = m.by_id
  left join members u on u.practice_id = m.practice_id and u.id = m.undone_by
 where m.practice_id = @practice_id and (m.at, m.id) < (@before_at::timestamptz, @before_id::uuid)
 order by m.at desc, m.id desc
 limit @most;

-- name: HoldParties :many
-- Both entries, held until the transaction ends; those that were merged or erased are none.
select p.id
  from parties p
 where p.practice_id = @practice_id and p.id = any(@ids::uuid[]) and p.merged_into is null and p.erased_at is null
 order by p.id
   for update;

-- name: InsertPartyMerge :exec
insert into party_merges (practice_id, id, kept_id, lost_id, because, filled, at, by_id)
values (@practice_id, @id, @kept_id, @lost_id, @because, @filled, @at, sqlc.narg('by_id'));

-- name: FollowParty :exec
select follow_party(@practice_id, @merge_id, @lost_id, @kept_id);

-- name: UnfollowParty :exec
select unfollow_party(@practice_id, @merge_id, @lost_id, @kept_id);

-- name: MarkMerged :exec
update parties set merged_into = sqlc.narg('into'), version = version + 1
 where practice_id = @practice_id and id = @id;

-- name: LookAnew :exec
-- What was decided of ties before the entries were known to be one is looked at anew.
update engagements e
   set conflict_decision = '', version = version + 1
 where e.practice_id = @practice_id and e.conflict_decision = 'go on' and e.stage in ('enquiry', 'quoted', 'accepted')
   and not exists (select from jobs j where j.practice_id = e.practice_id and j.engagement_id = e.id)
   and (e.client_id = @party_id::uuid
        or exists (select from jobs j where j.practice_id = e.practice_id and j.vessel_id = e.vessel_id and j.client_id = @party_id::uuid)
        or exists (select from party_roles r where r.practice_id = e.practice_id and r.vessel_id = e.vessel_id and r.party_id = @party_id::uuid));

-- name: HoldPartyMerge :one
select m.id, m.kept_id, m.lost_id, m.filled, m.undone_at, k.merged_into as kept_into
  from party_merges m
  join parties k on k.practice_id = m.practice_id and k.id = m.kept_id
 where m.practice_id = @practice_id and m.id = @id
   for update of m, k;

-- name: UndoPartyMerge :exec
update party_merges
   set undone_at = @at, undone_by = sqlc.narg('by_id'), undone_because = @because
 where practice_id = @practice_id and id = @id;

-- name: InsertPartiesApart :exec
insert into parties_apart (practice_id, first_id, second_id, because, at, by_id)
values (@practice_id, @first_id, @second_id, @because, @at, sqlc.narg('by_id'))
on conflict do nothing;
