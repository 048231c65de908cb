package graph

import (
	"context"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/domain/report"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/graph/model"
)

// brief reads the one page before a job's next visit.
func (r *Resolver) brief(ctx context.Context, job uuid.UUID) (model.Brief, error) {
	b, err := r.Practice.Brief(ctx, auth.Actor(ctx), job)
	if err != nil {
		return model.Brief{}, err
	}
	return briefModel(b, time.Now()), nil
}

func briefModel(b practice.Brief, now time.Time) model.Brief {
	point := func(p practice.BriefPoint) model.BriefPoint {
		return model.BriefPoint{What: p.What, Why: p.Why, Places: each(p.Places, b.History.Axis.Name)}
	}
	m := model.Brief{
		Job: jobLine(b.Job, now), Weak: each(b.Weak, point), Again: each(b.Again, point), Like: orNone(b.Like),
		OverVisits: overVisitsModel(b.Over), Permissions: each(b.Permissions, permissionModel), Missing: orNone(b.Missing), Next: orNone(b.Next), Cautions: orNone(b.Safety), LeftOut: orNone(b.Left),
	}
	if b.Visit != nil {
		line := visitLine(*b.Visit, now)
		m.Visit = &line
	}
	if p := b.Plan; p != nil {
		m.Plan = &model.BriefPlan{
			PlanVersion: p.PlanVersion, Kind: p.Kind, Note: p.Note, DryChangeReason: p.DryChangeReason, Places: p.Places, Dry: p.Dry, Targeted: p.Targeted,
		}
	}
	return m
}

func overVisitsModel(o practice.OverVisits) model.OverVisits {
	return model.OverVisits{
		VisitDeviation: o.Visit, Tag: report.OverVisitsTag,
		Rows: each(o.Rows, func(r practice.VisitsRow) model.OverVisitsRow {
			return model.OverVisitsRow{Visits: int32(r.Visits), Shown: r.Shown, Planned: r.True, LeastP: r.LeastP}
		}),
	}
}
