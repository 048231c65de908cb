package simulate

import (
	"fmt"
	"math"
	"math/rand/v2"
	"time"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/unit"
)

// Pass is one going-over of the hull's places, in their order, baseline first.
type Pass struct {
	At         time.Time // when it begins; it takes a minute a place
	Instrument Instrument
	Placements int  // at each place, 1 to 5
	Hand       Hand // whose
	Seed       uint64

	Zero         float64 // this visit's shift of all values, units
	Gain         float64 // its factor; 0 stands for 1
	Drift        float64 // further shift by the end of the pass, units
	PlaceByVisit float64 // scatter of a place on this visit, standard deviation, units
	NotReached   float64 // share of places not reached, 0 to 1
	Repeats      float64 // share of places read again blind at the end, 0 to 1
}

// Hand is how carefully somebody works.
type Hand struct {
	Relocation unit.Millimetres // how far off a place is found again, standard deviation along and down
	Scatter    float64          // factor on the instrument's scatter; 0 stands for 1
	NoBlocks   bool             // leaves the block check out
	NoContext  bool             // writes down neither air nor skin nor days ashore
}

// Careful is a surveyor with marks and a tape; Careless is one without.
func Careful() Hand  { return Hand{Relocation: 20} }
func Careless() Hand { return Hand{Relocation: 180, Scatter: 2.5, NoBlocks: true, NoContext: true} }

// Reading is what was written at one place on one occasion.
type Reading struct {
	Place      int // index into the hull's places
	Occasion   int // 1 for the grid; 2 for a repeat
	Placements []Placement
	NotReached bool
	Truth      float64 // units the instrument would have shown at the very spot without any error
}

// Median is the reading's value: the median of its placements by order, limits
// carried. False when there is none.
func (r Reading) Median() (measure.Value, bool) {
	if len(r.Placements) == 0 {
		return measure.Value{}, false
	}
	s := append([]Placement(nil), r.Placements...)
	for i := range s { // one to five: insertion sort by scale order
		for j := i; j > 0 && before(s[j], s[j-1]); j-- {
			s[j], s[j-1] = s[j-1], s[j]
		}
	}
	a, b := s[(len(s)-1)/2], s[len(s)/2]
	if a.Limit != b.Limit { // half-way between a number and an end: a range to that end
		low, high := a.Value().At, b.Value().At
		return measure.Value{At: (low + high) / 2, Limit: measure.Range, Low: low, High: high}, true
	}
	return measure.Value{At: (a.Value().At + b.Value().At) / 2, Limit: a.Limit}, true
}

func before(a, b Placement) bool {
	if a.Limit != b.Limit {
		return a.Limit == measure.Below || b.Limit == measure.Above
	}
	return a.Tenths < b.Tenths
}

// When of a block check within its pass.
type When uint8

// Block checks are made before, midway and after.
const (
	Before When = iota
	Midway
	After
)

// BlockCheck is the instrument on its two reference blocks.
type BlockCheck struct {
	When      When
	Low, High Placement
}

// Sheet is a pass as it came home.
type Sheet struct {
	Pass    Pass
	Context *Context  // nil where the hand wrote none
	Read    []Reading // baseline first, then the grid, three dry places again, blind repeats
	Blocks  []BlockCheck
	Planted []string // causes there at the time
}

// Context is what is written down with a pass.
type Context struct {
	Ashore unit.Days // since the lift; 0 afloat
	Air    Weather   // when the pass began
	Skin   unit.Celsius
}

func (p Pass) check(h Hull) error {
	if err := p.Instrument.check(); err != nil {
		return err
	}
	if err := measure.Finite("Pass", p.Zero, p.Gain, p.Drift, p.PlaceByVisit, p.NotReached, p.Repeats, float64(p.Hand.Relocation), p.Hand.Scatter); err != nil {
		return err
	}
	if p.Placements < 1 || p.Placements > 5 {
		return &measure.ArgumentError{Argument: "Pass.Placements", Why: "must lie between 1 and 5"}
	}
	if p.PlaceByVisit < 0 || p.Hand.Relocation < 0 || p.Hand.Scatter < 0 || p.NotReached < 0 || p.NotReached > 1 || p.Repeats < 0 || p.Repeats > 1 {
		return &measure.ArgumentError{Argument: "Pass", Why: "must have scatters of at least 0 and shares from 0 to 1"}
	}
	if p.At.Before(h.Begins) || p.At.After(h.Spells[len(h.Spells)-1].Until) {
		return &measure.ArgumentError{Argument: "Pass.At", Why: fmt.Sprintf("must lie within the hull's spells, %s to %s",
			h.Begins.Format(time.DateOnly), h.Spells[len(h.Spells)-1].Until.Format(time.DateOnly))}
	}
	return nil
}

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
