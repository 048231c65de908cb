package render

import (
	"slices"
	"strconv"
	"unicode/utf8"

	"boottop.example/practice/domain/figure"
	"boottop.example/practice/domain/report"
)

const mm = 1.0 / 1000

// drawHull draws a plate at a width in pixels; small leaves the figures to the table, for
// phones.
//
// Errors: a *figure.SpecError where the hull cannot be drawn.
func drawHull(b plateBlock, r report.Report, width float64, small bool) (figure.Plate, error) {
	spec, err := figure.Parse(b.hull.Shape)
	if err != nil {
		return figure.Plate{}, err
	}
	o := figure.Options{Width: width, Small: small, Title: short(b.p.Cartouche[0], 30), Under: short(b.p.Cartouche[1], 60), Label: b.p.Alt}
	for _, s := range b.hull.Stations {
		o.Stations = append(o.Stations, figure.Tick{Word: strconv.Itoa(s.Number), At: float64(s.Along) * mm})
	}
	for _, down := range b.hull.Rows {
		o.Rows = append(o.Rows, figure.Tick{At: float64(down) * mm})
	}
	for _, l := range b.hull.Layers {
		o.Layers = append(o.Layers, layer(l))
	}
	for _, x := range b.hull.Fittings {
		o.Fittings = append(o.Fittings, figure.Fitting{Name: short(x.Name, 30), Side: figure.Side(x.At.Side), Along: float64(x.At.Along) * mm, Down: float64(x.At.Down) * mm})
	}
	switch b.p.Mode {
	case report.ModeReadings:
		o.Readings = readingMarks(b)
	case report.ModeChange:
		o.Mode, o.Readings = figure.Change, changeMarks(b)
	case report.ModePlaces:
		o.Pins = b.pins
	}
	return figure.Draw(spec.Shape(), o), nil
}

func layer(l report.Layer) figure.Layer {
	out := figure.Layer{Name: short(l.Name, 30), Side: figure.Side(l.Side), Kind: figure.LayerKind(l.Kind), Outline: metres(l.Outline)}
	if l.Side == report.Centre {
		out.Side = figure.Both
	}
	return out
}

// short is what of a text can stand on a drawing: it has no lines to break into.
func short(s string, most int) string {
	s = tidy(s)
	if utf8.RuneCountInString(s) <= most {
		return s
	}
	return string([]rune(s)[:most-1]) + "…"
}

func metres(outline [][2]int) (out []figure.Point) {
	for _, q := range outline {
		out = append(out, figure.Point{float64(q[0]) * mm, float64(q[1]) * mm})
	}
	return out
}

func mark(x report.Reading) figure.Reading {
	return figure.Reading{ID: x.Place, Side: figure.Side(x.At.Side), Along: float64(x.At.Along) * mm, Down: float64(x.At.Down) * mm, Gap: figure.Gap(x.Gap), Dry: x.Dry}
}

func readingMarks(b plateBlock) []figure.Reading {
	if b.pass == nil {
		return nil
	}
	out := make([]figure.Reading, 0, len(b.pass.Readings))
	for _, x := range b.pass.Readings {
		m := mark(x)
		m.Value, m.Step, m.Follow = short(x.Figure, 8), x.Step, x.Follow
		out = append(out, m)
	}
	return out
}

func changeMarks(b plateBlock) []figure.Reading {
	if b.pass == nil || b.change == nil {
		return nil
	}
	said := make(map[string]report.PlaceChange, len(b.change.Places))
	for _, p := range b.change.Places {
		said[p.Place] = p
	}
	var out []figure.Reading
	for _, x := range b.pass.Readings {
		c, ok := said[x.Place]
		if !ok {
			continue
		}
		m := mark(x)
		m.Said, m.By = figure.Said(c.Said), short(c.Mark, 8)
		out = append(out, m)
	}
	return out
}

// pins are the windows, photos and findings of a hull at their places, each outline with
// the pin in its middle.
func pins(b plateBlock, r report.Report) []figure.Pin {
	var out []figure.Pin
	add := func(id string, at report.Spot, kind figure.PinKind, word string) {
		out = append(out, figure.Pin{ID: id, Side: figure.Side(at.Side), Along: float64(at.Along) * mm, Down: float64(at.Down) * mm, Kind: kind, Word: word})
	}
	here := func(element string) bool { return element == b.hull.Element || element == "" && len(r.Hulls) == 1 }
	for _, s := range b.hull.Bared {
		add("", s, figure.Window, "")
	}
	for _, p := range r.Photos {
		if p.At != nil && here(p.Element) {
			add(p.ID, *p.At, figure.Photo, count(p.Number))
		}
	}
	for _, x := range r.Findings {
		if here(x.Element) {
			for _, s := range x.At {
				add(x.ID, s, figure.Finding, count(x.Number))
			}
			if x.Drawn != nil && len(x.At) > 0 {
				out[len(out)-1].Outline = metres(x.Drawn.Outline)
			}
		}
	}
	return out
}

// key is one line of a legend: a sign and its word.
type key struct {
	sign  []figure.Mark // on a field of keySize × keySize px around its middle, or
	small []figure.Mark // the same as drawn on a phone
	icon  icon
	word  string
}

const keySize = 26.0

// legend says what the marks of a plate mean, each with its word.
func legend(b plateBlock) (lead string, keys []key) {
	switch b.p.Mode {
	case report.ModeReadings:
		lead = "Figures as read"
		if b.pass != nil && len(b.pass.Edges) == 5 && b.pass.Baseline != nil {
			lead = "Above the dry baseline"
			for i, words := range b.pass.Edges {
				keys = append(keys, key{sign: stepMarks(i), small: smallMarks(i), word: short(words, 40)})
			}
		}
		return lead, append(keys, gapKeys(b)...)
	case report.ModeChange:
		for _, v := range []report.Verdict{report.Higher, report.Lower, report.NoChange, report.CannotTell} {
			keys = append(keys, key{icon: verdictIcon(v), word: v.Words()})
		}
	case report.ModePlaces:
		keys = pinKeys(b.pins)
	}
	return lead, keys
}

// pinKeys are the signs of what lies on a hull, those that do.
func pinKeys(list []figure.Pin) (keys []key) {
	has := func(f func(figure.Pin) bool) bool { return slices.ContainsFunc(list, f) }
	if has(func(p figure.Pin) bool { return p.Kind == figure.Finding }) {
		keys = append(keys, key{icon: sign(part{line: [][2]float64{{7, 1}, {13, 7}, {7, 13}, {1, 7}}, closed: true}), word: "finding"})
	}
	if has(func(p figure.Pin) bool { return len(p.Outline) > 2 }) {
		keys = append(keys, key{icon: sign(part{line: [][2]float64{{1, 4}, {9, 1}, {13, 8}, {4, 13}}, closed: true}), word: "how far it reaches, as drawn"})
	}
	if has(func(p figure.Pin) bool { return p.Kind == figure.Photo }) {
		keys = append(keys, key{icon: sign(part{line: [][2]float64{{7, 2}, {13, 12}, {1, 12}}, fill: true, closed: true}), word: "photo"})
	}
	if has(func(p figure.Pin) bool { return p.Kind == figure.Window }) {
		keys = append(keys, key{icon: sign(frame(2, 2, 10, 10)), word: "window, 100\u00a0×\u00a0100\u00a0mm to scale"})
	}
	return keys
}

func gapKeys(b plateBlock) []key {
	if b.pass == nil {
		return nil
	}
	var keys []key
	has := func(f func(report.Reading) bool) bool {
		for _, x := range b.pass.Readings {
			if f(x) {
				return true
			}
		}
		return false
	}
	if has(func(x report.Reading) bool { return x.Gap == report.Unread }) {
		keys = append(keys, key{icon: unreadIcon(), word: "not reached"})
	}
	if has(func(x report.Reading) bool { return x.Gap == report.Void }) {
		keys = append(keys, key{icon: gapIcon(report.Reading{Gap: report.Void}), word: "void"})
	}
	if has(func(x report.Reading) bool { return x.Follow }) {
		f := followIcon()
		f.accent = true
		keys = append(keys, key{icon: f, word: "follow up inside"})
	}
	return keys
}

// stepMarks draws a step of the value scale as the hull has it, radius 11 px around 13, 13.
func stepMarks(step int) []figure.Mark {
	const r, x = 11.0, keySize / 2
	circle := func(class string, r float64) figure.Mark {
		return figure.Mark{Kind: figure.Circle, Class: class, X: x, Y: x, R: r}
	}
	class := "fig"
	if step > 2 {
		class = "fig rev"
	}
	figures := [5]string{"12", "18", "23", "29", "36"}
	text := figure.Mark{Kind: figure.Words, Class: class, X: x, Y: x + 0.4*r, Size: 12.5, Anchor: figure.Middle, Text: figures[step]}
	var m []figure.Mark
	switch step {
	case 0:
		m = []figure.Mark{{Kind: figure.Rect, Class: "v0", X: x - 0.45*r, Y: x + 0.62*r, W: 0.9 * r, H: 1.6}}
	case 1:
		m = []figure.Mark{circle("ring", r-1.2), circle("collar v1", r-2.5)}
	case 2:
		m = []figure.Mark{circle("ring", r-0.4), circle("collar v2", r-2.3)}
	case 3:
		m = []figure.Mark{circle("disc v3", r-0.4)}
	case 4:
		m = []figure.Mark{circle("halo", r+0.8), circle("disc v4", r-1.2)}
	}
	return append(m, text)
}

// smallMarks draws a step as the small hull has it, radius 4 px.
func smallMarks(step int) []figure.Mark {
	const r, x = 4.0, keySize / 2
	circle := func(class string, r float64) figure.Mark {
		return figure.Mark{Kind: figure.Circle, Class: class, X: x, Y: x, R: r}
	}
	switch step {
	case 1:
		return []figure.Mark{circle("ring", r-1.3)}
	case 2:
		return []figure.Mark{circle("disc v2", r-0.7)}
	case 3:
		return []figure.Mark{circle("disc v3", r-0.4)}
	case 4:
		return []figure.Mark{circle("halo", r+0.8), circle("disc v4", r-1.2)}
	}
	return []figure.Mark{circle("dot", 1.3)}
}
