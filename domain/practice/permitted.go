package practice

import (
	"context"
	"fmt"
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

// needsLeave refuses what the job's permissions do not cover, by the field it is about.
func needsLeave(ctx context.Context, tx Tx, job uuid.UUID, what, field string) error {
	words, err := tx.PermissionsOfJob(ctx, job)
	if err != nil {
		return err
	}
	return noLeave(stopped(words, what), field)
}

func noLeave(why, field string) error {
	if why == "" {
		return nil
	}
	return &domain.Fault{Kind: domain.Conflict, Field: field, Text: why + " Write down in the job who gave leave, and when; then this can be kept."}
}

// mayPhotograph refuses photographs where that was asked for and not given. Where nobody
// spoke of them, leave to board and survey covers them: common practice, no source.
func mayPhotograph(ctx context.Context, tx Tx, job uuid.UUID) error {
	words, err := tx.PermissionsOfJob(ctx, job)
	if err != nil {
		return err
	}
	if lastWord(words, "photograph") != nil {
		return noLeave(stopped(words, "photograph"), "visit")
	}
	if why := stopped(words, "board and survey"); why != "" {
		return noLeave("No leave to photograph is written down, and none to board that would cover it. "+why, "visit")
	}
	return nil
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
	if why := stopped(words, "share the report"); why != "" {
		return noLeave("The report is its client's alone until the client says otherwise. "+why, "name")
	}
	return nil
}

// clientShares refuses anybody's leave to share but the client's.
func (p Permission) clientShares(j Job) error {
	if p.What == "share the report" && p.GivenByID != nil && j.ClientID != nil && *p.GivenByID != *j.ClientID {
		return domain.Invalidf("givenBy", "Only the client gives leave to share the report.")
	}
	return nil
}
