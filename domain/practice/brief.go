package practice

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/measure/order"
	"boottop.example/practice/domain/report"
)

// Brief is the one page read before a visit: what is known of this boat that may be told
// to the job's client, what to look at again, and what the next reading could show.
type Brief struct {
	Job         JobLine
	Client      string
	Events      []Event
	Permissions []Permission
	Visits      []VisitLine
	Plan        *BriefPlan
	Findings    []BriefFinding
	Recommended []BriefRecommendation
	History     History

	Visit   *VisitLine // the next one planned, or else the last
	Weak    []BriefPoint
	Again   []BriefPoint
	Like    []string // what to do as last time, and what else it costs
	Missing []string // permissions that this kind of job asks and that are not given
	Next    []string // what the next reading could show
	Over    OverVisits
	Safety  []string
	Left    []string // what was left out, in words and numbers
}

// BriefPlan is the plan of places in force.
type BriefPlan struct {
	PlanVersion     int32
	Kind            string
	Note            string
	DryChangeReason string
	Places          int32
	Dry             int32
	Targeted        int32
}

// BriefFinding is a finding as a brief takes it.
type BriefFinding struct {
	Kind      string
	Sure      string
	Text      string
	LookAgain bool
	FromAt    time.Time
	TimeZone  string
	Told      bool // may be told to the job's client
	Places    []int32
}

// BriefRecommendation is a recommendation that is not closed.
type BriefRecommendation struct {
	Grade     string
	Sure      string
	What      string
	Reason    string
	State     string
	CreatedAt time.Time
	JobNumber string
	Told      bool
}

// BriefPoint is a line of a brief: what, and why.
type BriefPoint struct {
	What   string
	Why    string
	Places []int32 // ordinals
}

// BriefReader reads briefs.
type BriefReader interface {
	// Brief reads what a brief is made of in one trip.
	Brief(ctx context.Context, practice, job uuid.UUID, who Sees) (Brief, error)
}

// Brief reads the one page before a job's next visit. What may not be told to its client
// is left out, and counted.
func (s *Service) Brief(ctx context.Context, a domain.Actor, job uuid.UUID) (Brief, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return Brief{}, err
	}
	b, err := s.store.Brief(ctx, a.Practice, job, sees(a))
	if err != nil {
		return Brief{}, err
	}
	return b, b.judge(s.instant())
}

func (b *Brief) judge(now time.Time) error {
	b.leaveOut()
	if err := b.History.judge(nil); err != nil {
		return err
	}
	b.chooseVisit(now)
	b.weak()
	b.again()
	b.like()
	b.permissions()
	b.next()
	over, err := b.History.overVisits()
	b.Over, b.Safety = over, briefCautions(b.Visit)
	return err
}

// leaveOut drops what may not be told to the job's client and says how much it was.
func (b *Brief) leaveOut() {
	var client *uuid.UUID
	if b.Job.Client != nil {
		client, b.Client = &b.Job.Client.ID, b.Job.Client.Name
	}
	count := func(n int, one, many string) {
		if n > 0 {
			b.Left = append(b.Left, report.Count(n, one, many))
		}
	}
	before := len(b.History.Passes)
	b.History.Passes = slices.DeleteFunc(b.History.Passes, func(p HistoryPass) bool {
		return !p.tellable(b.Job.ID, client)
	})
	count(before-len(b.History.Passes), "pass", "passes")
	before = len(b.Findings)
	b.Findings = slices.DeleteFunc(b.Findings, func(f BriefFinding) bool { return !f.Told })
	count(before-len(b.Findings), "finding", "findings")
	before = len(b.Recommended)
	b.Recommended = slices.DeleteFunc(b.Recommended, func(r BriefRecommendation) bool { return !r.Told })
	count(before-len(b.Recommended), "recommendation", "recommendations")
}

func (b *Brief) chooseVisit(now time.Time) {
	for k := range b.Visits {
		v := &b.Visits[k]
		if v.State == "planned" && v.To.After(now) {
			b.Visit = v
			return
		}
		if v.State != "cancelled" {
			b.Visit = v
		}
	}
}

// mostPoints keeps each list of the page short enough for one page.
const mostPoints = 6

// weak lists what is known of this boat: what happened to her and what was seen and needs
// another look, newest first.
func (b *Brief) weak() {
	for _, e := range slices.Backward(b.Events) {
		if e.Kind != "built" {
			when := e.AsWritten
			if when == "" {
				when = e.FromOn.Format("2 January 2006")
			}
			b.Weak = append(b.Weak, BriefPoint{What: e.Kind + ": " + e.What, Why: strings.Trim(when+"; "+e.Source, "; ")})
		}
	}
	for _, f := range b.Findings {
		if !f.LookAgain {
			b.Weak = append(b.Weak, BriefPoint{What: f.Kind + ": " + f.Text, Why: f.seen(), Places: f.Places})
		}
	}
	b.Weak = b.Weak[:min(len(b.Weak), mostPoints)]
}

func (f BriefFinding) seen() string {
	return f.Sure + ", " + report.ShortDay(f.FromAt, Zone(f.TimeZone))
}

// again lists what to look at again, and why.
func (b *Brief) again() {
	for _, r := range b.Recommended {
		b.Again = append(b.Again, BriefPoint{What: r.What, Why: strings.TrimSuffix(fmt.Sprintf("recommended, %s; %s", r.State, r.Reason), "; ")})
	}
	for _, f := range b.Findings {
		if f.LookAgain {
			b.Again = append(b.Again, BriefPoint{What: f.Kind + ": " + f.Text, Why: "marked to look at again; " + f.seen(), Places: f.Places})
		}
	}
	b.changed()
	b.high()
	b.Again = b.Again[:min(len(b.Again), 2*mostPoints)]
}

// newest is the newest pass that may be told, and the like one before it. What is read at
// the visit that the brief is for is no earlier pass.
func (b *Brief) newest() (held, before *HistoryPass) {
	passes := b.History.Passes
	k := len(passes) - 1
	for k >= 0 && b.Visit != nil && b.Visit.State != "done" && passes[k].VisitID == b.Visit.ID {
		k--
	}
	if k < 0 {
		return nil, nil
	}
	held = &passes[k]
	for k--; k >= 0; k-- {
		if passes[k].Standing.compares() && passes[k].VisitID != held.VisitID {
			return held, &passes[k]
		}
	}
	return held, nil
}

// changed adds the areas that the gate let through between the two newest like passes.
func (b *Brief) changed() {
	held, before := b.newest()
	if before == nil || before.Gate == nil {
		return
	}
	for _, area := range before.Gate.Changed {
		point := BriefPoint{
			What: fmt.Sprintf("%s: changed by %s scale units", area.About, report.Signed(area.By, 1)),
			Why:  "since " + report.Month(before.BeganAt, Zone(held.TimeZone)) + ", beyond what repeats explain",
		}
		if area.Matches != "" {
			point.Why += "; matches " + area.Matches
		}
		for _, slot := range area.Slots {
			point.Places = append(point.Places, slot+1)
		}
		b.Again = append(b.Again, point)
	}
}

// high adds the places of the newest pass that lie outliers above the rest of the underbody.
func (b *Brief) high() {
	held, _ := b.newest()
	if held == nil {
		return
	}
	var slots []int32
	var values []float64
	for slot := range b.History.Axis.IDs {
		if c := (&DryingPass{HistoryPass: held}).underbody(b.History.Axis, slot); !math.IsNaN(c) {
			slots, values = append(slots, int32(slot+1)), append(values, c)
		}
	}
	z, err := order.ModifiedZ(values, 0.1)
	if err != nil {
		return
	}
	point := BriefPoint{What: "Places that stood high", Why: "outliers above the rest of the underbody on " + report.ShortDay(held.BeganAt, Zone(held.TimeZone)) + " (modified z above 3.5); look inside too"}
	for k := range z {
		if z[k] > order.FlagAbove {
			point.Places = append(point.Places, slots[k])
		}
	}
	if len(point.Places) > 0 {
		b.Again = append(b.Again, point)
	}
}

// like says what to do as last time, and what it costs not to.
func (b *Brief) like() {
	held, _ := b.newest()
	if held == nil {
		b.Like = []string{"No earlier pass that may be told to this client: this visit starts her record."}
		return
	}
	if held.quoted() {
		b.Like = []string{"The newest pass is quoted: nothing will be subtracted from it."}
		return
	}
	zone := Zone(held.TimeZone)
	b.Like = []string{fmt.Sprintf("Instrument: %s, scale %s, %s face, on %s. Another instrument costs every difference: its readings stand beside, not against.", held.InstrumentName, held.ScaleName, held.Face, orElse(held.Surface, "a surface not noted"))}
	b.Like = append(b.Like, b.month(held, zone), b.days(held))
}

func (b *Brief) month(held *HistoryPass, zone *time.Location) string {
	then := held.BeganAt.In(zone).Month()
	if b.Visit == nil || b.Visit.State != "planned" {
		return fmt.Sprintf("Month: last read in %s; no visit is planned yet.", then)
	}
	if now := b.Visit.From.In(zone).Month(); now != then {
		return fmt.Sprintf("Month: last read in %s, planned for %s: what the weather explains is taken out first, and less is left to say.", then, now)
	}
	return fmt.Sprintf("Month: %s, as last time.", then)
}

func (b *Brief) days(held *HistoryPass) string {
	last, known := held.Ashore()
	if !known {
		return "Days ashore: not known of the last pass; what they explain cannot be taken out."
	}
	if b.Visit == nil || b.Visit.State != "planned" {
		return fmt.Sprintf("Days ashore: %s last time.", last)
	}
	now, ok := b.Visit.AshoreRange()
	switch {
	case !ok:
		return fmt.Sprintf("Days ashore: %s last time; the lift is not known yet.", last)
	case now == last && last.Exact():
		return fmt.Sprintf("Days ashore: %s, as last time.", last)
	case !now.Exact() || !last.Exact():
		return fmt.Sprintf("Days ashore: %s last time, %s at this visit: known to a range, so that what drying explains is reckoned with both ends and more is taken.", last, now)
	default:
		return fmt.Sprintf("Days ashore: %s last time, %s at this visit: the difference that drying explains is taken first.", last, now)
	}
}

// asked are the permissions that a kind of job asks; for the others, the first three.
var asked = map[string][]string{
	"pre-purchase":       {"board and survey", "photograph", "mark the hull", "scrape"},
	"limited moisture":   {"board and survey", "photograph", "mark the hull", "scrape"},
	"repair supervision": {"board and survey", "photograph", "mark the hull"},
}

func (b *Brief) permissions() {
	list, known := asked[b.Job.Kind]
	if !known {
		list = []string{"board and survey", "photograph", "mark the hull"}
	}
	for _, what := range list {
		if stopped(b.Permissions, what) != "" {
			b.Missing = append(b.Missing, what)
		}
	}
}

// next says what one more visit like the last could show.
func (b *Brief) next() {
	o := b.History.Ahead
	if o == nil {
		b.Next = []string{"What the next reading could show cannot be told: what this practice’s readings repeat to is not measured, or there are too few places."}
		return
	}
	b.Next = []string{
		fmt.Sprintf("At one place, %d looked at together: a change of %s scale units or more would be shown; one of %s would be found eight times in ten.", o.Places, report.Tenths(o.Place.Shown), report.Tenths(o.Place.True)),
		fmt.Sprintf("Over the hull at large: %s scale units or more.", report.Tenths(o.Hull.Shown)),
		fmt.Sprintf("Read as last time: %s a place, %s.", report.Count(o.Placements, "placement", "placements"), report.Count(o.DryPlaces, "dry place", "dry places")),
	}
}

// briefCautions are the usual ones of a visit ashore, trade notes section 8. The service
// never says that a place is safe.
func briefCautions(v *VisitLine) []string {
	list := []string{
		"Never under a boat held by slings or a jack alone; props and chocks are the yard’s to move. Ladder tied and footed, no leaning out with a meter.",
		"Dust of old antifouling: wet methods, mask, no food. Liquid in blisters is acid and under pressure: eye shield, gloves, away from the face.",
		"Shore power off or checked; gas, batteries and shafts. Enclosed spaces: ask, never clear them alone. Alone on site: a time and a name.",
		"Local rules and licensed people come first. Nothing here says that a place is safe.",
	}
	if v != nil && v.Kind == "wet look" {
		list[0] = "Still in the slings: look and tap from clear of her, never beneath. " + list[0]
	}
	return list
}

// Name names a place by its ordinal as a person does: its side and its label.
func (a Axis) Name(ordinal int32) string {
	if k := int(ordinal) - 1; k >= 0 && k < len(a.Labels) {
		return a.Sides[k] + " " + a.Labels[k]
	}
	return ""
}
