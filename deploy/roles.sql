-- The roles of Boottop and what each may do with the database. Run once as a superuser,
-- connected to the database; run again it changes nothing:
--
--   createdb boottop
--   psql -d boottop -f deploy/roles.sql
--   psql -d boottop -c '\password owner' -c '\password app' -c '\password worker'
--
-- owner   owns the database and runs `practice migrate`, nothing else
-- app     the service. Owns nothing and may not look past row security, so that a
--         practice sees its own rows whatever the program does
-- worker  takes jobs from the queue's own tables, which no practice's rights reach
--
-- What each may do with a table stands in the migrations, beside the table.
do $$
declare
  name text;
begin
  foreach name in array array['owner', 'app', 'worker'] loop
    if not exists (select from pg_roles where rolname = name) then
      execute format('create role %I login', name);
    end if;
    execute format('alter role %I login nosuperuser nocreaterole noreplication nobypassrls', name);
  end loop;
  alter role owner createdb; -- test databases are made by it
  alter role app nocreatedb;
  alter role worker nocreatedb;

  execute format('alter database %I owner to owner', current_database());
  execute format('revoke all on database %I from public', current_database());
  execute format('grant connect on database %I to app, worker', current_database());
  alter schema public owner to owner;
  revoke all on schema public from public;
end
$$;
