package course

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"boottop.example/practice/domain/measure"
)

// Drying is a fitted drying curve. Intervals are profile intervals: all values at which
// the best curve through them is not significantly worse than the best of all.
type Drying struct {
	Shape    Shape
	Start    measure.Estimate // value at time 0
	Plateau  measure.Estimate // value it tends to; RootTime has none: Level is 0
	Constant measure.Estimate // time constant θ; RootTime has none: Level is 0
	Half     measure.Estimate // time in which half of the fall is done, from θ
	RSS      float64          // residual sum of squares
	Sigma    float64          // standard deviation of a value: as given, or √(RSS/DF)
	DF       int
	N        int
	Notes    []measure.Note
	Assumes  []string

	prof *profile
}

// Has tells whether the fit carries a note of this code.
func (d Drying) Has(code string) bool {
	for _, n := range d.Notes {
		if n.Code == code {
			return true
		}
	}
	return false
}

// FitDrying fits one shape.
//
//	t      n times ≥ 0 in days since drying began; two more than the shape has parameters,
//	       and as many different ones as it has parameters
//	y      n values: contrasts of a zone, or a place, in scale units
//	noise  standard deviation of a value from other evidence, 0 where there is none; then
//	       it is estimated from the residuals
//	level  coverage of the intervals
//
// Errors: times below zero, too few or too alike, values not finite, an unknown shape.
func FitDrying(t, y []float64, shape Shape, noise, level float64) (Drying, error) {
	if err := dryingArguments(t, y, shape, noise, level); err != nil {
		return Drying{}, err
	}
	p := newProfile(t, y, shape)
	d := Drying{
		Shape: shape, N: len(t), DF: len(t) - shape.parameters(), RSS: p.best.rss, prof: p,
		Assumes: []string{"values independent of one another, with like scatter", "one steady drying course: the same air, nothing washed, heated or opened between"},
	}
	d.scatter(noise, level)
	d.Start = p.at(0, level)
	if shape.timed() {
		d.Plateau = p.plateau(level)
		d.constants(level)
	}
	d.remark()
	return d, nil
}

func dryingArguments(t, y []float64, shape Shape, noise, level float64) error {
	if shape != RootTime && shape != Slab && shape != Exponential {
		return &measure.ArgumentError{Argument: "shape", Why: "must be RootTime, Slab or Exponential"}
	}
	if err := series(t, y, shape.least()); err != nil {
		return err
	}
	if err := measure.Finite("noise", noise); err != nil {
		return err
	}
	if noise < 0 {
		return &measure.ArgumentError{Argument: "noise", Why: "must not be below zero"}
	}
	if slices.Min(t) < 0 {
		return &measure.ArgumentError{Argument: "t", Why: "must not be below zero: count from the day drying began"}
	}
	different := len(groups(t))
	if different < shape.parameters() {
		return &measure.ArgumentError{Argument: "t", Why: fmt.Sprintf("must hold at least %d different times", shape.parameters())}
	}
	return measure.Level(level)
}

// scatter sets sigma and the sum of squares up to which a curve is not significantly
// worse: Bates and Watts, Nonlinear Regression Analysis, 1988, §6.1.
func (d *Drying) scatter(noise, level float64) {
	if noise > 0 {
		z := distuv.UnitNormal.Quantile((1 + level) / 2)
		d.Sigma = noise
		d.prof.accept(d.RSS + z*z*noise*noise)
		chi := distuv.ChiSquared{K: float64(d.DF)}
		if chi.Survival(d.RSS/(noise*noise)) < 0.01 {
			d.Notes = append(d.Notes, measure.Note{Code: "poor-fit", Text: "The values scatter about the curve more than repeat readings do: another shape, or something changed on the way."})
			d.Sigma = math.Sqrt(d.RSS / float64(d.DF))
			d.prof.accept(d.studentLimit(level))
		}
		return
	}
	d.Sigma = math.Sqrt(d.RSS / float64(d.DF))
	d.prof.accept(d.studentLimit(level))
	if d.DF < 12 {
		d.Notes = append(d.Notes, measure.Note{Code: "rests-on-normal", Text: fmt.Sprintf("With %s the intervals rest on scatter that is alike up and down; where it is skewed, one of 95 %% for the start covers about 91 %% at six visits and 93 %% at twelve.", visits(d.N))})
	}
}

func (d *Drying) studentLimit(level float64) float64 {
	q := distuv.StudentsT{Nu: float64(d.DF), Sigma: 1}.Quantile((1 + level) / 2)
	// A fit without residuals still has rounding: keep the limit above it.
	return d.RSS*(1+q*q/float64(d.DF)) + d.prof.rounding
}

// halfway is where half of the fall is done, in units of θ.
func (s Shape) halfway() float64 {
	if s == Slab {
		return 0.1967346701 // left(tau) = 1/2
	}
	return math.Ln2
}

func (d *Drying) constants(level float64) {
	lo, hi := d.prof.from, d.prof.to
	if d.prof.straight() {
		d.Constant = measure.Estimate{Value: math.Inf(1), Lower: lo, Upper: hi, Level: level, N: d.N}
		d.Half = measure.Estimate{Value: math.Inf(1), Lower: d.Shape.halfway() * lo, Upper: hi, Level: level, N: d.N}
		d.Plateau.Value = math.Copysign(math.Inf(1), -d.prof.best.b)
		return
	}
	d.Constant = measure.Estimate{Value: d.prof.best.theta, Lower: lo, Upper: hi, Level: level, N: d.N}
	h := d.Shape.halfway()
	d.Half = measure.Estimate{Value: h * d.Constant.Value, Lower: h * lo, Upper: h * hi, Level: level, N: d.N}
}

func (d *Drying) remark() {
	if d.Shape.timed() && math.IsInf(d.Constant.Upper, 1) {
		d.Notes = append(d.Notes, measure.Note{Code: "no-plateau-yet", Text: "The values do not yet bend enough to say where they will end: the plateau is open."})
	}
	fall := d.prof.best.b
	if !d.Shape.timed() {
		fall = -fall
	}
	if fall < 0 {
		d.Notes = append(d.Notes, measure.Note{Code: "rising", Text: "The values rise: this is no drying course."})
	}
}

// At gives the curve's height at a time t ≥ 0, with its interval (for the curve, not for
// a reading).
//
// Errors: *measure.ArgumentError for t or level.
func (d Drying) At(t, level float64) (measure.Estimate, error) {
	if err := moment("t", t); err != nil {
		return measure.Estimate{}, err
	}
	if err := measure.Level(level); err != nil {
		return measure.Estimate{}, err
	}
	return d.prof.with(d, level).at(t, level), nil
}

// FallBetween gives how far the curve falls from one time to a later one.
//
// Errors: *measure.ArgumentError for from, to or level.
func (d Drying) FallBetween(from, to, level float64) (measure.Estimate, error) {
	if err := moment("from", from); err != nil {
		return measure.Estimate{}, err
	}
	if err := moment("to", to); err != nil {
		return measure.Estimate{}, err
	}
	if to < from {
		return measure.Estimate{}, &measure.ArgumentError{Argument: "to", Why: "must not lie before from"}
	}
	if err := measure.Level(level); err != nil {
		return measure.Estimate{}, err
	}
	return d.prof.with(d, level).fall(from, to, level), nil
}

func moment(argument string, t float64) error {
	if err := sized(argument, []float64{t}); err != nil {
		return err
	}
	if t < 0 {
		return &measure.ArgumentError{Argument: argument, Why: "must not be below zero"}
	}
	return nil
}
