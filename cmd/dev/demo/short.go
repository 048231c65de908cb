package demo

import (
	"time"

	"boottop.example/practice/domain/figure"
	"boottop.example/practice/domain/practice"
)

// metered is a pass over the antifouling, topsides bare.
func metered(key, hand, instrument string, wash int16) pass {
	return pass{key: key, hand: hand, instrument: instrument, surface: "antifouling", dry: "bare gelcoat", wash: wash, rain: "none"}
}

// usual is a figure of a kind from its main dimensions, which are the scenario's own.
func usual(kind string, loa, beam, draught float64) figure.Spec {
	s, err := figure.Default(kind, figure.Dims{LOA: loa, Beam: beam, Draught: draught})
	if err != nil {
		panic("demo: " + err.Error())
	}
	return s
}

// vessel fills in what her figure knows.
func vessel(name, kind string, moulded int16, s figure.Spec, draught float64) practice.Vessel {
	milli := func(m float64) *int32 { return mm(int32(1000*m + 0.5)) }
	return practice.Vessel{
		Name: name, Kind: kind, MouldedYear: year(moulded), LoaMm: milli(s.Length()), LwlMm: milli(s.LWL), BeamMm: milli(s.Beam / 0.94), DraughtMm: milli(draught), Water: "salt",
	}
}

// halfMetres is the usual grid: stations half a metre apart, rows every 0.3 m.
func halfMetres(dry float64, rows int) grid {
	g := grid{every: 0.5, dry: dry, from: 0.5}
	for k := range rows {
		g.rows = append(g.rows, 0.15+0.3*float64(k))
	}
	return g
}

// metres is the grid of larger hulls, and of quick work.
func metres(dry float64, rows int) grid {
	g := halfMetres(dry, rows)
	g.every = 0.75
	return g
}

// moved is the days on which a job's stage moved on from its visit to its report.
func moved(visit, issued time.Time, closed time.Time) []stage {
	out := []stage{{visit, "visiting"}, {visit.Add(25 * time.Hour), "writing"}, {issued.Add(time.Minute), "issued"}}
	if !closed.IsZero() {
		out = append(out, stage{closed, "closed"})
	}
	return out
}

// allowed is the owner's leave to come aboard, asked some weeks before.
func allowed(c calendar, at time.Time, by string) permission {
	return permission{what: "board and survey", asked: c.dayOf(at.AddDate(0, 0, -20)), given: c.dayOf(at.AddDate(0, 0, -18)), by: by}
}

// sent is a report's link for its client.
func sent(key, party, name, email string, at time.Time, opened ...time.Time) share {
	return share{key: key, party: party, name: name, email: email, purpose: "your survey", at: at, until: at.AddDate(1, 0, 0), opened: opened}
}
