package practice

import (
	"context"
	"fmt"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// Unasked says of an act that it was done already: out of reach of the service, which
// could not be asked, or all the same.
type Unasked struct {
	NotedAt *time.Time // by the device's clock, where it was noted out of reach
	Reason  string     // why it was done without a recorded permission; empty: to be asked for
}

// ActWithoutLeave is something that was done and kept though the permission for it was
// missing, unanswered, refused or used up.
type ActWithoutLeave struct {
	ID       uuid.UUID
	JobID    uuid.UUID
	What     string // the permission
	Thing    domain.Thing
	ThingID  uuid.UUID
	Stood    string // what stood in the way, in words, when it was kept
	Text     string // what was done, as a sentence
	NotedAt  *time.Time
	KeptAt   time.Time
	ByName   string
	Reason   string // empty: asked for
	ReasonBy string
	ReasonAt *time.Time
}

// UnaskedWriter keeps acts that were done without leave.
type UnaskedWriter interface {
	InsertActWithoutLeave(ctx context.Context, x ActWithoutLeave, by *uuid.UUID) error
	// ActWithoutLeave reads one of a job that the actor may see and holds it until the
	// transaction ends.
	ActWithoutLeave(ctx context.Context, id uuid.UUID, who Sees) (ActWithoutLeave, error)
	ExplainAct(ctx context.Context, id uuid.UUID, reason string, by *uuid.UUID, now time.Time) error
	// WindowsBared counts the windows that a job's visits bared.
	WindowsBared(ctx context.Context, job uuid.UUID) (int, error)
}

// act is something done in a job that needs leave.
type act struct {
	job     uuid.UUID
	thing   domain.Ref // what is kept of it
	needs   []string   // permissions
	unasked *Unasked
}

// leaveFor lets an act through where the job's permissions cover it, and refuses it where
// they do not, unless it was done already. Then nothing that was noted is lost: it is kept
// with a mark, and with its reason or the question for one.
func (s *Service) leaveFor(ctx context.Context, tx Tx, a domain.Actor, x act) error {
	if len(x.needs) == 0 {
		return nil
	}
	words, err := tx.PermissionsOfJob(ctx, x.job)
	if err != nil {
		return err
	}
	for _, what := range x.needs {
		why := against(words, what)
		if why == "" && x.thing.Kind == domain.ThingWindow {
			if why, err = usedUp(ctx, tx, a, x.job, words); err != nil {
				return err
			}
		}
		if why == "" {
			continue
		}
		if !x.unasked.done() {
			return noLeave(why, "withoutLeave")
		}
		if err := s.keepUnasked(ctx, tx, a, x, what, why); err != nil {
			return err
		}
	}
	return nil
}

func (u *Unasked) done() bool {
	return u != nil && (u.NotedAt != nil || strings.TrimSpace(u.Reason) != "")
}

// against says why something that needs a permission may not be done. Where nobody spoke of
// photographs, leave to board and survey covers them: common practice, no source.
func against(words []Permission, what string) string {
	if what != "photograph" || lastWord(words, what) != nil {
		return stopped(words, what)
	}
	if why := stopped(words, "board and survey"); why != "" {
		return "No leave to photograph is written down, and none to board that would cover it. " + why
	}
	return ""
}

// usedUp says that all windows are bared which the leave to scrape allows; empty where
// there are some left, or where nobody said how many.
func usedUp(ctx context.Context, tx Tx, a domain.Actor, job uuid.UUID, words []Permission) (string, error) {
	p := lastWord(words, "scrape")
	if p == nil || p.Windows == nil {
		return "", nil
	}
	if _, err := tx.Job(ctx, job, sees(a)); err != nil { // held, so that two do not take the last one
		return "", err
	}
	n, err := tx.WindowsBared(ctx, job)
	if err != nil || n < int(*p.Windows) {
		return "", err
	}
	return fmt.Sprintf("Leave to scrape was given on %s for %s in all, and %s bared. Ask for more, and write down the new number in all.", p.GivenOn.Format("2 January 2006"), windows(int(*p.Windows)), isAre(n)), nil
}

func windows(n int) string {
	if n == 1 {
		return "1 window"
	}
	return fmt.Sprintf("%d windows", n)
}

func isAre(n int) string {
	if n == 1 {
		return "1 is"
	}
	return fmt.Sprintf("%d are", n)
}

func (s *Service) keepUnasked(ctx context.Context, tx Tx, a domain.Actor, x act, what, why string) error {
	now, by := s.instant(), entered(a)
	kept := ActWithoutLeave{
		ID: derived("without leave: "+what, x.thing.ID), JobID: x.job, What: what, Thing: x.thing.Kind, ThingID: x.thing.ID, Stood: why,
		NotedAt: x.unasked.NotedAt, KeptAt: now, Reason: strings.TrimSpace(x.unasked.Reason),
	}
	if len(kept.Reason) > mostReason {
		return domain.Invalidf("withoutLeave", "Say in at most %d letters why it was done without a recorded permission.", mostReason)
	}
	return tx.InsertActWithoutLeave(ctx, kept, by)
}

// mostReason is how long an explanation may be, letters.
const mostReason = 1000

// deeds say what was done, by the kind of thing that is kept of it.
var deeds = map[domain.Thing]string{
	domain.ThingWindow: "A window was bared", domain.ThingFinding: "Something was opened or drilled", domain.ThingCauseCheck: "A check was made",
	domain.ThingPass: "A pass was read inside", domain.ThingPhoto: "A photo was taken", domain.ThingHullMarks: "Marks were made on the hull",
	domain.ThingAttendanceNote: "The previous surveyor was talked to",
}

// sentence says what was done without a recorded permission, its day as the practice counts.
func (x ActWithoutLeave) sentence(zone string) string {
	return fmt.Sprintf("%s on %s without recorded leave: %s.", deeds[x.Thing], first(x.NotedAt, &x.KeptAt).In(Zone(zone)).Format("2 January 2006"), consentTo(x.What))
}

// ExplainAct is why something was done without a recorded permission.
type ExplainAct struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Reason   string
}

// ExplainAct keeps why something was done without a recorded permission, with the name of
// whoever says so. It is said once; the mark stays.
func (s *Service) ExplainAct(ctx context.Context, a domain.Actor, in ExplainAct) (Done, error) {
	return s.write(ctx, &a, domain.WriteVisit, "explainAct", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		reason := strings.TrimSpace(in.Reason)
		if reason == "" || len(reason) > mostReason {
			return Done{}, domain.Invalidf("reason", "Say in at most %d letters why it was done without a recorded permission.", mostReason)
		}
		x, err := tx.ActWithoutLeave(ctx, in.ID, sees(a))
		if err != nil {
			return Done{}, err
		}
		if x.Reason != "" {
			return Done{}, domain.Conflictf("Why this was done is kept already, with a name.")
		}
		return touched(ref(domain.ThingActWithoutLeave, x.ID), ref(domain.ThingJob, x.JobID)), tx.ExplainAct(ctx, x.ID, reason, entered(a), s.instant())
	})
}
