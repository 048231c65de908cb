package change

import (
	"math"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/order"
	"boottop.example/practice/domain/measure/repeat"
)

// Plan is a next visit, or several, as they might be made.
type Plan struct {
	Places        int     // places compared
	Dry           int     // dry places common to all visits
	KBefore       int     // placements at the visits already made, 1 to 5
	KAfter        int     // placements at the visits to come
	VisitsBefore  int     // like passes already made, all before any change
	VisitsAfter   int     // like passes to come, all after it
	Contrast      float64 // how far the places stand above the dry ones, scale units
	BlockDistance float64 // between the two blocks, scale units; 0 if they will not be read
}

// Reach is a least change: what would be called changed, and the true change that
// would be, with the chance asked for.
type Reach struct{ Shown, True float64 }

// Outlook is what a plan would be able to show, scale units.
type Outlook struct {
	Place Reach // at one place, looking at all of them
	Alone Reach // at one place, if only that one were looked at
	Hull  Reach // in the mean over all places

	// Floor is Place.Shown if placements were without error: what more placements
	// could reach at the most. BaselineFloor is Hull.Shown with places without number.
	Floor, BaselineFloor float64

	// Visit is the standard deviation of one visit's mean over all places, each set down
	// KAfter times: what [OverVisits] counts in.
	Visit float64
}

// Ahead computes what a plan would be able to show, before it is made.
//
//	c      as measured; see [Components.Missing]
//	p      the plan
//	power  chance with which a true change is to be shown, e.g. 0.8
//	rate   as in [Compare]
//
// The power is exact for the non-central t with the degrees of freedom of c.
//
// Errors: *measure.ArgumentError for p, power or rate, and for c where components are
// unmeasured.
func Ahead(c Components, p Plan, power, rate float64) (Outlook, error) {
	if err := p.check(); err != nil {
		return Outlook{}, err
	}
	if !(rate > 0 && rate < 1) {
		return Outlook{}, &measure.ArgumentError{Argument: "rate", Why: "must lie between 0 and 1"}
	}
	if !(power > rate && power < 1) {
		return Outlook{}, &measure.ArgumentError{Argument: "power", Why: "must lie between rate and 1"}
	}
	if len(c.Missing(false)) > 0 {
		return Outlook{}, &measure.ArgumentError{Argument: "c", Why: "was not measured: " + c.Missing(false)[0].Sentence()}
	}
	own, common := p.shares(c)
	n := float64(p.Places)
	reach := func(s shares, among, seen float64) Reach {
		v, df := c.total(s, 0)
		se, crit := math.Sqrt(v), max(seen, order.T(1-rate/(2*among), df))
		return Reach{Shown: crit * se, True: se * shiftFor(crit, df, power)}
	}
	seen, _ := c.seen(p.Places, rate)
	alone, _ := c.seen(1, rate)
	o := Outlook{
		Place: reach(own.plus(common), n, seen),
		Alone: reach(own.plus(common), 1, alone),
		Hull:  reach(own.times(1/n).plus(common), 1, 0),
	}
	still := own.plus(common)
	still.rep = -c.LikeRep * still.like // Like² without what placements added to it
	o.Floor = reach(still, n, seen).Shown
	o.BaselineFloor = reach(common, 1, 0).Shown
	o.Visit = visitDeviation(c, p)
	return o, nil
}

// visitDeviation is half the variance between two single visits of the kind to come.
func visitDeviation(c Components, p Plan) float64 {
	p.KBefore, p.VisitsBefore, p.VisitsAfter = p.KAfter, 1, 1
	own, common := p.shares(c)
	v, _ := c.total(own.times(1/float64(p.Places)).plus(common), 0)
	return math.Sqrt(v / 2)
}

// shares gives a place's own variance and what all places share.
func (p Plan) shares(c Components) (own, common shares) {
	own = c.reading(p.KBefore).times(1 / float64(p.VisitsBefore)).plus(c.reading(p.KAfter).times(1 / float64(p.VisitsAfter)))
	common = own.times(centreVariance / float64(p.Dry))
	visits := (1/float64(p.VisitsBefore) + 1/float64(p.VisitsAfter)) / 2
	common.left += visits
	if p.BlockDistance > 0 {
		v, _ := repeat.MedianVariance(p.KAfter)
		common.rep += 2 * visits * p.Contrast * p.Contrast * 2 * v / (p.BlockDistance * p.BlockDistance)
	}
	return own, common
}

// shiftFor finds the non-centrality with which |t| exceeds crit with the chance asked for.
func shiftFor(crit, df, power float64) float64 {
	low, high := 0.0, crit+10
	for beyond(crit, df, high) < power && high < 1e6 {
		high *= 2
	}
	for range 100 {
		m := (low + high) / 2
		if beyond(crit, df, m) < power {
			low = m
		} else {
			high = m
		}
	}
	return (low + high) / 2
}

func (p Plan) check() error {
	for _, c := range []struct {
		name     string
		v, least int
	}{
		{"p.Places", p.Places, 1},
		{"p.Dry", p.Dry, 2},
		{"p.VisitsBefore", p.VisitsBefore, 1},
		{"p.VisitsAfter", p.VisitsAfter, 1},
	} {
		if c.v < c.least {
			return &measure.ArgumentError{Argument: c.name, Why: "is too small a number"}
		}
	}
	if _, err := placements(p.KBefore, p.KAfter); err != nil {
		return &measure.ArgumentError{Argument: "p.KBefore, p.KAfter", Why: "must be 1 to 5 placements"}
	}
	if err := measure.Finite("p.Contrast", p.Contrast); err != nil {
		return err
	}
	if err := measure.Finite("p.BlockDistance", p.BlockDistance); err != nil {
		return err
	}
	if p.BlockDistance < 0 {
		return &measure.ArgumentError{Argument: "p.BlockDistance", Why: "must not be below zero"}
	}
	return nil
}
