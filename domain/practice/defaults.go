package practice

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/measure/due"
)

// The figures by which the diary proposes visits and judges them. Each is a default of the
// trade with its tag; a practice may put its own in its place, with a reason. What was
// proposed and accepted is a visit and stays as it is; what is proposed from then on says
// whose figure it rests on.

// TradeFigure is a default: a window of two bounds, or one figure.
type TradeFigure struct {
	Code   string
	Group  string // under which head the settings list it
	What   string // what it is for, in words
	Unit   string // hours, days, days in ten, years or km; the bounds of a wait are hours, shown as days where they are whole ones
	First  int
	Last   int // of a window; as First where it is one figure
	Window bool
	Most   int // that may be meant
	Reason string
	Tag    string
}

// OwnFigure is what a practice put in the place of one, or that it takes the trade's again.
type OwnFigure struct {
	ID     uuid.UUID
	Code   string
	Bounds []int // none: the trade's again
	Raw    json.RawMessage
	Reason string
	By     string
	At     time.Time
}

// DiaryFigure is a figure as the settings show it.
type DiaryFigure struct {
	TradeFigure
	Trade string // in words
	Own   *OwnFigure
	Now   string      // in words, as it counts
	Said  []OwnFigure // everything that was put in its place, newest first
}

// FigureReader reads a practice's own figures.
type FigureReader interface {
	// OwnFigures lists all that were ever put in a figure's place, newest first.
	OwnFigures(ctx context.Context, practice uuid.UUID) ([]OwnFigure, error)
}

// FigureWriter writes a practice's own figures.
type FigureWriter interface {
	// OwnFigure is what stands in a figure's place; nil where nothing ever did.
	OwnFigure(ctx context.Context, code string) (*OwnFigure, error)
	InsertFigure(ctx context.Context, f OwnFigure, by *uuid.UUID) error
}

const ownFigureTag = "the practice’s own figure"

const (
	figureRain       = "after-rain"
	figureFar        = "far"
	figureWetLook    = "wet-look"
	figureInside     = "inside"
	figureRepeat     = "repeat-readings"
	figureCompletion = "completion"
	figureAlike      = "as-last-time"
	figureOlder      = "older-from"
)

// The heads under which the settings list the figures.
const (
	groupWaits   = "Readings after the lift"
	groupWindows = "Other windows, and the way"
	groupAgain   = "Compared with last time, and the next look"
	groupHours   = "Hours of a visit"
)

// farKm is how far apart, as the crow flies, two yards of one day may lie before it is
// said. Roads are longer, and water between doubles them.
const farKm = 40

// afterRain is how long the shallow signal takes to settle after rain or washing, days.
const afterRain = 7

// inTen is what a share of days is counted in.
const inTen = 10

// singles are the figures beside the waiting times and the hours.
var singles = []TradeFigure{
	{Code: figureWetLook, Group: groupWindows, What: "the wet look, from the lift", Unit: "hours", First: 3, Last: 3, Most: 48, Reason: "Blisters are easiest to see wet, just after the lift.", Tag: accountTag},
	{Code: figureRain, Group: groupWindows, What: "readings after rain or a wash", Unit: "days", First: afterRain, Last: afterRain, Most: 60, Reason: "The shallow signal takes about a week to settle.", Tag: "computed"},
	{Code: figureRepeat, Group: groupWindows, What: "repeat readings of a drying hull, after those before", Unit: "days", First: 7, Last: 14, Window: true, Most: 365, Reason: "Weekly to fortnightly: physics makes daily visits pointless.", Tag: commonPractice},
	{Code: figureInside, Group: groupWindows, What: "the look inside, after the readings", Unit: "days", First: 2, Last: 2, Most: 60, Reason: "What lies behind high readings is looked for once they are known.", Tag: commonPractice},
	{Code: figureCompletion, Group: groupWindows, What: "the visit for completion, before the launch", Unit: "days", First: 7, Last: 7, Most: 60, Reason: "The work is looked at before coating closes it in.", Tag: commonPractice},
	{Code: figureFar, Group: groupWindows, What: "two yards of one day, apart as the crow flies", Unit: "km", First: farKm, Last: farKm, Most: 1000, Reason: "Roads are longer, and water between doubles them.", Tag: commonPractice},
	{Code: figureAlike, Group: groupAgain, What: "as many days ashore as last time, more or less", Unit: "days in ten", First: 2, Last: 2, Most: inTen - 1, Reason: "Half-dried depth goes with the root of the time: a fifth in days is a tenth in depth.", Tag: due.Defaults().AshoreShareTag},
	{Code: figureOlder, Group: groupAgain, What: "a clean polyester hull counts as older from", Unit: "years", First: due.Defaults().OlderFrom, Last: due.Defaults().OlderFrom, Most: 100, Reason: "From that age on a clean hull is seen again by the rule of older hulls.", Tag: due.Defaults().OlderFromTag},
}

// everyFigure lists the figures, the waiting times first.
var everyFigure = tradeFigures()

func tradeFigures() []TradeFigure {
	var list []TradeFigure
	for _, r := range slices.Concat(rests, []rest{afterTwoYears, unknownHull}) {
		list = append(list, TradeFigure{
			Code: r.code, Group: groupWaits, What: either(r.what, "a hull of which nothing is known") + ": readings after the lift", Unit: "hours", First: r.first.hours(), Last: r.last.hours(), Window: true,
			Most: int(longest / time.Hour), Reason: r.reason, Tag: r.tag,
		})
	}
	return slices.Concat(list, singles, hoursOfVisits())
}

// hoursOfVisits are the hours that each visit of each kind of job is proposed with.
func hoursOfVisits() (list []TradeFigure) {
	for _, kind := range jobKinds {
		for _, n := range needs[kind] {
			list = append(list, TradeFigure{
				Code: n.hoursCode(kind), Group: groupHours, What: n.words() + ", " + kind, Unit: "hours", First: n.hours, Last: n.hours, Most: 12,
				Reason: "About what it takes at the boat, the way there apart.", Tag: commonPractice,
			})
		}
	}
	return list
}

// hoursCode names the figure of how long a visit takes in a kind of job.
func (n need) hoursCode(job string) string { return "hours/" + job + "/" + either(n.line, n.kind) }

// words name the visit.
func (n need) words() string {
	return strings.TrimSpace(visitNamed(n.kind) + " " + n.line)
}

// ownFigures are the practice's own, by code.
type ownFigures map[string]OwnFigure

// ownFiguresOf takes the newest of each code; those that went back to the trade's are left out.
func ownFiguresOf(newestFirst []OwnFigure) ownFigures {
	own, seen := ownFigures{}, map[string]bool{}
	for _, f := range newestFirst {
		if !seen[f.Code] && len(f.Bounds) > 0 {
			own[f.Code] = f
		}
		seen[f.Code] = true
	}
	return own
}

// of gives a figure's bounds, its tag, and a sentence where it is the practice's own.
func (o ownFigures) of(code string) (first, last int, tag, says string) {
	t := everyFigure[slices.IndexFunc(everyFigure, func(f TradeFigure) bool { return f.Code == code })]
	f, own := o[code]
	if !own {
		return t.First, t.Last, t.Tag, ""
	}
	return f.Bounds[0], f.Bounds[len(f.Bounds)-1], ownFigureTag, f.says(t)
}

// says tells whose figure it is, since when and why, and what the trade's is.
func (f OwnFigure) says(t TradeFigure) string {
	by := ""
	if f.By != "" {
		by = ", " + f.By
	}
	return fmt.Sprintf("The practice’s own figure since %s%s: %s. The trade’s is %s (%s).", f.At.Format("2 January 2006"), by, strings.TrimSuffix(f.Reason, "."), t.words(t.First, t.Last), t.Tag)
}

// words puts bounds into words.
func (t TradeFigure) words(first, last int) string {
	one := func(n int) string {
		switch {
		case t.Unit == "hours" && t.Window:
			return hoursOrDays(n)
		case n == 1:
			first, rest, _ := strings.Cut(t.Unit, " ")
			return strings.TrimSpace("1 " + strings.TrimSuffix(first, "s") + " " + rest)
		}
		return fmt.Sprintf("%d %s", n, t.Unit)
	}
	if !t.Window || first == last {
		return one(last)
	}
	a, b := one(first), one(last)
	if num, unit, _ := strings.Cut(a, " "); strings.HasSuffix(b, unit) {
		a = num
	}
	return a + " to " + b
}

// hoursOrDays writes hours as days where they are whole ones.
func hoursOrDays(hours int) string {
	if hours > 0 && hours%aDay == 0 {
		return daysWords(hours / aDay)
	}
	return fmt.Sprintf("%d hours", hours)
}

// waitedHours makes a waiting time of hours.
func waitedHours(hours int) Days {
	if hours >= aDay {
		return Days{Days: hours / aDay}
	}
	return Days{Hours: hours}
}

// own puts the practice's window in the place of a rest's. What the standings ask for stays
// the trade's: where the practice reads sooner, the proposal says what that costs.
func (r rest) own(o ownFigures) rest {
	f, own := o[r.code]
	if !own {
		return r
	}
	t := TradeFigure{Unit: "hours", First: r.first.hours(), Last: r.last.hours(), Window: true, Tag: r.tag}
	r.first, r.last, r.tag = waitedHours(f.Bounds[0]), waitedHours(f.Bounds[1]), ownFigureTag
	r.reason += " " + f.says(t)
	if r.first.hours() < r.least.hours() {
		r.reason += fmt.Sprintf(" A pass read sooner than %s loses its standing beside others.", hoursOrDays(r.least.hours()))
	}
	return r
}

// DiaryFigures lists the figures by which the diary proposes and judges, with the
// practice's own and all that ever stood in their places.
func (s *Service) DiaryFigures(ctx context.Context, a domain.Actor) ([]DiaryFigure, error) {
	if err := domain.May(a, domain.ReadDiary); err != nil {
		return nil, err
	}
	said, err := s.store.OwnFigures(ctx, a.Practice)
	if err != nil {
		return nil, err
	}
	own := ownFiguresOf(said)
	list := make([]DiaryFigure, 0, len(everyFigure))
	for _, t := range everyFigure {
		f := DiaryFigure{TradeFigure: t, Trade: t.words(t.First, t.Last), Said: slices.DeleteFunc(slices.Clone(said), func(o OwnFigure) bool { return o.Code != t.Code })}
		f.Now = f.Trade
		if o, is := own[t.Code]; is {
			f.Own, f.Now = &o, t.words(o.Bounds[0], o.Bounds[len(o.Bounds)-1])
		}
		list = append(list, f)
	}
	return list, nil
}

// Words puts one of the practice's own into words; empty where it takes the trade's again.
func (f DiaryFigure) Words(o OwnFigure) string {
	if len(o.Bounds) == 0 {
		return ""
	}
	return f.words(o.Bounds[0], o.Bounds[len(o.Bounds)-1])
}

// SetDiaryFigure puts a figure in the place of the trade's.
type SetDiaryFigure struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Code     string
	Was      *uuid.UUID // what stood there before, as the page showed it; nil: nothing ever did
	Bounds   []int      // one or two, in the figure's unit; none: the trade's again
	Reason   string
}

// SetDiaryFigure puts the practice's own figure in the place of the trade's, or takes the
// trade's again, with a reason. What stood there before stays on record; visits that were
// proposed and accepted stay where they are.
func (s *Service) SetDiaryFigure(ctx context.Context, a domain.Actor, in SetDiaryFigure) (Done, error) {
	return s.write(ctx, &a, domain.ManagePractice, "setDiaryFigure", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.ID); err != nil {
			return Done{}, err
		}
		if err := in.check(); err != nil {
			return Done{}, err
		}
		was, err := tx.OwnFigure(ctx, in.Code)
		if err != nil {
			return Done{}, err
		}
		if (was == nil) != (in.Was == nil) || was != nil && was.ID != *in.Was {
			return Done{}, domain.Conflictf("Somebody has changed this figure since this page was read. Look at what stands there now, then change it.")
		}
		f := OwnFigure{ID: in.ID, Code: in.Code, Reason: strings.TrimSpace(in.Reason), At: s.instant()}
		if len(in.Bounds) > 0 {
			if f.Raw, err = json.Marshal(in.Bounds); err != nil {
				return Done{}, fmt.Errorf("keep a figure: %w", err)
			}
		}
		return touched(ref(domain.ThingFigure, in.ID), ref(domain.ThingPractice, a.Practice)), tx.InsertFigure(ctx, f, entered(a))
	})
}

func (in SetDiaryFigure) check() error {
	k := slices.IndexFunc(everyFigure, func(t TradeFigure) bool { return t.Code == in.Code })
	if k < 0 {
		return domain.Invalidf("code", "There is no figure of this name.")
	}
	if reason := strings.TrimSpace(in.Reason); reason == "" || len(reason) > 500 {
		return domain.Invalidf("reason", "Say in at most 500 letters why the practice has its own figure, or takes the trade’s again.")
	}
	return everyFigure[k].may(in.Bounds)
}

// may refuses bounds that cannot be meant.
func (t TradeFigure) may(bounds []int) error {
	switch {
	case len(bounds) == 0:
		return nil
	case len(bounds) != 1 && !t.Window || len(bounds) != 2 && t.Window:
		return domain.Invalidf("bounds", "Give %s.", map[bool]string{true: "from when to when", false: "one figure"}[t.Window])
	case bounds[0] < 0 || bounds[len(bounds)-1] > t.Most || bounds[0] > bounds[len(bounds)-1] || bounds[len(bounds)-1] == 0:
		return domain.Invalidf("bounds", "It lies between 0 and %d %s, and ends no sooner than it begins.", t.Most, t.Unit)
	case t.Unit == "hours" && t.Window && (bounds[1]%aDay != 0 || bounds[0] > aDay && bounds[0]%aDay != 0):
		return domain.Invalidf("bounds", "A wait ends after whole days, and begins after less than a day or after whole days.")
	}
	return nil
}
