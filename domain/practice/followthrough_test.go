package practice_test

import (
	"context"
	"encoding/json"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/domain/report"
)

// issuedAdvice is a recommendation of a survey's job that was issued.
func (b *bundle) issuedAdvice(s survey, change ...func(*practice.Recommendation)) uuid.UUID {
	b.t.Helper()
	id := must[uuid.UUID](b.t)(b.advise(b.ours.of[domain.Surveyor], s.job, change...))
	b.exec(`update recommendations set state = 'issued' where id = $1`, id)
	b.exec(`insert into recommendation_states (practice_id, id, recommendation_id, state, reason, at) values ($1, $2, $3, 'issued', 'report 2026-007', $4)`, b.ours.id, newID(), id, b.clock.now())
	return id
}

func TestEvidence(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s, other := b.survey(b.ours, "Petrel"), b.survey(b.ours, "Gannet")
	id := b.issuedAdvice(s)
	draft := must[uuid.UUID](t)(b.advise(b.ours.of[domain.Surveyor], s.job))
	add := func(role domain.Role, change func(*practice.ShownEvidence)) error {
		e := practice.ShownEvidence{ID: newID(), RecommendationID: id, Kind: "word", Text: "the owner says it is done"}
		change(&e)
		_, err := b.AddEvidence(t.Context(), b.ours.of[role], practice.AddEvidence{Mutation: newID(), Evidence: e})
		return err
	}
	for name, c := range map[string]struct {
		role   domain.Role
		change func(*practice.ShownEvidence)
		kind   domain.Kind
		field  string
	}{
		"a word":                            {domain.Office, func(*practice.ShownEvidence) {}, domain.Internal, ""},
		"an invoice":                        {domain.Office, func(e *practice.ShownEvidence) { e.Kind = "invoice" }, domain.Internal, ""},
		"an invoice that says nothing":      {domain.Office, func(e *practice.ShownEvidence) { e.Kind, e.Text = "invoice", " " }, domain.Invalid, "text"},
		"hearsay of another kind":           {domain.Office, func(e *practice.ShownEvidence) { e.Kind = "rumour" }, domain.Invalid, "kind"},
		"the office was not there":          {domain.Office, func(e *practice.ShownEvidence) { e.Kind, e.VisitID = "reinspection", &s.visit }, domain.Forbidden, ""},
		"a trainee was":                     {domain.Trainee, func(e *practice.ShownEvidence) { e.Kind, e.VisitID = "reinspection", &s.visit }, domain.Internal, ""},
		"seen at no visit":                  {domain.Surveyor, func(e *practice.ShownEvidence) { e.Kind = "reinspection" }, domain.Invalid, "visit"},
		"seen on another boat":              {domain.Surveyor, func(e *practice.ShownEvidence) { e.Kind, e.VisitID = "reinspection", &other.visit }, domain.Invalid, "visit"},
		"a photo of nothing":                {domain.Surveyor, func(e *practice.ShownEvidence) { e.Kind = "photo" }, domain.Invalid, "photo"},
		"a photo that is not there":         {domain.Surveyor, func(e *practice.ShownEvidence) { e.Kind, e.PhotoID = "photo", ptr(newID()) }, domain.NotFound, ""},
		"by a guest":                        {domain.Guest, func(*practice.ShownEvidence) {}, domain.Forbidden, ""},
		"of a draft":                        {domain.Surveyor, func(e *practice.ShownEvidence) { e.RecommendationID = draft }, domain.Conflict, ""},
		"of a recommendation that is not":   {domain.Surveyor, func(e *practice.ShownEvidence) { e.RecommendationID = newID() }, domain.NotFound, ""},
		"a file that was never uploaded":    {domain.Office, func(e *practice.ShownEvidence) { e.Kind, e.UploadID = "invoice", ptr(newID()) }, domain.NotFound, ""},
		"a finding of another boat's visit": {domain.Surveyor, func(e *practice.ShownEvidence) { e.FindingID = ptr(newID()) }, domain.NotFound, ""},
	} {
		if err := add(c.role, c.change); domain.KindOf(err) != c.kind || c.kind != domain.Internal && err == nil {
			t.Errorf("%s: %v", name, err)
		} else {
			want(t, err, c.kind, c.field)
		}
	}
	f := must[practice.FollowThrough](t)(b.FollowThrough(t.Context(), b.ours.of[domain.Surveyor], s.vessel))
	if len(f.Evidence) != 3 {
		t.Errorf("%d kept", len(f.Evidence))
	}
	if r, _, _ := b.Recommendation(t.Context(), b.ours.of[domain.Surveyor], id); r.State != "issued" {
		t.Errorf("evidence set the state %s", r.State)
	}
}

func TestANoticeOfDangerGoesToPeopleWhoWereSpokenTo(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s, lead := b.survey(b.ours, "Petrel"), b.ours.of[domain.Surveyor]
	client := newID()
	b.exec(`insert into parties (practice_id, id, kind, name, email, created_at) values ($1, $2, 'person', 'Anna Dunlin', 'anna@dunlin.example', $3)`, b.ours.id, client, b.clock.now())
	b.exec(`update jobs set client_id = $2 where id = $1`, s.job, client)
	stop := must[uuid.UUID](t)(b.advise(lead, s.job, func(r *practice.Recommendation) {
		r.Grade, r.What, r.Reason = "stop", "A prop stands on one bolt", "The other has sheared"
	}))
	mild := must[uuid.UUID](t)(b.advise(lead, s.job))
	_, err := b.DraftDangerNotice(t.Context(), lead, practice.DraftDangerNotice{Mutation: newID(), ID: newID(), Recommendation: mild})
	want(t, err, domain.Invalid, "recommendation")
	in := practice.DraftDangerNotice{Mutation: newID(), ID: newID(), Recommendation: stop}
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.DraftDangerNotice(ctx, lead, in) })
	drafted := must[practice.FollowThrough](t)(b.FollowThrough(t.Context(), lead, s.vessel)).Dangers[0]
	if !strings.Contains(drafted.Text, "was seen: The other has sheared. What to do first: A prop stands on one bolt.") || len(report.Lint(drafted.Text)) > 0 || drafted.SentAt != nil {
		t.Errorf("drafted: %q", drafted.Text)
	}
	spoke := ptr(b.clock.now().Add(-time.Minute))
	send := practice.SendDangerNotice{Mutation: newID(), ID: in.ID, Version: 1, Text: drafted.Text, Told: []practice.DangerTold{{Name: "The foreman", Role: "yard", SpokenAt: spoke, How: "in person", Email: "yard@skerrow.example"}}}
	for name, c := range map[string]struct {
		by     domain.Actor
		change func(*practice.SendDangerNotice)
		kind   domain.Kind
		field  string
	}{
		"nobody was spoken to": {lead, func(n *practice.SendDangerNotice) {
			n.Told = []practice.DangerTold{{Name: "The foreman", Role: "yard", Email: "yard@skerrow.example"}}
		}, domain.Invalid, "told"},
		"spoken to tomorrow": {lead, func(n *practice.SendDangerNotice) {
			n.Told = []practice.DangerTold{{Name: "The foreman", Role: "yard", SpokenAt: ptr(b.clock.now().Add(time.Hour)), How: "in person"}}
		}, domain.Invalid, "told[0].spokenAt"},
		"nobody knows how": {lead, func(n *practice.SendDangerNotice) {
			n.Told = []practice.DangerTold{{Name: "The foreman", Role: "yard", SpokenAt: spoke}}
		}, domain.Invalid, "told[0].how"},
		"no such role": {lead, func(n *practice.SendDangerNotice) {
			n.Told = []practice.DangerTold{{Name: "The foreman", Role: "passer-by", SpokenAt: spoke, How: "in person"}}
		}, domain.Invalid, "told"},
		"no words":        {lead, func(n *practice.SendDangerNotice) { n.Text = " " }, domain.Invalid, "text"},
		"a trainee sends": {b.ours.of[domain.Trainee], func(*practice.SendDangerNotice) {}, domain.Forbidden, ""},
		"an old version":  {lead, func(n *practice.SendDangerNotice) { n.Version = 7 }, domain.Conflict, ""},
	} {
		n := send
		n.Mutation = newID()
		c.change(&n)
		if _, err := b.SendDangerNotice(t.Context(), c.by, n); domain.KindOf(err) != c.kind || err == nil {
			t.Errorf("%s: %v", name, err)
		} else {
			want(t, err, c.kind, c.field)
		}
	}
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.SendDangerNotice(ctx, lead, send) })
	for _, to := range []string{"yard@skerrow.example", "anna@dunlin.example"} {
		if b.letter(to) != drafted.Text {
			t.Errorf("%s got %q", to, b.letter(to))
		}
	}
	sent := must[practice.FollowThrough](t)(b.FollowThrough(t.Context(), lead, s.vessel)).Dangers[0]
	if sent.SentBy != "The surveyor" || len(sent.Told) != 2 || sent.Told[1].Role != "client" || sent.Told[0].How != "in person" || sent.Told[0].SpokenAt == nil {
		t.Errorf("kept %+v", sent)
	}
	again := send
	again.Mutation, again.Version = newID(), 2
	_, err = b.SendDangerNotice(t.Context(), lead, again)
	want(t, err, domain.Conflict)
	if _, err := b.owner.Exec(t.Context(), `update danger_notices set text = 'nothing' where id = $1`, in.ID); err == nil {
		t.Error("a notice that was sent was changed")
	}
	// Owner and yard were rung one after the other; the client is among them and has it in writing at the known address.
	second := practice.DraftDangerNotice{Mutation: newID(), ID: newID(), Recommendation: stop}
	must[practice.Done](t)(b.DraftDangerNotice(t.Context(), lead, second))
	must[practice.Done](t)(b.SendDangerNotice(t.Context(), lead, practice.SendDangerNotice{Mutation: newID(), ID: second.ID, Version: 1, Text: "Two bolts now.", Told: []practice.DangerTold{
		{Name: "The foreman", Role: "yard", SpokenAt: ptr(b.clock.now().Add(-20 * time.Minute)), How: "in person"},
		{Name: "Anna Dunlin", Role: "client", SpokenAt: spoke, How: "by telephone"},
	}}))
	if got := b.letter("anna@dunlin.example"); got != "Two bolts now." {
		t.Errorf("the client who was rung got %q", got)
	}
}

func TestALetterSaysOnlyWhatWasSeen(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s, lead := b.survey(b.ours, "Petrel"), b.ours.of[domain.Surveyor]
	write := func() (practice.SeenLetter, error) {
		in := practice.WriteSeenLetter{Mutation: newID(), ID: newID(), Job: s.job, AddressedTo: "Skerrow Mutual", Reader: "insurer", Reference: "P 12"}
		if _, err := b.WriteSeenLetter(t.Context(), lead, in); err != nil {
			return practice.SeenLetter{}, err
		}
		return b.SeenLetter(t.Context(), lead, in.ID)
	}
	_, err := write()
	want(t, err, domain.Invalid, "job")
	step := func(id uuid.UUID, role domain.Role, state, reason string) {
		t.Helper()
		b.clock.pass(time.Minute)
		must[practice.Done](t)(b.SetRecommendationState(t.Context(), b.ours.of[role], practice.SetRecommendationState{Mutation: newID(), ID: newID(), Recommendation: id, State: state, Reason: reason}))
	}
	seen, claimed, declined := b.issuedAdvice(s), b.issuedAdvice(s), b.issuedAdvice(s)
	b.issuedAdvice(s, func(r *practice.Recommendation) { r.What = "Look at the keel joint again." })
	step(seen, domain.Office, "claimed done", "")
	step(seen, domain.Trainee, "seen done", "")
	step(claimed, domain.Office, "claimed done", "")
	step(declined, domain.Office, "declined", "has no money")
	must[practice.Done](t)(b.AddEvidence(t.Context(), lead, practice.AddEvidence{Mutation: newID(), Evidence: practice.ShownEvidence{ID: newID(), RecommendationID: claimed, Kind: "invoice", Text: "Skerrow yard, no. 7"}}))
	l, err := write()
	want(t, err, domain.Internal)
	var content report.Letter
	if err := json.Unmarshal(l.Content, &content); err != nil {
		t.Fatal(err)
	}
	var said []string
	for _, line := range content.Lines {
		said = append(said, line.First+": "+report.Join(line.Said))
	}
	const told = "2026-007: Seen done by The trainee on 7 April 2026.\n" +
		"2026-007: Said to be done on 7 April 2026; this practice has not seen it. An invoice was shown on 7 April 2026 (Skerrow yard, no. 7); it tells what was charged, not what was done.\n" +
		"2026-007: Not taken up when last heard, on 7 April 2026.\n2026-007: Open: this practice has seen nothing done about it."
	if got := strings.Join(said, "\n"); got != told {
		t.Errorf("the letter says\n%s", got)
	}
	if strings.Contains(string(l.Content), "has no money") {
		t.Error("the letter tells why it was declined")
	}
	step(claimed, domain.Surveyor, "seen done", "")
	if kept := must[practice.SeenLetter](t)(b.SeenLetter(t.Context(), lead, l.ID)); string(kept.Content) != string(l.Content) {
		t.Error("a letter that was written has changed")
	}
	_, err = b.WriteSeenLetter(t.Context(), b.ours.of[domain.Office], practice.WriteSeenLetter{Mutation: newID(), ID: newID(), Job: s.job, AddressedTo: "x", Reader: "insurer"})
	want(t, err, domain.Forbidden)
}

// Design section 2: a letter is for one client; what was advised in the job of another, or of
// nobody who is known, stays out of it until that job's terms allow it.
func TestALetterTellsOfNoOtherClientsJob(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s, lead := b.survey(b.ours, "Petrel"), b.ours.of[domain.Surveyor]
	b.issuedAdvice(s)
	for others, client := range []*uuid.UUID{ptr(b.party(b.ours, "A. Sorrel")), nil} { // and those jobs have advice of their own
		job := newJob(s.vessel)
		job.Client = client
		must[practice.Done](t)(b.AddJob(t.Context(), b.ours.of[domain.Office], job))
		write := func() error {
			_, err := b.WriteSeenLetter(t.Context(), lead, practice.WriteSeenLetter{Mutation: newID(), ID: newID(), Job: job.ID, AddressedTo: "Skerrow Mutual", Reader: "insurer"})
			return err
		}
		b.exec(`update jobs set cite = 'this client only' where id = $1`, s.job)
		want(t, write(), domain.Invalid, "job")
		b.exec(`update jobs set cite = 'vessel history without names' where id = $1`, s.job)
		want(t, write(), domain.Internal)
		if n := value[int](b, `select left_out from seen_letters where job_id = $1`, job.ID); n != others {
			t.Errorf("%d left out, want %d", n, others)
		}
		b.issuedAdvice(survey{job: job.ID})
		b.exec(`update jobs set cite = 'this client only' where id = $1`, s.job)
		want(t, write(), domain.Internal)
		if n := value[int](b, `select max(left_out) from seen_letters where job_id = $1`, job.ID); n != others+1 {
			t.Errorf("%d left out, want %d", n, others+1)
		}
	}
	b.exec(`update jobs set cite = 'this client only' where id = $1`, s.job)
	_, err := b.WriteSeenLetter(t.Context(), lead, practice.WriteSeenLetter{Mutation: newID(), ID: newID(), Job: s.job, AddressedTo: "Skerrow Mutual", Reader: "insurer"})
	want(t, err, domain.Internal) // a job's own advice
}
