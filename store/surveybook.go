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
	"item_examinations_examined_known": {domain.Invalid, "examined", "An item is examined, examined in part, or not."},
	"item_examinations_why_given":      {domain.Invalid, "why", "Say why it was not, or not all of it: it stands under the limits of the report."},
	"item_examinations_length":         {domain.Invalid, "note", "Keep the reason to 1000 letters, the condition to 400 and the note to 4000."},
	"item_examinations_once":           {domain.Conflict, "item", "This visit has said something of this item already. Change that."},
	"item_examinations_pkey":           {domain.Conflict, "id", "An examination with this id is kept already."},
	"valuations_pkey":                  {domain.Conflict, "job", "This job has a value already. Change that."},
	"valuations_figure_positive":       {domain.Invalid, "figureMinor", "A value is above nothing."},
	"valuations_currency_code":         {domain.Invalid, "currency", "A currency is three capital letters, such as EUR."},
	"valuations_basis_length":          {domain.Invalid, "basis", "Keep the basis to 1000 letters."},
	"valuations_said_length":           {domain.Invalid, "said", "Keep it to 4000 letters."},
	"attendance_notes_pkey":            {domain.Conflict, "id", "A note with this id is kept already."},
	"attendance_notes_kind_known":      {domain.Invalid, "kind", "It is a note, a call, a talk, a message or the verbal outline."},
	"attendance_notes_text_length":     {domain.Invalid, "text", "Write what was said, in up to 8000 letters."},
	"attendance_notes_whom_length":     {domain.Invalid, "withWhom", "Keep it to 400 letters."},
})

// scheduleRead is a practice's schedule on its way.
type scheduleRead struct {
	version []int32
	areas   []queries.ScheduleAreasRow
	items   []queries.ScheduleItemsRow
}

func (r *scheduleRead) queue(b *pgx.Batch, p uuid.UUID) {
	column(b, &r.version, queries.ScheduleVersion, p)
	many(b, &r.areas, queries.ScheduleAreas, p)
	many(b, &r.items, queries.ScheduleItems, p)
}

// schedule puts items under their areas; what was retired is left out.
func (r scheduleRead) schedule() (s practice.Schedule) {
	if len(r.version) > 0 {
		s.Version = r.version[0]
	}
	of := map[uuid.UUID][]practice.ScheduleItem{}
	for _, i := range r.items {
		if !i.Retired {
			of[i.AreaID] = append(of[i.AreaID], practice.ScheduleItem{ID: i.ID, Name: i.Name})
		}
	}
	for _, a := range r.areas {
		if !a.Retired {
			s.Areas = append(s.Areas, practice.ScheduleArea{ID: a.ID, Name: a.Name, Items: of[a.ID]})
		}
	}
	return s
}

// Schedule implements practice.SurveyBookReader.
func (s *Store) Schedule(ctx context.Context, p uuid.UUID) (practice.Schedule, error) {
	var r scheduleRead
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) { r.queue(b, p) })
	return r.schedule(), err
}

// SurveyBook implements practice.SurveyBookReader.
func (s *Store) SurveyBook(ctx context.Context, p, job uuid.UUID, who practice.Sees) (practice.SurveyBook, error) {
	var (
		schedule scheduleRead
		line     *queries.GetJobLineRow
		examined []queries.ExaminationsOfJobRow
		value    *queries.ValuationOfJobRow
		notes    []queries.AttendanceNotesOfJobRow
	)
	guest, self, member := whom(who)
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		one(b, &line, queries.GetJobLine, p, job, guest, self, member)
		schedule.queue(b, p)
		many(b, &examined, queries.ExaminationsOfJob, p, job)
		one(b, &value, queries.ValuationOfJob, p, job)
		many(b, &notes, queries.AttendanceNotesOfJob, p, job)
	})
	if err == nil && line == nil {
		err = domain.ErrNotFound
	}
	if err != nil {
		return practice.SurveyBook{}, err
	}
	return practice.SurveyBook{
		Job: jobLineFrom(*line), Schedule: schedule.schedule(), Examinations: convert(examined, examinationFrom), Valuation: valuationFrom(value),
		Notes: convert(notes, func(r queries.AttendanceNotesOfJobRow) practice.AttendanceNote { return practice.AttendanceNote(r) }),
	}, nil
}

func examinationFrom(r queries.ExaminationsOfJobRow) practice.Examination {
	return practice.Examination(r)
}

func valuationFrom(r *queries.ValuationOfJobRow) *practice.Valuation {
	if r == nil {
		return nil
	}
	v := practice.Valuation(*r)
	return &v
}

// PutSchedule implements practice.SurveyBookWriter.
func (tx *inPractice) PutSchedule(ctx context.Context, s practice.Schedule) error {
	var err error
	if s.Version == 0 {
		err = changed(tx.q.BeginSchedule(ctx, tx.practice))
	} else {
		err = changed(tx.q.BumpSchedule(ctx, queries.BumpScheduleParams{PracticeID: tx.practice, Version: s.Version}))
	}
	if err != nil {
		return fault("change schedule", err)
	}
	b := &pgx.Batch{}
	areas, items := []uuid.UUID{}, []uuid.UUID{}
	for k, a := range s.Areas {
		areas = append(areas, a.ID)
		b.Queue(queries.PutScheduleArea, tx.practice, a.ID, int32(k+1), a.Name)
		for n, i := range a.Items {
			items = append(items, i.ID)
			b.Queue(queries.PutScheduleItem, tx.practice, i.ID, a.ID, int32(n+1), i.Name)
		}
	}
	if err := tx.tx.SendBatch(ctx, b).Close(); err != nil {
		return fault("put schedule", err)
	}
	return fault("retire the rest", tx.q.RetireSchedule(ctx, queries.RetireScheduleParams{PracticeID: tx.practice, Areas: areas, Items: items}))
}

// ScheduleItemWords implements practice.SurveyBookWriter.
func (tx *inPractice) ScheduleItemWords(ctx context.Context, item uuid.UUID) (area, name string, err error) {
	row, err := found(tx.q.ScheduleItemWords(ctx, queries.ScheduleItemWordsParams{PracticeID: tx.practice, ID: item}))
	return row.Area, row.Name, fault("read item", err)
}

// PutExamination implements practice.SurveyBookWriter.
func (tx *inPractice) PutExamination(ctx context.Context, x practice.Examination, by *uuid.UUID, now time.Time) error {
	if x.Version == 0 {
		return fault("insert examination", tx.q.InsertExamination(ctx, queries.InsertExaminationParams{
			PracticeID: tx.practice, ID: x.ID, VisitID: x.VisitID, ItemID: x.ItemID, Area: x.Area, Name: x.Name, Examined: x.Examined, Why: x.Why,
			Condition: x.Condition, Note: x.Note, FindingID: x.FindingID, PhotoID: x.PhotoID, ByID: by, Now: now,
		}))
	}
	if _, err := found(tx.q.LockExamination(ctx, queries.LockExaminationParams{PracticeID: tx.practice, ID: x.ID, VisitID: x.VisitID, ItemID: x.ItemID})); err != nil {
		return fault("read examination", err)
	}
	return fault("update examination", changed(tx.q.UpdateExamination(ctx, queries.UpdateExaminationParams{
		PracticeID: tx.practice, ID: x.ID, VisitID: x.VisitID, ItemID: x.ItemID, Examined: x.Examined, Why: x.Why, Condition: x.Condition, Note: x.Note,
		FindingID: x.FindingID, PhotoID: x.PhotoID, ByID: by, Now: now, Version: x.Version,
	})))
}

// PutValuation implements practice.SurveyBookWriter.
func (tx *inPractice) PutValuation(ctx context.Context, v practice.Valuation, by *uuid.UUID, now time.Time) error {
	if v.Version == 0 {
		return fault("insert value", tx.q.InsertValuation(ctx, queries.InsertValuationParams{
			PracticeID: tx.practice, JobID: v.JobID, FigureMinor: v.FigureMinor, Currency: v.Currency, Basis: v.Basis, ValueOn: v.ValueOn, Said: v.Said,
			Comparables: v.Comparables, ByID: by, Now: now,
		}))
	}
	return fault("update value", changed(tx.q.UpdateValuation(ctx, queries.UpdateValuationParams{
		PracticeID: tx.practice, JobID: v.JobID, FigureMinor: v.FigureMinor, Currency: v.Currency, Basis: v.Basis, ValueOn: v.ValueOn, Said: v.Said,
		Comparables: v.Comparables, ByID: by, Now: now, Version: v.Version,
	})))
}

// InsertAttendanceNote implements practice.SurveyBookWriter.
func (tx *inPractice) InsertAttendanceNote(ctx context.Context, n practice.AttendanceNote, by *uuid.UUID, now time.Time) error {
	return fault("insert note", tx.q.InsertAttendanceNote(ctx, queries.InsertAttendanceNoteParams{
		PracticeID: tx.practice, ID: n.ID, JobID: n.JobID, VisitID: n.VisitID, Kind: n.Kind, At: n.At, WithWhom: n.WithWhom, Text: n.Text, ByID: by, Now: now, PreviousSurveyor: n.PreviousSurveyor,
	}))
}

// AttendanceNoteJob implements practice.SurveyBookWriter.
func (tx *inPractice) AttendanceNoteJob(ctx context.Context, note uuid.UUID, who practice.Sees) (uuid.UUID, error) {
	guest, self, member := whom(who)
	id, err := found(tx.q.AttendanceNoteJob(ctx, queries.AttendanceNoteJobParams{PracticeID: tx.practice, ID: note, Guest: guest, Self: self, Member: member}))
	return id, fault("read note", err)
}

// StrikeAttendanceNote implements practice.SurveyBookWriter.
func (tx *inPractice) StrikeAttendanceNote(ctx context.Context, note uuid.UUID, reason string, now time.Time) error {
	return fault("strike note", changed(tx.q.StrikeAttendanceNote(ctx, queries.StrikeAttendanceNoteParams{PracticeID: tx.practice, ID: note, Reason: reason, Now: now})))
}
