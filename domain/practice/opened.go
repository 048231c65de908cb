package practice

import (
	"context"
	"fmt"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain/entry"
)

// OpenLink is a link to an issued report, as a letter that it is open names it.
type OpenLink struct {
	ID           uuid.UUID
	Name         string
	Email        string
	Number       string
	VesselName   string
	PracticeName string
	Invented     bool
	SentAt       time.Time // the letter that brought the link
}

// opening does what may open a job's held reports, and writes once to each who holds a
// link where it did. The letters go with the same transaction: what is sent again is
// written once, and a mail that is tried again is the same mail.
func (s *Service) opening(ctx context.Context, tx Tx, job uuid.UUID, do func() error) error {
	was, err := tx.JobRelease(ctx, job)
	if err != nil {
		return err
	}
	if err := do(); err != nil || !was.Held {
		return err
	}
	is, err := tx.JobRelease(ctx, job)
	if err != nil || is.Held {
		return err
	}
	now := s.instant()
	links, err := tx.OpenLinksOfJob(ctx, job, now)
	if err != nil || len(links) == 0 {
		return err
	}
	ids := make([]uuid.UUID, len(links))
	for k, l := range links {
		ids[k] = l.ID
		if err := tx.SendMail(ctx, l.letter(), now); err != nil {
			return err
		}
	}
	return tx.ToldOpen(ctx, ids, now)
}

// letter says that a link opens. The link itself is not in it: only its hash is kept.
// Nothing is said of money: who holds a link need not be who pays.
func (l OpenLink) letter() entry.Letter {
	var b strings.Builder
	fmt.Fprintf(&b, "%s,\n\n%s has opened report %s of %s to you.\n\nThe link that you were sent on %s opens it now. It is the same link; looking at it uses nothing up.\n",
		l.Name, l.PracticeName, l.Number, l.VesselName, l.SentAt.UTC().Format("2 January 2006"))
	b.WriteString("\nAn opinion on the condition on the day, within the limits stated in the report. Not a certificate of seaworthiness, class, safety or compliance.\n")
	if l.Invented {
		b.WriteString("\nAn invented practice, boat and people: a demonstration.\n")
	}
	return entry.Letter{Kind: "report opened", To: l.Email, Subject: fmt.Sprintf("Report %s, %s, is open to you", l.Number, l.VesselName), Body: b.String()}
}
