package practice

import (
	"context"
	"fmt"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/report"
	"boottop.example/practice/domain/report/render"
)

// ReportSection is a section of a draft: the surveyor's own text, with placeholders.
type ReportSection struct {
	ID             uuid.UUID
	Position       int32
	Title          string
	Body           string
	LeftOut        bool // kept with its words, and not printed
	WordingID      *uuid.UUID
	WordingVersion *int32
	Version        int32
}

// Composed is what a draft's writer is shown beside its content.
type Composed struct {
	Sections     []ReportSection
	Placeholders []report.Placeholder
	Wording      []WordingWarning
	Comments     []Comment
	Sent         *SentDraft
	Differences  []report.Difference
	LookFrom     *time.Time // from when on the only one who signs may look it through again
}

// WordingWarning is a phrase of the surveyor's own that says more than a survey can carry.
type WordingWarning struct {
	Where string // inShort, scope, limits, or sec_… of a section
	report.Warning
}

// ComposerWriter writes the sections of drafts.
type ComposerWriter interface {
	Wordings(ctx context.Context) ([]Wording, error)
	ProposeSections(ctx context.Context, report uuid.UUID, ids, wordings []uuid.UUID) error
	ReportOfSection(ctx context.Context, section uuid.UUID) (uuid.UUID, error)
	InsertSection(ctx context.Context, report uuid.UUID, s ReportSection) error
	UpdateSection(ctx context.Context, s ReportSection) error
	OrderSections(ctx context.Context, report uuid.UUID, ids []uuid.UUID) error
	// TouchReport notes that a draft was written in; it asks for another second look.
	TouchReport(ctx context.Context, report uuid.UUID, by *uuid.UUID, now time.Time) error
}

// proposeSections gives a new draft the practice's wording for its kind of survey.
func proposeSections(ctx context.Context, tx Tx, report uuid.UUID, kind string) error {
	all, err := tx.Wordings(ctx)
	if err != nil {
		return err
	}
	var ids, wordings []uuid.UUID
	for _, w := range all {
		if w.fits(kind) {
			ids, wordings = append(ids, uuid.Must(uuid.NewV7())), append(wordings, w.ID)
		}
	}
	if len(ids) == 0 {
		return nil
	}
	return tx.ProposeSections(ctx, report, ids, wordings)
}

// longestSection is how many letters a section may have, about ten printed pages.
const longestSection = 30_000

// AddSection is a new section of a draft, empty or with the practice's wording.
type AddSection struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Report   uuid.UUID
	Wording  *uuid.UUID
	Title    string
	Body     string
}

// AddSection adds a section at the end of a draft. A wording gives title and text where
// none are given.
func (s *Service) AddSection(ctx context.Context, a domain.Actor, in AddSection) (Done, error) {
	return s.write(ctx, &a, domain.WriteReport, "addSection", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.ID); err != nil {
			return Done{}, err
		}
		r, _, err := draft(ctx, tx, a, in.Report)
		if err != nil {
			return Done{}, err
		}
		section := ReportSection{ID: in.ID, Title: in.Title, Body: in.Body}
		if in.Wording != nil {
			w, err := wordingNamed(ctx, tx, *in.Wording)
			if err != nil {
				return Done{}, err
			}
			section.Title, section.Body = either(in.Title, w.Title), either(in.Body, w.Body)
			section.WordingID, section.WordingVersion = &w.ID, &w.Version
		}
		if err := section.check(); err != nil {
			return Done{}, err
		}
		if err := tx.InsertSection(ctx, r.ID, section); err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingSection, in.ID), ref(domain.ThingReport, r.ID)), tx.TouchReport(ctx, r.ID, entered(a), s.instant())
	})
}

func (s ReportSection) check() error {
	if err := oneLine("title", strings.TrimSpace(s.Title), 120); err != nil {
		return err
	}
	if len(s.Body) > longestSection {
		return domain.Invalidf("body", "Keep a section to %d letters; begin another for the rest.", longestSection)
	}
	return nil
}

// EditSection is a change to a section of a draft; nil leaves a field as it is.
type EditSection struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Version  int32
	Title    *string
	Body     *string
	LeftOut  *bool
}

// EditSection changes a section, or leaves it out of the report with its words kept.
func (s *Service) EditSection(ctx context.Context, a domain.Actor, in EditSection) (Done, error) {
	return s.write(ctx, &a, domain.WriteReport, "editSection", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		of, err := tx.ReportOfSection(ctx, in.ID)
		if err != nil {
			return Done{}, err
		}
		r, sources, err := draft(ctx, tx, a, of)
		if err != nil {
			return Done{}, err
		}
		for _, section := range sources.Sections {
			if section.ID != in.ID {
				continue
			}
			section.Version = in.Version
			set(&section.Title, in.Title)
			set(&section.Body, in.Body)
			set(&section.LeftOut, in.LeftOut)
			if err := section.check(); err != nil {
				return Done{}, err
			}
			if err := tx.UpdateSection(ctx, section); err != nil {
				return Done{}, err
			}
		}
		return touched(ref(domain.ThingSection, in.ID), ref(domain.ThingReport, r.ID)), tx.TouchReport(ctx, r.ID, entered(a), s.instant())
	})
}

// OrderSections is the order of a draft's sections.
type OrderSections struct {
	Mutation uuid.UUID `json:"-"`
	Report   uuid.UUID
	Sections []uuid.UUID
}

// OrderSections puts a draft's sections in order. Those that are not named keep their
// numbers.
func (s *Service) OrderSections(ctx context.Context, a domain.Actor, in OrderSections) (Done, error) {
	return s.write(ctx, &a, domain.WriteReport, "orderSections", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		r, _, err := draft(ctx, tx, a, in.Report)
		if err != nil {
			return Done{}, err
		}
		if err := tx.OrderSections(ctx, r.ID, in.Sections); err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingReport, r.ID)), tx.TouchReport(ctx, r.ID, entered(a), s.instant())
	})
}

// DraftPDF makes the PDF of a draft as it stands: marked on every page, without number
// and signature, kept nowhere.
func (s *Service) DraftPDF(ctx context.Context, a domain.Actor, id uuid.UUID) ([]byte, error) {
	page, err := s.Report(ctx, a, id)
	if err != nil {
		return nil, err
	}
	if !page.Draft() {
		return nil, domain.ErrNotFound
	}
	content, err := report.Decode(page.Content)
	if err != nil {
		return nil, err
	}
	pdf, err := render.PDF(content, render.Options{Paper: paperOf(page.Paper), Photo: s.reportPhoto(ctx, a.Practice)})
	if err != nil {
		return nil, fmt.Errorf("make PDF of draft %s: %w", id, err)
	}
	return pdf, nil
}

// paperOf is the sheet that a report is set on.
func paperOf(paper string) render.Paper {
	if paper == "Letter" {
		return render.Letter
	}
	return render.A4
}

// ownText is a text of the surveyor's own and where it stands.
type ownText struct {
	where string // inShort, scope, limits, or sec_… of a section
	title string
	text  string // filled
	gaps  []report.Unfilled
}

type ownTexts []ownText

func sectionID(id uuid.UUID) string { return ref(domain.ThingSection, id).String() }

// filledTexts gives the surveyor's own texts with their placeholders filled from what is
// kept now. Sections that are left out are not among them.
func filledTexts(r Report, src Sources) ownTexts {
	with := placeholders(src)
	var all ownTexts
	add := func(where, title, text string) {
		filled, gaps := report.Fill(text, with)
		all = append(all, ownText{where, title, filled, gaps})
	}
	add("inShort", "In short", r.InShort)
	add("scope", "What was asked", r.Scope)
	add("limits", "Limits", r.Limits)
	for _, s := range src.Sections {
		if !s.LeftOut {
			add(sectionID(s.ID), s.Title, s.Body)
		}
	}
	return all
}

func (all ownTexts) of(where string) string {
	for _, t := range all {
		if t.where == where {
			return t.text
		}
	}
	return ""
}

// sections gives those of the report, in order.
func (all ownTexts) sections() []report.Section {
	var out []report.Section
	for _, t := range all {
		if strings.HasPrefix(t.where, string(domain.ThingSection)+"_") {
			out = append(out, report.Section{ID: t.where, Title: t.title, Text: append([]string{}, lines(t.text)...)})
		}
	}
	return out
}

// placeholders says what stands for each of them in a report of this job.
func placeholders(src Sources) []report.Placeholder {
	f := src.Facts
	is := map[string]string{
		"vessel": f.Name, "hull number": f.HullNumberAsRead, "client": f.ClientName, "client as": f.ClientAs, "yard": f.Yard,
		"surveyor": f.LeadName, "practice": f.PracticeName, "job": f.JobNumber, "kind": kindTitles[f.Kind],
	}
	if f.VisitedAt.Unix() > 0 {
		is["date"] = report.Day(f.VisitedAt, Zone(f.VisitZone))
	}
	for _, p := range src.History.Passes {
		if p.JobID != f.JobID {
			continue
		}
		is["instrument"] = orElse(p.InstrumentName, p.InstrumentAsWritten)
		if ashore := ashoreInput(p.PassContext); ashore != nil {
			is["days ashore"] = strings.TrimSuffix(report.Ashore(ashore), " ashore")
		}
	}
	out := make([]report.Placeholder, len(report.PlaceholderNames))
	for k, name := range report.PlaceholderNames {
		out[k] = report.Placeholder{Name: name, Is: is[name]}
	}
	return out
}

// composed puts together what a draft's writer is shown beside it.
func composed(r Report, src Sources, built report.Report) Composed {
	c := Composed{Sections: src.Sections, Placeholders: placeholders(src), Comments: src.Comments, Sent: src.Sent, LookFrom: lookFrom(r, src.Facts)}
	for _, t := range filledTexts(r, src) {
		for _, w := range report.Lint(t.text) {
			c.Wording = append(c.Wording, WordingWarning{t.where, w})
		}
	}
	if src.Sent != nil {
		if before, err := report.Decode(src.Sent.Content); err == nil {
			c.Differences = report.Differences(before, built)
		}
	}
	return c
}
