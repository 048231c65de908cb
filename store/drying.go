package store

import (
	"context"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

var _ = say(map[string]rule{
	"drying_courses_wall_plausible": {domain.Invalid, "wallMm", "The wall is 1 to 500 mm thick."},
	"drying_courses_inside_known":   {domain.Invalid, "inside", "Inside there is no water, or water stands there, or it is not known."},
	"drying_courses_target_told":    {domain.Invalid, "targetBecause", "Say why this figure is asked for."},
	"washes_how_known":              {domain.Invalid, "how", "A wash is fresh, hot or steam."},
	"washes_ph_range":               {domain.Invalid, "phTenths", "pH is given in tenths, between 0 and 140."},
	"washes_conductivity_range":     {domain.Invalid, "conductivityTenths", "Conductivity is given in tenths of a µS/cm, up to 1 000 000."},
	"washes_supply_range":           {domain.Invalid, "supplyTenths", "Conductivity is given in tenths of a µS/cm, up to 1 000 000."},
	"washes_volume_range":           {domain.Invalid, "volumeUl", "The water tested is 10 to 1 000 000 µL."},
	"washes_area_range":             {domain.Invalid, "areaMm2", "The skin it stood on is 1 to 1 000 000 mm²."},
	"washes_volume_with_area":       {domain.Invalid, "areaMm2", "Give the volume of the water and the area it stood on together: neither says anything alone."},
	"washes_pkey":                   {domain.Conflict, "id", "A wash with this id is kept already."},
	"rebounds_after_known":          {domain.Invalid, "after", "It is read after a wash or after heat off."},
	"rebounds_of_a_wash":            {domain.Invalid, "wash", "A rebound after a wash names the wash; one after heat off names none."},
	"rebounds_read_after":           {domain.Invalid, "readAt", "It was read before the wash or the heat had ended: one of the times is wrong."},
	"rebounds_pkey":                 {domain.Conflict, "id", "A rebound with this id is kept already."},
	"sheet_tests_looked_after":      {domain.Invalid, "lookedAt", "It was looked at before it was taped on: one of the times is wrong."},
	"sheet_tests_pkey":              {domain.Conflict, "id", "A sheet with this id is kept already."},
	"gate_rules_because_given":      {domain.Invalid, "because", "Say in up to 500 letters where the figure comes from."},
	"gate_rules_in_order":           {domain.Invalid, "most", "The least is above the most."},
	"gate_signatures_pkey":          {domain.Conflict, "id", "A signature with this id is kept already."},
})

// dryingRead is a drying log on its way.
type dryingRead struct {
	line     *queries.GetJobLineRow
	course   *queries.DryingCourseRow
	history  practice.History
	washes   []queries.WashesOfJobRow
	rebounds []queries.ReboundsOfJobRow
	sheets   []queries.SheetTestsOfJobRow
	weather  []queries.WeatherOfDryingRow
	moments  []queries.ConditionsOfDryingRow
	rules    []queries.GateRulesRow
	signed   []queries.GateSignaturesRow
}

// Drying implements practice.DryingReader.
func (s *Store) Drying(ctx context.Context, p, job uuid.UUID, who practice.Sees) (practice.Drying, error) {
	var r dryingRead
	guest, self, member := whom(who)
	history := historyInto(&r.history, p, job, who)
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		one(b, &r.line, queries.GetJobLine, p, job, guest, self, member)
		one(b, &r.course, queries.DryingCourse, p, job)
		ofJobsVessel(b, history.queue)
		many(b, &r.washes, queries.WashesOfJob, p, job)
		many(b, &r.rebounds, queries.ReboundsOfJob, p, job)
		many(b, &r.sheets, queries.SheetTestsOfJob, p, job)
		many(b, &r.weather, queries.WeatherOfDrying, p, job)
		many(b, &r.moments, queries.ConditionsOfDrying, p, job, guest, self, member)
		many(b, &r.rules, queries.GateRules, p)
		many(b, &r.signed, queries.GateSignatures, p, job)
	})
	if err == nil && r.line == nil {
		err = domain.ErrNotFound
	}
	if err == nil {
		err = history.finish()
	}
	if err != nil {
		return practice.Drying{}, err
	}
	return r.log(), nil
}

// ofJobsVessel queues queries that take a vessel second, for the vessel of a job that is
// given in its stead: which vessel it is need not be known before the one trip.
func ofJobsVessel(b *pgx.Batch, queue func(*pgx.Batch)) {
	from := len(b.QueuedQueries)
	queue(b)
	for _, q := range b.QueuedQueries[from:] {
		q.SQL = strings.ReplaceAll(q.SQL, "$2", "(select vessel_id from jobs where practice_id = $1 and id = $2)")
	}
}

func (r *dryingRead) log() practice.Drying {
	d := practice.Drying{
		Job: jobLineFrom(*r.line), History: r.history,
		Washes:   convert(r.washes, func(w queries.WashesOfJobRow) practice.Wash { return practice.Wash(w) }),
		Rebounds: convert(r.rebounds, func(w queries.ReboundsOfJobRow) practice.Rebound { return practice.Rebound(w) }),
		Sheets:   convert(r.sheets, func(t queries.SheetTestsOfJobRow) practice.SheetTest { return practice.SheetTest(t) }),
		Rules:    convert(r.rules, func(g queries.GateRulesRow) practice.GateRule { return practice.GateRule(g) }),
		Signed:   convert(r.signed, func(g queries.GateSignaturesRow) practice.GateSignature { return practice.GateSignature(g) }),
	}
	if r.course != nil {
		d.Course = practice.DryingCourse(*r.course)
	}
	for _, w := range slices.Backward(r.weather) { // newest first, so that the limit keeps the newest
		d.Weather = append(d.Weather, practice.WeatherRecord{At: w.At, AirDecidegrees: *w.AirDecidegrees, HumidityPermille: *w.HumidityPermille, Source: w.Source, Tent: w.Tent})
	}
	for _, m := range r.moments {
		d.Moments = append(d.Moments, practice.SkinRecord{
			At: m.At, AirDecidegrees: *m.AirDecidegrees, HumidityPermille: *m.HumidityPermille,
			SkinPortDecidegrees: m.SkinPortDecidegrees, SkinStarboardDecidegrees: m.SkinStarboardDecidegrees, Indoors: m.Indoors,
		})
	}
	return d
}

// PutDryingCourse implements practice.DryingWriter.
func (tx *inPractice) PutDryingCourse(ctx context.Context, job uuid.UUID, c practice.DryingCourse) error {
	if c.Version == 0 {
		return fault("put drying course", changed(tx.q.PutDryingCourse(ctx, queries.PutDryingCourseParams{
			PracticeID: tx.practice, JobID: job, BeganOn: c.BeganOn, WallMm: c.WallMm, Inside: c.Inside, OutdoorsPlace: c.OutdoorsPlace,
			TentPlace: c.TentPlace, TargetTenths: c.TargetTenths, TargetBecause: c.TargetBecause, Note: c.Note, Version: c.Version,
		})))
	}
	return fault("update drying course", changed(tx.q.UpdateDryingCourse(ctx, queries.UpdateDryingCourseParams{
		PracticeID: tx.practice, JobID: job, BeganOn: c.BeganOn, WallMm: c.WallMm, Inside: c.Inside, OutdoorsPlace: c.OutdoorsPlace,
		TentPlace: c.TentPlace, TargetTenths: c.TargetTenths, TargetBecause: c.TargetBecause, Note: c.Note, Version: c.Version,
	})))
}

// InsertWash implements practice.DryingWriter.
func (tx *inPractice) InsertWash(ctx context.Context, w practice.Wash, by *uuid.UUID) error {
	return fault("insert wash", tx.q.InsertWash(ctx, queries.InsertWashParams{
		PracticeID: tx.practice, ID: w.ID, JobID: w.JobID, At: w.At, How: w.How, Extent: w.Extent, PhTenths: w.PhTenths,
		ConductivityTenths: w.ConductivityTenths, SupplyTenths: w.SupplyTenths, VolumeUl: w.VolumeUl, AreaMm2: w.AreaMm2, Note: w.Note, ByID: by,
	}))
}

// WashOf implements practice.DryingWriter.
func (tx *inPractice) WashOf(ctx context.Context, wash uuid.UUID) (uuid.UUID, time.Time, error) {
	row, err := found(tx.q.WashJob(ctx, queries.WashJobParams{PracticeID: tx.practice, ID: wash}))
	return row.JobID, row.At, fault("read wash", err)
}

// ScaleEnds implements practice.DryingWriter.
func (tx *inPractice) ScaleEnds(ctx context.Context, scale uuid.UUID) (low, high int32, err error) {
	row, err := found(tx.q.ScaleEnds(ctx, queries.ScaleEndsParams{PracticeID: tx.practice, ID: scale}))
	return row.LowTenths, row.HighTenths, fault("read scale", err)
}

// InsertRebound implements practice.DryingWriter.
func (tx *inPractice) InsertRebound(ctx context.Context, r practice.Rebound, places []uuid.UUID, by *uuid.UUID) error {
	err := tx.q.InsertRebound(ctx, queries.InsertReboundParams{
		PracticeID: tx.practice, ID: r.ID, JobID: r.JobID, After: r.After, WashID: r.WashID, BeganAt: r.BeganAt, ReadAt: r.ReadAt, ScaleID: r.ScaleID,
		Note: r.Note, ByID: by,
	})
	if err != nil {
		return fault("insert rebound", err)
	}
	return fault("insert rebound readings", tx.q.InsertReboundReadings(ctx, queries.InsertReboundReadingsParams{
		PracticeID: tx.practice, ReboundID: r.ID, Places: places, Before: r.BeforeTenths, After: r.AfterTenths,
	}))
}

// InsertSheetTest implements practice.DryingWriter.
func (tx *inPractice) InsertSheetTest(ctx context.Context, t practice.SheetTest, by *uuid.UUID) error {
	return fault("insert sheet test", tx.q.InsertSheetTest(ctx, queries.InsertSheetTestParams{
		PracticeID: tx.practice, ID: t.ID, JobID: t.JobID, Place: t.Place, TapedAt: t.TapedAt, LookedAt: t.LookedAt, Condensed: t.Condensed, Note: t.Note, ByID: by,
	}))
}

// InsertAirLog implements practice.DryingWriter.
func (tx *inPractice) InsertAirLog(ctx context.Context, place, source string, ids []uuid.UUID, list []practice.WeatherRecord) error {
	in := queries.InsertAirLogParams{PracticeID: tx.practice, Place: place, Source: source, Ids: ids}
	for _, w := range list {
		in.At, in.Air, in.Humidity = append(in.At, w.At), append(in.Air, w.AirDecidegrees), append(in.Humidity, w.HumidityPermille)
	}
	return fault("insert weather", tx.q.InsertAirLog(ctx, in))
}

// PutGateRule implements practice.DryingWriter.
func (tx *inPractice) PutGateRule(ctx context.Context, r practice.GateRule) error {
	if r.Version == 0 {
		return fault("put gate rule", changed(tx.q.PutGateRule(ctx, queries.PutGateRuleParams{
			PracticeID: tx.practice, Gate: r.Gate, Least: r.Least, Most: r.Most, Because: r.Because, Version: r.Version,
		})))
	}
	return fault("update gate rule", changed(tx.q.UpdateGateRule(ctx, queries.UpdateGateRuleParams{
		PracticeID: tx.practice, Gate: r.Gate, Least: r.Least, Most: r.Most, Because: r.Because, Version: r.Version,
	})))
}

// InsertGateSignature implements practice.DryingWriter.
func (tx *inPractice) InsertGateSignature(ctx context.Context, job uuid.UUID, s practice.GateSignature, by uuid.UUID) error {
	return fault("insert gate signature", tx.q.InsertGateSignature(ctx, queries.InsertGateSignatureParams{
		PracticeID: tx.practice, ID: s.ID, JobID: job, Gate: s.Gate, MetOn: s.MetOn, Evidence: s.Evidence, Shown: s.Shown, Reopened: s.Reopened, ByID: by, At: s.At,
	}))
}
