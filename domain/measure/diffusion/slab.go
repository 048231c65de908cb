package diffusion

import (
	"math"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/unit"
)

// Faces tells which faces of a plane wall water can pass.
type Faces int

// A wall dries from its outer face with the inner one sealed, or from both.
const (
	OneFace Faces = iota + 1
	BothFaces
)

func (f Faces) check() error {
	if f != OneFace && f != BothFaces {
		return &measure.ArgumentError{Argument: "faces", Why: "must be OneFace or BothFaces"}
	}
	return nil
}

// sheet gives the thickness of the sheet, open on both faces, that behaves like
// this wall: a sealed face is a plane of symmetry, Crank 1975 §4.3.
func (f Faces) sheet(thickness float64) float64 {
	if f == OneFace {
		return 2 * thickness
	}
	return thickness
}

// seam is the Fourier number D t/h² at which the short-time form gives way to the
// series. Both are exact; at 0.05 five terms of either reach the last bit, so there
// is no step between them (a test says so).
const seam = 0.05

// Lost gives the share of its water that a uniform plane wall has lost, or the
// share of its final uptake it has gained, when its faces are held at a constant
// level since time zero:
//
//	d          diffusivity at the wall's temperature, 1e-20 to 1e-6 m²/s
//	thickness  0.001 to 10 000 mm
//	t          0 to 1 000 000 days
//	faces      which of them are open
//
// 0 at once, 1 in the end. Crank, The Mathematics of Diffusion, 2nd ed. 1975,
// eq. 4.18 (series) and 4.20 (short times); equation numbers from memory.
//
// Errors: *measure.ArgumentError for an argument out of range.
func Lost(d unit.Diffusivity, thickness unit.Millimetres, t unit.Days, faces Faces) (float64, error) {
	if err := slabArguments(d, thickness, t, faces); err != nil {
		return 0, err
	}
	return lost(fourier(d, faces.sheet(thickness.Metres()), t)), nil
}

func slabArguments(d unit.Diffusivity, thickness unit.Millimetres, t unit.Days, faces Faces) error {
	if err := diffusivity("d", d); err != nil {
		return err
	}
	if err := thick("thickness", thickness); err != nil {
		return err
	}
	if err := elapsed("t", t); err != nil {
		return err
	}
	return faces.check()
}

// fourier is D t/h², h in metres.
func fourier(d unit.Diffusivity, h float64, t unit.Days) float64 {
	return float64(d) * t.Seconds() / (h * h)
}

// lost is M/M∞ of a sheet open on both faces.
func lost(f float64) float64 {
	switch {
	case f <= 0:
		return 0
	case f < seam:
		return lostShort(f)
	default:
		return lostSeries(f)
	}
}

// lostSeries is Crank eq. 4.18 with h = 2l.
func lostSeries(f float64) float64 {
	var s float64
	for n := range 8 {
		k := float64(2*n + 1)
		s += math.Exp(-k*k*math.Pi*math.Pi*f) / (k * k)
	}
	return 1 - 8/(math.Pi*math.Pi)*s
}

// lostShort is Crank eq. 4.20 with h = 2l:
// 4√F [π^−½ + 2 Σ (−1)ⁿ ierfc(n/(2√F))].
func lostShort(f float64) float64 {
	root := math.Sqrt(f)
	s := 1 / math.Sqrt(math.Pi)
	sign := -2.0
	for n := 1.0; n <= 5; n++ {
		s += sign * ierfc(n/(2*root))
		sign = -sign
	}
	return 4 * root * s
}

// ierfc is the first integral of erfc, Crank table 2.1.
func ierfc(x float64) float64 {
	if x > 26 { // below the smallest float64 from here on
		return 0
	}
	return math.Exp(-x*x)/math.Sqrt(math.Pi) - x*math.Erfc(x)
}

// Level gives what is left at a depth below the open outer face of a wall that was
// uniformly full (1) and whose open faces are held at zero, 0 to 1. Arguments as
// in Lost; depth from 0 to thickness, mm. For uptake the profile is 1 − Level.
// Crank 1975 eq. 4.17 (series) and 4.16, its form in images, for short times.
//
// Errors: *measure.ArgumentError for an argument out of range or a depth beyond the
// wall.
func Level(depth unit.Millimetres, d unit.Diffusivity, thickness unit.Millimetres, t unit.Days, faces Faces) (float64, error) {
	if err := slabArguments(d, thickness, t, faces); err != nil {
		return 0, err
	}
	if err := notNegative("depth", float64(depth)); err != nil {
		return 0, err
	}
	if depth > thickness {
		return 0, &measure.ArgumentError{Argument: "depth", Why: "must not exceed the thickness"}
	}
	h := faces.sheet(thickness.Metres())
	return level(depth.Metres()/h, fourier(d, h, t)), nil
}

// level takes the depth as a share z of the sheet.
func level(z, f float64) float64 {
	if f <= 0 {
		return 1
	}
	if f < seam {
		return levelImages(z, f)
	}
	var s float64
	for n := range 8 {
		k := float64(2*n + 1)
		s += math.Sin(k*math.Pi*z) / k * math.Exp(-k*k*math.Pi*math.Pi*f)
	}
	return math.Max(0, 4/math.Pi*s)
}

func levelImages(z, f float64) float64 {
	scale := 2 * math.Sqrt(f)
	s, sign := 1.0, -1.0
	for n := range 6 {
		m := float64(n)
		s += sign * (math.Erfc((m+z)/scale) + math.Erfc((m+1-z)/scale))
		sign = -sign
	}
	return math.Min(1, math.Max(0, s))
}

// LevelDeep is Level for a wall too thick for its inner face to matter yet:
// erf(x/(2√(D t))), Crank 1975 eq. 2.45 taken to the desorption of a half-space.
//
// Errors: *measure.ArgumentError for an argument out of range.
func LevelDeep(depth unit.Millimetres, d unit.Diffusivity, t unit.Days) (float64, error) {
	if err := slabArguments(d, 1, t, OneFace); err != nil {
		return 0, err
	}
	if err := notNegative("depth", float64(depth)); err != nil {
		return 0, err
	}
	if t == 0 {
		return 1, nil
	}
	return math.Erf(depth.Metres() / (2 * math.Sqrt(float64(d)*t.Seconds()))), nil
}

// TimeToLose gives the days in which a uniform wall loses a share of what it will
// lose in the end, 0 ≤ part < 1; arguments as in Lost. The half time of a sheet is
// 0.0491827 h²/D (Crank §10.6 gives a closed form good to 1e-4).
//
// Errors: *measure.ArgumentError for an argument out of range; part = 1 is never quite
// reached.
func TimeToLose(part float64, d unit.Diffusivity, thickness unit.Millimetres, faces Faces) (unit.Days, error) {
	if err := slabArguments(d, thickness, 0, faces); err != nil {
		return 0, err
	}
	if err := share("part", part); err != nil {
		return 0, err
	}
	if part == 1 {
		return 0, &measure.ArgumentError{Argument: "part", Why: "must be below 1: the end is never quite reached"}
	}
	h := faces.sheet(thickness.Metres())
	return unit.Days(fourierFor(part) * h / float64(d) * h / unit.SecondsPerDay), nil
}

// fourierFor inverts lost by bisection: it is strictly rising, and 4 is beyond the
// last float64 below 1.
func fourierFor(part float64) float64 {
	if part == 0 {
		return 0
	}
	// Early on M/M∞ = 4√(F/π) exactly enough; it also keeps tiny parts accurate.
	if f := part * part * math.Pi / 16; f < 1e-3 {
		return f
	}
	low, high := 1e-4, 4.0
	for range 80 {
		mid := (low + high) / 2
		if lost(mid) < part {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}
