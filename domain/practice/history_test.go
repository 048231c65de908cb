package practice_test

import (
	"slices"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

// readAt opens a pass of the survey on a day and reads every place: 12 units on the dry
// places, so many more below.
func (b *bundle) readAt(h house, s survey, day int, over float64, change ...func(*practice.OpenPass)) uuid.UUID {
	b.t.Helper()
	in := b.opening(h, s)
	in.BeganAt = time.Date(2026, 4, day, 9, 5, 0, 0, time.UTC)
	for _, c := range change {
		c(&in)
	}
	hand := h.of[domain.Surveyor]
	must[practice.Done](b.t)(b.OpenPass(b.t.Context(), hand, in))
	tenths := map[int32]int16{}
	for k := range s.places {
		tenths[int32(k+1)] = 120
		if k%4 >= 2 {
			tenths[int32(k+1)] = int16(120 + 10*over)
		}
	}
	must[practice.Done](b.t)(b.AddReadings(b.t.Context(), hand, batch(in.ID, tenths)))
	return in.ID
}

func TestAHistoryIsAlignedAndJudged(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.survey(b.ours, "Petrel")
	hand := b.ours.of[domain.Surveyor]
	early, late := b.readAt(b.ours, s, 8, 10), b.readAt(b.ours, s, 12, 7)
	other := newID()
	inside := b.readAt(b.ours, s, 10, 9, func(p *practice.OpenPass) { p.ID, p.Face = other, "inside" })
	quoted := b.readAt(b.ours, s, 9, 8, func(p *practice.OpenPass) {
		p.Quoted, p.Hand, p.Instrument, p.Scale = true, nil, nil, nil
	})
	h := must[practice.History](t)(b.History(t.Context(), hand, s.vessel, nil))
	var order []uuid.UUID
	var standings []practice.Standing
	for _, p := range h.Passes {
		order, standings = append(order, p.ID), append(standings, p.Standing)
	}
	if !slices.Equal(order, []uuid.UUID{early, quoted, inside, late}) {
		t.Errorf("passes in the order %v", order)
	}
	if !slices.Equal(standings, []practice.Standing{practice.Same, practice.Quoted, practice.Unlike, practice.Reference}) {
		t.Errorf("standings %v", standings)
	}
	first := h.Passes[0]
	if !first.Baseline.Valid() || first.Baseline.N != 8 || int32(first.Baseline.Median.Low) != 480 { // fortieths of 12 units
		t.Errorf("baseline %+v", first.Baseline)
	}
	for k := range s.places {
		over := int32(0)
		if k%4 >= 2 {
			over = 200
		}
		if first.Contrasts.At(k) != over {
			t.Errorf("contrast of place %d is %d twentieths, want %d", k+1, first.Contrasts.At(k), over)
		}
		if h.Passes[1].Contrasts.At(k) != practice.Null {
			t.Errorf("a quoted pass has a contrast at place %d", k+1)
		}
	}
	held := must[practice.History](t)(b.History(t.Context(), hand, s.vessel, &early))
	if held.Passes[0].Standing != practice.Reference || held.Passes[3].Standing != practice.Same {
		t.Errorf("held against the first: %v, %v", held.Passes[0].Standing, held.Passes[3].Standing)
	}
	_, err := b.History(t.Context(), hand, s.vessel, ptr(newID()))
	want(t, err, domain.NotFound)
}

// Design, jobs and what may be told: a buyer's job, then an owner's.
func TestAHistorySaysWhatTheClientOfThePassHeldMayBeTold(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.survey(b.ours, "Petrel")
	hand, office := b.ours.of[domain.Surveyor], b.ours.of[domain.Office]
	b.readAt(b.ours, s, 8, 10)
	first := b.readAt(b.ours, s, 9, 10)
	told := func(against *uuid.UUID) (list []bool, left int) {
		h := must[practice.History](t)(b.History(t.Context(), hand, s.vessel, against))
		for _, p := range h.Passes {
			list = append(list, p.Told)
		}
		return list, h.LeftOut
	}
	if list, left := told(nil); left != 0 || slices.Contains(list, false) {
		t.Errorf("of one job without a client %d are left out: %v", left, list)
	}
	later := s
	later.job, later.visit = newID(), newID()
	job := newJob(s.vessel)
	job.ID, job.Client = later.job, ptr(b.party(b.ours, "A. Sorrel"))
	must[practice.Done](t)(b.AddJob(t.Context(), office, job))
	visit := later.planned(later.visit, hand.Member)
	visit.From, visit.To = visit.From.AddDate(0, 0, 4), visit.To.AddDate(0, 0, 4)
	must[practice.Done](t)(b.PlanVisit(t.Context(), office, visit))
	b.leave(b.ours, later.job, "board and survey")
	b.readAt(b.ours, later, 12, 7)
	if list, left := told(nil); left != 2 || !slices.Equal(list, []bool{false, false, true}) {
		t.Errorf("the client of another job: %d left out, %v", left, list)
	}
	if list, left := told(&first); left != 1 || !slices.Equal(list, []bool{true, true, false}) {
		t.Errorf("held against the first job's: %d left out, %v", left, list)
	}
	b.exec(`update jobs set cite = 'vessel history without names' where id = $1`, s.job)
	if list, left := told(nil); left != 0 || slices.Contains(list, false) {
		t.Errorf("once its terms allow it %d are left out: %v", left, list)
	}
}

func TestMirrorsAreNearAndOnTheOtherSide(t *testing.T) {
	t.Parallel()
	hull, rudder := newID(), newID()
	axis := practice.Axis{
		Elements: []uuid.UUID{hull, hull, hull, hull, hull, rudder, hull},
		Sides:    []string{"port", "starboard", "starboard", "port", "centre", "starboard", "starboard"},
		Along:    practice.Column{1000, 1040, 1090, 3000, 1000, 1000, 3101},
		Down:     practice.Column{500, 540, 500, -120, 500, 500, -120},
	}
	got := axis.Mirrors()
	none := int32(practice.Null)
	// 1 lies nearer to 2 (80 mm in all) than to 3 (90 mm); 4 has none within 100 mm.
	if !slices.Equal(got, practice.Column{2, 1, 1, none, none, none, none}) {
		t.Errorf("mirrors %v", got)
	}
}

func TestDaysAshoreAreCountedInTheYardsZone(t *testing.T) {
	t.Parallel()
	lift := time.Date(2026, 3, 28, 23, 30, 0, 0, time.UTC) // the 29th at half past one in Athens, summer time that night
	for _, c := range []struct {
		zone, precision string
		at              time.Time
		days, hours     int
		ok              bool
	}{
		{"Europe/Athens", "instant", time.Date(2026, 3, 29, 5, 0, 0, 0, time.UTC), 0, 5, true},
		{"Europe/Dublin", "instant", time.Date(2026, 3, 29, 5, 0, 0, 0, time.UTC), 1, 5, true},
		{"Europe/Athens", "day", time.Date(2026, 4, 5, 20, 0, 0, 0, time.UTC), 7, 188, true},
		{"Europe/Athens", "month", time.Date(2026, 4, 5, 20, 0, 0, 0, time.UTC), 0, 0, false},
		{"Europe/Athens", "instant", time.Date(2026, 3, 20, 20, 0, 0, 0, time.UTC), -9, -195, false},
		{"No/Where", "instant", time.Date(2026, 3, 29, 5, 0, 0, 0, time.UTC), 1, 5, true},
	} {
		days, hours, ok := practice.DaysAshore(&lift, c.precision, c.zone, c.at)
		if ok != c.ok || ok && (days != c.days || hours != c.hours) {
			t.Errorf("%s, %s: %d days, %d hours, %v; want %d, %d, %v", c.zone, c.precision, days, hours, ok, c.days, c.hours, c.ok)
		}
	}
	if _, _, ok := practice.DaysAshore(nil, "instant", "Etc/UTC", lift); ok {
		t.Error("days are counted from no lift")
	}
}

// A lift or a visit that is dated by a month or a year leaves a range: from the last day of
// the one to the first of the other, and the other way about.
func TestDaysAshoreOfAMonthOrAYearAreARange(t *testing.T) {
	t.Parallel()
	at := func(month time.Month, day int) time.Time { return time.Date(2019, month, day, 10, 0, 0, 0, time.UTC) }
	for name, c := range map[string]struct {
		lift, visit      time.Time
		precision, known string
		want             practice.Ashore
		ok               bool
	}{
		"both to the day":               {at(5, 2), at(5, 23), "day", "instant", practice.Ashore{Least: 21, Most: 21}, true},
		"lifted in May":                 {at(5, 2), at(6, 10), "month", "instant", practice.Ashore{Least: 10, Most: 40}, true},
		"seen in June":                  {at(5, 2), at(6, 1), "day", "month", practice.Ashore{Least: 30, Most: 59}, true},
		"lifted in May, seen in June":   {at(5, 2), at(6, 1), "month", "month", practice.Ashore{Least: 1, Most: 60}, true},
		"lifted and seen in one month":  {at(5, 2), at(5, 1), "month", "month", practice.Ashore{Least: 0, Most: 30}, true},
		"lifted in May, seen that year": {at(5, 2), at(1, 1), "month", "year", practice.Ashore{Least: 0, Most: 244}, true},
		"seen before the lift":          {at(5, 2), at(4, 1), "day", "month", practice.Ashore{}, false},
		"by nothing that is known":      {at(5, 2), at(6, 1), "decade", "instant", practice.Ashore{}, false},
	} {
		if got, ok := practice.AshoreBetween(&c.lift, c.precision, "Etc/UTC", c.visit, c.known); ok != c.ok || ok && got != c.want {
			t.Errorf("%s: %v, %t; want %v, %t", name, got, ok, c.want, c.ok)
		}
	}
	if _, ok := practice.AshoreBetween(nil, "day", "Etc/UTC", at(5, 2), "instant"); ok {
		t.Error("days are counted from no lift")
	}
}

func TestAHistoryShowsWhatIsOpenToItsReader(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.survey(b.ours, "Petrel")
	b.readAt(b.ours, s, 8, 10)
	b.exec(`update jobs set restricted = true where id = $1`, s.job)
	guest, trainee := b.ours.of[domain.Guest], b.ours.of[domain.Trainee]
	seen := func(a domain.Actor) int {
		return len(must[practice.History](t)(b.History(t.Context(), a, s.vessel, nil)).Passes)
	}
	if n := seen(trainee); n != 0 {
		t.Errorf("a member whom the job does not name sees %d passes", n)
	}
	_, err := b.History(t.Context(), guest, s.vessel, nil) // who was let into no job of hers does not know her
	want(t, err, domain.NotFound)
	b.let(trainee, s.job)
	b.let(guest, s.job)
	if seen(trainee) != 1 || seen(guest) != 1 || seen(domain.Service(b.ours.id)) != 1 {
		t.Error("those whom the job names, and the service itself, see its pass")
	}
	_, err = b.History(t.Context(), b.theirs.of[domain.Surveyor], s.vessel, nil)
	want(t, err, domain.NotFound)
	_, err = b.History(t.Context(), domain.Actor{}, s.vessel, nil)
	want(t, err, domain.Unauthenticated)
}
