package cause

import (
	"cmp"
	"slices"
)

// Choice is a check that has not been done and how well it would split what is live.
type Choice struct {
	Check Check
	Power float64 // share of pairs of live causes that it is expected to set apart, 0 to 1
	Tells []Code  // live causes that an outcome speaks for or against
}

// next ranks the checks by the share of pairs of live causes that they would set apart,
// the mean over their outcomes, each outcome counting alike since no data say which is
// commoner. A cause weighs the more, the more families point towards it. A pair is set apart by an outcome that favours one and speaks against the
// other; an outcome that speaks of one only counts half. Equal power goes to less
// harm, then to fewer minutes.
func next(live []Entry, open []Check) []Choice {
	var out []Choice
	for _, c := range open {
		choice := Choice{Check: c, Power: power(c.Outcomes(), live)}
		for _, e := range live {
			if bears(c, e.Cause.Code) {
				choice.Tells = append(choice.Tells, e.Cause.Code)
			}
		}
		if choice.Power > 0 {
			out = append(out, choice)
		}
	}
	slices.SortStableFunc(out, func(a, b Choice) int {
		return cmp.Or(cmp.Compare(b.Power, a.Power), cmp.Compare(a.Check.Harm, b.Check.Harm), cmp.Compare(a.Check.Minutes, b.Check.Minutes))
	})
	return out
}

func power(outcomes []Sign, live []Entry) float64 {
	set, all := 0.0, 0.0
	for i, a := range live {
		for _, b := range live[i+1:] {
			w := weight(a) * weight(b)
			all += w
			for _, o := range outcomes {
				apart := says(o, a.Cause.Code) - says(o, b.Cause.Code)
				set += w * float64(max(apart, -apart)) / 2 / float64(len(outcomes))
			}
		}
	}
	if all == 0 {
		return 0
	}
	return set / all
}

// weight of a cause in the pairs it makes. Own choice, no source.
func weight(e Entry) float64 { return 1 + float64(len(e.Families)) }
