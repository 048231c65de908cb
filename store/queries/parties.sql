-- name: GetParty :one
-- A guest sees the parties of the jobs he or she was let into, and yards. The id of an
-- entry that was merged names the one it became.
select p.id, p.name, p.kind, p.email, p.phone, p.address, p.is_yard, p.time_zone, p.yard_notes, p.notes, p.version
  from parties p
 where p.practice_id = @practice_id and p.merged_into is null
   and p.id = coalesce((select x.merged_into from parties x where x.practice_id = @practice_id and x.id = @id), @id)
   and (not @guest::boolean or p.is_yard
        or exists (select from jobs j
                     join job_access a on a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid
                    where j.practice_id = p.practice_id
                      and (j.client_id = p.id or exists (select from party_roles r where r.practice_id = j.practice_id and r.job_id = j.id and r.party_id = p.id))));

-- name: ListParties :many
select p.id, p.name, p.kind, p.email, p.phone, p.address, p.is_yard, p.time_zone, p.yard_notes, p.notes, p.version
  from parties p
 where p.practice_id = @practice_id and p.merged_into is null and p.erased_at is null
   and (lower(p.name), p.id) > (lower(@after_name::text), @after_id::uuid)
   and (@search::text = '' or strpos(lower(p.name), lower(@search)) > 0 or strpos(lower(p.email), lower(@search)) > 0
        or exists (select from parties x where x.practice_id = p.practice_id and x.merged_into = p.id
                      and (strpos(lower(x.name), lower(@search)) > 0 or strpos(lower(x.email), lower(@search)) > 0)))
   and (not @yards_only::boolean or p.is_yard)
   and (not @guest::boolean or p.is_yard
        or exists (select from jobs j
                     join job_access a on a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid
                    where j.practice_id = p.practice_id
                      and (j.client_id = p.id or exists (select from party_roles r where r.practice_id = j.practice_id and r.job_id = j.id and r.party_id = p.id))))
 order by lower(p.name), p.id
 limit @most;

-- name: InsertParty :exec
insert into parties (practice_id, id, kind, name, email, phone, address, is_yard, time_zone, yard_notes, notes, created_at)
values (@practice_id, @id, @kind, @name, @email, @phone, @address, @is_yard, sqlc.narg('time_zone'), @yard_notes, @notes, @now);

-- name: UpdateParty :execrows
update parties
   set name = @name, email = @email, phone = @phone, address = @address, is_yard = @is_yard, time_zone = sqlc.narg('time_zone'),
       yard_notes = @yard_notes, notes = @notes, version = version + 1
 where practice_id = @practice_id and id = @id and version = @version;

-- name: InsertPartyRole :exec
insert into party_roles (practice_id, id, party_id, role, vessel_id, job_id, from_on, to_on)
values (@practice_id, @id, @party_id, @role, @vessel_id, sqlc.narg('job_id'), sqlc.narg('from_on'), sqlc.narg('to_on'));

-- name: GetPartyRole :one
select r.id, r.role, r.from_on, r.to_on, r.party_id, r.party_name, r.party_kind, r.party_is_yard,
       r.vessel_id, r.vessel_name, r.vessel_kind, r.loa_mm, r.moulded_year, r.hull_number, r.figure, r.yard, r.lifted_at, r.yard_zone, r.last_pass_at,
       r.job_id, r.job_number, r.job_kind, r.job_stage, r.client_id, r.client_name, r.client_kind, r.client_is_yard,
       r.lead_id, r.lead_name, r.lead_roles, r.lead_active, r.due_on, r.stands_between, r.next_visit_at
  from party_role_lines r
 where r.practice_id = @practice_id and r.id = @id
   and ((not r.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = r.practice_id and a.job_id = r.job_id and a.member_id = @member::uuid));

-- name: RolesOfParties :many
select r.id, r.role, r.from_on, r.to_on, r.party_id, r.party_name, r.party_kind, r.party_is_yard,
       r.vessel_id, r.vessel_name, r.vessel_kind, r.loa_mm, r.moulded_year, r.hull_number, r.figure, r.yard, r.lifted_at, r.yard_zone, r.last_pass_at,
       r.job_id, r.job_number, r.job_kind, r.job_stage, r.client_id, r.client_name, r.client_kind, r.client_is_yard,
       r.lead_id, r.lead_name, r.lead_roles, r.lead_active, r.due_on, r.stands_between, r.next_visit_at
  from party_role_lines r
 where r.practice_id = @practice_id and r.party_id = any(select coalesce(x.merged_into, x.id) from parties x where x.practice_id = @practice_id and x.id = any(@parties::uuid[]))
   and ((not r.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = r.practice_id and a.job_id = r.job_id and a.member_id = @member::uuid))
 order by r.from_on desc nulls last, r.id desc;

-- name: PeopleOfVessel :many
select r.id, r.role, r.from_on, r.to_on, r.party_id, r.party_name, r.party_kind, r.party_is_yard,
       r.vessel_id, r.vessel_name, r.vessel_kind, r.loa_mm, r.moulded_year, r.hull_number, r.figure, r.yard, r.lifted_at, r.yard_zone, r.last_pass_at,
       r.job_id, r.job_number, r.job_kind, r.job_stage, r.client_id, r.client_name, r.client_kind, r.client_is_yard,
       r.lead_id, r.lead_name, r.lead_roles, r.lead_active, r.due_on, r.stands_between, r.next_visit_at
  from party_role_lines r
 where r.practice_id = @practice_id and r.vessel_id = @vessel_id
   and ((not r.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = r.practice_id and a.job_id = r.job_id and a.member_id = @member::uuid))
 order by r.from_on desc nulls last, r.id desc;

-- name: JobLinesOfParties :many
select j.id, j.number, j.kind, j.stage,
       j.vessel_id, j.vessel_name, j.vessel_kind, j.loa_mm, j.moulded_year, j.hull_number, j.figure, j.yard, j.lifted_at, j.yard_zone, j.last_pass_at,
       j.client_id, j.client_name, j.client_kind, j.client_is_yard, j.lead_id, j.lead_name, j.lead_roles, j.lead_active, j.due_on, j.stands_between, j.next_visit_at
  from job_lines j
 where j.practice_id = @practice_id and j.client_id = any(select coalesce(x.merged_into, x.id) from parties x where x.practice_id = @practice_id and x.id = any(@parties::uuid[]))
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid))
 order by j.number desc, j.id;
