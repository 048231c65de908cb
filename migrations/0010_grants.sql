-- The door's functions are for `app` alone, and it reads nothing but its own tables.

-- +goose Up
revoke all on all functions in schema door from public;
grant execute on all functions in schema door to app;
