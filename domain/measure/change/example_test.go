package change_test

import (
	"fmt"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/change"
	"boottop.example/practice/domain/measure/repeat"
)

func ExampleCompare() {
	at := func(tenths int32) measure.Value { return measure.Value{At: measure.FromTenths(tenths)} }
	pair := func(before, after int32) change.Pair {
		return change.Pair{Before: at(before), After: at(after), KBefore: 3, KAfter: 3}
	}
	in := change.Input{
		Places: []change.Pair{pair(310, 335), pair(305, 322), pair(298, 421), pair(320, 339)},
		Dry:    []change.Pair{pair(100, 121), pair(105, 124), pair(99, 118), pair(110, 133), pair(104, 122), pair(101, 120)},
		Rate:   0.05, LeastDry: 6,
	}
	c, err := change.Compare(in)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(c.Places[2].Answer, "-", c.Why[0].Sentence())

	in.Components = change.Components{
		Repeatability: repeat.Deviation{S: 0.5, DF: 60}, // as repeat.OfPlacements gives it
		Like:          repeat.Deviation{S: 1.1, DF: 57}, // as change.Measure gives it
		LikeRep:       0.9,
	}
	c, _ = change.Compare(in)
	fmt.Printf("the visit itself: %+.2f units\n", c.Visit.Value)
	for i, v := range c.Places {
		fmt.Printf("place %d: %+.1f, %s; %.1f could have been shown\n", i+1, v.Change.Value, v.Answer, v.Least)
	}
	// Output:
	// cannot tell - This instrument's repeatability has not been measured: set it down again 30 times, ten places of four placements.
	// the visit itself: +1.95 units
	// place 1: +0.6, no change shown; 3.1 could have been shown
	// place 2: -0.2, no change shown; 3.1 could have been shown
	// place 3: +10.4, changed; 3.1 could have been shown
	// place 4: -0.1, no change shown; 3.1 could have been shown
}

func ExampleAhead() {
	c := change.Components{
		Repeatability: repeat.Deviation{S: 0.5, DF: 60}, Like: repeat.Deviation{S: 1.1, DF: 57}, LikeRep: 0.9,
	}
	plan := change.Plan{Places: 40, Dry: 8, KBefore: 3, KAfter: 3, VisitsBefore: 1, VisitsAfter: 1}
	for _, visits := range []int{1, 2, 4} {
		plan.VisitsAfter = visits
		o, err := change.Ahead(c, plan, 0.8, 0.05)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%d to come: a place %.1f units, the hull %.1f, with 80 %%\n", visits, o.Place.True, o.Hull.True)
	}
	// Output:
	// 1 to come: a place 5.0 units, the hull 1.2, with 80 %
	// 2 to come: a place 4.3 units, the hull 1.1, with 80 %
	// 4 to come: a place 3.9 units, the hull 1.0, with 80 %
}

func ExampleSignedRank() {
	// Port less starboard at nine mirror pairs, scale units.
	t, err := change.SignedRank([]float64{1.5, -0.5, 2.0, 3.0, 0.5, 1.0, 2.5, -1.0, 3.5}, change.Drop)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("V %.1f of %d pairs, p = %.3f, counted out: %v\n", t.V, t.N, t.P, t.Exact)
	// Output: V 40.0 of 9 pairs, p = 0.043, counted out: true
}
