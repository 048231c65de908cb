package practice

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain/measure/due"
)

// ReinspectionFacts is what the dates to the next look depend on, after a job's last
// visit, and what that job did. A zero date is one that there is not.
type ReinspectionFacts struct {
	Built        *int16
	Polyester    bool
	Visited      time.Time
	NextLift     time.Time
	Launch       time.Time
	Treated      time.Time
	Grounded     time.Time
	GuaranteeEnd time.Time
	Metered      bool // a pass was closed
	LookedWet    bool
	Opened       bool // windows were bared
	Outside      bool // any visit but one inside alone
	DaysAshore   *int32
	Instrument   *uuid.UUID
}

// OpenAdvice is an issued recommendation that nobody has seen done.
type OpenAdvice struct {
	ID    uuid.UUID
	Grade string
	About string
	ByOn  *time.Time
}

// OpenReinspection is one that nothing has answered yet.
type OpenReinspection struct {
	ID             uuid.UUID
	Recommendation *uuid.UUID
	Code           string
	From, To       time.Time
	WaitsFor       string
	DaysAshore     *int32
	Instrument     *uuid.UUID
}

// Answered says by which words a survey answers a reinspection.
type Answered struct {
	ID   uuid.UUID
	Note string
}

// propose answers what a job's survey covered and proposes when the vessel should be seen
// again, from its recommendations and those that are still open from earlier jobs. A job
// without a visit proposes nothing: every window counts from a visit.
func (s *Service) propose(ctx context.Context, tx Tx, r Report, now time.Time) error {
	f, visited, err := tx.ReinspectionFacts(ctx, r.JobID)
	if err != nil || !visited {
		return err
	}
	advice, err := tx.OpenAdvice(ctx, r.VesselID)
	if err != nil {
		return err
	}
	open, err := tx.OpenReinspections(ctx, r.VesselID)
	if err != nil {
		return err
	}
	settings, err := tx.ReinspectionSettings(ctx)
	if err != nil {
		return err
	}
	answers, left := f.answers(open, r.Number)
	if err := tx.AnswerReinspections(ctx, r.JobID, answers, r.SignedBy, now); err != nil {
		return err
	}
	plan, err := due.Work(f.hull(advice, left), settings.Due())
	if err != nil {
		return fmt.Errorf("propose when to look again: %w", err)
	}
	for n, w := range windowsOf(plan) {
		if slices.ContainsFunc(left, func(o OpenReinspection) bool { return o.is(w) }) {
			continue
		}
		if err := tx.InsertReinspection(ctx, f.window(w, r, n), now); err != nil {
			return err
		}
	}
	return nil
}

// gradesDue are the grades as the rules of the next look name them.
var gradesDue = map[string]due.Grade{
	"stop": due.Stop, "afloat": due.BeforeLaunch, "ashore": due.WhileAshore, "planned": due.Planned, "watch": due.Watch, "further": due.LookFurther, "record": due.Record,
}

// hull is what the rules need. A recommendation whose window stands already is left out.
func (f ReinspectionFacts) hull(advice []OpenAdvice, standing []OpenReinspection) due.Hull {
	h := due.Hull{
		Visited: f.Visited, Polyester: f.Polyester, DaysAshore: -1, NextLift: f.NextLift, Launch: f.Launch, Treated: f.Treated, Grounded: f.Grounded, GuaranteeEnd: f.GuaranteeEnd,
	}
	if f.Built != nil {
		h.Built = int(*f.Built)
	}
	if f.DaysAshore != nil {
		h.DaysAshore = int(*f.DaysAshore)
	}
	for _, a := range advice {
		if slices.ContainsFunc(standing, func(o OpenReinspection) bool { return o.Recommendation != nil && *o.Recommendation == a.ID }) {
			continue
		}
		finding := due.Finding{ID: a.ID.String(), Grade: gradesDue[a.Grade], Kind: due.Kind(a.About)}
		if a.ByOn != nil {
			finding.By = *a.ByOn
		}
		h.Findings = append(h.Findings, finding)
	}
	if len(advice) > 0 && len(h.Findings) == 0 {
		h.Polyester = false // something is open, so the rule of clean hulls has nothing to say
	}
	return h
}

func windowsOf(p due.Plan) []due.Window {
	list := slices.Clone(p.Waiting)
	for _, v := range p.Visits {
		list = append(list, v.Windows...)
	}
	return list
}

// window is one window of the plan as it is kept.
func (f ReinspectionFacts) window(w due.Window, r Report, n int) NewReinspection {
	out := NewReinspection{
		ID: derived(fmt.Sprintf("reinspection %d", n), r.ID), Vessel: r.VesselID, Report: &r.ID, From: w.Earliest, To: w.Latest,
		Reason: w.Reason, Tag: w.Tag, Code: w.Code, DaysAshore: f.DaysAshore, Instrument: f.Instrument,
	}
	if id, err := uuid.Parse(w.Finding); err == nil {
		out.Recommendation = &id
	}
	for _, note := range w.Wants {
		out.Wants = append(out.Wants, note.Text)
	}
	if w.Latest.IsZero() {
		out.To = w.Earliest
		out.WaitsFor = "launch"
		if w.Until == due.AtAccess {
			out.WaitsFor = "access"
		}
	}
	return out
}

// is tells whether a window stands already: the same rule, the same reason, the same days.
func (o OpenReinspection) is(w due.Window) bool {
	of := ""
	if o.Recommendation != nil {
		of = o.Recommendation.String()
	}
	return o.Code == w.Code && of == w.Finding && o.From.Equal(w.Earliest) && (o.To.Equal(w.Latest) || o.WaitsFor != "")
}

// answers sorts what is open into what this survey answers, with its words, and the rest.
func (f ReinspectionFacts) answers(open []OpenReinspection, number string) (answers []Answered, left []OpenReinspection) {
	for _, o := range open {
		if !f.covers(o) {
			left = append(left, o)
			continue
		}
		answers = append(answers, Answered{o.ID, f.note(o, number)})
	}
	return answers, left
}

// covers tells whether a job's visits looked at what a reinspection asks for. What has to
// be seen done is answered by whoever sees it done, never by a survey alone; a state of
// the hull is looked at in its window, not before. Common practice, no source.
func (f ReinspectionFacts) covers(o OpenReinspection) bool {
	switch due.Kind(o.Code) {
	case due.Kind(due.Stop), due.Kind(due.BeforeLaunch), due.Kind(due.WhileAshore), due.Kind(due.LookFurther):
		return false
	case due.RaisedUniform, due.Drying:
		return f.Metered
	case due.FewBlisters, due.ActiveBlisters, due.FailingTreatment:
		return f.LookedWet || f.Opened
	case due.WetCore:
		return f.Metered || f.Opened
	case due.AfterTreatment, due.Guarantee, due.Grounding, due.CleanOlder, "":
		return f.Outside && !f.Visited.Before(o.From)
	}
	return f.Outside
}

// note says by what it was answered, and where the look was not like the one asked for.
func (f ReinspectionFacts) note(o OpenReinspection, number string) string {
	unlike := []string{}
	switch {
	case f.Visited.Before(o.From):
		unlike = append(unlike, "before its window opened on "+o.From.Format("2 January 2006"))
	case f.Visited.After(o.To):
		unlike = append(unlike, "after its window had closed on "+o.To.Format("2 January 2006"))
	}
	if f.Metered && o.DaysAshore != nil && f.DaysAshore != nil && *o.DaysAshore != *f.DaysAshore {
		unlike = append(unlike, fmt.Sprintf("%s ashore, %d last time", days(*f.DaysAshore), *o.DaysAshore))
	}
	if f.Metered && o.Instrument != nil && f.Instrument != nil && *o.Instrument != *f.Instrument {
		unlike = append(unlike, "with another instrument than last time")
	}
	text := "Seen on " + f.Visited.Format("2 January 2006") + ", report " + number
	if len(unlike) > 0 {
		text += ": " + strings.Join(unlike, "; ")
	}
	return text + "."
}

func days(n int32) string {
	if n == 1 {
		return "1 day"
	}
	return fmt.Sprintf("%d days", n)
}
