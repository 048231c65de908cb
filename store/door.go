package store

import (
	"context"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/entry"
	"boottop.example/practice/domain/practice"
)

// Door is what happens before a practice is known: each method is one of the database's
// narrow functions in schema `door`, which run with its owner's rights.
type Door struct{ s *Store }

// Door gives the store's way in.
func (s *Store) Door() Door { return Door{s} }

// call runs one function that gives at most one row; ErrNotFound where it gives none.
func call[T any](ctx context.Context, d Door, doing, sql string, args ...any) (T, error) {
	list, err := calls[T](ctx, d, doing, sql, args...)
	if err != nil || len(list) == 0 {
		var none T
		if err == nil {
			err = domain.ErrNotFound
		}
		return none, err
	}
	return list[0], nil
}

func calls[T any](ctx context.Context, d Door, doing, sql string, args ...any) ([]T, error) {
	conn, err := d.s.acquire(ctx)
	if err != nil {
		return nil, err
	}
	defer conn.Release()
	rows, err := conn.Query(ctx, sql, args...)
	if err != nil {
		return nil, fault(doing, err)
	}
	list, err := pgx.CollectRows(rows, pgx.RowToStructByPos[T])
	return list, fault(doing, err)
}

// do runs a function that gives nothing.
func (d Door) do(ctx context.Context, doing, sql string, args ...any) error {
	conn, err := d.s.acquire(ctx)
	if err != nil {
		return err
	}
	defer conn.Release()
	_, err = conn.Exec(ctx, sql, args...)
	return fault(doing, err)
}

type oneID struct{ ID uuid.UUID }

// CreatePractice makes an empty practice. It is a command's, not a caller's.
func (d Door) CreatePractice(ctx context.Context, id uuid.UUID, name, zone, currency string, invented bool, now time.Time) error {
	return d.do(ctx, "create practice", `select door.practice_create($1, $2, $3, $4, $5, $6)`, id, name, zone, currency, invented, now)
}

// AccountByEmail implements auth.Door.
func (d Door) AccountByEmail(ctx context.Context, email string) (entry.Account, error) {
	return call[entry.Account](ctx, d, "find account", `select id, password_hash, disabled from door.account_by_email($1)`, email)
}

// CreateAccount implements auth.Door.
func (d Door) CreateAccount(ctx context.Context, id uuid.UUID, email, hash string, now time.Time) (uuid.UUID, error) {
	kept, err := call[oneID](ctx, d, "create account", `select door.account_create($1, $2, $3, $4)`, id, email, hash, now)
	return kept.ID, err
}

// Rehash implements auth.Door.
func (d Door) Rehash(ctx context.Context, account uuid.UUID, hash string) error {
	return d.do(ctx, "rehash password", `select door.account_rehash($1, $2)`, account, hash)
}

// Memberships implements auth.Door.
func (d Door) Memberships(ctx context.Context, account uuid.UUID) ([]entry.Membership, error) {
	return calls[entry.Membership](ctx, d, "find memberships",
		`select practice_id, practice_name, member_id, member_name, roles from door.memberships($1)`, account)
}

// StartSession implements auth.Door.
func (d Door) StartSession(ctx context.Context, s entry.Session, token entry.Token, now, until time.Time) error {
	return d.do(ctx, "start session", `select door.session_start($1, $2, $3, $4, $5, $6, $7)`,
		s.ID, s.Account, s.Practice, s.Member, token[:], now, until)
}

// RotateSession implements auth.Door.
func (d Door) RotateSession(ctx context.Context, token, successor entry.Token, now time.Time) (entry.Session, error) {
	return call[entry.Session](ctx, d, "renew session",
		`select session_id, account_id, practice_id, member_id, roles from door.session_rotate($1, $2, $3)`, token[:], successor[:], now)
}

// SessionStolen implements auth.Door.
func (d Door) SessionStolen(ctx context.Context, token entry.Token) (bool, error) {
	why, err := call[struct{ Stolen bool }](ctx, d, "ask why a session ended", `select door.session_stolen($1)`, token[:])
	return why.Stolen, err
}

// SessionMember implements auth.Door.
func (d Door) SessionMember(ctx context.Context, session uuid.UUID, now time.Time) (entry.Session, error) {
	return call[entry.Session](ctx, d, "find session",
		`select $1::uuid, '00000000-0000-0000-0000-000000000000'::uuid, practice_id, member_id, roles from door.session_member($1, $2)`, session, now)
}

// EndSession implements auth.Door.
func (d Door) EndSession(ctx context.Context, session uuid.UUID, now time.Time) error {
	return d.do(ctx, "end session", `select door.session_end($1, $2)`, session, now)
}

// EndSessionByToken implements auth.Door.
func (d Door) EndSessionByToken(ctx context.Context, token entry.Token, now time.Time) error {
	return d.do(ctx, "end session", `select door.session_end_by_token($1, $2)`, token[:], now)
}

// KeyMember implements auth.Door.
func (d Door) KeyMember(ctx context.Context, key entry.Token) (entry.Session, error) {
	return call[entry.Session](ctx, d, "find API key",
		`select key_id, '00000000-0000-0000-0000-000000000000'::uuid, practice_id, member_id, roles from door.api_key_member($1)`, key[:])
}

// KeyUsed implements auth.Door.
func (d Door) KeyUsed(ctx context.Context, key entry.Token, now time.Time) error {
	return d.do(ctx, "note the use of an API key", `select door.api_key_used($1, ($2::timestamptz at time zone 'UTC')::date)`, key[:], now)
}

// InvitationByToken implements auth.Door.
func (d Door) InvitationByToken(ctx context.Context, token entry.Token, now time.Time) (entry.Invitation, error) {
	return call[entry.Invitation](ctx, d, "find invitation",
		`select id, practice_id, practice_name, email, name, roles from door.invitation_by_token($1, $2)`, token[:], now)
}

// StartReset implements auth.Door.
func (d Door) StartReset(ctx context.Context, account uuid.UUID, token entry.Token, now, until time.Time) error {
	return d.do(ctx, "start password reset", `select door.reset_start($1, $2, $3, $4)`, account, token[:], now, until)
}

// FinishReset implements auth.Door.
func (d Door) FinishReset(ctx context.Context, token entry.Token, hash string, now time.Time) (bool, error) {
	done, err := call[struct{ Done bool }](ctx, d, "finish password reset", `select door.reset_finish($1, $2, $3)`, token[:], hash, now)
	return done.Done, err
}

const (
	takeInvitation = `update invitations set accepted_at = $3 where practice_id = $1 and id = $2 and accepted_at is null and expires_at > $3`
	// A member who left and is asked back is the same member, with what he or she signed.
	// One who is there already stays what he or she is: no row.
	joinPractice = `
insert into members (practice_id, id, account_id, name, email, roles, started_on)
values ($1, $2, $3, $4, $5, $6, ($7::timestamptz at time zone 'UTC')::date)
on conflict on constraint members_account_once
do update set left_at = null, name = excluded.name, email = excluded.email, roles = excluded.roles, version = members.version + 1
 where members.left_at is not null
returning id`
)

// AcceptInvitation implements auth.Door. The new member is the one who did it.
func (d Door) AcceptInvitation(ctx context.Context, i entry.Invitation, by entry.Newcomer, now time.Time) (member uuid.UUID, err error) {
	err = d.s.InPractice(ctx, i.Practice, func(t practice.Tx) error {
		tx := t.(*inPractice)
		taken, err := tx.tx.Exec(ctx, takeInvitation, i.Practice, i.ID, now)
		if err != nil {
			return fault("accept invitation", err)
		}
		if taken.RowsAffected() == 0 {
			return domain.ErrNotFound
		}
		err = tx.tx.QueryRow(ctx, joinPractice, i.Practice, by.Member, by.Account, by.Name, i.Email, i.Roles, now).Scan(&member)
		if errors.Is(err, pgx.ErrNoRows) {
			return domain.Conflictf("You are a member of this practice already. Sign in as you are used to.")
		}
		if err != nil {
			return fault("accept invitation", err)
		}
		line, err := accepted(i, by.Mutation, member, now)
		if err != nil {
			return err
		}
		_, err = tx.Record(ctx, line)
		return err
	})
	return member, err
}

// accepted is the record's line: ids only, like every other.
func accepted(i entry.Invitation, mutation, member uuid.UUID, now time.Time) (practice.Line, error) {
	done := practice.Done{Touched: []string{
		domain.Ref{Kind: domain.ThingMember, ID: member}.String(), domain.Ref{Kind: domain.ThingInvitation, ID: i.ID}.String(),
	}}
	result, err := json.Marshal(done)
	if err != nil {
		return practice.Line{}, fmt.Errorf("accept invitation: %w", err)
	}
	return practice.Line{
		ID: mutation, Actor: domain.Actor{Practice: i.Practice, Member: member, Means: domain.BySession, Roles: i.Roles},
		Operation: "acceptInvitation", Input: sha256.Sum256([]byte(i.ID.String())), Result: string(result), At: now,
	}, nil
}

// Ready answers where the database does and has the form that version names.
func (d Door) Ready(ctx context.Context, version int64) error {
	at, err := call[struct{ Version int64 }](ctx, d, "ask schema version", `select door.schema_version()`)
	if isCode(err, "42883") { // a database from before the function: it was checked at start
		_, err = call[struct{ One int }](ctx, d, "ask database", `select 1`)
		return err
	}
	if err == nil && at.Version < version {
		return fmt.Errorf("the database is at version %d, this program needs %d: run `practice migrate`", at.Version, version)
	}
	return err
}
