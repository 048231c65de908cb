package repeat

import (
	"fmt"

	"gonum.org/v1/gonum/stat/distuv"

	"boottop.example/practice/domain/measure"
)

// Session is one measuring of s_r in a row of them, by the same person or with the
// same instrument.
type Session struct {
	Deviation Deviation
	Ratio     float64 // s² of this session over that of all others together
	P         float64 // two-sided chance of so odd a ratio if nothing differs
	Odd       bool    // P below alpha shared out over the sessions
}

// Course sets each measuring of s_r against all the others: has a hand or an
// instrument become less, or more, repeatable?
//
//	sessions  at least 2, in order of time, each as in [OfPlacements]
//	alpha     chance of any false alarm over all sessions, e.g. 0.05
//
// Each ratio of variances is an F; alpha is shared out evenly (Bonferroni). The
// second result pools all sessions.
//
// Errors: measure.ErrEmpty where a session holds no re-placement; *measure.ArgumentError.
func Course(sessions [][][]float64, step, alpha float64) ([]Session, Deviation, error) {
	if len(sessions) < 2 {
		return nil, Deviation{}, &measure.ArgumentError{Argument: "sessions", Why: "must be at least two"}
	}
	if !(alpha > 0 && alpha < 1) {
		return nil, Deviation{}, &measure.ArgumentError{Argument: "alpha", Why: "must lie between 0 and 1"}
	}
	var all [][]float64
	out := make([]Session, len(sessions))
	for i, s := range sessions {
		d, err := OfPlacements(s, step, 0.95)
		if err != nil {
			return nil, Deviation{}, fmt.Errorf("sessions[%d]: %w", i, err)
		}
		out[i].Deviation, all = d, append(all, s...)
	}
	pooled, err := OfPlacements(all, step, 0.95)
	if err != nil {
		return nil, Deviation{}, err
	}
	for i := range out {
		out[i].judge(out, i, alpha/float64(len(out)))
	}
	return out, pooled, nil
}

func (s *Session) judge(all []Session, self int, alpha float64) {
	var square float64
	var df int
	for i, o := range all {
		if i != self {
			square, df = square+o.Deviation.S*o.Deviation.S*float64(o.Deviation.DF), df+o.Deviation.DF
		}
	}
	s.P = 1
	if square == 0 {
		return
	}
	s.Ratio = s.Deviation.S * s.Deviation.S / (square / float64(df))
	f := distuv.F{D1: float64(s.Deviation.DF), D2: float64(df)}
	s.P = min(1, 2*min(f.CDF(s.Ratio), f.Survival(s.Ratio)))
	s.Odd = s.P < alpha
}
