package graph

import (
	"context"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

var _ = reads(wire.Job, (*Resolver).job)

func (r *Resolver) job(ctx context.Context, id uuid.UUID) (model.Job, error) {
	j, err := r.Practice.Job(ctx, auth.Actor(ctx), id)
	if err != nil {
		return model.Job{}, err
	}
	return jobModel(j, time.Now()), nil
}

func jobModel(j practice.JobPage, now time.Time) model.Job {
	m := model.Job{
		ID: wire.New(wire.Job, j.ID), Number: j.Number, Kind: j.Kind, Scope: j.Scope, Stage: j.Stage, Vessel: vesselLine(j.Vessel, now),
		Client: maybeParty(j.Client), Lead: maybeMember(j.Lead), Cite: j.Cite, CiteAgreedOn: wire.MaybeDay(j.CiteAgreedOn), Restricted: j.Restricted,
		DueOn: wire.MaybeDay(j.DueOn), StandsBetween: j.StandsBetween, Visits: lines(j.Visits, now, visitLine), Reports: lines(j.Reports, now, reportLine),
		Version: j.Version, Stands: obstacles(j.Stands), Reinspections: lines(j.Reinspections, now, reinspectionModel), WindowsBared: int32(len(j.Bared)),
		Findings: each(j.Found, foundModel), Papers: each(j.Papers, paperModel),
	}
	for _, w := range j.Bared {
		m.BaredMm2 += w.WidthMm * w.HeightMm
	}
	if j.Came != nil {
		came := engagementModel(*j.Came)
		m.Came, m.Engagement = &came, &came.ID
	}
	for _, who := range j.Access {
		m.Access = append(m.Access, memberLine(who))
	}
	m.Permissions, m.WithoutLeave = each(j.Permissions, permissionModel), each(j.WithoutLeave, actModel)
	return m
}

func nextActModel(n *practice.NextAct) *model.NextAct {
	if n == nil {
		return nil
	}
	return &model.NextAct{What: n.What, WaitsFor: n.WaitsFor, On: wire.MaybeDay(n.On), Since: wire.MaybeDay(n.Since), Late: n.Late}
}

func actModel(x practice.ActWithoutLeave) model.ActWithoutLeave {
	return model.ActWithoutLeave{
		ID: wire.New(wire.ActWithoutLeave, x.ID), What: x.What, Thing: wire.New(x.Thing, x.ThingID), Text: x.Text, Stood: x.Stood, NotedAt: wire.MaybeAt(x.NotedAt),
		KeptAt: wire.At(x.KeptAt), By: x.ByName, Reason: x.Reason, ReasonBy: x.ReasonBy, ReasonAt: wire.MaybeAt(x.ReasonAt),
	}
}

// unasked is what was said of an act that was done before it could be asked about.
func unasked(in *model.UnaskedInput) *practice.Unasked {
	if in == nil {
		return nil
	}
	return &practice.Unasked{NotedAt: in.NotedAt.Ptr(), Reason: in.Reason}
}

func paperModel(p practice.Paper) model.Paper {
	return model.Paper{
		ID: wire.New(wire.Paper, p.ID), Kind: p.Kind, Title: p.Title, IssuedBy: p.IssuedBy, IssuedOn: wire.MaybeDay(p.IssuedOn), EndsOn: wire.MaybeDay(p.EndsOn),
		Number: p.Number, FileName: p.FileName, File: p.File,
	}
}

func foundModel(f practice.FoundLine) model.FoundLine {
	return model.FoundLine{ID: wire.New(wire.Finding, f.ID), Visit: wire.New(wire.Visit, f.VisitID), Kind: f.Kind, Sure: f.Sure, Text: f.Text, LookAgain: f.LookAgain}
}

func todayModel(t practice.Today, now time.Time) *model.Today {
	m := &model.Today{
		On: wire.Day(t.On), Visits: lines(t.Visits, now, visitLine), InHand: lines(t.InHand, now, jobLine), Due: lines(t.Due, now, reinspectionModel),
		Waiting: make([]model.Waiting, len(t.Waiting)),
	}
	for k, w := range t.Waiting {
		m.Waiting[k] = model.Waiting{Job: jobLine(w.Job, now), What: w.What, Since: wire.MaybeDay(w.Since)}
	}
	return m
}

func permissionModel(p practice.Permission) model.Permission {
	return model.Permission{
		ID: wire.New(wire.Permission, p.ID), What: p.What, Extent: p.Extent, Windows: p.Windows, AskedOn: wire.MaybeDay(p.AskedOn), GivenOn: wire.MaybeDay(p.GivenOn),
		RefusedOn: wire.MaybeDay(p.RefusedOn), GivenBy: p.GivenByName, MakesGood: p.MakesGood, Note: p.Note, Version: p.Version,
	}
}
