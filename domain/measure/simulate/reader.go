package simulate

import (
	"math"
	"math/rand/v2"
)

// reader makes the readings of one pass.
type reader struct {
	hull   Hull
	pass   Pass
	field  *field
	signal []float64 // of the water in each place's wall, units
	rng    *rand.Rand
	total  int // settings-down planned, for the drift
	done   int
}

// sheet goes over the places.
func (r *reader) sheet() Sheet {
	s := Sheet{Pass: r.pass}
	for _, c := range r.hull.Causes {
		if c.there(r.pass.At) {
			s.Planted = append(s.Planted, c.Name)
		}
	}
	dry, grid := r.order()
	r.total = len(dry) + len(grid)
	s.block(r, Before)
	for _, i := range dry {
		s.Read = append(s.Read, r.read(i, 1, false))
	}
	for n, i := range grid {
		if n == len(grid)/2 {
			s.block(r, Midway)
		}
		s.Read = append(s.Read, r.read(i, 1, r.rng.Float64() < r.pass.NotReached))
	}
	for _, i := range dry[:min(3, len(dry))] {
		s.Read = append(s.Read, r.read(i, 2, false))
	}
	for _, i := range grid {
		if r.rng.Float64() < r.pass.Repeats {
			s.Read = append(s.Read, r.read(i, 2, false))
		}
	}
	s.block(r, After)
	return s
}

func (r *reader) order() (dry, grid []int) {
	for i, p := range r.hull.Places {
		if p.Dry {
			dry = append(dry, i)
		} else {
			grid = append(grid, i)
		}
	}
	return dry, grid
}

func (s *Sheet) block(r *reader, when When) {
	if r.pass.Hand.NoBlocks {
		return
	}
	put := func(units float64) Placement {
		return r.pass.Instrument.write(r.shift(units) + 0.5*r.scatter()*r.rng.NormFloat64())
	}
	s.Blocks = append(s.Blocks, BlockCheck{when, put(r.pass.Instrument.Blocks[0]), put(r.pass.Instrument.Blocks[1])})
}

// shift is what this visit and the drift so far do to a signal.
func (r *reader) shift(units float64) float64 {
	gain := r.pass.Gain
	if gain == 0 {
		gain = 1
	}
	so := math.Min(1, float64(r.done)/math.Max(1, float64(r.total)))
	return gain*units + r.pass.Zero + r.pass.Drift*so
}

func (r *reader) scatter() float64 {
	if r.pass.Hand.Scatter > 0 {
		return r.pass.Instrument.Placement * r.pass.Hand.Scatter
	}
	return r.pass.Instrument.Placement
}

func (r *reader) read(i, occasion int, notReached bool) Reading {
	p, off := r.hull.Places[i], float64(r.pass.Hand.Relocation)
	out := Reading{Place: i, Occasion: occasion, NotReached: notReached, Truth: r.truth(i, float64(p.Along), float64(p.Down))}
	if notReached {
		return out
	}
	along := float64(p.Along) + off*r.rng.NormFloat64()
	down := float64(p.Down) + off*r.rng.NormFloat64()
	units := r.shift(r.truth(i, along, down) + r.visit(i))
	for range r.pass.Placements {
		out.Placements = append(out.Placements, r.pass.Instrument.write(units+r.scatter()*r.rng.NormFloat64()))
	}
	r.done++
	return out
}

// visit is the place's own error on this visit: the same for a repeat of it, since
// preparation, sun and wall are the same.
func (r *reader) visit(i int) float64 {
	if r.pass.PlaceByVisit == 0 {
		return 0
	}
	own := rand.New(rand.NewPCG(r.hull.Seed^r.pass.Seed, uint64(i)))
	return r.pass.PlaceByVisit * own.NormFloat64()
}

// truth is the signal at a spot: the wall's water, its texture, and what is planted.
func (r *reader) truth(i int, along, down float64) float64 {
	side := r.hull.Places[i].Side
	units := r.signal[i] + r.field.at(side, along, down)
	for _, c := range r.hull.Causes {
		if c.there(r.pass.At) {
			units += c.touch(side, along, down) * c.signal(r.pass.Instrument.Depth)
		}
	}
	return units
}
