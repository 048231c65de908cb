package demo

import (
	"fmt"
	"math"

	"boottop.example/practice/domain/figure"
	"boottop.example/practice/domain/measure/simulate"
	"boottop.example/practice/domain/measure/unit"
)

// spot is a place of the plan. Its name here is side and label: P13/3.
type spot struct {
	name, label, side string
	station, row      int
	along, down       int32 // mm
	dry               bool
}

// clear is how far a place keeps from the keel's edge, m: a pad needs a flat.
const clear = 0.14

// spots lays her places out in the order of reading: the dry row first, then station by
// station, each side from the waterline down.
func (b boat) spots() []spot {
	shape := b.spec.Shape()
	to := b.grid.to
	if to == 0 {
		to = b.spec.LWL
	}
	var dry, under []spot
	for n := int(math.Ceil(b.grid.from/b.grid.every - 1e-9)); float64(n)*b.grid.every <= to+1e-9; n++ {
		along := float64(n) * b.grid.every
		for _, side := range []string{"port", "starboard"} {
			if n%2 == 0 && shape.Sheer(along) > b.grid.dry+0.15 {
				dry = append(dry, at(side, n, 0, along, -b.grid.dry))
			}
			for row, down := range b.grid.rows {
				if down <= shape.Girth(along)-clear {
					under = append(under, at(side, n, row+1, along, down))
				}
			}
		}
	}
	return append(dry, under...)
}

func at(side string, station, row int, along, down float64) spot {
	label := fmt.Sprintf("%d/%d", station, row)
	return spot{
		name: map[string]string{"port": "P", "starboard": "S"}[side] + label, label: label, side: side, station: station, row: row,
		along: int32(math.Round(along * 1000)), down: int32(math.Round(down * 1000)), dry: row == 0,
	}
}

// areaBelow is the skin below the waterline, m², both sides, by strips.
func areaBelow(spec figure.Spec) float64 {
	shape := spec.Shape()
	const strips = 200
	var sum float64
	step := spec.Length() / strips
	for k := range strips {
		sum += max(0, shape.Girth(-spec.Aft+(float64(k)+0.5)*step)) * step
	}
	return math.Round(20*sum) / 10
}

func simulated(spots []spot) []simulate.Place {
	out := make([]simulate.Place, len(spots))
	for k, s := range spots {
		out[k] = simulate.Place{Side: sideOf(s.side), Along: unit.Millimetres(s.along), Down: unit.Millimetres(s.down), Dry: s.dry}
	}
	return out
}

func sideOf(name string) simulate.Side {
	if name == "port" {
		return simulate.Port
	}
	return simulate.Starboard
}
