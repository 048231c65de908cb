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
	"calendar_feeds_pkey":            {domain.Conflict, "id", "A feed with this id is kept already."},
	"calendar_feeds_purpose_known":   {domain.Invalid, "purpose", "A feed is of my visits, of all visits or of reinspections."},
	"calendar_feeds_one_live":        {domain.Conflict, "purpose", "Another address for the same purpose was made just now. Look at the list, then make yours again."},
	"visit_invitations_pkey":         {domain.Conflict, "id", "An invitation with this id is kept already."},
	"visit_invitations_method_known": {domain.Invalid, "visit", "A visit is asked to or called off."},
})

// chooseByFeed chooses the practice of a feed's token; one that opens nothing chooses none,
// and no practice means no rows.
const chooseByFeed = `select set_config('app.practice', coalesce((select f.practice_id::text from door.feed_by_token($1) f), ''), true)`

// Fed implements practice.FeedReader: a year's feed in one trip, its practice chosen in it.
func (s *Store) Fed(ctx context.Context, hash [32]byte, now time.Time) (practice.Fed, error) {
	conn, err := s.acquire(ctx)
	if err != nil {
		return practice.Fed{}, err
	}
	defer conn.Release()
	var (
		feed   *queries.FeedByTokenRow
		visits []queries.VisitsOfFeedRow
		again  []queries.ReinspectionsOfFeedRow
		b      = &pgx.Batch{}
		token  = hash[:]
	)
	b.Queue(chooseByFeed, token)
	one(b, &feed, queries.FeedByToken, token)
	many(b, &visits, queries.VisitsOfFeed, now.AddDate(0, -1, 0), now.AddDate(1, 0, 0), token)
	many(b, &again, queries.ReinspectionsOfFeed, now.AddDate(0, -1, 0), now.AddDate(1, 0, 0), token)
	b.Queue(queries.NoteFeedFetched, now, token)
	err = fault("read feed", conn.SendBatch(ctx, b).Close())
	if err == nil && feed == nil {
		err = domain.ErrNotFound
	}
	if err != nil {
		return practice.Fed{}, err
	}
	return practice.Fed{
		Feed: practice.Feed{ID: feed.ID, Purpose: feed.Purpose, Boats: feed.Boats, Clients: feed.Clients}, Hash: feed.TokenSha256,
		MemberName: feed.MemberName, PracticeName: feed.PracticeName, Visits: convert(visits, fedVisit), Reinspections: convert(again, fedReinspection),
	}, nil
}

func fedVisit(r queries.VisitsOfFeedRow) practice.FedVisit {
	return practice.FedVisit{
		ID: r.ID, Kind: r.Kind, From: r.FromAt, To: r.ToAt, State: r.State, Sequence: r.Sequence, RevisedAt: r.RevisedAt, JobNumber: r.JobNumber,
		VesselName: r.VesselName, ClientName: r.ClientName, YardName: r.YardName,
	}
}

func fedReinspection(r queries.ReinspectionsOfFeedRow) practice.FedReinspection {
	return practice.FedReinspection{ID: r.ID, From: r.DueFrom, To: r.DueTo, Version: r.Version, VesselName: r.VesselName, RevisedAt: r.RevisedAt}
}

// Feeds implements practice.FeedReader.
func (s *Store) Feeds(ctx context.Context, p, member uuid.UUID) ([]practice.Feed, error) {
	var rows []queries.FeedsOfMemberRow
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) { many(b, &rows, queries.FeedsOfMember, p, member) })
	return convert(rows, func(r queries.FeedsOfMemberRow) practice.Feed { return practice.Feed(r) }), err
}

// InsertFeed implements practice.FeedWriter.
func (tx *inPractice) InsertFeed(ctx context.Context, in practice.MakeFeed, member uuid.UUID, hash [32]byte, now time.Time) error {
	if err := tx.q.RevokeFeedOf(ctx, queries.RevokeFeedOfParams{PracticeID: tx.practice, MemberID: member, Purpose: in.Purpose, Now: now}); err != nil {
		return fault("revoke earlier feed", err)
	}
	return fault("insert feed", tx.q.InsertFeed(ctx, queries.InsertFeedParams{
		PracticeID: tx.practice, ID: in.ID, MemberID: member, Purpose: in.Purpose, Boats: in.Boats, Clients: in.Clients, TokenSha256: hash[:], Now: now,
	}))
}

// RevokeFeed implements practice.FeedWriter.
func (tx *inPractice) RevokeFeed(ctx context.Context, id, member uuid.UUID, now time.Time) error {
	n, err := tx.q.RevokeFeed(ctx, queries.RevokeFeedParams{PracticeID: tx.practice, ID: id, MemberID: member, Now: now})
	if err == nil && n == 0 {
		return domain.ErrNotFound
	}
	return fault("revoke feed", err)
}

// VisitToInvite implements practice.FeedWriter.
func (tx *inPractice) VisitToInvite(ctx context.Context, visit uuid.UUID, who practice.Sees) (practice.VisitToInvite, error) {
	r, err := found(tx.q.VisitToInvite(ctx, queries.VisitToInviteParams{PracticeID: tx.practice, ID: visit, Guest: who.Guest, Self: who.Self, Member: who.Member}))
	return practice.VisitToInvite{
		ID: r.ID, Kind: r.Kind, From: r.FromAt, To: r.ToAt, TimeZone: r.TimeZone, State: r.State, Sequence: r.Sequence, RevisedAt: r.RevisedAt, JobNumber: r.JobNumber,
		Vessel: r.VesselID, VesselName: r.VesselName, Job: r.JobID, YardName: r.YardName, PracticeName: r.PracticeName, PracticeEmail: r.PracticeEmail, Invented: r.Invented,
	}, fault("read visit", err)
}

// InvitedBehind implements practice.FeedWriter.
func (tx *inPractice) InvitedBehind(ctx context.Context, visit uuid.UUID) ([]practice.Invited, error) {
	rows, err := tx.q.InvitedBehind(ctx, queries.InvitedBehindParams{PracticeID: tx.practice, VisitID: visit})
	return convert(rows, func(r queries.InvitedBehindRow) practice.Invited { return invitedFrom(queries.InvitedToVisitRow(r)) }), fault("read invitations", err)
}

func invitedFrom(r queries.InvitedToVisitRow) practice.Invited {
	return practice.Invited{Name: r.Name, Email: r.Email, SentAt: r.SentAt, Sequence: r.Sequence, Called: r.Method == "CANCEL"}
}

// InsertVisitInvitation implements practice.FeedWriter.
func (tx *inPractice) InsertVisitInvitation(ctx context.Context, in practice.InviteToVisit, method string, sequence int32, by *uuid.UUID, now time.Time) error {
	return fault("insert invitation", tx.q.InsertVisitInvitation(ctx, queries.InsertVisitInvitationParams{
		PracticeID: tx.practice, ID: in.ID, VisitID: in.Visit, Name: in.Name, Email: in.Email, Method: method, Sequence: sequence, Now: now, SentBy: by,
	}))
}
