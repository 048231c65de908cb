package cause

import (
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

// Went is which way a figure went between two visits, as the gate answers.
type Went int

// The ways. The zero Went promises nothing.
const (
	Untold Went = iota // the gate cannot tell
	Flat               // no change shown
	Rose
	Fell
)

// Moved is what one instrument's contrast did at a place between two visits, in its own
// scale units: a fall is negative.
type Moved struct {
	Went       Went
	By         float64
	Limit      float64 // least change that would have shown there
	Around     float64 // mean change over the underbody, same instrument
	AroundWent Went
	Due        float64 // least fall that the diffusion band foresees, as a positive figure
}

// stays tells whether a place kept its contrast while those around it fell, by more than
// would have shown.
func (m Moved) stays() bool {
	return m.AroundWent == Fell && m.Went != Fell && m.By-m.Around > m.Limit
}

// Depths names the pattern of a pair.
func Depths(deep, shallow Moved) Pattern {
	switch {
	case deep.Went == Untold || shallow.Went == Untold:
		return CannotTell
	case shallow.Went == Rose && shallow.By-shallow.Limit > deep.By && deep.Went != Rose:
		return SurfaceJumped
	case deep.stays() && (shallow.Went == Fell || shallow.AroundWent == Fell):
		return BehindOrStored
	case shallow.Went == Fell:
		return NormalDrying
	case deep.Went == Flat && shallow.Went == Flat && shallow.Due > shallow.Limit:
		return Stalled
	case deep.Went == Fell:
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
	w, level, err := soaked(d)
	if err != nil {
		return nil, err
	}
	return w.drying(level, days)
}

// SeenAfterRain computes the same of a wall that dried, was wet outside for some days,
// and dried again: what is left after each of the days since, in ascending order.
//
// Errors: those of the diffusion package, for a d or days it cannot take.
func SeenAfterRain(d unit.Diffusivity, dried, rained unit.Days, since ...unit.Days) ([]Seen, error) {
	w, level, err := soaked(d)
	if err == nil {
		level, err = w.Expose(level, []diffusion.Exposure{dryAir(dried), {Days: rained, At: 20, Outside: diffusion.Wet(), Inside: diffusion.Sealed()}})
	}
	if err != nil {
		return nil, err
	}
	return w.drying(level, since)
}

// worked is the wall of the worked table.
type worked struct{ *diffusion.Wall }

// soaked gives the wall wet through.
func soaked(d unit.Diffusivity) (worked, diffusion.Profile, error) {
	w, err := diffusion.NewWall(diffusion.Layer{Thickness: 10, D: d})
	if err != nil {
		return worked{}, nil, err
	}
	level, err := w.Uniform(1)
	return worked{w}, level, err
}

func dryAir(days unit.Days) diffusion.Exposure {
	return diffusion.Exposure{Days: days, At: 20, Inside: diffusion.Sealed()}
}

func (w worked) drying(level diffusion.Profile, days []unit.Days) (out []Seen, err error) {
	at := unit.Days(0)
	for _, day := range days {
		if day > at {
			if level, err = w.Expose(level, []diffusion.Exposure{dryAir(day - at)}); err != nil {
				return nil, err
			}
			at = day
		}
		s, err := w.seen(level)
		if err != nil {
			return nil, err
		}
		s.Days = day
		out = append(out, s)
	}
	return out, nil
}

func (w worked) seen(p diffusion.Profile) (s Seen, err error) {
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
