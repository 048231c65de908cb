package practice

import (
	"math"
	"slices"

	"boottop.example/practice/domain/measure/coverage"
	"boottop.example/practice/domain/measure/unit"
	"boottop.example/practice/domain/report"
)

// NotSeen is what a pass did not look at.
type NotSeen struct {
	Planned, Read, Void       int
	NotReached                []Unreached
	Silent                    int // places of the plan with neither a reading nor a reason why not
	SpacingAlong, SpacingDown int // mm; 0 where the places make no grid
	Smallest, Certain         int // mm: met nine times in ten, and surely
	Meets                     []Meet
	Windows                   int
	WindowsM2                 float64
	UnderbodyM2               *float64
	Blisters                  int
	BoundPerM2                *float64 // behind a count of zero
	Beside                    *Counted // the windows of the pass held; nil where either bared nothing, or none was seen
	Statements                []Statement
}

// Meet is the chance that the grid meets a round flaw laid at random.
type Meet struct {
	FlawMm int
	Chance float64
}

// Counted is the blisters in the windows of the pass held, and the two-sided chance of two
// counts so far apart if blisters were as dense then as now and spread evenly. Clustered
// ones make it too small.
type Counted struct {
	Blisters int
	M2       float64
	P        float64
}

// flaws are the diameters that a grid is asked about, mm: trade notes, section 6.
var flaws = []int{50, 100, 150, 300, 500}

// Unreached is places that could not be read for one reason.
type Unreached struct {
	Reason string
	Slots  Column
}

// unseen reckons what a pass did not look at.
func (h *History) unseen(p *HistoryPass) NotSeen {
	u := NotSeen{UnderbodyM2: h.UnderbodyM2}
	for k := range h.Axis.IDs {
		switch {
		case p.Taken.At(k) == Null:
			continue
		case max(p.Flags.At(k), 0)&FlagVoid != 0:
			u.Void++
		default:
			u.Read++
		}
	}
	u.NotReached = h.unreached(p)
	for _, plan := range h.Plans {
		if plan.ID == p.PlanID {
			u.Planned, u.Silent = len(plan.Places), u.silent(plan, p)
		}
	}
	u.grid(h.Axis, *p)
	u.bared(h.Windows, p)
	if len(h.Passes) > 0 {
		u.Beside = u.beside(h.Windows, p, &h.Passes[h.held])
	}
	u.say(p)
	return u
}

// silent counts the places of a plan with neither a reading nor a reason why not. What was
// read beside the plan stands for none of them.
func (u *NotSeen) silent(plan PlanLine, p *HistoryPass) (n int) {
	for _, ordinal := range plan.Places {
		told := slices.ContainsFunc(u.NotReached, func(r Unreached) bool { return slices.Contains(r.Slots, ordinal-1) })
		if p.Taken.At(int(ordinal-1)) == Null && !told {
			n++
		}
	}
	return n
}

func (h *History) unreached(p *HistoryPass) (out []Unreached) {
	for _, g := range h.Gaps {
		if g.PassID != p.ID {
			continue
		}
		k := slices.IndexFunc(out, func(u Unreached) bool { return u.Reason == g.Reason })
		if k < 0 {
			out, k = append(out, Unreached{Reason: g.Reason}), len(out)
		}
		out[k].Slots = append(out[k].Slots, g.Ordinal-1)
	}
	slices.SortStableFunc(out, func(a, b Unreached) int { return len(b.Slots) - len(a.Slots) })
	return out
}

// grid says what the places read below the water meet, taken as a regular grid of their
// usual spacing.
func (u *NotSeen) grid(axis Axis, p HistoryPass) {
	along, down := spacing(axis, p, axis.Along, axis.Down), spacing(axis, p, axis.Down, axis.Along)
	if along == 0 || down == 0 {
		return
	}
	u.SpacingAlong, u.SpacingDown = int(along), int(down)
	g := coverage.Grid{Along: unit.Millimetres(along), Down: unit.Millimetres(down)}
	if flaw, err := g.Smallest(0.9); err == nil {
		u.Smallest = int(math.Ceil(float64(flaw)))
	}
	if flaw, err := g.Certain(); err == nil {
		u.Certain = int(math.Ceil(float64(flaw)))
	}
	for _, mm := range flaws {
		if chance, err := g.Chance(unit.Millimetres(mm)); err == nil {
			u.Meets = append(u.Meets, Meet{mm, chance})
		}
	}
}

// beside holds the count of a pass's windows against that of the pass held.
func (u *NotSeen) beside(windows []WindowAt, p, held *HistoryPass) *Counted {
	if held.VisitID == p.VisitID {
		return nil
	}
	var then NotSeen
	then.bared(windows, held)
	c, err := coverage.Compare(u.Blisters, u.WindowsM2, then.Blisters, then.WindowsM2, 1-gateRate)
	if err != nil { // nothing bared, or nothing seen at either
		return nil
	}
	return &Counted{Blisters: then.Blisters, M2: then.WindowsM2, P: c.P}
}

func (u *NotSeen) bared(windows []WindowAt, p *HistoryPass) {
	for _, w := range windows {
		if w.VisitID == p.VisitID {
			u.Windows++
			u.WindowsM2 += float64(w.WidthMm) * float64(w.HeightMm) / 1e6
			u.Blisters += int(w.BlistersSeen)
		}
	}
	if bound, err := coverage.None(u.WindowsM2, 0.95); err == nil && u.Blisters == 0 {
		u.BoundPerM2 = &bound.Upper
	}
}

func (u *NotSeen) say(p *HistoryPass) {
	var s sayings
	var why []report.Reason
	var slots Column
	for _, r := range u.NotReached {
		why, slots = append(why, report.Reason{N: len(r.Slots), Why: r.Reason}), append(slots, r.Slots...)
	}
	if len(why) > 0 || u.Silent == 0 {
		s.add("not-reached", report.NotReached(why), slots, Figure{Code: "not-reached", Value: float64(len(slots)), Unit: "places"})
	}
	switch {
	case u.Silent == 0:
	case p.State == "open":
		s.add("still-to-read", report.StillToRead(u.Silent), nil)
	default:
		s.add("silent", report.Silent(u.Silent), nil)
	}
	switch {
	case u.Windows == 0 && len(p.LostContext) > 0:
		s.add("bared-unknown", report.BaredUnknown(), nil)
	case u.Windows == 0:
		s.add("nothing-bared", report.NothingBared(), nil)
	default:
		bound := 0.0
		if u.BoundPerM2 != nil {
			bound = *u.BoundPerM2
		}
		s.add("windows-seen", report.WindowsSeen(u.WindowsM2, u.Blisters, bound, "", false), nil,
			Figure{Code: "bared", Value: u.WindowsM2, Unit: "m²"}, Figure{Code: "bound", Value: bound, Unit: "per m²"})
	}
	if u.Smallest > 0 {
		s.add("smallest-flaw", report.SmallestFlaw(u.Smallest, report.Units{}), nil, Figure{Code: "smallest", Value: float64(u.Smallest), Unit: "mm"})
	}
	u.Statements = s
}
