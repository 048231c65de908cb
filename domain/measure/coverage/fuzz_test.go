package coverage_test

import (
	"errors"
	"math"
	"testing"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/coverage"
	"boottop.example/practice/domain/measure/unit"
)

// An outline that goes round twice holds no spot by the count of its borders: it is
// refused, not searched for ever.
func TestABorderThatGoesRoundTwiceIsRefused(t *testing.T) {
	t.Parallel()
	once := coverage.Outline{{}, {Along: 900}, {Along: 900, Down: 700}, {Along: 100, Down: 800}}
	_, err := coverage.Chance(append(once, once...), []coverage.Window{{}}, 50, 0, 1)
	var arg *measure.ArgumentError
	if !errors.As(err, &arg) || arg.Argument != "region" {
		t.Errorf("got %v", err)
	}
}

func FuzzChance(f *testing.F) {
	f.Add([]byte{0, 0, 200, 0, 200, 100, 0, 100}, []byte{20, 20, 50, 50}, 80.0, 0.9, 1.0)
	f.Add([]byte{0, 0, 200, 0, 200, 100, 0, 0, 200, 0, 200, 100}, []byte{1, 1, 0, 0}, 5.0, 0.5, 10.0)
	f.Fuzz(func(t *testing.T, corners, windows []byte, flaw, chance, scale float64) {
		if len(corners) > 24 || len(windows) > 24 {
			return
		}
		mm := func(b byte) unit.Millimetres { return unit.Millimetres(scale * float64(b)) }
		var region coverage.Outline
		for i := 0; i+1 < len(corners); i += 2 {
			region = append(region, coverage.Point{Along: mm(corners[i]), Down: mm(corners[i+1])})
		}
		var search []coverage.Window
		for i := 0; i+3 < len(windows); i += 4 {
			search = append(search, coverage.Window{
				At: coverage.Point{Along: mm(windows[i]), Down: mm(windows[i+1])}, Width: mm(windows[i+2]), Height: mm(windows[i+3]),
			})
		}
		if e, err := coverage.Chance(region, search, unit.Millimetres(flaw), 1000, 1); err == nil {
			if !(e.Lower >= 0 && e.Lower <= e.Value+1e-9 && e.Value <= e.Upper+1e-9 && e.Upper <= 1) {
				t.Errorf("chance %+v of %v", e, region)
			}
		}
		if e, err := coverage.Smallest(region, search, chance, 1000, 1); err == nil {
			if math.IsNaN(e.Value) || e.Lower > e.Value || e.Value > e.Upper || e.Lower < 0 || math.IsInf(e.Upper, 0) {
				t.Errorf("smallest %+v of %v", e, region)
			}
		}
	})
}
