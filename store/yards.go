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
	"yards_latitude_range":       {domain.Invalid, "latitudeE6", "A latitude lies between -90 and 90 degrees."},
	"yards_longitude_range":      {domain.Invalid, "longitudeE6", "A longitude lies between -180 and 180 degrees."},
	"yards_tide_within_positive": {domain.Invalid, "tideWithinMinutes", "Give how many minutes from a high water the yard lifts, above 0."},
	"yard_links_pkey":            {domain.Conflict, "id", "A link with this id is kept already."},
})

// Yard implements practice.YardReader: the yard with its slots, tides and links in one trip.
func (s *Store) Yard(ctx context.Context, p, id uuid.UUID, from, to time.Time) (practice.Yard, error) {
	var row *queries.GetYardRow
	var slots []queries.DiarySpellsRow
	var tides []queries.DiaryTidesRow
	var links []queries.LinksOfYardRow
	var weather []queries.WeatherOfYardRow
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		one(b, &row, queries.GetYard, p, id)
		many(b, &slots, queries.SlotsOfYard, p, id, from, to)
		many(b, &tides, queries.TidesOfYard, p, id, from, to)
		many(b, &links, queries.LinksOfYard, p, id)
		many(b, &weather, queries.WeatherOfYard, id, p, from, to)
	})
	if err == nil && row == nil {
		err = domain.ErrNotFound
	}
	if err != nil {
		return practice.Yard{}, err
	}
	return practice.Yard{
		DiaryYard: practice.DiaryYard{
			PartyLine: practice.PartyLine{ID: row.ID, Name: row.Name, Kind: row.Kind, IsYard: row.IsYard}, Phone: row.Phone, TimeZone: row.TimeZone,
			LiftHours: row.LiftHours, Rules: row.Rules, LatitudeE6: row.LatitudeE6, LongitudeE6: row.LongitudeE6, TidePlace: row.TidePlace, TideWithinMinutes: row.TideWithinMinutes,
		},
		Email: row.Email, Address: row.Address, KeyPlace: row.KeyPlace, GateCode: row.GateCode, Version: row.Version, Slots: convert(slots, diarySpellFrom),
		Tides:   convert(tides, func(t queries.DiaryTidesRow) practice.Tide { return practice.Tide(t) }),
		Weather: convert(weather, func(w queries.WeatherOfYardRow) practice.Weather { return practice.Weather(w) }),
		Links:   convert(links, func(l queries.LinksOfYardRow) practice.YardLink { return practice.YardLink(l) }),
	}, nil
}

// SetYard implements practice.YardWriter.
func (tx *inPractice) SetYard(ctx context.Context, in practice.DescribeYard) error {
	row := queries.UpdateYardParams{
		PracticeID: tx.practice, PartyID: in.Yard, Version: in.Version, LiftHours: in.LiftHours, Rules: in.Rules, KeyPlace: in.KeyPlace, GateCode: in.GateCode,
		LatitudeE6: in.LatitudeE6, LongitudeE6: in.LongitudeE6, TidePlace: in.TidePlace, TideWithinMinutes: in.TideWithinMinutes,
	}
	if in.Version > 0 {
		return fault("update yard", changed(tx.q.UpdateYard(ctx, row)))
	}
	return fault("insert yard", changed(tx.q.InsertYard(ctx, queries.InsertYardParams{
		PracticeID: row.PracticeID, PartyID: row.PartyID, LiftHours: row.LiftHours, Rules: row.Rules, KeyPlace: row.KeyPlace, GateCode: row.GateCode,
		LatitudeE6: row.LatitudeE6, LongitudeE6: row.LongitudeE6, TidePlace: row.TidePlace, TideWithinMinutes: row.TideWithinMinutes,
	})))
}

// SetSlot implements practice.YardWriter.
func (tx *inPractice) SetSlot(ctx context.Context, in practice.DescribeSlot) error {
	return fault("keep slot", tx.q.SetSlot(ctx, queries.SetSlotParams{
		PracticeID: tx.practice, SpellID: in.Spell, WashAt: in.WashAt, ChockAt: in.ChockAt, ShiftAt: in.ShiftAt, Pays: in.Pays, Told: in.Told,
	}))
}

// YardNamed implements practice.YardWriter.
func (tx *inPractice) YardNamed(ctx context.Context, party uuid.UUID) (string, error) {
	name, err := found(tx.q.YardNamed(ctx, queries.YardNamedParams{PracticeID: tx.practice, ID: party}))
	return name, fault("read yard", err)
}

// InsertYardLink implements practice.YardWriter.
func (tx *inPractice) InsertYardLink(ctx context.Context, in practice.ShareYard, hash [32]byte, by *uuid.UUID, now time.Time) error {
	return fault("insert link", tx.q.InsertYardLink(ctx, queries.InsertYardLinkParams{
		PracticeID: tx.practice, ID: in.ID, YardID: in.Yard, Name: in.Name, Email: in.Email, TokenSha256: hash[:], Now: now, ByID: by, Until: in.Until,
	}))
}

// RevokeYardLink implements practice.YardWriter.
func (tx *inPractice) RevokeYardLink(ctx context.Context, id uuid.UUID, now time.Time) (uuid.UUID, error) {
	yard, err := found(tx.q.RevokeYardLink(ctx, queries.RevokeYardLinkParams{PracticeID: tx.practice, ID: id, Now: &now}))
	return yard, fault("revoke link", err)
}

// YardLinkByToken implements practice.YardReader, through the door: no practice is known yet.
func (s *Store) YardLinkByToken(ctx context.Context, hash [32]byte, now time.Time) (p, link uuid.UUID, err error) {
	return s.linkByToken(ctx, `select practice_id, link_id from door.yard_link_by_token($1, $2)`, hash, now)
}

// YardSlots implements practice.YardReader.
func (s *Store) YardSlots(ctx context.Context, p, link uuid.UUID, from, now time.Time) (practice.YardSlots, error) {
	var row *queries.OpenYardLinkRow
	var slots []queries.SlotsOfLinkRow
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		one(b, &row, queries.OpenYardLink, now, p, link)
		many(b, &slots, queries.SlotsOfLink, p, link, from)
	})
	if err == nil && row == nil {
		err = domain.ErrNotFound
	}
	if err != nil {
		return practice.YardSlots{}, err
	}
	out := practice.YardSlots{PracticeName: row.PracticeName, Invented: row.Invented, YardName: row.YardName, ForName: row.Name, Until: row.Until}
	for _, r := range slots {
		out.Slots = append(out.Slots, practice.YardSlot{
			Boat: r.Boat, BoatKind: r.Kind, LoaMm: r.LoaMm, TimeZone: r.TimeZone, Lift: r.Lift, Launch: r.Launch, Lifted: r.Lifted, Launched: r.Launched,
			AskedOnly: r.AskedOnly, Held: r.Held, UnderCover: r.UnderCover, WashAt: r.WashAt, ChockAt: r.ChockAt, ShiftAt: r.ShiftAt, Told: r.Told,
		})
	}
	return out, nil
}
