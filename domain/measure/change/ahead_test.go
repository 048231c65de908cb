package change_test

import (
	"fmt"
	"strings"
	"testing"

	"boottop.example/practice/domain/measure/change"
	"boottop.example/practice/domain/measure/repeat"
)

// What the next visits could show, by how they are made: printed, and in the order that
// the physics of it wants. More placements, visits and dry places never show less of a
// place; looking at more places asks more of each and less of the hull.
func TestOutlookByVisitsPlacesAndPlacements(t *testing.T) {
	t.Parallel()
	c := change.Components{
		Repeatability: repeat.Deviation{S: 1.1, DF: 40}, Like: repeat.Deviation{S: 1.6, DF: 60}, LikeRep: 0.9,
		Left: repeat.Deviation{S: 0.5, DF: 8},
	}
	at := func(places, placements, visits, dry int) change.Outlook {
		t.Helper()
		o, err := change.Ahead(c, change.Plan{
			Places: places, Dry: dry, KBefore: placements, KAfter: placements, VisitsBefore: 1, VisitsAfter: visits, Contrast: 20, BlockDistance: 50,
		}, 0.8, 0.05)
		if err != nil {
			t.Fatal(err)
		}
		return o
	}
	for _, places := range []int{12, 60, 300} {
		for _, placements := range []int{1, 3, 5} {
			var row []string
			for _, visits := range []int{1, 2, 4} {
				o := at(places, placements, visits, 8)
				row = append(row, fmt.Sprintf("%d visits: place %4.1f, alone %4.1f, hull %3.1f", visits, o.Place.True, o.Alone.True, o.Hull.True))
			}
			t.Logf("%3d places, %d placements; true change shown in 8 of 10, units: %s", places, placements, strings.Join(row, " | "))
		}
	}
	const slack = 1 + 1e-9
	for _, places := range []int{12, 60, 300} {
		for k := 1; k < repeat.MostPlacements; k++ {
			for visits := 1; visits < 5; visits++ {
				o := at(places, k, visits, 8)
				if more := at(places, k+1, visits, 8); more.Place.Shown > o.Place.Shown*slack || more.Hull.True > o.Hull.True*slack {
					t.Errorf("%d places, %d placements: %+v after %+v", places, k+1, more, o)
				}
				if more := at(places, k, visits+1, 8); more.Place.Shown > o.Place.Shown*slack || more.Hull.True > o.Hull.True*slack {
					t.Errorf("%d places, %d visits: %+v after %+v", places, visits+1, more, o)
				}
				if more := at(places, k, visits, 12); more.Place.Shown > o.Place.Shown*slack || more.Hull.True > o.Hull.True*slack {
					t.Errorf("%d places, 12 dry ones: %+v after %+v", places, more, o)
				}
				if more := at(2*places, k, visits, 8); more.Place.Shown < o.Place.Shown/slack || more.Alone.Shown > o.Alone.Shown*slack || more.Hull.Shown > o.Hull.Shown*slack {
					t.Errorf("%d places: %+v after %+v", 2*places, more, o)
				}
				if o.Place.Shown < o.Alone.Shown || o.Place.Shown < o.Floor/slack || o.Hull.Shown < o.BaselineFloor/slack || o.Place.True < o.Place.Shown {
					t.Errorf("%+v", o)
				}
			}
		}
	}
}
