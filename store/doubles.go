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
	"party_merges_pkey":          {domain.Conflict, "id", "A merge with this id is kept already."},
	"party_merges_once":          {domain.Conflict, "lost", "This entry was merged already."},
	"party_merges_because_given": {domain.Invalid, "because", "Say in up to 500 letters how you know that they are one."},
})

// PartiesToCompare implements practice.DoubleReader, in one trip.
func (s *Store) PartiesToCompare(ctx context.Context, p uuid.UUID) ([]practice.Party, [][2]uuid.UUID, error) {
	var rows []queries.PartiesToCompareRow
	var apart []queries.PartiesApartRow
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		many(b, &rows, queries.PartiesToCompare, p)
		many(b, &apart, queries.PartiesApart, p)
	})
	return convert(rows, func(r queries.PartiesToCompareRow) practice.Party {
			return practice.Party{ID: r.ID, Kind: r.Kind, Name: r.Name, Email: r.Email, Phone: r.Phone, Address: r.Address, IsYard: r.IsYard}
		}), convert(apart, func(r queries.PartiesApartRow) [2]uuid.UUID {
			return [2]uuid.UUID{r.FirstID, r.SecondID}
		}), err
}

// pointsToParty counts what points to a party, table by table of the catalogue.
const pointsToParty = `select place, points from party_points($1, $2) where points > 0 order by place`

// PartiesBeside implements practice.DoubleReader, in one trip.
func (s *Store) PartiesBeside(ctx context.Context, p, first, second uuid.UUID, who practice.Sees) (practice.Beside, error) {
	ids := []uuid.UUID{first, second}
	var pages [2]*queries.GetPartyRow
	var points [2][]practice.Points
	var facing []queries.FacingRolesRow
	parts := partyParts{want: practice.PartyParts{Roles: true, Jobs: true}, who: who}
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		for k, id := range ids {
			one(b, &pages[k], queries.GetParty, p, id, who.Guest, who.Member)
			many(b, &points[k], pointsToParty, p, id)
		}
		parts.queue(b, p, ids)
		many(b, &facing, queries.FacingRoles, second, p, first)
	})
	if err == nil && (pages[0] == nil || pages[1] == nil) {
		err = domain.ErrNotFound
	}
	if err != nil {
		return practice.Beside{}, err
	}
	return practice.Beside{
		First:  practice.PartySide{PartyPage: parts.of(practice.Party(*pages[0])), Points: points[0]},
		Second: practice.PartySide{PartyPage: parts.of(practice.Party(*pages[1])), Points: points[1]},
		Facing: convert(facing, func(r queries.FacingRolesRow) practice.Facing {
			return practice.Facing{Vessel: r.Vessel, First: r.FirstRole, Second: r.SecondRole}
		}),
	}, nil
}

// PartyMerges implements practice.DoubleReader.
func (s *Store) PartyMerges(ctx context.Context, p uuid.UUID, before time.Time, page practice.Page) ([]practice.PartyMerge, error) {
	var rows []queries.PartyMergesRow
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) { many(b, &rows, queries.PartyMerges, p, before, page.AfterID, int32(page.First+1)) })
	return convert(rows, func(r queries.PartyMergesRow) practice.PartyMerge {
		return practice.PartyMerge{
			ID: r.ID, KeptID: r.KeptID, KeptName: r.KeptName, LostID: r.LostID, LostName: r.LostName, Because: r.Because, At: r.At, By: r.ByName,
			Followed: r.Followed, UndoneAt: r.UndoneAt, UndoneBy: r.UndoneBy, UndoneBecause: r.UndoneBecause, KeptIsGone: r.KeptIsGone,
		}
	}), err
}

// HoldParties implements practice.DoubleWriter.
func (tx *inPractice) HoldParties(ctx context.Context, ids ...uuid.UUID) (int, error) {
	rows, err := tx.q.HoldParties(ctx, queries.HoldPartiesParams{PracticeID: tx.practice, Ids: ids})
	return len(rows), fault("hold parties", err)
}

// InsertPartyMerge implements practice.DoubleWriter.
func (tx *inPractice) InsertPartyMerge(ctx context.Context, in practice.MergeParties, filled []string, at time.Time, by *uuid.UUID) error {
	return fault("insert merge", tx.q.InsertPartyMerge(ctx, queries.InsertPartyMergeParams{
		PracticeID: tx.practice, ID: in.ID, KeptID: in.Kept, LostID: in.Lost, Because: in.Because, Filled: filled, At: at, ByID: by,
	}))
}

// FollowParty implements practice.DoubleWriter.
func (tx *inPractice) FollowParty(ctx context.Context, in practice.MergeParties) error {
	return fault("follow party", tx.q.FollowParty(ctx, queries.FollowPartyParams{PracticeID: tx.practice, MergeID: in.ID, LostID: in.Lost, KeptID: in.Kept}))
}

// UnfollowParty implements practice.DoubleWriter.
func (tx *inPractice) UnfollowParty(ctx context.Context, m practice.HeldMerge) error {
	return fault("unfollow party", tx.q.UnfollowParty(ctx, queries.UnfollowPartyParams{PracticeID: tx.practice, MergeID: m.ID, LostID: m.LostID, KeptID: m.KeptID}))
}

// MarkMerged implements practice.DoubleWriter.
func (tx *inPractice) MarkMerged(ctx context.Context, party uuid.UUID, into *uuid.UUID) error {
	return fault("mark merged", tx.q.MarkMerged(ctx, queries.MarkMergedParams{PracticeID: tx.practice, ID: party, Into: into}))
}

// LookAnew implements practice.DoubleWriter.
func (tx *inPractice) LookAnew(ctx context.Context, party uuid.UUID) error {
	return fault("ask for conflicts anew", tx.q.LookAnew(ctx, queries.LookAnewParams{PracticeID: tx.practice, PartyID: party}))
}

// HoldPartyMerge implements practice.DoubleWriter.
func (tx *inPractice) HoldPartyMerge(ctx context.Context, id uuid.UUID) (practice.HeldMerge, error) {
	row, err := found(tx.q.HoldPartyMerge(ctx, queries.HoldPartyMergeParams{PracticeID: tx.practice, ID: id}))
	return practice.HeldMerge(row), fault("read merge", err)
}

// UndoPartyMerge implements practice.DoubleWriter.
func (tx *inPractice) UndoPartyMerge(ctx context.Context, id uuid.UUID, because string, at time.Time, by *uuid.UUID) error {
	return fault("undo merge", tx.q.UndoPartyMerge(ctx, queries.UndoPartyMergeParams{PracticeID: tx.practice, ID: id, Because: because, At: &at, ByID: by}))
}

// InsertPartiesApart implements practice.DoubleWriter.
func (tx *inPractice) InsertPartiesApart(ctx context.Context, first, second uuid.UUID, because string, at time.Time, by *uuid.UUID) error {
	return fault("tell parties apart", tx.q.InsertPartiesApart(ctx, queries.InsertPartiesApartParams{PracticeID: tx.practice, FirstID: first, SecondID: second, Because: because, At: at, ByID: by}))
}
