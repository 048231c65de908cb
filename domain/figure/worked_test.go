package figure

import "testing"

// outlines is a worked example of everything but plates: what Default makes of four
// numbers, points on its shape, its side view.
type outlines struct {
	Kind   string    `json:"kind"`
	Dims   Dims      `json:"dims"`
	Spec   Spec      `json:"spec"`
	Half   float64   `json:"half"`
	Top    float64   `json:"top"`
	Points []shapeAt `json:"points"`
	Side   Plate     `json:"side"`
}

// shapeAt is along, root, girth, depth and sheer, m.
type shapeAt [5]float64

func TestOutlines(t *testing.T) {
	t.Parallel()
	const file = goldens + "/outlines.json"
	var got []outlines
	for _, kind := range Kinds {
		got = append(got, outline(t, kind))
	}
	if *update {
		write(t, file, got)
		return
	}
	want := read[[]outlines](t, file)
	if len(got) != len(want) {
		t.Fatalf("%d kinds, want %d", len(got), len(want))
	}
	for i, g := range got {
		same(t, g.Side, want[i].Side)
		for j, q := range g.Points {
			for k, v := range q {
				if d := v - want[i].Points[j][k]; d > 1e-9 || d < -1e-9 {
					t.Errorf("%s at %v m: %v, want %v", g.Kind, q[0], q, want[i].Points[j])
					break
				}
			}
		}
	}
}

func outline(t *testing.T, kind string) outlines {
	t.Helper()
	d := usual[kind]
	s, err := Default(kind, d)
	if err != nil {
		t.Fatal(err)
	}
	h := s.Shape()
	o := outlines{Kind: kind, Dims: d, Spec: s, Half: h.Half, Top: h.Top, Side: Silhouette(h, 106)}
	for i := range 25 {
		x := -s.Aft + s.Length()*float64(i)/24
		o.Points = append(o.Points, shapeAt{x, h.Root(x), h.Girth(x), h.Depth(x), h.Sheer(x)})
	}
	return o
}
