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
	"members_name_length": {domain.Invalid, "name", "A name has 1 to 200 letters."},
	"members_roles_known": {domain.Invalid, "roles", "The roles are principal, surveyor, trainee, office and guest; give at least one."},
	"invitations_pkey":    {domain.Conflict, "id", "An invitation with this id is kept already."},
	"api_keys_pkey":       {domain.Conflict, "id", "An API key with this id is kept already."},
})

// Member implements practice.MemberReader.
func (s *Store) Member(ctx context.Context, p, id uuid.UUID) (practice.Member, error) {
	row, err := readOne[queries.GetMemberRow](ctx, s, p, queries.GetMember, p, id)
	return practice.Member(row), err
}

// Members implements practice.MemberReader.
func (s *Store) Members(ctx context.Context, p uuid.UUID, page practice.Page) ([]practice.Member, error) {
	var rows []queries.ListMembersRow
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		many(b, &rows, queries.ListMembers, p, page.AfterText, page.AfterID, int32(page.First+1))
	})
	return convert(rows, func(r queries.ListMembersRow) practice.Member { return practice.Member(r) }), err
}

// Invitations implements practice.MemberReader.
func (s *Store) Invitations(ctx context.Context, p uuid.UUID, now time.Time) ([]practice.Invitation, error) {
	var rows []queries.InvitationsThatStandRow
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) { many(b, &rows, queries.InvitationsThatStand, p, now) })
	return convert(rows, func(r queries.InvitationsThatStandRow) practice.Invitation { return practice.Invitation(r) }), err
}

// Invitation implements practice.MemberReader.
func (s *Store) Invitation(ctx context.Context, p, id uuid.UUID) (practice.Invitation, error) {
	row, err := readOne[queries.GetInvitationRow](ctx, s, p, queries.GetInvitation, p, id)
	return practice.Invitation(row), err
}

// APIKeys implements practice.MemberReader.
func (s *Store) APIKeys(ctx context.Context, p uuid.UUID) ([]practice.APIKey, error) {
	var rows []queries.ListAPIKeysRow
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) { many(b, &rows, queries.ListAPIKeys, p) })
	return convert(rows, func(r queries.ListAPIKeysRow) practice.APIKey { return apiKeyFrom(queries.GetAPIKeyRow(r)) }), err
}

// APIKey implements practice.MemberReader.
func (s *Store) APIKey(ctx context.Context, p, id uuid.UUID) (practice.APIKey, error) {
	row, err := readOne[queries.GetAPIKeyRow](ctx, s, p, queries.GetAPIKey, p, id)
	return apiKeyFrom(row), err
}

// Member implements practice.MemberWriter.
func (tx *inPractice) Member(ctx context.Context, id uuid.UUID) (practice.Member, error) {
	row, err := found(tx.q.GetMember(ctx, queries.GetMemberParams{PracticeID: tx.practice, ID: id}))
	return practice.Member(row), fault("read member", err)
}

// UpdateMember implements practice.MemberWriter.
func (tx *inPractice) UpdateMember(ctx context.Context, m practice.Member) error {
	return fault("update member", changed(tx.q.UpdateMember(ctx, queries.UpdateMemberParams{
		PracticeID: tx.practice, ID: m.ID, Version: m.Version, Name: m.Name, Roles: m.Roles, Qualification: m.Qualification, LeftAt: m.LeftAt,
	})))
}

// LockPrincipals implements practice.MemberWriter.
func (tx *inPractice) LockPrincipals(ctx context.Context) ([]uuid.UUID, error) {
	ids, err := tx.q.LockPrincipals(ctx, tx.practice)
	return ids, fault("lock principals", err)
}

// EndAccess implements practice.MemberWriter.
func (tx *inPractice) EndAccess(ctx context.Context, member uuid.UUID, now time.Time) error {
	err := tx.q.EndSessionsOf(ctx, queries.EndSessionsOfParams{PracticeID: tx.practice, MemberID: member, Now: now})
	if err != nil {
		return fault("end sessions", err)
	}
	return fault("revoke keys", tx.q.RevokeKeysOf(ctx, queries.RevokeKeysOfParams{PracticeID: tx.practice, MemberID: member, Now: &now}))
}

// MemberAt implements practice.MemberWriter.
func (tx *inPractice) MemberAt(ctx context.Context, email string) (bool, error) {
	there, err := tx.q.MemberAt(ctx, queries.MemberAtParams{PracticeID: tx.practice, Email: email})
	return there, fault("find member", err)
}

// InsertInvitation implements practice.MemberWriter.
func (tx *inPractice) InsertInvitation(ctx context.Context, i practice.Invitation, token [32]byte, by uuid.UUID, now time.Time) error {
	err := tx.q.EndInvitationsTo(ctx, queries.EndInvitationsToParams{PracticeID: tx.practice, Email: i.Email, Now: now})
	if err != nil {
		return fault("end earlier invitations", err)
	}
	return fault("insert invitation", tx.q.InsertInvitation(ctx, queries.InsertInvitationParams{
		PracticeID: tx.practice, ID: i.ID, Email: i.Email, Name: i.Name, Roles: i.Roles, TokenSha256: token[:], InvitedBy: &by, Now: now, ExpiresAt: i.ExpiresAt,
	}))
}

// InsertAPIKey implements practice.MemberWriter.
func (tx *inPractice) InsertAPIKey(ctx context.Context, k practice.APIKey, hash [32]byte) error {
	return fault("insert API key", tx.q.InsertAPIKey(ctx, queries.InsertAPIKeyParams{
		PracticeID: tx.practice, ID: k.ID, MemberID: k.Member.ID, Name: k.Name, KeySha256: hash[:], Now: k.CreatedAt,
	}))
}

// RevokeAPIKey implements practice.MemberWriter.
func (tx *inPractice) RevokeAPIKey(ctx context.Context, id uuid.UUID, now time.Time) error {
	n, err := tx.q.RevokeAPIKey(ctx, queries.RevokeAPIKeyParams{PracticeID: tx.practice, ID: id, Now: &now})
	if err == nil && n == 0 {
		return domain.ErrNotFound
	}
	return fault("revoke API key", err)
}

func apiKeyFrom(r queries.GetAPIKeyRow) practice.APIKey {
	return practice.APIKey{
		ID: r.ID, Name: r.Name, CreatedAt: r.CreatedAt, RevokedAt: r.RevokedAt, LastUsedOn: r.LastUsedOn,
		Member: practice.MemberLine{ID: r.MemberID, Name: r.MemberName, Roles: r.MemberRoles, Active: r.MemberActive},
	}
}

// readOne reads one thing in one trip; NotFound where there is none.
func readOne[T any](ctx context.Context, s *Store, p uuid.UUID, sql string, args ...any) (row T, err error) {
	var at *T
	if err = s.ReadInPractice(ctx, p, func(b *pgx.Batch) { one(b, &at, sql, args...) }); err != nil {
		return row, err
	}
	if at == nil {
		return row, domain.ErrNotFound
	}
	return *at, nil
}
