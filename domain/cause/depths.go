package cause

import (
	"math"

	"boottop.example/practice/domain/measure/diffusion"
	"boottop.example/practice/domain/measure/unit"
)

// Pattern is how a place read deep- and shallow-sensing went between two visits. It is
// a pattern and no calibration: instruments are not linear and their depth weights are
// not known, so each is held against its own baseline and its own history only.
type Pattern string

// The patterns (trade notes, "What two instruments of different depth would see").
const (
	CannotTell     Pattern = "cannot-tell"
	SurfaceJumped  Pattern = "surface-water"    // shallow rose, deep moved far less
	NormalDrying   Pattern = "normal-drying"    // shallow fell first, deep follows
	Stalled        Pattern = "stalled"          // both flat where the band says they should have moved
	BehindOrStored Pattern = "something-behind" // deep stays while neighbours and mirror fall
	NothingShown   Pattern = "nothing-shown"    // moved too little, and nothing was due
)

// Moved is what one instrument's contrast did at a place between two visits, in its own
// scale units: a fall is negative. Limit is what two readings of one state may differ by.
type Moved struct {
	By, Limit float64
	Around    float64 // median change over the rest of the underbody, same instrument
	Due       float64 // least fall that the diffusion band foresees, as a positive figure
}

func (m Moved) fell() bool { return m.By < -m.Limit }
func (m Moved) rose() bool { return m.By > m.Limit }
func (m Moved) flat() bool { return math.Abs(m.By) <= m.Limit }

// stays tells whether a place kept its contrast while those around it fell, by more
// than two readings may differ.
func (m Moved) stays() bool { return m.Around < -m.Limit && m.By-m.Around > m.Limit && !m.fell() }

// Depths names the pattern of a pair.
func Depths(deep, shallow Moved) Pattern {
	for _, m := range []Moved{deep, shallow} {
		if math.IsNaN(m.By) || math.IsNaN(m.Limit) || math.IsInf(m.Limit, 0) || m.Limit <= 0 {
			return CannotTell
		}
	}
	switch {
	case shallow.rose() && shallow.By-shallow.Limit > deep.By && !deep.rose():
		return SurfaceJumped
	case deep.stays() && (shallow.fell() || shallow.Around < -shallow.Limit):
		return BehindOrStored
	case shallow.fell():
		return NormalDrying
	case deep.flat() && shallow.flat() && shallow.Due > shallow.Limit:
		return Stalled
	case deep.fell():
		return NormalDrying
	default:
		return NothingShown
	}
}

// Seen is what a wall of laminate would show to instruments of three depths after some
// days: share of the starting water signal, and the true mean.
type Seen struct {
	Days                        unit.Days
	Shallow, Middle, Deep, True float64
}

// The depths of the worked table, mm: weights exp(−x/depth).
const (
	ShallowDepth unit.Millimetres = 2
	MiddleDepth  unit.Millimetres = 4
	DeepDepth    unit.Millimetres = 8
)

// SeenAfter computes what is left of the starting signal after each of the days, in
// ascending order: 10 mm skin, inner face sealed, wet through at the start, air of 20 °C
// without water in it.
//
//	d  diffusivity at 20 °C, m²/s
//
// Errors: those of the diffusion package, for a d it cannot take.
func SeenAfter(d unit.Diffusivity, days ...unit.Days) ([]Seen, error) {
	w, err := diffusion.NewWall(diffusion.Layer{Thickness: 10, D: d})
	if err != nil {
		return nil, err
	}
	level, err := w.Uniform(1)
	if err != nil {
		return nil, err
	}
	out, at := make([]Seen, len(days)), unit.Days(0)
	for k, day := range days {
		if day > at {
			level, err = w.Expose(level, []diffusion.Exposure{{Days: day - at, At: 20, Inside: diffusion.Sealed()}})
			if err != nil {
				return nil, err
			}
			at = day
		}
		if out[k], err = seen(w, level); err != nil {
			return nil, err
		}
		out[k].Days = day
	}
	return out, nil
}

func seen(w *diffusion.Wall, p diffusion.Profile) (s Seen, err error) {
	for _, x := range []struct {
		into  *float64
		depth unit.Millimetres
	}{{&s.Shallow, ShallowDepth}, {&s.Middle, MiddleDepth}, {&s.Deep, DeepDepth}} {
		if *x.into, err = w.Seen(p, x.depth); err != nil {
			return Seen{}, err
		}
	}
	s.True, err = w.Mean(p)
	return s, err
}
