package diffusion

import (
	"fmt"
	"math"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/unit"
)

// Layer is one layer of a hull's wall, from the outside in: a coating, gelcoat,
// laminate, core, inner skin.
type Layer struct {
	Thickness        unit.Millimetres
	D                unit.Diffusivity // through the thickness, at 20 °C
	ActivationEnergy float64          // J/mol
	Capacity         float64          // water held at saturation, against the other layers; 0 stands for 1
	Cells            int              // 0 chooses: 12 in a thin layer, 48 in a thick one
}

// Wall is a layered wall cut into cells for computing. It is not changed by use
// and may be shared.
//
// Its state is the level of each cell: water held as a share of what the cell
// would hold in saturated air, 0 to 1. The level, unlike the water content, has no
// step where layers of unlike capacity meet.
type Wall struct {
	layers []Layer
	depth  []float64 // of the cells' faces below the outer one, m; one more than cells
	store  []float64 // water a cell takes up for a level of 1: capacity × width, m
	half   []float64 // resistance from a cell's middle to its face at 20 °C, s/m
	layer  []int     // of each cell
	like   bool      // all layers have one activation energy
	cond   []float64 // conductance of each face at 20 °C, m/s; ends are to the middle of the end cells
}

// Profile is the state of a wall: the level of each cell, from the outside in.
type Profile []float64

// most cells in a wall: a limit that only a mistake meets.
const most = 10_000

// NewWall cuts a wall of 1 to 8 layers into cells that are finest where layers
// meet and at the faces, since that is where the level bends. Errors name the
// layer that cannot be used.
func NewWall(layers ...Layer) (*Wall, error) {
	if len(layers) == 0 {
		return nil, measure.ErrEmpty
	}
	if len(layers) > 8 {
		return nil, &measure.ArgumentError{Argument: "layers", Why: "must be at most 8"}
	}
	w := &Wall{depth: []float64{0}, like: true}
	for i, l := range layers {
		if err := l.check(i); err != nil {
			return nil, err
		}
		if l.Capacity == 0 {
			l.Capacity = 1
		}
		if l.Cells == 0 {
			l.Cells = 48
			if l.Thickness < 1.5 {
				l.Cells = 12
			}
		}
		w.layers = append(w.layers, l)
		w.like = w.like && l.ActivationEnergy == layers[0].ActivationEnergy
		w.add(i, l)
	}
	w.setConductances()
	return w, nil
}

func (l Layer) check(i int) error {
	name := fmt.Sprintf("layers[%d]", i)
	if err := thick(name+".Thickness", l.Thickness); err != nil {
		return err
	}
	if err := diffusivity(name+".D", l.D); err != nil {
		return err
	}
	if err := notNegative(name+".ActivationEnergy", l.ActivationEnergy); err != nil {
		return err
	}
	if l.ActivationEnergy > 200e3 {
		return &measure.ArgumentError{Argument: name + ".ActivationEnergy", Why: "must be in J/mol, at most 200 000"}
	}
	if l.Capacity != 0 && !(l.Capacity >= 1e-3 && l.Capacity <= 1e3) {
		return &measure.ArgumentError{Argument: name + ".Capacity", Why: "must lie between 0.001 and 1000, or be 0 for 1"}
	}
	if l.Cells < 0 || l.Cells > most/8 {
		return &measure.ArgumentError{Argument: name + ".Cells", Why: fmt.Sprintf("must lie between 0 and %d", most/8)}
	}
	return nil
}

// widest is how much wider the cells in the middle of a layer are than those at
// its edges: 48 cells of a 10 mm laminate start at 0.05 mm. It does not depend on
// the number of cells, so that more of them are finer everywhere.
const widest = 16

func (w *Wall) add(i int, l Layer) {
	widths := make([]float64, l.Cells)
	var sum float64
	for c := range widths {
		widths[c] = math.Pow(widest, 2*float64(min(c, l.Cells-1-c))/float64(l.Cells))
		sum += widths[c]
	}
	for _, x := range widths {
		x *= l.Thickness.Metres() / sum
		w.depth = append(w.depth, w.depth[len(w.depth)-1]+x)
		w.store = append(w.store, x*l.Capacity)
		w.half = append(w.half, x/2/(float64(l.D)*l.Capacity))
		w.layer = append(w.layer, i)
	}
}

// setConductances works out each face's conductance at 20 °C: the two half cells in series.
func (w *Wall) setConductances() {
	n := len(w.store)
	w.cond = make([]float64, n+1)
	w.cond[0] = 1 / w.half[0]
	for i := 1; i < n; i++ {
		w.cond[i] = 1 / (w.half[i-1] + w.half[i])
	}
	w.cond[n] = 1 / w.half[n-1]
}

// Cells tells how many cells the wall has: the length of its profiles.
func (w *Wall) Cells() int { return len(w.store) }

// Thickness gives the thickness of the whole wall.
func (w *Wall) Thickness() unit.Millimetres {
	return unit.Millimetres(w.depth[len(w.depth)-1] * 1000)
}

// Depth gives how far below the outer face the middle of a cell lies.
func (w *Wall) Depth(cell int) unit.Millimetres {
	return unit.Millimetres((w.depth[cell] + w.depth[cell+1]) / 2 * 1000)
}

// Uniform gives the profile with every cell at one level, 0 to 1.
//
// Errors: *measure.ArgumentError for a level outside 0 to 1.
func (w *Wall) Uniform(level float64) (Profile, error) {
	if err := share("level", level); err != nil {
		return nil, err
	}
	p := make(Profile, w.Cells())
	for i := range p {
		p[i] = level
	}
	return p, nil
}

// rounding is by how much a solved level may stray over its bounds.
const rounding = 1e-9

func (w *Wall) check(p Profile) error {
	if len(p) != w.Cells() {
		return &measure.ArgumentError{Argument: "profile", Why: fmt.Sprintf("must have %d cells, has %d", w.Cells(), len(p))}
	}
	for i, x := range p {
		if !(x >= -rounding && x <= 1+rounding) {
			return &measure.ArgumentError{Argument: fmt.Sprintf("profile[%d]", i), Why: "must lie between 0 and 1"}
		}
	}
	return nil
}

// Mean gives the water in the wall as a share of what it holds when saturated.
//
// Errors: *measure.ArgumentError for a profile of another wall.
func (w *Wall) Mean(p Profile) (float64, error) {
	if err := w.check(p); err != nil {
		return 0, err
	}
	var held, full float64
	for i, s := range w.store {
		held += s * p[i]
		full += s
	}
	return held / full, nil
}

// Seen gives the share of the saturated wall's water signal that an instrument
// would meet whose sensing falls off as exp(−x/depth) below the outer face; depth
// in mm. A real instrument is not linear and its weights are unknown: read it as a
// pattern and never as a calibration.
//
// Errors: *measure.ArgumentError for p or depth.
func (w *Wall) Seen(p Profile, depth unit.Millimetres) (float64, error) {
	if err := w.check(p); err != nil {
		return 0, err
	}
	if err := thick("depth", depth); err != nil {
		return 0, err
	}
	l := depth.Metres()
	var seen, full float64
	above := 1.0 // weight of all that lies below the upper face of the cell
	for i := range p {
		below := math.Exp(-w.depth[i+1] / l)
		weight := (above - below) * w.layers[w.layer[i]].Capacity
		seen += weight * p[i]
		full += weight
		above = below
	}
	return seen / full, nil
}

// At gives the level at a depth below the outer face, in mm, 0 to the thickness:
// that of the cell it lies in, drawn straight between the middles of cells.
//
// Errors: *measure.ArgumentError for p or depth.
func (w *Wall) At(p Profile, depth unit.Millimetres) (float64, error) {
	if err := w.check(p); err != nil {
		return 0, err
	}
	if err := notNegative("depth", float64(depth)); err != nil {
		return 0, err
	}
	i := 0
	for i < len(p) && w.Depth(i) < depth {
		i++
	}
	switch i {
	case 0:
		return p[0], nil
	case len(p):
		return p[len(p)-1], nil
	}
	a, b := w.Depth(i-1), w.Depth(i)
	return p[i-1] + (p[i]-p[i-1])*float64((depth-a)/(b-a)), nil
}

// DepthOf gives the depth, in mm, at which the profile first reaches a level,
// coming from the outer face; the whole thickness if it never does.
//
// Errors: *measure.ArgumentError for p or level.
func (w *Wall) DepthOf(p Profile, level float64) (unit.Millimetres, error) {
	if err := w.check(p); err != nil {
		return 0, err
	}
	if err := share("level", level); err != nil {
		return 0, err
	}
	if p[0] >= level {
		return 0, nil
	}
	for i := 1; i < len(p); i++ {
		if p[i] >= level {
			a, b := float64(w.Depth(i-1)), float64(w.Depth(i))
			return unit.Millimetres(a + (b-a)*(level-p[i-1])/(p[i]-p[i-1])), nil
		}
	}
	return w.Thickness(), nil
}
