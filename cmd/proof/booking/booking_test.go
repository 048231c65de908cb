package booking_test

import (
	"math/rand/v2"
	"testing"

	"boottop.example/practice/cmd/proof/booking"
	"boottop.example/practice/store/storetest"
)

func TestOneOfAllWhoRaceWins(t *testing.T) {
	t.Parallel()
	seed := rand.Uint64N(1_000_000)
	db := storetest.New(t)
	report, err := booking.Run(t.Context(), db.OwnerURL, db.AppURL, seed, 80)
	if err != nil {
		t.Fatalf("seed %d: %v", seed, err)
	}
	for _, c := range report.Claims {
		if !c.Holds {
			t.Errorf("seed %d: %s: %s", seed, c.What, c.Found)
		}
	}
	t.Log(report.Notes)
}
