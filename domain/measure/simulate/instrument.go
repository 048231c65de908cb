package simulate

import (
	"math"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/unit"
)

// Instrument is an invented moisture meter on a relative scale: no real one.
type Instrument struct {
	Name  string
	Depth unit.Millimetres // its sensing falls off as exp(−x/Depth)
	// It reads Bare units on laminate without water and Full more on saturated.
	Bare, Full float64
	// Curve bends its answer to the level of water: 1 is straight, 4 leaves a wall
	// in balance with ordinary air near the low end, as on real topsides.
	Curve float64
	// Ends of its scale, in units, and the step it is read in, in tenths.
	Low, High float64
	Step      int
	Placement float64 // scatter between placements, standard deviation, units
	// Blocks are what it reads on its low and its high reference block.
	Blocks [2]float64
}

// DeepSensing is the demo's deep-sensing instrument, scale 0 to 100 in whole units.
func DeepSensing(name string) Instrument {
	return Instrument{Name: name, Depth: 8, Bare: 4, Full: 46, Curve: 4, High: 100, Step: 10, Placement: 1.1, Blocks: [2]float64{12, 61}}
}

// ShallowSensing is the demo's shallow-sensing instrument, scale 0 to 100 in tenths.
func ShallowSensing(name string) Instrument {
	return Instrument{Name: name, Depth: 2, Bare: 3, Full: 42, Curve: 4, High: 100, Step: 1, Placement: 0.9, Blocks: [2]float64{9, 55}}
}

func (m Instrument) check() error {
	if err := measure.Finite("Instrument", m.Bare, m.Full, m.Low, m.High, m.Placement, m.Blocks[0], m.Blocks[1]); err != nil {
		return err
	}
	for _, x := range []struct {
		name string
		v    float64
	}{{"Instrument.Depth", float64(m.Depth)}, {"Instrument.Curve", m.Curve}} {
		if err := measure.Positive(x.name, x.v); err != nil {
			return err
		}
	}
	if m.Step < 1 || m.Low >= m.High || m.Placement < 0 || math.Abs(m.Low) > 1e6 || math.Abs(m.High) > 1e6 {
		return &measure.ArgumentError{Argument: "Instrument", Why: "must have Step ≥ 1, Low < High within a million and Placement ≥ 0"}
	}
	return nil
}

// Placement is one setting-down as it was written: tenths of a scale unit, or the
// end of the scale that was met.
type Placement struct {
	Tenths int32
	Limit  measure.Limit
}

// Value is the placement as the rest of the arithmetic takes it.
func (p Placement) Value() measure.Value {
	return measure.Value{At: measure.FromTenths(p.Tenths), Limit: p.Limit}
}

// write turns a signal into what a hand writes down.
func (m Instrument) write(units float64) Placement {
	switch {
	case units < m.Low:
		return Placement{int32(math.Round(m.Low * 10)), measure.Below}
	case units > m.High:
		return Placement{int32(math.Round(m.High * 10)), measure.Above}
	}
	step := float64(m.Step)
	tenths := math.Round(units*10/step) * step
	return Placement{int32(math.Round(min(m.High*10, max(m.Low*10, tenths)))), measure.Exact}
}
