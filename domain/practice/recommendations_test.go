package practice_test

import (
	"context"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

// advise adds a recommendation of a job, as its surveyor.
func (b *bundle) advise(a domain.Actor, job uuid.UUID, change ...func(*practice.Recommendation)) (uuid.UUID, error) {
	b.t.Helper()
	r := practice.Recommendation{ID: newID(), JobID: job, Grade: "ashore", Sure: "seen", What: "Open the blister at 13/3 and look."}
	for _, c := range change {
		c(&r)
	}
	_, err := b.AddRecommendation(b.t.Context(), a, practice.AddRecommendation{Mutation: newID(), Recommendation: r})
	return r.ID, err
}

func TestRecommendation(t *testing.T) {
	t.Parallel()
	t.Run("readings alone carry no more than they can", func(t *testing.T) {
		t.Parallel()
		b := setup(t)
		surveyor, job := b.ours.of[domain.Surveyor], b.job(b.ours, b.vessel(b.ours, "Kittiwake"), false)
		for grade, kind := range map[string]domain.Kind{
			"stop": domain.Invalid, "afloat": domain.Invalid, "ashore": domain.Invalid, "planned": domain.Invalid,
			"watch": domain.Internal, "further": domain.Internal, "record": domain.Internal,
		} {
			_, err := b.advise(surveyor, job, func(r *practice.Recommendation) { r.ReadingsOnly, r.Grade, r.Sure = true, grade, "indicated" })
			want(t, err, kind, "grade")
		}
		_, err := b.advise(surveyor, job, func(r *practice.Recommendation) { r.ReadingsOnly, r.Grade = true, "watch" })
		want(t, err, domain.Invalid, "sure")
		id, err := b.advise(surveyor, job)
		want(t, err, domain.Internal)
		_, err = b.EditRecommendation(t.Context(), surveyor, practice.EditRecommendation{Mutation: newID(), ID: id, Version: 1, ReadingsOnly: ptr(true)})
		want(t, err, domain.Invalid, "grade")
		if _, err = b.owner.Exec(t.Context(), `update recommendations set readings_only = true where id = $1`, id); err == nil {
			t.Error("the database keeps what the rule refuses")
		}
	})
	t.Run("refuses what cannot be kept, naming the field", func(t *testing.T) {
		t.Parallel()
		b := setup(t)
		job := b.job(b.ours, b.vessel(b.ours, "Kittiwake"), false)
		for field, change := range map[string]func(*practice.Recommendation){
			"what": func(r *practice.Recommendation) { r.What = " " }, "grade": func(r *practice.Recommendation) { r.Grade = "urgent" },
			"sure": func(r *practice.Recommendation) { r.Sure = "certain" }, "id": func(r *practice.Recommendation) { r.ID = uuid.Nil },
		} {
			_, err := b.advise(b.ours.of[domain.Surveyor], job, change)
			want(t, err, domain.Invalid, field)
		}
		_, err := b.advise(b.ours.of[domain.Surveyor], job, func(r *practice.Recommendation) { r.What = strings.Repeat("x", 2001) })
		want(t, err, domain.Invalid)
		_, err = b.advise(b.ours.of[domain.Surveyor], b.job(b.theirs, b.vessel(b.theirs, "Fulmar"), false))
		want(t, err, domain.NotFound)
	})
	t.Run("is a draft that changes from its newest version, and keeps its words once issued", func(t *testing.T) {
		t.Parallel()
		b := setup(t)
		surveyor, job := b.ours.of[domain.Surveyor], b.job(b.ours, b.vessel(b.ours, "Kittiwake"), false)
		id, err := b.advise(surveyor, job)
		want(t, err, domain.Internal)
		by := time.Date(2026, 5, 1, 0, 0, 0, 0, time.UTC)
		edit := practice.EditRecommendation{Mutation: newID(), ID: id, Version: 1, Grade: ptr("Before afloat"), ByOn: &by}
		thrice(t, func(ctx context.Context) (practice.Done, error) { return b.EditRecommendation(ctx, surveyor, edit) })
		r, states, err := b.Recommendation(t.Context(), b.ours.of[domain.Trainee], id)
		if err != nil || r.Grade != "afloat" || !r.ByOn.Equal(by) || r.State != "draft" || r.Version != 2 || len(states) != 0 || r.What != "Open the blister at 13/3 and look." {
			t.Errorf("kept %+v, %v, %v", r, states, err)
		}
		edit.Mutation = newID()
		_, err = b.EditRecommendation(t.Context(), surveyor, edit)
		want(t, err, domain.Conflict)
		_, err = b.EditRecommendation(t.Context(), surveyor, practice.EditRecommendation{Mutation: newID(), ID: id, Version: 2, ByNoDay: true})
		want(t, err, domain.Internal)
		if r, _, err := b.Recommendation(t.Context(), surveyor, id); err != nil || r.ByOn != nil || r.Grade != "afloat" {
			t.Errorf("without its day it is %+v, %v", r, err)
		}
		b.exec(`update recommendations set state = 'issued' where id = $1`, id)
		edit.Mutation, edit.Version = newID(), 3
		_, err = b.EditRecommendation(t.Context(), surveyor, edit)
		want(t, err, domain.Conflict)
	})
	t.Run("moves on by those who may, with reasons where they are owed", func(t *testing.T) {
		t.Parallel()
		b := setup(t)
		job := b.job(b.ours, b.vessel(b.ours, "Kittiwake"), false)
		id, err := b.advise(b.ours.of[domain.Surveyor], job)
		want(t, err, domain.Internal)
		b.let(b.ours.of[domain.Guest], job)
		step := func(role domain.Role, state, reason string) error {
			_, err := b.SetRecommendationState(t.Context(), b.ours.of[role], practice.SetRecommendationState{Mutation: newID(), ID: newID(), Recommendation: id, State: state, Reason: reason})
			return err
		}
		want(t, step(domain.Office, "acknowledged", ""), domain.Conflict) // still a draft
		b.exec(`update recommendations set state = 'issued' where id = $1`, id)
		for _, s := range []struct {
			role          domain.Role
			state, reason string
			kind          domain.Kind
		}{
			{domain.Guest, "acknowledged", "", domain.Forbidden},
			{domain.Office, "draft", "", domain.Invalid},
			{domain.Office, "done", "", domain.Invalid},
			{domain.Office, "acknowledged", "", domain.Internal},
			{domain.Office, "declined", " ", domain.Invalid},
			{domain.Office, "declined", "sells her as she is", domain.Internal},
			{domain.Office, "reopened", "the sale fell through", domain.Internal},
			{domain.Office, "claimed done", "", domain.Internal},
			{domain.Office, "seen done", "", domain.Forbidden},
			{domain.Guest, "seen done", "", domain.Forbidden},
			{domain.Trainee, "seen done", "", domain.Internal},
			{domain.Office, "claimed done", "", domain.Conflict},
			{domain.Surveyor, "closed", "", domain.Invalid},
			{domain.Surveyor, "closed", "seen on 7 April", domain.Internal},
		} {
			t.Run(string(s.role)+" sets "+s.state, func(t *testing.T) {
				b.clock.pass(time.Minute)
				want(t, step(s.role, s.state, s.reason), s.kind)
			})
		}
		r, states, err := b.Recommendation(t.Context(), b.ours.of[domain.Guest], id)
		want(t, err, domain.Internal)
		var told string
		for _, s := range states {
			told += s.State + " by " + s.ByName + ": " + s.Reason + "\n"
		}
		const story = "acknowledged by The office: \ndeclined by The office: sells her as she is\nreopened by The office: the sale fell through\n" +
			"claimed done by The office: \nseen done by The trainee: \nclosed by The surveyor: seen on 7 April\n"
		if r.State != "closed" || told != story {
			t.Errorf("it is %s, its story\n%s", r.State, told)
		}
	})
	t.Run("stands on the vessel's page with its story, beside when to look again", func(t *testing.T) {
		t.Parallel()
		b := setup(t)
		vessel, other := b.vessel(b.ours, "Kittiwake"), b.vessel(b.ours, "Fulmar")
		open, secret := b.job(b.ours, vessel, false), b.job(b.ours, vessel, true)
		b.let(b.ours.of[domain.Surveyor], secret)
		shown, err := b.advise(b.ours.of[domain.Surveyor], open)
		want(t, err, domain.Internal)
		hidden, err := b.advise(b.ours.of[domain.Surveyor], secret)
		want(t, err, domain.Internal)
		_, err = b.advise(b.ours.of[domain.Surveyor], b.job(b.ours, other, false))
		want(t, err, domain.Internal)
		for _, of := range []uuid.UUID{shown, hidden} {
			b.exec(`update recommendations set state = 'issued' where id = $1`, of)
			_, err = b.SetRecommendationState(t.Context(), b.ours.of[domain.Surveyor], practice.SetRecommendationState{Mutation: newID(), ID: newID(), Recommendation: of, State: "in hand"})
			want(t, err, domain.Internal)
			b.exec(`insert into reinspections (practice_id, id, vessel_id, recommendation_id, due_from, due_to, reason) values ($1, $2, $3, $4, '2026-10-01', '2026-11-30', 'after six weeks ashore')`,
				b.ours.id, newID(), vessel, of)
		}
		for role, n := range map[domain.Role]int{domain.Surveyor: 2, domain.Principal: 1} {
			v := must[practice.VesselPage](t)(b.Vessel(t.Context(), b.ours.of[role], vessel, practice.VesselParts{Recommendations: true, Reinspections: true}, nil))
			if len(v.Recommendations) != n || len(v.Reinspections) != n {
				t.Errorf("the %s sees %d recommendations and %d reinspections, want %d of each", role, len(v.Recommendations), len(v.Reinspections), n)
			}
			if len(v.States) != n {
				t.Errorf("the %s sees %d steps of their stories, want %d", role, len(v.States), n)
			}
		}
		_, _, err = b.Recommendation(t.Context(), b.ours.of[domain.Principal], hidden)
		want(t, err, domain.NotFound)
		_, err = b.Vessel(t.Context(), b.ours.of[domain.Guest], vessel, practice.VesselParts{Recommendations: true}, nil)
		want(t, err, domain.NotFound) // none of her jobs was opened to the guest
	})
}

// Of two who move a recommendation on at once, the second is told: what it wanted to move
// on from stands no more.
func TestARecommendationIsMovedOnFromWhatItIs(t *testing.T) {
	t.Parallel()
	b := setup(t)
	id, err := b.advise(b.ours.of[domain.Surveyor], b.job(b.ours, b.vessel(b.ours, "Kittiwake"), false))
	want(t, err, domain.Internal)
	b.exec(`update recommendations set state = 'issued' where id = $1`, id)
	err = b.meanwhile(`update recommendations set state = 'closed' where id = '`+id.String()+`'`, func() error {
		_, err := b.SetRecommendationState(t.Context(), b.ours.of[domain.Office], practice.SetRecommendationState{Mutation: newID(), ID: newID(), Recommendation: id, State: "agreed"})
		return err
	})
	want(t, err, domain.Conflict)
	if n := value[int](b, `select count(*) from recommendation_states where recommendation_id = $1`, id); n != 0 {
		t.Errorf("%d steps are told of what nobody did", n)
	}
}
