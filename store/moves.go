package store

import (
	"context"
	"errors"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

var _ = say(map[string]rule{
	"moves_pkey": {domain.Conflict, "id", "A move with this id is kept already."},
})

// InsertMove implements practice.MoveWriter.
func (tx *inPractice) InsertMove(ctx context.Context, m practice.Move, by *uuid.UUID) error {
	b := &pgx.Batch{}
	b.Queue(queries.InsertMove, tx.practice, m.ID, m.SpellID, m.What, m.Reason, m.MadeAt, by, m.TellsClient, m.TellsYard)
	for k, l := range m.Lines {
		b.Queue(queries.InsertMoveLine, tx.practice, m.ID, int32(k), l.What, l.Visit, l.FromBefore, l.ToBefore, l.FromAfter, l.ToAfter, l.VersionAfter)
	}
	return fault("insert move", tx.tx.SendBatch(ctx, b).Close())
}

// Move implements practice.MoveWriter.
func (tx *inPractice) Move(ctx context.Context, id uuid.UUID) (practice.Move, error) {
	row, err := found(tx.q.MoveToUndo(ctx, queries.MoveToUndoParams{PracticeID: tx.practice, ID: id}))
	if err != nil {
		return practice.Move{}, fault("read move", err)
	}
	lines, err := tx.q.MoveLines(ctx, queries.MoveLinesParams{PracticeID: tx.practice, MoveID: id})
	m := practice.Move{
		ID: row.ID, SpellID: row.SpellID, What: row.What, Reason: row.Reason, MadeAt: row.MadeAt, UndoneAt: row.UndoneAt, TellsClient: row.TellsClient, TellsYard: row.TellsYard,
	}
	for _, l := range lines {
		m.Lines = append(m.Lines, practice.MovedLine{
			What: l.What, Visit: l.VisitID, FromBefore: l.FromBefore, ToBefore: l.ToBefore, FromAfter: l.FromAfter, ToAfter: l.ToAfter, VersionAfter: l.VersionAfter,
		})
	}
	return m, fault("read move", err)
}

// UndoMove implements practice.MoveWriter.
func (tx *inPractice) UndoMove(ctx context.Context, id uuid.UUID, now time.Time) error {
	return fault("undo move", tx.q.UndoMove(ctx, queries.UndoMoveParams{PracticeID: tx.practice, ID: id, Now: &now}))
}

// FreeVisits implements practice.MoveWriter.
func (tx *inPractice) FreeVisits(ctx context.Context, visits []uuid.UUID) error {
	b := &pgx.Batch{}
	b.Queue(queries.FreeVisitPeople, tx.practice, visits)
	b.Queue(queries.FreeVisitInstruments, tx.practice, visits)
	return fault("let go of visits", tx.tx.SendBatch(ctx, b).Close())
}

// Affected implements practice.MoveWriter.
func (tx *inPractice) Affected(ctx context.Context, visits []uuid.UUID) ([]practice.Affected, error) {
	rows, err := tx.q.AffectedBy(ctx, queries.AffectedByParams{PracticeID: tx.practice, Visits: visits})
	return convert(rows, func(r queries.AffectedByRow) practice.Affected {
		return practice.Affected{Member: r.ID, Name: r.Name, Email: r.Email, Visits: r.Visits}
	}), fault("read who is affected", err)
}

// ToldOfMove implements practice.MoveWriter.
func (tx *inPractice) ToldOfMove(ctx context.Context, spell uuid.UUID, visits []uuid.UUID) ([]practice.Outsider, error) {
	rows, err := tx.q.ToldOfMove(ctx, queries.ToldOfMoveParams{PracticeID: tx.practice, SpellID: &spell, Visits: visits})
	return convert(rows, func(r queries.ToldOfMoveRow) practice.Outsider {
		return practice.Outsider{Party: r.ID, Name: r.Name, Email: r.Email, IsYard: r.IsYard, Visits: r.Visits}
	}), fault("read who is told", err)
}

// Slot implements practice.MoveWriter.
func (tx *inPractice) Slot(ctx context.Context, spell uuid.UUID) (practice.DescribeSlot, error) {
	r, err := tx.q.SlotToMove(ctx, queries.SlotToMoveParams{PracticeID: tx.practice, SpellID: spell})
	if errors.Is(err, pgx.ErrNoRows) {
		return practice.DescribeSlot{Spell: spell}, nil
	}
	return practice.DescribeSlot{Spell: r.SpellID, WashAt: r.WashAt, ChockAt: r.ChockAt, ShiftAt: r.ShiftAt, Pays: r.Pays, Told: r.Told}, fault("read slot", err)
}

// TakeBackSpell implements practice.MoveWriter.
func (tx *inPractice) TakeBackSpell(ctx context.Context, id uuid.UUID, version int32, lift, launch *time.Time) error {
	return fault("take back spell", changed(tx.q.TakeBackSpell(ctx, queries.TakeBackSpellParams{
		PracticeID: tx.practice, ID: id, Version: version, PlannedLift: lift, PlannedLaunch: launch,
	})))
}
