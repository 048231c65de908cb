package graph

import (
	"math"

	"boottop.example/practice/domain/cause"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/domain/report"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

func causesModel(c practice.Causes) model.CauseLedger {
	ashore, sinceRain := practice.DepthTable()
	return model.CauseLedger{
		Seq: int32(c.Seq), Axis: axisModel(c.Axis), Pass: causePassModel(c.Pass), Matters: convert(c.Matters, matterModel), Depths: depthsModel(c.Depths, len(c.Axis.IDs)),
		DepthSteps: convert(c.Steps, func(d practice.DepthPairs) model.DepthPairs { return depthsModel(d, len(c.Axis.IDs)) }),
		DepthTable: convert(ashore, depthRow), DepthTableAfterRain: convert(sinceRain, depthRow), Checks: convert(cause.Checks(), checkKindModel), Made: convert(c.Checks, checkMadeModel),
		LeftOut: int32(c.LeftOut), Notes: convert(c.Notes, sentenceModel), Tag: cause.Tag,
	}
}

// convert maps a list; none is an empty list.
func convert[From, To any](list []From, as func(From) To) []To {
	out := make([]To, len(list))
	for k, x := range list {
		out[k] = as(x)
	}
	return out
}

// ordinalsModel gives a list of places, empty for none.
func ordinalsModel(list []int32) wire.Column {
	return append(make(wire.Column, 0, len(list)), list...)
}

func causePassModel(p practice.PassContext) *model.CausePass {
	if p.ID == (practice.PassContext{}).ID {
		return nil
	}
	return &model.CausePass{
		ID: wire.New(wire.Pass, p.ID), Visit: wire.New(wire.Visit, p.VisitID), On: wire.Day(inZone(p.BeganAt, p.TimeZone)),
		Instrument: p.InstrumentName, Sensing: p.Sensing, State: p.State,
	}
}

func matterModel(m practice.Matter) model.CauseMatter {
	return model.CauseMatter{
		Title: m.Title, Places: ordinalsModel(m.Places), FoundOnly: m.Found, Entries: convert(m.Ledger.Entries, entryModel),
		Unnamed: convert(m.Ledger.Unnamed, lineModel), Next: convert(m.Ledger.Next, choiceModel),
		Judgements: convert(m.Judgements, judgementModel), Says: convert(m.Says, sentenceModel),
	}
}

func sentenceModel(s report.Sentence) model.CauseSentence {
	return model.CauseSentence{Claim: string(s.Claim), Text: s.Text()}
}

var causeStates = map[cause.State]model.CauseState{
	cause.Confirmed: model.CauseStateConfirmed, cause.Likely: model.CauseStateLikely, cause.PointTowards: model.CauseStatePoints,
	cause.Live: model.CauseStateLive, cause.Excluded: model.CauseStateExcluded,
}

func entryModel(e cause.Entry) model.CauseEntry {
	return model.CauseEntry{
		Cause: string(e.Cause.Code), Name: e.Cause.Name, Artefact: e.Cause.Artefact, State: causeStates[e.State],
		Families: convert(e.Families, func(f cause.Family) string { return string(f) }), For: convert(e.For, lineModel), Against: convert(e.Against, lineModel),
		NotDone: convert(e.NotDone, func(c cause.Check) string { return c.Code }), Unsaid: convert(e.Unsaid, lineModel),
	}
}

func lineModel(x cause.Line) model.CauseLine {
	sign, _ := cause.SignOf(x.Sign)
	m := model.CauseLine{
		Sign: string(x.Sign), Text: x.Text, Detail: x.Detail, Family: string(x.Family), Source: x.Source, Points: sign.Points,
		Confirms: x.Opens, Excludes: x.Shuts, Places: ordinalsModel(x.Places), See: make([]wire.ID, len(x.See)),
	}
	for k, r := range x.See {
		m.See[k] = wire.New(r.Kind, r.ID)
	}
	return m
}

func choiceModel(c cause.Choice) model.CauseChoice {
	return model.CauseChoice{
		Check: c.Check.Code, PowerHundredths: int32(math.Round(100 * c.Power)),
		Tells: convert(c.Tells, func(c cause.Code) string { return string(c) }),
	}
}

func checkKindModel(c cause.Check) model.CauseCheckKind {
	return model.CauseCheckKind{
		Code: c.Code, Text: c.Text, Minutes: int32(c.Minutes), Harm: c.Harm.String(), Consent: c.Consent,
		Outcomes: convert(c.Outcomes(), func(s cause.Sign) model.CauseOutcome { return model.CauseOutcome{Sign: string(s.Code), Text: s.Text} }),
	}
}

func checkMadeModel(c practice.CauseCheck) model.CauseCheckMade {
	sign, _ := cause.SignOf(cause.SignCode(c.Outcome))
	return model.CauseCheckMade{
		ID: wire.New(wire.CauseCheck, c.ID), Visit: wire.New(wire.Visit, c.VisitID), Check: sign.Check, Sign: c.Outcome, Text: sign.Text,
		Places: ordinalsModel(c.Ordinals), Note: c.Note, By: c.ByName, At: wire.At(c.At), WithdrawnAt: wire.MaybeAt(c.WithdrawnAt), WithdrawnReason: c.WithdrawnReason,
	}
}

func judgementModel(j practice.CauseJudgement) model.CauseJudgement {
	m := model.CauseJudgement{
		ID: wire.New(wire.Judgement, j.ID), Cause: j.Cause, Name: j.Cause, Judges: j.Judgement, Reason: j.Reason, By: j.ByName, At: wire.At(j.At),
	}
	if c, known := cause.Of(cause.Code(j.Cause)); known {
		m.Name = c.Name
	}
	return m
}

func depthsModel(d practice.DepthPairs, n int) model.DepthPairs {
	m := model.DepthPairs{
		Patterns: make(wire.TextColumn, n), Deep: full(d.Deep, n), Shallow: full(d.Shallow, n), Says: sentenceModel(d.Says),
	}
	for k, p := range d.Patterns {
		m.Patterns[k] = string(p)
	}
	if d.From.Deep != nil {
		large := string(d.Large)
		m.Large = &large
		from, to := wire.Day(inZone(d.From.Deep.BeganAt, d.From.Deep.TimeZone)), wire.Day(inZone(d.To.Deep.BeganAt, d.To.Deep.TimeZone))
		m.From, m.To = &from, &to
	}
	return m
}

func depthRow(s cause.Seen) model.DepthRow {
	thousandths := func(x float64) int32 { return int32(math.Round(1000 * x)) }
	return model.DepthRow{Days: int32(s.Days), Shallow: thousandths(s.Shallow), Middle: thousandths(s.Middle), Deep: thousandths(s.Deep), Mean: thousandths(s.True)}
}
