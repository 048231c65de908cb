package store

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

var _ = say(map[string]rule{
	"instruments_name_length":   {domain.Invalid, "name", "An instrument's name has 1 to 100 letters."},
	"instruments_kind_known":    {domain.Invalid, "kind", "This kind of instrument is not known here."},
	"instruments_sensing_known": {domain.Invalid, "sensing", "Say deep, shallow, pins, or leave it empty."},
	"scales_step_positive":      {domain.Invalid, "stepTenths", "The step of a scale must be above zero."},
	"scales_low_below_high":     {domain.Invalid, "highTenths", "The upper end of the scale must lie above the lower one."},
	"instruments_pkey":          {domain.Conflict, "id", "An instrument with this id is kept already."},
	"scales_pkey":               {domain.Conflict, "id", "A scale with this id is kept already."},
	"scales_instrument_id_fkey": {domain.NotFound, "instrument", "There is no such instrument here."},
})

// Instrument implements practice.InstrumentReader.
func (s *Store) Instrument(ctx context.Context, p, id uuid.UUID, withChecks bool) (practice.Instrument, error) {
	var row *queries.GetInstrumentRow
	var scales []queries.ScalesOfInstrumentRow
	var checks []queries.BlockChecksOfInstrumentRow
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		one(b, &row, queries.GetInstrument, p, id)
		many(b, &scales, queries.ScalesOfInstrument, p, id)
		if withChecks {
			many(b, &checks, queries.BlockChecksOfInstrument, p, id)
		}
	})
	if err != nil {
		return practice.Instrument{}, err
	}
	if row == nil {
		return practice.Instrument{}, domain.ErrNotFound
	}
	i := instrumentFrom(*row)
	for _, r := range scales {
		i.Scales = append(i.Scales, practice.Scale(scaleFrom(r)))
	}
	for k := len(checks) - 1; k >= 0; k-- { // the newest 200 came newest first
		c := checks[k]
		check := practice.InstrumentBlockCheck{Block: c.Block, Moment: c.Moment, ValueTenths: c.ValueTenths, At: c.At}
		if c.ScaleID != nil {
			check.Scale = *c.ScaleID
		}
		i.BlockChecks = append(i.BlockChecks, check)
	}
	return i, nil
}

// Instruments implements practice.InstrumentReader.
func (s *Store) Instruments(ctx context.Context, p uuid.UUID, page practice.Page) ([]practice.Instrument, error) {
	var rows []queries.ListInstrumentsRow
	var scales []queries.ScalesOfInstrumentsRow
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		many(b, &rows, queries.ListInstruments, p, page.AfterText, page.AfterID, int32(page.First+1))
		many(b, &scales, queries.ScalesOfInstruments, p, page.AfterText, page.AfterID, int32(page.First+1))
	})
	if err != nil {
		return nil, err
	}
	of := map[uuid.UUID][]practice.Scale{}
	for _, r := range scales {
		of[r.InstrumentID] = append(of[r.InstrumentID], scaleFrom(queries.ScalesOfInstrumentRow(r)))
	}
	list := make([]practice.Instrument, len(rows))
	for k, r := range rows {
		list[k] = instrumentFrom(queries.GetInstrumentRow(r))
		list[k].Scales = of[r.ID]
	}
	return list, nil
}

// Instrument implements practice.InstrumentWriter.
func (tx *inPractice) Instrument(ctx context.Context, id uuid.UUID) (practice.Instrument, error) {
	row, err := found(tx.q.GetInstrument(ctx, queries.GetInstrumentParams{PracticeID: tx.practice, ID: id}))
	return instrumentFrom(row), fault("read instrument", err)
}

// InsertInstrument implements practice.InstrumentWriter.
func (tx *inPractice) InsertInstrument(ctx context.Context, i practice.Instrument) error {
	return fault("insert instrument", tx.q.InsertInstrument(ctx, queries.InsertInstrumentParams{
		PracticeID: tx.practice, ID: i.ID, Name: i.Name, Model: i.Model, Serial: i.Serial, Kind: i.Kind,
		Sensing: i.Sensing, ZeroReset: i.ZeroReset, BatteryNote: i.BatteryNote, BoughtOn: i.BoughtOn,
	}))
}

// UpdateInstrument implements practice.InstrumentWriter.
func (tx *inPractice) UpdateInstrument(ctx context.Context, i practice.Instrument) error {
	return fault("update instrument", changed(tx.q.UpdateInstrument(ctx, queries.UpdateInstrumentParams{
		PracticeID: tx.practice, ID: i.ID, Version: i.Version, Name: i.Name, Serial: i.Serial, BatteryNote: i.BatteryNote, RetiredOn: i.RetiredOn,
	})))
}

// InsertScale implements practice.InstrumentWriter.
func (tx *inPractice) InsertScale(ctx context.Context, sc practice.Scale) error {
	return fault("insert scale", tx.q.InsertScale(ctx, queries.InsertScaleParams{
		PracticeID: tx.practice, ID: sc.ID, InstrumentID: sc.Instrument, Name: sc.Name, Mode: sc.Mode,
		LowTenths: sc.LowTenths, HighTenths: sc.HighTenths, StepTenths: sc.StepTenths, TimberPercent: sc.TimberPercent,
	}))
}

func instrumentFrom(r queries.GetInstrumentRow) practice.Instrument {
	return practice.Instrument{
		ID: r.ID, Name: r.Name, Model: r.Model, Serial: r.Serial, Kind: r.Kind, Sensing: r.Sensing, ZeroReset: r.ZeroReset,
		BatteryNote: r.BatteryNote, BoughtOn: r.BoughtOn, RetiredOn: r.RetiredOn, Version: r.Version,
	}
}

func scaleFrom(r queries.ScalesOfInstrumentRow) practice.Scale {
	return practice.Scale{
		ID: r.ID, Instrument: r.InstrumentID, Name: r.Name, Mode: r.Mode,
		LowTenths: r.LowTenths, HighTenths: r.HighTenths, StepTenths: r.StepTenths, TimberPercent: r.TimberPercent,
	}
}

// Scale implements practice.InstrumentWriter.
func (tx *inPractice) Scale(ctx context.Context, id uuid.UUID) (practice.Scale, error) {
	row, err := found(tx.q.GetScale(ctx, queries.GetScaleParams{PracticeID: tx.practice, ID: id}))
	return scaleFrom(queries.ScalesOfInstrumentRow(row)), fault("read scale", err)
}
