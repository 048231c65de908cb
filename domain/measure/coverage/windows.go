package coverage

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/unit"
)

// Point is a spot on the unrolled skin.
type Point struct{ Along, Down unit.Millimetres }

// Window is a rectangle that was bared or gone over, from its lower corner; with
// Width and Height of 0 it is a single reading or tap.
type Window struct {
	At            Point
	Width, Height unit.Millimetres // along and down
}

// Draws of a simulation when none are asked for: an error of at most 0.007.
const Draws = 20_000

// Chance gives the probability that at least one of the windows meets a round flaw
// of this diameter whose middle lies anywhere in the region with equal chance.
//
// Where the region is an upright rectangle and the windows, each widened by half
// the flaw, lie in it clear of one another, the answer is exact: the widened areas
// over the region's. Elsewhere it is simulated, with draws flaws from this seed
// (0 draws stand for Draws), and Lower and Upper are the exact binomial interval of
// coverage Level for that error alone.
//
// Errors: no windows, an outline that is none, sizes out of range.
func Chance(region Outline, windows []Window, flaw unit.Millimetres, draws int, seed uint64) (measure.Estimate, error) {
	if err := size("flaw", flaw); err != nil {
		return measure.Estimate{}, err
	}
	n, err := checkSearch(region, windows, draws)
	if err != nil {
		return measure.Estimate{}, err
	}
	assumes := []string{"a round flaw, its middle anywhere in the region with equal chance", "flaws that cluster are missed more often"}
	if p, ok := apart(region, windows, float64(flaw)/2); ok {
		return measure.Estimate{Value: p, Lower: p, Upper: p, N: len(windows), Assumes: assumes}, nil
	}
	ds, err := distances(region, windows, n, seed)
	if err != nil {
		return measure.Estimate{}, err
	}
	met := 0
	for _, d := range ds {
		if d <= float64(flaw)/2 {
			met++
		}
	}
	e, err := Proportion(met, n, 0.95)
	e.Assumes = append(assumes, "the interval is the error of the simulation alone")
	return e, err
}

// Smallest gives the diameter in mm of the smallest round flaw that the windows
// meet with this chance, simulated as in Chance: twice the chance-quantile of the
// distance from a random spot to the nearest window. The interval comes from order
// statistics and holds for any shape (David and Nagaraja, Order Statistics, 3rd ed.,
// §7.1); it is the error of the simulation alone.
func Smallest(region Outline, windows []Window, chance float64, draws int, seed uint64) (measure.Estimate, error) {
	if !(chance > 0 && chance < 1) {
		return measure.Estimate{}, &measure.ArgumentError{Argument: "chance", Why: "must lie between 0 and 1"}
	}
	n, err := checkSearch(region, windows, draws)
	if err != nil {
		return measure.Estimate{}, err
	}
	d, err := distances(region, windows, n, seed)
	if err != nil {
		return measure.Estimate{}, err
	}
	slices.Sort(d)
	// 1.96 standard deviations of the binomial count; n is in the thousands.
	wide := 1.96 * math.Sqrt(float64(n)*chance*(1-chance))
	rank := func(x float64) float64 { return 2 * d[min(n-1, max(0, int(math.Ceil(x))-1))] }
	mid := float64(n) * chance
	return measure.Estimate{
		Value: rank(mid), Lower: rank(mid - wide), Upper: rank(mid + wide + 1), Level: 0.95, N: n,
		Assumes: []string{"a round flaw, its middle anywhere in the region with equal chance", "the interval is the error of the simulation alone"},
	}, nil
}

func checkSearch(region Outline, windows []Window, draws int) (int, error) {
	if len(windows) == 0 {
		return 0, measure.ErrEmpty
	}
	if len(region) < 3 || len(region) > 1000 {
		return 0, &measure.ArgumentError{Argument: "region", Why: "must have 3 to 1000 corners"}
	}
	for i, p := range region {
		if err := spot(fmt.Sprintf("region[%d]", i), p); err != nil {
			return 0, err
		}
	}
	for i, w := range windows {
		name := fmt.Sprintf("windows[%d]", i)
		if err := spot(name, w.At); err != nil {
			return 0, err
		}
		if err := measure.Finite(name, float64(w.Width), float64(w.Height)); err != nil {
			return 0, err
		}
		if w.Width < 0 || w.Height < 0 || w.Width > 1e6 || w.Height > 1e6 {
			return 0, &measure.ArgumentError{Argument: name, Why: "must be 0 to 1 000 000 mm wide and high"}
		}
	}
	// A region thin as a line would be drawn from for ever.
	low, high := bounds(region)
	if box := float64(high.Along-low.Along) * float64(high.Down-low.Down); region.area() < 1e-3*box || box == 0 {
		return 0, &measure.ArgumentError{Argument: "region", Why: "must enclose an area"}
	}
	switch {
	case draws == 0:
		return Draws, nil
	case draws < 1000 || draws > 10_000_000:
		return 0, &measure.ArgumentError{Argument: "draws", Why: "must lie between 1000 and 10 000 000, or be 0"}
	}
	return draws, nil
}

func spot(name string, p Point) error {
	if err := measure.Finite(name, float64(p.Along), float64(p.Down)); err != nil {
		return err
	}
	if math.Abs(float64(p.Along)) > 1e6 || math.Abs(float64(p.Down)) > 1e6 {
		return &measure.ArgumentError{Argument: name, Why: "must lie within 1 000 000 mm"}
	}
	return nil
}

// apart gives the exact chance where the widened windows keep clear of each other
// and of the region's edge.
func apart(region Outline, windows []Window, r float64) (float64, bool) {
	low, high := bounds(region)
	box := float64(high.Along-low.Along) * float64(high.Down-low.Down)
	if len(region) != 4 || math.Abs(region.area()-box) > 1e-9*box {
		return 0, false
	}
	var met float64
	for i, w := range windows {
		if float64(w.At.Along)-r < float64(low.Along) || float64(w.At.Along+w.Width)+r > float64(high.Along) ||
			float64(w.At.Down)-r < float64(low.Down) || float64(w.At.Down+w.Height)+r > float64(high.Down) {
			return 0, false
		}
		for _, o := range windows[:i] {
			if float64(w.At.Along-o.At.Along-o.Width) < 2*r && float64(o.At.Along-w.At.Along-w.Width) < 2*r &&
				float64(w.At.Down-o.At.Down-o.Height) < 2*r && float64(o.At.Down-w.At.Down-w.Height) < 2*r {
				return 0, false
			}
		}
		a, b := float64(w.Width), float64(w.Height)
		met += a*b + 2*r*(a+b) + math.Pi*r*r
	}
	return met / box, true
}

// distances draws spots in the region and gives each one's distance to its nearest
// window, in mm. An outline that goes round twice encloses nothing by the count of its
// borders, whatever its area: where none of the first 20 000 spots lies inside, it is refused.
func distances(region Outline, windows []Window, n int, seed uint64) ([]float64, error) {
	rng := rand.New(rand.NewPCG(seed, 0xc0ffee))
	low, high := bounds(region)
	out := make([]float64, 0, n)
	for tries := 0; len(out) < n; tries++ {
		if tries == 20_000 && len(out) == 0 {
			return nil, &measure.ArgumentError{Argument: "region", Why: "must enclose an area: its border crosses itself"}
		}
		p := Point{
			low.Along + (high.Along-low.Along)*unit.Millimetres(rng.Float64()),
			low.Down + (high.Down-low.Down)*unit.Millimetres(rng.Float64()),
		}
		if region.holds(p) {
			out = append(out, nearest(p, windows))
		}
	}
	return out, nil
}

func nearest(p Point, windows []Window) float64 {
	best := math.Inf(1)
	for _, w := range windows {
		x := float64(max(0, w.At.Along-p.Along, p.Along-w.At.Along-w.Width))
		y := float64(max(0, w.At.Down-p.Down, p.Down-w.At.Down-w.Height))
		best = min(best, x*x+y*y)
	}
	return math.Sqrt(best)
}
