package main

import (
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store"
	"boottop.example/practice/store/storetest"
)

func TestVerifyTellsByItsExit(t *testing.T) {
	t.Parallel()
	db := storetest.New(t)
	s, err := store.Open(t.Context(), store.Config{URL: db.AppURL})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	id := uuid.Must(uuid.NewV7())
	if err := s.Door().CreatePractice(t.Context(), id, "North quay surveys", "Etc/UTC", "EUR", true, time.Now()); err != nil {
		t.Fatal(err)
	}
	_, err = practice.New(s).AddInstrument(t.Context(), domain.Service(id), practice.AddInstrument{
		Mutation: uuid.Must(uuid.NewV7()), Instrument: practice.Instrument{ID: uuid.Must(uuid.NewV7()), Name: "Deep", Kind: "capacitance"},
	})
	if err != nil {
		t.Fatal(err)
	}
	environ := []string{"BOOTTOP_DATABASE_URL=" + db.AppURL}
	if err := verify(t.Context(), []string{"-practice", "prc_" + id.String()}, environ); err != nil {
		t.Errorf("an untouched record: %v", err)
	}
	wrong := "1:" + strings.Repeat("0", 64)
	if err := verify(t.Context(), []string{"-practice=" + id.String(), "-head", wrong}, environ); err == nil {
		t.Error("a head that never was goes unnoticed")
	}
	if _, err := db.Connect(t, db.OwnerURL).Exec(t.Context(), `update mutations set operation = 'nothing'`); err != nil {
		t.Fatal(err)
	}
	if err := verify(t.Context(), []string{"-practice", id.String()}, environ); err == nil {
		t.Error("a changed line goes unnoticed")
	}
	if err := verify(t.Context(), []string{"-practice", uuid.NewString()}, environ); domain.KindOf(err) != domain.NotFound {
		t.Errorf("a practice that is not there: %v", err)
	}
}

func TestVerifyTakesItsOwnFlagsAndLeavesTheRest(t *testing.T) {
	t.Parallel()
	id := uuid.NewString()
	which, known, rest, err := verifyFlags([]string{"-log-level", "debug", "-practice", id, "--head=7:" + strings.Repeat("ab", 32), "-max-conns=2"})
	if err != nil || which.String() != id || len(known) != 1 || known[0].Seq != 7 || !slices.Equal(rest, []string{"-log-level", "debug", "-max-conns=2"}) {
		t.Errorf("%v %v %v %v", which, known, rest, err)
	}
	for _, bad := range [][]string{nil, {"-practice"}, {"-practice", "x"}, {"-practice", id, "-head", "7"}, {"-practice", id, "-head", "x:" + strings.Repeat("ab", 32)}} {
		if _, _, _, err := verifyFlags(bad); err == nil {
			t.Errorf("%v is understood", bad)
		}
	}
}
