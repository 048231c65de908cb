package simulate

import (
	"time"

	"boottop.example/practice/domain/measure/diffusion"
	"boottop.example/practice/domain/measure/unit"
)

// course is what the faces of a class of walls meet between two times of a spell: a
// month at a time afloat or in shelter; outdoors an hour at a time, which the solver
// takes in one step, under weather that holds for a quarter of a day.
func (h Hull) course(c class, s Spell, from, to time.Time) (course []diffusion.Exposure) {
	outdoors := (!s.Afloat && s.Shelter == nil) || (s.Afloat && c.dry)
	grain := 30 * 24 * time.Hour
	if outdoors {
		grain = time.Hour
	}
	var e diffusion.Exposure
	block := int64(-1)
	for at := from; at.Before(to); {
		end := at.Add(grain)
		if end.After(to) {
			end = to
		}
		if b := at.Unix() / int64(quarter/time.Second); !outdoors || b != block {
			e, block = h.exposure(c, s, at, end), b
		}
		e.Days = unit.Days(end.Sub(at).Hours() / 24)
		course = append(course, e)
		at = end
	}
	return course
}

func (h Hull) exposure(c class, s Spell, at, end time.Time) diffusion.Exposure {
	e := diffusion.Exposure{Inside: h.Climate.inside()}
	air := h.Climate.Weather(at, h.Seed)
	switch {
	case s.Afloat && !c.dry:
		e.At, e.Outside = h.Climate.water(at.Add(end.Sub(at)/2)), diffusion.Wet()
	case !s.Afloat && s.Shelter != nil:
		e.At, e.Outside = s.Shelter.At, diffusion.Air(h.held(c, at, s.Shelter.Air))
	case air.Rain && !c.dry: // topsides shed it at once
		e.At, e.Outside = air.At, diffusion.Wet()
	default:
		e.At, e.Outside = air.At, diffusion.Air(h.held(c, at, air.Air))
	}
	for _, i := range c.causes {
		if h.Causes[i].Feeds && h.Causes[i].there(at) {
			e.Inside = diffusion.Wet()
		}
	}
	return e
}

// held is the humidity that the face answers to, residue included.
func (h Hull) held(c class, at time.Time, air unit.Humidity) unit.Humidity {
	for _, i := range c.causes {
		if h.Causes[i].there(at) {
			air += h.Causes[i].Residue
		}
	}
	return min(100, air)
}

func (h Hull) spell(at time.Time) (s Spell) {
	for _, s = range h.Spells {
		if !at.After(s.Until) {
			break
		}
	}
	return s
}

// ashore counts back over spells: one that is only moved under cover stays ashore.
func (h Hull) ashore(at time.Time) unit.Days {
	var lift time.Time
	from := h.Begins
	out := false
	for _, s := range h.Spells {
		if s.Afloat {
			out = false
		} else if !out {
			lift, out = from, true
		}
		if !at.After(s.Until) {
			break
		}
		from = s.Until
	}
	if !out {
		return 0
	}
	return unit.Days(at.Sub(lift).Hours() / 24)
}

func (h Hull) air(at time.Time) Weather {
	if s := h.spell(at); !s.Afloat && s.Shelter != nil {
		return Weather{At: s.Shelter.At, Air: s.Shelter.Air}
	}
	return h.Climate.Weather(at, h.Seed)
}
