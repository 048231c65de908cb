package domain

import (
	"slices"

	"github.com/google/uuid"
)

// Role is what a member is to a practice. A member may have several.
type Role string

// The roles of a member.
const (
	Principal Role = "principal" // runs the practice; may do what anybody may
	Surveyor  Role = "surveyor"  // visits, writes and signs
	Trainee   Role = "trainee"   // visits and writes, never signs
	Office    Role = "office"    // books, sends and files
	Guest     Role = "guest"     // a subcontractor: sees the jobs he or she was let into
)

// Client is what somebody is who signed in to an account of reports: no member, and never
// one by it. It opens what was shared with an address and nothing else.
const Client Role = "client"

// Roles lists every role of a member, for tests and forms.
var Roles = []Role{Principal, Surveyor, Trainee, Office, Guest}

// Means tells how an actor came in.
type Means string

// The ways in.
const (
	BySession Means = "member"  // a signed-in browser
	ByKey     Means = "api key" // a program acting for a member
	BySelf    Means = "service" // a job or a command of the service itself
	ByAccount Means = "client"  // a client who signed in
)

// Actor is whoever asks. The zero Actor is nobody.
type Actor struct {
	Practice uuid.UUID
	Member   uuid.UUID
	Session  uuid.UUID // of a browser
	Key      uuid.UUID // of a program
	Account  uuid.UUID // of a client, who belongs to no practice
	Means    Means
	Roles    []Role
}

// Service is the actor of jobs and commands that act for a practice on their own.
func Service(practice uuid.UUID) Actor {
	return Actor{Practice: practice, Means: BySelf}
}

// Has tells whether the actor has a role.
func (a Actor) Has(r Role) bool { return slices.Contains(a.Roles, r) }

// OnlyGuest tells whether the actor sees nothing but the jobs he or she was let into.
func (a Actor) OnlyGuest() bool {
	return a.Means != BySelf && !slices.ContainsFunc(a.Roles, func(r Role) bool { return r != Guest })
}

// Signs tells whether the actor may put a name under a report.
func (a Actor) Signs() bool { return a.Has(Principal) || a.Has(Surveyor) }
