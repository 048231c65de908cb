package practice_test

import (
	"context"
	"encoding/json"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

// found records a finding of a visit as its surveyor.
func (b *bundle) found(s survey, change ...func(*practice.Finding)) (uuid.UUID, error) {
	b.t.Helper()
	f := practice.Finding{ID: newID(), VisitID: s.visit, Kind: "bulge", Sure: "seen"}
	for _, c := range change {
		c(&f)
	}
	_, err := b.RecordFinding(b.t.Context(), b.ours.of[domain.Surveyor], practice.RecordFinding{Mutation: newID(), Finding: f})
	return f.ID, err
}

const window = `{"widthMm": 100, "heightMm": 100, "count": 7, "diametersMm": [4, 3, 4], "pH": 4}`

func TestFinding(t *testing.T) {
	t.Parallel()
	t.Run("of a form keeps its figures, takes the form's word and derives the class", func(t *testing.T) {
		t.Parallel()
		b := setup(t)
		s := b.survey(b.ours, "Petrel")
		in := practice.RecordFinding{Mutation: newID(), Finding: practice.Finding{
			ID: newID(), VisitID: s.visit, Form: "blisters", Kind: "what I call them", Sure: "seen", Measured: json.RawMessage(window), Places: []int32{2, 1},
		}}
		thrice(t, func(ctx context.Context) (practice.Done, error) {
			return b.RecordFinding(ctx, b.ours.of[domain.Surveyor], in)
		})
		f := must[practice.Finding](t)(b.Finding(t.Context(), b.ours.of[domain.Trainee], in.Finding.ID))
		facts, derived := f.Measurements()
		if f.Kind != "blisters" || len(facts) != 5 || len(derived) != 3 || !strings.HasPrefix(derived[1].Is, "ISO 4628-2 3(S4), about ASTM D714 4") {
			t.Errorf("kept %+v: %q, %q", f, facts, derived)
		}
		v := must[practice.VisitPage](t)(b.Visit(t.Context(), b.ours.of[domain.Surveyor], s.visit, everything))
		if len(v.Findings) != 1 || string(v.Findings[0].Measured) != string(f.Measured) {
			t.Errorf("with its visit: %+v", v.Findings)
		}
	})
	t.Run("is refused by the field that does not fit", func(t *testing.T) {
		t.Parallel()
		b := setup(t)
		s, other := b.survey(b.ours, "Petrel"), b.survey(b.ours, "Gannet")
		elsewhere, err := b.found(other)
		want(t, err, domain.Internal)
		for name, c := range map[string]struct {
			change func(*practice.Finding)
			kind   domain.Kind
			field  string
		}{
			"no such form":  {func(f *practice.Finding) { f.Form = "smell" }, domain.Invalid, "form"},
			"a class typed": {func(f *practice.Finding) { f.Form, f.Measured = "blisters", json.RawMessage(`{"class": 3}`) }, domain.Invalid, "measured.widthMm"},
			"a figure past a limit": {func(f *practice.Finding) {
				f.Form, f.Measured = "weep", json.RawMessage(`{"liquid": "clear", "pH": 15}`)
			}, domain.Invalid, "measured.pH"},
			"neither form nor kind": {func(f *practice.Finding) { f.Kind = " " }, domain.Invalid, "kind"},
			"a list of figures":     {func(f *practice.Finding) { f.Measured = json.RawMessage(`[1]`) }, domain.Invalid, "measured"},
			"an outline, no side":   {func(f *practice.Finding) { f.Outline = json.RawMessage(`[[1, 2], [3, 4], [5, 6]]`) }, domain.Invalid, "side"},
			"a side, no outline":    {func(f *practice.Finding) { f.Side = ptr("port") }, domain.Invalid, "side"},
			"no side of a boat":     {func(f *practice.Finding) { f.Side, f.Outline = ptr("left"), json.RawMessage(`[[1, 2]]`) }, domain.Invalid, "side"},
			"an outline in metres":  {func(f *practice.Finding) { f.Side, f.Outline = ptr("port"), json.RawMessage(`[[1.5, 2]]`) }, domain.Invalid, "outline"},
			"another boat's":        {func(f *practice.Finding) { f.AgainOf = &elsewhere }, domain.Invalid, "finding"},
			"itself":                {func(f *practice.Finding) { f.OtherFace = &f.ID }, domain.Invalid, "id"},
			"nobody's":              {func(f *practice.Finding) { f.OtherFace = ptr(newID()) }, domain.NotFound, ""},
			"a place she has not":   {func(f *practice.Finding) { f.Places = []int32{999} }, domain.Invalid, "places[0]"},
		} {
			_, err := b.found(s, c.change)
			if domain.KindOf(err) != c.kind || err == nil {
				t.Errorf("%s: %v", name, err)
				continue
			}
			want(t, err, c.kind, c.field)
		}
	})
	t.Run("is put right until its report is issued", func(t *testing.T) {
		t.Parallel()
		b := setup(t)
		s, lead := b.survey(b.ours, "Petrel"), b.ours.of[domain.Surveyor]
		id, err := b.found(s, func(f *practice.Finding) { f.Places = []int32{1, 2} })
		want(t, err, domain.Internal)
		edit := practice.EditFinding{Mutation: newID(), Finding: practice.Finding{ID: id, Version: 1, Form: "sounding", Sure: "seen", Measured: json.RawMessage(`{"note": "dull"}`), Places: []int32{3}}}
		thrice(t, func(ctx context.Context) (practice.Done, error) { return b.EditFinding(ctx, lead, edit) })
		f := must[practice.Finding](t)(b.Finding(t.Context(), lead, id))
		if f.Kind != "dull note" || len(f.Places) != 1 || f.Places[0] != 3 || f.Version != 2 || f.VisitID != s.visit {
			t.Errorf("put right: %+v", f)
		}
		edit.Mutation = newID()
		_, err = b.EditFinding(t.Context(), lead, edit)
		want(t, err, domain.Conflict)
		b.exec(`insert into reports (practice_id, id, job_id, state, number, created_at) values ($1, $2, $3, 'issued', '2026-001', $4)`, b.ours.id, newID(), s.job, b.clock.now())
		edit.Mutation, edit.Finding.Version = newID(), 2
		_, err = b.EditFinding(t.Context(), lead, edit)
		want(t, err, domain.Conflict)
	})
	t.Run("marked to be looked at again stays on the list until somebody has", func(t *testing.T) {
		t.Parallel()
		b := setup(t)
		s, lead := b.survey(b.ours, "Petrel"), b.ours.of[domain.Surveyor]
		again := func() (kinds []string) {
			for _, l := range must[[]practice.AgainLine](t)(b.LookAgain(t.Context(), lead, s.vessel)) {
				kinds = append(kinds, l.Kind)
			}
			return kinds
		}
		first, err := b.found(s, func(f *practice.Finding) { f.Kind, f.LookAgain = "weep at the stock", true })
		want(t, err, domain.Internal)
		_, err = b.found(s)
		want(t, err, domain.Internal)
		if got := again(); len(got) != 1 || got[0] != "weep at the stock" {
			t.Errorf("to look at: %q", got)
		}
		brief := must[practice.Brief](t)(b.Brief(t.Context(), lead, s.job))
		if len(brief.Again) == 0 || !strings.HasPrefix(brief.Again[0].What, "weep at the stock") {
			t.Errorf("the brief: %+v", brief.Again)
		}
		b.clock.pass(24 * time.Hour)
		_, err = b.found(s, func(f *practice.Finding) { f.Kind, f.AgainOf = "gone", &first })
		want(t, err, domain.Internal)
		if got := again(); len(got) != 0 {
			t.Errorf("looked at, and still on the list: %q", got)
		}
		for _, p := range must[practice.Brief](t)(b.Brief(t.Context(), lead, s.job)).Again {
			if strings.HasPrefix(p.What, "weep at the stock") {
				t.Error("looked at, and still in the brief")
			}
		}
	})
	t.Run("stands in the draft with its figures, its outline and the other face", func(t *testing.T) {
		t.Parallel()
		b := setup(t)
		s, lead := b.survey(b.ours, "Petrel"), b.ours.of[domain.Surveyor]
		first, err := b.found(s, func(f *practice.Finding) {
			f.Form, f.Kind, f.Measured = "blisters", "", json.RawMessage(window)
			f.Side, f.Outline = ptr("port"), json.RawMessage(`[[4000, 500], [5000, 500], [5000, 900], [4000, 900]]`)
		})
		want(t, err, domain.Internal)
		b.clock.pass(time.Minute)
		_, err = b.found(s, func(f *practice.Finding) { f.OtherFace = &first })
		want(t, err, domain.Internal)
		id := newID()
		must[practice.Done](t)(b.DraftReport(t.Context(), lead, practice.DraftReport{Mutation: newID(), ID: id, Job: s.job, Title: "Limited survey", Paper: "A4"}))
		text := strings.ReplaceAll(string(must[practice.ReportPage](t)(b.Report(t.Context(), lead, id)).Content), "\u00a0", " ")
		for _, says := range []string{"port, 4 to 5 m forward, 0.5 to 0.9 m down", "ISO 4628-2 3(S4)", "looked at from the other face: finding 2", "looked at from the other face: finding 1", `"along":4500,"down":700`} {
			if !strings.Contains(text, says) {
				t.Errorf("the draft does not say %q:\n%s", says, text)
			}
		}
	})
}
