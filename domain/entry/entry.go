// Package entry says what is known of somebody at the door, before a practice is chosen.
package entry

import (
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// Account is a sign-in. It belongs to no practice.
type Account struct {
	ID       uuid.UUID
	Hash     string // argon2id, as a PHC string
	Disabled bool
}

// Membership is what an account is to one practice.
type Membership struct {
	Practice     uuid.UUID
	PracticeName string
	Member       uuid.UUID
	MemberName   string
	Roles        []domain.Role
}

// Session is a signed-in browser.
type Session struct {
	ID       uuid.UUID
	Account  uuid.UUID // known where the session is started or renewed
	Practice uuid.UUID
	Member   uuid.UUID
	Roles    []domain.Role
}

// Token is the SHA-256 of a secret that its holder keeps; the database knows no more.
type Token [32]byte

// Invitation asks somebody to join a practice.
type Invitation struct {
	ID           uuid.UUID
	Practice     uuid.UUID
	PracticeName string
	Email        string
	Name         string
	Roles        []domain.Role
}

// Newcomer accepts an invitation. The ids are of what the acceptance makes.
type Newcomer struct {
	Account  uuid.UUID
	Name     string
	Member   uuid.UUID // of the new member; one who comes back keeps the old id
	Mutation uuid.UUID // of the line in the record
}

// Letter is an e-mail to one person.
type Letter struct {
	Kind    string // what it is about, e.g. "password reset"
	To      string
	Subject string
	Body    string // plain text, lines ended by \n

	Calendar    string // an iCalendar object that goes with it
	Method      string // what that asks: REQUEST or CANCEL
	Unsubscribe string // the address that ends letters of this kind (RFC 8058)
}

// Lasting tells how long what is handed out at the door works.
const (
	SessionLasts = 30 * 24 * time.Hour
	ResetLasts   = time.Hour
)
