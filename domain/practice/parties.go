package practice

import (
	"context"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// Party is a person or an organisation that the practice deals with.
type Party struct {
	ID        uuid.UUID
	Name      string
	Kind      string // person or organisation
	Email     string
	Phone     string
	Address   string
	IsYard    bool
	TimeZone  *string // a yard's own
	YardNotes string  // lift hours, rules; staff's only
	Notes     string
	Version   int32
}

// PartyRole is a party's part in a vessel or a job, with its time.
type PartyRole struct {
	ID     uuid.UUID
	Role   string
	Party  PartyLine
	Vessel VesselLine
	Job    *JobLine
	From   *time.Time
	To     *time.Time
}

// PartyParts says what a reader wants of a party beside itself.
type PartyParts struct{ Roles, Jobs bool }

// PartyPage is a party with the parts that were asked for.
type PartyPage struct {
	Party
	Roles []PartyRole
	Jobs  []JobLine // those it is the client of
}

// PartyFilter chooses parties of a list.
type PartyFilter struct {
	Search    string // part of a name or an e-mail address
	YardsOnly bool
}

// PartyReader reads people and organisations.
type PartyReader interface {
	Party(ctx context.Context, practice, id uuid.UUID, want PartyParts, who Sees) (PartyPage, error)
	Parties(ctx context.Context, practice uuid.UUID, filter PartyFilter, page Page, want PartyParts, who Sees) ([]PartyPage, error)
	PartyRole(ctx context.Context, practice, id uuid.UUID, who Sees) (PartyRole, error)
}

// PartyWriter writes people and organisations.
type PartyWriter interface {
	InsertParty(ctx context.Context, p Party, now time.Time) error
	Party(ctx context.Context, id uuid.UUID) (Party, error)
	UpdateParty(ctx context.Context, p Party) error
	InsertPartyRole(ctx context.Context, r AddPartyRole) error
}

// Party reads a person or an organisation with the parts asked for. A guest sees those
// of the jobs he or she was let into, and yards, without the practice's notes.
func (s *Service) Party(ctx context.Context, a domain.Actor, id uuid.UUID, want PartyParts) (PartyPage, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return PartyPage{}, err
	}
	p, err := s.store.Party(ctx, a.Practice, id, want, sees(a))
	p.withhold(a)
	return p, err
}

// Parties lists a page of people and organisations by name.
func (s *Service) Parties(ctx context.Context, a domain.Actor, filter PartyFilter, page Page, want PartyParts) ([]PartyPage, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return nil, err
	}
	if err := page.check(); err != nil {
		return nil, err
	}
	if len(filter.Search) > 100 {
		return nil, domain.Invalidf("search", "Look for at most 100 letters.")
	}
	filter.Search = strings.TrimSpace(filter.Search)
	list, err := s.store.Parties(ctx, a.Practice, filter, page, want, sees(a))
	for k := range list {
		list[k].withhold(a)
	}
	return list, err
}

// withhold keeps what the practice noted for itself, gate codes too, from guests.
func (p *PartyPage) withhold(a domain.Actor) {
	if a.OnlyGuest() {
		p.Notes, p.YardNotes = "", ""
	}
}

// PartyRole reads what a party is to a vessel or in a job.
func (s *Service) PartyRole(ctx context.Context, a domain.Actor, id uuid.UUID) (PartyRole, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return PartyRole{}, err
	}
	return s.store.PartyRole(ctx, a.Practice, id, sees(a))
}

// AddParty is a new person or organisation.
type AddParty struct {
	Mutation uuid.UUID `json:"-"`
	Party    Party
}

// AddParty adds a person or an organisation.
func (s *Service) AddParty(ctx context.Context, a domain.Actor, in AddParty) (Done, error) {
	return s.write(ctx, &a, domain.WritePeople, "addParty", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		p := in.Party
		if err := newID("id", p.ID); err != nil {
			return Done{}, err
		}
		if err := p.tidy(); err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingParty, p.ID)), tx.InsertParty(ctx, p, s.instant())
	})
}

// tidy trims what letters and lists show, and refuses what they cannot.
func (p *Party) tidy() error {
	p.Name, p.Email = strings.TrimSpace(p.Name), strings.TrimSpace(p.Email)
	if p.Kind != "person" && p.Kind != "organisation" {
		return domain.Invalidf("kind", "It is a person or an organisation.")
	}
	if err := oneLine("name", p.Name, 200); err != nil {
		return err
	}
	if p.Email != "" && !plausibleEmail(p.Email) {
		return domain.Invalidf("email", "This is no e-mail address. Leave it empty if there is none.")
	}
	if p.TimeZone != nil && *p.TimeZone == "" {
		p.TimeZone = nil
	}
	if p.TimeZone != nil {
		return zone("timeZone", *p.TimeZone)
	}
	return nil
}

// EditParty is a change to a party; nil leaves a field as it is, an empty time zone
// takes it away.
type EditParty struct {
	Mutation  uuid.UUID `json:"-"`
	ID        uuid.UUID
	Version   int32
	Name      *string
	Email     *string
	Phone     *string
	Address   *string
	IsYard    *bool
	TimeZone  *string
	YardNotes *string
	Notes     *string
}

// EditParty changes a person or an organisation.
func (s *Service) EditParty(ctx context.Context, a domain.Actor, in EditParty) (Done, error) {
	return s.write(ctx, &a, domain.WritePeople, "editParty", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		p, err := tx.Party(ctx, in.ID)
		if err != nil {
			return Done{}, err
		}
		p.Version = in.Version
		set(&p.Name, in.Name)
		set(&p.Email, in.Email)
		set(&p.Phone, in.Phone)
		set(&p.Address, in.Address)
		set(&p.IsYard, in.IsYard)
		setPtr(&p.TimeZone, in.TimeZone)
		set(&p.YardNotes, in.YardNotes)
		set(&p.Notes, in.Notes)
		if err := p.tidy(); err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingParty, p.ID)), tx.UpdateParty(ctx, p)
	})
}

// partyRoles are the parts that a party can have.
var partyRoles = []string{"client", "payer", "owner", "buyer", "seller", "broker", "insurer", "lender", "yard", "solicitor", "builder", "other"}

// AddPartyRole says what a party is to a vessel, or in a job of hers.
type AddPartyRole struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Party    uuid.UUID
	Vessel   uuid.UUID
	Job      *uuid.UUID
	Role     string
	From     *time.Time
	To       *time.Time
}

// AddPartyRole says what a party is to a vessel, or in a job of hers.
func (s *Service) AddPartyRole(ctx context.Context, a domain.Actor, in AddPartyRole) (Done, error) {
	return s.write(ctx, &a, domain.WritePeople, "addPartyRole", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := in.check(); err != nil {
			return Done{}, err
		}
		if _, err := tx.Party(ctx, in.Party); err != nil {
			return Done{}, err
		}
		if _, err := tx.Vessel(ctx, in.Vessel); err != nil {
			return Done{}, err
		}
		things := []domain.Ref{ref(domain.ThingPartyRole, in.ID), ref(domain.ThingVessel, in.Vessel), ref(domain.ThingParty, in.Party)}
		if in.Job != nil {
			job, err := tx.JobOpenTo(ctx, *in.Job, sees(a))
			if err != nil {
				return Done{}, err
			}
			if job.VesselID != in.Vessel {
				return Done{}, domain.Invalidf("job", "This job is for another vessel.")
			}
			things = append(things, ref(domain.ThingJob, job.ID))
		}
		return touched(things...), tx.InsertPartyRole(ctx, in)
	})
}

func (in AddPartyRole) check() error {
	if err := newID("id", in.ID); err != nil {
		return err
	}
	if !slices.Contains(partyRoles, in.Role) {
		return domain.Invalidf("role", "Say what the party is: %s.", strings.Join(partyRoles, ", "))
	}
	if in.From != nil && in.To != nil && in.To.Before(*in.From) {
		return domain.Invalidf("to", "The last day comes after the first.")
	}
	return nil
}
