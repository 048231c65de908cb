package practice

import (
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/entry"
	"boottop.example/practice/domain/measure/due"
)

// ReinspectionSettings are a practice's rules of the next look where they differ from
// the habits of the trade, and how it recalls.
type ReinspectionSettings struct {
	Rules         map[due.Kind][]due.Mark // only those that were changed
	RecallMonthly bool
	AheadDays     int32
	Opening       string // of a recall letter; empty: the service's own words
	Closing       string
	Version       int32       // 0: nothing was ever changed
	Said          []OwnFigure // what was ever put in the place of the trade's figures, newest first
}

// DefaultAhead is how many days before its window opens a vessel is recalled.
const DefaultAhead = dueWithin

// Rule is a rule of the next look as the settings show it.
type Rule struct {
	due.Rule
	Words    string
	Own      bool
	Defaults []due.Mark
	Habit    string // tag of the defaults
}

// ruleWords name the rules.
var ruleWords = map[due.Kind]string{
	due.CleanOlder: "A clean polyester hull of some age", due.RaisedUniform: "Readings raised all over", due.FewBlisters: "A few blisters",
	due.ActiveBlisters: "Active blisters", due.FailingTreatment: "A treatment that may be failing", due.WetCore: "A core suspected wet",
	due.Drying: "A hull drying ashore", due.AfterTreatment: "A hull after treatment", due.Guarantee: "The end of a guarantee",
	due.Grounding: "A hull after a grounding", due.Watched: "Anything watched without a date of its own",
}

// ownTag marks a rule that the practice changed.
const ownTag = "the practice’s own rule"

// Due are the rules with the practice's own in their places. A reason that spoke of the
// default's months speaks of the practice's.
func (s ReinspectionSettings) Due() due.Settings {
	all, own := due.Defaults(), ownFiguresOf(s.Said)
	all.OlderFrom, _, all.OlderFromTag, _ = own.of(figureOlder)
	alike, _, tag, _ := own.of(figureAlike)
	all.AshoreShare, all.AshoreShareTag = float64(alike)/inTen, tag
	for k, r := range all.Rules {
		marks, own := s.Rules[r.Kind]
		if !own {
			continue
		}
		r.Marks, r.Tag = marks, ownTag
		r.Reason = fmt.Sprintf("%s: looked at again %s.", ruleWords[r.Kind], markWords(r))
		all.Rules[k] = r
	}
	return all
}

// List is every rule, the practice's own in their places.
func (s ReinspectionSettings) List() []Rule {
	habits, ours := due.Defaults().Rules, s.Due().Rules
	list := make([]Rule, len(ours))
	for k, r := range ours {
		_, own := s.Rules[r.Kind]
		list[k] = Rule{Rule: r, Words: ruleWords[r.Kind], Own: own, Defaults: habits[k].Marks, Habit: habits[k].Tag}
	}
	return list
}

func markWords(r due.Rule) string {
	parts := make([]string, len(r.Marks))
	for k, m := range r.Marks {
		from, to := spanWords(m.From), spanWords(m.To)
		switch {
		case r.Kind == due.Guarantee:
			parts[k] = from + " before it ends"
		case m == due.Mark{}:
			parts[k] = "now"
		case m.From == m.To:
			parts[k] = "after " + from
		default:
			parts[k] = "after " + from + " to " + to
		}
	}
	return strings.Join(parts, ", ")
}

func spanWords(s due.Span) string {
	var parts []string
	for _, p := range []struct {
		n   int
		one string
	}{{s.Months, "month"}, {s.Days, "day"}} {
		if p.n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s%s", p.n, p.one, map[bool]string{false: "s"}[p.n == 1]))
		}
	}
	return cmp.Or(strings.Join(parts, " and "), "0 days")
}

// ReinspectionSettings reads the practice's rules of the next look.
func (s *Service) ReinspectionSettings(ctx context.Context, a domain.Actor) (ReinspectionSettings, error) {
	if err := domain.May(a, domain.ReadDiary); err != nil {
		return ReinspectionSettings{}, err
	}
	return s.store.ReinspectionSettings(ctx, a.Practice)
}

// EditReinspectionSettings is a change to them; nil leaves a field as it is.
type EditReinspectionSettings struct {
	Mutation      uuid.UUID `json:"-"`
	Version       int32
	Rules         []EditRule
	RecallMonthly *bool
	AheadDays     *int32
	Opening       *string
	Closing       *string
	Reason        string // owed where a rule changes
}

// EditRule is one rule's windows; none takes the habit of the trade again.
type EditRule struct {
	Kind  string
	Marks []due.Mark
}

// EditReinspectionSettings changes when vessels are seen again and how they are recalled.
func (s *Service) EditReinspectionSettings(ctx context.Context, a domain.Actor, in EditReinspectionSettings) (Done, error) {
	return s.write(ctx, &a, domain.ManagePractice, "editReinspectionSettings", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		kept, err := tx.ReinspectionSettings(ctx)
		if err != nil {
			return Done{}, err
		}
		before := kept.RecallMonthly
		if kept, err = in.apply(kept); err != nil {
			return Done{}, err
		}
		if err := tx.KeepReinspectionSettings(ctx, kept); err != nil {
			return Done{}, err
		}
		if err := in.record(ctx, tx, a, s.instant()); err != nil {
			return Done{}, err
		}
		if kept.RecallMonthly && !before {
			err = s.nextRecall(ctx, tx, a.Practice)
		}
		return touched(ref(domain.ThingPractice, a.Practice)), err
	})
}

// record keeps what each rule was changed to, and why: the older ones stay.
func (in EditReinspectionSettings) record(ctx context.Context, tx Tx, a domain.Actor, now time.Time) error {
	reason := strings.TrimSpace(in.Reason)
	if len(in.Rules) > 0 && (reason == "" || len(reason) > 500) {
		return domain.Invalidf("reason", "Say in at most 500 letters why the practice has its own windows, or takes the habit again.")
	}
	for _, r := range in.Rules {
		f := OwnFigure{ID: derived("rule "+r.Kind, in.Mutation), Code: nextLook + r.Kind, Reason: reason, At: now}
		if len(r.Marks) > 0 {
			var err error
			if f.Raw, err = json.Marshal(spansOf(r.Marks)); err != nil {
				return fmt.Errorf("keep a rule: %w", err)
			}
		}
		if err := tx.InsertFigure(ctx, f, entered(a)); err != nil {
			return err
		}
	}
	return nil
}

// nextLook begins the codes of rules of the next look among a practice's own figures.
const nextLook = "next-look/"

// spansOf are windows as they are kept: months and days of their ends.
func spansOf(marks []due.Mark) [][4]int {
	out := make([][4]int, len(marks))
	for k, m := range marks {
		out[k] = [4]int{m.From.Months, m.From.Days, m.To.Months, m.To.Days}
	}
	return out
}

// RuleChange is what a rule of the next look was changed to, and why.
type RuleChange struct {
	Kind   string
	Rule   string // what it is of, in words
	Words  string // the windows; empty: the habit again
	Reason string
	By     string
	At     time.Time
}

// Changes are those of the rules among a practice's own figures, newest first.
func (s ReinspectionSettings) Changes() (list []RuleChange) {
	for _, f := range s.Said {
		kind, is := strings.CutPrefix(f.Code, nextLook)
		if !is {
			continue
		}
		c := RuleChange{Kind: kind, Rule: ruleWords[due.Kind(kind)], Reason: f.Reason, By: f.By, At: f.At}
		var spans [][4]int
		if json.Unmarshal(f.Raw, &spans) == nil && len(spans) > 0 {
			rule := due.Rule{Kind: due.Kind(kind)}
			for _, x := range spans {
				rule.Marks = append(rule.Marks, due.Mark{From: due.Span{Months: x[0], Days: x[1]}, To: due.Span{Months: x[2], Days: x[3]}})
			}
			c.Words = markWords(rule)
		}
		list = append(list, c)
	}
	return list
}

// anyDay is one on which rules are tried: whether they can be meant depends on no day.
var anyDay = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

func (in EditReinspectionSettings) apply(s ReinspectionSettings) (ReinspectionSettings, error) {
	s.Version = in.Version
	set(&s.RecallMonthly, in.RecallMonthly)
	set(&s.AheadDays, in.AheadDays)
	set(&s.Opening, in.Opening)
	set(&s.Closing, in.Closing)
	if s.AheadDays < 0 || s.AheadDays > 365 {
		return s, domain.Invalidf("aheadDays", "Recall between 0 and 365 days ahead.")
	}
	for k, r := range in.Rules {
		kind := due.Kind(r.Kind)
		if ruleWords[kind] == "" {
			return s, domain.Invalidf(fmt.Sprintf("rules[%d].kind", k), "There is no rule of this kind.")
		}
		if s.Rules == nil {
			s.Rules = map[due.Kind][]due.Mark{}
		}
		if len(r.Marks) == 0 {
			delete(s.Rules, kind)
			continue
		}
		s.Rules[kind] = r.Marks
		if _, err := due.Work(due.Hull{Visited: anyDay}, s.Due()); err != nil || len(r.Marks) > 10 {
			return s, domain.Invalidf(fmt.Sprintf("rules[%d].marks", k), "A window ends when it begins or later, and within a century; ten windows at most.")
		}
	}
	return s, nil
}

// Recall is a letter that asks for another look: whom it goes to and what it may tell.
type Recall struct {
	Vessel        uuid.UUID
	VesselName    string
	PracticeName  string
	PracticeEmail string
	PracticePhone string
	Invented      bool
	Party         uuid.UUID
	PartyName     string
	PartyEmail    string
	Day           time.Time
	Lines         []RecallLine
	LeftOut       int // that come from jobs which may not be told to this party
	Subject       string
	Body          string
}

// RecallLine is one reason in it.
type RecallLine struct {
	ID         uuid.UUID
	From, To   time.Time
	Reason     string
	Wants      []string
	Instrument string
	RecalledAt *time.Time
	Client     *uuid.UUID // whose job asked for it; nil: nobody's
	Cite       string
}

// told tells whether a party may hear of it: the rule of cite, as job_told has it.
func (l RecallLine) told(party uuid.UUID) bool {
	return l.Cite != "this client only" || l.Client != nil && *l.Client == party
}

// RecallDue is a vessel and the client whose job asked for another look.
type RecallDue struct{ Vessel, Party uuid.UUID }

// Recall drafts the letter about a vessel, for the office to look through. Party nil is
// the client whose window ends first.
func (s *Service) Recall(ctx context.Context, a domain.Actor, vessel uuid.UUID, party *uuid.UUID) (Recall, error) {
	if err := domain.May(a, domain.ReadDiary); err != nil {
		return Recall{}, err
	}
	r, err := s.store.Recall(ctx, a.Practice, vessel, party, s.instant(), sees(a))
	if err != nil {
		return Recall{}, err
	}
	settings, err := s.store.ReinspectionSettings(ctx, a.Practice)
	return r.word(settings), err
}

// word writes the letter and leaves out what may not be told.
func (r Recall) word(settings ReinspectionSettings) Recall {
	all := len(r.Lines)
	r.Lines = slices.DeleteFunc(slices.Clone(r.Lines), func(l RecallLine) bool { return !l.told(r.Party) })
	r.LeftOut = all - len(r.Lines)
	r.Subject = fmt.Sprintf("%s: time for another look", r.VesselName)
	var b strings.Builder
	fmt.Fprintf(&b, "%s,\n\n%s\n", r.PartyName, cmp.Or(settings.Opening, fmt.Sprintf("By our record %s is due to be seen again:", r.VesselName)))
	for _, l := range r.Lines {
		fmt.Fprintf(&b, "\n- %s: %s", windowWords(l.From, l.To, r.Day), l.Reason)
		for _, w := range l.Wants {
			fmt.Fprintf(&b, " %s", w)
		}
		if l.Instrument != "" {
			fmt.Fprintf(&b, " She was read with %s last time.", l.Instrument)
		}
		b.WriteByte('\n')
	}
	fmt.Fprintf(&b, "\n%s\n\n%s\n", cmp.Or(settings.Closing, "The dates are the practice’s habit and no forecast: tell us when she is next to be lifted, and we will fit the visit to it. If somebody else has seen her since, tell us that too."), r.PracticeName)
	for _, line := range []string{r.PracticePhone, r.PracticeEmail} {
		if line != "" {
			b.WriteString(line + "\n")
		}
	}
	if r.Invented {
		b.WriteString("\nAn invented practice, boat and people: a demonstration.\n")
	}
	r.Body = b.String()
	return r
}

// windowWords says a window as a letter does.
func windowWords(from, to, today time.Time) string {
	const long = "2 January 2006"
	switch {
	case to.Before(today):
		return "was due by " + to.Format(long)
	case from.Equal(to):
		return "on " + to.Format(long)
	}
	return "between " + from.Format(long) + " and " + to.Format(long)
}

// SendRecall is a letter that the office has looked through.
type SendRecall struct {
	Mutation      uuid.UUID `json:"-"`
	Vessel        uuid.UUID
	Party         uuid.UUID
	Reinspections []uuid.UUID
	Subject       string
	Body          string
}

// SendRecall sends the letter and notes on each reinspection that it went out. Only what
// may be told to this party goes into one.
func (s *Service) SendRecall(ctx context.Context, a domain.Actor, in SendRecall) (Done, error) {
	return s.write(ctx, &a, domain.Book, "sendRecall", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		now := s.instant()
		r, err := tx.Recall(ctx, in.Vessel, in.Party, now, sees(a))
		if err != nil {
			return Done{}, err
		}
		switch {
		case len(in.Reinspections) == 0 || len(in.Reinspections) > maxPage:
			return Done{}, domain.Invalidf("reinspections", "Say which reinspections the letter is about.")
		case strings.TrimSpace(in.Subject) == "" || strings.TrimSpace(in.Body) == "":
			return Done{}, domain.Invalidf("body", "A letter needs a subject and words.")
		case !plausibleEmail(r.PartyEmail):
			return Done{}, domain.Invalidf("party", "There is no e-mail address of %s. Add one first, or write on paper and note it.", r.PartyName)
		}
		for _, id := range in.Reinspections {
			if !slices.ContainsFunc(r.Lines, func(l RecallLine) bool { return l.ID == id && l.told(in.Party) }) {
				return Done{}, domain.ErrNotFound
			}
		}
		if err := tx.SendMail(ctx, entry.Letter{Kind: "recall", To: r.PartyEmail, Subject: in.Subject, Body: in.Body}, now); err != nil {
			return Done{}, err
		}
		things := []domain.Ref{ref(domain.ThingVessel, r.Vessel)}
		for _, id := range in.Reinspections {
			things = append(things, ref(domain.ThingReinspection, id))
		}
		return touched(things...), tx.MarkRecalled(ctx, in.Reinspections, r.Party, now)
	})
}

// JobRecall is the kind of the job that sends a practice's letters of a month.
const JobRecall = "recall"

// RecallJob is that job's arguments. The month, 2006-01 in the practice's zone, is the
// one that it was asked for.
type RecallJob struct {
	Practice uuid.UUID `json:"practice"`
	Month    string    `json:"month"`
}

// recallHour is when on the first of a month letters go, in the practice's zone.
const recallHour = 8

// nextRecall asks for next month's letters.
func (s *Service) nextRecall(ctx context.Context, tx Tx, practice uuid.UUID) error {
	particulars, err := tx.Practice(ctx)
	if err != nil {
		return err
	}
	now := s.instant().In(Zone(particulars.TimeZone))
	at := time.Date(now.Year(), now.Month()+1, 1, recallHour, 0, 0, 0, now.Location())
	return tx.Enqueue(ctx, JobRecall, RecallJob{Practice: practice, Month: at.Format("2006-01")}, at.UTC())
}

// RecallByItself is the job: it sends the letters of its month and asks for the next
// month's, once, however often it runs and however many were asked for. It ends where
// the practice has gone back to looking each letter through.
func (s *Service) RecallByItself(ctx context.Context, job RecallJob) error {
	if err := s.RecallMonthly(ctx, job.Practice); err != nil {
		return err
	}
	settings, err := s.store.ReinspectionSettings(ctx, job.Practice)
	if err != nil || !settings.RecallMonthly {
		return err
	}
	self := domain.Service(job.Practice)
	_, err = s.write(ctx, &self, domain.ManagePractice, "nextRecall", derived("nextRecall "+job.Month, job.Practice), job, func(ctx context.Context, tx Tx) (Done, error) {
		return touched(ref(domain.ThingPractice, job.Practice)), s.nextRecall(ctx, tx, job.Practice)
	})
	return err
}

// RecallMonthly sends this month's letters of a practice that lets them go without
// looking. Run again within the month, it sends none twice.
func (s *Service) RecallMonthly(ctx context.Context, practice uuid.UUID) error {
	self := domain.Service(practice)
	settings, err := s.store.ReinspectionSettings(ctx, practice)
	if err != nil || !settings.RecallMonthly {
		return err
	}
	particulars, err := s.store.Practice(ctx, practice)
	if err != nil {
		return err
	}
	now := s.instant()
	list, err := s.store.RecallsDue(ctx, practice, settings.AheadDays, now)
	if err != nil {
		return err
	}
	month := now.In(Zone(particulars.TimeZone)).Format("2006-01")
	for _, d := range list {
		r, err := s.store.Recall(ctx, practice, d.Vessel, &d.Party, now, sees(self))
		if err != nil {
			return err
		}
		r = r.word(settings)
		in := SendRecall{Mutation: derived("recall "+month+" "+d.Vessel.String(), d.Party), Vessel: d.Vessel, Party: d.Party, Subject: r.Subject, Body: r.Body}
		for _, l := range r.Lines {
			in.Reinspections = append(in.Reinspections, l.ID)
		}
		if len(in.Reinspections) == 0 {
			continue
		}
		if _, err := s.SendRecall(ctx, self, in); err != nil && domain.KindOf(err) != domain.Conflict {
			return fmt.Errorf("recall vessel %s: %w", d.Vessel, err)
		}
	}
	return nil
}
