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
	"parties_kind_known":     {domain.Invalid, "kind", "It is a person or an organisation."},
	"parties_name_length":    {domain.Invalid, "name", "A name has 1 to 200 letters."},
	"parties_pkey":           {domain.Conflict, "id", "A person or organisation with this id is kept already."},
	"party_roles_role_known": {domain.Invalid, "role", "This part is not one that a party can have."},
	"party_roles_pkey":       {domain.Conflict, "id", "A part with this id is kept already."},
})

// Party implements practice.PartyReader: the party and every part asked for, in one trip.
func (s *Store) Party(ctx context.Context, p, id uuid.UUID, want practice.PartyParts, who practice.Sees) (practice.PartyPage, error) {
	var row *queries.GetPartyRow
	parts := partyParts{want: want, who: who}
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		one(b, &row, queries.GetParty, p, id, who.Guest, who.Member)
		parts.queue(b, p, []uuid.UUID{id})
	})
	if err == nil && row == nil {
		err = domain.ErrNotFound
	}
	if err != nil {
		return practice.PartyPage{}, err
	}
	return parts.of(practice.Party(*row)), nil
}

// Parties implements practice.PartyReader. Roles and jobs are seldom asked of a list;
// then they cost a second trip.
func (s *Store) Parties(ctx context.Context, p uuid.UUID, filter practice.PartyFilter, page practice.Page, want practice.PartyParts, who practice.Sees) ([]practice.PartyPage, error) {
	var rows []queries.ListPartiesRow
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		many(b, &rows, queries.ListParties, p, page.AfterText, page.AfterID, filter.Search, filter.YardsOnly, who.Guest, who.Member, int32(page.First+1))
	})
	parts := partyParts{want: want, who: who}
	if err == nil && (want.Roles || want.Jobs) {
		ids := convert(rows, func(r queries.ListPartiesRow) uuid.UUID { return r.ID })
		err = s.ReadInPractice(ctx, p, func(b *pgx.Batch) { parts.queue(b, p, ids) })
	}
	return convert(rows, func(r queries.ListPartiesRow) practice.PartyPage { return parts.of(practice.Party(r)) }), err
}

// partyParts reads what hangs on parties.
type partyParts struct {
	want  practice.PartyParts
	who   practice.Sees
	roles []queries.GetPartyRoleRow
	jobs  []queries.GetJobLineRow
}

func (x *partyParts) queue(b *pgx.Batch, p uuid.UUID, parties []uuid.UUID) {
	guest, self, member := whom(x.who)
	if x.want.Roles {
		many(b, &x.roles, queries.RolesOfParties, p, parties, guest, self, member)
	}
	if x.want.Jobs {
		many(b, &x.jobs, queries.JobLinesOfParties, p, parties, guest, self, member)
	}
}

func (x *partyParts) of(p practice.Party) practice.PartyPage {
	page := practice.PartyPage{Party: p}
	for _, r := range x.roles {
		if r.PartyID == p.ID {
			page.Roles = append(page.Roles, partyRoleFrom(r))
		}
	}
	for _, j := range x.jobs {
		if j.ClientID != nil && *j.ClientID == p.ID {
			page.Jobs = append(page.Jobs, jobLineFrom(j))
		}
	}
	return page
}

// PartyRole implements practice.PartyReader.
func (s *Store) PartyRole(ctx context.Context, p, id uuid.UUID, who practice.Sees) (practice.PartyRole, error) {
	guest, self, member := whom(who)
	row, err := readOne[queries.GetPartyRoleRow](ctx, s, p, queries.GetPartyRole, p, id, guest, self, member)
	return partyRoleFrom(row), err
}

// Party implements practice.PartyWriter.
func (tx *inPractice) Party(ctx context.Context, id uuid.UUID) (practice.Party, error) {
	row, err := found(tx.q.GetParty(ctx, queries.GetPartyParams{PracticeID: tx.practice, ID: id}))
	return practice.Party(row), fault("read party", err)
}

// InsertParty implements practice.PartyWriter.
func (tx *inPractice) InsertParty(ctx context.Context, p practice.Party, now time.Time) error {
	return fault("insert party", tx.q.InsertParty(ctx, queries.InsertPartyParams{
		PracticeID: tx.practice, ID: p.ID, Kind: p.Kind, Name: p.Name, Email: p.Email, Phone: p.Phone, Address: p.Address,
		IsYard: p.IsYard, TimeZone: p.TimeZone, YardNotes: p.YardNotes, Notes: p.Notes, Now: now,
	}))
}

// UpdateParty implements practice.PartyWriter.
func (tx *inPractice) UpdateParty(ctx context.Context, p practice.Party) error {
	return fault("update party", changed(tx.q.UpdateParty(ctx, queries.UpdatePartyParams{
		PracticeID: tx.practice, ID: p.ID, Version: p.Version, Name: p.Name, Email: p.Email, Phone: p.Phone, Address: p.Address,
		IsYard: p.IsYard, TimeZone: p.TimeZone, YardNotes: p.YardNotes, Notes: p.Notes,
	})))
}

// InsertPartyRole implements practice.PartyWriter.
func (tx *inPractice) InsertPartyRole(ctx context.Context, r practice.AddPartyRole) error {
	return fault("insert party role", tx.q.InsertPartyRole(ctx, queries.InsertPartyRoleParams{
		PracticeID: tx.practice, ID: r.ID, PartyID: r.Party, Role: r.Role, VesselID: r.Vessel, JobID: r.Job, FromOn: r.From, ToOn: r.To,
	}))
}

// partyRoleFrom is for every query whose columns are those of a party's role.
func partyRoleFrom(r queries.GetPartyRoleRow) practice.PartyRole {
	role := practice.PartyRole{
		ID: r.ID, Role: r.Role, From: r.FromOn, To: r.ToOn,
		Party:  practice.PartyLine{ID: r.PartyID, Name: r.PartyName, Kind: r.PartyKind, IsYard: r.PartyIsYard},
		Vessel: boat(r.VesselID, r.VesselName, r.VesselKind, r.LoaMm, r.MouldedYear, r.HullNumber, r.Figure, r.Yard, r.LiftedAt, r.YardZone, r.LastPassAt),
	}
	if r.JobID != nil {
		role.Job = &practice.JobLine{
			ID: *r.JobID, Number: r.JobNumber, Kind: r.JobKind, Stage: r.JobStage, Vessel: role.Vessel,
			Client: partyOf(r.ClientID, r.ClientName, r.ClientKind, r.ClientIsYard), Lead: memberOf(r.LeadID, r.LeadName, r.LeadRoles, r.LeadActive),
			DueOn: r.DueOn, StandsBetween: r.StandsBetween, NextVisitAt: r.NextVisitAt,
		}
	}
	return role
}
