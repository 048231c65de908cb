package figure

import (
	"math"
	"slices"
)

// Hatch is a pattern as lines: Angle in radians from the x axis, Pitch between lines in
// px, and the class they are inked with, over a ground of class "hatch-ground".
type Hatch struct {
	Angle, Pitch float64
	Class        string
}

// Hatch gives a pattern's lines.
func (p Pattern) Hatch() Hatch {
	switch p {
	case Blade:
		return Hatch{0, 4, "hatch"}
	case Unread:
		return Hatch{math.Pi / 4, 4, "hatch strong"}
	}
	return Hatch{3 * math.Pi / 4, 5, "hatch"}
}

// HatchLines clips a mark's pattern to its area, for writers without tiling patterns: a
// ground to fill and lines to stroke over it, both in px. It returns nil for a mark
// without a pattern.
func HatchLines(m Mark) []Line {
	if m.Fill == "" {
		return nil
	}
	h := m.Fill.Hatch()
	sin, cos := math.Sincos(h.Angle)
	var lines []Line
	for _, area := range areas(m) {
		turned := make(Line, len(area))
		lo, hi := math.Inf(1), math.Inf(-1)
		for i, q := range area {
			turned[i] = Point{q[0]*cos + q[1]*sin, q[1]*cos - q[0]*sin}
			lo, hi = min(lo, turned[i][1]), max(hi, turned[i][1])
		}
		for k := math.Ceil(lo / h.Pitch); k*h.Pitch < hi; k++ {
			v := k * h.Pitch
			for _, s := range spans(turned, v) {
				lines = append(lines, Line{{s[0]*cos - v*sin, s[0]*sin + v*cos}, {s[1]*cos - v*sin, s[1]*sin + v*cos}})
			}
		}
	}
	return lines
}

func areas(m Mark) []Line {
	if m.Kind == Rect {
		return []Line{{{m.X, m.Y}, {m.X + m.W, m.Y}, {m.X + m.W, m.Y + m.H}, {m.X, m.Y + m.H}}}
	}
	return m.Lines
}

// spans are the stretches of the level v inside a closed line, by the even-odd rule.
func spans(area Line, v float64) []Point {
	var cuts []float64
	for i, b := range area {
		a := area[(i+len(area)-1)%len(area)]
		if (a[1] <= v) != (b[1] <= v) {
			cuts = append(cuts, a[0]+(v-a[1])/(b[1]-a[1])*(b[0]-a[0]))
		}
	}
	slices.Sort(cuts)
	var list []Point
	for i := 1; i < len(cuts); i += 2 {
		list = append(list, Point{cuts[i-1], cuts[i]})
	}
	return list
}
