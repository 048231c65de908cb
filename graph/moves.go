package graph

import (
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

func movePlanModel(p practice.MovePlan) model.MovePlan {
	m := model.MovePlan{
		Spell: boardSpell(p.Spell), NewLift: wire.At(p.NewLift), NewLaunch: wire.MaybeAt(p.NewLaunch), Conflicts: orNone(p.Conflicts), Lines: make([]model.MoveLine, len(p.Lines)),
	}
	for k, l := range p.Lines {
		m.Lines[k] = model.MoveLine{
			Visit: boardVisit(l.Visit), From: wire.At(l.From), To: wire.At(l.To), NewFrom: wire.At(l.NewFrom), NewTo: wire.At(l.NewTo), Reason: l.Reason,
			Conflicts: checkModels(l.Conflicts), MustMove: l.MustMove,
		}
	}
	return m
}
