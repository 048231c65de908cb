package apart_test

import (
	"math/rand/v2"
	"testing"

	"boottop.example/practice/cmd/proof/apart"
	"boottop.example/practice/store/storetest"
)

func TestPracticesStayApartInOnePool(t *testing.T) {
	t.Parallel()
	if storetest.OneConnection() {
		t.Skip("it is about a pool of four")
	}
	seed := rand.Uint64N(1_000_000)
	report, err := apart.Run(t.Context(), storetest.New(t).AppURL, seed, 1000)
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
