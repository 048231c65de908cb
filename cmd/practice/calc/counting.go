package calc

import (
	"errors"
	"fmt"
	"math"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/coverage"
	"boottop.example/practice/domain/measure/unit"
)

func gridCoverage(in *input) func() (answer, error) {
	along := in.need("along", "spacing of the stations, mm", "grid.Along")
	down := in.may("down", 0, "spacing of the rows, mm; as along if left out", "grid.Down")
	pad := in.may("pad", 0, "width of what is set down, mm; 0 for a hammer", "grid.Pad")
	flaw := in.may("flaw", 0, "diameter of a round flaw, mm", "flaw")
	chance := in.may("chance", 0.9, "chance asked for, 0 to 1", "chance")
	return func() (answer, error) {
		g := coverage.Grid{Along: unit.Millimetres(along.value), Down: unit.Millimetres(down.value), Pad: unit.Millimetres(pad.value)}
		if !down.set {
			g.Down = g.Along
		}
		smallest, err := g.Smallest(chance.value)
		if err != nil {
			return answer{}, err
		}
		certain, err := g.Certain()
		if err != nil {
			return answer{}, err
		}
		a := answer{
			Says: fmt.Sprintf("A grid of %g × %g mm meets a round flaw of %.0f mm with a chance of %g.",
				float64(g.Along), float64(g.Down), float64(smallest), chance.value),
			Figures: []figure{
				plain(fmt.Sprintf("met with a chance of %g", chance.value), float64(smallest), "mm", 0),
				plain("cannot be missed from", float64(certain), "mm", 0),
			},
			Assumes:  []string{"a round flaw that lies anywhere with equal chance; edges of the hull left out", "every place of the grid was reached"},
			Cautions: []string{"to meet a flaw is to set down on it; whether the instrument or the hammer then shows it is another question"},
		}
		if flaw.set {
			p, err := g.Chance(unit.Millimetres(flaw.value))
			if err != nil {
				return answer{}, err
			}
			a.Says += fmt.Sprintf(" One of %g mm it meets with a chance of %.2f.", flaw.value, p)
			a.Figures = append(a.Figures, plain(fmt.Sprintf("chance to meet %g mm", flaw.value), p, "(0 to 1)", 2))
		}
		return a, nil
	}
}

func zeroCount(in *input) func() (answer, error) {
	windows := in.may("windows", 0, "number of windows bared")
	width := in.may("width", 0, "width of a window, mm")
	height := in.may("height", 0, "height of a window, mm")
	area := in.may("area", 0, "or the area bared, m²", "area")
	count := in.may("count", 0, "blisters counted in them", "count")
	level := in.may("level", 0.95, "coverage of the bound, 0 to 1", "level")
	return func() (answer, error) {
		bared, err := baredArea(windows, width, height, area)
		if err != nil {
			return answer{}, err
		}
		if count.value != math.Trunc(count.value) || math.Abs(count.value) > 1e6 {
			return answer{}, errors.New("-count must be a whole number, 0 to 1 000 000")
		}
		a := answer{
			Figures:  []figure{plain("area bared", bared, "m²", 3)},
			Cautions: []string{"say beside it what the look over the whole underbody showed, wet or ashore, and in what light"},
		}
		var e measure.Estimate
		if count.value == 0 {
			if e, err = coverage.None(bared, level.value); err != nil {
				return answer{}, err
			}
			a.Says = fmt.Sprintf("None seen in %.3g m²: up to %.3g blisters per m² are not excluded (one-sided, %g %%).", bared, e.Upper, 100*level.value)
			a.Assumes = append(a.Assumes, "a one-sided bound: the whole doubt is put above zero")
		} else {
			if e, err = coverage.Density(int(count.value), bared, level.value); err != nil {
				return answer{}, err
			}
			a.Says = fmt.Sprintf("%g seen in %.3g m²: %.3g per m² (%.3g to %.3g, %g %%).", count.value, bared, e.Value, e.Lower, e.Upper, 100*level.value)
		}
		a.Figures = append(a.Figures, banded("density", e, "per m²", 1))
		a.carry(e)
		return a, nil
	}
}

// baredArea takes the area as given, or works it out from windows; in m².
func baredArea(windows, width, height, area *number) (float64, error) {
	byWindow := windows.set || width.set || height.set
	switch {
	case area.set && byWindow:
		return 0, errors.New("give either -area or -windows with -width and -height, not both")
	case area.set:
		return area.value, nil
	case !windows.set || !width.set || !height.set:
		return 0, errors.New("give -windows, -width and -height together, or -area in m²")
	}
	for _, n := range []*number{windows, width, height} {
		if !(n.value > 0 && n.value <= 1e5) {
			return 0, fmt.Errorf("-%s must lie above 0 and be at most 100 000", n.name)
		}
	}
	if windows.value != math.Trunc(windows.value) {
		return 0, errors.New("-windows must be a whole number")
	}
	return windows.value * width.value * height.value * 1e-6, nil
}
