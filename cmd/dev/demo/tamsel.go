package demo

import (
	"boottop.example/practice/domain/figure"
	"boottop.example/practice/domain/measure/simulate"
	"boottop.example/practice/domain/practice"
)

// tamsel is the boat that is resurveyed today: ten years of visits by four hands, a tank
// that was full, then empty, then full again, and a fitting that has begun to leak.
func tamsel(c calendar) boat {
	b := boat{
		key: "tamsel", since: c.ago(9, -20, "10:00"), bootTop: 60, mark: "Sheer at the transom, 985 mm above; stem head, 1 250 mm above", offset: 15,
		vessel: practice.Vessel{
			Name: "Tamsel", Kind: "fin-keel sloop", Builder: "Tarrow Slip", Model: "Slip 34", YardNumber: "41", MouldedYear: year(1989),
			HullNumberAsRead: "41", HullNumberWhere: "cut in the transom, starboard", SailNumber: "SK 118",
			LoaMm: mm(10_550), HullLengthMm: mm(10_550), LwlMm: mm(8_600), BeamMm: mm(3_300), DraughtMm: mm(1_670), DisplacementKg: mm(5_200), Water: "salt", MonthsAfloat: year(12),
			Notes: "Slip moulding, one of about sixty. Lifts on two slings; the after sling must stay clear of the log.",
		},
		former: []string{"Linnet of Skerrow"},
		spec:   sloopSpec(),
		grid:   grid{every: 0.5, rows: []float64{0.15, 0.45, 0.75, 1.05, 1.35, 1.65}, dry: 0.35, from: 0.5},
		water:  tamselWater(c),
		parts:  []part{{"keel", "iron fin"}, {"rudder", "rudder, spade"}},
		roles:  []role{{"ferrant", "owner", new(c.date(c.ago(9, 30, "12:00")))}, {"skerrow mutual", "insurer", new(c.date(c.ago(5, -30, "12:00")))}},
	}
	b.layers = tamselLayers(c)
	b.events = tamselEvents(c)
	b.spells = tamselSpells(c)
	b.jobs = tamselJobs(c)
	return b
}

// sloopSpec is her hull as measured. Her fin is broken off on the figure.
func sloopSpec() figure.Spec {
	return figure.Spec{
		LWL: 8.6, Aft: 0.95, Fore: 1.0, Beam: 3.3, Body: 0.52, Freeboard: [3]float64{0.92, 0.95, 1.25}, Counter: 0.42,
		Plan: figure.Curve{Peak: 0.44, Aft: 0.12, PA: 2.3, PF: 1.75}, Profile: figure.Curve{Peak: 0.5, PA: 1.9, PF: 2}, Section: 2.15, Cut: 0.36,
		Hung: []figure.Hung{
			{Name: "iron fin, not metered", At: [4]float64{3.35, 5.35, 3.6, 5.0}, Span: 1.15},
			{Name: "rudder", At: [4]float64{0.2, 0.78, 0.3, 0.72}, Span: 1.25, Blade: true, Right: true},
		},
	}
}

func tamselLayers(c calendar) []layer {
	return []layer{
		{kind: "construction", what: "single skin, mat and woven roving, ortho resin", how: "by the yard’s paper"},
		{kind: "construction", what: "8 to 10 mm below the water, more at the keel", how: "two drilled holes, engine inlet and log"},
		{kind: "coating", what: "epoxy, five coats, 2004", how: "owner’s papers"},
		{kind: "coating", what: "antifouling with copper, taken off before the epoxy", how: "owner’s papers", ends: yearEnds(2004)},
		{kind: "coating", what: "antifouling without copper, renewed at each lift", how: "owner’s papers, seen on the tin"},
		{kind: "behind", what: "water tank, 110 L", side: "port", outline: box(5620, 7120, 300, 1200), how: "seen and measured inside", drawn: "tank"},
		{kind: "behind", what: "fuel", side: "starboard", outline: box(1700, 2550, 300, 900), how: "seen and measured inside", drawn: "tank"},
		{kind: "behind", what: "bulkhead", side: "port", outline: [][2]int32{{7350, -450}, {7350, 780}}, how: "measured inside", drawn: "bulkhead"},
		{kind: "behind", what: "bulkhead", side: "starboard", outline: [][2]int32{{7350, -450}, {7350, 780}}, how: "measured inside", drawn: "bulkhead"},
		{kind: "behind", what: "engine bulkhead", outline: [][2]int32{{2250, -450}, {2250, 1300}}, how: "measured inside", drawn: "bulkhead"},
		{kind: "behind", what: "liner, bonded", outline: box(2400, 3300, 1050, 1500), how: "tapped from inside; its edge seen under the sole", drawn: "outline"},
		{kind: "behind", what: "heads inlet", side: "starboard", outline: [][2]int32{{4720, 600}}, how: "seen from both sides", drawn: "fitting"},
		{kind: "behind", what: "log", side: "starboard", outline: [][2]int32{{5750, 1200}}, how: "seen from both sides", drawn: "fitting"},
		{kind: "behind", what: "galley drain", side: "port", outline: [][2]int32{{3250, 600}}, how: "seen from both sides", drawn: "fitting"},
		{kind: "behind", what: "engine inlet", side: "starboard", outline: [][2]int32{{2750, 1200}}, how: "seen from both sides", drawn: "fitting"},
	}
}

func tamselEvents(c calendar) []event {
	return []event{
		{kind: "built", what: "Moulded and fitted out", written: "1989", source: "builder’s plate", from: yearBegins(1989), to: yearEnds(1989)},
		{kind: "treatment", what: "Antifouling taken off, five coats of epoxy laid", written: "winter 2004", source: "owner’s papers", from: yearBegins(2004), to: yearEnds(2004)},
		{kind: "grounding", what: "Touched on the bar at the entrance, fore end of the fin; looked over ashore, no crack seen", written: "two days after the race", source: "owner, by word", from: new(c.date(c.ago(6, -80, "12:00"))), to: new(c.date(c.ago(6, -80, "12:00")))},
		{kind: "repair", what: "Heads inlet and its seacock renewed, bedded in sealant", written: "spring refit", source: "yard’s invoice", from: new(c.date(c.ago(5, 178, "12:00"))), to: new(c.date(c.ago(5, 186, "12:00")))},
		{kind: "other", what: "Water tank cleaned and left empty for two seasons; filled again this summer", written: "", source: "owner, by word", from: new(c.date(c.ago(5, 150, "12:00"))), to: new(c.date(c.ago(1, -60, "12:00")))},
	}
}

func tamselSpells(c calendar) []spell {
	return []spell{
		{key: "2015", yard: "tarrow", lift: c.ago(11, -8, "10:00"), launch: c.ago(11, 190, "10:00"), precision: "month", written: "lifted in the month of the survey, afloat again in spring", source: "paper report of another practice"},
		{key: "2017", yard: "tarrow", lift: c.ago(9, -12, "11:00"), launch: c.ago(9, 185, "12:30"), held: "props", washed: 2},
		{key: "2019", yard: "tarrow", lift: c.ago(7, -20, "09:30"), launch: c.ago(7, 230, "15:00"), held: "props", washed: 3},
		{key: "2021", yard: "tarrow", lift: c.ago(5, -23, "14:00"), launch: c.ago(5, 192, "11:00"), held: "props", washed: 2},
		{key: "2023", yard: "tarrow", lift: c.ago(3, -19, "13:30"), launch: c.ago(3, 178, "16:00"), held: "props", washed: 2},
		{key: "now", yard: "tarrow", plannedLift: c.on(-21, "14:00"), lift: c.on(-21, "14:20"), plannedLaunch: c.on(16, "14:00"), held: "props", washed: 1, note: "Props only: do not move one. Pads noted at port and starboard 5 and 13."},
	}
}

func tamselWater(c calendar) water {
	tank := func(name string) simulate.Cause {
		t := simulate.TankBehind(simulate.Area{Side: simulate.Port, Along: simulate.Span{From: 5620, To: 7120}, Down: simulate.Span{From: 300, To: 1200}}, 10)
		t.Name, t.Strength = name, 47
		return t
	}
	before, again := tank("water tank, full"), tank("water tank, full again")
	before.To, again.From = c.ago(5, 150, "12:00"), c.ago(1, -60, "12:00")
	weep := simulate.WetCore(simulate.Starboard, 4720, 550, 330, c.ago(4, 100, "12:00"))
	weep.To, weep.Strength = c.ago(2, 0, "12:00"), 6
	leak := simulate.WetCore(simulate.Starboard, 4720, 550, 400, c.ago(2, 0, "12:00"))
	leak.Strength = 30
	liner := simulate.BilgeWaterBehind(simulate.Area{Along: simulate.Span{From: 2500, To: 3300}, Down: simulate.Span{From: 1150, To: 1500}}, 10, c.ago(10, 0, "12:00"))
	liner.Strength = 9
	return water{start: 0.72, years: 2, causes: []simulate.Cause{before, again, weep, leak, liner}}
}
