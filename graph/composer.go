package graph

import (
	"context"

	"github.com/google/uuid"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/domain/report"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

// composedModel adds what a draft's writer is shown beside it.
func composedModel(m *model.Report, p practice.ReportPage) {
	m.EditedBy, m.EditedAt, m.LookFrom = named(p.EditedBy, p.Members), wire.MaybeAt(p.EditedAt), wire.MaybeAt(p.LookFrom)
	m.Traces = make([]model.Trace, len(p.Traces))
	for k, x := range p.Traces {
		m.Traces[k] = model.Trace{What: wire.New(x.What.Kind, x.What.ID), Visit: wire.New(wire.Visit, x.Visit)}
	}
	m.Sections = make([]model.ReportSection, len(p.Sections))
	for k, s := range p.Sections {
		m.Sections[k] = model.ReportSection{
			ID: wire.New(wire.Section, s.ID), Position: s.Position, Title: s.Title, Body: s.Body, LeftOut: s.LeftOut, WordingVersion: s.WordingVersion, Version: s.Version,
		}
		if s.WordingID != nil {
			id := wire.New(wire.Wording, *s.WordingID)
			m.Sections[k].Wording = &id
		}
	}
	m.Placeholders = make([]model.Placeholder, len(p.Placeholders))
	for k, x := range p.Placeholders {
		m.Placeholders[k] = model.Placeholder{Name: x.Name, Is: x.Is}
	}
	m.WordingWarnings = make([]model.WordingWarning, len(p.Wording))
	for k, w := range p.Wording {
		m.WordingWarnings[k] = model.WordingWarning{Where: w.Where, Code: w.Code, Found: w.Found, Why: w.Why, Instead: w.Instead}
	}
	m.Comments = make([]model.DraftComment, len(p.Comments))
	for k, c := range p.Comments {
		m.Comments[k] = model.DraftComment{
			ID: wire.New(wire.Comment, c.ID), Section: c.Section, About: c.About, Text: c.Text, At: wire.At(c.At), ResolvedAt: wire.MaybeAt(c.ResolvedAt),
			By: model.MemberLine{ID: wire.New(wire.Member, c.ByID), Name: c.ByName, Roles: []model.Role{}, Active: true},
		}
		if c.ResolvedBy != "" {
			m.Comments[k].ResolvedBy = &c.ResolvedBy
		}
	}
	if p.Sent != nil {
		m.Sent = sentModel(p.Composed)
	}
}

func sentModel(c practice.Composed) *model.SentDraft {
	return &model.SentDraft{Number: c.Sent.Number, At: wire.At(c.Sent.At), ByName: c.Sent.ByName, Changes: changeModels(c.Differences)}
}

func changeModels(list []report.Difference) []model.DraftChange {
	out := make([]model.DraftChange, len(list))
	for k, d := range list {
		out[k] = model.DraftChange{Where: d.Where, Title: d.Title, Runs: make([]model.WordRun, len(d.Runs))}
		for n, run := range d.Runs {
			out[k].Runs[n] = model.WordRun{Kind: run.Kind, Text: run.Text}
		}
	}
	return out
}

func unmetModels(list []practice.Unmet) []model.Unmet {
	out := make([]model.Unmet, len(list))
	for k, u := range list {
		out[k] = model.Unmet{Code: u.Code, Text: u.Text}
		if u.Thing.ID != uuid.Nil {
			id := wire.New(u.Thing.Kind, u.Thing.ID)
			out[k].Thing = &id
		}
	}
	return out
}

func (r *Resolver) wordings(ctx context.Context) ([]model.Wording, error) {
	list, err := r.Practice.Wordings(ctx, auth.Actor(ctx))
	out := make([]model.Wording, len(list))
	for k, w := range list {
		out[k] = model.Wording{
			ID: wire.New(wire.Wording, w.ID), Kinds: orNone(w.Kinds), Title: w.Title, Body: w.Body, Position: w.Position, Retired: w.Retired, Version: w.Version,
			Versions: make([]model.WordingVersion, len(w.Earlier)),
		}
		for n, v := range w.Earlier {
			out[k].Versions[n] = model.WordingVersion{Version: v.Version, Title: v.Title, Body: v.Body, ByName: v.ByName, At: wire.At(v.At)}
		}
	}
	return out, err
}
