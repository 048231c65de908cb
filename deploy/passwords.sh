#!/bin/sh
# Gives the roles of roles.sql their passwords when the database is made (compose.yaml).
set -eu
for role in owner app worker; do
  psql -v ON_ERROR_STOP=1 -U postgres -d boottop -v role="$role" -v word="$(cat "/run/secrets/${role}_password")" <<'SQL'
alter role :"role" password :'word';
SQL
done
