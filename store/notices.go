package store

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

var _ = say(map[string]rule{
	"notice_settings_digest_known": {domain.Invalid, "digest", "A mail comes daily, weekly or not at all: daily, weekly, none."},
})

// Tell implements practice.NoticeWriter.
func (tx *inPractice) Tell(ctx context.Context, t practice.Telling) error {
	return fault("tell of a change", tx.q.Tell(ctx, queries.TellParams{
		PracticeID: tx.practice, MutationID: t.Mutation, What: t.What, JobID: t.Job, VisitID: t.Visit, EngagementID: t.Engagement, About: t.About, ByID: t.By, At: t.At,
		Members: filled(t.Members), Alone: t.Only, Roles: filled(t.Roles),
	}))
}

// filled is a list that is never null: nothing is equal to any of a null.
func filled[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}

// lastDay is after everything that happens.
var lastDay = time.Date(9999, 12, 31, 0, 0, 0, 0, time.UTC)

func noticeFrom(r queries.NoticesOfRow) practice.Notice {
	return practice.Notice{
		ID: r.ID, What: r.What, About: r.About, Job: r.JobID, JobNumber: r.JobNumber, Visit: r.VisitID, VisitKind: r.VisitKind, VisitFrom: r.VisitFrom, VisitZone: r.VisitZone,
		Engagement: r.EngagementID, Boat: r.Boat, By: r.ByName, At: r.At, SeenAt: r.SeenAt,
	}
}

// Notices implements practice.NoticeReader.
func (s *Store) Notices(ctx context.Context, p, member uuid.UUID, beforeAt time.Time, before uuid.UUID, most int, who practice.Sees) (practice.Notices, error) {
	var (
		rows    []queries.NoticesOfRow
		unseen  []int32
		digests []string
	)
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		many(b, &rows, queries.NoticesOf, p, member, beforeAt, before, who.Guest, int32(most))
		column(b, &unseen, queries.CountUnseen, p, member, who.Guest)
		column(b, &digests, queries.DigestSetting, p, member)
	})
	if err != nil {
		return practice.Notices{}, err
	}
	return practice.Notices{List: convert(rows, noticeFrom), Unseen: unseen[0], Digest: append(digests, "none")[0]}, nil
}

// DigestMembers implements practice.NoticeReader.
func (s *Store) DigestMembers(ctx context.Context, p uuid.UUID, weekly bool) (due []uuid.UUID, wanted bool, err error) {
	var rows []queries.DigestMembersRow
	err = s.ReadInPractice(ctx, p, func(b *pgx.Batch) { many(b, &rows, queries.DigestMembers, weekly, p) })
	for _, r := range rows {
		if r.Due {
			due = append(due, r.MemberID)
		}
	}
	return due, len(rows) > 0, err
}

// DigestByToken implements practice.NoticeReader, through the door: no practice is known yet.
func (s *Store) DigestByToken(ctx context.Context, hash [32]byte) (p, member uuid.UUID, err error) {
	conn, err := s.acquire(ctx)
	if err != nil {
		return p, member, err
	}
	defer conn.Release()
	err = conn.QueryRow(ctx, `select practice_id, member_id from door.digest_by_token($1)`, hash[:]).Scan(&p, &member)
	if errors.Is(err, pgx.ErrNoRows) {
		err = domain.ErrNotFound
	}
	return p, member, fault("find digest", err)
}

// DigestOf implements practice.NoticeReader.
func (s *Store) DigestOf(ctx context.Context, p, member uuid.UUID) (string, error) {
	var digests []string
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) { column(b, &digests, queries.DigestSetting, p, member) })
	return append(digests, "none")[0], err
}

// SetDigest implements practice.NoticeWriter.
func (tx *inPractice) SetDigest(ctx context.Context, member uuid.UUID, digest string) error {
	return fault("keep digest", tx.q.SetDigest(ctx, queries.SetDigestParams{PracticeID: tx.practice, MemberID: member, Digest: digest}))
}

// SeeNotices implements practice.NoticeWriter.
func (tx *inPractice) SeeNotices(ctx context.Context, member uuid.UUID, ids []uuid.UUID, now time.Time) (int, error) {
	seen, err := tx.q.SeeNotices(ctx, queries.SeeNoticesParams{PracticeID: tx.practice, MemberID: member, Ids: ids, Now: now})
	return len(seen), fault("mark notices", err)
}

// NoticesToMail implements practice.NoticeWriter.
func (tx *inPractice) NoticesToMail(ctx context.Context, member uuid.UUID) (practice.Addressee, []practice.Notice, error) {
	to, err := tx.q.DigestAddressee(ctx, queries.DigestAddresseeParams{PracticeID: tx.practice, MemberID: member})
	if errors.Is(err, pgx.ErrNoRows) { // who has left since
		return practice.Addressee{}, nil, nil
	}
	if err != nil {
		return practice.Addressee{}, nil, fault("read addressee", err)
	}
	until, err := tx.q.DigestedUntil(ctx, queries.DigestedUntilParams{PracticeID: tx.practice, MemberID: member})
	if err != nil {
		return practice.Addressee{}, nil, fault("read last digest", err)
	}
	onlyGuest := !slices.ContainsFunc(to.Roles, func(r string) bool { return r != string(domain.Guest) })
	rows, err := tx.q.NoticesOf(ctx, queries.NoticesOfParams{PracticeID: tx.practice, Member: member, BeforeAt: lastDay, BeforeID: uuid.Max, Guest: onlyGuest, Most: 200})
	rows = slices.DeleteFunc(rows, func(r queries.NoticesOfRow) bool { return r.SeenAt != nil || !r.At.After(until) })
	return practice.Addressee{Name: to.Name, Email: to.Email, PracticeName: to.PracticeName, Invented: to.Invented}, convert(rows, noticeFrom), fault("read notices", err)
}

// InsertDigest implements practice.NoticeWriter.
func (tx *inPractice) InsertDigest(ctx context.Context, member uuid.UUID, hash [32]byte, until, now time.Time) error {
	id, err := uuid.NewV7()
	if err != nil {
		return fmt.Errorf("insert digest: %w", err)
	}
	return fault("insert digest", tx.q.InsertDigest(ctx, queries.InsertDigestParams{PracticeID: tx.practice, ID: id, MemberID: member, TokenSha256: hash[:], UntilAt: until, Now: now}))
}
