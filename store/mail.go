package store

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"
	"unicode"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/entry"
	"boottop.example/practice/domain/practice"
)

// MailJob is the kind of job that sends one letter.
const MailJob = "mail"

// MailArgs is what the job is told: which letter, of which practice.
type MailArgs struct {
	Practice uuid.UUID `json:"practice"`
	Mail     uuid.UUID `json:"mail"`
}

// SendMail implements auth.Post in a transaction of its own.
func (s *Store) SendMail(ctx context.Context, p uuid.UUID, l entry.Letter) error {
	return s.InPractice(ctx, p, func(tx practice.Tx) error {
		return tx.(*inPractice).SendMail(ctx, l, time.Now().UTC())
	})
}

// SendMail keeps a letter and asks for the job that sends it; both commit with the
// transaction that is the reason for it.
func (tx *inPractice) SendMail(ctx context.Context, l entry.Letter, now time.Time) error {
	if strings.ContainsFunc(l.To+l.Subject, unicode.IsControl) {
		return domain.Invalidf("", "An address and a subject are one line each.")
	}
	id, err := uuid.NewV7()
	if err != nil {
		return fmt.Errorf("keep letter: %w", err)
	}
	_, err = tx.tx.Exec(ctx, `insert into mails (practice_id, id, kind, recipient, subject, body, calendar, method, unsubscribe, created_at) values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)`,
		tx.practice, id, l.Kind, l.To, l.Subject, l.Body, l.Calendar, l.Method, l.Unsubscribe, now)
	if err != nil {
		return fault("keep letter", err)
	}
	return tx.Enqueue(ctx, MailJob, MailArgs{tx.practice, id}, now)
}

// Deliver sends a letter that has not gone yet. send gets the letter's id, which names it
// to the world: killed between sending and noting it, the job sends it again under the
// same name, and a mailbox shows it once.
func (s *Store) Deliver(ctx context.Context, job MailArgs, send func(context.Context, uuid.UUID, entry.Letter, time.Time) error) error {
	var l entry.Letter
	var written time.Time
	var gone bool
	err := s.InPractice(ctx, job.Practice, func(tx practice.Tx) error {
		return tx.(*inPractice).tx.QueryRow(ctx, `select kind, recipient, subject, body, calendar, method, unsubscribe, created_at, sent_at is not null or erased_at is not null
			from mails where practice_id = $1 and id = $2`, job.Practice, job.Mail).Scan(&l.Kind, &l.To, &l.Subject, &l.Body, &l.Calendar, &l.Method, &l.Unsubscribe, &written, &gone)
	})
	if errors.Is(err, pgx.ErrNoRows) || err == nil && gone {
		return nil
	}
	if err != nil {
		return fault("read letter", err)
	}
	if err := send(ctx, job.Mail, l, written); err != nil {
		return err
	}
	return s.InPractice(ctx, job.Practice, func(tx practice.Tx) error {
		_, err := tx.(*inPractice).tx.Exec(ctx, `update mails set sent_at = $3 where practice_id = $1 and id = $2`, job.Practice, job.Mail, time.Now().UTC())
		return fault("note letter sent", err)
	})
}
