-- The groups of scales that a vessel was read with, each with the scales in it. A function
-- and not a view, so that it is worked out once and first, from the vessel's own passes: with the planner's
-- figures of a practice that was just filled, the joins were tried in any order.

-- +goose Up
-- +goose StatementBegin
create function groups_of_vessel(p uuid, vessel uuid) returns table (grp text, scales uuid[])
language sql stable rows 4 set search_path = public, pg_temp as $$
  select s.grp, array_agg(s.scale_id)
    from scale_groups s
   where s.practice_id = p
     and s.grp in (select z.grp
                     from pass_grids g
                     cross join lateral (select q.scale_id from passes q where q.practice_id = p and q.id = g.pass_id offset 0) q
                     cross join lateral (select z.grp from scale_groups z where z.practice_id = p and z.scale_id = q.scale_id offset 0) z
                    where g.practice_id = p and g.vessel_id = vessel)
   group by s.grp
$$;
-- like_pass as before, each step by what it goes by.
create or replace function like_pass(p uuid, pass uuid) returns uuid language sql stable set search_path = public, pg_temp as $$
  select b.id
    from passes a
    cross join lateral (select v.spell_id from visits v where v.practice_id = p and v.id = a.visit_id offset 0) va
    cross join lateral (select e.vessel_id from elements e where e.practice_id = p and e.id = a.element_id offset 0) e
    cross join lateral (select g.pass_id from pass_grids g where g.practice_id = p and g.vessel_id = e.vessel_id offset 0) g
    cross join lateral (select b.id, b.visit_id, b.element_id, b.scale_id, b.face, b.quoted, b.began_at from passes b
                         where b.practice_id = p and b.id = g.pass_id offset 0) b
    cross join lateral (select v.spell_id from visits v where v.practice_id = p and v.id = b.visit_id offset 0) vb
   where a.practice_id = p and a.id = pass and not a.quoted and not b.quoted
     and b.element_id = a.element_id and b.scale_id = a.scale_id and b.face = a.face
     and va.spell_id is not distinct from vb.spell_id
     and (b.began_at, b.id) < (a.began_at, a.id) and b.began_at >= a.began_at - interval '7 days'
   order by b.began_at desc, b.id desc
   limit 1
$$;
-- +goose StatementEnd
revoke all on function groups_of_vessel(uuid, uuid) from public;
grant execute on function groups_of_vessel(uuid, uuid) to app;
