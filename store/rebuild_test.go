package store_test

import (
	"slices"
	"testing"

	"boottop.example/practice/store"
)

func TestRebuildGrids(t *testing.T) {
	t.Parallel()
	p := setupProbes(t) // its rows were written past the use cases, the grid among them
	s, err := store.Open(t.Context(), store.Config{URL: p.db.AppURL})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	all, err := store.Practices(t.Context(), p.db.OwnerURL)
	if err != nil || len(all) != 2 || !slices.Contains(all, p.ours.id) || !slices.Contains(all, p.theirs.id) {
		t.Fatalf("practices %v, %v", all, err)
	}
	passes, differed, err := s.RebuildGrids(t.Context(), p.ours.id)
	if err != nil || passes == 0 || differed == 0 {
		t.Fatalf("%d passes, %d differed, %v: the grids written by hand were not noticed", passes, differed, err)
	}
	again, differed, err := s.RebuildGrids(t.Context(), p.ours.id)
	if err != nil || again != passes || differed != 0 {
		t.Errorf("again: %d passes of %d, %d differed, %v", again, passes, differed, err)
	}
	if _, differed, err = s.RebuildGrids(t.Context(), p.theirs.id); err != nil || differed == 0 {
		t.Errorf("the other practice was rebuilt with ours: %d differed, %v", differed, err)
	}
}
