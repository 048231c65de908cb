package figure

import (
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"testing"
)

func TestValidateSaysWhatToDo(t *testing.T) {
	t.Parallel()
	good, err := Default(FinKeelSloop, usual[FinKeelSloop])
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		spoil func(*Spec)
		want  string
	}{
		"no waterline":               {func(s *Spec) { s.LWL = 0 }, "lwl is 0; give 1.5 to 60"},
		"not a number":               {func(s *Spec) { s.Beam = math.NaN() }, "beam is not a number"},
		"broader than long":          {func(s *Spec) { s.Beam = 99 }, "beam is 99; give 0.3 to 8.6"},
		"no section":                 {func(s *Spec) { s.Section = 0 }, "section is 0; give 1 to 6"},
		"section and chine":          {func(s *Spec) { s.Chine = &[2]float64{0.9, 0.3} }, "section stands beside chine: give one of the two"},
		"a peak at the very end":     {func(s *Spec) { s.Plan.Peak = 1 }, "plan.peak is 1; give 0.05 to 0.95"},
		"a fin the wrong way round":  {func(s *Spec) { s.Hung[0].At = [4]float64{5, 3, 3.6, 5} }, "hung[0].at[1] is 3; give 5.02 to"},
		"a keel ending before heel":  {func(s *Spec) { s.Keel = &LongKeel{Heel: 4, Forefoot: 3, Ramp: 1, Depth: 0.5} }, "keel.forefoot is 3; give 4.2 to"},
		"a counter above the deck":   {func(s *Spec) { s.Counter = 5 }, "counter is 5; give 0 to"},
		"a name over two lines":      {func(s *Spec) { s.Hung[0].Name = "iron\nfin" }, "hung[0].name holds a line break"},
		"a name as long as a page":   {func(s *Spec) { s.Hung[0].Name = strings.Repeat("fin", 40) }, "hung[0].name is longer than 60"},
		"more parts than a plate":    {func(s *Spec) { s.Hung = make([]Hung, 9) }, "hung has 9 parts; a figure takes 8"},
		"a bilge keel of no length":  {func(s *Spec) { s.Bilge = &BilgeKeel{From: 3, To: 3, Out: 0.5, Thick: 0.1, Span: 1} }, "bilge.to is 3; give 3.1 to"},
		"a cut through the hull":     {func(s *Spec) { s.Cut = 0.01 }, "cut is 0.01; give 0.15 to 10"},
		"an overhang as long as she": {func(s *Spec) { s.Fore = 8 }, "fore is 8; give 0 to 4.3"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			text, err := json.Marshal(good)
			if err != nil {
				t.Fatal(err)
			}
			var s Spec
			if err := json.Unmarshal(text, &s); err != nil {
				t.Fatal(err)
			}
			c.spoil(&s)
			err = s.Validate()
			var wrong *SpecError
			if !errors.As(err, &wrong) || !strings.Contains(err.Error(), c.want) {
				t.Errorf("said %v, want %q in it", err, c.want)
			}
		})
	}
}

func TestParseRefusesWhatItDoesNotKnow(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		`{"lwl": 8, "sails": 2}`: `unknown field "sails"`,
		`{"lwl": "eight"}`:       "cannot be read",
		`[]`:                     "cannot be read",
		`{}`:                     "lwl is 0; give 1.5 to 60",
	} {
		if _, err := Parse([]byte(text)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: said %v, want %q in it", text, err, want)
		}
	}
}

func TestDefaultKeepsTheFourNumbers(t *testing.T) {
	t.Parallel()
	for _, kind := range Kinds {
		t.Run(kind, func(t *testing.T) {
			t.Parallel()
			for loa := 3.0; loa < 25; loa += 2.3 {
				for _, slim := range []float64{0.22, 0.3, 0.42} {
					for _, deep := range []float64{0.05, 0.12, 0.25} {
						d := Dims{LOA: loa, Beam: slim * loa, Draught: max(0.1, deep*loa)}
						s, err := Default(kind, d)
						if err != nil {
							t.Fatalf("%+v: %v", d, err)
						}
						if math.Abs(s.Length()-loa) > 0.003 {
							t.Errorf("%+v: %v m long", d, s.Length())
						}
						if low := s.Shape().bottom(); low > d.Draught*1.35+0.1 {
							t.Errorf("%+v: draws %.2f m", d, low)
						}
						finite(t, Draw(s.Shape(), Options{Width: 800, Title: "x"}))
					}
				}
			}
		})
	}
}

func TestDefaultRefusesUnlikelyNumbers(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		kind string
		d    Dims
		want string
	}{
		{"submarine", usual[FinKeelSloop], `kind "submarine" is not known; give one of finKeelSloop`},
		{FinKeelSloop, Dims{LOA: 1055, Beam: 3.5, Draught: 1.75}, "loa is 1055; give 2 to 50"},
		{FinKeelSloop, Dims{LOA: 10.55, Beam: 11, Draught: 1.75}, "beam is 11; give 1.27 to 6.33"},
		{FinKeelSloop, Dims{LOA: 10.55, Beam: 3.5}, "draught is 0; give 0.1 to 4.22"},
		{FinKeelSloop, Dims{LOA: 10.55, Beam: 3.5, Draught: 1.7, LWL: 12}, "lwl is 12; give 6.33 to 10.55"},
	} {
		if _, err := Default(c.kind, c.d); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s %+v: said %v, want %q in it", c.kind, c.d, err, c.want)
		}
	}
}

// A quarter of an ellipse of half-axes 2 and 1 is 2.42211 long (from memory: the perimeter
// 9.68845 over four), a chine of two panels is Pythagoras, a V a straight line.
func TestGirthAgainstKnownLengths(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ b, d, n, want float64 }{
		{2, 1, 2, 2.42211}, {1, 1, 2, math.Pi / 2}, {3, 4, 1, 5},
	} {
		if got := arc(quarter(c.n), c.b, c.d); math.Abs(got-c.want) > 0.002 {
			t.Errorf("arc(%v, %v, %v) = %.5f, want %.5f", c.b, c.d, c.n, got, c.want)
		}
	}
	s, err := Default(ChineMotorBoat, usual[ChineMotorBoat])
	if err != nil {
		t.Fatal(err)
	}
	h := s.Shape()
	x := s.Profile.Peak * s.LWL
	b, d := h.halves(s.Profile.Peak)
	want := math.Hypot(0.1*b, 0.3*d) + math.Hypot(0.9*b, 0.7*d)
	if got := h.Girth(x); math.Abs(got-want) > 1e-9 {
		t.Errorf("girth at the chine boat's deepest %v, want %v", got, want)
	}
}

func TestTheUndersideRunsFair(t *testing.T) {
	t.Parallel()
	s, err := Default(FinKeelSloop, usual[FinKeelSloop])
	if err != nil {
		t.Fatal(err)
	}
	h := s.Shape()
	for _, at := range []float64{0, s.LWL} {
		const e = 0.02
		before, after := (h.Root(at)-h.Root(at-e))/e, (h.Root(at+e)-h.Root(at))/e
		if math.Abs(before-after) > 0.15 {
			t.Errorf("slope at %v m jumps from %.2f to %.2f", at, before, after)
		}
	}
	if got := h.Root(-s.Aft); math.Abs(got+s.Counter) > 1e-9 {
		t.Errorf("the counter ends %v above the water, want %v", -got, s.Counter)
	}
	if got := h.Root(s.LWL + s.Fore); math.Abs(got+h.Sheer(s.LWL+s.Fore)) > 1e-9 {
		t.Errorf("underside and sheer part at the stem: %v and %v", -got, h.Sheer(s.LWL+s.Fore))
	}
}

// A place drawn and measured back is where it was, and its mirror twin is its reflection.
func TestPlacesLieToScale(t *testing.T) {
	t.Parallel()
	s, err := Default(FullKeel, usual[FullKeel])
	if err != nil {
		t.Fatal(err)
	}
	place := func(id string, side Side, along, down float64) Reading {
		return Reading{ID: id, Side: side, Along: along, Down: down, Step: 3, Value: "9"}
	}
	p := Draw(s.Shape(), Options{Width: 900, Readings: []Reading{place("a", Port, 2, 0.5), place("b", Port, 3, 0.5), place("c", Port, 2, 1), place("d", Starboard, 2, 0.5)}})
	at := map[string]Mark{}
	for _, m := range p.Marks {
		if m.Place != "" && m.Kind == Circle {
			at[m.Place] = m
		}
	}
	metre := at["b"].X - at["a"].X
	if math.Abs((at["c"].Y-at["a"].Y)-metre/2) > 0.02 {
		t.Errorf("half a metre down is %v px, a metre along %v px", at["c"].Y-at["a"].Y, metre)
	}
	if math.Abs(at["a"].Y+at["d"].Y-p.Height) > 0.02 || at["a"].X != at["d"].X {
		t.Errorf("mirror twins at %v,%v and %v,%v on a sheet %v high", at["a"].X, at["a"].Y, at["d"].X, at["d"].Y, p.Height)
	}
}

func TestNamesMeetNothing(t *testing.T) {
	t.Parallel()
	s, err := Default(FinKeelSloop, usual[FinKeelSloop])
	if err != nil {
		t.Fatal(err)
	}
	o := Options{Width: 960, Title: "Tamsel", Under: "fin-keel sloop"}
	for i := range 9 {
		o.Fittings = append(o.Fittings, Fitting{Name: fmt.Sprintf("fitting %d", i), Side: sides[i%2], Along: 3 + 0.3*float64(i), Down: 0.2 + 0.13*float64(i)})
	}
	p := Draw(s.Shape(), o)
	var boxes []box
	for _, m := range p.Marks {
		if m.Kind != Words || m.Class == "grad" || m.Class == "under" {
			continue
		}
		b := textBox(m.Text, m.X, m.Y, m.Size, m.Anchor)
		for _, c := range boxes {
			if b.meets(c) {
				t.Errorf("%q lies over another name", m.Text)
			}
		}
		boxes = append(boxes, b)
	}
	if len(boxes) < 12 {
		t.Errorf("%d names drawn, want 13", len(boxes))
	}
}

func TestMapKnowsWhatItDoesNotKnow(t *testing.T) {
	t.Parallel()
	r := func(along, down, above float64, gap Gap) Reading {
		return Reading{Side: Port, Along: along, Down: down, Above: above, Gap: gap}
	}
	f := field{edges: [4]float64{4, 9, 15, 22}, reach: reach, near: []Reading{r(1, 0.3, 2, ""), r(2, 0.3, 30, ""), r(3, 0.3, 0, NotRead), r(4, 0.3, 12, "")}}
	for _, c := range []struct {
		x, d float64
		want int
	}{{1, 0.3, 0}, {2, 0.3, 4}, {3, 0.3, unknown}, {3.2, 0.4, unknown}, {4, 0.3, 2}, {8, 0.3, unknown}, {1, 0.8, unknown}} {
		if got := f.step(c.x, c.d); got != c.want {
			t.Errorf("at %v, %v: step %d, want %d", c.x, c.d, got, c.want)
		}
	}
}

func TestHatchStaysInside(t *testing.T) {
	t.Parallel()
	m := Mark{Kind: Rect, X: 10, Y: 20, W: 40, H: 24, Fill: Unread}
	lines := HatchLines(m)
	if len(lines) < 9 {
		t.Fatalf("%d lines in a cell of 40 × 24, want at least 9", len(lines))
	}
	for _, l := range lines {
		for _, q := range l {
			if q[0] < 10-1e-6 || q[0] > 50+1e-6 || q[1] < 20-1e-6 || q[1] > 44+1e-6 {
				t.Errorf("line ends outside, at %v", q)
			}
		}
	}
	if HatchLines(Mark{Kind: Rect, W: 4, H: 4}) != nil {
		t.Error("a mark without a pattern was hatched")
	}
}

func TestSVGIsWellFormed(t *testing.T) {
	t.Parallel()
	for name, p := range samplePlates(t) {
		for _, o := range []SVGOptions{{ID: "p1"}, {ID: "p1", Palette: &Print}, {ID: "p1", Ink: true}} {
			p.Label = `a "label" <b>&`
			d := xml.NewDecoder(strings.NewReader(string(SVG(p, o))))
			depth, groups := 0, 0
			for {
				tok, err := d.Token()
				if err == io.EOF {
					break
				}
				if err != nil {
					t.Fatalf("%s: %v", name, err)
				}
				switch e := tok.(type) {
				case xml.StartElement:
					depth++
					if e.Name.Local == "g" {
						groups++
					}
				case xml.EndElement:
					depth--
				}
			}
			if depth != 0 || strings.Contains(name, "today") && groups < 12 {
				t.Errorf("%s: depth %d at the end, %d places", name, depth, groups)
			}
		}
	}
}

func finite(t testing.TB, p Plate) {
	t.Helper()
	bad := func(v float64) bool { return math.IsNaN(v) || math.IsInf(v, 0) || math.Abs(v) > 1e5 }
	if bad(p.Width) || bad(p.Height) || p.Height <= 0 {
		t.Fatalf("sheet of %v × %v", p.Width, p.Height)
	}
	for _, m := range p.Marks {
		if bad(m.X) || bad(m.Y) || bad(m.R) || bad(m.W) || bad(m.H) || bad(m.Size) || m.R < 0 || m.W < 0 || m.H < 0 {
			t.Fatalf("mark %+v", m)
		}
		for _, l := range m.Lines {
			for _, q := range l {
				if bad(q[0]) || bad(q[1]) {
					t.Fatalf("%s passes through %v", m.Class, q)
				}
			}
		}
	}
}

// Any spec that Validate accepts can be drawn.
func FuzzDraw(f *testing.F) {
	f.Add(8.6, 0.95, 1.0, 3.3, 0.52, 0.44, 0.12, 2.3, 1.75, 2.15, 0.36, byte(0))
	f.Add(1.5, 0.0, 0.0, 0.3, 0.03, 0.05, 0.0, 1.0, 1.0, 1.0, 0.0, byte(255))
	f.Add(60.0, 30.0, 30.0, 60.0, 30.0, 0.95, 1.0, 6.0, 6.0, 6.0, 0.15, byte(7))
	f.Fuzz(func(t *testing.T, lwl, aft, fore, beam, body, peak, end, pa, pf, section, cut float64, has byte) {
		s := Spec{
			LWL: lwl, Aft: aft, Fore: fore, Beam: beam, Body: body, Freeboard: [3]float64{0.3 + body, 0.5, 1}, Counter: cut / 4,
			Plan: Curve{peak, end, 0, pa, pf}, Profile: Curve{1 - peak, 0, end, pf, pa}, Section: section, Cut: cut,
		}
		if has&1 != 0 {
			s.Keel = &LongKeel{lwl * 0.1, lwl * 0.9, lwl / 2, body}
		}
		if has&2 != 0 {
			s.Bilge = &BilgeKeel{lwl * 0.4, lwl * 0.6, 0.6, 0.1, body, "keel"}
		}
		if has&4 != 0 {
			s.Hung = []Hung{{"fin", [4]float64{lwl * 0.4, lwl * 0.6, lwl * 0.45, lwl * 0.55}, body * 2, false, false}, {"rudder", [4]float64{-0.1, lwl * 0.1, -0.1, lwl * 0.1}, body, true, true}}
		}
		if has&8 != 0 {
			s.Section, s.Chine = 0, &[2]float64{0.9, min(0.9, peak)}
		}
		if s.Validate() != nil {
			t.Skip()
		}
		h := s.Shape()
		o := everything(h)
		o.Mode = []Mode{Today, Change, Map}[has%3]
		o.Small = has&16 != 0
		finite(t, Draw(h, o))
		finite(t, Silhouette(h, 106))
	})
}

func BenchmarkShape(b *testing.B) {
	s, _ := Default(FinKeelSloop, usual[FinKeelSloop])
	for b.Loop() {
		s.Shape()
	}
}

func BenchmarkDraw(b *testing.B) {
	for _, name := range []string{"sloop-today", "sloop-change", "sloop-map", "sloop-small"} {
		b.Run(name, func(b *testing.B) {
			w := read[worked](b, goldens+"/plate-"+name+".json")
			h := w.Spec.Shape()
			b.ReportAllocs()
			for b.Loop() {
				Draw(h, w.Options)
			}
		})
	}
}

func BenchmarkSVG(b *testing.B) {
	w := read[worked](b, goldens+"/plate-sloop-today.json")
	p := Draw(w.Spec.Shape(), w.Options)
	b.ReportAllocs()
	for b.Loop() {
		b.SetBytes(int64(len(SVG(p, SVGOptions{ID: "p"}))))
	}
}

// Two findings and two photos of one spot are four marks that can be told apart, and a
// window keeps its place.
func TestMarksOfOneSpotLieUnderEachOther(t *testing.T) {
	t.Parallel()
	spec, err := Default(FinKeelSloop, usual[FinKeelSloop])
	if err != nil {
		t.Fatal(err)
	}
	at := func(id string, kind PinKind) Pin {
		return Pin{ID: id, Side: Port, Along: 4, Down: 0.4, Kind: kind, Word: id}
	}
	o := Options{Width: 900, Pins: []Pin{at("w", Window), at("p1", Photo), at("p2", Photo), at("f1", Finding), at("f2", Finding)}}
	words := map[string][2]float64{}
	for _, m := range Draw(spec.Shape(), o).Marks {
		if m.Class == "note word" {
			words[m.Text] = [2]float64{m.X, m.Y}
		}
	}
	order := []string{"f1", "f2", "p1", "p2"}
	for k, id := range order[1:] {
		if above := order[k]; words[id][1]-words[above][1] < 12 {
			t.Errorf("%s at %v lies on %s at %v", id, words[id], above, words[above])
		}
	}
	if words["w"] != words["f1"] {
		t.Errorf("the window went from its place: %v, %v", words["w"], words["f1"])
	}
}
