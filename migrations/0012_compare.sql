-- What the comparison of passes needs beside the readings: how many placements stand
-- behind each value, which pass was read again within the week, and who lowered a standing.

-- +goose Up
alter table pass_grids
  add column placed integer[] not null default '{}', -- placements behind each value; null where not read
  add column like_of uuid; -- the pass before it of the same hull, scale and face within seven days

-- A scale and the group within which readings are of one kind: model (or the one
-- instrument, where no model is known), scale and mode. The parts are told apart by a
-- character that no name holds.
create view scale_groups with (security_invoker = true) as
select c.practice_id, c.id as scale_id, c.instrument_id, i.model, c.name as scale_name, c.mode, c.step_tenths,
       concat_ws(chr(31), coalesce(nullif(i.model, ''), i.id::text), c.name, c.mode, c.low_tenths, c.high_tenths) as grp
  from scales c
  join instruments i on i.practice_id = c.practice_id and i.id = c.instrument_id;
grant select on scale_groups to app;

-- The pass that another is like: of the same part of the same vessel by the same scale
-- and face, the last before it within a week of the same time ashore.
create function like_pass(p uuid, pass uuid) returns uuid language sql stable set search_path = public, pg_temp as $$
  select b.id
    from passes a
    join visits va on va.practice_id = a.practice_id and va.id = a.visit_id
    join pass_grids g on g.practice_id = a.practice_id and g.vessel_id = (select e.vessel_id from elements e where e.practice_id = a.practice_id and e.id = a.element_id)
    join passes b on b.practice_id = g.practice_id and b.id = g.pass_id
    join visits vb on vb.practice_id = b.practice_id and vb.id = b.visit_id
   where a.practice_id = p and a.id = pass and not a.quoted and not b.quoted
     and b.element_id = a.element_id and b.scale_id = a.scale_id and b.face = a.face
     and va.spell_id is not distinct from vb.spell_id
     and (b.began_at, b.id) < (a.began_at, a.id) and b.began_at >= a.began_at - interval '7 days'
   order by b.began_at desc, b.id desc
   limit 1
$$;
revoke all on function like_pass(uuid, uuid) from public;
grant execute on function like_pass(uuid, uuid) to app;

update pass_grids g
   set placed = coalesce((select array_agg(cardinality(r.placements) order by l.ordinal)
                            from places l
                            left join readings r on r.practice_id = l.practice_id and r.pass_id = g.pass_id and r.place_id = l.id and r.occasion = 1 and r.current
                           where l.practice_id = g.practice_id and l.vessel_id = g.vessel_id), '{}'),
       like_of = like_pass(g.practice_id, g.pass_id);

create index pass_grids_like on pass_grids (practice_id, pass_id) where like_of is not null;
create index passes_scale on passes (practice_id, scale_id, began_at);
create index readings_again on readings (practice_id, pass_id) where occasion > 1;

-- A standing that a surveyor lowered by judgement: never raised above what the context
-- gives. Kept for ever; taken back it says when and by whom.
create table standing_overrides (
  practice_id uuid not null,
  id uuid not null,
  pass_id uuid not null,
  standing text not null constraint standing_overrides_only_down check (standing in ('unlike', 'quoted')),
  reason text not null constraint standing_overrides_reason_given check (length(reason) between 1 and 500),
  by_id uuid not null,
  at timestamptz not null,
  withdrawn_at timestamptz,
  withdrawn_by uuid,
  primary key (practice_id, id),
  foreign key (practice_id, pass_id) references passes (practice_id, id),
  foreign key (practice_id, by_id) references members (practice_id, id),
  foreign key (practice_id, withdrawn_by) references members (practice_id, id),
  constraint standing_overrides_withdrawn_by_somebody check (withdrawn_at is null or withdrawn_by is not null)
);
call keep_apart('standing_overrides', 'select, insert, update');
create unique index standing_overrides_once on standing_overrides (practice_id, pass_id) where withdrawn_at is null;
