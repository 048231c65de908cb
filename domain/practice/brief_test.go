package practice_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

// briefed reads the brief of a job as its surveyor.
func (b *bundle) briefed(s survey) practice.Brief {
	b.t.Helper()
	return must[practice.Brief](b.t)(b.Brief(b.t.Context(), b.ours.of[domain.Surveyor], s.job))
}

func TestABriefLeavesOutWhatMayNotBeTold(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.survey(b.ours, "Petrel")
	hand := b.ours.of[domain.Surveyor]
	b.readAt(b.ours, s, 8, 10)
	must[practice.Done](t)(b.RecordFinding(t.Context(), hand, practice.RecordFinding{Mutation: newID(), Finding: practice.Finding{
		ID: newID(), VisitID: s.visit, Kind: "dull note", Sure: "seen", Text: "behind the heads", Places: []int32{3}, LookAgain: true,
	}}))
	own := b.briefed(s)
	if len(own.History.Passes) != 1 || len(own.Again) == 0 || !slices.Contains(own.Again[0].Places, int32(3)) || len(own.Left) != 0 {
		t.Errorf("the job’s own brief: %d passes, %+v, left out %v", len(own.History.Passes), own.Again, own.Left)
	}
	buyer := s
	buyer.job = newID()
	job := newJob(s.vessel)
	job.ID, job.Client = buyer.job, ptr(b.party(b.ours, "A. Sorrel"))
	must[practice.Done](t)(b.AddJob(t.Context(), b.ours.of[domain.Office], job))
	told := b.briefed(buyer)
	if len(told.History.Passes) != 0 || len(told.Again) != 0 || !slices.Equal(told.Left, []string{"1 pass", "1 finding"}) {
		t.Errorf("another client’s brief: %d passes, %+v, left out %v", len(told.History.Passes), told.Again, told.Left)
	}
	nobodys := s
	nobodys.job = newID()
	job.Mutation, job.ID, job.Client = newID(), nobodys.job, nil
	must[practice.Done](t)(b.AddJob(t.Context(), b.ours.of[domain.Office], job))
	if told = b.briefed(nobodys); len(told.History.Passes) != 0 || len(told.Again) != 0 || !slices.Equal(told.Left, []string{"1 pass", "1 finding"}) {
		t.Errorf("of two jobs without a client, one is told of the other: %d passes, %+v, left out %v", len(told.History.Passes), told.Again, told.Left)
	}
	b.exec(`update jobs set cite = 'vessel history without names' where id = $1`, s.job)
	if told = b.briefed(buyer); len(told.History.Passes) != 1 || len(told.Left) != 0 {
		t.Errorf("once it may be told: %d passes, left out %v", len(told.History.Passes), told.Left)
	}
	_, err := b.Brief(t.Context(), b.theirs.of[domain.Surveyor], s.job)
	want(t, err, domain.NotFound)
	_, err = b.Brief(t.Context(), b.ours.of[domain.Guest], s.job)
	want(t, err, domain.NotFound)
}

func TestABriefSaysWhatItCostsNotToDoAsLastTime(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.survey(b.ours, "Petrel")
	b.readAt(b.ours, s, 8, 10)
	if like := strings.Join(b.briefed(s).Like, " "); !strings.Contains(like, "starts her record") {
		t.Errorf("what was read at the visit itself is told as last time: %s", like)
	}
	b.exec(`update visits set state = 'done' where id = $1`, s.visit)
	if like := strings.Join(b.briefed(s).Like, " "); !strings.Contains(like, "Skerrow deep No. 2") || !strings.Contains(like, "Days ashore: 7 last time") && !strings.Contains(like, "Days ashore: 7, as last time") {
		t.Errorf("as last time: %s", like)
	}
	next := s.planned(newID(), b.ours.of[domain.Surveyor].Member)
	next.From, next.To = time.Date(2026, 5, 6, 9, 0, 0, 0, time.UTC), time.Date(2026, 5, 6, 12, 0, 0, 0, time.UTC)
	must[practice.Done](t)(b.PlanVisit(t.Context(), b.ours.of[domain.Office], next))
	b.exec(`delete from permissions where job_id = $1`, s.job)
	got := b.briefed(s)
	like := strings.Join(got.Like, " ")
	if got.Visit == nil || got.Visit.ID != next.ID || !strings.Contains(like, "April, planned for May") || !strings.Contains(like, "7 last time, 35 at this visit") {
		t.Errorf("the next visit %+v: %s", got.Visit, like)
	}
	if !slices.Contains(got.Missing, "board and survey") || len(got.Next) == 0 || !strings.Contains(got.Next[0], "cannot be told") {
		t.Errorf("missing %v, next %v", got.Missing, got.Next)
	}
	b.exec(`insert into permissions (practice_id, id, job_id, what, given_on, given_by_name) values ($1, $2, $3, 'board and survey', '2026-04-01', 'the owner')`, b.ours.id, newID(), s.job)
	if got = b.briefed(s); slices.Contains(got.Missing, "board and survey") {
		t.Errorf("given, and still missing: %v", got.Missing)
	}
}
