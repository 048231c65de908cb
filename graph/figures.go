package graph

import (
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

func figuresModel(f practice.Figures) *model.Figures {
	counted := func(c practice.Tally) model.Tally { return model.Tally(c) }
	return &model.Figures{
		From: wire.Day(f.From), To: wire.Day(f.To), Stages: each(f.Stages, counted), Reinspections: each(f.Reinspections, counted), Hidden: f.Hidden,
		Waiting: each(f.Waiting, func(w practice.WaitingFor) model.WaitingFor {
			return model.WaitingFor{Whom: w.Whom, Jobs: w.Jobs, Since: wire.MaybeDay(w.Since)}
		}),
		Hours: each(f.Hours, func(h practice.Hours) model.KindHours {
			return model.KindHours{Kind: h.Kind, Visits: h.Visits, Minutes: int32(h.Minutes)}
		}),
		Reports: each(f.Reports, func(r practice.ReportsDue) model.ReportsDue { return model.ReportsDue(r) }),
	}
}
