package simulate

import (
	"fmt"
	"math"
	"time"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/unit"
)

// Cause is something planted in a hull. What an instrument of depth d gets of a
// thing that begins Depth mm below the outer face and is Thick mm thick is
//
//	Strength · (exp(−Depth/d) − exp(−(Depth+Thick)/d))
//
// the same weights that see the water in the wall. A cause may also feed the wall
// with water from behind, or keep water in its face.
type Cause struct {
	Name     string
	Where    Area
	Edge     unit.Millimetres // over which it fades out beyond its area; 0: a sharp border
	From, To time.Time        // when it is there; zero: always
	Depth    unit.Millimetres
	Thick    unit.Millimetres // 0: endless
	Strength float64          // scale units if the instrument saw nothing else
	Feeds    bool             // water stands on the inner face
	Residue  unit.Humidity    // added to the air's humidity at the face: matter that holds water
}

func (c Cause) check(i int) error {
	name := fmt.Sprintf("Causes[%d]", i)
	if err := measure.Finite(name, float64(c.Edge), float64(c.Depth), float64(c.Thick), c.Strength, float64(c.Residue)); err != nil {
		return err
	}
	if c.Depth < 0 || c.Thick < 0 || c.Residue < 0 || math.Abs(c.Strength) > 1e6 {
		return &measure.ArgumentError{Argument: name, Why: "must have Depth, Thick and Residue of at least 0 and a Strength within a million"}
	}
	return nil
}

// there tells whether the cause is present at a time.
func (c Cause) there(at time.Time) bool {
	return (c.From.IsZero() || !at.Before(c.From)) && (c.To.IsZero() || at.Before(c.To))
}

// touch gives how much of the cause a spot has, 0 to 1.
func (c Cause) touch(side Side, along, down float64) float64 {
	away := c.Where.away(side, along, down)
	if away == 0 {
		return 1
	}
	if c.Edge <= 0 || math.IsInf(away, 1) {
		return 0
	}
	x := away / float64(c.Edge)
	return math.Exp(-x * x)
}

// signal is what an instrument of this depth gets of it, in scale units.
func (c Cause) signal(depth unit.Millimetres) float64 {
	near := math.Exp(-float64(c.Depth / depth))
	if c.Thick > 0 {
		near -= math.Exp(-float64((c.Depth + c.Thick) / depth))
	}
	return c.Strength * near
}

// The causes that the demo and the tests plant. Strengths are chosen so that the
// pair of instruments behaves as the trade describes it: about +70 units deep-sensing
// and nothing shallow-sensing for something damp behind 10 mm of laminate.

// TankBehind is a full water tank against the inner face: straight edges.
func TankBehind(where Area, wall unit.Millimetres) Cause {
	return Cause{Name: "tank behind", Where: where, Depth: wall, Strength: 240}
}

// FilledLocker is damp gear behind the laminate.
func FilledLocker(where Area, wall unit.Millimetres) Cause {
	return Cause{Name: "filled locker", Where: where, Depth: wall, Strength: 90}
}

// WetCore is water in the core around a leaking fitting, from a time on.
func WetCore(side Side, along, down, reach unit.Millimetres, from time.Time) Cause {
	return Cause{Name: "wet core", Where: At(side, along, down), Edge: reach, From: from, Depth: 4, Thick: 15, Strength: 80}
}

// ConductiveCoating reads high by itself, deep and shallow alike.
func ConductiveCoating(where Area, units float64) Cause {
	return Cause{Name: "conductive coating", Where: where, Strength: units}
}

// BilgeWaterBehind is water trapped between hull and liner: it is seen through the
// wall and feeds it.
func BilgeWaterBehind(where Area, wall unit.Millimetres, from time.Time) Cause {
	return Cause{Name: "bilge water behind liner", Where: where, Edge: 150, From: from, Depth: wall, Strength: 150, Feeds: true}
}

// Delamination is a pocket of water between plies.
func Delamination(side Side, along, down, reach, depth unit.Millimetres, from time.Time) Cause {
	return Cause{Name: "delamination reservoir", Where: At(side, along, down), Edge: reach, From: from, Depth: depth, Thick: 2, Strength: 240}
}

// Residue is matter left in a treated hull that holds water: its face never comes
// down to what the air would allow.
func Residue(where Area, by unit.Humidity, from time.Time) Cause {
	return Cause{Name: "hygroscopic residue", Where: where, From: from, Residue: by}
}

// Condensation is a film of water on the skin for a while.
func Condensation(where Area, from, to time.Time) Cause {
	return Cause{Name: "condensation", Where: where, From: from, To: to, Thick: 0.3, Strength: 150}
}
