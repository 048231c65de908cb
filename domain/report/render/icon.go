package render

import (
	"math"

	"boottop.example/practice/domain/report"
)

// icon is a small sign beside a word, on a field of w × 14 units. Shape says it first;
// the word always stands beside it, so that for screen readers it is left out.
type icon struct {
	w      float64
	parts  []part
	accent bool // in magenta rather than ink
}

// part is one stroke or area of an icon.
type part struct {
	line   [][2]float64
	circle [3]float64 // x, y, r
	arc    [2]float64 // of the circle, radians clockwise from three o'clock; the whole when equal
	fill   bool
	paper  bool // in the colour of the paper
	closed bool
	width  float64 // of a stroke; 1.5 when nought
	dash   []float64
}

func sign(parts ...part) icon { return icon{w: 14, parts: parts} }

func area(points ...[2]float64) part { return part{line: points, fill: true, closed: true} }

func stroke(points ...[2]float64) part { return part{line: points} }

func ring(x, y, r float64) part { return part{circle: [3]float64{x, y, r}} }

func disc(x, y, r float64) part { return part{circle: [3]float64{x, y, r}, fill: true} }

func box(x, y, w, h float64) [][2]float64 {
	return [][2]float64{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}
}

func cut(points ...[2]float64) part { return part{line: points, paper: true, width: 2} }

func frame(x, y, w, h float64) part { return part{line: box(x, y, w, h), closed: true} }

// The more urgent, the more ink on the flag.
func gradeIcon(g report.Grade) icon {
	switch g {
	case report.StopAndMakeSafe:
		return sign(area(box(1, 1, 12, 12)...), cut([2]float64{4, 4}, [2]float64{10, 10}), cut([2]float64{10, 4}, [2]float64{4, 10}))
	case report.BeforeAfloat:
		return sign(area(box(1, 1, 12, 12)...), cut([2]float64{7, 3.5}, [2]float64{7, 7.5}), cut([2]float64{7, 9.5}, [2]float64{7, 11.1}))
	case report.WhileAshore:
		return sign(frame(1, 1.7, 12, 10.6), area(box(1, 7, 12, 5)...))
	case report.PlannedWork:
		return sign(frame(1, 1.7, 12, 10.6), area(box(1, 10, 12, 2)...))
	case report.Watch:
		return sign(ring(7, 7, 5.3), stroke([2]float64{7, 3.5}, [2]float64{7, 7}, [2]float64{9.6, 8.8}))
	case report.LookFurther:
		return sign(ring(6, 6, 4.3), stroke([2]float64{9.2, 9.2}, [2]float64{13, 13}))
	case report.ForTheRecord:
		return sign(stroke([2]float64{2, 4}, [2]float64{12, 4}), stroke([2]float64{2, 7}, [2]float64{12, 7}), stroke([2]float64{2, 10}, [2]float64{8, 10}))
	}
	return icon{}
}

// A firm, a broken and a dotted line.
func sureIcon(s report.Sure) icon {
	line := part{line: [][2]float64{{1, 8}, {29, 8}}, width: 2}
	switch s {
	case report.Seen:
		line.width = 3
	case report.Indicated:
		line.dash = []float64{7, 4}
	case report.Suspected:
		line.dash = []float64{2, 3.5}
	default:
		return icon{}
	}
	return icon{w: 30, parts: []part{line}}
}

func standingIcon(s report.Standing) icon {
	switch s {
	case report.Today, report.Same:
		return sign(disc(7, 7, 6))
	case report.Alike:
		half := disc(7, 7, 5.3)
		half.arc = [2]float64{-1.5707963, 1.5707963}
		return sign(ring(7, 7, 5.3), half)
	case report.Unlike:
		return sign(ring(7, 7, 5.3))
	case report.Quoted:
		r := ring(7, 7, 5.3)
		r.dash = []float64{2, 2}
		return sign(r)
	case report.WetLook:
		return sign(stroke([2]float64{1, 7}, [2]float64{3, 5.1}, [2]float64{5, 3.9}, [2]float64{7, 3.5}, [2]float64{9, 3.9}, [2]float64{11, 5.1}, [2]float64{13, 7},
			[2]float64{11, 8.9}, [2]float64{9, 10.1}, [2]float64{7, 10.5}, [2]float64{5, 10.1}, [2]float64{3, 8.9}, [2]float64{1, 7}), disc(7, 7, 1.8))
	}
	return icon{}
}

func verdictIcon(v report.Verdict) icon {
	switch v {
	case report.Higher:
		return sign(area([2]float64{7, 0.5}, [2]float64{13, 6.5}, [2]float64{13, 13}, [2]float64{1, 13}, [2]float64{1, 6.5}))
	case report.Lower:
		return sign(area([2]float64{7, 13.5}, [2]float64{13, 7.5}, [2]float64{13, 1}, [2]float64{1, 1}, [2]float64{1, 7.5}))
	case report.NoChange:
		return sign(stroke([2]float64{1, 5}, [2]float64{13, 5}), stroke([2]float64{1, 9.5}, [2]float64{13, 9.5}))
	case report.CannotTell:
		r := ring(7, 7, 6)
		r.dash = []float64{2, 2}
		return sign(r, disc(7, 10.4, 0.8), stroke([2]float64{5, 5.4}, [2]float64{5.6, 4.1}, [2]float64{7, 3.6}, [2]float64{8.5, 4.2}, [2]float64{8.9, 5.5}, [2]float64{8, 6.7}, [2]float64{7, 7.4}, [2]float64{7, 8.7}))
	}
	return icon{}
}

func gapIcon(x report.Reading) icon {
	switch {
	case x.Gap == report.Unread:
		return unreadIcon()
	case x.Gap == report.Void:
		return sign(stroke([2]float64{2, 2}, [2]float64{12, 12}), stroke([2]float64{12, 2}, [2]float64{2, 12}))
	case x.Follow:
		return followIcon()
	}
	return icon{}
}

func unreadIcon() icon {
	thin := func(points ...[2]float64) part { return part{line: points, width: 1} }
	return sign(frame(1, 2.5, 12, 9), thin([2]float64{1, 8}, [2]float64{6.5, 2.5}), thin([2]float64{3, 11.5}, [2]float64{12, 2.5}), thin([2]float64{8, 11.5}, [2]float64{13, 6.5}))
}

func followIcon() icon { return sign(area([2]float64{2, 3}, [2]float64{12, 3}, [2]float64{7, 12})) }

// arcLine draws an arc as a polyline.
func arcLine(p part, x, y, k float64) [][2]float64 {
	const steps = 16
	line := make([][2]float64, 0, steps+1)
	for i := range steps + 1 {
		sin, cos := math.Sincos(p.arc[0] + (p.arc[1]-p.arc[0])*float64(i)/steps)
		line = append(line, [2]float64{x + (p.circle[0]+p.circle[2]*cos)*k, y + (p.circle[1]+p.circle[2]*sin)*k})
	}
	return line
}
