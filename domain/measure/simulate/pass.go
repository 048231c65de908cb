package simulate

import (
	"fmt"
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

// Careful is a surveyor with marks and a tape.
func Careful() Hand { return Hand{Relocation: 20} }

// Careless is one without.
func Careless() Hand {
	return Hand{Relocation: 180, Scatter: 2.5, NoBlocks: true, NoContext: true}
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
