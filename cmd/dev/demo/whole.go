package demo

import (
	"context"
	"encoding/json"
	"fmt"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain/practice"
)

// whole is what a whole-boat survey adds to a job.
type whole struct {
	looked []looked
	value  *valued
	notes  []noted
}

// looked is an item of the schedule as the job's first visit found it.
type looked struct {
	item, examined, why, condition, finding string
}

// valued is an opinion of value, in whole units of the practice's currency.
type valued struct {
	figure      int64
	basis, said string
	like        [][2]string
}

// noted is what was said to whom.
type noted struct {
	at               time.Time
	by               string
	kind, whom, text string
}

// areas are what both practices examine, each under its own ids.
var areas = []struct {
	name  string
	items []string
}{
	{"Hull outside", []string{"Topsides", "Underbody", "Keel and its joint", "Rudder, bearings and stock", "Skin fittings and seacocks", "Anodes"}},
	{"Deck and rig", []string{"Deck and coachroof", "Hatches and windows", "Rail, stanchions and lines", "Mast, boom and standing rigging", "Chainplates"}},
	{"Inside", []string{"Bilges and floors", "Bulkheads and tabbing", "Keel bolts", "Timber of the accommodation"}},
	{"Systems", []string{"Engine and its bed", "Stern gear", "Steering", "Fuel tank and lines", "Gas", "Batteries and wiring", "Heads and plumbing", "Bilge pumps"}},
	{"Safety", []string{"Fire extinguishers", "Liferaft and flares", "Lights"}},
}

// schedules gives each practice what it examines.
func (l *loader) schedules(b *book) {
	for _, h := range houses {
		b.at(l.founded().Add(3*time.Hour), h.name+": schedule", func(ctx context.Context) error {
			in := practice.SetSchedule{Mutation: mutation(l.founded(), "schedule", h.key)}
			for _, area := range areas {
				one := practice.ScheduleArea{ID: id(l.founded(), h.key, "area", area.name), Name: area.name}
				for _, name := range area.items {
					one.Items = append(one.Items, practice.ScheduleItem{ID: itemID(l.founded(), h.key, name), Name: name})
				}
				in.Schedule.Areas = append(in.Schedule.Areas, one)
			}
			return done(l.SetSchedule(ctx, l.head(h.key), in))
		})
	}
}

func itemID(founded time.Time, house, name string) uuid.UUID { return id(founded, house, "item", name) }

// wholeBoat tells what a whole-boat survey looked at, its value and its notes.
func (a *afloat) wholeBoat(j *job, w *whole) {
	v := &j.visits[0]
	visit, hand, is := a.visitID(j, v), a.as(j.lead), a.of("job", j.key)
	for k, x := range w.looked {
		a.at(v.at.Add(time.Duration(60+2*k)*time.Minute), "looked at "+x.item, func(ctx context.Context) error {
			in := practice.Examination{ID: a.of("examination", j.key, x.item), VisitID: visit, ItemID: itemID(a.founded(), a.house, x.item), Examined: x.examined, Why: x.why, Condition: x.condition}
			if x.finding != "" {
				in.FindingID = new(a.of("finding", x.finding))
			}
			return done(a.ExamineItem(ctx, hand, practice.ExamineItem{Mutation: a.mut("examined", j.key, x.item), Examination: in}))
		})
	}
	for k, n := range w.notes {
		a.at(n.at, "note of a "+n.kind, func(ctx context.Context) error {
			return done(a.AddAttendanceNote(ctx, a.as(n.by), practice.AddAttendanceNote{Mutation: a.mut("note", j.key, fmt.Sprint(k)), Note: practice.AttendanceNote{
				ID: a.of("note", j.key, fmt.Sprint(k)), JobID: is, Kind: n.kind, At: n.at.UTC(), WithWhom: n.whom, Text: n.text,
			}}))
		})
	}
	if w.value == nil {
		return
	}
	a.at(v.ends().Add(5*time.Hour), "value", func(ctx context.Context) error {
		like := []map[string]string{}
		for _, x := range w.value.like {
			like = append(like, map[string]string{"name": x[0], "is": x[1]})
		}
		boats, err := json.Marshal(like)
		if err != nil {
			return err
		}
		return done(a.SetValuation(ctx, hand, practice.SetValuation{Mutation: a.mut("value", j.key), Valuation: practice.Valuation{
			JobID: is, FigureMinor: w.value.figure * 100, Currency: "EUR", Basis: w.value.basis, ValueOn: *a.dayOf(v.at), Said: w.value.said, Comparables: boats,
		}}))
	})
}

// warn tells of a danger: drafted, the people spoken to, sent.
func (a *afloat) warn(j *job, r advice, at time.Time, told practice.DangerTold) {
	is := a.of("notice", r.key)
	hand := a.as(j.lead)
	a.at(at, "notice drafted", func(ctx context.Context) error {
		return done(a.DraftDangerNotice(ctx, hand, practice.DraftDangerNotice{Mutation: a.mut("notice", r.key), ID: is, Recommendation: a.of("advice", r.key)}))
	})
	a.at(at.Add(9*time.Minute), "notice sent", func(ctx context.Context) error {
		f, err := a.FollowThrough(ctx, hand, a.id)
		if err != nil {
			return err
		}
		for _, n := range f.Dangers {
			if n.ID == is && n.SentAt == nil {
				told.SpokenAt = new(at.UTC())
				return done(a.SendDangerNotice(ctx, hand, practice.SendDangerNotice{Mutation: a.mut("notice sent", r.key), ID: is, Version: n.Version, Text: n.Text, Told: []practice.DangerTold{told}}))
			}
		}
		return nil
	})
}
