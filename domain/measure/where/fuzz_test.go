package where_test

import (
	"math"
	"testing"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/where"
)

func FuzzMatch(f *testing.F) {
	f.Add([]byte{1, 10, 20, 0, 2, 10, 21, 3, 1, 30, 20, 1, 2, 30, 20, 2}, 300.0, 100.0, 0.1)
	f.Fuzz(func(t *testing.T, raw []byte, within, scale, step float64) {
		var places []where.Place
		var values []measure.Value
		for i := 0; i+3 < min(len(raw), 160); i += 4 {
			places = append(places, where.Place{
				Side: where.Side(raw[i]%3) - 1, Along: mm(scale * float64(raw[i+1])), Down: mm(scale * float64(raw[i+2])), Keel: mm(scale * 200),
			})
			at := measure.Twentieth(raw[i+3])
			values = append(values, measure.Value{At: at, Limit: measure.Limit(raw[i+3] % 4), Low: at - 2, High: at + 2})
		}
		if m, err := where.Match(places, places, mm(within)); err == nil {
			if len(m.Pairs)+len(m.OnlyA) != len(places) || len(m.Pairs)+len(m.OnlyB) != len(places) {
				t.Fatalf("places are lost or used twice: %+v", m)
			}
		}
		m, err := where.Mirrors(places, values, mm(within), step)
		if err != nil {
			return
		}
		for _, p := range m.Pairs {
			if math.IsNaN(p.Z) || math.IsNaN(p.Low) || math.IsNaN(p.High) || p.Low > p.High {
				t.Fatalf("%+v", p)
			}
		}
	})
}

func FuzzLists(f *testing.F) {
	f.Add([]byte{1, 2, 255, 0, 255, 0})
	f.Fuzz(func(t *testing.T, raw []byte) {
		lists := [][]int{nil}
		for _, b := range raw {
			if b == 255 {
				lists = append(lists, nil)
				continue
			}
			lists[len(lists)-1] = append(lists[len(lists)-1], int(int8(b)))
		}
		g, err := where.FromLists(lists)
		if err != nil {
			return
		}
		y := make([]float64, len(lists))
		for i := range y {
			y[i] = float64(i * i % 5)
		}
		if a, err := where.Moran(g, y, where.Shares); err == nil && math.IsNaN(a.I+a.Z+a.P) {
			t.Fatalf("%+v", a)
		}
		if gs, err := where.GetisOrd(g, y, false); err == nil {
			for _, x := range gs {
				if math.IsNaN(x) {
					t.Fatalf("%v", gs)
				}
			}
		}
	})
}
