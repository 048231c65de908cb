package coverage

import "math"

// Outline is the border of a region of the skin, 3 to 1000 corners in order.
type Outline []Point

func bounds(o Outline) (low, high Point) {
	low, high = o[0], o[0]
	for _, p := range o[1:] {
		low.Along, low.Down = min(low.Along, p.Along), min(low.Down, p.Down)
		high.Along, high.Down = max(high.Along, p.Along), max(high.Down, p.Down)
	}
	return low, high
}

// area is the shoelace sum, in mm².
func (o Outline) area() float64 {
	var s float64
	for i, p := range o {
		q := o[(i+1)%len(o)]
		s += float64(p.Along)*float64(q.Down) - float64(q.Along)*float64(p.Down)
	}
	return math.Abs(s) / 2
}

// holds counts the borders that a line to the right crosses.
func (o Outline) holds(p Point) bool {
	in := false
	for i, a := range o {
		b := o[(i+1)%len(o)]
		if (a.Down > p.Down) != (b.Down > p.Down) &&
			p.Along < a.Along+(b.Along-a.Along)*(p.Down-a.Down)/(b.Down-a.Down) {
			in = !in
		}
	}
	return in
}
