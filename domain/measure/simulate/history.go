package simulate

import (
	"fmt"
	"math"
	"math/rand/v2"
	"sort"

	"boottop.example/practice/domain/measure/diffusion"
)

// Read goes over a hull with each of the passes, given in any order, and returns
// their sheets in that order.
//
// Errors: a hull without places or spells or whose places lie in no region, a pass
// outside its spells, an instrument that is none.
func Read(h Hull, passes []Pass) ([]Sheet, error) {
	if err := h.check(); err != nil {
		return nil, err
	}
	for i, p := range passes {
		if err := p.check(h); err != nil {
			return nil, fmt.Errorf("passes[%d]: %w", i, err)
		}
	}
	order := make([]int, len(passes))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return passes[order[a]].At.Before(passes[order[b]].At) })

	classes, of := h.classes()
	signals := make([][]float64, len(passes)) // by pass, then class
	for i := range signals {
		signals[i] = make([]float64, len(classes))
	}
	for c, class := range classes {
		if err := h.live(class, passes, order, func(pass int, units float64) { signals[pass][c] = units }); err != nil {
			return nil, err
		}
	}
	field := h.Texture.field(h.Seed)
	sheets := make([]Sheet, len(passes))
	for i, p := range passes {
		r := &reader{hull: h, pass: p, field: field, signal: make([]float64, len(h.Places)), rng: rand.New(rand.NewPCG(h.Seed, p.Seed))}
		for place, c := range of {
			r.signal[place] = signals[i][c]
		}
		sheets[i] = r.sheet()
		if !p.Hand.NoContext {
			air := h.air(p.At)
			sheets[i].Context = &Context{Ashore: h.ashore(p.At), Air: air, Skin: air.At - 0.5}
		}
	}
	return sheets, nil
}

// class is places whose walls live alike: one history of water serves them all.
type class struct {
	region int
	dry    bool
	causes []int // that feed the wall or hold water in its face
}

// classes sorts the places, first come first: the order of a map would change the
// readings from run to run.
func (h Hull) classes() (classes []class, of []int) {
	seen := map[string]int{}
	for _, p := range h.Places {
		c := class{region: h.region(p), dry: p.Dry}
		for i, cause := range h.Causes {
			if (cause.Feeds || cause.Residue > 0) && cause.touch(p.Side, float64(p.Along), float64(p.Down)) > 0.5 {
				c.causes = append(c.causes, i)
			}
		}
		key := fmt.Sprint(c)
		i, ok := seen[key]
		if !ok {
			i = len(classes)
			seen[key] = i
			classes = append(classes, c)
		}
		of = append(of, i)
	}
	return classes, of
}

// live carries one class of walls through the spells and calls note with what the
// instrument of each pass would get of its water.
func (h Hull) live(c class, passes []Pass, order []int, note func(pass int, units float64)) error {
	layers := h.Regions[c.region].Wall
	wall, err := diffusion.NewWall(layers...)
	if err != nil {
		return fmt.Errorf("region %q: %w", h.Regions[c.region].Name, err)
	}
	level, err := wall.Uniform(h.Start)
	if err != nil {
		return err
	}
	from, next := h.Begins, 0
	for _, s := range h.Spells {
		if !c.dry && (s.Peel > 0 || len(s.Coat) > 0) {
			if layers, wall, level, err = resurface(layers, wall, level, s); err != nil {
				return fmt.Errorf("region %q: %w", h.Regions[c.region].Name, err)
			}
		}
		for next < len(order) && !passes[order[next]].At.After(s.Until) {
			p := passes[order[next]]
			if level, err = wall.Expose(level, h.course(c, s, from, p.At)); err != nil {
				return err
			}
			from = p.At
			units, err := p.Instrument.units(wall, level)
			if err != nil {
				return err
			}
			note(order[next], units)
			next++
		}
		if level, err = wall.Expose(level, h.course(c, s, from, s.Until)); err != nil {
			return err
		}
		from = s.Until
	}
	return nil
}

// units is the instrument's answer to the water in a wall.
func (m Instrument) units(w *diffusion.Wall, p diffusion.Profile) (float64, error) {
	bent := make(diffusion.Profile, len(p))
	for i, x := range p {
		bent[i] = math.Pow(math.Min(1, math.Max(0, x)), m.Curve)
	}
	seen, err := w.Seen(bent, m.Depth)
	return m.Bare + m.Full*seen, err
}
