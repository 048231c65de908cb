package store

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/measure/due"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

var _ = say(map[string]rule{
	"reinspections_in_order":    {domain.Invalid, "to", "The window ends before it begins."},
	"reinspections_pkey":        {domain.Conflict, "id", "A reinspection with this id is kept already."},
	"reinspections_state_known": {domain.Invalid, "state", "It can be due, booked, snoozed or declined. A survey answers it."},
	"guarantees_what_given":     {domain.Invalid, "what", "Say what is guaranteed, in up to 500 letters."},
	"guarantees_pkey":           {domain.Conflict, "id", "A guarantee with this id is kept already."},
})

// reinspectionFrom is for every query whose columns are those of a reinspection.
func reinspectionFrom(r queries.DueByRow) practice.Reinspection {
	if !r.BookedOpen {
		r.BookedJob, r.BookedNumber = nil, ""
	}
	if !r.AnsweredOpen {
		r.AnsweredByJob, r.AnsweredNumber = nil, ""
	}
	return practice.Reinspection{
		ID: r.ID, DueFrom: r.DueFrom, DueTo: r.DueTo, Reason: r.Reason, Tag: r.Tag, Code: r.Code, Wants: r.Wants, WaitsFor: r.WaitsFor,
		DaysAshore: r.DaysAshore, Instrument: r.Instrument, State: r.State, StateReason: r.StateReason, SnoozedUntil: r.SnoozedUntil, MovedAt: r.MovedAt,
		MovedBy: r.MovedBy, RecalledAt: r.RecalledAt, RecalledTo: r.RecalledTo, BookedJob: r.BookedJob, BookedNumber: r.BookedNumber,
		AnsweredJob: r.AnsweredByJob, AnsweredNumber: r.AnsweredNumber, Recommendation: r.RecommendationID, Grade: r.Grade, Recommended: r.Recommended, Version: r.Version,
		Vessel: boat(r.VesselID, r.VesselName, r.VesselKind, r.LoaMm, r.MouldedYear, r.HullNumber, r.Figure, r.Yard, r.LiftedAt, r.YardZone, r.LastPassAt),
	}
}

// Reinspections implements practice.ReinspectionReader.
func (s *Store) Reinspections(ctx context.Context, p uuid.UUID, show string, afterDue, now time.Time, page practice.Page, who practice.Sees) ([]practice.Reinspection, practice.ReinspectionCounts, error) {
	var rows []queries.DueByRow
	var counts *queries.CountReinspectionsRow
	guest, self, member := whom(who)
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		many(b, &rows, queries.ListReinspections, guest, self, member, now, p, afterDue, page.AfterID, show, int32(practice.DefaultAhead), int32(page.First+1))
		one(b, &counts, queries.CountReinspections, int32(practice.DefaultAhead), now, p, guest, self, member)
	})
	if err != nil {
		return nil, practice.ReinspectionCounts{}, err
	}
	return convert(rows, reinspectionFrom), practice.ReinspectionCounts(*counts), nil
}

// Reinspection implements practice.ReinspectionReader.
func (s *Store) Reinspection(ctx context.Context, p, id uuid.UUID, now time.Time, who practice.Sees) (practice.Reinspection, error) {
	var row *queries.DueByRow
	guest, self, member := whom(who)
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) { one(b, &row, queries.GetReinspection, guest, self, member, now, p, id) })
	if err == nil && row == nil {
		err = domain.ErrNotFound
	}
	if err != nil {
		return practice.Reinspection{}, err
	}
	return reinspectionFrom(*row), nil
}

// Reinspection implements practice.ReinspectionWriter.
func (tx *inPractice) Reinspection(ctx context.Context, id uuid.UUID, now time.Time, who practice.Sees) (practice.Reinspection, error) {
	row, err := found(tx.q.GetReinspection(ctx, queries.GetReinspectionParams{Now: now, PracticeID: tx.practice, ID: id, Guest: who.Guest, Self: who.Self, Member: who.Member}))
	return reinspectionFrom(queries.DueByRow(row)), fault("read reinspection", err)
}

// InsertReinspection implements practice.ReinspectionWriter.
func (tx *inPractice) InsertReinspection(ctx context.Context, r practice.NewReinspection, now time.Time) error {
	wants := r.Wants
	if wants == nil {
		wants = []string{}
	}
	return fault("insert reinspection", tx.q.InsertReinspection(ctx, queries.InsertReinspectionParams{
		PracticeID: tx.practice, ID: r.ID, VesselID: r.Vessel, RecommendationID: r.Recommendation, DueFrom: r.From, DueTo: r.To, Reason: r.Reason, Tag: r.Tag,
		Code: r.Code, ReportID: r.Report, Wants: wants, DaysAshore: r.DaysAshore, InstrumentID: r.Instrument, WaitsFor: r.WaitsFor, Now: &now,
	}))
}

// MoveReinspection implements practice.ReinspectionWriter.
func (tx *inPractice) MoveReinspection(ctx context.Context, m practice.MoveReinspection, by *uuid.UUID, now time.Time) error {
	return fault("move reinspection", changed(tx.q.MoveReinspection(ctx, queries.MoveReinspectionParams{
		PracticeID: tx.practice, ID: m.ID, Version: m.Version, State: m.State, StateReason: m.Reason, SnoozedUntil: m.Until, BookedJob: m.Job, Now: now, MovedBy: by,
	})))
}

// AnswerReinspections implements practice.ReinspectionWriter.
func (tx *inPractice) AnswerReinspections(ctx context.Context, job uuid.UUID, answers []practice.Answered, by *uuid.UUID, now time.Time) error {
	if len(answers) == 0 {
		return nil
	}
	in := queries.AnswerReinspectionsParams{PracticeID: tx.practice, JobID: job, Now: now, MovedBy: by}
	for _, a := range answers {
		in.Ids, in.Notes = append(in.Ids, a.ID), append(in.Notes, a.Note)
	}
	return fault("answer reinspections", tx.q.AnswerReinspections(ctx, in))
}

// AnswerReinspectionsOf implements practice.ReinspectionWriter.
func (tx *inPractice) AnswerReinspectionsOf(ctx context.Context, recommendation uuid.UUID, note string, by *uuid.UUID, now time.Time) error {
	return fault("answer reinspections", tx.q.AnswerReinspectionsOf(ctx, queries.AnswerReinspectionsOfParams{
		PracticeID: tx.practice, RecommendationID: &recommendation, Note: note, MovedBy: by, Now: now,
	}))
}

// ReinspectionFacts implements practice.ReinspectionWriter.
func (tx *inPractice) ReinspectionFacts(ctx context.Context, job uuid.UUID) (practice.ReinspectionFacts, bool, error) {
	r, err := tx.q.ReinspectionFacts(ctx, queries.ReinspectionFactsParams{PracticeID: tx.practice, JobID: job})
	if errors.Is(err, pgx.ErrNoRows) {
		return practice.ReinspectionFacts{}, false, nil
	}
	if err != nil {
		return practice.ReinspectionFacts{}, false, fault("read what the next look depends on", err)
	}
	f := practice.ReinspectionFacts{
		Built: r.MouldedYear, Polyester: r.Polyester, Visited: r.Visited, NextLift: r.NextLift, Launch: r.Launch, Treated: r.Treated, Grounded: r.Grounded,
		GuaranteeEnd: r.GuaranteeEnd, Metered: r.Metered, LookedWet: r.LookedWet, Opened: r.Opened, Outside: r.Outside,
	}
	m, err := tx.q.LastMeterVisit(ctx, queries.LastMeterVisitParams{PracticeID: tx.practice, JobID: job})
	if errors.Is(err, pgx.ErrNoRows) {
		return f, true, nil
	}
	f.Instrument = m.InstrumentID
	if ashore, _, ok := practice.DaysAshore(&m.Lift, m.Precision, m.Zone, m.FromAt); ok && !m.Lift.IsZero() {
		n := int32(ashore)
		f.DaysAshore = &n
	}
	return f, true, fault("read the last meter visit", err)
}

// OpenAdvice implements practice.ReinspectionWriter.
func (tx *inPractice) OpenAdvice(ctx context.Context, vessel uuid.UUID) ([]practice.OpenAdvice, error) {
	rows, err := tx.q.OpenAdvice(ctx, queries.OpenAdviceParams{PracticeID: tx.practice, VesselID: vessel})
	return convert(rows, func(r queries.OpenAdviceRow) practice.OpenAdvice { return practice.OpenAdvice(r) }), fault("read open recommendations", err)
}

func openFrom(r queries.OpenReinspectionsRow) practice.OpenReinspection {
	return practice.OpenReinspection{
		ID: r.ID, Recommendation: r.RecommendationID, Code: r.Code, From: r.DueFrom, To: r.DueTo, WaitsFor: r.WaitsFor, DaysAshore: r.DaysAshore, Instrument: r.InstrumentID,
	}
}

// OpenReinspections implements practice.ReinspectionWriter.
func (tx *inPractice) OpenReinspections(ctx context.Context, vessel uuid.UUID) ([]practice.OpenReinspection, error) {
	rows, err := tx.q.OpenReinspections(ctx, queries.OpenReinspectionsParams{PracticeID: tx.practice, VesselID: vessel})
	return convert(rows, openFrom), fault("read open reinspections", err)
}

// InsertGuarantee implements practice.ReinspectionWriter.
func (tx *inPractice) InsertGuarantee(ctx context.Context, g practice.Guarantee, now time.Time) error {
	return fault("insert guarantee", tx.q.InsertGuarantee(ctx, queries.InsertGuaranteeParams{
		PracticeID: tx.practice, ID: g.ID, VesselID: g.Vessel, What: g.What, GivenBy: g.GivenBy, EndsOn: g.EndsOn, Source: g.Source, Now: now,
	}))
}

// marks are a rule's windows as they are kept: months and days to the first and the last.
type marks = map[due.Kind][][4]int

func settingsFrom(r *queries.ReinspectionSettingsRow, said []queries.OwnFiguresRow) (practice.ReinspectionSettings, error) {
	s := practice.ReinspectionSettings{Rules: map[due.Kind][]due.Mark{}, AheadDays: practice.DefaultAhead}
	var err error
	if s.Said, err = figuresFrom(said); err != nil || r == nil {
		return s, err
	}
	s.RecallMonthly, s.AheadDays, s.Opening, s.Closing, s.Version = r.RecallMonthly, r.RecallAheadDays, r.RecallOpening, r.RecallClosing, r.Version
	var kept marks
	if err := json.Unmarshal(r.Rules, &kept); err != nil {
		return s, fmt.Errorf("read rules of reinspection: %w", err)
	}
	for kind, list := range kept {
		for _, m := range list {
			s.Rules[kind] = append(s.Rules[kind], due.Mark{From: due.Span{Months: m[0], Days: m[1]}, To: due.Span{Months: m[2], Days: m[3]}})
		}
	}
	return s, nil
}

// ReinspectionSettings implements practice.ReinspectionReader.
func (s *Store) ReinspectionSettings(ctx context.Context, p uuid.UUID) (practice.ReinspectionSettings, error) {
	var (
		row  *queries.ReinspectionSettingsRow
		said []queries.OwnFiguresRow
	)
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		one(b, &row, queries.ReinspectionSettings, p)
		many(b, &said, queries.OwnFigures, p)
	})
	if err != nil {
		return practice.ReinspectionSettings{}, err
	}
	return settingsFrom(row, said)
}

// ReinspectionSettings implements practice.ReinspectionWriter.
func (tx *inPractice) ReinspectionSettings(ctx context.Context) (practice.ReinspectionSettings, error) {
	said, err := tx.q.OwnFigures(ctx, tx.practice)
	if err != nil {
		return practice.ReinspectionSettings{}, fault("read the practice's own figures", err)
	}
	row, err := tx.q.ReinspectionSettings(ctx, tx.practice)
	switch {
	case errors.Is(err, pgx.ErrNoRows):
		return settingsFrom(nil, said)
	case err != nil:
		return practice.ReinspectionSettings{}, fault("read rules of reinspection", err)
	}
	return settingsFrom(&row, said)
}

// KeepReinspectionSettings implements practice.ReinspectionWriter.
func (tx *inPractice) KeepReinspectionSettings(ctx context.Context, s practice.ReinspectionSettings) error {
	kept := marks{}
	for kind, list := range s.Rules {
		for _, m := range list {
			kept[kind] = append(kept[kind], [4]int{m.From.Months, m.From.Days, m.To.Months, m.To.Days})
		}
	}
	rules, err := json.Marshal(kept)
	if err != nil {
		return fmt.Errorf("keep rules of reinspection: %w", err)
	}
	in := queries.UpdateReinspectionSettingsParams{
		PracticeID: tx.practice, Rules: rules, RecallMonthly: s.RecallMonthly, RecallAheadDays: s.AheadDays, RecallOpening: s.Opening, RecallClosing: s.Closing, Version: s.Version,
	}
	if s.Version == 0 {
		return fault("keep rules of reinspection", changed(tx.q.KeepReinspectionSettings(ctx, queries.KeepReinspectionSettingsParams{
			PracticeID: in.PracticeID, Rules: in.Rules, RecallMonthly: in.RecallMonthly, RecallAheadDays: in.RecallAheadDays, RecallOpening: in.RecallOpening,
			RecallClosing: in.RecallClosing,
		})))
	}
	return fault("keep rules of reinspection", changed(tx.q.UpdateReinspectionSettings(ctx, in)))
}

// farAhead is how many days ahead one letter looks, so that it asks for one visit rather
// than for two in a half-year.
const farAhead = 183

func recallFrom(f queries.RecallFactsRow, lines []queries.RecallLinesRow) practice.Recall {
	return practice.Recall{
		Vessel: f.VesselID, VesselName: f.VesselName, PracticeName: f.PracticeName, PracticeEmail: f.PracticeEmail, PracticePhone: f.PracticePhone, Invented: f.Invented,
		Party: f.PartyID, PartyName: f.PartyName, PartyEmail: f.PartyEmail, Day: f.Day, Lines: convert(lines, recallLineFrom),
	}
}

func recallLineFrom(r queries.RecallLinesRow) practice.RecallLine {
	return practice.RecallLine{
		ID: r.ID, From: r.DueFrom, To: r.DueTo, Reason: r.Reason, Wants: r.Wants, Instrument: r.Instrument, RecalledAt: r.RecalledAt, Client: r.ClientID, Cite: r.Cite,
	}
}

// Recall implements practice.ReinspectionReader.
func (s *Store) Recall(ctx context.Context, p, vessel uuid.UUID, party *uuid.UUID, now time.Time, who practice.Sees) (practice.Recall, error) {
	var facts *queries.RecallFactsRow
	var lines []queries.RecallLinesRow
	guest, self, member := whom(who)
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		one(b, &facts, queries.RecallFacts, now, p, party, vessel)
		many(b, &lines, queries.RecallLines, now, p, vessel, int32(farAhead), guest, self, member)
	})
	if err == nil && facts == nil {
		err = domain.ErrNotFound
	}
	if err != nil {
		return practice.Recall{}, err
	}
	return recallFrom(*facts, lines), nil
}

// Recall implements practice.ReinspectionWriter.
func (tx *inPractice) Recall(ctx context.Context, vessel, party uuid.UUID, now time.Time, who practice.Sees) (practice.Recall, error) {
	f, err := found(tx.q.RecallFacts(ctx, queries.RecallFactsParams{Now: now, PracticeID: tx.practice, PartyID: &party, VesselID: vessel}))
	if err != nil {
		return practice.Recall{}, fault("read whom to recall", err)
	}
	lines, err := tx.q.RecallLines(ctx, queries.RecallLinesParams{
		Now: now, PracticeID: tx.practice, VesselID: vessel, Within: farAhead, Guest: who.Guest, Self: who.Self, Member: who.Member,
	})
	return recallFrom(f, lines), fault("read what to recall for", err)
}

// MarkRecalled implements practice.ReinspectionWriter.
func (tx *inPractice) MarkRecalled(ctx context.Context, ids []uuid.UUID, party uuid.UUID, now time.Time) error {
	return fault("note recall", tx.q.MarkRecalled(ctx, queries.MarkRecalledParams{PracticeID: tx.practice, Ids: ids, PartyID: party, Now: now}))
}

// recalledLately is how long one letter is enough.
const recalledLately = 80 * 24 * time.Hour

// RecallsDue implements practice.ReinspectionReader.
func (s *Store) RecallsDue(ctx context.Context, p uuid.UUID, ahead int32, now time.Time) ([]practice.RecallDue, error) {
	var rows []queries.RecallsDueRow
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) { many(b, &rows, queries.RecallsDue, now, p, ahead, now.Add(-recalledLately)) })
	return convert(rows, func(r queries.RecallsDueRow) practice.RecallDue {
		return practice.RecallDue{Vessel: r.VesselID, Party: r.PartyID}
	}), err
}
