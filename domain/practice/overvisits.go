package practice

import (
	"boottop.example/practice/domain/measure/change"
	"boottop.example/practice/domain/measure/course"
)

// OverVisits is how many visits a course takes: what a straight line through so many,
// equally spaced, must change by to be told. Computed from those assumptions alone; no
// hull data stand behind it.
type OverVisits struct {
	Visit *float64 // standard deviation of one visit's level, scale units; nil until measured
	Rows  []VisitsRow
}

// VisitsRow is a line of the table, in standard deviations of one visit's level.
type VisitsRow struct {
	Visits int
	change.Reach
	LeastP float64 // the smallest two-sided p that a rank trend of so many visits can reach
}

// countsOfVisits are those of the trade notes, section 6.
var countsOfVisits = []int{3, 4, 5, 6, 8, 10}

// overVisits makes the table, and says what it comes to in scale units where the practice
// has measured what its visits scatter by.
func (h *History) overVisits() (OverVisits, error) {
	var out OverVisits
	if h.Ahead != nil {
		out.Visit = &h.Ahead.Visit
	}
	for _, n := range countsOfVisits {
		reach, err := change.OverVisits(n, aheadPower, gateRate)
		if err != nil {
			return OverVisits{}, err
		}
		out.Rows = append(out.Rows, VisitsRow{Visits: n, Reach: reach, LeastP: course.LeastP(n)})
	}
	return out, nil
}
