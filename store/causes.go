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
	"cause_judgements_judgement_known": {domain.Invalid, "judges", "A surveyor agrees, disagrees or adds."},
	"cause_judgements_reason_given":    {domain.Invalid, "reason", "Give the reason, in up to 2000 letters."},
	"cause_judgements_cause_length":    {domain.Invalid, "cause", "Name the cause in up to 100 letters."},
	"cause_judgements_pkey":            {domain.Conflict, "id", "A judgement with this id is kept already."},
	"cause_checks_note_length":         {domain.Invalid, "note", "Keep the note to 2000 letters."},
	"cause_checks_pkey":                {domain.Conflict, "id", "A check with this id is kept already."},
})

// CauseSources implements practice.CauseReader: all that ledgers are drawn from, in one trip.
func (s *Store) CauseSources(ctx context.Context, p, vessel uuid.UUID, who practice.Sees) (practice.CauseSources, error) {
	var (
		src        practice.CauseSources
		home       *queries.GetPracticeRow
		layers     []queries.LayersOfVesselRow
		events     []queries.EventsOfVesselRow
		findings   []queries.CauseFindingsOfVesselRow
		windows    []queries.CauseWindowsOfVesselRow
		conditions []queries.CauseConditionsOfVesselRow
		repeats    []queries.CauseRepeatsOfVesselRow
		checks     []queries.GetCauseCheckRow
		judgements []queries.CauseJudgementsOfVesselRow
	)
	guest, self, member := whom(who)
	history := historyInto(&src.History, p, vessel, who)
	history.evidence.cache = &s.measured
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		history.queue(b)
		one(b, &home, queries.GetPractice, p)
		many(b, &layers, queries.LayersOfVessel, p, vessel)
		many(b, &events, queries.EventsOfVessel, p, vessel)
		many(b, &findings, queries.CauseFindingsOfVessel, p, vessel, guest, self, member)
		many(b, &windows, queries.CauseWindowsOfVessel, p, vessel, guest, self, member)
		many(b, &conditions, queries.CauseConditionsOfVessel, p, vessel, guest, self, member)
		many(b, &repeats, queries.CauseRepeatsOfVessel, p, vessel)
		many(b, &checks, queries.CauseChecksOfVessel, p, vessel, guest, self, member)
		many(b, &judgements, queries.CauseJudgementsOfVessel, p, vessel, guest, self, member)
	})
	if err == nil {
		err = history.finish()
	}
	if err != nil {
		return src, err
	}
	if home != nil {
		src.Units = home.Units
	}
	src.Layers = convert(layers, func(r queries.LayersOfVesselRow) practice.Layer { return practice.Layer(r) })
	src.Events = convert(events, func(r queries.EventsOfVesselRow) practice.Event { return practice.Event(r) })
	src.Findings, src.Windows = convert(findings, causeFindingFrom), convert(windows, causeWindowFrom)
	src.Conditions = convert(conditions, func(r queries.CauseConditionsOfVesselRow) practice.CauseCondition { return practice.CauseCondition(r) })
	src.Repeats = convert(repeats, func(r queries.CauseRepeatsOfVesselRow) practice.CauseRepeat { return practice.CauseRepeat(r) })
	src.Checks, src.Judgements = convert(checks, causeCheckFrom), convert(judgements, causeJudgementFrom)
	return src, nil
}

func causeFindingFrom(r queries.CauseFindingsOfVesselRow) practice.CauseFinding {
	return practice.CauseFinding{
		ID: r.ID, VisitID: r.VisitID, Kind: r.Kind, Sure: r.Sure, Text: r.Text, Measured: r.Measured, Places: r.Places,
		Told: practice.Told{VisitAt: r.FromAt, TimeZone: r.TimeZone, ClientID: r.ClientID, Cite: r.Cite},
	}
}

func causeWindowFrom(r queries.CauseWindowsOfVesselRow) practice.CauseWindow {
	return practice.CauseWindow{
		Window: practice.Window{
			ID: r.ID, VisitID: r.VisitID, ElementID: r.ElementID, Side: r.Side, AlongMm: r.AlongMm, DownMm: r.DownMm, WidthMm: r.WidthMm,
			HeightMm: r.HeightMm, BaredTo: r.BaredTo, BlistersSeen: r.BlistersSeen,
		},
		Told: practice.Told{VisitAt: r.FromAt, TimeZone: r.TimeZone, ClientID: r.ClientID, Cite: r.Cite},
	}
}

func causeCheckFrom(r queries.GetCauseCheckRow) practice.CauseCheck {
	return practice.CauseCheck{
		ID: r.ID, VesselID: r.VesselID, VisitID: r.VisitID, Outcome: r.Outcome, Ordinals: r.Ordinals, FindingID: r.FindingID, Note: r.Note,
		ByID: r.ByID, ByName: r.ByName, At: r.At, WithdrawnAt: r.WithdrawnAt, WithdrawnReason: r.WithdrawnReason,
		Told: practice.Told{VisitAt: r.FromAt, TimeZone: r.TimeZone, ClientID: r.ClientID, Cite: r.Cite},
	}
}

func causeJudgementFrom(r queries.CauseJudgementsOfVesselRow) practice.CauseJudgement {
	return practice.CauseJudgement{
		ID: r.ID, VesselID: r.VesselID, VisitID: r.VisitID, Cause: r.Cause, Judgement: r.Judgement, Reason: r.Reason, Ordinals: r.Ordinals,
		ByID: r.ByID, ByName: r.ByName, At: r.At,
		Told: practice.Told{VisitAt: r.FromAt, TimeZone: r.TimeZone, ClientID: r.ClientID, Cite: r.Cite},
	}
}

// InsertCauseJudgement implements practice.CauseWriter.
func (tx *inPractice) InsertCauseJudgement(ctx context.Context, j practice.CauseJudgement) error {
	return fault("insert judgement", tx.q.InsertCauseJudgement(ctx, queries.InsertCauseJudgementParams{
		PracticeID: tx.practice, ID: j.ID, VesselID: j.VesselID, VisitID: j.VisitID, Cause: j.Cause, Judgement: j.Judgement, Reason: j.Reason,
		Ordinals: ordinalsOf(j.Ordinals), ByID: j.ByID, Now: j.At,
	}))
}

// InsertCauseCheck implements practice.CauseWriter.
func (tx *inPractice) InsertCauseCheck(ctx context.Context, c practice.CauseCheck) error {
	return fault("insert check", tx.q.InsertCauseCheck(ctx, queries.InsertCauseCheckParams{
		PracticeID: tx.practice, ID: c.ID, VesselID: c.VesselID, VisitID: c.VisitID, Outcome: c.Outcome, Ordinals: ordinalsOf(c.Ordinals),
		FindingID: c.FindingID, Note: c.Note, ByID: c.ByID, Now: c.At,
	}))
}

// ordinalsOf keeps a missing list from becoming a null.
func ordinalsOf(list []int32) []int32 {
	if list == nil {
		return []int32{}
	}
	return list
}

// CauseCheck implements practice.CauseWriter.
func (tx *inPractice) CauseCheck(ctx context.Context, id uuid.UUID, who practice.Sees) (practice.CauseCheck, error) {
	row, err := found(tx.q.GetCauseCheck(ctx, queries.GetCauseCheckParams{PracticeID: tx.practice, ID: id, Guest: who.Guest, Self: who.Self, Member: who.Member}))
	return causeCheckFrom(row), fault("read check", err)
}

// WithdrawCauseCheck implements practice.CauseWriter.
func (tx *inPractice) WithdrawCauseCheck(ctx context.Context, id uuid.UUID, reason string, now time.Time) error {
	return fault("withdraw check", changed(tx.q.WithdrawCauseCheck(ctx, queries.WithdrawCauseCheckParams{PracticeID: tx.practice, ID: id, Reason: reason, Now: &now})))
}
