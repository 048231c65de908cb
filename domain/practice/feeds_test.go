package practice_test

import (
	"strings"
	"testing"
	"time"

	ics "github.com/arran4/golang-ical"
	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store"
	"boottop.example/practice/store/storetest"
	"boottop.example/practice/store/storetest/story"
)

// feed makes a feed and gives its token.
func (b *bundle) feed(a domain.Actor, change func(*practice.MakeFeed)) string {
	b.t.Helper()
	in := practice.MakeFeed{Mutation: newID(), ID: newID(), Purpose: "my visits", Boats: true}
	if change != nil {
		change(&in)
	}
	_, address, err := b.MakeFeed(b.t.Context(), a, in)
	if err != nil {
		b.t.Fatal(err)
	}
	return strings.TrimSuffix(strings.TrimPrefix(address, publicURL+"/calendar/"), ".ics")
}

// events fetches a feed with a reader that others wrote.
func (b *bundle) events(token string) (text string, events []*ics.VEvent) {
	b.t.Helper()
	raw, err := b.Feed(b.t.Context(), token)
	if err != nil {
		b.t.Fatal(err)
	}
	c, err := ics.ParseCalendar(strings.NewReader(string(raw)))
	if err != nil {
		b.t.Fatalf("%v in\n%s", err, raw)
	}
	return string(raw), c.Events()
}

func TestAFeedFollowsTheVisits(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.surveyed("Kittiwake")
	surveyor := b.ours.of[domain.Surveyor]
	visit := newID()
	b.exec(`insert into visits (practice_id, id, job_id, kind, from_at, to_at, time_zone, lead_id) values ($1, $2, $3, 'other', '2026-05-04T09:00Z', '2026-05-04T12:00Z', 'Europe/Dublin', $4)`,
		b.ours.id, visit, s.job, surveyor.Member)
	token := b.feed(surveyor, nil)
	_, events := b.events(token)
	if len(events) != 1 || events[0].Id() != "vis_"+visit.String() {
		t.Fatalf("the surveyor's feed has %d events", len(events))
	}
	at := func() (time.Time, string, string) {
		t.Helper()
		_, events := b.events(token)
		start, _ := events[0].GetStartAt()
		return start, events[0].GetProperty(ics.ComponentPropertySequence).Value, events[0].GetProperty(ics.ComponentPropertyStatus).Value
	}
	was, sequence, _ := at()
	if sequence != "0" || !was.Equal(time.Date(2026, 5, 4, 9, 0, 0, 0, time.UTC)) {
		t.Errorf("it begins %v as %s", was, sequence)
	}
	b.exec(`update visits set note = 'bring the ladder' where id = $1`, visit)
	if _, sequence, _ := at(); sequence != "0" {
		t.Errorf("a note raised the sequence to %s", sequence)
	}
	b.exec(`update visits set from_at = '2026-05-13T09:00Z', to_at = '2026-05-13T12:00Z' where id = $1`, visit)
	if start, sequence, status := at(); sequence != "1" || start.Day() != 13 || status != "CONFIRMED" {
		t.Errorf("moved it begins %v as %s, %s", start, sequence, status)
	}
	b.exec(`update visits set state = 'cancelled' where id = $1`, visit)
	if _, sequence, status := at(); sequence != "2" || status != "CANCELLED" {
		t.Errorf("called off it stands %s, %s", status, sequence)
	}
	if n := value[int](b, `select count(*) from calendar_feeds where last_fetched_at is not null`); n != 1 {
		t.Error("it is not noted that the feed was fetched")
	}
}

// Promise 84: guessed, cut, revoked, of somebody who left: not there; the hash alone is
// kept; each sees what is his or hers; times and places, and names only as chosen.
func TestAFeedIsOnePersonsSecret(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.surveyed("Kittiwake")
	surveyor, office := b.ours.of[domain.Surveyor], b.ours.of[domain.Office]
	secret := b.job(b.ours, b.vessel(b.ours, "Fulmar"), true)
	for _, job := range []uuid.UUID{s.job, secret} {
		b.exec(`insert into visits (practice_id, id, job_id, kind, from_at, to_at, time_zone, note) values ($1, $2, $3, 'other', '2026-05-04T09:00Z', '2026-05-04T12:00Z', 'Europe/Dublin', 'gate code 4711')`,
			b.ours.id, newID(), job)
	}
	all := b.feed(office, func(in *practice.MakeFeed) { in.Purpose = "all visits" })
	text, events := b.events(all)
	if len(events) != 2 || !strings.Contains(text, "Kittiwake") || strings.Contains(text, "Fulmar") || strings.Contains(text, "Dunlin") || strings.Contains(text, "4711") {
		t.Errorf("the office's feed says\n%s", text)
	}
	if n := value[int](b, `select count(*) from calendar_feeds where encode(token_sha256, 'escape') = $1 or purpose = $1`, all); n != 0 {
		t.Error("the token itself is kept")
	}
	bare := b.feed(office, func(in *practice.MakeFeed) { in.Purpose, in.Boats = "all visits", false })
	if text, _ := b.events(bare); strings.Contains(text, "Kittiwake") || strings.Contains(text, "Dunlin") {
		t.Errorf("without names it says\n%s", text)
	}
	if _, err := b.Feed(t.Context(), all); domain.KindOf(err) != domain.NotFound {
		t.Errorf("an address made anew leaves the one before: %v", err)
	}
	named := b.feed(office, func(in *practice.MakeFeed) { in.Purpose, in.Clients = "all visits", true })
	if text, _ := b.events(named); !strings.Contains(text, "For Anna Dunlin") {
		t.Errorf("with clients it says\n%s", text)
	}
	if _, events := b.events(b.feed(surveyor, nil)); len(events) != 0 {
		t.Errorf("a surveyor's own feed has %d visits of others", len(events))
	}
	_, _, err := b.MakeFeed(t.Context(), b.ours.of[domain.Guest], practice.MakeFeed{Mutation: newID(), ID: newID(), Purpose: "all visits"})
	want(t, err, domain.Forbidden)
	for what, token := range map[string]string{"cut": named[:42], "longer": named + "A", "in another case": strings.ToUpper(named), "none": "", "guessed": strings.Repeat("A", 43)} {
		_, err := b.Feed(t.Context(), token)
		t.Run(what, func(t *testing.T) { want(t, err, domain.NotFound) })
	}
	feeds, err := b.Feeds(t.Context(), office)
	if err != nil || len(feeds) != 1 || feeds[0].LastFetchedAt == nil {
		t.Fatalf("the office has %+v, %v", feeds, err)
	}
	_, err = b.RevokeFeed(t.Context(), surveyor, practice.RevokeFeed{Mutation: newID(), ID: feeds[0].ID})
	want(t, err, domain.NotFound)
	for what, sql := range map[string]string{
		"of an account that was shut": `update accounts set disabled_at = now() where id = (select account_id from members where id = $1)`,
		"of one who has left":         `update members set left_at = now() where id = $1`,
	} {
		mine := b.member(b.ours, domain.Office)
		token := b.feed(mine, func(in *practice.MakeFeed) { in.Purpose = "all visits" })
		b.exec(sql, mine.Member)
		_, err := b.Feed(t.Context(), token)
		t.Run(what, func(t *testing.T) { want(t, err, domain.NotFound) })
	}
	must[practice.Done](t)(b.RevokeFeed(t.Context(), office, practice.RevokeFeed{Mutation: newID(), ID: feeds[0].ID}))
	_, err = b.Feed(t.Context(), named)
	want(t, err, domain.NotFound)
}

func TestAVisitIsSentToACalendar(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.surveyed("Kittiwake")
	visit := newID()
	b.exec(`insert into visits (practice_id, id, job_id, kind, from_at, to_at, time_zone) values ($1, $2, $3, 'other', '2026-05-04T09:00Z', '2026-05-04T12:00Z', 'Europe/Dublin')`, b.ours.id, visit, s.job)
	in := practice.InviteToVisit{Mutation: newID(), ID: newID(), Visit: visit, Name: "Anna Dunlin", Email: "anna@dunlin.example"}
	_, err := b.InviteToVisit(t.Context(), b.ours.of[domain.Office], in)
	want(t, err, domain.Invalid, "visit") // the practice has no address yet
	b.exec(`update practices set email = 'office@quay.example' where practice_id = $1`, b.ours.id)
	must[practice.Done](t)(b.InviteToVisit(t.Context(), b.ours.of[domain.Office], in))
	b.exec(`update visits set state = 'cancelled' where id = $1`, visit)
	in.Mutation, in.ID = newID(), newID()
	must[practice.Done](t)(b.InviteToVisit(t.Context(), b.ours.of[domain.Office], in))
	sent := value[string](b, `select string_agg(method || ' ' || calendar, '|' order by id) from mails where kind = 'invitation to a visit'`)
	first, second, _ := strings.Cut(sent, "|")
	for part, lines := range map[string][]string{first: {"REQUEST ", "METHOD:REQUEST", "UID:vis_" + visit.String(), "SEQUENCE:0"}, second: {"CANCEL ", "METHOD:CANCEL", "UID:vis_" + visit.String(), "SEQUENCE:1", "STATUS:CANCELLED"}} {
		for _, line := range lines {
			if !strings.Contains(strings.ReplaceAll(part, "\r\n ", ""), line) {
				t.Errorf("%q is missing in\n%s", line, part)
			}
		}
	}
}

// A year of a practice of forty is one trip, the choice of its practice among it.
func TestAYearsFeedIsOneTrip(t *testing.T) {
	t.Parallel()
	db := storetest.New(t)
	count := &trips{}
	s, err := store.Open(t.Context(), store.Config{URL: db.AppURL, MaxConns: 1, Tracer: count})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	owner := db.Connect(t, db.OwnerURL)
	service := practice.New(s, practice.WithPublicURL(publicURL), practice.WithClock(func() time.Time { return story.Today }))
	w, members := story.Begin(t, s, owner, service, nil, "Of forty")
	season(t, owner, w.Practice, 40, 1000, story.Today.AddDate(0, 0, 1))
	_, address, err := service.MakeFeed(t.Context(), members[domain.Office], practice.MakeFeed{Mutation: newID(), ID: newID(), Purpose: "all visits", Boats: true})
	if err != nil {
		t.Fatal(err)
	}
	token := strings.TrimSuffix(strings.TrimPrefix(address, publicURL+"/calendar/"), ".ics")
	fetch := func() string { return string(must[[]byte](t)(service.Feed(t.Context(), token))) }
	fetch() // prepares the statements
	before := count.n.Load()
	text := fetch()
	if n := count.n.Load() - before; n != 1 {
		t.Errorf("a year took %d trips", n)
	}
	if n := strings.Count(text, "BEGIN:VEVENT"); n < 900 {
		t.Errorf("the year holds %d visits", n)
	}
}
