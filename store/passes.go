package store

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

var _ = say(map[string]rule{
	"passes_face_known":               {domain.Invalid, "face", "A pass is read from outside or inside."},
	"passes_surface_known":            {domain.Invalid, "surface", "The surface is bare gelcoat, antifouling, epoxy, scraped, laminate or paint."},
	"passes_dry_surface_known":        {domain.Invalid, "drySurface", "The surface is bare gelcoat, antifouling, epoxy, scraped, laminate or paint."},
	"passes_wash_not_negative":        {domain.Invalid, "hoursSinceWash", "Hours since the wash cannot be negative."},
	"passes_heat_not_negative":        {domain.Invalid, "hoursSinceHeatOff", "Hours since the heat went off cannot be negative."},
	"passes_rain_known":               {domain.Invalid, "rain", "Rain is none, light or heavy."},
	"passes_source_known":             {domain.Invalid, "source", "A pass is metered, typed from paper or imported."},
	"passes_context_or_quoted":        {domain.Invalid, "instrument", "Name the hand, the instrument and its scale, or mark the pass as quoted from an old report."},
	"block_checks_block_known":        {domain.Invalid, "block", "A block check is on the low block, the high block or in air."},
	"block_checks_moment_known":       {domain.Invalid, "moment", "A block check is made before, midway or after."},
	"readings_one_to_five_placements": {domain.Invalid, "placements", "Keep one to five placements at a place."},
	"readings_surface_known":          {domain.Invalid, "surfaces", "The surface is bare gelcoat, antifouling, epoxy, scraped, laminate or paint."},
	"readings_one_current":            {domain.Conflict, "ids", "Another reading stands at this place and occasion already."},
	"readings_never_rewritten":        {domain.Conflict, "reading", "A reading is never rewritten: correct or replace it."},
	"not_reached_reason_given":        {domain.Invalid, "reason", "Say in up to 200 letters what was in the way."},
})

// whom gives the three arguments that the rule of restricted jobs takes, in their order.
func whom(who practice.Sees) (guest, self bool, member uuid.UUID) {
	return who.Guest, who.Self, who.Member
}

// Pass implements practice.PassReader.
func (s *Store) Pass(ctx context.Context, p, id uuid.UUID, who practice.Sees) (practice.PassPage, error) {
	var row *queries.GetPassContextRow
	var plan *queries.PlanOfPassRow
	var axis *queries.AxisOfPassRow
	var grid practice.Grid
	var checks []queries.BlockChecksOfPassRow
	var entries []queries.EntriesOfPassRow
	var gaps []queries.NotReachedOfPassRow
	guest, self, member := whom(who)
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		one(b, &row, queries.GetPassContext, p, id, guest, self, member)
		one(b, &plan, queries.PlanOfPass, p, id)
		one(b, &axis, queries.AxisOfPass, p, id)
		gridInto(b, &grid, queries.GridOfPass, p, id)
		many(b, &checks, queries.BlockChecksOfPass, p, id)
		many(b, &entries, queries.EntriesOfPass, p, id)
		many(b, &gaps, queries.NotReachedOfPass, p, id)
	})
	if err != nil {
		return practice.PassPage{}, err
	}
	if row == nil || plan == nil || axis == nil {
		return practice.PassPage{}, domain.ErrNotFound
	}
	page := practice.PassPage{Axis: axisFrom(queries.AxisOfVesselRow(*axis)), Plan: practice.Plan(*plan)}
	page.PassContext, page.Grid = practice.PassContext(*row), grid
	for _, c := range checks {
		page.BlockChecks = append(page.BlockChecks, practice.BlockCheck(c))
	}
	for _, e := range entries {
		page.Entries = append(page.Entries, practice.Entry(e))
	}
	for _, g := range gaps {
		page.NotReached = append(page.NotReached, practice.NotReached(g))
	}
	return page, nil
}

// Place implements practice.PassReader.
func (s *Store) Place(ctx context.Context, p, id uuid.UUID, who practice.Sees) (practice.Place, error) {
	var row *queries.GetPlaceRow
	var readings []queries.ReadingsOfPlaceRow
	guest, self, member := whom(who)
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		one(b, &row, queries.GetPlace, p, id, guest, member)
		many(b, &readings, queries.ReadingsOfPlace, p, id, guest, self, member)
	})
	if err != nil {
		return practice.Place{}, err
	}
	if row == nil {
		return practice.Place{}, domain.ErrNotFound
	}
	place := practice.Place{
		ID: row.ID, VesselID: row.VesselID, ElementID: row.ElementID, Ordinal: row.Ordinal, Label: row.Label, Side: row.Side,
		Station: row.Station, RowNo: row.RowNo, AlongMm: row.AlongMm, DownMm: row.DownMm,
		PositionErrorMm: row.PositionErrorMm, ToldAs: row.ToldAs,
	}
	for _, r := range readings {
		place.Readings = append(place.Readings, practice.Reading(r))
	}
	return place, nil
}

// ReadReading implements practice.PassReader.
func (s *Store) ReadReading(ctx context.Context, p, id uuid.UUID, who practice.Sees) (practice.Reading, error) {
	var row *queries.GetReadingRow
	var open *queries.PassOfReadingRow
	guest, self, member := whom(who)
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		one(b, &row, queries.GetReading, p, id)
		one(b, &open, queries.PassOfReading, p, id, guest, self, member)
	})
	if err != nil {
		return practice.Reading{}, err
	}
	if row == nil || open == nil {
		return practice.Reading{}, domain.ErrNotFound
	}
	return practice.Reading(*row), nil
}

// PassContext implements practice.PassWriter.
func (tx *inPractice) PassContext(ctx context.Context, id uuid.UUID, who practice.Sees) (practice.PassContext, error) {
	row, err := found(tx.q.GetPassContext(ctx, queries.GetPassContextParams{
		PracticeID: tx.practice, ID: id, Guest: who.Guest, Self: who.Self, Member: who.Member,
	}))
	return practice.PassContext(row), fault("read pass", err)
}

// LockPass implements practice.PassWriter.
func (tx *inPractice) LockPass(ctx context.Context, id uuid.UUID) (string, error) {
	state, err := found(tx.q.LockPass(ctx, queries.LockPassParams{PracticeID: tx.practice, ID: id}))
	return state, fault("lock pass", err)
}

// VisitVessel implements practice.PassWriter.
func (tx *inPractice) VisitVessel(ctx context.Context, visit uuid.UUID, who practice.Sees) (uuid.UUID, error) {
	row, err := found(tx.q.VisitOfPass(ctx, queries.VisitOfPassParams{
		PracticeID: tx.practice, ID: visit, Guest: who.Guest, Self: who.Self, Member: who.Member,
	}))
	return row.VesselID, fault("read visit", err)
}

// VesselOf implements practice.PassWriter.
func (tx *inPractice) VesselOf(ctx context.Context, element, plan uuid.UUID) (byElement, byPlan uuid.UUID, err error) {
	if byElement, err = found(tx.q.ElementVessel(ctx, queries.ElementVesselParams{PracticeID: tx.practice, ID: element})); err != nil {
		return byElement, byPlan, fault("read element", err)
	}
	byPlan, err = found(tx.q.PlanVessel(ctx, queries.PlanVesselParams{PracticeID: tx.practice, ID: plan}))
	return byElement, byPlan, fault("read plan", err)
}

// ScaleInstrument implements practice.PassWriter.
func (tx *inPractice) ScaleInstrument(ctx context.Context, scale uuid.UUID) (uuid.UUID, error) {
	id, err := found(tx.q.ScaleInstrument(ctx, queries.ScaleInstrumentParams{PracticeID: tx.practice, ID: scale}))
	return id, fault("read scale", err)
}

// InsertPass implements practice.PassWriter.
func (tx *inPractice) InsertPass(ctx context.Context, p practice.OpenPass) error {
	return fault("insert pass", tx.q.InsertPass(ctx, queries.InsertPassParams{
		PracticeID: tx.practice, ID: p.ID, VisitID: p.Visit, ElementID: p.Element, PlanID: p.Plan, HandID: p.Hand,
		InstrumentID: p.Instrument, ScaleID: p.Scale, InstrumentAsWritten: p.InstrumentAsWritten, HandAsWritten: p.HandAsWritten,
		Face: p.Face, Surface: p.Surface, DrySurface: p.DrySurface, HoursSinceWash: p.HoursSinceWash, HoursSinceHeatOff: p.HoursSinceHeatOff,
		Heated: p.Heated, Rain: p.Rain, SaltWiped: p.SaltWiped, ZeroReset: p.ZeroReset, Battery: p.Battery, Source: p.Source,
		Quoted: p.Quoted, BeganAt: p.BeganAt, Note: p.Note,
	}))
}

// UpdatePass implements practice.PassWriter.
func (tx *inPractice) UpdatePass(ctx context.Context, p practice.PassContext) error {
	return fault("update pass", changed(tx.q.UpdatePass(ctx, queries.UpdatePassParams{
		PracticeID: tx.practice, ID: p.ID, Version: p.Version, Surface: p.Surface, DrySurface: p.DrySurface, HoursSinceWash: p.HoursSinceWash,
		HoursSinceHeatOff: p.HoursSinceHeatOff, Heated: p.Heated, Rain: p.Rain, SaltWiped: p.SaltWiped, ZeroReset: p.ZeroReset,
		Battery: p.Battery, Note: p.Note,
	})))
}

// ClosePass implements practice.PassWriter.
func (tx *inPractice) ClosePass(ctx context.Context, id uuid.UUID, version int32, at time.Time) error {
	return fault("close pass", changed(tx.q.ClosePass(ctx, queries.ClosePassParams{PracticeID: tx.practice, ID: id, Version: version, ClosedAt: &at})))
}

// InsertBlockCheck implements practice.PassWriter.
func (tx *inPractice) InsertBlockCheck(ctx context.Context, c practice.BlockCheck) error {
	return fault("insert block check", tx.q.InsertBlockCheck(ctx, queries.InsertBlockCheckParams{
		PracticeID: tx.practice, ID: c.ID, PassID: c.PassID, Block: c.Block, Moment: c.Moment, ValueTenths: c.ValueTenths, At: c.At,
	}))
}
