package practice

import (
	"cmp"
	"encoding/binary"
	"encoding/json"
	"math"
	"slices"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/order"
	"boottop.example/practice/domain/measure/unit"
	"boottop.example/practice/domain/measure/where"
)

// Settings of the search for patches. Own choices, no source, but for the first.
const (
	patchAt     = 0.05 // chance of so heavy a cluster among shuffled places (common practice, no source)
	fittingCut  = 2.5  // z from which a single place at a fitting stands out
	mirrorCut   = 2    // z that the higher place of a flagged pair needs
	fittingMm   = 400  // how far from a fitting a place is still at it
	overlapPart = 0.5  // share of a patch and of what lies behind it that must coincide to match
)

// skin is the underbody of one pass as the search for patches takes it: places read, row
// and region medians taken out.
type skin struct {
	axis   Axis
	pass   *HistoryPass
	slots  []int       // of the axis, by index
	at     map[int]int // index, by slot
	values []float64   // scale units
	left   where.Left
	graph  *where.Graph
	mirror []int // index of the twin, -1 without one
	pairs  where.Mirror
	along  int32 // spacing, mm
	down   int32
}

// patch is places that stand out together, or where something was found.
type patch struct {
	slots []int
	z     float64 // median
	by    float64 // median residual, scale units
	found bool    // not by readings: something was found there
}

// skinOf takes the underbody of a pass; nil where too few places were read.
func skinOf(axis Axis, p *HistoryPass, layers []lying) *skin {
	s := &skin{axis: axis, pass: p, at: map[int]int{}}
	var values []measure.Value
	for k := range axis.IDs {
		v, ok := p.value(k)
		if !ok || axis.Elements[k] != p.ElementID || axis.Down[k] <= 0 || p.Flags.At(k)&(FlagDry|FlagOtherSurface) != 0 {
			continue
		}
		s.at[k] = len(s.slots)
		s.slots, s.values, values = append(s.slots, k), append(s.values, v.At.Units()), append(values, v)
	}
	if len(s.slots) < 12 {
		return nil
	}
	s.along, s.down = apart(axis.Along, s.slots), apart(axis.Down, s.slots)
	step := max(float64(p.StepTenths)/10, 0.1)
	region, row := s.regions(layers), make([]int, len(s.slots))
	for i, k := range s.slots {
		row[i] = int(axis.Down[k] / s.down)
	}
	places := s.places()
	var err error
	if s.left, err = where.TakeOut(s.values, region, row, step); err != nil {
		return nil
	}
	if s.graph, err = where.Joined(places, where.ReachOver(unit.Millimetres(s.along), unit.Millimetres(s.down))); err != nil {
		return nil
	}
	if s.pairs, err = where.Mirrors(places, values, mirrorWithin, step); err != nil {
		return nil
	}
	s.mirror = slices.Repeat([]int{-1}, len(s.slots))
	for _, pair := range s.pairs.Pairs {
		s.mirror[pair.Port], s.mirror[pair.Starboard] = pair.Starboard, pair.Port
	}
	return s
}

// apart is the median distance between neighbouring stations or rows.
func apart(at Column, slots []int) int32 {
	var list []int32
	for _, k := range slots {
		list = append(list, at[k])
	}
	slices.Sort(list)
	var gaps []int32
	for k := 1; k < len(list); k++ {
		if d := list[k] - list[k-1]; d > mirrorWithin {
			gaps = append(gaps, d)
		}
	}
	if len(gaps) == 0 {
		return 500
	}
	slices.Sort(gaps)
	return gaps[len(gaps)/2]
}

// places lays the skin out; the keel is half a row below the lowest place of a station.
func (s *skin) places() []where.Place {
	lowest := map[int32]int32{}
	for _, k := range s.slots {
		station := s.axis.Along[k] / s.along
		lowest[station] = max(lowest[station], s.axis.Down[k])
	}
	sides := map[string]where.Side{"port": where.Port, "starboard": where.Starboard}
	out := make([]where.Place, len(s.slots))
	for i, k := range s.slots {
		keel := lowest[s.axis.Along[k]/s.along] + s.down/2
		out[i] = where.Place{Side: sides[s.axis.Sides[k]], Along: unit.Millimetres(s.axis.Along[k]), Down: unit.Millimetres(s.axis.Down[k]), Keel: unit.Millimetres(keel)}
	}
	return out
}

// regions numbers the parts of like construction.
func (s *skin) regions(layers []lying) []int {
	out, number := make([]int, len(s.slots)), map[string]int{}
	for i, k := range s.slots {
		key := ""
		for _, l := range layers {
			if l.Kind == "construction" && len(l.outline) > 0 && l.covers(s.axis, k) {
				key += l.ID.String()
			}
		}
		if _, seen := number[key]; !seen {
			number[key] = len(number)
		}
		out[i] = number[key]
	}
	return out
}

// patches finds what stands out: clusters by their mass, the higher places of flagged
// mirror pairs, single high places at a fitting; touching ones are one patch.
func (s *skin) patches(layers []lying) []patch {
	stands := make([]bool, len(s.slots))
	found, err := where.Find(s.graph, s.left.Z, where.ClusterDefaults(binary.BigEndian.Uint64(s.pass.ID[8:])))
	if err == nil {
		for _, c := range found.Found {
			for _, i := range c.Places {
				stands[i] = stands[i] || c.P <= patchAt
			}
		}
	}
	for _, p := range s.pairs.Pairs {
		high := p.Port
		if p.High < s.pairs.Middle {
			high = p.Starboard
		}
		stands[high] = stands[high] || p.Flagged && s.left.Z[high] >= mirrorCut
	}
	for i, k := range s.slots {
		if _, near := fittingAt(layers, s.axis, k); near && s.left.Z[i] >= fittingCut {
			stands[i] = true
		}
	}
	return s.joined(stands)
}

func (s *skin) joined(stands []bool) (out []patch) {
	seen := make([]bool, len(stands))
	for i := range stands {
		if !stands[i] || seen[i] {
			continue
		}
		var p patch
		for queue := []int{i}; len(queue) > 0; queue = queue[1:] {
			if seen[queue[0]] {
				continue
			}
			seen[queue[0]] = true
			p.slots = append(p.slots, s.slots[queue[0]])
			for _, n := range s.graph.Neighbours(queue[0]) {
				if stands[n] && !seen[n] {
					queue = append(queue, int(n))
				}
			}
		}
		slices.Sort(p.slots)
		s.weigh(&p)
		out = append(out, p)
	}
	slices.SortStableFunc(out, func(a, b patch) int { return cmp.Compare(b.mass(), a.mass()) })
	return out
}

func (p patch) mass() float64 { return p.z * float64(len(p.slots)) }

// weigh takes the medians of the places that were read.
func (s *skin) weigh(p *patch) {
	var z, by []float64
	for _, i := range s.read(*p) {
		z, by = append(z, s.left.Z[i]), append(by, s.left.Residual[i])
	}
	p.z, p.by = middleOf(z), middleOf(by)
}

// high tells whether the readings of a patch stand out at all.
func (p patch) high() bool { return p.z >= mirrorCut }

// low tells whether a patch was read and does not; one that was not read is neither.
func (p patch) low() bool { return p.z < mirrorCut }

// read gives the indices of the places of a patch that were read: a finding may lie where
// nobody set the instrument down.
func (s *skin) read(p patch) (out []int) {
	for _, k := range p.slots {
		if i, is := s.at[k]; is {
			out = append(out, i)
		}
	}
	return out
}

// middleOf is the median, NaN without values.
func middleOf(x []float64) float64 {
	m, err := order.Middle(x)
	if err != nil {
		return math.NaN()
	}
	return m
}

// near tells whether a place lies in the patch or beside it.
func (p patch) near(s *skin, axis Axis, slot int) bool {
	reachAlong, reachDown := int32(800), int32(480)
	if s != nil {
		reachAlong, reachDown = s.along*8/5, s.down*8/5
	}
	return slices.ContainsFunc(p.slots, func(k int) bool {
		return axis.Elements[k] == axis.Elements[slot] && axis.Sides[k] == axis.Sides[slot] &&
			abs(axis.Along[k]-axis.Along[slot]) <= reachAlong && abs(axis.Down[k]-axis.Down[slot]) <= reachDown
	})
}

// lying is a layer of the element with its outline read.
type lying struct {
	Layer
	outline [][2]int32
}

func lyingOf(layers []Layer, at HistoryPass) []lying {
	var out []lying
	for _, l := range layers {
		x := lying{Layer: l}
		if json.Unmarshal(l.Outline, &x.outline) != nil || l.ElementID != at.ElementID ||
			l.ValidFrom != nil && l.ValidFrom.After(at.BeganAt) || l.ValidTo != nil && l.ValidTo.Before(at.BeganAt) {
			continue
		}
		out = append(out, x)
	}
	return out
}

// onSide tells whether the layer lies on the side of a place.
func (l lying) onSide(a Axis, slot int) bool { return l.Side == nil || *l.Side == a.Sides[slot] }

// covers tells whether the layer lies over a place; without an outline it covers all.
func (l lying) covers(a Axis, slot int) bool {
	if !l.onSide(a, slot) {
		return false
	}
	if len(l.outline) == 0 {
		return true
	}
	x, y := float64(a.Along[slot]), float64(a.Down[slot])
	inside := false
	for i, j := 0, len(l.outline)-1; i < len(l.outline); j, i = i, i+1 {
		xi, yi, xj, yj := float64(l.outline[i][0]), float64(l.outline[i][1]), float64(l.outline[j][0]), float64(l.outline[j][1])
		if (yi > y) != (yj > y) && x < (xj-xi)*(y-yi)/(yj-yi)+xi {
			inside = !inside
		}
	}
	return inside
}

// fitting tells whether the layer is a spot: something that goes through the skin.
func (l lying) fitting() bool { return l.Kind == "behind" && len(l.outline) == 1 }

// away is how far a place lies from a fitting, mm.
func (l lying) away(a Axis, slot int) float64 {
	return math.Hypot(float64(a.Along[slot]-l.outline[0][0]), float64(a.Down[slot]-l.outline[0][1]))
}

// fittingAt finds the nearest fitting that a place lies at.
func fittingAt(layers []lying, a Axis, slot int) (best lying, ok bool) {
	least := float64(fittingMm)
	for _, l := range layers {
		if l.fitting() && l.onSide(a, slot) && l.away(a, slot) <= least {
			best, least, ok = l, l.away(a, slot), true
		}
	}
	return best, ok
}
