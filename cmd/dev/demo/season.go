package demo

import (
	"fmt"
	"time"

	"boottop.example/practice/domain/figure"
)

// season is the rest of a practice's autumn: boats that are lifted, looked at wet, and
// metered some days later, one after the other, with what goes wrong in a diary: a yard that
// has not answered, a visit in somebody's leave, a lift that no tide serves.
func season() (fleet []func(calendar) boat) {
	leads := []string{"varrow", "maddern", "quillan"}
	for k, s := range []struct {
		name, kind, client, yard string
		lift                     int // days from today
		asked                    bool
	}{
		{"Saltwhistle", "insurance", "oake", "tarrow", -19, false},
		{"Brown Linnet", "limited moisture", "wenlow", "hallow", -15, false},
		{"Oddment", "pre-purchase", "lorne", "tarrow", -12, false},
		{"Plain Tale", "insurance", "pascombe", "hallow", -6, false},
		{"Ninepence", "limited moisture", "thrale", "tarrow", 3, false},
		{"Thimblerig", "warranty", "harrack", "hallow", 6, false},
		{"Cold Porridge", "pre-purchase", "brask", "tarrow", 10, true},
		{"Tar Barrel", "insurance", "sarne", "hallow", 14, false},
		{"Lapwing Field", "limited moisture", "oake", "tarrow", 19, true},
		{"Second Helping", "insurance", "wenlow", "hallow", 27, false},
	} {
		fleet = append(fleet, func(c calendar) boat {
			return passing(c, k, s.name, s.kind, s.client, s.yard, leads[k%len(leads)], s.lift, s.asked)
		})
	}
	return fleet
}

// passing is a boat of the season. Wet looks come before the day's other visits and meter
// visits after them, so that nobody is wanted twice.
func passing(c calendar, k int, name, kind, client, yard, lead string, lift int, asked bool) boat {
	spec := usual(figure.FinKeelSloop, 8.4+0.3*float64(k), 2.9+0.05*float64(k), 1.5)
	opened := c.on(min(lift-24, -8), "11:20")
	if asked {
		opened = c.on(-8, "11:20") // the yard was asked the day before
	}
	key := fmt.Sprintf("season %d", k)
	b := boat{key: key, since: opened.AddDate(0, 0, -1), bootTop: 60, spec: spec, vessel: vessel(name, "fin-keel sloop", int16(1984+k), spec, 1.5), grid: metres(0.36, 2), roles: []role{{client, "owner", nil}}}
	planned := c.on(lift, "07:00")
	s := spell{key: key, yard: yard, plannedLift: planned, plannedLaunch: c.on(lift+24, "12:00"), held: "props", asked: asked, slot: slotOf(kind, yard)}
	if lift < 0 {
		s.lift = planned.Add(12 * time.Minute)
	}
	b.spells = []spell{s}
	still := func(at time.Time) bool { return at.After(c.today) }
	wet, meter := c.on(lift, "07:15"), c.on(lift+8, "16:30")
	b.jobs = []job{{
		key: key, kind: kind, client: client, as: "owner", payer: payerOf(kind, client), lead: lead, opened: opened, scope: "Underbody, wet and again when she has stood.",
		permissions: []permission{{what: "board and survey", asked: c.dayOf(opened), given: c.dayOf(opened.AddDate(0, 0, 1)), by: client}},
		visits: []visit{
			{key: "wet", kind: "wet look", at: wet, hours: 1, lead: lead, spell: key, planned: still(wet)},
			{key: "meter", kind: "meter visit", at: meter, hours: 2, lead: lead, spell: key, follows: "wet", why: "A week and a day for the surface.", planned: still(meter)},
		},
	}}
	return b
}

// slotOf is what a yard does with a boat of the season: she is looked at wet in the slings,
// then washed, then set on her chocks; one yard moves its boats to the back row.
func slotOf(kind, yard string) slot {
	s := slot{wash: 90 * time.Minute, chock: 3 * time.Hour, pays: "the owner", told: "We look at her wet in the slings first, then she may be washed. Chocks and pads clear of the middle third, please: places are read there."}
	if kind == "pre-purchase" {
		s.pays = "the buyer, who asked for the lift"
	}
	if yard == "hallow" {
		s.shift = 2
		s.told += " Once she is in the back row we need a stand to the sheer."
	}
	return s
}

// payerOf is who pays the survey: an insurer who asked for it, else the client.
func payerOf(kind, client string) string {
	if kind == "insurance" {
		return "skerrow mutual"
	}
	return client
}
