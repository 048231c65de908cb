-- name: NoteMaking :exec
insert into report_makings (practice_id, report_id, step, parts, of_parts, photos, of_photos, pages, at)
values (@practice_id, @report_id, @step, @parts, @of_parts, @photos, @of_photos, @pages, @now)
on conflict (practice_id, report_id) do update
   set step = excluded.step, parts = excluded.parts, of_parts = excluded.of_parts, photos = excluded.photos, of_photos = excluded.of_photos,
       pages = excluded.pages, at = excluded.at;

-- name: MakingOfReport :one
select m.step, m.parts, m.of_parts, m.photos, m.of_photos, m.pages, m.at, (r.state <> 'issuing')::boolean as made
  from report_makings m
  join reports r on r.practice_id = m.practice_id and r.id = m.report_id
  join jobs j on j.practice_id = r.practice_id and j.id = r.job_id
 where m.practice_id = @practice_id and m.report_id = @report_id
   and ((not j.restricted and not @guest::boolean) or @self::boolean
        or exists (select from job_access a where a.practice_id = j.practice_id and a.job_id = j.id and a.member_id = @member::uuid));
