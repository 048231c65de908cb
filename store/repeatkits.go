package store

import (
	"context"
	"slices"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

var _ = say(map[string]rule{
	"repeat_kits_pkey":             {domain.Conflict, "id", "A kit with this id is kept already."},
	"repeat_kit_replacements_once": {domain.Conflict, "replaces", "Another kit has taken the place of that one already. Correct the newest."},
})

// Measurings implements practice.RepeatKitReader.
func (s *Store) Measurings(ctx context.Context, p uuid.UUID, checksOf *uuid.UUID) (practice.Measurings, error) {
	var rows measuringRows
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		many(b, &rows.instruments, queries.AllInstruments, p)
		many(b, &rows.scales, queries.AllScales, p)
		many(b, &rows.kits, queries.ListRepeatKits, p)
		many(b, &rows.readings, queries.RepeatKitReadings, p)
		many(b, &rows.sets, queries.ListCrossReadingSets, p)
		if checksOf != nil {
			many(b, &rows.checks, queries.PassChecksOfInstrument, p, *checksOf)
		}
	})
	if err != nil {
		return practice.Measurings{}, err
	}
	slices.Reverse(rows.checks) // the newest came first
	return practice.Measurings{
		Instruments: rows.withScales(), Kits: rows.withHands(), Sets: convert(rows.sets, crossReadingsFrom),
		Checks: convert(rows.checks, func(r queries.PassChecksOfInstrumentRow) practice.PassCheck {
			return practice.PassCheck{Pass: r.PassID, Scale: r.ScaleID, Block: r.Block, Moment: r.Moment, ValueTenths: r.ValueTenths, At: r.At}
		}),
	}, nil
}

type measuringRows struct {
	instruments []queries.AllInstrumentsRow
	scales      []queries.AllScalesRow
	kits        []queries.ListRepeatKitsRow
	readings    []queries.RepeatKitReadingsRow
	sets        []queries.ListCrossReadingSetsRow
	checks      []queries.PassChecksOfInstrumentRow
}

func (m measuringRows) withScales() []practice.Instrument {
	of := map[uuid.UUID][]practice.Scale{}
	for _, r := range m.scales {
		of[r.InstrumentID] = append(of[r.InstrumentID], scaleFrom(queries.ScalesOfInstrumentRow(r)))
	}
	return convert(m.instruments, func(r queries.AllInstrumentsRow) practice.Instrument {
		i := instrumentFrom(queries.GetInstrumentRow(r))
		i.Scales = of[i.ID]
		return i
	})
}

func (m measuringRows) withHands() []practice.RepeatKit {
	of := map[uuid.UUID][]queries.RepeatKitReadingsRow{}
	for _, r := range m.readings {
		of[r.KitID] = append(of[r.KitID], r)
	}
	return convert(m.kits, func(r queries.ListRepeatKitsRow) practice.RepeatKit {
		k := practice.RepeatKit{
			ID: r.ID, Instrument: r.InstrumentID, Scale: r.ScaleID, MadeOn: r.MadeOn, Note: r.Note,
			Replacement: replacement(r.RecordedBy, r.RecordedByName, r.RecordedAt, r.Replaces, r.Because, r.ReplacedBy, r.ReplacedBecause),
		}
		for _, h := range of[r.ID] {
			k.Spots, k.Repeats = max(k.Spots, int32(slices.Max(h.Spots))), max(k.Repeats, int32(slices.Max(h.Repeats)))
		}
		for _, h := range of[r.ID] {
			k.Hands = append(k.Hands, handFrom(h, k.Spots, k.Repeats))
		}
		return k
	})
}

// handFrom lays a person's readings out spot by spot, empty slots where none was taken.
func handFrom(r queries.RepeatKitReadingsRow, spots, repeats int32) practice.KitHand {
	h := practice.KitHand{
		Member: practice.MemberLine{ID: r.MemberID, Name: r.Name, Roles: r.Roles, Active: r.Active},
		Tenths: slices.Repeat([]int32{practice.Null}, int(spots*repeats)),
	}
	for k, v := range r.Tenths {
		h.Tenths[(int32(r.Spots[k])-1)*repeats+int32(r.Repeats[k])-1] = v
	}
	return h
}

func replacement(by *uuid.UUID, name string, at time.Time, replaces *uuid.UUID, because string, replacedBy *uuid.UUID, why string) practice.Replacement {
	r := practice.Replacement{RecordedAt: at, Replaces: replaces, Because: because, ReplacedBy: replacedBy, ReplacedBecause: why}
	if by != nil {
		r.RecordedBy = &practice.MemberLine{ID: *by, Name: name, Active: true}
	}
	return r
}

// RepeatKitKept implements practice.RepeatKitWriter.
func (tx *inPractice) RepeatKitKept(ctx context.Context, id uuid.UUID) error {
	_, err := found(tx.q.RepeatKitKept(ctx, queries.RepeatKitKeptParams{PracticeID: tx.practice, ID: id}))
	return fault("read repeat kit", err)
}

// InsertRepeatKit implements practice.RepeatKitWriter.
func (tx *inPractice) InsertRepeatKit(ctx context.Context, k practice.RecordRepeatKit, by *uuid.UUID, now time.Time) error {
	err := tx.q.InsertRepeatKit(ctx, queries.InsertRepeatKitParams{
		PracticeID: tx.practice, ID: k.ID, InstrumentID: k.Instrument, ScaleID: k.Scale, MadeOn: k.MadeOn, Note: k.Note,
		RecordedBy: by, RecordedAt: now,
	})
	if err == nil && k.Replaces != nil {
		err = tx.q.ReplaceRepeatKit(ctx, queries.ReplaceRepeatKitParams{PracticeID: tx.practice, KitID: *k.Replaces, ByKitID: k.ID, Because: k.Because})
	}
	if err != nil {
		return fault("insert repeat kit", err)
	}
	rows := queries.InsertRepeatKitReadingsParams{PracticeID: tx.practice, KitID: k.ID}
	for n, v := range k.Tenths {
		if v == practice.Null {
			continue
		}
		cell := n / int(k.Repeats)
		rows.Members = append(rows.Members, k.Hands[cell/int(k.Spots)])
		rows.Spots = append(rows.Spots, int16(cell%int(k.Spots)+1))
		rows.Repeats = append(rows.Repeats, int16(n%int(k.Repeats)+1))
		rows.Tenths = append(rows.Tenths, v)
	}
	return fault("insert repeat kit readings", tx.q.InsertRepeatKitReadings(ctx, rows))
}
