package demo

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"math"
)

// A photo of the scenario is drawn: shapes laid over each other by their distance from
// each point, the same bytes for the same name. x runs from 0 to 4/3, y from 0 to 1 down.
const pictureWidth, pictureHeight = 640, 480

// rgb is a colour, 0 to 1 each.
type rgb struct{ r, g, b float64 }

// paint is what stands at a point before something is laid over it.
type paint func(x, y float64, under rgb) rgb

// draw makes the JPEG of a scene; an unknown one is a slip of the scenario.
func draw(shows, name string) ([]byte, error) {
	layers, known := scenes[shows]
	if !known {
		return nil, fmt.Errorf("nothing is drawn as %q", shows)
	}
	n := number("picture", name)
	m := image.NewRGBA(image.Rect(0, 0, pictureWidth, pictureHeight))
	list := layers(grain(n))
	for py := range pictureHeight {
		for px := range pictureWidth {
			x, y := (float64(px)+0.5)/pictureHeight, (float64(py)+0.5)/pictureHeight
			var c rgb
			for _, p := range list {
				c = p(x, y, c)
			}
			m.SetRGBA(px, py, color.RGBA{level(c.r), level(c.g), level(c.b), 255})
		}
	}
	var out bytes.Buffer
	err := jpeg.Encode(&out, m, &jpeg.Options{Quality: 82})
	return out.Bytes(), err
}

func level(v float64) uint8 { return uint8(255*min(1, max(0, v)) + 0.5) }

func mix(a, b rgb, t float64) rgb {
	t = min(1, max(0, t))
	return rgb{a.r + (b.r-a.r)*t, a.g + (b.g-a.g)*t, a.b + (b.b-a.b)*t}
}

func (c rgb) shade(by float64) rgb { return rgb{c.r * by, c.g * by, c.b * by} }

// over lays a colour where a distance is below zero; soft is the width of its edge.
func over(distance func(x, y float64) float64, c rgb, soft float64) paint {
	return func(x, y float64, under rgb) rgb { return mix(under, c, 0.5-distance(x, y)/soft) }
}

// noise is a smooth random field of its own seed, -1 to 1.
type noise uint64

func grain(n uint64) noise { return noise(n) }

func (n noise) at(x, y float64) float64 {
	x0, y0 := math.Floor(x), math.Floor(y)
	corner := func(i, j float64) float64 {
		h := uint64(int64(x0+i))*0x9E3779B97F4A7C15 ^ uint64(int64(y0+j))*0xC2B2AE3D27D4EB4F ^ uint64(n)
		h = (h ^ h>>31) * 0xBF58476D1CE4E5B9
		h ^= h >> 29
		return float64(h>>11)/(1<<52) - 1
	}
	fx, fy := ease(x-x0), ease(y-y0)
	top := corner(0, 0) + (corner(1, 0)-corner(0, 0))*fx
	low := corner(0, 1) + (corner(1, 1)-corner(0, 1))*fx
	return top + (low-top)*fy
}

func ease(t float64) float64 { return t * t * (3 - 2*t) }

// rough is noise of three grains.
func (n noise) rough(x, y float64) float64 {
	return 0.55*n.at(6*x, 6*y) + 0.3*n.at(23*x, 23*y) + 0.15*n.at(90*x, 90*y)
}

// Distances from shapes, negative inside.

func circle(cx, cy, r float64) func(x, y float64) float64 {
	return func(x, y float64) float64 { return math.Hypot(x-cx, y-cy) - r }
}

func ring(cx, cy, r, half float64) func(x, y float64) float64 {
	return func(x, y float64) float64 { return math.Abs(math.Hypot(x-cx, y-cy)-r) - half }
}

func slab(x0, y0, x1, y1, round float64) func(x, y float64) float64 {
	return func(x, y float64) float64 {
		dx, dy := math.Abs(x-(x0+x1)/2)-(x1-x0)/2+round, math.Abs(y-(y0+y1)/2)-(y1-y0)/2+round
		return math.Hypot(max(dx, 0), max(dy, 0)) + min(max(dx, dy), 0) - round
	}
}

func stroke(x0, y0, x1, y1, half float64) func(x, y float64) float64 {
	return func(x, y float64) float64 {
		dx, dy := x1-x0, y1-y0
		t := min(1, max(0, ((x-x0)*dx+(y-y0)*dy)/(dx*dx+dy*dy)))
		return math.Hypot(x-x0-t*dx, y-y0-t*dy) - half
	}
}

// ragged moves a shape's edge about.
func (n noise) ragged(of func(x, y float64) float64, by float64) func(x, y float64) float64 {
	return func(x, y float64) float64 { return of(x, y) + by*n.rough(2*x, 2*y) }
}
