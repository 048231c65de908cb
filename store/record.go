package store

import (
	"context"
	"encoding/json"
	"errors"
	"math"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

// Begin implements practice.Records: one trip takes the mutation's lock, looks for an
// earlier run of it and reads what the actor is to the practice now.
func (tx *inPractice) Begin(ctx context.Context, mutation uuid.UUID, a domain.Actor) (*practice.Recorded, []domain.Role, error) {
	var prior *queries.FindMutationRow
	var roles []string
	b := &pgx.Batch{}
	b.Queue(queries.LockMutation, tx.practice.String(), mutation.String())
	one(b, &prior, queries.FindMutation, tx.practice, mutation)
	b.Queue(queries.MemberRoles, tx.practice, a.Member, orNull(a.Session), orNull(a.Key)).QueryRow(func(row pgx.Row) error {
		if err := row.Scan(&roles); !errors.Is(err, pgx.ErrNoRows) {
			return err
		}
		return nil
	})
	if err := tx.tx.SendBatch(ctx, b).Close(); err != nil {
		return nil, nil, fault("begin mutation", err)
	}
	now := make([]domain.Role, len(roles))
	for i, r := range roles {
		now[i] = domain.Role(r)
	}
	if prior == nil {
		return nil, now, nil
	}
	return &practice.Recorded{Operation: prior.Operation, Input: [32]byte(prior.InputSha256), Result: prior.Result, Seq: prior.Seq}, now, nil
}

// Record implements practice.Records.
func (tx *inPractice) Record(ctx context.Context, m practice.Line) (int64, error) {
	var actor *uuid.UUID
	if m.Actor.Member != uuid.Nil {
		actor = &m.Actor.Member
	}
	seq, err := tx.q.RecordMutation(ctx, queries.RecordMutationParams{
		PracticeID: tx.practice, ID: m.ID, Actor: actor, ActorKind: string(m.Actor.Means),
		Operation: m.Operation, InputSha256: m.Input[:], Result: m.Result, Now: m.At,
	})
	return seq, fault("record mutation", err)
}

// Enqueue implements practice.Queue.
func (tx *inPractice) Enqueue(ctx context.Context, kind string, args any, at time.Time) error {
	raw, err := json.Marshal(args)
	if err != nil {
		return err
	}
	return fault("enqueue "+kind, tx.q.Enqueue(ctx, queries.EnqueueParams{Kind: kind, Args: raw, RunAt: at}))
}

// Head implements practice.RecordReader.
func (s *Store) Head(ctx context.Context, p uuid.UUID, since int64, most int) (practice.Head, error) {
	var head *queries.HeadRow
	var moved []queries.MovedSinceRow
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		one(b, &head, queries.Head, p)
		many(b, &moved, queries.MovedSince, p, since, int32(most))
	})
	if err != nil {
		return practice.Head{}, err
	}
	if head == nil {
		return practice.Head{}, domain.ErrNotFound
	}
	h := practice.Head{Epoch: int(head.Epoch), Seq: head.Seq, Chain: head.Chain}
	for _, m := range moved {
		h.Moved = append(h.Moved, practice.Moved{Seq: m.Seq, Operation: m.Operation, Result: m.Result, At: m.At})
	}
	return h, nil
}

func orNull(id uuid.UUID) *uuid.UUID {
	if id == uuid.Nil {
		return nil
	}
	return &id
}

// chainPage is how many lines of the record are read at a time.
const chainPage = 1000

// Chain implements practice.ChainReader. It sees one moment of the record, whatever is
// written meanwhile, and holds nobody up.
func (s *Store) Chain(ctx context.Context, p uuid.UUID, fn func(practice.Link) error) (head practice.Head, anchors []practice.Anchor, err error) {
	conn, err := s.acquire(ctx)
	if err != nil {
		return head, nil, err
	}
	defer conn.Release()
	moment := pgx.TxOptions{IsoLevel: pgx.RepeatableRead, AccessMode: pgx.ReadOnly}
	err = pgx.BeginTxFunc(ctx, conn, moment, func(tx pgx.Tx) error {
		if _, err := tx.Exec(ctx, choose, p.String()); err != nil {
			return err
		}
		q := queries.New(tx)
		h, err := found(q.Head(ctx, p))
		if err != nil {
			return err
		}
		head = practice.Head{Epoch: int(h.Epoch), Seq: h.Seq, Chain: h.Chain}
		rows, err := q.AnchorsOfReports(ctx, p)
		if err != nil {
			return err
		}
		anchors = anchorsFrom(rows)
		return links(ctx, q, p, fn)
	})
	return head, anchors, fault("read chain", err)
}

func links(ctx context.Context, q *queries.Queries, p uuid.UUID, fn func(practice.Link) error) error {
	for since := int64(math.MinInt64); ; {
		rows, err := q.ChainFrom(ctx, queries.ChainFromParams{PracticeID: p, Since: since, Most: chainPage})
		if err != nil {
			return err
		}
		for _, r := range rows {
			since = r.Seq
			err := fn(practice.Link{
				ID: r.ID, Actor: r.Actor, ActorKind: r.ActorKind, Operation: r.Operation, Input: r.InputSha256,
				Result: r.Result, Seq: r.Seq, At: r.At, Chain: r.Chain,
			})
			if err != nil {
				return err
			}
		}
		if len(rows) < chainPage {
			return nil
		}
	}
}

func anchorsFrom(rows []queries.AnchorsOfReportsRow) []practice.Anchor {
	out := make([]practice.Anchor, len(rows))
	for k, r := range rows {
		out[k] = practice.Anchor{Seq: r.AuditSeq, Chain: r.AuditChain, From: "a report"}
		if r.Number != nil {
			out[k].From = "report " + *r.Number
		}
	}
	return out
}
