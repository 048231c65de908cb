package practice

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// What a permission stops that is missing, not yet answered or refused.

// stopped says why something that needs a permission may not be done; empty where it may.
func stopped(words []Permission, what string) string {
	p := lastWord(words, what)
	switch {
	case p == nil:
		return fmt.Sprintf("Nobody has been asked yet for leave: %s.", consentTo(what))
	case p.RefusedOn != nil:
		return fmt.Sprintf("Refused on %s: %s.", p.RefusedOn.Format("2 January 2006"), consentTo(what))
	case p.GivenOn == nil:
		return fmt.Sprintf("Asked on %s and not yet answered: %s.", p.AskedOn.Format("2 January 2006"), consentTo(what))
	}
	return ""
}

// shareReport is leave to show a report to somebody else.
const shareReport = "share the report"

// withheld lists what somebody asked for and may not do to the boat, by the last word on
// each. Who may read of it is no limit of what was seen.
func withheld(words []Permission) []string {
	var list []string
	for _, p := range words {
		if p.What != shareReport && !slices.Contains(list, p.What) && stopped(words, p.What) != "" {
			list = append(list, p.What)
		}
	}
	slices.Sort(list)
	return list
}

// lastWord is what counts of several records of one permission: the latest answer, or,
// where nobody has answered, the last question. Asking for more leaves what was given.
func lastWord(words []Permission, what string) *Permission {
	var last *Permission
	for k := range words {
		if p := &words[k]; p.What == what && (last == nil || p.outweighs(*last)) {
			last = p
		}
	}
	return last
}

func (p Permission) answered() *time.Time { return first(p.GivenOn, p.RefusedOn) }

// outweighs tells whether a record counts rather than one that was written before it.
func (p Permission) outweighs(o Permission) bool {
	mine, others := p.answered(), o.answered()
	switch {
	case mine == nil && others == nil:
		return !p.AskedOn.Before(*o.AskedOn)
	case mine == nil || others == nil:
		return others == nil
	case mine.Equal(*others):
		return o.RefusedOn == nil // of two answers on one day the refusal counts
	}
	return mine.After(*others)
}

// noLeave refuses what a permission stops, and says what to do.
func noLeave(why, field string) error {
	if why == "" {
		return nil
	}
	return &domain.Fault{Kind: domain.Conflict, Field: field, Text: why + " Write down in the job who gave leave, and when; then this can be kept. If it was done already, say why: it is kept all the same, with a mark."}
}

// mayShare refuses to give a report to others than its client without the client's leave.
func mayShare(ctx context.Context, tx Tx, in ShareReport, f ReportFacts) error {
	if in.Party != nil && equal(in.Party, f.ClientID) || f.ClientID != nil && strings.EqualFold(strings.TrimSpace(in.Name), f.ClientName) {
		return nil
	}
	if given, err := tx.ClientPermits(ctx, in.Report, in.Email); err != nil || given {
		return err
	}
	words, err := tx.PermissionsOfJob(ctx, f.JobID)
	if err != nil {
		return err
	}
	if why := stopped(words, shareReport); why != "" {
		return &domain.Fault{Kind: domain.Conflict, Field: "name", Text: "The report is its client's alone until the client says otherwise. " + why + " Write down in the job that the client gave leave, and when; then it can be shared."}
	}
	return nil
}

// clientShares refuses anybody's leave to share but the client's.
func clientShares(ctx context.Context, tx Tx, p Permission, j Job) error {
	if p.What != shareReport || j.ClientID == nil {
		return nil
	}
	giver, err := p.giver(ctx, tx, j)
	if err == nil && giver != nil && *giver != *j.ClientID {
		err = domain.Invalidf("givenBy", "Only the client gives leave to share the report.")
	}
	return err
}

// LiftWanted is an open job of a vessel, as far as leave to lift her goes.
type LiftWanted struct {
	Kind   string
	Number string // empty: not the actor's to see
	Seen   bool   // a visit of it was made: she was ashore
}

// mayLift refuses to confirm a lift that the owner has not allowed, where a job of hers
// needs it or it was asked for. The owner's last word in any of her open jobs counts.
func mayLift(ctx context.Context, tx Tx, vessel uuid.UUID, who Sees) error {
	jobs, words, err := tx.LiftWanted(ctx, vessel, who)
	if err != nil {
		return err
	}
	needed := slices.IndexFunc(jobs, func(j LiftWanted) bool { return !j.Seen && slices.Contains(needed(j.Kind), "lift") })
	if len(words) == 0 && needed < 0 {
		return nil
	}
	why := stopped(words, "lift")
	if why == "" {
		return nil
	}
	if needed >= 0 && jobs[needed].Number != "" {
		why += " Job " + jobs[needed].Number + " needs it."
	}
	return &domain.Fault{Kind: domain.Conflict, Field: "askedOnly", Text: why + " Keep the lift as asked for, or write down in the job who gave leave, and when; then it can be booked."}
}
