package store_test

import (
	"slices"
	"testing"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/store"
	"boottop.example/practice/store/storetest"
)

func TestIDsTravelAsTheyAre(t *testing.T) {
	t.Parallel()
	s, err := store.Open(t.Context(), store.Config{URL: storetest.New(t).AppURL})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(s.Close)
	id := uuid.Must(uuid.NewV7())
	type row struct {
		One   uuid.UUID
		Maybe *uuid.UUID
		None  *uuid.UUID
		List  []uuid.UUID
		Text  string
	}
	rows, err := s.Pool().Query(t.Context(), `select $1::uuid, $2::uuid, $3::uuid, $4::uuid[], ($1::uuid)::text`, id, &id, (*uuid.UUID)(nil), []uuid.UUID{id, {}})
	if err != nil {
		t.Fatal(err)
	}
	got, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByPos[row])
	if err != nil {
		t.Fatal(err)
	}
	if got.One != id || got.Maybe == nil || *got.Maybe != id || got.None != nil || !slices.Equal(got.List, []uuid.UUID{id, {}}) || got.Text != id.String() {
		t.Errorf("%s came back as %+v", id, got)
	}
	// A text where an id is meant is still read by the database.
	var again uuid.UUID
	if err := s.Pool().QueryRow(t.Context(), `select $1::text::uuid`, id.String()).Scan(&again); err != nil || again != id {
		t.Errorf("%s written as a text came back as %s, %v", id, again, err)
	}
}
