package cause_test

import (
	"math"
	"testing"

	"boottop.example/practice/domain/cause"
)

// Trade notes, "What two instruments of different depth would see", computed there from
// the same assumptions by another program; printed to two decimals.
func TestThePairedDepthTable(t *testing.T) {
	t.Parallel()
	got, err := cause.SeenAfter(1e-12, 0, 1, 7, 21, 60, 240)
	if err != nil {
		t.Fatal(err)
	}
	for k, want := range []cause.Seen{
		{Days: 0, Shallow: 1, Middle: 1, Deep: 1, True: 1},
		{Days: 1, Shallow: .85, Middle: .92, Deep: .94, True: .97},
		{Days: 7, Shallow: .68, Middle: .80, Deep: .86, True: .91},
		{Days: 21, Shallow: .53, Middle: .68, Deep: .77, True: .85},
		{Days: 60, Shallow: .39, Middle: .54, Deep: .64, True: .74},
		{Days: 240, Shallow: .22, Middle: .33, Deep: .40, True: .49},
	} {
		g := got[k]
		for _, x := range [][2]float64{{g.Shallow, want.Shallow}, {g.Middle, want.Middle}, {g.Deep, want.Deep}, {g.True, want.True}} {
			if math.Abs(x[0]-x[1]) > 0.0101 {
				t.Errorf("after %v days %+v, the table has %+v", want.Days, g, want)
				break
			}
		}
	}
}

// The last row of the same table: 60 days, then 2 of rain, then 1 and 7 without.
func TestThePairedDepthTableAfterRain(t *testing.T) {
	t.Parallel()
	got, err := cause.SeenAfterRain(1e-12, 60, 2, 0, 1, 7)
	if err != nil {
		t.Fatal(err)
	}
	for k, want := range [][4]float64{{0, .58, .66, .72}, {1, .47, .59, .68}, {7, .40, .55, .64}} {
		for i, x := range []float64{float64(got[k].Days), got[k].Shallow, got[k].Middle, got[k].Deep} {
			if math.Abs(x-want[i]) > 0.0101 {
				t.Errorf("row %d: %+v, the table has %v", k, got[k], want)
				break
			}
		}
	}
}

// moved answers as a gate would that calls changed what exceeds the limit.
func moved(by, around, limit, due float64) cause.Moved {
	went := func(x float64) cause.Went {
		switch {
		case x > limit:
			return cause.Rose
		case x < -limit:
			return cause.Fell
		}
		return cause.Flat
	}
	return cause.Moved{Went: went(by), By: by, Limit: limit, Around: around, AroundWent: went(around), Due: due}
}

func TestPatternsOfAPair(t *testing.T) {
	t.Parallel()
	m := func(by, around, due float64) cause.Moved { return moved(by, around, 2, due) }
	for name, c := range map[string]struct {
		deep, shallow cause.Moved
		want          cause.Pattern
	}{
		"rain: shallow jumps up, deep moves far less":          {m(1, 0, 0), m(8, 7, 0), cause.SurfaceJumped},
		"shallow falls first":                                  {m(-1, -1, 1), m(-6, -6, 3), cause.NormalDrying},
		"deep follows slowly":                                  {m(-4, -4, 3), m(-8, -8, 5), cause.NormalDrying},
		"both flat where the band says they should have moved": {m(0, 0, 1), m(-1, -1, 5), cause.Stalled},
		"both flat where nothing was due yet":                  {m(0, 0, 0), m(-1, -1, 1), cause.NothingShown},
		"deep stays while neighbours fall and shallow falls":   {m(0, -5, 3), m(-6, -6, 5), cause.BehindOrStored},
		"both rise together":                                   {m(6, 6, 0), m(6, 6, 0), cause.NothingShown},
		"where the gate cannot tell of the deep one":           {cause.Moved{By: 9}, m(-6, -6, 1), cause.CannotTell},
		"where the gate cannot tell of the shallow one":        {m(-6, -6, 1), cause.Moved{By: 9}, cause.CannotTell},
	} {
		if got := cause.Depths(c.deep, c.shallow); got != c.want {
			t.Errorf("%s: %s, want %s", name, got, c.want)
		}
	}
}

// A wide gap by itself proves nothing: in the table's own figures the pair is normal
// drying from every day to every later one as soon as anything shows.
func TestTheTableItselfIsNormalDrying(t *testing.T) {
	t.Parallel()
	days, err := cause.SeenAfter(1e-12, 1, 7, 21, 60, 240)
	if err != nil {
		t.Fatal(err)
	}
	const start, limit = 30, 1.5 // scale units
	for i, a := range days {
		for _, b := range days[i+1:] {
			deep := moved(start*(b.Deep-a.Deep), start*(b.Deep-a.Deep), limit, 1)
			shallow := moved(start*(b.Shallow-a.Shallow), start*(b.Shallow-a.Shallow), limit, 2)
			if got := cause.Depths(deep, shallow); got != cause.NormalDrying {
				t.Errorf("day %v to %v: %s", a.Days, b.Days, got)
			}
		}
	}
}
