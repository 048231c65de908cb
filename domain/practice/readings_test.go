package practice_test

import (
	"context"
	"fmt"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

// batch is readings of one placement each at these places, tenths of a scale unit.
func batch(pass uuid.UUID, tenths map[int32]int16) practice.AddReadings {
	in := practice.AddReadings{Mutation: newID(), Pass: pass}
	for ordinal := int32(1); ordinal <= 2000; ordinal++ {
		if v, read := tenths[ordinal]; read {
			in.IDs, in.Ordinals = append(in.IDs, newID()), append(in.Ordinals, ordinal)
			in.Placements = append(in.Placements, []int16{v})
			in.TakenAt = append(in.TakenAt, time.Date(2026, 4, 8, 9, 10, 0, 0, time.UTC))
		}
	}
	return in
}

// readable is a survey with an open pass.
func readable(t *testing.T) (b *bundle, hand domain.Actor, pass uuid.UUID, s survey) {
	t.Helper()
	b = setup(t)
	s = b.survey(b.ours, "Petrel")
	return b, b.ours.of[domain.Surveyor], b.pass(b.ours, s), s
}

// kept counts the readings of a pass, all of them.
func (b *bundle) kept(pass uuid.UUID) int {
	b.t.Helper()
	return value[int](b, `select count(*) from readings where pass_id = $1`, pass)
}

func TestReadingsAreKeptOnceHoweverOftenTheyAreSent(t *testing.T) {
	t.Parallel()
	t.Run("the same batch again", func(t *testing.T) {
		t.Parallel()
		b, hand, pass, _ := readable(t)
		in := batch(pass, map[int32]int16{1: 120, 2: 125, 3: 300})
		done := thrice(t, func(ctx context.Context) (practice.Done, error) { return b.AddReadings(ctx, hand, in) })
		if done.Kept != 3 || b.kept(pass) != 3 {
			t.Errorf("kept %d, %d rows, want 3", done.Kept, b.kept(pass))
		}
	})
	t.Run("the same readings under another mutation", func(t *testing.T) {
		t.Parallel()
		b, hand, pass, _ := readable(t)
		in := batch(pass, map[int32]int16{1: 120, 2: 125})
		must[practice.Done](t)(b.AddReadings(t.Context(), hand, in))
		more := batch(pass, map[int32]int16{3: 300})
		in.Mutation, in.IDs, in.Ordinals = newID(), append(in.IDs, more.IDs...), append(in.Ordinals, more.Ordinals...)
		in.Placements, in.TakenAt = append(in.Placements, more.Placements...), append(in.TakenAt, more.TakenAt...)
		done := must[practice.Done](t)(b.AddReadings(t.Context(), hand, in))
		if done.Kept != 1 || len(done.Repeats) != 0 || b.kept(pass) != 3 {
			t.Errorf("kept %d, repeats %v, %d rows: want 1 new of 3", done.Kept, done.Repeats, b.kept(pass))
		}
	})
	t.Run("the same mutation with other content is refused", func(t *testing.T) {
		t.Parallel()
		b, hand, pass, _ := readable(t)
		in := batch(pass, map[int32]int16{1: 120})
		must[practice.Done](t)(b.AddReadings(t.Context(), hand, in))
		in.Placements = [][]int16{{121}}
		_, err := b.AddReadings(t.Context(), hand, in)
		want(t, err, domain.Conflict)
		if v := value[int](b, `select value from readings where pass_id = $1`, pass); v != 240 {
			t.Errorf("value %d, want 240", v)
		}
	})
	t.Run("eight at once", func(t *testing.T) {
		t.Parallel()
		b, hand, pass, _ := readable(t)
		in := batch(pass, map[int32]int16{1: 120, 2: 125, 3: 300})
		var all sync.WaitGroup
		for range 8 {
			all.Go(func() {
				if done, err := b.AddReadings(t.Context(), hand, in); err != nil || done.Kept != 3 {
					t.Errorf("%+v, %v", done, err)
				}
			})
		}
		all.Wait()
		if n := b.kept(pass); n != 3 {
			t.Errorf("%d rows, want 3", n)
		}
	})
}

func TestASecondDevicesFirstReadingBecomesARepeat(t *testing.T) {
	t.Parallel()
	b, hand, pass, s := readable(t)
	scribe := b.ours.of[domain.Trainee]
	must[practice.Done](t)(b.AddReadings(t.Context(), hand, batch(pass, map[int32]int16{1: 120, 2: 125})))
	done := must[practice.Done](t)(b.AddReadings(t.Context(), scribe, batch(pass, map[int32]int16{2: 140, 3: 300})))
	if done.Kept != 2 || fmt.Sprint(done.Repeats) != "[2]" {
		t.Errorf("kept %d, repeats %v: want 2 and [2]", done.Kept, done.Repeats)
	}
	page := must[practice.PassPage](t)(b.Pass(t.Context(), hand, pass))
	if page.Taken.At(1) != 250 || page.Flags.At(1)&practice.FlagRepeated == 0 {
		t.Errorf("place 2 shows %d with flags %b: want the first hand's 250, marked as repeated", page.Taken.At(1), page.Flags.At(1))
	}
	story := must[practice.Place](t)(b.Place(t.Context(), hand, s.places[1]))
	if len(story.Readings) != 2 || story.Readings[0].Occasion+story.Readings[1].Occasion != 3 {
		t.Errorf("the place tells %+v: want both hands' readings", story.Readings)
	}
	// A third goes behind the second, also where it says that it is the second.
	again := batch(pass, map[int32]int16{2: 150})
	again.Occasions = []int32{2}
	must[practice.Done](t)(b.AddReadings(t.Context(), hand, again))
	if n := value[int](b, `select max(occasion) from readings where pass_id = $1`, pass); n != 3 {
		t.Errorf("highest occasion %d, want 3", n)
	}
}

func TestTwoDevicesAtOnceLoseNothing(t *testing.T) {
	t.Parallel()
	b, hand, pass, _ := readable(t)
	var all sync.WaitGroup
	for range 6 {
		all.Go(func() {
			if _, err := b.AddReadings(t.Context(), hand, batch(pass, map[int32]int16{1: 120, 2: 125, 3: 300, 4: 310})); err != nil {
				t.Error(err)
			}
		})
	}
	all.Wait()
	if n := b.kept(pass); n != 24 {
		t.Errorf("%d rows, want 24", n)
	}
	if n := value[int](b, `select count(*) from readings where pass_id = $1 and occasion = 1`, pass); n != 4 {
		t.Errorf("%d first occasions, want 4", n)
	}
}

func TestAReadingIsJudgedByItsScale(t *testing.T) {
	t.Parallel()
	b, hand, pass, s := readable(t)
	b.exec(`update scales set low_tenths = 50, high_tenths = 1000 where id = $1`, s.scale)
	for _, c := range []struct {
		name       string
		placements []int16
		written    string
		kind       domain.Kind
		value      int32 // twentieths
		flag       string
	}{
		{name: "one placement", placements: []int16{123}, value: 246},
		{name: "the median of an even count is exact", placements: []int16{123, 124}, value: 247},
		{name: "the median of five", placements: []int16{900, 123, 50, 124, 125}, value: 248},
		{name: "the lower end itself", placements: []int16{50}, value: 100},
		{name: "the upper end itself", placements: []int16{1000}, value: 2000},
		{name: "under the scale", placements: []int16{49}, kind: domain.Invalid},
		{name: "over the scale", placements: []int16{100, 1001}, kind: domain.Invalid},
		{name: "six placements", placements: []int16{100, 100, 100, 100, 100, 100}, kind: domain.Invalid},
		{name: "nothing", kind: domain.Invalid},
		{name: "below", written: "<", value: 100, flag: "below"},
		{name: "below its own end", written: "< 5", value: 100, flag: "below"},
		{name: "below something inside the scale", written: "<12", kind: domain.Invalid},
		{name: "above", written: ">", value: 2000, flag: "above"},
		{name: "low in words", written: "Low", value: 100, flag: "below"},
		{name: "high in words", written: "high", value: 2000, flag: "above"},
		{name: "a range", written: "15–20", value: 350, flag: "range"},
		{name: "a range with a comma", written: "15,5 - 20", value: 355, flag: "range"},
		{name: "a range the wrong way round", written: "20-15", kind: domain.Invalid},
		{name: "a range beyond the scale", written: "90-120", kind: domain.Invalid},
		{name: "words that say nothing", written: "wettish", kind: domain.Invalid},
		{name: "a number as written", written: "15", kind: domain.Invalid},
		{name: "more than was ever written", written: strings.Repeat("1", 21), kind: domain.Invalid},
		{name: "not a number", written: "NaN-NaN", kind: domain.Invalid},
	} {
		in := batch(pass, map[int32]int16{1: 0})
		in.Placements, in.Written = [][]int16{c.placements}, []string{c.written}
		if c.written == "" {
			in.Written = nil
		}
		_, err := b.AddReadings(t.Context(), hand, in)
		if c.kind != domain.Internal {
			if domain.KindOf(err) != c.kind {
				t.Errorf("%s: %v, want %s", c.name, err, c.kind.Code())
			}
			continue
		}
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		r := must[practice.Reading](t)(b.Reading(t.Context(), hand, in.IDs[0]))
		if r.Value != c.value || r.LimitFlag != c.flag || r.AsWritten != c.written {
			t.Errorf("%s: %d %q %q, want %d %q", c.name, r.Value, r.LimitFlag, r.AsWritten, c.value, c.flag)
		}
	}
}

func TestTheLimitsAreNamed(t *testing.T) {
	t.Parallel()
	b, hand, pass, _ := readable(t)
	_, err := b.AddReadings(t.Context(), hand, batch(pass, map[int32]int16{1: 120, 2: 1005}))
	want(t, err, domain.Invalid, "placements[1][0]")
	if !strings.Contains(err.Error(), "from 0 to 100") || !strings.Contains(err.Error(), "Skerrow deep No. 2") {
		t.Errorf("%v: want the instrument and its limits named", err)
	}
	if n := b.kept(pass); n != 0 {
		t.Errorf("%d rows of a refused batch", n)
	}
}

func TestABatchWhoseColumnsDoNotFitIsRefused(t *testing.T) {
	t.Parallel()
	b, hand, pass, _ := readable(t)
	good := func() practice.AddReadings { return batch(pass, map[int32]int16{1: 120, 2: 125}) }
	tooMany := map[int32]int16{}
	for k := range int32(201) {
		tooMany[k+1] = 100
	}
	for field, in := range map[string]practice.AddReadings{
		"ids":          batch(pass, tooMany),
		"placements":   func() practice.AddReadings { x := good(); x.Placements = x.Placements[:1]; return x }(),
		"takenAt":      func() practice.AddReadings { x := good(); x.TakenAt = x.TakenAt[:1]; return x }(),
		"written":      func() practice.AddReadings { x := good(); x.Written = []string{"<"}; return x }(),
		"surfaces":     func() practice.AddReadings { x := good(); x.Surfaces = []string{"paint", "gold"}; return x }(),
		"ids[1]":       func() practice.AddReadings { x := good(); x.IDs[1] = x.IDs[0]; return x }(),
		"ids[0]":       func() practice.AddReadings { x := good(); x.IDs[0] = uuid.New(); return x }(),
		"places[1]":    func() practice.AddReadings { x := good(); x.Ordinals[1] = 999; return x }(),
		"occasions[0]": func() practice.AddReadings { x := good(); x.Occasions = []int32{0, 1}; return x }(),
		"mutation":     func() practice.AddReadings { x := good(); x.Mutation = uuid.Nil; return x }(),
	} {
		_, err := b.AddReadings(t.Context(), hand, in)
		want(t, err, domain.Invalid, field)
	}
	if n := b.kept(pass); n != 0 {
		t.Errorf("%d rows of refused batches", n)
	}
}

func TestAPlaceReadTwiceInOneBatch(t *testing.T) {
	t.Parallel()
	b, hand, pass, _ := readable(t)
	in := batch(pass, map[int32]int16{1: 120, 2: 125})
	in.Ordinals = []int32{2, 2}
	done := must[practice.Done](t)(b.AddReadings(t.Context(), hand, in))
	if done.Kept != 2 || fmt.Sprint(done.Repeats) != "[2]" {
		t.Errorf("kept %d, repeats %v: want both, the second as a repeat", done.Kept, done.Repeats)
	}
}

func TestARepeatThatArrivesBeforeTheFirstReading(t *testing.T) {
	t.Parallel()
	b, hand, pass, _ := readable(t)
	late := batch(pass, map[int32]int16{1: 130})
	late.Occasions = []int32{2}
	must[practice.Done](t)(b.AddReadings(t.Context(), hand, late))
	page := must[practice.PassPage](t)(b.Pass(t.Context(), hand, pass))
	if page.Taken.At(0) != practice.Null {
		t.Errorf("a repeat stands in the grid: %d", page.Taken.At(0))
	}
	again := batch(pass, map[int32]int16{1: 140})
	again.Occasions = []int32{2}
	must[practice.Done](t)(b.AddReadings(t.Context(), b.ours.of[domain.Trainee], again))
	done := must[practice.Done](t)(b.AddReadings(t.Context(), hand, batch(pass, map[int32]int16{1: 120})))
	page = must[practice.PassPage](t)(b.Pass(t.Context(), hand, pass))
	if len(done.Repeats) != 0 || page.Taken.At(0) != 240 || b.kept(pass) != 3 {
		t.Errorf("repeats %v, the grid shows %d, %d rows: want the first reading in the grid and two repeats", done.Repeats, page.Taken.At(0), b.kept(pass))
	}
}

func TestCorrectReplaceAndVoidAreFourThingsWithRepeat(t *testing.T) {
	t.Parallel()
	t.Run("a correction keeps the old one", func(t *testing.T) {
		t.Parallel()
		b, hand, pass, s := readable(t)
		in := batch(pass, map[int32]int16{1: 120})
		must[practice.Done](t)(b.AddReadings(t.Context(), hand, in))
		change := practice.SupersedeReading{Mutation: newID(), ID: newID(), Reading: in.IDs[0], How: "correct", Reason: "typed 12.0 for 21.0", Placements: []int16{210}, TakenAt: in.TakenAt[0]}
		done := thrice(t, func(ctx context.Context) (practice.Done, error) { return b.SupersedeReading(ctx, hand, change) })
		if done.Asks {
			t.Error("nothing was printed, so no addendum is needed")
		}
		page := must[practice.PassPage](t)(b.Pass(t.Context(), hand, pass))
		if page.Taken.At(0) != 420 || page.Flags.At(0)&practice.FlagCorrected == 0 {
			t.Errorf("the grid shows %d, flags %b", page.Taken.At(0), page.Flags.At(0))
		}
		story := must[practice.Place](t)(b.Place(t.Context(), hand, s.places[0]))
		if len(story.Readings) != 2 || story.Readings[0].Current || !story.Readings[1].Current || *story.Readings[1].SupersedesID != in.IDs[0] {
			t.Errorf("the place tells %+v", story.Readings)
		}
		change.Mutation, change.ID = newID(), newID()
		_, err := b.SupersedeReading(t.Context(), hand, change)
		want(t, err, domain.Conflict)
	})
	t.Run("a void one stays, crossed out", func(t *testing.T) {
		t.Parallel()
		b, hand, pass, _ := readable(t)
		in := batch(pass, map[int32]int16{1: 120})
		must[practice.Done](t)(b.AddReadings(t.Context(), hand, in))
		void := practice.VoidReading{Mutation: newID(), Reading: in.IDs[0], Reason: "pads not flat"}
		thrice(t, func(ctx context.Context) (practice.Done, error) { return b.VoidReading(ctx, hand, void) })
		page := must[practice.PassPage](t)(b.Pass(t.Context(), hand, pass))
		if page.Taken.At(0) != 240 || page.Flags.At(0)&practice.FlagVoid == 0 || page.Contrasts.At(0) != practice.Null {
			t.Errorf("the grid shows %d, flags %b, contrast %d", page.Taken.At(0), page.Flags.At(0), page.Contrasts.At(0))
		}
	})
	t.Run("without a reason nothing changes", func(t *testing.T) {
		t.Parallel()
		b, hand, pass, _ := readable(t)
		in := batch(pass, map[int32]int16{1: 120})
		must[practice.Done](t)(b.AddReadings(t.Context(), hand, in))
		_, err := b.VoidReading(t.Context(), hand, practice.VoidReading{Mutation: newID(), Reading: in.IDs[0]})
		want(t, err, domain.Invalid, "reason")
		_, err = b.SupersedeReading(t.Context(), hand, practice.SupersedeReading{Mutation: newID(), ID: newID(), Reading: in.IDs[0], How: "correct", Placements: []int16{1}, TakenAt: in.TakenAt[0]})
		want(t, err, domain.Invalid, "reason")
		_, err = b.SupersedeReading(t.Context(), hand, practice.SupersedeReading{Mutation: newID(), ID: newID(), Reading: in.IDs[0], How: "erase", Reason: "x", Placements: []int16{1}, TakenAt: in.TakenAt[0]})
		want(t, err, domain.Invalid, "how")
	})
	t.Run("the database itself never rewrites one", func(t *testing.T) {
		t.Parallel()
		b, hand, pass, _ := readable(t)
		must[practice.Done](t)(b.AddReadings(t.Context(), hand, batch(pass, map[int32]int16{1: 120})))
		for _, sql := range []string{`value = 1`, `placements = '{1}'`, `taken_at = now()`, `place_id = gen_random_uuid()`, `as_written = 'x'`} {
			if _, err := b.owner.Exec(t.Context(), `update readings set `+sql); err == nil {
				t.Errorf("set %s went through", sql)
			}
		}
	})
}

func TestAfterIssueACorrectionAsksForAnAddendum(t *testing.T) {
	t.Parallel()
	b, hand, pass, s := readable(t)
	in := batch(pass, map[int32]int16{1: 120, 2: 125, 3: 300})
	must[practice.Done](t)(b.AddReadings(t.Context(), hand, in))
	b.issue(b.ours, s, pass, "2026-017")
	_, err := b.AddReadings(t.Context(), hand, batch(pass, map[int32]int16{4: 310}))
	want(t, err, domain.Conflict)
	done := must[practice.Done](t)(b.SupersedeReading(t.Context(), hand, practice.SupersedeReading{
		Mutation: newID(), ID: newID(), Reading: in.IDs[0], How: "correct", Reason: "typed 12.0 for 21.0", Placements: []int16{210}, TakenAt: in.TakenAt[0],
	}))
	if !done.Asks || value[int](b, `select count(*) from addenda where state = 'required'`) != 1 {
		t.Errorf("asks %v; want one addendum required", done.Asks)
	}
	done = must[practice.Done](t)(b.VoidReading(t.Context(), hand, practice.VoidReading{Mutation: newID(), Reading: in.IDs[1], Reason: "water on the skin"}))
	if !done.Asks || value[int](b, `select count(*) from addenda where state = 'required'`) != 2 {
		t.Errorf("asks %v; want a second addendum required", done.Asks)
	}
	story := must[practice.Place](t)(b.Place(t.Context(), hand, s.places[0]))
	if story.Readings[0].PrintedIn != "2026-017" {
		t.Errorf("the old reading was printed in %q, want 2026-017", story.Readings[0].PrintedIn)
	}
}

// issue writes a report of the survey's job as issued, with the pass frozen in it, as the
// database's owner: how a report comes to be is the reports' own business.
func (b *bundle) issue(h house, s survey, pass uuid.UUID, number string) {
	b.t.Helper()
	report := newID()
	b.exec(`insert into reports (practice_id, id, job_id, state, number, created_at) values ($1, $2, $3, 'issued', $4, $5)`, h.id, report, s.job, number, b.clock.now())
	b.exec(`insert into report_passes (practice_id, report_id, pass_id) values ($1, $2, $3)`, h.id, report, pass)
	b.exec(`update passes set state = 'frozen' where id = $1`, pass)
}

func TestPlacesThatCouldNotBeReached(t *testing.T) {
	t.Parallel()
	b, hand, pass, _ := readable(t)
	mark := practice.MarkNotReached{Mutation: newID(), Pass: pass, IDs: []uuid.UUID{newID(), newID()}, Ordinals: []int32{2, 5}, Reason: "prop pad"}
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.MarkNotReached(ctx, hand, mark) })
	page := must[practice.PassPage](t)(b.Pass(t.Context(), hand, pass))
	if len(page.NotReached) != 2 || page.NotReached[0].Ordinal != 2 || page.NotReached[0].Reason != "prop pad" || page.Flags.At(4)&practice.FlagNotReached == 0 {
		t.Errorf("%+v, flags %v", page.NotReached, page.Flags)
	}
	// Marked once more by another device, it is still one.
	mark.Mutation, mark.IDs = newID(), []uuid.UUID{newID(), newID()}
	must[practice.Done](t)(b.MarkNotReached(t.Context(), hand, mark))
	back := practice.MarkNotReached{Mutation: newID(), Pass: pass, Ordinals: []int32{5}, Withdrawn: true}
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.MarkNotReached(ctx, hand, back) })
	page = must[practice.PassPage](t)(b.Pass(t.Context(), hand, pass))
	if len(page.NotReached) != 1 || page.Flags.At(4)&practice.FlagNotReached != 0 {
		t.Errorf("%+v, flags %v", page.NotReached, page.Flags)
	}
	_, err := b.MarkNotReached(t.Context(), hand, practice.MarkNotReached{Mutation: newID(), Pass: pass, IDs: []uuid.UUID{newID()}, Ordinals: []int32{1}})
	want(t, err, domain.Invalid, "reason")
	_, err = b.MarkNotReached(t.Context(), hand, practice.MarkNotReached{Mutation: newID(), Pass: pass, IDs: []uuid.UUID{newID()}, Ordinals: []int32{999}, Reason: "keel"})
	want(t, err, domain.Invalid, "places[0]")
}

func TestReadingsOfOthers(t *testing.T) {
	t.Parallel()
	b, hand, pass, s := readable(t)
	in := batch(pass, map[int32]int16{1: 120})
	must[practice.Done](t)(b.AddReadings(t.Context(), hand, in))
	stranger, guest := b.theirs.of[domain.Surveyor], b.ours.of[domain.Guest]
	for who, a := range map[string]domain.Actor{"another practice": stranger, "a guest of another job": guest} {
		t.Log(who)
		_, err := b.AddReadings(t.Context(), a, batch(pass, map[int32]int16{2: 120}))
		want(t, err, domain.NotFound)
		_, err = b.Pass(t.Context(), a, pass)
		want(t, err, domain.NotFound)
		_, err = b.Reading(t.Context(), a, in.IDs[0])
		want(t, err, domain.NotFound)
		_, err = b.VoidReading(t.Context(), a, practice.VoidReading{Mutation: newID(), Reading: in.IDs[0], Reason: "mine"})
		want(t, err, domain.NotFound)
		_, err = b.MarkFollowUp(t.Context(), a, practice.MarkFollowUp{Mutation: newID(), Pass: pass, Ordinals: []int32{1}, On: true})
		want(t, err, domain.NotFound)
	}
	_, err := b.AddReadings(t.Context(), domain.Actor{}, batch(pass, map[int32]int16{2: 120}))
	want(t, err, domain.Unauthenticated)
	_, err = b.AddReadings(t.Context(), b.ours.of[domain.Office], batch(pass, map[int32]int16{2: 120}))
	want(t, err, domain.Forbidden)
	b.let(guest, s.job)
	_, err = b.AddReadings(t.Context(), guest, batch(pass, map[int32]int16{2: 120}))
	want(t, err, domain.Internal)
}
