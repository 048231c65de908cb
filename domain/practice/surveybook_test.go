package practice_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/domain/report"
)

func TestAScheduleIsWorkedThroughAndFeedsTheReport(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s, lead, principal := b.survey(b.ours, "Petrel"), b.ours.of[domain.Surveyor], b.ours.of[domain.Principal]
	item := func(name string) practice.ScheduleItem { return practice.ScheduleItem{ID: newID(), Name: name} }
	hull := practice.ScheduleArea{ID: newID(), Name: "Hull", Items: []practice.ScheduleItem{item("Topsides"), item("Keel bolts"), item("Rudder")}}
	set := func(version int32, areas ...practice.ScheduleArea) error {
		_, err := b.SetSchedule(t.Context(), principal, practice.SetSchedule{Mutation: newID(), Schedule: practice.Schedule{Version: version, Areas: areas}})
		return err
	}
	want(t, set(0, hull), domain.Internal)
	want(t, set(0, hull), domain.Conflict)
	want(t, set(7, hull), domain.Conflict)
	want(t, set(1, practice.ScheduleArea{ID: newID(), Name: " "}), domain.Invalid, "areas[0].name")
	want(t, set(1, hull, hull), domain.Invalid, "areas[1].id")
	examine := func(k int, examined, why string) error {
		_, err := b.ExamineItem(t.Context(), lead, practice.ExamineItem{Mutation: newID(), Examination: practice.Examination{ID: newID(), VisitID: s.visit, ItemID: hull.Items[k].ID, Examined: examined, Why: why, Condition: "as seen"}})
		return err
	}
	want(t, examine(0, "looked", ""), domain.Invalid, "examined")
	want(t, examine(1, "not", " "), domain.Invalid, "why")
	want(t, examine(0, "examined", ""), domain.Internal)
	want(t, examine(0, "examined", ""), domain.Conflict)
	want(t, examine(1, "not", "not drawn"), domain.Internal)
	_, err := b.ExamineItem(t.Context(), lead, practice.ExamineItem{Mutation: newID(), Examination: practice.Examination{ID: newID(), VisitID: s.visit, ItemID: newID(), Examined: "examined"}})
	want(t, err, domain.NotFound)

	id := newID()
	must[practice.Done](t)(b.DraftReport(t.Context(), lead, practice.DraftReport{Mutation: newID(), ID: id, Job: s.job, Title: "Condition survey", Paper: "A4"}))
	draft := func() (practice.ReportPage, report.Report) {
		page := must[practice.ReportPage](t)(b.Report(t.Context(), lead, id))
		return page, must[report.Report](t)(report.Decode(page.Content))
	}
	page, content := draft()
	if len(content.Schedule) != 1 || len(content.Schedule[0].Items) != 3 || content.Schedule[0].Items[2].Examined != report.NotExamined {
		t.Errorf("the draft's schedule: %+v", content.Schedule)
	}
	if limits := report.Join(content.Limits); !strings.Contains(limits, "Not examined: keel bolts (not drawn); rudder (nothing noted).") {
		t.Errorf("the limits: %s", limits)
	}
	blocked := func(page practice.ReportPage) bool {
		for _, w := range page.InTheWay {
			if w.Code == "schedule" {
				return true
			}
		}
		return false
	}
	if !blocked(page) {
		t.Error("an item of which nothing is said stands in nobody's way")
	}
	// The item is retired: what was said of it stays, what was not is no longer asked.
	keel := hull.Items[1]
	hull.Items = []practice.ScheduleItem{hull.Items[0]}
	want(t, set(1, hull), domain.Internal)
	page, content = draft()
	if blocked(page) || len(content.Schedule) != 2 || content.Schedule[1].Items[0].Name != keel.Name {
		t.Errorf("after an item was retired: %v, %+v", page.InTheWay, content.Schedule)
	}
	_, err = b.SetSchedule(t.Context(), lead, practice.SetSchedule{Mutation: newID()})
	want(t, err, domain.Forbidden)
}

func TestAValueStandsInTheReport(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s, lead := b.survey(b.ours, "Petrel"), b.ours.of[domain.Surveyor]
	on := time.Date(2026, 4, 7, 0, 0, 0, 0, time.UTC)
	v := practice.Valuation{JobID: s.job, FigureMinor: 1_850_050, Currency: "EUR", Basis: "sale between willing parties, as she lies", ValueOn: on, Comparables: []byte(`[{"name": "sister, 1981", "is": "asked 21 000 EUR"}]`)}
	put := func(change func(*practice.Valuation)) error {
		in := v
		change(&in)
		_, err := b.SetValuation(t.Context(), lead, practice.SetValuation{Mutation: newID(), Valuation: in})
		return err
	}
	want(t, put(func(v *practice.Valuation) { v.Basis = "" }), domain.Invalid, "basis")
	want(t, put(func(v *practice.Valuation) { v.FigureMinor = 0 }), domain.Invalid, "figureMinor")
	want(t, put(func(v *practice.Valuation) { v.Currency = "euro" }), domain.Invalid, "currency")
	want(t, put(func(v *practice.Valuation) { v.Comparables = []byte(`{}`) }), domain.Invalid, "comparables")
	want(t, put(func(v *practice.Valuation) { v.JobID = newID() }), domain.NotFound)
	// A valuation cannot be issued without one; a survey of another kind can.
	id := newID()
	must[practice.Done](t)(b.DraftReport(t.Context(), lead, practice.DraftReport{Mutation: newID(), ID: id, Job: s.job, Title: "Valuation", Paper: "A4"}))
	asked := func(kind string) bool {
		b.exec(`update jobs set kind = $2 where id = $1`, s.job, kind)
		page := must[practice.ReportPage](t)(b.Report(t.Context(), lead, id))
		return slices.ContainsFunc(page.InTheWay, func(u practice.Unmet) bool { return u.Code == "valuation" && u.Thing.ID == s.job })
	}
	if !asked("valuation") || asked("insurance") {
		t.Error("a valuation without a value stands in nobody's way, or a survey with none does")
	}
	want(t, put(func(*practice.Valuation) {}), domain.Internal)
	if asked("valuation") {
		t.Error("a valuation with a value is still held back for want of one")
	}
	want(t, put(func(*practice.Valuation) {}), domain.Conflict)
	want(t, put(func(v *practice.Valuation) { v.Version = 1 }), domain.Internal)
	content := must[report.Report](t)(report.Decode(must[practice.ReportPage](t)(b.Report(t.Context(), lead, id)).Content))
	if got := content.Valuation; got == nil || strings.ReplaceAll(got.Figure, "\u00a0", " ") != "18 500.50 EUR" || got.On != "7 April 2026" || len(got.Comparables) != 1 || got.Comparables[0].Name != "sister, 1981" {
		t.Errorf("the draft's value: %+v", got)
	}
}

func TestAnAttendanceNoteIsStruckOutAndNeverRewritten(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s, other, lead := b.survey(b.ours, "Petrel"), b.survey(b.ours, "Gannet"), b.ours.of[domain.Surveyor]
	add := func(a domain.Actor, change func(*practice.AttendanceNote)) (uuid.UUID, error) {
		n := practice.AttendanceNote{ID: newID(), JobID: s.job, Kind: "call", At: b.clock.now(), WithWhom: "Anna Dunlin", Text: "Asks for Friday."}
		change(&n)
		_, err := b.AddAttendanceNote(t.Context(), a, practice.AddAttendanceNote{Mutation: newID(), Note: n})
		return n.ID, err
	}
	_, err := add(lead, func(n *practice.AttendanceNote) { n.Kind, n.WithWhom = "verbal outline", "" })
	want(t, err, domain.Invalid, "withWhom")
	_, err = add(lead, func(n *practice.AttendanceNote) { n.At = b.clock.now().Add(time.Hour) })
	want(t, err, domain.Invalid, "at")
	_, err = add(lead, func(n *practice.AttendanceNote) { n.Kind = "gossip" })
	want(t, err, domain.Invalid, "kind")
	_, err = add(lead, func(n *practice.AttendanceNote) { n.VisitID = &other.visit })
	want(t, err, domain.Invalid, "visit")
	_, err = add(b.ours.of[domain.Guest], func(*practice.AttendanceNote) {})
	want(t, err, domain.NotFound)
	id, err := add(b.ours.of[domain.Office], func(n *practice.AttendanceNote) { n.VisitID = &s.visit })
	want(t, err, domain.Internal)
	strike := func(reason string) error {
		_, err := b.StrikeAttendanceNote(t.Context(), lead, practice.StrikeAttendanceNote{Mutation: newID(), ID: id, Reason: reason})
		return err
	}
	want(t, strike(" "), domain.Invalid, "reason")
	want(t, strike("another boat"), domain.Internal)
	want(t, strike("again"), domain.Conflict)
	book := must[practice.SurveyBook](t)(b.SurveyBook(t.Context(), lead, s.job))
	if len(book.Notes) != 1 || book.Notes[0].StruckReason != "another boat" || book.Notes[0].Text != "Asks for Friday." || book.Notes[0].ByName != "The office" {
		t.Errorf("kept %+v", book.Notes)
	}
	_, err = b.SurveyBook(t.Context(), b.ours.of[domain.Guest], s.job)
	want(t, err, domain.NotFound)
}
