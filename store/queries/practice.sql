-- name: GetPractice :one
select practice_id, name, address, email, phone, time_zone, currency, units, contrast_edges, review_required, self_check_hours, invented, version
  from practices
 where practice_id = @practice_id;

-- name: UpdatePractice :execrows
update practices
   set name = @name, address = @address, email = @email, phone = @phone, time_zone = @time_zone, currency = @currency, units = @units,
       contrast_edges = @contrast_edges, review_required = @review_required, self_check_hours = @self_check_hours, version = version + 1
 where practice_id = @practice_id and version = @version;

-- name: GetMemberLine :one
select id, name, roles, (left_at is null)::boolean as active
  from members
 where practice_id = @practice_id and id = @id;
