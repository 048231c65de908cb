package where_test

import (
	"fmt"
	"testing"

	"boottop.example/practice/domain/measure/internal/check"
	"boottop.example/practice/domain/measure/where"
)

// Columbus, Ohio: Anselin 1988 (oldcol), results of spdep 1.2-7 under R 4.2.2, in
// testdata/measure/08-spatial-autocorrelation.json.
type columbus struct {
	Crime      []float64
	X, Y       []float64
	Neighbours [][]int
	Global     map[string]struct {
		I, Expectation, Variance, Z float64
		P                           float64 `json:"p_two_sided"`
	}
	Local struct {
		Ii, E, Var, Z []float64
		CE            []float64 `json:"conditional_E"`
		CVar          []float64 `json:"conditional_Var"`
		CZ            []float64 `json:"conditional_Z"`
		Quadrant      []string
	} `json:"local_moran_W"`
	GStar     []float64 `json:"getis_ord_star_contiguity_B"`
	G         []float64 `json:"getis_ord_without_self_contiguity_B"`
	GDistance []float64 `json:"getis_ord_star_distance_0_to_8_B"`
}

func loadColumbus(t *testing.T) (columbus, *where.Graph) {
	t.Helper()
	var c columbus
	check.Load(t, "08-spatial-autocorrelation.json", &c)
	lists := make([][]int, len(c.Neighbours))
	for i, list := range c.Neighbours {
		for _, j := range list {
			lists[i] = append(lists[i], j-1) // the file counts from 1
		}
	}
	g, err := where.FromLists(lists)
	if err != nil {
		t.Fatal(err)
	}
	return c, g
}

func TestMoranAgreesWithSpdep(t *testing.T) {
	t.Parallel()
	c, g := loadColumbus(t)
	for name, w := range map[string]where.Weighting{"W": where.Shares, "B": where.Ones} {
		got, err := where.Moran(g, c.Crime, w)
		if err != nil {
			t.Fatal(err)
		}
		random, normal := c.Global[name+"_randomisation"], c.Global[name+"_normality"]
		check.Digits(t, name+" I", got.I, random.I, 11)
		check.Digits(t, name+" expectation", got.Expected, random.Expectation, 11)
		check.Digits(t, name+" variance, shuffled", got.VarRandom, random.Variance, 10)
		check.Digits(t, name+" variance, normal", got.VarNormal, normal.Variance, 10)
		check.Digits(t, name+" z", got.Z, random.Z, 10)
		check.Digits(t, name+" p", got.P, random.P, 9)
	}
}

func TestLocalMoranAgreesWithSpdep(t *testing.T) {
	t.Parallel()
	c, g := loadColumbus(t)
	got, err := where.LocalMoran(g, c.Crime)
	if err != nil {
		t.Fatal(err)
	}
	for i, l := range got {
		at := fmt.Sprintf("place %d ", i)
		check.Digits(t, at+"I", l.I, c.Local.Ii[i], 10)
		check.Digits(t, at+"E", l.Expected, c.Local.E[i], 11)
		check.Digits(t, at+"Var", l.Var, c.Local.Var[i], 10)
		check.Digits(t, at+"Z", l.Z, c.Local.Z[i], 9)
		check.Digits(t, at+"conditional E", l.ExpectedHere, c.Local.CE[i], 9)
		check.Digits(t, at+"conditional Var", l.VarHere, c.Local.CVar[i], 9)
		check.Digits(t, at+"conditional Z", l.ZHere, c.Local.CZ[i], 9)
		word := map[bool]string{true: "High", false: "Low"}
		if q := word[l.High] + "-" + word[l.NeighboursHigh]; q != c.Local.Quadrant[i] {
			t.Errorf("place %d: %s, want %s", i, q, c.Local.Quadrant[i])
		}
	}
}

func TestGetisOrdAgreesWithSpdep(t *testing.T) {
	t.Parallel()
	c, g := loadColumbus(t)
	star, err := where.GetisOrd(g, c.Crime, true)
	if err != nil {
		t.Fatal(err)
	}
	plain, err := where.GetisOrd(g, c.Crime, false)
	if err != nil {
		t.Fatal(err)
	}
	// The same places as points, joined within a distance of 8: the graph that Joined
	// makes of a flat skin.
	places := make([]where.Place, len(c.X))
	for i := range places {
		places[i] = where.Place{Side: where.Starboard, Along: mm(c.X[i]), Keel: mm(c.Y[i])}
	}
	near, err := where.Joined(places, where.Reach{Along: 8, Across: 8})
	if err != nil {
		t.Fatal(err)
	}
	distance, err := where.GetisOrd(near, c.Crime, true)
	if err != nil {
		t.Fatal(err)
	}
	for i := range star {
		at := fmt.Sprintf("place %d ", i)
		check.Digits(t, at+"G*", star[i], c.GStar[i], 9)
		check.Digits(t, at+"G", plain[i], c.G[i], 9)
		check.Digits(t, at+"G* within 8", distance[i], c.GDistance[i], 9)
	}
}
