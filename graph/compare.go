package graph

import (
	"math"
	"strings"

	"boottop.example/practice/domain/measure/change"
	"boottop.example/practice/domain/measure/repeat"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

var answers = map[change.Answer]model.Answer{
	change.CannotTell: model.AnswerCannotTell, change.NoChangeShown: model.AnswerNoChangeShown, change.Changed: model.AnswerChanged,
}

func gateModel(g *practice.Gate) *model.Gate {
	if g == nil {
		return nil
	}
	m := &model.Gate{
		Earlier: wire.New(wire.Pass, g.Earlier), Later: wire.New(wire.Pass, g.Later), Hull: verdictModel(g.Hull), Zones: []model.GateZone{},
		Changed: []model.ChangedArea{}, Verdicts: wire.Column(g.Verdicts), Differences: wire.Column(g.Differences), Lows: wire.Column(g.Lows),
		Highs: wire.Column(g.Highs), Leasts: wire.Column(g.Leasts), Whys: wire.TextColumn(g.Whys), Comparable: int32(g.Comparable),
		OfPlaces: int32(g.OfPlaces), DryPlaces: int32(g.DryPlaces), Tellable: g.Tellable, VisitShift: bandModel(g.VisitShift), Gain: bandModel(g.Gain),
		LeastChange: g.LeastChange, Untold: untoldModels(g.Untold), Statements: statementModels(g.Statements), Explained: []model.Explanation{},
	}
	for _, z := range g.Zones {
		m.Zones = append(m.Zones, model.GateZone{Name: z.Name, Slots: wire.Column(z.Slots), Verdict: verdictModel(z.Verdict)})
	}
	for _, a := range g.Changed {
		m.Changed = append(m.Changed, model.ChangedArea{About: a.About, Slots: wire.Column(a.Slots), By: a.By, Matches: a.Matches, Around: a.Around})
	}
	for _, x := range g.Explained {
		m.Explained = append(m.Explained, model.Explanation{Code: x.Code, Text: x.Text, Expected: bandModel(x.Expected), Covers: x.Covers})
	}
	return m
}

func verdictModel(v practice.GateVerdict) model.GateVerdict {
	return model.GateVerdict{
		Answer: answers[v.Answer], Places: int32(v.Places), Difference: bandModel(v.Difference), Median: v.Median, Least: v.Least, Untold: untoldModels(v.Untold),
	}
}

func bandModel(b *practice.Band) *model.Band {
	if b == nil || math.IsNaN(b.Value) || math.IsInf(b.Value, 0) {
		return nil
	}
	return &model.Band{Value: b.Value, Low: closed(b.Low), High: closed(b.High)}
}

// closed gives the end of an interval; nil where it is open.
func closed(x float64) *float64 {
	if math.IsInf(x, 0) || math.IsNaN(x) {
		return nil
	}
	return &x
}

func untoldModels(list []practice.Untold) []model.Untold {
	out := make([]model.Untold, len(list))
	for k, u := range list {
		out[k] = model.Untold{Code: u.Code, Text: u.Text, Todo: u.Todo, Places: int32(u.Places)}
	}
	return out
}

func statementModels(list []practice.Statement) []model.Statement {
	out := make([]model.Statement, len(list))
	for k, s := range list {
		out[k] = model.Statement{Code: s.Code, Claim: string(s.Said.Claim), Text: s.Said.Text(), Runs: runsOf(s), Slots: wire.Column(s.Slots), Figures: []model.Figure{}}
		if s.Slots == nil {
			out[k].Slots = wire.Column{}
		}
		for _, f := range s.Figures {
			out[k].Figures = append(out[k].Figures, model.Figure{Code: f.Code, Value: f.Value, Low: f.Low, High: f.High, Unit: f.Unit})
		}
	}
	return out
}

// runsOf gives plain and strong runs in turn, the plain one first.
func runsOf(s practice.Statement) []string {
	out := []string{""}
	for _, r := range s.Said.Runs {
		if strong := len(out)%2 == 0; r.Strong != strong {
			out = append(out, r.Text)
		} else {
			out[len(out)-1] += r.Text
		}
	}
	return out
}

func componentModels(list []practice.Components) []model.Components {
	out := make([]model.Components, len(list))
	for k, c := range list {
		out[k] = model.Components{
			Model: c.Model, Scale: c.Scale, Mode: c.Mode, Repeatability: scatterModel(c.Repeatability, change.LeastReplacements),
			LikeVisits: scatterModel(c.Like, change.LeastLike), Instruments: scatterModel(c.Reproducible, practice.LeastCrossed),
			Hands: scatterModel(c.Hands, 1), Kits: int32(c.Kits), Replacements: int32(c.Replacements), BlindRepeats: int32(c.BlindRepeats),
			LikePairs: int32(c.LikePairs), CrossReadings: int32(c.CrossReadings), Missing: untoldModels(c.Missing), Notes: noteModels(c.Components),
		}
		if c.Withheld {
			out[k].Repeatability.Value, out[k].Repeatability.Low, out[k].Repeatability.High = nil, nil, nil
		}
		if c.BlindRepeats > 0 {
			out[k].Placing = &c.Placing
		}
		if c.Like.Measured() {
			out[k].PlaceByVisit = &c.PlaceVisit
		}
		if c.Left.Measured() {
			out[k].Left = &c.Left.S
		}
	}
	return out
}

func noteModels(c change.Components) []model.Warning {
	out := []model.Warning{}
	for _, n := range c.Notes {
		out = append(out, model.Warning{Code: n.Code, Text: n.Text})
	}
	return out
}

func scatterModel(d repeat.Deviation, needed int) model.Scatter {
	m := model.Scatter{Count: int32(d.DF), Needed: int32(needed)}
	if d.Measured() {
		m.Value, m.Low, m.High = &d.S, closed(d.Estimate.Lower), closed(d.Estimate.Upper)
	}
	return m
}

func loweredModel(l *practice.Lowered) *model.LoweredStanding {
	if l == nil {
		return nil
	}
	return &model.LoweredStanding{
		ID: wire.New(wire.Standing, l.ID), Standing: model.Standing(l.Standing), Reason: strings.TrimSpace(l.Reason), By: l.By, At: wire.At(l.At),
	}
}

func outlookModel(o *practice.Outlook) *model.Outlook {
	if o == nil {
		return nil
	}
	return &model.Outlook{
		Places: int32(o.Places), DryPlaces: int32(o.DryPlaces), Placements: int32(o.Placements), PlaceShown: o.Place.Shown, PlaceTrue: o.Place.True,
		HullShown: o.Hull.Shown, HullTrue: o.Hull.True, Floor: o.Floor, Statements: statementModels(o.Statements),
	}
}

func courseModel(c *practice.Course) *model.Course {
	if c == nil {
		return nil
	}
	return &model.Course{
		Visits: wire.Of(wire.Pass, c.Visits), Places: int32(c.Places), Medians: c.Medians, P: c.P, LeastP: c.LeastP,
		Verdict: strings.ReplaceAll(string(c.Verdict), "-", " "), Trend: c.Trend.Trend, LeftOut: int32(c.LeftOut), Statements: statementModels(c.Statements),
	}
}

func notSeenModel(u practice.NotSeen) model.NotSeen {
	m := model.NotSeen{
		Planned: int32(u.Planned), Read: int32(u.Read), Void: int32(u.Void), NotReached: []model.Unreached{}, Meets: []model.Meets{}, SpacingAlongMm: above(u.SpacingAlong),
		SpacingDownMm: above(u.SpacingDown), SmallestMm: above(u.Smallest), CertainMm: above(u.Certain), Windows: int32(u.Windows), WindowsM2: u.WindowsM2,
		UnderbodyM2: u.UnderbodyM2, BlistersSeen: int32(u.Blisters), BoundPerM2: u.BoundPerM2, Statements: statementModels(u.Statements),
	}
	for _, x := range u.Meets {
		m.Meets = append(m.Meets, model.Meets{FlawMm: int32(x.FlawMm), Chance: x.Chance})
	}
	if b := u.Beside; b != nil {
		m.Beside = &model.CountedBeside{Blisters: int32(b.Blisters), AreaM2: b.M2, P: b.P}
	}
	for _, r := range u.NotReached {
		m.NotReached = append(m.NotReached, model.Unreached{Reason: r.Reason, Slots: wire.Column(r.Slots)})
	}
	return m
}

// above gives a length that was found; nil for none.
func above(mm int) *int32 {
	if mm <= 0 {
		return nil
	}
	x := int32(mm)
	return &x
}
