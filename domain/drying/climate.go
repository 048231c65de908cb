package drying

import (
	"math"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/air"
	"boottop.example/practice/domain/measure/diffusion"
	"boottop.example/practice/domain/measure/unit"
)

// Air is what a sensor said once.
type Air struct {
	Days        float64 // since drying began
	Temperature float64 // °C
	Humidity    float64 // percent, relative
}

// Climate is a stretch of air summed up, and the floor it sets to first order.
type Climate struct {
	N                     int
	From, To              float64 // days since drying began
	Temperature, Humidity float64 // means, °C and percent
	Driest, Dampest       float64 // percent
	DewPoint              float64 // mean, °C
	Floor                 float64 // share of saturation that this air lets the wall come down to
}

// Sum sums up some records of one air; ok is false where there is none. The floor is the
// humidity's share of saturation: a straight line, to first order (trade: computed, and
// only for laminate that holds no salts or glycol, which hold more).
func Sum(list []Air) (c Climate, ok bool) {
	if len(list) == 0 {
		return Climate{}, false
	}
	c = Climate{N: len(list), From: math.Inf(1), To: math.Inf(-1), Driest: math.Inf(1), Dampest: math.Inf(-1)}
	dew := 0
	for _, a := range list {
		c.From, c.To = min(c.From, a.Days), max(c.To, a.Days)
		c.Driest, c.Dampest = min(c.Driest, a.Humidity), max(c.Dampest, a.Humidity)
		c.Temperature += a.Temperature / float64(len(list))
		c.Humidity += a.Humidity / float64(len(list))
		if d, err := air.DewPoint(unit.Celsius(a.Temperature), unit.Humidity(a.Humidity)); err == nil {
			c.DewPoint += float64(d)
			dew++
		}
	}
	if dew > 0 {
		c.DewPoint /= float64(dew)
	}
	c.Floor = c.Humidity / 100
	return c, true
}

// Inside is what the inner face of the wall meets.
type Inside string

// What the inner face may meet.
const (
	InsideUnknown Inside = ""
	InsideDry     Inside = "no water"
	InsideWet     Inside = "water stands there"
)

// Physics is what diffusion through a plain wall says of this air: a band in weeks, wide
// on purpose, and the floor with what stands inside.
type Physics struct {
	Wall  float64          // mm
	Floor float64          // mean share of saturation that no waiting passes
	Half  measure.Estimate // days until half of what can leave has left; +Inf where none can
	Depth measure.Estimate // mm, half-dried depth by now
}

// Through computes what diffusion says of a bare laminate in steady air.
//
//	wall     thickness, mm
//	c        the air it dries in
//	inside   what the inner face meets; unknown is taken as sealed
//	days     since drying began
//
// Fick's law with diffusivities from memory, 0.3 to 3e-12 m²/s at 20 °C
// (diffusion.PolyesterLaminate): a band, and no interval of stated coverage.
//
// Errors: *measure.ArgumentError for a wall or an air that cannot be.
func Through(wall float64, c Climate, inside Inside, days float64) (Physics, error) {
	d := diffusion.PolyesterLaminate()
	w, err := diffusion.NewWall(diffusion.Layer{Thickness: unit.Millimetres(wall), D: d.Typical, ActivationEnergy: d.ActivationEnergy})
	if err != nil {
		return Physics{}, err
	}
	e := diffusion.Exposure{At: unit.Celsius(c.Temperature), Outside: diffusion.Air(unit.Humidity(c.Humidity)), Inside: diffusion.Sealed()}
	if inside == InsideWet {
		e.Inside = diffusion.Wet()
	}
	steady, err := w.Steady(e)
	if err != nil {
		return Physics{}, err
	}
	p := Physics{Wall: wall}
	if p.Floor, err = w.Mean(steady); err != nil {
		return Physics{}, err
	}
	if p.Floor < 1 {
		if p.Half, err = w.Reach(1, (1+p.Floor)/2, e, d); err != nil {
			return Physics{}, err
		}
	} else {
		p.Half = measure.Estimate{Value: math.Inf(1), Lower: math.Inf(1), Upper: math.Inf(1)}
	}
	p.Depth, err = diffusion.DryingDepth([]diffusion.Stretch{{Days: unit.Days(days), At: unit.Celsius(c.Temperature)}}, unit.Millimetres(wall), d)
	return p, err
}
