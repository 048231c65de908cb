package graph

import (
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

func movePlanModel(p practice.MovePlan) model.MovePlan {
	m := model.MovePlan{
		Spell: boardSpell(p.Spell), NewLift: wire.At(p.NewLift), NewLaunch: wire.MaybeAt(p.NewLaunch), Conflicts: orNone(p.Conflicts), Lines: make([]model.MoveLine, len(p.Lines)),
		Slot: make([]model.SlotLine, len(p.Slot)),
	}
	for k, l := range p.Slot {
		m.Slot[k] = model.SlotLine{What: l.What, At: wire.At(l.At), NewAt: wire.At(l.NewAt), Reason: l.Reason, MustMove: l.MustMove}
	}
	for k, l := range p.Lines {
		m.Lines[k] = model.MoveLine{
			Visit: boardVisit(l.Visit), From: wire.At(l.From), To: wire.At(l.To), NewFrom: wire.At(l.NewFrom), NewTo: wire.At(l.NewTo), Reason: l.Reason,
			Conflicts: checkModels(l.Conflicts), MustMove: l.MustMove,
		}
	}
	return m
}

func madeMoves(list []practice.MadeMove) []model.MadeMove {
	out := make([]model.MadeMove, len(list))
	for k, m := range list {
		out[k] = model.MadeMove{
			ID: wire.New(wire.Move, m.ID), Spell: wire.New(wire.Spell, m.SpellID), What: m.What, Reason: m.Reason, MadeAt: wire.At(m.MadeAt), MadeBy: m.MadeBy,
			VesselName: m.VesselName, TimeZone: m.TimeZone, From: wire.MaybeAt(m.FromBefore), To: wire.MaybeAt(m.FromAfter), Visits: m.Visits,
		}
	}
	return out
}

// acceptedLines are the visits that go along.
func acceptedLines(list []model.AcceptedLineInput) (out []practice.AcceptedLine) {
	for _, l := range list {
		out = append(out, practice.AcceptedLine{Visit: l.Visit.As(wire.Visit), Version: l.Version, From: l.From.Time, To: l.To.Time})
	}
	return out
}
