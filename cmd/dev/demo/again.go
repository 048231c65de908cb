package demo

import (
	"context"
	"fmt"
	"time"

	"boottop.example/practice/domain/practice"
)

// diaried is another look that somebody wrote down by hand.
type diaried struct {
	from, to int // days from the scenario's today
	reason   string
	state    string // what it was moved to; empty: it is due
	why      string
	until    int
}

// looks by boat, beside those that issued reports propose.
var looks = map[string][]diaried{
	"lantern jack": {{from: -75, to: -40, reason: "the rudder’s lower bearing, measured again with the blade off"}},
	"bryony ann":   {{from: -10, to: 35, reason: "the keel joint, at the autumn lift: a hair line was marked and dated"}},
	"ember goose":  {{from: -30, to: 0, reason: "the stem fitting’s bedding", state: "snoozed", why: "she is in the Azores until spring", until: 120}},
	"sallow":       {{from: 20, to: 50, reason: "the port locker, once it has been aired", state: "declined", why: "the owner has sold her; the buyer has a surveyor"}},
	"small mercy":  {{from: -5, to: 40, reason: "the deck round the mast, tapped again"}},
}

// guarantees by boat: what, who gave it, and in how many days it ends.
var guarantees = map[string]struct {
	what, by string
	ends     int
}{
	"corncrake": {"the epoxy scheme below the water", "the yard that coated her", 140},
}

// taken are the looks that the jobs of this autumn take on: by boat, the rule that asked
// for the look and the job in which she is seen.
var taken = map[string][]struct{ code, job string }{
	"vesper":       {{"before-afloat", "vesper now"}, {"suspected-wet-core", "vesper now"}},
	"tamsel":       {{"while-ashore", "now"}, {"raised-uniform", "now"}},
	"sallow":       {{"after-treatment", "sallow guarantee"}},
	"corncrake":    {{"active-blisters", "corncrake drying"}},
	"lantern jack": {{"few-blisters", "lantern 2"}},
}

// take books each in its job, the day before the scenario's today.
func (a *afloat) take() {
	for k, l := range taken[a.key] {
		a.at(a.on(-1, "17:30"), "look taken on in "+l.job, func(ctx context.Context) error {
			due, _, err := a.Reinspections(ctx, a.desk(), "due", practice.Page{First: 100})
			if err != nil {
				return err
			}
			for _, r := range due {
				if r.Vessel.ID == a.id && r.Code == l.code {
					job := a.of("job", l.job)
					return done(a.MoveReinspection(ctx, a.desk(), practice.MoveReinspection{Mutation: a.mut("look taken", fmt.Sprint(k)), ID: r.ID, Version: r.Version, State: "booked", Job: &job}))
				}
			}
			return nil // taken on already, by an earlier telling
		})
	}
}

// again tells what was diaried by hand, a month before the scenario's today.
func (a *afloat) again() {
	a.take()
	at := a.on(-28, "16:00")
	for k, l := range looks[a.key] {
		is := a.of("look", fmt.Sprint(k))
		a.at(at, "look again by hand", func(ctx context.Context) error {
			return done(a.AddReinspection(ctx, a.desk(), practice.AddReinspection{Mutation: a.mut("look", fmt.Sprint(k)), ID: is, Vessel: a.id, From: *a.days(l.from), To: *a.days(l.to), Reason: l.reason}))
		})
		if l.state == "" {
			continue
		}
		a.at(at.Add(time.Hour), "look "+l.state, func(ctx context.Context) error {
			in := practice.MoveReinspection{Mutation: a.mut("look moved", fmt.Sprint(k)), ID: is, Version: 1, State: l.state, Reason: l.why}
			if l.until > 0 {
				in.Until = a.days(l.until)
			}
			return done(a.MoveReinspection(ctx, a.desk(), in))
		})
	}
	if g, has := guarantees[a.key]; has {
		a.at(at.Add(2*time.Hour), "guarantee", func(ctx context.Context) error {
			return done(a.AddGuarantee(ctx, a.desk(), practice.AddGuarantee{Mutation: a.mut("guarantee"), Guarantee: practice.Guarantee{
				ID: a.of("guarantee"), Vessel: a.id, What: g.what, GivenBy: g.by, EndsOn: *a.days(g.ends), Source: "the yard’s completion paper",
			}}))
		})
	}
}
