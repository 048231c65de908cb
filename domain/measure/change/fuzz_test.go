package change_test

import (
	"math"
	"testing"

	"boottop.example/practice/domain/measure/change"
	"boottop.example/practice/domain/measure/repeat"
)

// differencesFrom spreads bytes over many sizes, ties and zeros among them.
func differencesFrom(raw []byte, size float64) []float64 {
	d := make([]float64, min(len(raw), 60))
	for i := range d {
		d[i] = size * (float64(raw[i]) - 100)
	}
	return d
}

func isChance(ps ...float64) bool {
	for _, p := range ps {
		if !(p >= 0 && p <= 1) {
			return false
		}
	}
	return true
}

func FuzzPairedTests(f *testing.F) {
	f.Add([]byte{100, 101, 99, 120, 120, 7}, 0.05, false)
	f.Add([]byte{1, 255}, 1e300, true)
	f.Fuzz(func(t *testing.T, raw []byte, size float64, pratt bool) {
		d := differencesFrom(raw, size)
		zeros := change.Drop
		if pratt {
			zeros = change.Pratt
		}
		if w, err := change.SignedRank(d, zeros); err == nil && (!isChance(w.P, w.Greater, w.Less) || math.IsNaN(w.V)) {
			t.Errorf("%+v of %v", w, d)
		}
		if p, err := change.PairedT(d, 0.95); err == nil && (!isChance(p.P) || math.IsNaN(p.T)) {
			t.Errorf("%+v of %v", p, d)
		}
		p := make([]float64, len(raw))
		for i, b := range raw {
			p[i] = float64(b) / 255
		}
		if found, err := change.Discover(p, 0.05); err == nil {
			for i, a := range found.Adjusted {
				if !isChance(a) || a < p[i] || found.Found[i] != (a <= 0.05) {
					t.Fatalf("adjusted %v of %v", found.Adjusted, p)
				}
			}
		}
	})
}

func FuzzPolish(f *testing.F) {
	f.Add([]byte{1, 2, 3, 4, 5, 6, 7, 8, 200}, uint8(3), 1.0)
	f.Fuzz(func(t *testing.T, raw []byte, columns uint8, size float64) {
		n := int(columns%8) + 1
		var table [][]float64
		var missing [][]bool
		for i := 0; i+n <= min(len(raw), 200); i += n {
			row, gone := make([]float64, n), make([]bool, n)
			for j, b := range raw[i : i+n] {
				row[j], gone[j] = size*float64(b), b%7 == 0
			}
			table, missing = append(table, row), append(missing, gone)
		}
		p, err := change.Polish(table, missing)
		if err != nil {
			return
		}
		for i, row := range table {
			for j, v := range row {
				back := p.Common + p.Place[i] + p.Visit[j] + p.Left[i][j]
				if missing[i][j] {
					continue
				}
				if math.IsNaN(back) || math.Abs(back-v) > 1e-9*(1+math.Abs(256*size)) {
					t.Fatalf("cell %d, %d: %v came back as %v", i, j, v, back)
				}
			}
		}
	})
}

func FuzzAhead(f *testing.F) {
	f.Add(1.0, 1.4, 0.3, 60, 8, 24.0, 60.0, 0.8, 0.05)
	f.Add(0.0, 0.0, 0.0, 1, 2, 0.0, 0.0, 0.06, 0.05)
	f.Fuzz(func(t *testing.T, sr, like, left float64, places, dry int, contrast, blocks, power, rate float64) {
		c := change.Components{
			Repeatability: repeat.Deviation{S: math.Abs(sr), DF: 40}, Like: repeat.Deviation{S: math.Abs(like), DF: 40},
			LikeRep: 0.9, Left: repeat.Deviation{S: math.Abs(left), DF: 6},
		}
		if !(sr*sr+like*like+left*left < 1e100 && math.Abs(contrast) < 1e50) {
			return
		}
		p := change.Plan{Places: places, Dry: dry, KBefore: 3, KAfter: 2, VisitsBefore: 1, VisitsAfter: 2, Contrast: contrast, BlockDistance: blocks}
		o, err := change.Ahead(c, p, power, rate)
		if err != nil {
			return
		}
		for _, r := range []change.Reach{o.Place, o.Alone, o.Hull} {
			if math.IsNaN(r.Shown) || math.IsNaN(r.True) || r.Shown < 0 || r.True < 0 {
				t.Fatalf("%+v of %+v", o, p)
			}
		}
		if o.Alone.Shown > o.Place.Shown*(1+1e-9) {
			t.Errorf("one place alone shows less than many: %+v", o)
		}
	})
}

func FuzzSizes(f *testing.F) {
	f.Add(0.7, 0.8, 0.05)
	f.Add(1e-9, 0.999, 1e-12)
	f.Fuzz(func(t *testing.T, effect, power, alpha float64) {
		if n, err := change.PairedSize(effect, power, alpha); err == nil {
			if p, err := change.PairedPower(n, effect, alpha); err != nil || p < power-1e-9 {
				t.Errorf("%d pairs reach %v, wanted %v (%v)", n, p, power, err)
			}
		}
		if m, err := change.RepeatsNeeded(effect, power, alpha); err == nil {
			if p, err := change.RepeatsPower(m, effect, alpha); err != nil || p < power-1e-9 {
				t.Errorf("%d repeats reach %v, wanted %v (%v)", m, p, power, err)
			}
		}
	})
}
