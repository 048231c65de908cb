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

// set puts a figure of the practice's own in a figure's place.
func (b *bundle) set(code string, was *uuid.UUID, reason string, bounds ...int) (uuid.UUID, error) {
	id := newID()
	_, err := b.SetDiaryFigure(b.t.Context(), b.ours.of[domain.Principal], practice.SetDiaryFigure{Mutation: newID(), ID: id, Code: code, Was: was, Bounds: bounds, Reason: reason})
	return id, err
}

// A practice's own waiting time takes the place of the trade's with a reason; what is
// proposed from then on rests on it and says so, and what was accepted stays where it is.
func TestAPracticeHasItsOwnFigures(t *testing.T) {
	t.Parallel()
	b := setup(t)
	office := b.ours.of[domain.Office]
	lift := time.Date(2026, 6, 2, 9, 0, 0, 0, time.UTC)
	h := b.haul("Petrel", "Europe/Dublin", lift, lift.AddDate(0, 2, 0), map[string][2]int{"meter visit": {4, 10}})
	b.exec(`delete from visit_overrides where practice_id = $1`, b.ours.id)
	meter := func() practice.Proposed {
		t.Helper()
		p := must[practice.Proposals](t)(b.ProposeVisits(t.Context(), office, h.job))
		return p.Visits[1]
	}
	where := func() string {
		return value[string](b, `select from_at::text || to_at::text || version from visits where id = $1`, h.visits["meter visit"])
	}
	before, stood := meter(), where()
	if before.Kind != "meter visit" || before.From.Format(time.DateOnly) != "2026-06-05" || strings.Contains(before.Reason, "own figure") {
		t.Fatalf("the trade's: %+v", before)
	}
	first, err := b.set("single-skin", nil, "our yards are cold.", 9*24, 21*24)
	want(t, err, domain.Internal)
	own := meter()
	if own.From.Format(time.DateOnly) != "2026-06-11" || own.To.Format(time.DateOnly) != "2026-06-23" || own.Tag != "the practice’s own figure" {
		t.Errorf("the practice's: %+v", own)
	}
	for _, words := range []string{"The practice’s own figure since", "The principal: our yards are cold.", "The trade’s is 3 to 7 days (surveyors’ public pages; sources disagree)."} {
		if !strings.Contains(own.Reason, words) {
			t.Errorf("the proposal does not say %q: %s", words, own.Reason)
		}
	}
	if where() != stood {
		t.Error("a visit that was accepted moved by itself")
	}
	// It is judged by it as well: the visit stands too soon now, and says whose figure that is.
	checks := must[[]practice.Check](t)(b.VisitChecks(t.Context(), office, h.visits["meter visit"]))
	if len(checks) == 0 || checks[0].Code != practice.CheckWaiting || checks[0].Tag != "the practice’s own figure" {
		t.Errorf("judged: %+v", checks)
	}
	// Somebody who read the page before the change is told; so is who changes nothing known.
	_, err = b.set("single-skin", nil, "theirs", 24, 48)
	want(t, err, domain.Conflict)
	second, err := b.set("single-skin", &first, "warmer now", 5*24, 10*24)
	want(t, err, domain.Internal)
	_, err = b.set("single-skin", &second, "the trade's does")
	want(t, err, domain.Internal)
	if got := meter(); !got.From.Equal(before.From) || got.Reason != before.Reason {
		t.Errorf("the trade's again: %+v", got)
	}
	list := must[[]practice.DiaryFigure](t)(b.DiaryFigures(t.Context(), office))
	for _, f := range list {
		if f.Tag == "" || f.Reason == "" || f.Trade == "" || f.Now == "" || f.What == "" {
			t.Errorf("a figure without its tag or words: %+v", f)
		}
		if f.Code == "single-skin" && (f.Own != nil || len(f.Said) != 3 || f.Words(f.Said[2]) != "9 to 21 days" || f.Words(f.Said[0]) != "" || f.Said[1].By != "The principal") {
			t.Errorf("what stood there before is not kept: %+v", f)
		}
	}
	// Sent again it is once; nobody else's role may.
	in := practice.SetDiaryFigure{Mutation: newID(), ID: newID(), Code: "far", Bounds: []int{25}, Reason: "ferries"}
	thrice(t, func(ctx context.Context) (practice.Done, error) {
		return b.SetDiaryFigure(ctx, b.ours.of[domain.Principal], in)
	})
	for _, bad := range []struct {
		code, field string
		bounds      []int
	}{{"rust", "code", nil}, {"far", "bounds", []int{1, 2}}, {"far", "bounds", []int{0}}, {"far", "bounds", []int{4000}}, {"ortho", "bounds", []int{48}}, {"ortho", "bounds", []int{72, 48}}, {"ortho", "bounds", []int{30, 48}}, {"ortho", "bounds", []int{24, 50}}, {"ortho", "bounds", []int{-24, 48}}} {
		_, err := b.set(bad.code, nil, "try", bad.bounds...)
		want(t, err, domain.Invalid, bad.field)
	}
	_, err = b.set("ortho", nil, "  ", 24, 48)
	want(t, err, domain.Invalid, "reason")
}

// Each of the other figures decides what it is for.
func TestEachFigureDecidesWhatItIsFor(t *testing.T) {
	t.Parallel()
	b := setup(t)
	office := b.ours.of[domain.Office]
	done := must[practice.Done](t)
	lift := time.Date(2026, 6, 2, 9, 0, 0, 0, time.UTC)
	launch := lift.AddDate(0, 0, 60)
	h := b.haul("Petrel", "Etc/UTC", lift, launch, nil)
	b.exec(`update jobs set kind = 'repair supervision' where id = $1`, h.job)
	b.exec(`update spells set yard_id = $2 where id = $1`, h.spell, b.yard(b.ours, "Skerrow yard"))
	done(b.DescribeSlot(t.Context(), office, practice.DescribeSlot{Mutation: newID(), Spell: h.spell, WashAt: ptr(lift.AddDate(0, 0, 20))}))
	lines := func() map[string]string {
		t.Helper()
		out := map[string]string{}
		for _, v := range must[practice.Proposals](t)(b.ProposeVisits(t.Context(), office, h.job)).Visits {
			out[v.Line] = v.From.Format("01-02 15:04") + " to " + v.To.Format("01-02 15:04") + ", " + v.Tag
		}
		return out
	}
	for line, window := range map[string]string{
		"meter visit":     "06-05 08:00 to 06-09 17:00, surveyors’ public pages; sources disagree",
		"repeat readings": "06-12 08:00 to 06-19 17:00, common practice, no source",
		"after a wash":    "06-29 08:00 to 07-02 17:00, computed",
		"completion":      "07-25 08:00 to 07-31 17:00, common practice, no source",
	} {
		if got := lines()[line]; got != window {
			t.Errorf("%s: %s, want %s", line, got, window)
		}
	}
	for code, bounds := range map[string][]int{"repeat-readings": {10, 20}, "after-rain": {3}, "completion": {4}} {
		_, err := b.set(code, nil, "our own", bounds...)
		want(t, err, domain.Internal)
	}
	for line, window := range map[string]string{
		"repeat readings": "06-15 08:00 to 06-25 17:00, the practice’s own figure",
		"after a wash":    "06-25 08:00 to 06-28 17:00, the practice’s own figure",
		"completion":      "07-28 08:00 to 07-31 17:00, the practice’s own figure",
	} {
		if got := lines()[line]; got != window {
			t.Errorf("%s, the practice's own: %s, want %s", line, got, window)
		}
	}
	// Rain and frost move the window of readings, also those that are repeated.
	rain := func(day time.Time) {
		done(b.RecordWeather(t.Context(), office, practice.RecordWeather{Mutation: newID(), ID: newID(), Place: "Skerrow yard", At: day, RainMm: ptr[int16](8), Source: "the yard's gauge"}))
	}
	rain(lift.AddDate(0, 0, 2))
	rain(lift.AddDate(0, 0, 13))
	if got := lines(); !strings.HasPrefix(got["meter visit"], "06-07 08:00") || !strings.HasPrefix(got["repeat readings"], "06-18 08:00") {
		t.Errorf("after rain: %v", got)
	}
	for _, v := range must[practice.Proposals](t)(b.ProposeVisits(t.Context(), office, h.job)).Visits[:2] {
		if !strings.Contains(v.Reason, "Moved by the weather record: 8 mm of rain on") || !strings.Contains(strings.Join(v.Figures, " "), "the yard's gauge") {
			t.Errorf("%s does not say what moved it: %+v", v.Kind, v)
		}
	}
}

// How long a visit takes, and how far days ashore may differ from last time, are the
// practice's to say as well; so is the age from which a clean hull counts as older.
func TestHoursAndTheShareOfDaysAreThePracticesToSay(t *testing.T) {
	t.Parallel()
	b := setup(t)
	office, read := b.ours.of[domain.Office], b.survey(b.ours, "Petrel")
	// Last time she was read on the 22nd of April, 21 days ashore; she is lifted again on the 1st of October.
	b.exec(`update visits set state = 'done', from_at = from_at + interval '14 days', to_at = to_at + interval '14 days' where id = $1`, read.visit)
	b.exec(`update spells set actual_launch = '2026-04-25T12:00Z' where id = $1`, read.spell)
	must[practice.Done](t)(b.AddSpell(t.Context(), office, ashore(read.vessel, ptr(at(1).AddDate(0, 6, 0)), ptr(at(1).AddDate(0, 8, 0)))))
	b.clock.pass(150 * 24 * time.Hour)
	meter := func() practice.Proposed {
		t.Helper()
		return must[practice.Proposals](t)(b.ProposeVisits(t.Context(), office, read.job)).Visits[1]
	}
	says := func(v practice.Proposed, from, to, tag string, hours int) {
		t.Helper()
		if v.Kind != "meter visit" || v.From.Format("01-02") != from || v.To.Format("01-02") != to || v.Tag != tag || v.Hours != hours {
			t.Errorf("proposed %s to %s, %d h, %s: %+v", v.From.Format("01-02"), v.To.Format("01-02"), v.Hours, v.Tag, v)
		}
	}
	says(meter(), "10-18", "10-26", "computed: a fifth in days is a tenth in half-dried depth", 4)
	for code, n := range map[string]int{"as-last-time": 1, "hours/limited moisture/meter visit": 6, "older-from": 25} {
		_, err := b.set(code, nil, "so it was agreed", n)
		want(t, err, domain.Internal)
	}
	own := meter()
	says(own, "10-20", "10-24", "the practice’s own figure", 6)
	if !strings.Contains(own.Reason, "so it was agreed. The trade’s is 2 days in ten") || !strings.Contains(strings.Join(own.Figures, " "), "6 h at the boat. The practice’s own figure since") {
		t.Errorf("it does not say whose figures it rests on: %+v", own)
	}
	rules := must[practice.ReinspectionSettings](t)(b.ReinspectionSettings(t.Context(), office)).Due()
	if rules.AshoreShare != 0.1 || rules.OlderFrom != 25 || rules.AshoreShareTag != "the practice’s own figure" || rules.OlderFromTag != rules.AshoreShareTag {
		t.Errorf("the rules of the next look: %+v", rules)
	}
	_, err := b.set("hours/tonnage/meter visit", nil, "try", 3)
	want(t, err, domain.Invalid, "code")
	_, err = b.set("hours/valuation/other", nil, "try", 13)
	want(t, err, domain.Invalid, "bounds")
}

// A proposed visit is accepted by planning it, or declined with a reason that stays to be
// seen; taken back it is proposed again.
func TestAProposedVisitIsAcceptedOrDeclined(t *testing.T) {
	t.Parallel()
	b := setup(t)
	office := b.ours.of[domain.Office]
	lift := time.Date(2026, 6, 2, 9, 0, 0, 0, time.UTC)
	h := b.haul("Petrel", "Etc/UTC", lift, lift.AddDate(0, 2, 0), nil)
	line := func(which string) practice.Proposed {
		for _, v := range must[practice.Proposals](t)(b.ProposeVisits(t.Context(), office, h.job)).Visits {
			if v.Line == which {
				return v
			}
		}
		t.Fatalf("%s is not proposed", which)
		return practice.Proposed{}
	}
	in := practice.DeclineVisit{Mutation: newID(), ID: newID(), Job: h.job, Spell: h.spell, Line: "wet look", Reason: " she is lifted at night "}
	for field, change := range map[string]func(*practice.DeclineVisit){
		"reason": func(x *practice.DeclineVisit) { x.Reason = " " },
		"line":   func(x *practice.DeclineVisit) { x.Line = "completion" },
		"spell": func(x *practice.DeclineVisit) {
			x.Spell = b.haul("Gannet", "Etc/UTC", lift, lift.AddDate(0, 2, 0), nil).spell
		},
	} {
		bad := in
		bad.Mutation, bad.ID = newID(), newID()
		change(&bad)
		_, err := b.DeclineVisit(t.Context(), office, bad)
		want(t, err, domain.Invalid, field)
	}
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.DeclineVisit(ctx, office, in) })
	if d := line("wet look").Declined; d == nil || d.Reason != "she is lifted at night" || d.ByName != "The office" {
		t.Errorf("declined: %+v", d)
	}
	if line("meter visit").Declined != nil {
		t.Error("another line is declined too")
	}
	again := in
	again.Mutation, again.ID = newID(), newID()
	_, err := b.DeclineVisit(t.Context(), office, again)
	want(t, err, domain.Conflict, "line")
	back := practice.ProposeAgain{Mutation: newID(), ID: in.ID}
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.ProposeAgain(ctx, office, back) })
	if line("wet look").Declined != nil {
		t.Error("it is declined still")
	}
	_, err = b.ProposeAgain(t.Context(), office, practice.ProposeAgain{Mutation: newID(), ID: in.ID})
	want(t, err, domain.NotFound)
}

// What a member is competent for has a day, a name and its grounds; older judgements stay,
// and whoever plans a visit reads them.
func TestACompetenceIsAJudgementWithADayAndAName(t *testing.T) {
	t.Parallel()
	b := setup(t)
	office, lead, principal := b.ours.of[domain.Office], b.ours.of[domain.Surveyor], b.ours.of[domain.Principal]
	judge := func(change func(*practice.SetCompetences)) error {
		in := practice.SetCompetences{Mutation: newID(), Member: lead.Member, Kinds: []string{"limited moisture"}}
		change(&in)
		b.clock.pass(time.Minute)
		_, err := b.SetCompetences(t.Context(), office, in)
		return err
	}
	thoughts := func() string {
		h := must[practice.Fit](t)(b.FitVisit(t.Context(), office, practice.FitVisit{Job: b.job(b.ours, b.vessel(b.ours, "Petrel "+newID().String()[30:]), false), Kind: "other", From: *at(20), To: at(20).Add(time.Hour), TimeZone: "Etc/UTC"}))
		for _, s := range h.Surveyors {
			if s.Member.ID == lead.Member {
				var words []string
				for _, c := range append(s.Soft, s.Thoughts...) {
					words = append(words, c.Text)
				}
				return strings.Join(words, " ")
			}
		}
		return ""
	}
	if got := thoughts(); got != "Nobody has said which kinds of job The surveyor does." {
		t.Errorf("nothing said: %q", got)
	}
	tomorrow := at(9)
	want(t, judge(func(in *practice.SetCompetences) { in.JudgedOn = tomorrow }), domain.Invalid, "judgedOn")
	want(t, judge(func(in *practice.SetCompetences) { in.Kinds = []string{"varnishing"} }), domain.Invalid, "kinds")
	want(t, judge(func(in *practice.SetCompetences) { in.JudgedBy = ptr(newID()) }), domain.NotFound)
	want(t, judge(func(in *practice.SetCompetences) {
		in.JudgedOn, in.JudgedBy, in.Grounds = at(1), &principal.Member, "went along to ten"
	}), domain.Internal)
	if got := thoughts(); got != "Judged competent for jobs of kind limited moisture on 1 April 2026 by The principal." {
		t.Errorf("judged: %q", got)
	}
	want(t, judge(func(in *practice.SetCompetences) { in.Kinds = []string{"limited moisture", "damage"} }), domain.Internal)
	want(t, judge(func(in *practice.SetCompetences) {
		in.Kinds, in.Grounds = []string{"damage"}, "long away from the meter"
	}), domain.Internal)
	if got := thoughts(); !strings.Contains(got, "is not noted for jobs of kind limited moisture, only for damage.") {
		t.Errorf("taken back: %q", got)
	}
	for _, m := range must[[]practice.MemberCompetence](t)(b.Competences(t.Context(), lead)) {
		if m.Member.ID != lead.Member {
			continue
		}
		if len(m.Kinds) != 1 || m.Kinds[0].Kind != "damage" || m.Kinds[0].JudgedBy != "The office" || m.Kinds[0].JudgedOn.Format(time.DateOnly) != "2026-04-07" {
			t.Errorf("now: %+v", m.Kinds)
		}
		if len(m.Judgements) != 3 || m.Judgements[0].Competent || m.Judgements[0].Grounds != "long away from the meter" || m.Judgements[2].JudgedBy != "The principal" {
			t.Errorf("the older judgements: %+v", m.Judgements)
		}
	}
	want(t, judge(func(in *practice.SetCompetences) { in.Kinds, in.Again = []string{"damage"}, true }), domain.Internal)
	if n := value[int](b, `select count(*) from competence_judgements where kind = 'damage'`); n != 2 {
		t.Errorf("%d judgements on damage, want two", n)
	}
}
