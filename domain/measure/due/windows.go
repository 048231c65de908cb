package due

import (
	"fmt"
	"math"
	"time"

	"boottop.example/practice/domain/measure"
)

// work gathers windows for one hull.
type work struct {
	h       Hull
	s       Settings
	windows []Window
	notes   []measure.Note
}

// days is the hull with every time cut to its calendar date.
func (h Hull) days() Hull {
	for _, t := range []*time.Time{&h.Visited, &h.NextLift, &h.Launch, &h.Treated, &h.GuaranteeEnd, &h.Grounded} {
		*t = day(*t)
	}
	return h
}

func (w *work) findings() {
	for _, f := range w.h.Findings {
		f.By = day(f.By)
		switch f.Grade {
		case Stop:
			w.grade(f, Window{Latest: w.h.Visited, Reason: "Danger now: see it made safe today, in person, then in writing."})
		case BeforeLaunch:
			w.grade(f, Window{Latest: w.h.Launch, Until: AtLaunch, Reason: "Not to be launched or used until this is seen closed."})
		case WhileAshore:
			w.grade(f, Window{Latest: w.h.Launch, Until: AtLaunch, Reason: "To be done during this haul-out: see it before launch."})
		case LookFurther:
			w.grade(f, Window{Latest: f.By, Until: AtAccess, Reason: "It could not be judged with the access given: look when access or consent is there."})
		}
		w.kind(f)
	}
}

// grade adds a window that the grade alone asks for.
func (w *work) grade(f Finding, win Window) {
	win.Earliest = w.next()
	win.Finding, win.Grade, win.Kind, win.Code = f.ID, f.Grade, f.Kind, string(f.Grade)
	win.Tag = "meaning of the grade"
	if f.Grade == Stop || win.Latest.Equal(w.h.Visited) {
		win.Earliest = w.h.Visited
	}
	if !win.Latest.IsZero() && win.Latest.Before(w.h.Visited) {
		w.notes = append(w.notes, measure.Note{Code: "date-passed", Text: fmt.Sprintf("The date %s for %q had passed at the visit.", win.Latest.Format(time.DateOnly), f.Grade)})
		win.Latest = win.Earliest
	}
	w.windows = append(w.windows, win)
}

// next is the day after the visit: what this visit left open is for another.
func (w *work) next() time.Time { return w.h.Visited.AddDate(0, 0, 1) }

// kind adds the window of what the finding is about, for grades that leave it in place.
func (w *work) kind(f Finding) {
	if f.Grade == Record {
		return
	}
	if !f.By.IsZero() && (f.Grade == Watch || f.Grade == Planned) {
		w.grade(f, Window{Latest: f.By, Reason: "The report states this date."})
		return
	}
	r, ok := w.s.rule(f.Kind)
	if f.Kind == "" || !ok {
		if f.Grade == Watch {
			r, ok = w.s.rule(Watched)
		}
		if f.Grade == Planned {
			w.notes = append(w.notes, measure.Note{Code: "planned-without-date", Text: "Planned work needs a season or a date: none is stated."})
		}
	}
	if ok {
		w.rule(r, f)
	}
}

// rule adds the windows of a rule, counted from the visit.
func (w *work) rule(r Rule, f Finding) {
	for _, m := range r.Marks {
		from, to := w.span(w.h.Visited, m, r)
		win := w.window(r, f, from, to)
		if lift := w.h.NextLift; r.OrNextLift {
			win.Until = AtLift
			if lift.After(w.h.Visited) && lift.Before(win.Latest) {
				win.Latest = lift
				win.Earliest = earlier(win.Earliest, lift)
			}
		}
		if r.SameAshore {
			w.ashore(&win)
		}
		w.windows = append(w.windows, win)
	}
}

func (w *work) window(r Rule, f Finding, from, to time.Time) Window {
	return Window{
		Earliest: from, Latest: to, Repeats: r.Repeats,
		Finding: f.ID, Grade: f.Grade, Kind: r.Kind, Code: string(r.Kind),
		Reason: r.Reason, Tag: r.Tag, Wants: append([]measure.Note(nil), r.Wants...),
	}
}

// span turns a mark into dates.
func (w *work) span(base time.Time, m Mark, r Rule) (from, to time.Time) {
	from, to = add(base, m.From), add(base, m.To)
	switch {
	case r.SameMonth && from.Equal(to):
		y, mo, _ := from.Date()
		from = time.Date(y, mo, 1, 0, 0, 0, 0, time.UTC)
		to = from.AddDate(0, 1, -1)
	case from.Equal(to) && from.After(base):
		from, to = back(from, w.s.Slack), add(to, w.s.Slack)
	}
	return from, to
}

// ashore narrows a window to the days on which she will have been out as long as last
// time, where the next lift is known, and says what is wanted where it is not.
func (w *work) ashore(win *Window) {
	days := w.h.DaysAshore
	if days < 0 {
		win.Wants = append(win.Wants, measure.Note{Code: "days-ashore-unknown", Text: "How long she had been ashore was not recorded this time, so it cannot be matched."})
		return
	}
	win.Wants = append(win.Wants, measure.Note{Code: "days-ashore", Text: fmt.Sprintf("Take the readings after %s ashore, as this time.", countDays(days))})
	lift := w.h.NextLift
	if !lift.After(w.h.Visited) {
		return
	}
	slack := max(1, int(math.Round(w.s.AshoreShare*float64(days))))
	from, to := lift.AddDate(0, 0, max(0, days-slack)), lift.AddDate(0, 0, days+slack)
	if from.After(win.Latest) || to.Before(win.Earliest) {
		win.Wants = append(win.Wants, measure.Note{Code: "season-or-days", Text: fmt.Sprintf("The lift on %s puts %s ashore outside the month: month and days ashore cannot both be matched.", lift.Format(time.DateOnly), countDays(days))})
		return
	}
	win.Earliest, win.Latest = later(win.Earliest, from), earlier(win.Latest, to)
}

func countDays(n int) string {
	if n == 1 {
		return "1 day"
	}
	return fmt.Sprintf("%d days", n)
}

// hullStates adds what comes from the hull rather than from a finding.
func (w *work) hullStates() {
	if r, ok := w.s.rule(Drying); ok && w.h.Drying {
		w.rule(r, Finding{})
	}
	w.treatment()
	w.guarantee()
	w.grounding()
	w.clean()
}

func (w *work) treatment() {
	r, ok := w.s.rule(AfterTreatment)
	if !ok || w.h.Treated.IsZero() {
		return
	}
	for _, m := range r.Marks {
		from, to := w.span(w.h.Treated, m, r)
		if !from.After(w.h.Visited) {
			continue // past, or met by this visit
		}
		w.windows = append(w.windows, w.window(r, Finding{}, from, to))
	}
}

func (w *work) guarantee() {
	r, ok := w.s.rule(Guarantee)
	end := w.h.GuaranteeEnd
	if !ok || end.IsZero() {
		return
	}
	if end.Before(w.h.Visited) {
		w.notes = append(w.notes, measure.Note{Code: "guarantee-ended", Text: fmt.Sprintf("The guarantee ended on %s, before this visit.", end.Format(time.DateOnly))})
		return
	}
	for _, m := range r.Marks {
		from, to := back(end, m.From), back(end, m.To)
		if !from.After(w.h.Visited) {
			w.notes = append(w.notes, measure.Note{Code: "guarantee-running-out", Text: fmt.Sprintf("This visit met the look before the guarantee ends on %s: claims have to be made while it runs.", end.Format(time.DateOnly))})
			continue
		}
		w.windows = append(w.windows, w.window(r, Finding{}, from, to))
	}
}

func (w *work) grounding() {
	r, ok := w.s.rule(Grounding)
	if !ok || w.h.Grounded.IsZero() {
		return
	}
	for _, m := range r.Marks {
		from, to := w.span(w.h.Grounded, m, r)
		if m == (Mark{}) {
			if !w.h.Grounded.After(w.h.Visited) {
				continue // this visit was the look at once
			}
		} else if !from.After(w.h.Visited) {
			continue // past, or met by this visit
		}
		w.windows = append(w.windows, w.window(r, Finding{}, from, to))
	}
}

// clean applies where nothing but records was found on a hull old enough.
func (w *work) clean() {
	for _, f := range w.h.Findings {
		if f.Grade != Record {
			return
		}
	}
	r, ok := w.s.rule(CleanOlder)
	if !ok || !w.h.Polyester || w.h.Drying {
		return
	}
	if w.h.Built == 0 {
		w.notes = append(w.notes, measure.Note{Code: "age-unknown", Text: "The year of building is not known, so no interval by age is given."})
		return
	}
	if w.h.Visited.Year()-w.h.Built >= w.s.OlderFrom {
		w.rule(r, Finding{})
	}
}

func earlier(a, b time.Time) time.Time {
	if b.Before(a) {
		return b
	}
	return a
}

func later(a, b time.Time) time.Time {
	if b.After(a) {
		return b
	}
	return a
}
