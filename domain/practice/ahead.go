package practice

import (
	"slices"

	"github.com/google/uuid"

	"boottop.example/practice/domain/measure/change"
	"boottop.example/practice/domain/measure/course"
	"boottop.example/practice/domain/measure/order"
)

// Outlook is what one more visit, read like the pass held, could show; scale units.
type Outlook struct {
	change.Outlook
	Places, DryPlaces, Placements int
	Statements                    []Statement
}

// Course is the like visits in a row, by the median contrast over the places common to all.
type Course struct {
	course.Trend
	Visits     []uuid.UUID
	Places     int
	Medians    []float64
	LeftOut    int // like passes that the client of the pass held may not be told of
	Statements []Statement
}

// aheadPower is the chance with which a true change is to be shown at the next visit.
const aheadPower = 0.8

// ahead reckons what the next visit could show; nil until the components are measured.
func (h *History) ahead(p *HistoryPass) *Outlook {
	c := of(h.Components, p.PassContext)
	if c.Group == "" || len(c.Missing) > 0 {
		return nil
	}
	var out Outlook
	k := placed{}
	for slot := range h.Axis.IDs {
		switch flags := max(p.Flags.At(slot), 0); {
		case p.Taken.At(slot) == Null || flags&(FlagVoid|FlagOtherSurface) != 0:
		case flags&FlagDry != 0:
			out.DryPlaces++
		case h.Axis.Down.At(slot) > 0 && flags&FlagTargeted == 0:
			out.Places++
			k.count(p.Placed.At(slot), p.Placed.At(slot))
		}
	}
	out.Placements, _ = k.usual()
	plan := change.Plan{
		Places: out.Places, Dry: out.DryPlaces, KBefore: out.Placements, KAfter: out.Placements, VisitsBefore: 1, VisitsAfter: 1,
	}
	if m := medianAbove(*p, h.Axis); m != nil {
		plan.Contrast = *m
	}
	var err error
	if out.Outlook, err = change.Ahead(c.Components, plan, aheadPower, placeRate); err != nil || out.DryPlaces < leastDry {
		return nil // too few places, or dry places, to compare anything with
	}
	out.say()
	return &out
}

// course sets the like visits up to the pass held in a row; nil where there is but one.
// Visits, not passes: of several passes of one visit the last stands for it. What the client
// of the pass held may not be told of is left out and counted, since a course is put into words.
func (h *History) course(held int) *Course {
	var like []*HistoryPass
	left := 0
	for k := range h.Passes {
		p := &h.Passes[k]
		if k > held || !p.Standing.compares() && k != held || len(p.Lost) > 0 || p.Lowered != nil {
			continue
		}
		if !p.tellable(h.Passes[held].JobID, h.Passes[held].ClientID) {
			left++
			continue
		}
		if n := len(like); n > 0 && like[n-1].VisitID == p.VisitID {
			like = like[:n-1]
		}
		like = append(like, p)
	}
	if len(like) < 2 || !slices.Contains(like, &h.Passes[held]) {
		return nil
	}
	c := &Course{LeftOut: left}
	slots := h.common(like)
	c.Places = len(slots)
	if len(slots) == 0 {
		return nil
	}
	var t []float64
	for _, p := range like {
		above := make([]float64, len(slots))
		for i, k := range slots {
			above[i] = float64(p.Contrasts[k]) / 20
		}
		m, _ := order.Middle(above)
		c.Visits, c.Medians, t = append(c.Visits, p.ID), append(c.Medians, m), append(t, p.BeganAt.Sub(like[0].BeganAt).Hours()/24)
	}
	trend, err := course.MannKendall(t, c.Medians, 1-gateRate)
	if err != nil {
		return nil
	}
	c.Trend = trend
	c.say()
	return c
}

// common lists the slots of the underbody that hold a number in every pass and whose
// coating and laminate are those of the first.
func (h *History) common(passes []*HistoryPass) (slots []int) {
	recoated := func(k int) bool {
		for i := 1; i < len(passes); i++ {
			if h.recoated(k, passes[i-1], passes[i]) {
				return true
			}
		}
		return false
	}
	for k := range h.Axis.IDs {
		if h.Axis.Down.At(k) > 0 && !recoated(k) && !slices.ContainsFunc(passes, func(p *HistoryPass) bool {
			return p.Contrasts.At(k) == Null || p.Flags.At(k)&(unfit|FlagDry|FlagTargeted) != 0
		}) {
			slots = append(slots, k)
		}
	}
	return slots
}
