package store

import (
	"context"
	"encoding/json"
	"errors"
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
