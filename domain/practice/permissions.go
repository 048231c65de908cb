package practice

import (
	"context"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// Permission is a permission of a job: asked, given or refused, with days and a name.
type Permission struct {
	ID          uuid.UUID
	JobID       uuid.UUID
	What        string
	Extent      string // how far, and where
	Windows     *int32 // of scraping: how many may be bared in all; nil: no number was said
	AskedOn     *time.Time
	GivenOn     *time.Time
	RefusedOn   *time.Time
	GivenByID   *uuid.UUID
	GivenByName string // as shown: the name written, or else the party's
	MakesGood   string // who, with what, before relaunch
	Note        string
	Version     int32
}

// PermissionWriter writes permissions.
type PermissionWriter interface {
	// Permission reads one; found is false where there is none yet.
	Permission(ctx context.Context, id uuid.UUID) (p Permission, found bool, err error)
	InsertPermission(ctx context.Context, p Permission) error
	UpdatePermission(ctx context.Context, p Permission) error
	// RolesInJob tells what a party is on a day to a vessel, or in one of its jobs.
	RolesInJob(ctx context.Context, party, vessel, job uuid.UUID, on time.Time) ([]string, error)
	// PartyByName finds a party of the job or the vessel that is called so; nil where there is none.
	PartyByName(ctx context.Context, name string, vessel, job uuid.UUID) (*uuid.UUID, error)
	// PermissionsOfJob lists every permission of a job, in the order in which they were written.
	PermissionsOfJob(ctx context.Context, job uuid.UUID) ([]Permission, error)
	// LiftWanted are the open jobs of a vessel, with what was said in them of lifting her.
	LiftWanted(ctx context.Context, vessel uuid.UUID, who Sees) ([]LiftWanted, []Permission, error)
}

// ownersOnly are the consents that only whoever owns the vessel, or speaks for the
// owner, can give. Some codes of conduct forbid a survey without it.
var ownersOnly = []string{"board and survey", "lift", "scrape", "open blisters", "drill or core", "mark the hull", "lift soles"}

// mostWindows is more than anybody bares on one hull.
const mostWindows = 1000

// mostPermissions is more than there are kinds of them.
const mostPermissions = 20

// RecordPermission is a permission asked, given or refused; version 0 makes a new one.
type RecordPermission struct {
	Mutation   uuid.UUID `json:"-"`
	Version    int32
	Permission Permission
}

// RecordPermission keeps a permission, or changes one. A buyer cannot give the seller's
// consent: to board, lift, scrape, open, drill, mark or lift soles the owner is asked.
func (s *Service) RecordPermission(ctx context.Context, a domain.Actor, in RecordPermission) (Done, error) {
	return s.write(ctx, &a, domain.Book, "recordPermission", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		return in.record(ctx, tx, a, Done{})
	})
}

// RecordPermissions is what somebody was asked, gave or refused in one breath: new
// permissions, each of its own.
type RecordPermissions struct {
	Mutation    uuid.UUID `json:"-"`
	Permissions []Permission
}

// RecordPermissions keeps several new permissions, all of them or none.
func (s *Service) RecordPermissions(ctx context.Context, a domain.Actor, in RecordPermissions) (Done, error) {
	return s.write(ctx, &a, domain.Book, "recordPermissions", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if n := len(in.Permissions); n == 0 || n > mostPermissions {
			return Done{}, domain.Invalidf("permissions", "Say what was allowed: 1 to %d permissions at once.", mostPermissions)
		}
		var done Done
		for _, p := range in.Permissions {
			var err error
			if done, err = (RecordPermission{Permission: p}).record(ctx, tx, a, done); err != nil {
				return Done{}, err
			}
		}
		return done, nil
	})
}

// record keeps one and adds to what was done before it.
func (in RecordPermission) record(ctx context.Context, tx Tx, a domain.Actor, done Done) (Done, error) {
	p := in.Permission
	j, err := tx.Job(ctx, p.JobID, sees(a))
	if err != nil {
		return Done{}, err
	}
	if err := p.check(); err != nil {
		return Done{}, err
	}
	if err := clientShares(ctx, tx, p, j); err != nil {
		return Done{}, err
	}
	if err := ownerGives(ctx, tx, p, j); err != nil {
		return Done{}, err
	}
	done.Touched = append(done.Touched, touched(ref(domain.ThingPermission, p.ID), ref(domain.ThingJob, j.ID)).Touched...)
	old, found, err := tx.Permission(ctx, p.ID)
	switch {
	case p.GivenOn != nil && old.GivenOn == nil:
		done = done.tell(telling{What: toldPermission, Job: &j.ID, About: p.What})
	case p.RefusedOn != nil && old.RefusedOn == nil:
		done = done.tell(telling{What: toldRefused, Job: &j.ID, About: p.What})
	}
	switch {
	case err != nil:
		return Done{}, err
	case !found && in.Version != 0:
		return Done{}, domain.ErrNotFound
	case !found:
		if err := newID("id", p.ID); err != nil {
			return Done{}, err
		}
		return done, tx.InsertPermission(ctx, p)
	case old.JobID != j.ID:
		return Done{}, domain.ErrNotFound
	}
	p.Version = in.Version
	return done, tx.UpdatePermission(ctx, p)
}

// Destroys says that it leaves something to be made good.
func (p Permission) Destroys() bool {
	return slices.Contains([]string{"scrape", "open blisters", "drill or core"}, p.What)
}

func (p Permission) check() error {
	switch {
	case p.AskedOn == nil && p.GivenOn == nil && p.RefusedOn == nil:
		return domain.Invalidf("askedOn", "Say when it was asked, given or refused.")
	case p.GivenOn != nil && p.RefusedOn != nil:
		return domain.Invalidf("refusedOn", "It is given or refused, not both.")
	case p.GivenOn != nil && p.GivenByID == nil && p.GivenByName == "":
		return domain.Invalidf("givenBy", "Say who gave it: a permission is a dated record with a name.")
	case p.Windows != nil && p.What != "scrape":
		return domain.Invalidf("windows", "Only leave to scrape counts windows.")
	case p.Windows != nil && (*p.Windows < 1 || *p.Windows > mostWindows):
		return domain.Invalidf("windows", "Say how many windows may be bared in all, 1 to %d; leave it out where nobody said.", mostWindows)
	case p.GivenOn != nil && p.AskedOn != nil && p.GivenOn.Before(*p.AskedOn):
		return domain.Invalidf("givenOn", "It was given before it was asked: one of the days is wrong.")
	}
	return nil
}

// ownerGives refuses a buyer's consent to what is the owner's to allow. Whoever orders a
// pre-purchase survey is a buyer, unless he or she is known as the owner.
func ownerGives(ctx context.Context, tx Tx, p Permission, j Job) error {
	if !slices.Contains(ownersOnly, p.What) {
		return nil
	}
	giver, err := p.giver(ctx, tx, j)
	if err != nil || giver == nil {
		return err
	}
	on := p.GivenOn
	if on == nil {
		on = p.AskedOn
	}
	if on == nil {
		return nil
	}
	roles, err := tx.RolesInJob(ctx, *giver, j.VesselID, j.ID, *on)
	if err != nil {
		return err
	}
	buys := slices.Contains(roles, "buyer") || j.Kind == "pre-purchase" && equal(giver, j.ClientID)
	owns := slices.Contains(roles, "owner") || slices.Contains(roles, "seller")
	if buys && !owns {
		return domain.Invalidf("givenBy", "A buyer cannot give the owner's consent to %s. Ask the owner or the seller, and record who said yes.", consentTo(p.What))
	}
	return nil
}

// giver is who gave it: the party, or the one of the job who is called as it was written.
func (p Permission) giver(ctx context.Context, tx Tx, j Job) (*uuid.UUID, error) {
	if p.GivenByID != nil || strings.TrimSpace(p.GivenByName) == "" {
		return p.GivenByID, nil
	}
	return tx.PartyByName(ctx, strings.TrimSpace(p.GivenByName), j.VesselID, j.ID)
}

// consentTo puts a permission into a sentence.
func consentTo(what string) string {
	switch what {
	case "scrape":
		return "scraping coatings"
	case "lift":
		return "lifting her"
	case "board and survey":
		return "boarding and surveying her"
	case "open blisters":
		return "opening blisters"
	case "drill or core":
		return "drilling or coring"
	case "mark the hull":
		return "marking the hull"
	case "lift soles":
		return "lifting soles and linings"
	case "photograph":
		return "photographs"
	case shareReport:
		return "sharing the report"
	case "approach the previous surveyor":
		return "talking to the previous surveyor"
	}
	return what
}
