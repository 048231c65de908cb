package due

import (
	"fmt"
	"slices"
	"time"

	"boottop.example/practice/domain/measure"
)

// Tags of the defaults.
const (
	commonPractice = "common practice, no source"
	ownRule        = "this service's own default, no source"
)

// Span is a length of calendar time; months are added before days.
type Span struct{ Months, Days int }

// Rule says when to look again for one kind.
type Rule struct {
	Kind Kind
	// Marks are the windows counted from the visit (from its completion for a treatment,
	// back from its end for a guarantee). From equal to To is a mark that Settings.Slack
	// widens, unless SameMonth gives it the whole calendar month.
	Marks      []Mark
	SameMonth  bool // in the same calendar month, so that seasons compare
	SameAshore bool // after as many days ashore as last time
	OrNextLift bool // at the next lift if that comes first
	Repeats    bool
	Wants      []measure.Note // what the next look should bring with it
	Reason     string
	Tag        string
}

// Mark is a window counted from a date.
type Mark struct{ From, To Span }

// Settings are a practice's rules.
type Settings struct {
	Rules []Rule
	// OlderFrom is the age in years from which a clean polyester hull gets CleanOlder.
	OlderFrom    int
	OlderFromTag string
	// Slack widens a single mark either way.
	Slack    Span
	SlackTag string
	// AshoreShare is how far the days ashore may differ from last time and still count
	// as alike. Half-dried depth goes with √t (Crank 1975, the semi-infinite solution),
	// so a fifth in days is a tenth in depth.
	AshoreShare    float64
	AshoreShareTag string
}

// Defaults are the rules to start from, each with its tag.
func Defaults() Settings {
	months := func(from, to int) []Mark { return []Mark{{Span{Months: from}, Span{Months: to}}} }
	days := func(from, to int) []Mark { return []Mark{{Span{Days: from}, Span{Days: to}}} }
	return Settings{
		OlderFrom: 10, OlderFromTag: ownRule,
		Slack: Span{Months: 1}, SlackTag: ownRule,
		AshoreShare: 0.2, AshoreShareTag: "computed: a fifth in days is a tenth in half-dried depth",
		Rules: []Rule{
			{Kind: CleanOlder, Marks: months(24, 24), Reason: "A clean polyester hull of some age is looked at again after about two years.", Tag: commonPractice},
			{Kind: RaisedUniform, Marks: months(12, 12), SameMonth: true, SameAshore: true, Reason: "Readings raised all over are taken again after a year, in the same month and after as many days ashore.", Tag: commonPractice},
			{Kind: FewBlisters, Marks: months(6, 12), Wants: []measure.Note{mappedWindows, lookWet}, Reason: "A few blisters are looked at again within the year, in the windows mapped this time.", Tag: commonPractice},
			{Kind: ActiveBlisters, Marks: months(3, 6), OrNextLift: true, Wants: []measure.Note{lookWet}, Reason: "Active blisters are looked at again in three to six months, or at the next lift if that comes first.", Tag: commonPractice},
			{Kind: FailingTreatment, Marks: months(3, 6), OrNextLift: true, Wants: []measure.Note{lookWet}, Reason: "A treatment that may be failing is looked at again in three to six months, or at the next lift if that comes first.", Tag: commonPractice},
			{Kind: WetCore, Marks: months(1, 3), Wants: []measure.Note{openUp}, Reason: "A core suspected wet is looked at again in one to three months, or opened up.", Tag: commonPractice},
			{Kind: Drying, Marks: days(7, 14), Repeats: true, Reason: "A hull drying ashore is read weekly to fortnightly; between daily readings nothing can be seen.", Tag: commonPractice},
			{Kind: AfterTreatment, Marks: []Mark{{Span{Months: 12}, Span{Months: 12}}, {Span{Months: 24}, Span{Months: 24}}, {Span{Months: 60}, Span{Months: 60}}}, Reason: "After a treatment the hull is looked at one, two and five years on.", Tag: commonPractice},
			{Kind: Guarantee, Marks: months(3, 0), Reason: "The guarantee ends; a defect has to be found while it still runs.", Tag: commonPractice},
			{Kind: Grounding, Marks: []Mark{{}, {Span{Months: 6}, Span{Months: 12}}}, Reason: "After a grounding the hull is looked at now and after one season.", Tag: commonPractice},
			{Kind: Watched, Marks: months(12, 12), Reason: "Watched without a date of its own: looked at again after a year.", Tag: ownRule},
		},
	}
}

var (
	mappedWindows = measure.Note{Code: "mapped-windows", Text: "Bring the map of the windows and blisters counted."}
	lookWet       = measure.Note{Code: "look-wet", Text: "Blisters are easiest to see wet, just after the lift: add a wet look."}
	openUp        = measure.Note{Code: "open-up", Text: "Opening up, with consent, answers sooner than waiting."}
)

func (s Settings) rule(k Kind) (Rule, bool) {
	i := slices.IndexFunc(s.Rules, func(r Rule) bool { return r.Kind == k })
	if i < 0 {
		return Rule{}, false
	}
	return s.Rules[i], true
}

const longest = 100 * 12 // months: longer than any rule can mean

func check(h Hull, s Settings) error {
	if h.Visited.IsZero() {
		return &measure.ArgumentError{Argument: "Visited", Why: "must be given: every window counts from the visit"}
	}
	grades := []Grade{Stop, BeforeLaunch, WhileAshore, Planned, Watch, LookFurther, Record}
	for i, f := range h.Findings {
		if !slices.Contains(grades, f.Grade) {
			return &measure.ArgumentError{Argument: fmt.Sprintf("Findings[%d].Grade", i), Why: "must be one of the seven grades"}
		}
	}
	if !(s.AshoreShare >= 0 && s.AshoreShare < 1) {
		return &measure.ArgumentError{Argument: "AshoreShare", Why: "must lie between 0 and 1"}
	}
	if s.Slack.Months < 0 || s.Slack.Days < 0 || s.Slack.Months > longest || s.Slack.Days > 31*longest {
		return &measure.ArgumentError{Argument: "Slack", Why: "must not be negative, nor longer than a century"}
	}
	base := day(h.Visited)
	for i, r := range s.Rules {
		for j, m := range r.Marks {
			name := fmt.Sprintf("Rules[%d].Marks[%d]", i, j)
			for _, v := range []int{m.From.Months, m.From.Days, m.To.Months, m.To.Days} {
				if v < 0 || v > 31*longest {
					return &measure.ArgumentError{Argument: name, Why: "must not be negative, nor longer than a century"}
				}
			}
			backwards := r.Kind == Guarantee // counted back from the end: From is the longer
			if from, to := add(base, m.From), add(base, m.To); !backwards && to.Before(from) || backwards && from.Before(to) {
				return &measure.ArgumentError{Argument: name, Why: "ends before it begins"}
			}
		}
	}
	return nil
}

// day is the calendar date of t, at midnight UTC.
func day(t time.Time) time.Time {
	if t.IsZero() {
		return t
	}
	y, m, d := t.Date()
	return time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
}

// add moves a day forward; a day that its month lacks becomes the month's last.
func add(t time.Time, s Span) time.Time { return addMonths(t, s.Months).AddDate(0, 0, s.Days) }

// back moves a day backward in the same manner.
func back(t time.Time, s Span) time.Time { return addMonths(t, -s.Months).AddDate(0, 0, -s.Days) }

func addMonths(t time.Time, months int) time.Time {
	y, m, d := t.Date()
	first := time.Date(y, m+time.Month(months), 1, 0, 0, 0, 0, time.UTC)
	last := first.AddDate(0, 1, -1).Day()
	return first.AddDate(0, 0, min(d, last)-1)
}
