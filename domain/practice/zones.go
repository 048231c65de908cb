package practice

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain/measure/change"
	"boottop.example/practice/domain/measure/order"
	"boottop.example/practice/domain/measure/unit"
	"boottop.example/practice/domain/measure/where"
)

// drawn is a layer with its outline ready for asking what lies on it.
type drawn struct {
	Layer
	corners [][2]int32 // along, down; none for the whole part
}

func draw(layers []Layer) []drawn {
	out := make([]drawn, len(layers))
	for k, l := range layers {
		out[k].Layer = l
		_ = json.Unmarshal(l.Outline, &out[k].corners) // checked when it was kept
	}
	return out
}

// there tells whether a layer was there on a day.
func (l drawn) there(at time.Time) bool {
	return (l.ValidFrom == nil || !at.Before(*l.ValidFrom)) && (l.ValidTo == nil || at.Before(*l.ValidTo))
}

// covers tells whether a place lies on a layer: within its outline, by the even-odd rule.
func (l drawn) covers(a Axis, k int) bool {
	if l.ElementID != a.Elements[k] || l.Side != nil && *l.Side != a.Sides[k] {
		return false
	}
	if len(l.corners) == 0 {
		return true
	}
	x, y, in := float64(a.Along.At(k)), float64(a.Down.At(k)), false
	for i, j := 0, len(l.corners)-1; i < len(l.corners); j, i = i, i+1 {
		xi, yi := float64(l.corners[i][0]), float64(l.corners[i][1])
		xj, yj := float64(l.corners[j][0]), float64(l.corners[j][1])
		if (yi > y) != (yj > y) && x < (xj-xi)*(y-yi)/(yj-yi)+xi {
			in = !in
		}
	}
	return in
}

// recoated tells whether the coating or the laminate at a place is another at the later pass.
func (h *History) recoated(k int, before, after *HistoryPass) bool {
	return slices.ContainsFunc(h.Layers, func(l drawn) bool {
		return l.Kind != "behind" && l.there(before.BeganAt) != l.there(after.BeganAt) && l.covers(h.Axis, k)
	})
}

// construction names what each place is made of where the map outlines it: places of
// unlike construction are not averaged.
func (h *History) construction(p *HistoryPass) []string {
	out := make([]string, len(h.Axis.IDs))
	for _, l := range h.Layers {
		if l.Kind != "construction" || len(l.corners) == 0 || !l.there(p.BeganAt) {
			continue
		}
		for k := range out {
			if l.covers(h.Axis, k) {
				out[k] = l.What
			}
		}
	}
	return out
}

// zones names the zone of every place below the water on a part: its side, and aft,
// amidships or forward by thirds of the length that places cover.
func (a Axis) zones(element uuid.UUID, construction []string) []string {
	aft, fore := int32(math.MaxInt32), int32(math.MinInt32)
	below := func(k int) bool { return a.Elements[k] == element && a.Down.At(k) > 0 }
	for k := range a.IDs {
		if below(k) {
			aft, fore = min(aft, a.Along[k]), max(fore, a.Along[k])
		}
	}
	out := make([]string, len(a.IDs))
	for k := range out {
		if !below(k) {
			continue
		}
		third := 1
		if fore > aft {
			third = min(2, int(3*int64(a.Along[k]-aft)/int64(fore-aft)))
		}
		out[k] = a.Sides[k] + " " + thirds[third]
		if construction[k] != "" {
			out[k] += ", " + construction[k]
		}
	}
	return out
}

var thirds = [3]string{"aft", "amidships", "forward"}

// zoneOrder puts zones from aft, port first.
func zoneOrder(zones map[string]change.Verdict) []string {
	rank := func(name string) (n int) {
		side, rest, _ := strings.Cut(name, " ")
		n = 10 * slices.Index([]string{"port", "centre", "starboard"}, side)
		head, _, _ := strings.Cut(rest, ",")
		return n + slices.Index(thirds[:], head)
	}
	names := make([]string, 0, len(zones))
	for name := range zones {
		names = append(names, name)
	}
	slices.SortFunc(names, func(x, y string) int {
		if d := rank(x) - rank(y); d != 0 {
			return d
		}
		return strings.Compare(x, y)
	})
	return names
}

// ChangedArea is changed places that touch.
type ChangedArea struct {
	About   string // "port 13"
	Slots   Column
	By      float64 // median difference, scale units
	Matches string  // what lies behind most of it
	Around  string  // what it lies around
}

// changedAreas gathers the changed places of one sign that are neighbours on the skin.
func (c *comparing) changedAreas() []ChangedArea {
	var rose, fell []int
	for _, k := range c.slots {
		switch {
		case c.gate.Verdicts[k] != int32(change.Changed):
		case c.gate.Differences[k] > 0:
			rose = append(rose, k)
		default:
			fell = append(fell, k)
		}
	}
	var out []ChangedArea
	for _, group := range slices.Concat(c.h.Axis.touching(rose, c.spacing()), c.h.Axis.touching(fell, c.spacing())) {
		out = append(out, c.area(group))
	}
	slices.SortStableFunc(out, func(a, b ChangedArea) int { return len(b.Slots) - len(a.Slots) })
	return out
}

func (c *comparing) spacing() [2]int32 {
	p := *c.after
	return [2]int32{spacing(c.h.Axis, p, c.h.Axis.Along, c.h.Axis.Down), spacing(c.h.Axis, p, c.h.Axis.Down, c.h.Axis.Along)}
}

func (c *comparing) area(group []int) (area ChangedArea) {
	var by []float64
	for _, k := range group {
		area.Slots, by = append(area.Slots, int32(k)), append(by, float64(c.gate.Differences[k])/20)
	}
	area.By, _ = order.Middle(by)
	area.About = c.h.Axis.about(area.Slots)
	area.Matches, area.Around = c.h.lies(area.Slots, c.after.BeganAt)
	return area
}

// about names an area by its side and the middle of its stations: port 13.
func (a Axis) about(slots Column) string {
	stations := make([]int32, 0, len(slots))
	for _, k := range slots {
		if s := a.Stations.At(int(k)); s != Null {
			stations = append(stations, s)
		}
	}
	side := a.Sides[slots[0]]
	if len(stations) == 0 {
		return side + " " + a.Labels[slots[0]]
	}
	slices.Sort(stations)
	return fmt.Sprintf("%s %d", side, stations[len(stations)/2])
}

// around is how near a fitting counts as lying in an area, mm.
const around = 500

// lies says what the map draws behind most of an area, or what it lies around.
func (h *History) lies(slots Column, at time.Time) (matches, around_ string) {
	best := 0
	for _, l := range h.Layers {
		if l.Kind != "behind" || !l.there(at) {
			continue
		}
		n := 0
		for _, k := range slots {
			if len(l.corners) > 2 && l.covers(h.Axis, int(k)) {
				n++
			}
			if len(l.corners) == 1 && around_ == "" && l.near(h.Axis, int(k)) {
				around_ = "the " + l.What
			}
		}
		if n > best && 2*n > len(slots) {
			best, matches = n, "the "+l.What
		}
	}
	return matches, around_
}

// near tells whether a place lies within reach of what is drawn as a single point.
func (l drawn) near(a Axis, k int) bool {
	if l.ElementID != a.Elements[k] || l.Side != nil && *l.Side != a.Sides[k] {
		return false
	}
	return math.Hypot(float64(l.corners[0][0]-a.Along.At(k)), float64(l.corners[0][1]-a.Down.At(k))) <= around
}

// touching parts slots into groups of neighbours on the skin of one side.
func (a Axis) touching(slots []int, spacing [2]int32) [][]int {
	if len(slots) == 0 {
		return nil
	}
	places := make([]where.Place, len(slots))
	for i, k := range slots {
		// Sides are told apart far off: an area is named by one side.
		places[i] = where.Place{Side: sideOf(a.Sides[k]), Along: unit.Millimetres(a.Along[k]), Down: unit.Millimetres(a.Down[k]), Keel: 1e5}
	}
	graph, err := where.Joined(places, where.ReachOver(unit.Millimetres(max(spacing[0], 1)), unit.Millimetres(max(spacing[1], 1))))
	if err != nil {
		return [][]int{slots}
	}
	seen := make([]bool, len(slots))
	var out [][]int
	for i := range slots {
		if !seen[i] {
			out = append(out, gathered(graph, slots, seen, i))
		}
	}
	return out
}

// gathered walks from one place to all that join it.
func gathered(graph *where.Graph, slots []int, seen []bool, from int) (group []int) {
	seen[from] = true
	next := []int{from}
	for len(next) > 0 {
		i := next[0]
		next, group = next[1:], append(group, slots[i])
		for _, j := range graph.Neighbours(i) {
			if !seen[j] {
				seen[j], next = true, append(next, int(j))
			}
		}
	}
	slices.Sort(group)
	return group
}

func sideOf(side string) where.Side {
	switch side {
	case "port":
		return where.Port
	case "starboard":
		return where.Starboard
	}
	return where.Centre
}

// separation is how far readings differ over a distance on the skin, from the later
// pass's own field; nil where no place has a doubt of position.
type separation struct{ model where.Variogram }

func (c *comparing) separation() *separation {
	a := c.h.Axis
	if !slices.ContainsFunc(a.Errors, func(e int32) bool { return e > 0 }) {
		return nil
	}
	var points []where.Point
	var y []float64
	for k := range a.IDs {
		v, ok := c.after.value(k)
		if ok && v.Limit == 0 && a.Down.At(k) > 0 && c.after.Flags.At(k)&FlagDry == 0 {
			points = append(points, where.Point{X: float64(a.Along[k]), Y: float64(sideOf(a.Sides[k])) * (1e5 - float64(a.Down[k]))})
			y = append(y, v.At.Units())
		}
	}
	lags, err := where.SampleVariogram(points, y)
	if err != nil {
		return nil
	}
	model, err := where.FitVariogram(lags, where.Spherical)
	if err != nil {
		return nil
	}
	return &separation{model}
}

// of is the standard deviation of a difference between a place and a record of it that
// may lie so many millimetres off: √2(γ(h) − nugget), which repeatability already holds.
func (s *separation) of(mm float64) float64 {
	if s == nil || mm <= 0 {
		return 0
	}
	return math.Sqrt(2 * max(0, s.model.Gamma(mm)-s.model.Nugget))
}

// dryBehind warns of dry places that lie over what the map draws behind the skin: they are to
// be clear of it (trade notes, section 4), and only a person knows whether it reads through.
func (h *History) dryBehind(p *HistoryPass) (Warning, bool) {
	var what []string
	over, dry := 0, 0
	for k := range h.Axis.IDs {
		if max(p.Flags.At(k), 0)&FlagDry == 0 {
			continue
		}
		dry++
		behind := h.behind(k, p.BeganAt)
		if len(behind) > 0 {
			over++
		}
		what = append(what, behind...)
	}
	slices.Sort(what)
	return Warning{"dry-behind", fmt.Sprintf("%d of %d dry places lie over what is behind the skin (%s): the baseline may stand higher than the skin alone.", over, dry, strings.Join(slices.Compact(what), ", "))}, over > 0
}

// behind names what the map drew behind a place on a day.
func (h *History) behind(k int, at time.Time) (what []string) {
	for _, l := range h.Layers {
		if l.Kind == "behind" && len(l.corners) > 2 && l.there(at) && l.covers(h.Axis, k) {
			what = append(what, l.What)
		}
	}
	return what
}
