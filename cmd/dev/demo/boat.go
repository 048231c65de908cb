package demo

import (
	"time"

	"boottop.example/practice/domain/figure"
	"boottop.example/practice/domain/measure/simulate"
	"boottop.example/practice/domain/practice"
)

// boat is a vessel of the scenario with all that happens to her.
type boat struct {
	key     string
	vessel  practice.Vessel
	former  []string
	spec    figure.Spec
	bootTop int32 // mm above the datum
	mark    string
	offset  int32 // of the datum from the painted waterline, mm
	grid    grid
	layers  []layer
	events  []event
	parts   []part
	spells  []spell
	water   water
	jobs    []job
	since   time.Time // when the practice came to know her
	roles   []role
}

// grid says how her places are laid out, metres on the skin.
type grid struct {
	every float64   // between stations
	rows  []float64 // down from the datum
	dry   float64   // of the dry row above the datum, as a positive figure
	from  float64   // first station, forward of the aft perpendicular
	to    float64   // last one; 0: where the waterline ends
}

// layer is construction, coating or what lies behind her skin, mm.
type layer struct {
	kind, what, side, how string
	outline               [][2]int32
	from                  *time.Time
	ends                  *time.Time
	drawn                 string // tank, bulkhead or fitting
}

// event is something that happened to her.
type event struct {
	kind, what, written, source string
	from, to                    *time.Time
}

// part is an element beside the hull.
type part struct{ kind, name string }

// role is what a party is to her.
type role struct {
	party, as string
	from      *time.Time
}

// slot is what the yard does beside lift and launch, who pays it and what it was told.
type slot struct {
	wash, chock time.Duration // after the lift; 0: not planned
	shift       int           // days after the lift that she is moved within the yard; 0: not
	pays, told  string
}

// spell is a time ashore.
type spell struct {
	key           string
	yard          string
	lift, launch  time.Time // done; launch zero while she stands
	plannedLift   time.Time
	plannedLaunch time.Time
	held          string
	cover         bool
	washed        int // hours after the lift; 0: not noted
	asked         bool
	precision     string
	written       string
	source        string
	note          string
	slot          slot

	shelter *simulate.Shelter // air that the yard keeps
	peel    float64           // mm taken off so many days after the lift
	peelOn  int               // days after the lift
	coatOn  int               // days after the lift that a barrier coat goes on; 0: none
}

// water is what the simulation needs to know of her.
type water struct {
	start  float64 // level of her walls when the story begins, 0 to 1
	wall   float64 // laminate under the gelcoat, mm; 9.4 when 0
	years  int     // simulated before her first pass; 1 when 0
	spots  float64 // how a spot differs for good from the next, scale units; 0.8 when 0
	causes []simulate.Cause
	epoxy  bool // a barrier coat from the start
}
