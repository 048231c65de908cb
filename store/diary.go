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

// longestVisit is how long before a span a visit may have begun that reaches into it.
const longestVisit = 31 * 24 * time.Hour

// diaryRead is the diary on its way.
type diaryRead struct {
	practice    *queries.GetPracticeRow
	members     []queries.DiaryMembersRow
	visits      []queries.DiaryVisitsRow
	spells      []queries.DiarySpellsRow
	leaves      []queries.DiaryLeavesRow
	tides       []queries.DiaryTidesRow
	weather     []queries.DiaryWeatherRow
	yards       []queries.DiaryYardsRow
	instruments []queries.DiaryInstrumentsRow
	hulls       []queries.DiaryHullsRow
	unplaced    []queries.GetJobLineRow
	moves       []queries.DiaryMovesRow
	own         []queries.OwnFiguresRow
	declined    []queries.DeclinedOfVesselRow
	washes      []time.Time
}

// Diary implements practice.DiaryReader: all of it in one trip.
func (s *Store) Diary(ctx context.Context, p uuid.UUID, span practice.DiarySpan, who practice.Sees) (practice.Diary, error) {
	var r diaryRead
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		r.queue(b, p, span, who)
		r.queueMore(b, p, span, who)
	})
	if err != nil {
		return practice.Diary{}, err
	}
	return r.diary(span)
}

// Diary implements practice.CheckWriter.
func (tx *inPractice) Diary(ctx context.Context, span practice.DiarySpan, who practice.Sees) (practice.Diary, error) {
	var r diaryRead
	b := &pgx.Batch{}
	r.queue(b, tx.practice, span, who)
	if err := tx.tx.SendBatch(ctx, b).Close(); err != nil {
		return practice.Diary{}, fault("read the diary", err)
	}
	return r.diary(span)
}

// queue asks for all that a visit is judged by.
func (r *diaryRead) queue(b *pgx.Batch, p uuid.UUID, span practice.DiarySpan, who practice.Sees) {
	guest, self, member := whom(who)
	one(b, &r.practice, queries.GetPractice, p)
	many(b, &r.members, queries.DiaryMembers, p, span.From, span.To)
	many(b, &r.visits, queries.DiaryVisits, guest, self, member, p, span.To, span.From.Add(-longestVisit), span.From)
	many(b, &r.spells, queries.DiarySpells, p, span.From, span.To)
	many(b, &r.leaves, queries.DiaryLeaves, p, span.From, span.To)
	many(b, &r.tides, queries.DiaryTides, p, span.From, span.To)
	many(b, &r.weather, queries.DiaryWeather, p, span.From.Add(-longestVisit), span.To)
	many(b, &r.yards, queries.DiaryYards, p)
	many(b, &r.instruments, queries.DiaryInstruments, p)
	many(b, &r.hulls, queries.DiaryHulls, self, member, p, span.Vessel, span.To, span.From)
	many(b, &r.own, queries.OwnFigures, p)
}

// queueMore asks for what a board shows beside: jobs without a visit, and moves.
func (r *diaryRead) queueMore(b *pgx.Batch, p uuid.UUID, span practice.DiarySpan, who practice.Sees) {
	guest, self, member := whom(who)
	many(b, &r.unplaced, queries.DiaryUnplaced, p, guest, self, member)
	if !span.MovedSince.IsZero() {
		many(b, &r.moves, queries.DiaryMoves, p, span.MovedSince, span.Spell)
	}
	if span.Vessel != nil {
		many(b, &r.declined, queries.DeclinedOfVessel, p, *span.Vessel)
		column(b, &r.washes, queries.WashesOfVessel, p, *span.Vessel, span.From, span.To)
	}
}

func (r *diaryRead) diary(span practice.DiarySpan) (practice.Diary, error) {
	if r.practice == nil {
		return practice.Diary{}, domain.ErrNotFound
	}
	own, err := figuresFrom(r.own)
	return practice.Diary{
		From: span.From, To: span.To, Practice: practiceFrom(*r.practice), Unplaced: convert(r.unplaced, jobLineFrom),
		Members: convert(r.members, diaryMemberFrom), Visits: convert(r.visits, diaryVisitFrom), Spells: convert(r.spells, diarySpellFrom),
		Leaves: convert(r.leaves, func(l queries.DiaryLeavesRow) practice.Leave {
			return practice.Leave{ID: l.ID, MemberID: l.MemberID, From: l.FromAt, To: l.ToAt, Reason: l.Reason}
		}),
		Tides:       convert(r.tides, func(t queries.DiaryTidesRow) practice.Tide { return practice.Tide(t) }),
		Weather:     convert(r.weather, func(w queries.DiaryWeatherRow) practice.Weather { return practice.Weather(w) }),
		Instruments: convert(r.instruments, func(i queries.DiaryInstrumentsRow) practice.DiaryInstrument { return practice.DiaryInstrument(i) }),
		Yards:       convert(r.yards, diaryYardFrom), Hulls: convert(r.hulls, hullFrom),
		Moves: convert(r.moves, func(m queries.DiaryMovesRow) practice.MadeMove { return practice.MadeMove(m) }),
		Own:   own, Washes: r.washes,
		Declined: convert(r.declined, func(d queries.DeclinedOfVesselRow) practice.DeclinedVisit { return practice.DeclinedVisit(d) }),
	}, err
}

func diaryMemberFrom(r queries.DiaryMembersRow) practice.DiaryMember {
	return practice.DiaryMember{MemberLine: practice.MemberLine{ID: r.ID, Name: r.Name, Roles: r.Roles, Active: r.Active}, Email: r.Email, Kinds: r.Kinds, JudgedOn: r.JudgedOn, JudgedBy: r.JudgedBy}
}

func diaryVisitFrom(r queries.DiaryVisitsRow) practice.DiaryVisit {
	v := practice.DiaryVisit{
		ID: r.ID, Kind: r.Kind, From: r.FromAt, To: r.ToAt, TimeZone: r.TimeZone, State: r.State, LeadID: r.LeadID, SpellID: r.SpellID,
		FollowsID: r.FollowsVisitID, Version: r.Version, JobID: r.JobID, JobNumber: r.Number, JobKind: r.JobKind, JobStage: r.JobStage,
		VesselID: r.VesselID, VesselName: r.VesselName, People: r.People, Instruments: r.Instruments, Open: r.Open,
	}
	if len(r.OverrideCodes) > 0 {
		v.Overrides = make(map[string]string, len(r.OverrideCodes))
		for k, code := range r.OverrideCodes {
			v.Overrides[code] = r.OverrideReasons[k]
		}
	}
	return v
}

func diarySpellFrom(r queries.DiarySpellsRow) practice.DiarySpell { return practice.DiarySpell(r) }

func diaryYardFrom(r queries.DiaryYardsRow) practice.DiaryYard {
	return practice.DiaryYard{
		PartyLine: practice.PartyLine{ID: r.ID, Name: r.Name, Kind: r.Kind, IsYard: r.IsYard}, Phone: r.Phone, TimeZone: r.TimeZone, LiftHours: r.LiftHours, Rules: r.Rules,
		LatitudeE6: r.LatitudeE6, LongitudeE6: r.LongitudeE6, TidePlace: r.TidePlace, TideWithinMinutes: r.TideWithinMinutes,
	}
}

func hullFrom(r queries.DiaryHullsRow) practice.Hull {
	h := practice.Hull{
		VesselID: r.ID, MouldedYear: r.MouldedYear, Construction: r.Construction, Coating: r.Coating, Launches: r.Launches, MeteredWith: r.MeteredWith, Leads: r.Leads,
	}
	if r.MeteredID != uuid.Nil {
		h.Metered = &practice.Metered{Visit: r.MeteredID, At: r.MeteredAt, Precision: r.MeteredPrecision, Zone: r.MeteredZone, LeadID: orNull(r.MeteredBy)}
		if r.MeteredPrecision != "" { // its time ashore is known
			h.Metered.Lift = &r.MeteredLift
		}
	}
	return h
}

// InsertLeave implements practice.LeaveWriter.
func (tx *inPractice) InsertLeave(ctx context.Context, l practice.Leave) error {
	return fault("insert leave", tx.q.InsertLeave(ctx, queries.InsertLeaveParams{PracticeID: tx.practice, ID: l.ID, MemberID: l.MemberID, FromAt: l.From, ToAt: l.To, Reason: l.Reason}))
}

// DeleteLeave implements practice.LeaveWriter.
func (tx *inPractice) DeleteLeave(ctx context.Context, id uuid.UUID) (uuid.UUID, error) {
	member, err := found(tx.q.DeleteLeave(ctx, queries.DeleteLeaveParams{PracticeID: tx.practice, ID: id}))
	return member, fault("delete leave", err)
}

// MemberActive implements practice.LeaveWriter.
func (tx *inPractice) MemberActive(ctx context.Context, member uuid.UUID) error {
	_, err := found(tx.q.GetMemberLine(ctx, queries.GetMemberLineParams{PracticeID: tx.practice, ID: member}))
	return fault("read member", err)
}

// InsertTides implements practice.LeaveWriter.
func (tx *inPractice) InsertTides(ctx context.Context, in practice.AddTides) (int, error) {
	ids, heights := make([]uuid.UUID, len(in.Times)), make([]*int32, len(in.Times))
	for k := range ids {
		var err error
		if ids[k], err = uuid.NewV7(); err != nil {
			return 0, err
		}
		if len(in.HeightsMm) > 0 && in.HeightsMm[k] != practice.Null {
			heights[k] = &in.HeightsMm[k]
		}
	}
	tag, err := tx.tx.Exec(ctx, queries.InsertTides, tx.practice, in.Place, in.Source, ids, in.Times, heights)
	return int(tag.RowsAffected()), fault("insert tides", err)
}

// DeleteTides implements practice.LeaveWriter.
func (tx *inPractice) DeleteTides(ctx context.Context, place string, from, to time.Time) (int, error) {
	n, err := tx.q.DeleteTides(ctx, queries.DeleteTidesParams{PracticeID: tx.practice, Place: place, FromAt: from, ToAt: to})
	return int(n), fault("delete tides", err)
}

// InsertWeather implements practice.LeaveWriter.
func (tx *inPractice) InsertWeather(ctx context.Context, in practice.RecordWeather) (int, error) {
	n, err := tx.q.InsertWeather(ctx, queries.InsertWeatherParams{
		PracticeID: tx.practice, ID: in.ID, Place: in.Place, At: in.At, AirDecidegrees: in.AirDecidegrees, HumidityPermille: in.HumidityPermille, RainMm: in.RainMm, Source: in.Source,
	})
	return int(n), fault("insert weather record", err)
}
