package repeat

import (
	"fmt"
	"math"

	"boottop.example/practice/domain/measure"
)

// Kit is a day's measuring of the practice by itself: several spots, wet to dry,
// each read several times by each of several people.
type Kit struct {
	Spots, People int
	Repeatability Deviation // s_r, one hand
	Person        float64   // s of the people's own levels; zero where it came out negative
	Taste         float64   // s of person × spot: people differ more at some spots than at others
	// Reproducibility is s_R² = s_person² + s_person×spot² + s_r²: one reading each by
	// two people.
	Reproducibility Deviation
}

// OfKit takes a crossed layout apart by the analysis of unweighted means, so that
// unequal numbers of repeats do no harm: Searle, Casella & McCulloch, Variance
// Components (1992) §5.2 (from memory; unbiasedness and coverage checked by
// simulation). Interval of s_R as in [Of].
//
//	spots  spots[s][p] are the readings of spot s by person p: at least 2 spots and
//	       2 people, the same people everywhere, no empty cell, some cell read twice
//	level  coverage asked for
//
// A day kit of 10 spots × 3 people × 3 repeats is usual (common practice).
//
// Errors: *measure.ArgumentError for spots or level.
func OfKit(spots [][][]float64, level float64) (Kit, error) {
	cells, err := cellsOf(spots)
	if err != nil {
		return Kit{}, err
	}
	if err := measure.Level(level); err != nil {
		return Kit{}, err
	}
	ss, df, err := within("spots", cells)
	if err != nil {
		return Kit{}, err
	}
	if df == 0 {
		return Kit{}, &measure.ArgumentError{Argument: "spots", Why: "must hold a cell that was read twice"}
	}
	k := Kit{Spots: len(spots), People: len(spots[0])}
	s, p := float64(k.Spots), float64(k.People)
	msPerson, msCross := crossed(cells, k.Spots, k.People)
	msw := ss / float64(df)
	var inverse float64
	for _, c := range cells {
		inverse += 1 / float64(len(c)) / (s * p)
	}
	person, cross := (msPerson-msCross)/s, msCross-msw*inverse
	k.Repeatability = deviation(math.Sqrt(msw), df, level)
	k.Person, k.Taste = math.Sqrt(max(0, person)), math.Sqrt(max(0, cross))
	k.Reproducibility = combined(math.Sqrt(k.Person*k.Person+k.Taste*k.Taste+msw), []part{
		{1 / s, msPerson, p - 1}, {1 - 1/s, msCross, (s - 1) * (p - 1)}, {1 - inverse, msw, float64(df)},
	}, level)
	if person < 0 || cross < 0 {
		k.Reproducibility.Estimate.Notes = append(k.Reproducibility.Estimate.Notes, negativeBetween())
	}
	return k, nil
}

func cellsOf(spots [][][]float64) ([][]float64, error) {
	if len(spots) < 2 || len(spots[0]) < 2 {
		return nil, &measure.ArgumentError{Argument: "spots", Why: "must be at least two, read by at least two people"}
	}
	var cells [][]float64
	for i, s := range spots {
		if len(s) != len(spots[0]) {
			return nil, &measure.ArgumentError{Argument: fmt.Sprintf("spots[%d]", i), Why: "must be read by the same people as the first"}
		}
		for j, c := range s {
			name := fmt.Sprintf("spots[%d][%d]", i, j)
			if len(c) == 0 {
				return nil, &measure.ArgumentError{Argument: name, Why: "must hold a reading"}
			}
			if err := measure.Finite(name, c...); err != nil {
				return nil, err
			}
			cells = append(cells, c)
		}
	}
	return cells, nil
}

// crossed gives the mean squares of person and of person × spot on the cell means;
// of a cell mean, not multiplied by the repeats.
func crossed(cells [][]float64, spots, people int) (msPerson, msCross float64) {
	mean := make([]float64, len(cells))
	bySpot, byPerson, all := make([]float64, spots), make([]float64, people), 0.0
	for i, c := range cells {
		_, mean[i] = squares(c)
		bySpot[i/people] += mean[i] / float64(people)
		byPerson[i%people] += mean[i] / float64(spots)
		all += mean[i] / float64(len(cells))
	}
	for _, m := range byPerson {
		msPerson += float64(spots) * (m - all) * (m - all) / float64(people-1)
	}
	for i, m := range mean {
		d := m - bySpot[i/people] - byPerson[i%people] + all
		msCross += d * d / float64((spots-1)*(people-1))
	}
	return msPerson, msCross
}
