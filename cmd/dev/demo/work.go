package demo

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"sync"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

// job tells a job from the day it was asked for to the day it was closed.
func (a *afloat) job(j *job) {
	is := a.of("job", j.key)
	a.at(j.opened, "job "+j.key, func(ctx context.Context) error {
		in := practice.AddJob{
			Mutation: a.mut("job", j.key), ID: is, Vessel: a.id, Client: a.party(j.client), Kind: j.kind, Scope: j.scope, Lead: a.member(j.lead),
			Cite: either(j.cite, "this client only"), Restricted: j.restricted, DueOn: j.due, StandsBetween: j.between,
		}
		if j.cite != "" {
			in.CiteAgreedOn = a.dayOf(j.opened)
		}
		if err := done(a.AddJob(ctx, a.desk(), in)); err != nil {
			return err
		}
		if j.client != "" {
			if err := a.role(ctx, "job "+j.key, role{j.client, "client", a.dayOf(j.opened)}, &is); err != nil {
				return err
			}
			if j.as != "" {
				if err := a.role(ctx, "job as "+j.key, role{j.client, j.as, a.dayOf(j.opened)}, &is); err != nil {
					return err
				}
			}
		}
		if j.payer != "" {
			return a.role(ctx, "payer of "+j.key, role{j.payer, "payer", a.dayOf(j.opened)}, &is)
		}
		return nil
	})
	for k, p := range append(j.permissions, a.leave(j)...) {
		a.permission(j, k, p)
	}
	for _, g := range j.guests {
		a.at(j.opened.Add(time.Hour), "access of "+g, func(ctx context.Context) error {
			return done(a.GiveAccess(ctx, a.desk(), practice.GiveAccess{Mutation: a.mut("access", j.key, g), Job: is, Member: a.as(g).Member, Allowed: true}))
		})
	}
	for k, s := range j.stages {
		version := a.version(is)
		a.at(s.at, "stage "+s.stage, func(ctx context.Context) error {
			return done(a.EditJob(ctx, a.desk(), practice.EditJob{Mutation: a.mut("stage", j.key, fmt.Sprint(k)), ID: is, Version: version, Stage: &s.stage}))
		})
	}
	for k := range j.visits {
		a.visit(j, &j.visits[k])
	}
	for _, r := range j.advice {
		a.advise(j, r)
	}
	if j.report != nil {
		a.paper(j, j.report)
	}
	a.bill(j)
	if j.whole != nil {
		a.wholeBoat(j, j.whole)
	}
	if j.drying != nil {
		a.watch(j, *j.drying)
	}
}

// leave is what was allowed for what the story tells of, where it does not tell that too:
// the owner's to scrape and to photograph, the client's to show the report to others.
func (a *afloat) leave(j *job) (list []permission) {
	told := func(what string) bool {
		return slices.ContainsFunc(append(j.permissions, list...), func(p permission) bool { return p.what == what && p.given != nil })
	}
	day := a.dayOf(j.opened.AddDate(0, 0, -1))
	owner := permission{asked: day, given: day, name: "the owner, by telephone"}
	if len(j.permissions) > 0 && j.permissions[0].given != nil {
		owner.by, owner.name = j.permissions[0].by, j.permissions[0].name
	}
	windows, photos := 0, 0
	for _, v := range j.visits {
		windows, photos = windows+len(v.windows), photos+len(v.photos)
	}
	if windows > 0 && !told("scrape") {
		p := owner
		p.what, p.extent, p.good = "scrape", fmt.Sprintf("%d windows of a hand's breadth", windows), "the yard, before relaunch"
		list = append(list, p)
	}
	if photos > 0 && !told("photograph") && !told("board and survey") {
		p := owner
		p.what = "board and survey"
		list = append(list, p)
	}
	if j.report == nil {
		return list
	}
	for _, s := range j.report.shares {
		if s.party != j.client && !told("share the report") {
			on := a.dayOf(s.at.AddDate(0, 0, -1))
			list = append(list, permission{what: "share the report", extent: s.name, asked: on, given: on, by: j.client})
		}
	}
	return list
}

// begin gives each pass its hour: the first a quarter of an hour into its visit.
func (j *job) begin() {
	for k := range j.visits {
		v := &j.visits[k]
		for m := range v.passes {
			v.passes[m].began = v.at.Add(time.Duration(15+150*m) * time.Minute)
		}
	}
}

// permission is asked on one day and answered on another, each written when it happens.
func (a *afloat) permission(j *job, k int, p permission) {
	is := a.of("permission", j.key, fmt.Sprint(k))
	first := practice.Permission{ID: is, JobID: a.of("job", j.key), What: p.what, Extent: p.extent, AskedOn: p.asked, Note: p.note}
	answered := first
	answered.GivenOn, answered.RefusedOn, answered.GivenByName, answered.MakesGood = p.given, p.refused, p.name, p.good
	if p.by != "" {
		answered.GivenByID = a.party(p.by)
	}
	a.at(later(a.noon(p.asked), j.opened.Add(time.Minute)), "permission to "+p.what, func(ctx context.Context) error {
		return done(a.RecordPermission(ctx, a.desk(), practice.RecordPermission{Mutation: a.mut("permission", j.key, fmt.Sprint(k)), Permission: first}))
	})
	if p.given == nil && p.refused == nil {
		return
	}
	on := p.given
	if on == nil {
		on = p.refused
	}
	a.at(later(a.noon(on), j.opened.Add(2*time.Minute)), "answer on "+p.what, func(ctx context.Context) error {
		return done(a.RecordPermission(ctx, a.desk(), practice.RecordPermission{Mutation: a.mut("permission answered", j.key, fmt.Sprint(k)), Version: 1, Permission: answered}))
	})
}

// noon is the middle of a day.
func (c calendar) noon(day *time.Time) time.Time {
	y, m, d := day.Date()
	return time.Date(y, m, d, 12, 0, 0, 0, c.zone)
}

// visit tells one attendance: planned, then made, with all that was written there.
func (a *afloat) visit(j *job, v *visit) {
	is := a.visitID(j, v)
	booked := v.booked
	if booked.IsZero() {
		booked = j.opened.Add(10 * time.Minute)
	}
	a.at(booked, "visit "+v.key, func(ctx context.Context) error {
		in := practice.PlanVisit{
			Mutation: a.mut("visit", j.key, v.key), ID: is, Job: a.of("job", j.key), Kind: v.kind, From: v.at.UTC(), To: v.ends().UTC(), TimeZone: a.zoneOf(a.house),
			Lead: a.member(v.lead), FollowsReason: v.why, DaysAshoreAsWritten: v.written, Note: v.note,
		}
		if v.spell != "" {
			in.Spell = new(a.of("spell", v.spell))
		}
		if v.follows != "" {
			in.Follows = new(a.of("visit", j.key, v.follows))
		}
		if v.lead != "" || in.Spell != nil {
			var err error
			if in.Overrides, err = a.reasons(ctx, in); err != nil {
				return err
			}
		}
		return done(a.PlanVisit(ctx, a.desk(), in))
	})
	if v.cancelled {
		a.at(later(booked, v.at.AddDate(0, 0, -1)), "visit called off", func(ctx context.Context) error {
			return done(a.EditVisit(ctx, a.desk(), practice.EditVisit{Mutation: a.mut("called off", j.key, v.key), ID: is, Version: 1, State: new("cancelled")}))
		})
		return
	}
	if v.weather {
		a.conditions(j, v)
	}
	hand := a.as(v.lead)
	for k, f := range v.findings {
		a.at(v.at.Add(time.Duration(20+7*k)*time.Minute), "finding "+f.key, func(ctx context.Context) error {
			return a.withLeave(ctx, j, func() error { return a.finding(ctx, hand, is, f) })
		})
	}
	for k, c := range v.checks {
		a.at(v.at.Add(time.Duration(90+4*k)*time.Minute), "check "+c.key, func(ctx context.Context) error {
			return a.withLeave(ctx, j, func() error { return a.check(ctx, hand, is, c) })
		})
	}
	for k, w := range v.words {
		a.at(v.ends().Add(time.Duration(30+4*k)*time.Minute), "word on a cause "+w.key, func(ctx context.Context) error { return a.word(ctx, is, w) })
	}
	for k, w := range v.windows {
		a.at(v.at.Add(time.Duration(12+2*k)*time.Minute), "window", func(ctx context.Context) error { return a.window(ctx, hand, j, v, k, w) })
	}
	for k, p := range v.photos {
		at := v.at.Add(time.Duration(33+5*k) * time.Minute)
		drawn := sync.OnceValues(func() ([]byte, error) { return draw(p.shows, a.boat.key+p.key) })
		a.ahead = append(a.ahead, ahead{at, func() { _, _ = drawn() }})
		a.at(at, "photo "+p.key, func(ctx context.Context) error { return a.photo(ctx, hand, j, v, p, drawn) })
	}
	if !v.planned {
		a.at(later(v.ends(), booked.Add(6*time.Hour)), "visit done", func(ctx context.Context) error {
			return done(a.EditVisit(ctx, hand, practice.EditVisit{Mutation: a.mut("visit done", j.key, v.key), ID: is, Version: 1, State: new("done")}))
		})
	}
}

func (a *afloat) visitID(j *job, v *visit) uuid.UUID { return a.of("visit", j.key, v.key) }

func (v *visit) ends() time.Time {
	return v.at.Add(time.Duration(max(0.5, v.hours) * float64(time.Hour)))
}

func (a *afloat) finding(ctx context.Context, by domain.Actor, visit uuid.UUID, f finding) error {
	of := practice.Finding{ID: a.of("finding", f.key), VisitID: visit, ElementID: &a.hull, Form: f.form, Kind: f.kind, Sure: f.sure, Text: f.text, LookAgain: f.again}
	if len(f.outline) > 0 {
		corners, err := json.Marshal(f.outline)
		if err != nil {
			return err
		}
		of.Side, of.Outline = &f.side, corners
	}
	if f.of != "" {
		of.AgainOf = new(a.of("finding", f.of))
	}
	if f.face != "" {
		of.OtherFace = new(a.of("finding", f.face))
	}
	if f.measured != "" {
		of.Measured = json.RawMessage(f.measured)
	}
	var err error
	if of.Places, err = a.ordinals(f.places); err != nil {
		return err
	}
	return done(a.RecordFinding(ctx, by, practice.RecordFinding{Mutation: a.mut("finding", f.key), Finding: of}))
}

func (a *afloat) ordinals(names []string) (out []int32, err error) {
	for _, name := range names {
		o, err := a.ordinal(name)
		if err != nil {
			return nil, err
		}
		out = append(out, o)
	}
	return out, nil
}

func (a *afloat) check(ctx context.Context, by domain.Actor, visit uuid.UUID, c check) error {
	in := practice.RecordCauseCheck{Mutation: a.mut("check", c.key), ID: a.of("check", c.key), Visit: visit, Outcome: c.outcome, Note: c.note}
	if c.finding != "" {
		in.Finding = new(a.of("finding", c.finding))
	}
	var err error
	if in.Places, err = a.ordinals(c.places); err != nil {
		return err
	}
	return done(a.RecordCauseCheck(ctx, by, in))
}

func (a *afloat) word(ctx context.Context, visit uuid.UUID, w word) error {
	in := practice.JudgeCause{Mutation: a.mut("word", w.key), ID: a.of("word", w.key), Visit: visit, Cause: w.cause, Judges: w.judges, Reason: w.reason}
	var err error
	if in.Places, err = a.ordinals(w.places); err != nil {
		return err
	}
	return done(a.JudgeCause(ctx, a.as(w.by), in))
}

func (a *afloat) window(ctx context.Context, by domain.Actor, j *job, v *visit, k int, w window) error {
	return done(a.RecordWindow(ctx, by, practice.RecordWindow{Mutation: a.mut("window", j.key, v.key, fmt.Sprint(k)), Window: practice.Window{
		ID: a.of("window", j.key, v.key, fmt.Sprint(k)), VisitID: a.visitID(j, v), ElementID: a.hull, Side: w.side, AlongMm: w.along, DownMm: w.down,
		WidthMm: w.width, HeightMm: w.high, BaredTo: w.to, BlistersSeen: w.blisters, MadeGood: w.good,
	}}))
}

// ordinal finds a place by its name; one that is not there is a slip of the scenario.
func (a *afloat) ordinal(name string) (int32, error) {
	for k, s := range a.spots {
		if s.name == name {
			return int32(k + 1), nil
		}
	}
	return 0, fmt.Errorf("%s has no place %s", a.vessel.Name, name)
}
