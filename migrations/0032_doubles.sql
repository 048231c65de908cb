-- Two entries of one person or firm become one; what pointed to the one that went follows.

-- +goose Up
create table party_merges (
  practice_id uuid not null,
  id uuid not null,
  kept_id uuid not null,
  lost_id uuid not null,
  because text not null constraint party_merges_because_given check (length(because) between 1 and 500),
  filled text[] not null default '{}', -- fields of the kept that stood empty and took the other's
  at timestamptz not null,
  by_id uuid,
  undone_at timestamptz,
  undone_by uuid,
  undone_because text not null default '' constraint party_merges_undone_because_length check (length(undone_because) <= 500),
  primary key (practice_id, id),
  foreign key (practice_id, kept_id) references parties (practice_id, id),
  foreign key (practice_id, lost_id) references parties (practice_id, id),
  foreign key (practice_id, by_id) references members (practice_id, id),
  foreign key (practice_id, undone_by) references members (practice_id, id)
);
call keep_apart('party_merges', 'select, insert, update');
create unique index party_merges_once on party_merges (practice_id, lost_id) where undone_at is null;
create index party_merges_at on party_merges (practice_id, at desc);

-- What followed, row by row, so that a merge can be undone exactly.
create table party_merge_rows (
  practice_id uuid not null,
  merge_id uuid not null,
  place text not null, -- table and column
  row_id uuid not null,
  primary key (practice_id, merge_id, place, row_id),
  foreign key (practice_id, merge_id) references party_merges (practice_id, id)
);
call keep_apart('party_merge_rows', 'select, insert');

-- Entries that somebody looked at and found to be two: they are not asked about again.
create table parties_apart (
  practice_id uuid not null,
  first_id uuid not null, -- the lower id
  second_id uuid not null,
  because text not null default '' constraint parties_apart_because_length check (length(because) <= 500),
  at timestamptz not null,
  by_id uuid,
  primary key (practice_id, first_id, second_id),
  foreign key (practice_id, first_id) references parties (practice_id, id),
  foreign key (practice_id, second_id) references parties (practice_id, id),
  foreign key (practice_id, by_id) references members (practice_id, id)
);
call keep_apart('parties_apart', 'select, insert');

create index parties_merged on parties (practice_id, merged_into) where merged_into is not null;

-- +goose StatementBegin
-- Every column that points to a party, out of the catalogue, so that a table made later
-- follows too; with the column that tells its rows apart. What a merge itself keeps of the
-- entries stays as it is.
create function party_pointers()
returns table (tab regclass, col name, key name) language sql stable set search_path = public, pg_temp as $$
  select c.conrelid::regclass, a.attname, k.attname
    from pg_constraint c
   cross join lateral unnest(c.conkey, c.confkey) u (here, there)
    join pg_attribute a on a.attrelid = c.conrelid and a.attnum = u.here
    join pg_attribute f on f.attrelid = c.confrelid and f.attnum = u.there and f.attname = 'id'
    join pg_constraint p on p.conrelid = c.conrelid and p.contype = 'p'
    join pg_attribute k on k.attrelid = p.conrelid and k.attnum = any (p.conkey) and k.attname <> 'practice_id'
   where c.contype = 'f' and c.confrelid = 'parties'::regclass and c.conrelid <> all (array['party_merges', 'parties_apart']::regclass[])
   order by c.conrelid::regclass::text, a.attname
$$;

-- How much points to a party, place by place.
create function party_points(practice uuid, party uuid)
returns table (place text, points bigint) language plpgsql stable set search_path = public, pg_temp as $$
declare
  p record;
begin
  for p in select * from party_pointers() loop
    return query execute format('select %L, count(*) from %s t where t.practice_id = $1 and t.%I = $2', p.tab::text || '.' || p.col, p.tab, p.col) using practice, party;
  end loop;
end
$$;

-- Points to the kept what pointed to the lost, and notes each row. Where only one row a
-- party is allowed and the kept has its own, the other's stays where it is.
create function follow_party(practice uuid, merge uuid, lost uuid, kept uuid)
returns void language plpgsql set search_path = public, pg_temp as $$
declare
  p record;
  free text;
begin
  for p in select * from party_pointers() loop
    select coalesce(string_agg(format('not exists (select from %s k where %s)', p.tab, (
             select string_agg(case a.attname when p.col then format('k.%I = $2', p.col) else format('k.%1$I = t.%1$I', a.attname) end, ' and ')
               from pg_attribute a
              where a.attrelid = i.indrelid and a.attnum = any (i.indkey::int2[]))), ' and '), 'true')
      into free
      from pg_index i
     where i.indrelid = p.tab and i.indisunique
       and exists (select from pg_attribute a where a.attrelid = p.tab and a.attname = p.col and a.attnum = any (i.indkey::int2[]));
    execute format('with moved as (update %s t set %I = $2 where t.practice_id = $3 and t.%I = $1 and %s returning t.%I as row_id)
                    insert into party_merge_rows (practice_id, merge_id, place, row_id) select $3, $4, %L, row_id from moved',
                   p.tab, p.col, p.col, free, p.key, p.tab::text || '.' || p.col)
      using lost, kept, practice, merge;
  end loop;
end
$$;

-- Gives back what followed and still stands where the merge put it.
create function unfollow_party(practice uuid, merge uuid, lost uuid, kept uuid)
returns void language plpgsql set search_path = public, pg_temp as $$
declare
  p record;
begin
  for p in select * from party_pointers() loop
    execute format('update %s t set %I = $1
                     where t.practice_id = $3 and t.%I = $2
                       and t.%I in (select r.row_id from party_merge_rows r where r.practice_id = $3 and r.merge_id = $4 and r.place = %L)',
                   p.tab, p.col, p.col, p.key, p.tab::text || '.' || p.col)
      using lost, kept, practice, merge;
  end loop;
end
$$;
-- +goose StatementEnd
