-- name: ThingHeld :one
-- Whether the thing that a hold is on is there for whoever asks.
select (sqlc.narg('party')::uuid is null or exists (select from parties p where p.practice_id = @practice_id and p.id = sqlc.narg('party') and p.merged_into is null))
   and (sqlc.narg('vessel')::uuid is null or exists (select from vessels v where v.practice_id = @practice_id and v.id = sqlc.narg('vessel') and v.merged_into is null))
   and (sqlc.narg('job')::uuid is null or exists (select from jobs j where j.practice_id = @practice_id and j.id = sqlc.narg('job')
          and (@self::boolean or job_open(j.practice_id, j.id, j.restricted, @member::uuid, @guest::boolean)))) as there;

-- name: HoldsOf :many
-- What keeps a person, the file of a job or a vessel: holds on itself and on what belongs to the same file.
select h.id, h.party_id, h.job_id, h.vessel_id, coalesce(p.name, j.number, v.name, '')::text as what, h.reason, h.placed_at, coalesce(m.name, '') as placed_by,
       h.lifted_at, coalesce(l.name, '') as lifted_by, h.lifted_reason
  from holds h
  left join parties p on p.practice_id = h.practice_id and p.id = h.party_id
  left join jobs j on j.practice_id = h.practice_id and j.id = h.job_id
  left join vessels v on v.practice_id = h.practice_id and v.id = h.vessel_id
  left join members m on m.practice_id = h.practice_id and m.id = h.placed_by
  left join members l on l.practice_id = h.practice_id and l.id = h.lifted_by
 where h.practice_id = @practice_id
   and (h.job_id is null or @self::boolean or job_open(h.practice_id, j.id, j.restricted, @member::uuid, @guest::boolean))
   and (h.party_id = sqlc.narg('party')::uuid or h.job_id = sqlc.narg('job')::uuid or h.vessel_id = sqlc.narg('vessel')::uuid
        or sqlc.narg('party') is not null and (
             h.job_id in (select person_jobs(@practice_id, sqlc.narg('party')))
             or h.vessel_id in (select x.vessel_id from jobs x where x.practice_id = @practice_id and x.id in (select person_jobs(@practice_id, sqlc.narg('party')))
                                union select r.vessel_id from party_roles r where r.practice_id = @practice_id and r.party_id = sqlc.narg('party')))
        or sqlc.narg('job') is not null and (
             h.vessel_id = (select x.vessel_id from jobs x where x.practice_id = @practice_id and x.id = sqlc.narg('job'))
             or h.party_id in (select x.client_id from jobs x where x.practice_id = @practice_id and x.id = sqlc.narg('job')
                               union select r.party_id from party_roles r where r.practice_id = @practice_id and r.job_id = sqlc.narg('job')))
        or sqlc.narg('vessel') is not null and h.job_id in (select x.id from jobs x where x.practice_id = @practice_id and x.vessel_id = sqlc.narg('vessel')))
 order by h.lifted_at is not null, h.placed_at desc, h.id;

-- name: InsertHold :exec
insert into holds (practice_id, id, party_id, job_id, vessel_id, reason, placed_at, placed_by)
values (@practice_id, @id, sqlc.narg('party_id'), sqlc.narg('job_id'), sqlc.narg('vessel_id'), @reason, @now, sqlc.narg('placed_by'));

-- name: HoldToLift :one
select party_id, job_id, vessel_id, (lifted_at is not null)::boolean as lifted
  from holds
 where practice_id = @practice_id and id = @id
   for update;

-- name: LiftHold :exec
update holds
   set lifted_at = @now::timestamptz, lifted_by = sqlc.narg('lifted_by'), lifted_reason = @reason
 where practice_id = @practice_id and id = @id;

-- name: GetRetention :one
select t.file_years, t.file_jurisdiction, t.invoice_years, t.invoice_jurisdiction, t.people_years, t.people_jurisdiction, t.set_at, coalesce(m.name, '') as set_by, t.version
  from retention t
  left join members m on m.practice_id = t.practice_id and m.id = t.set_by
 where t.practice_id = @practice_id;

-- name: InsertRetention :execrows
insert into retention (practice_id, file_years, file_jurisdiction, invoice_years, invoice_jurisdiction, people_years, people_jurisdiction, set_at, set_by)
values (@practice_id, @file_years, @file_jurisdiction, sqlc.narg('invoice_years'), @invoice_jurisdiction, sqlc.narg('people_years'), @people_jurisdiction, @now, sqlc.narg('set_by'))
on conflict (practice_id) do nothing;

-- name: UpdateRetention :execrows
update retention
   set file_years = @file_years, file_jurisdiction = @file_jurisdiction, invoice_years = sqlc.narg('invoice_years'), invoice_jurisdiction = @invoice_jurisdiction,
       people_years = sqlc.narg('people_years'), people_jurisdiction = @people_jurisdiction, set_at = @now::timestamptz, set_by = sqlc.narg('set_by'), version = version + 1
 where practice_id = @practice_id and version = @version;

-- name: DueFiles :many
select j.id, j.number, v.name as vessel, j.kind, d.due_on::date as due_on, file_held(j.practice_id, j.id)::boolean as held
  from jobs j
  join vessels v on v.practice_id = j.practice_id and v.id = j.vessel_id
 cross join lateral (select file_due(j.practice_id, j.id) as due_on) d
 where j.practice_id = @practice_id and j.erased_at is null and not report_to_come(j.stage) and d.due_on <= @today::date
   and (@self::boolean or job_open(j.practice_id, j.id, j.restricted, @member::uuid, @guest::boolean))
 order by d.due_on, j.number, j.id
 limit @most;

-- name: DuePeople :many
select p.id, p.name, d.due_on::date as due_on, person_held(p.practice_id, p.id)::boolean as held
  from parties p
 cross join lateral (select person_due(p.practice_id, p.id) as due_on) d
 where p.practice_id = @practice_id and p.kind = 'person' and not p.is_yard and p.erased_at is null and p.merged_into is null and d.due_on <= @today::date
 order by d.due_on, lower(p.name), p.id
 limit @most;

-- name: ListErasures :many
select e.id, e.kind, e.party_id, e.member_id, e.job_id, e.reason, e.counts, e.objects, e.at, coalesce(m.name, '') as by_name, e.objects_gone_at
  from erasures e
  left join members m on m.practice_id = e.practice_id and m.id = e.by_id
 where e.practice_id = @practice_id
 order by e.at desc, e.id
 limit @most;

-- name: InsertErasure :exec
insert into erasures (practice_id, id, kind, party_id, member_id, job_id, reason, counts, object_keys, objects, at, by_id, objects_gone_at)
values (@practice_id, @id, @kind, sqlc.narg('party_id'), sqlc.narg('member_id'), sqlc.narg('job_id'), @reason, @counts, @object_keys, @objects, @now, sqlc.narg('by_id'), sqlc.narg('objects_gone_at'));

-- name: ErasedKeys :one
select object_keys
  from erasures
 where practice_id = @practice_id and id = @id;

-- name: ObjectsGone :exec
update erasures
   set object_keys = '{}', objects_gone_at = @now::timestamptz
 where practice_id = @practice_id and id = @id;

-- name: InsertPersonExport :exec
insert into person_exports (practice_id, id, party_id, at, by_id)
values (@practice_id, @id, @party_id, @now, sqlc.narg('by_id'));

-- name: ExportsOf :many
select x.at, coalesce(m.name, '') as by_name
  from person_exports x
  left join members m on m.practice_id = x.practice_id and m.id = x.by_id
 where x.practice_id = @practice_id and x.party_id = @party_id
 order by x.at desc, x.id
 limit 20;

-- name: GetPersonKept :one
select p.name, p.kind, p.is_yard, p.erased_at, person_held(p.practice_id, p.id)::boolean as held,
       exists (select from jobs j where j.practice_id = p.practice_id and j.id in (select person_jobs(p.practice_id, p.id)) and not @self::boolean
                 and not job_open(j.practice_id, j.id, j.restricted, @member::uuid, @guest::boolean)) as shut,
       exists (select from parties o where o.practice_id = p.practice_id and o.id not in (select person_entries(p.practice_id, p.id)) and o.erased_at is null and p.email <> '' and lower(o.email) = lower(p.email)) as same_address,
       exists (select from parties o where o.practice_id = p.practice_id and o.id not in (select person_entries(p.practice_id, p.id)) and o.erased_at is null and lower(btrim(o.name)) = lower(btrim(p.name))) as same_name
  from parties p
 where p.practice_id = @practice_id and p.id = @id and p.merged_into is null;

-- name: PersonToErase :one
select p.name, p.kind, p.is_yard, p.erased_at, person_held(p.practice_id, p.id)::boolean as held,
       exists (select from jobs j where j.practice_id = p.practice_id and j.id in (select person_jobs(p.practice_id, p.id)) and not @self::boolean
                 and not job_open(j.practice_id, j.id, j.restricted, @member::uuid, @guest::boolean)) as shut,
       exists (select from parties o where o.practice_id = p.practice_id and o.id not in (select person_entries(p.practice_id, p.id)) and o.erased_at is null and p.email <> '' and lower(o.email) = lower(p.email)) as same_address,
       exists (select from parties o where o.practice_id = p.practice_id and o.id not in (select person_entries(p.practice_id, p.id)) and o.erased_at is null and lower(btrim(o.name)) = lower(btrim(p.name))) as same_name
  from parties p
 where p.practice_id = @practice_id and p.id = @id and p.merged_into is null
   for update;

-- name: FilesOfPerson :many
select j.id, j.number, v.name as vessel, j.stage, file_due(j.practice_id, j.id)::date as due_on, (j.erased_at is not null)::boolean as gone
  from jobs j
  join vessels v on v.practice_id = j.practice_id and v.id = j.vessel_id
 where j.practice_id = @practice_id and j.id in (select person_jobs(@practice_id, @party::uuid))
   and (@self::boolean or job_open(j.practice_id, j.id, j.restricted, @member::uuid, @guest::boolean))
 order by j.number desc, j.id;

-- name: FileToErase :one
select j.number, j.stage, file_due(j.practice_id, j.id)::date as due_on, j.erased_at, file_held(j.practice_id, j.id)::boolean as held
  from jobs j
 where j.practice_id = @practice_id and j.id = @id
   and (@self::boolean or job_open(j.practice_id, j.id, j.restricted, @member::uuid, @guest::boolean))
   for update of j;

-- name: KeysOfFile :many
-- What a file has in the store: pages and PDFs as issued, of addenda too, papers, invoices as evidence, and photos that its clients sent with their copies.
select x.key::text as key
  from (select i.page_key as key from report_issues i join reports r on r.practice_id = i.practice_id and r.id = i.report_id where i.practice_id = @practice_id and r.job_id = @job::uuid
        union select i.pdf_key from report_issues i join reports r on r.practice_id = i.practice_id and r.id = i.report_id where i.practice_id = @practice_id and r.job_id = @job
        union select k.key
                from addendum_issues i join addenda a on a.practice_id = i.practice_id and a.id = i.addendum_id join reports r on r.practice_id = a.practice_id and r.id = a.report_id
               cross join lateral unnest(array[i.page_key, i.pdf_key]) k (key)
               where i.practice_id = @practice_id and r.job_id = @job and k.key is not null
        union select u.object_key from papers d join uploads u on u.practice_id = d.practice_id and u.id = d.upload_id where d.practice_id = @practice_id and d.job_id = @job
        union select u.object_key from recommendation_evidence e join recommendations c on c.practice_id = e.practice_id and c.id = e.recommendation_id join uploads u on u.practice_id = e.practice_id and u.id = e.upload_id
               where e.practice_id = @practice_id and c.job_id = @job
        union select unnest(array[u.object_key, c.practice_id || '/' || c.upload_id || '-view', c.practice_id || '/' || c.upload_id || '-thumb'])
                from client_photos c join uploads u on u.practice_id = c.practice_id and u.id = c.upload_id join shares s on s.practice_id = c.practice_id and s.id = c.share_id join reports r on r.practice_id = s.practice_id and r.id = s.report_id
               where c.practice_id = @practice_id and r.job_id = @job) x
 order by x.key;

-- name: KeysOfPerson :many
-- The pictures that somebody sent, with their copies.
select x.key::text as key
  from client_photos c
  join uploads u on u.practice_id = c.practice_id and u.id = c.upload_id
 cross join lateral unnest(array[u.object_key, c.practice_id || '/' || c.upload_id || '-view', c.practice_id || '/' || c.upload_id || '-thumb']) x (key)
 where c.practice_id = @practice_id and c.share_id in (select person_shares(@practice_id, @party::uuid))
 order by x.key;

-- name: MemberKept :one
select name, email, account_id, left_at, erased_at
  from members
 where practice_id = @practice_id and id = @id;

-- name: MemberToErase :one
select name, email, account_id, left_at, erased_at
  from members
 where practice_id = @practice_id and id = @id
   for update;

-- name: AccountsOfPerson :many
select distinct account_id
  from client_grants
 where practice_id = @practice_id and lower(email) in (select person_addresses(@practice_id, @party::uuid))
 order by account_id;
