package where

import (
	"fmt"
	"math"
	"slices"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/order"
	"boottop.example/practice/domain/measure/unit"
)

// Pair is a port place with its starboard twin.
type Pair struct {
	Port, Starboard int     // indices of the places
	Apart           float64 // how far the twin lies from the mirrored place, mm
	Low, High       float64 // port less starboard, scale units; equal unless a reading met a limit
	Z               float64 // how far from the middle difference, in robust scatters; of the bound nearest to it
	Flagged         bool    // beyond 3.5, whatever a limit hides
}

// Mirror is what port and starboard say of each other. Their difference cancels layup,
// coating and most of the weather, though not sun or wind on one side.
type Mirror struct {
	Pairs    []Pair
	Middle   float64 // median difference, scale units: a side that is high all over
	Scatter  float64 // 1.4826 × MAD of the differences
	Unpaired []int   // places off the centreline without a twin within reach
	Notes    []measure.Note
}

// leastPairs is how many pairs a scatter takes. Own default, no source: with five, the
// MAD rests on two differences.
const leastPairs = 6

// Mirrors pairs places across the centreline and flags the pairs that differ unusually:
// modified z beyond 3.5 (Iglewicz and Hoaglin 1993).
//
//	places  n places
//	values  their readings, limits carried
//	within  how far a twin may lie from the exact mirror place, mm
//	step    smallest step of the scale, in scale units
//
// A reading at a limit makes its difference half open. It enters median and scatter by
// order, and the pair is flagged only if the whole of what is known lies beyond.
//
// Errors: lengths that differ, places, values or step that cannot be used.
func Mirrors(places []Place, values []measure.Value, within unit.Millimetres, step float64) (Mirror, error) {
	if err := checkLength("values", len(values), len(places)); err != nil {
		return Mirror{}, err
	}
	if err := order.CheckValues("values", values); err != nil {
		return Mirror{}, err
	}
	if err := checkPlaces(places); err != nil { // before sides are parted and indices change
		return Mirror{}, err
	}
	if !(step >= 0) || math.IsInf(step, 1) {
		return Mirror{}, &measure.ArgumentError{Argument: "step", Why: "must be finite and not below zero"}
	}
	var port, starboard []int
	var a, b []Place
	for i, p := range places {
		switch p.Side {
		case Port:
			port, a = append(port, i), append(a, p.Mirrored())
		case Starboard:
			starboard, b = append(starboard, i), append(b, p)
		}
	}
	m, err := Match(a, b, within)
	if err != nil {
		return Mirror{}, err
	}
	out := Mirror{}
	for _, c := range m.Pairs {
		i, j := port[c.A], starboard[c.B]
		d := order.SpanOf(values[i]).Minus(order.SpanOf(values[j]))
		out.Pairs = append(out.Pairs, Pair{Port: i, Starboard: j, Apart: c.Apart, Low: d.Low.Units(), High: d.High.Units()})
	}
	for _, i := range m.OnlyA {
		out.Unpaired = append(out.Unpaired, port[i])
	}
	for _, j := range m.OnlyB {
		out.Unpaired = append(out.Unpaired, starboard[j])
	}
	slices.Sort(out.Unpaired)
	out.flag(step)
	return out, nil
}

// flag finds the middle and scatter of the differences, by order where readings met a
// limit, and marks the unusual pairs.
func (m *Mirror) flag(step float64) {
	known := m.differences()
	if len(known) < leastPairs {
		m.Notes = append(m.Notes, measure.Note{Code: "too-few-pairs", Text: fmt.Sprintf("%d mirror pairs, %d of them with a known difference; it takes %d to say which is unusual.", len(m.Pairs), len(known), leastPairs)})
		return
	}
	centre, err1 := order.MedianOf(known)
	spread, err2 := order.MADOf(known, centre)
	low, high := centre.Low.Units(), centre.High.Units()
	if err1 != nil || err2 != nil || math.IsInf(low, 0) || math.IsInf(high, 0) || math.IsInf(spread.High, 0) {
		m.Notes = append(m.Notes, measure.Note{Code: "limits-hide-middle", Text: "So many readings met the end of the scale that the usual difference between the sides is not known."})
		return
	}
	m.Middle = low/2 + high/2
	m.Scatter = order.Scale * max(spread.High, step/2)
	if m.Scatter == 0 {
		m.Notes = append(m.Notes, measure.Note{Code: "no-scatter", Text: "More than half of the differences are equal and no step of the scale was given: none can be called unusual."})
		return
	}
	if open := len(m.Pairs) - len(known); open > 0 {
		m.Notes = append(m.Notes, measure.Note{Code: "limits-both-sides", Text: fmt.Sprintf("In %d pairs both readings met the end of the scale: nothing is known of their difference.", open)})
	}
	for i := range m.Pairs {
		p := &m.Pairs[i]
		switch {
		case p.Low > high:
			p.Z = (p.Low - high) / m.Scatter
		case p.High < low:
			p.Z = (p.High - low) / m.Scatter
		}
		p.Flagged = math.Abs(p.Z) > order.FlagAbove
	}
}

// differences gives the differences as values of the scale, half open ones as limits; a
// pair with nothing known is left out.
func (m *Mirror) differences() []measure.Value {
	var ds []measure.Value
	for _, p := range m.Pairs {
		low, high := twentieths(p.Low), twentieths(p.High)
		switch {
		case math.IsInf(p.Low, 0) && math.IsInf(p.High, 0):
		case math.IsInf(p.Low, 0):
			ds = append(ds, measure.Value{At: high, Limit: measure.Below})
		case math.IsInf(p.High, 0):
			ds = append(ds, measure.Value{At: low, Limit: measure.Above})
		case low == high:
			ds = append(ds, measure.Value{At: low})
		default:
			ds = append(ds, measure.Value{At: low/2 + high/2, Limit: measure.Range, Low: low, High: high})
		}
	}
	return ds
}

// twentieths is exact: differences of readings are whole twentieths.
func twentieths(units float64) measure.Twentieth {
	if math.IsInf(units, 0) {
		return 0
	}
	return measure.Twentieth(math.Round(20 * units))
}
