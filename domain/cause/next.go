package cause

import (
	"cmp"
	"slices"
)

// Choice is a check that has not been done and how well it would split what is live.
type Choice struct {
	Check Check
	Power float64 // share of the other live causes that it is expected to set apart, 0 to 1
	Tells []Code  // live causes that an outcome speaks for or against
}

// next ranks the checks by the power with which they split what is live; equal power
// goes to less harm, then to fewer minutes.
func next(live []Entry, open []Check) []Choice {
	var out []Choice
	for _, c := range open {
		choice := Choice{Check: c, Power: power(outcomes()[c.Code], live)}
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

// power takes each live cause in turn for the true one, lets the check show what it then
// would, and counts the other live causes that this sets apart: wholly where it favours
// the one and speaks against the other, half where it speaks of one only. A cause weighs
// the more, the more families point towards it. No data say how often a check shows
// what it should; the measure is this project's own.
func power(outcomes []Sign, live []Entry) float64 {
	sum, all := 0.0, 0.0
	for _, a := range live {
		shown := showing(outcomes, a.Cause.Code, live)
		set, others := 0.0, 0.0
		for _, b := range live {
			if a.Cause.Code == b.Cause.Code {
				continue
			}
			others += weight(b)
			for _, o := range shown {
				apart := says(o, a.Cause.Code) - says(o, b.Cause.Code)
				set += weight(b) * float64(max(apart, 0)) / 2 / float64(len(shown))
			}
		}
		if all += weight(a); others > 0 {
			sum += weight(a) * set / others
		}
	}
	if all == 0 {
		return 0
	}
	return sum / all
}

// showing lists what a check would show were this the cause: the outcomes that favour
// it; without one, those that favour no live cause; without those, all that do not
// speak against it.
func showing(outcomes []Sign, of Code, live []Entry) []Sign {
	for _, fits := range []func(Sign) bool{
		func(o Sign) bool { return says(o, of) == favours },
		func(o Sign) bool {
			return says(o, of) == nothing && !slices.ContainsFunc(live, func(e Entry) bool { return says(o, e.Cause.Code) == favours })
		},
		func(o Sign) bool { return says(o, of) == nothing },
	} {
		var out []Sign
		for _, o := range outcomes {
			if fits(o) {
				out = append(out, o)
			}
		}
		if len(out) > 0 {
			return out
		}
	}
	return nil
}

// weight of a cause among the live ones. Own choice, no source.
func weight(e Entry) float64 { return 1 + float64(len(e.Families)) }
