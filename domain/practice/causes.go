package practice

import (
	"context"
	"encoding/json"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/cause"
)

// CauseSources is what the ledgers of a vessel are drawn from, read in one trip. Only
// what the reader may see is in it.
type CauseSources struct {
	History    History
	Units      string // of the practice
	Layers     []Layer
	Events     []Event
	Findings   []CauseFinding
	Windows    []CauseWindow
	Conditions []CauseCondition
	Repeats    []CauseRepeat
	Checks     []CauseCheck
	Judgements []CauseJudgement
}

// Told says whose a record is and whether others may be told of it.
type Told struct {
	VisitAt  time.Time
	TimeZone string
	ClientID *uuid.UUID
	Cite     string
}

// to tells whether it may be told to a client.
func (t Told) to(client *uuid.UUID) bool {
	return equal(t.ClientID, client) || t.Cite != "this client only"
}

// CauseFinding is a finding as evidence.
type CauseFinding struct {
	ID       uuid.UUID
	VisitID  uuid.UUID
	Kind     string
	Sure     string
	Text     string
	Measured json.RawMessage
	Told
	Places []int32
}

// CauseWindow is a scrape window as evidence.
type CauseWindow struct {
	Window
	Told
}

// CauseCondition is air, skin and what lay behind at a visit.
type CauseCondition struct {
	ID                       uuid.UUID
	VisitID                  uuid.UUID
	At                       time.Time
	AirDecidegrees           *int16
	HumidityPermille         *int16
	SkinPortDecidegrees      *int16
	SkinStarboardDecidegrees *int16
	TankLevel                string
	BilgeLevel               string
	TimeZone                 string
}

// CauseRepeat is a place read again in its pass, twentieths.
type CauseRepeat struct {
	PassID       uuid.UUID
	Ordinal      int32
	First, Again int32
	Blind        bool
}

// CauseCheck is a check that was made and what came of it.
type CauseCheck struct {
	ID              uuid.UUID
	VesselID        uuid.UUID
	VisitID         uuid.UUID
	Outcome         string  // a sign of the table
	Ordinals        []int32 // places it was made at; none: the hull at large
	FindingID       *uuid.UUID
	Note            string
	ByID            *uuid.UUID
	ByName          string
	At              time.Time
	WithdrawnAt     *time.Time
	WithdrawnReason string
	Told
}

// CauseJudgement is what a surveyor says of a cause, beside the computed line.
type CauseJudgement struct {
	ID        uuid.UUID
	VesselID  uuid.UUID
	VisitID   *uuid.UUID
	Cause     string // a code of the catalogue, or words where one is added
	Judgement string // agrees, disagrees, adds
	Reason    string
	Ordinals  []int32
	ByID      uuid.UUID
	ByName    string
	At        time.Time
	Told
}

// CauseReader reads what ledgers are drawn from.
type CauseReader interface {
	CauseSources(ctx context.Context, practice, vessel uuid.UUID, who Sees) (CauseSources, error)
}

// CauseWriter writes judgements and checks.
type CauseWriter interface {
	InsertCauseJudgement(ctx context.Context, j CauseJudgement) error
	InsertCauseCheck(ctx context.Context, c CauseCheck) error
	CauseCheck(ctx context.Context, id uuid.UUID, who Sees) (CauseCheck, error)
	WithdrawCauseCheck(ctx context.Context, id uuid.UUID, reason string, now time.Time) error
}

// CauseAsk says which ledgers are wanted.
type CauseAsk struct {
	Vessel    uuid.UUID
	Pass      *uuid.UUID // nil: the newest metered one
	ForClient bool       // only what may be told to the client of that pass
}

// Causes draws the ledgers of a vessel: the hull at large, and each patch that stands
// out or where something was found.
func (s *Service) Causes(ctx context.Context, a domain.Actor, in CauseAsk) (Causes, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return Causes{}, err
	}
	src, err := s.store.CauseSources(ctx, a.Practice, in.Vessel, sees(a))
	if err != nil {
		return Causes{}, err
	}
	return causes(src, in)
}

// JudgeCause is a surveyor's word on a cause.
type JudgeCause struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Visit    uuid.UUID
	Cause    string
	Judges   string // agrees, disagrees, adds
	Reason   string
	Places   []int32 // of the patch; none: the hull at large
}

// JudgeCause keeps that a surveyor agrees with a line of the ledger, disagrees or adds a
// cause, with the name and the reason. It stands beside the computed line and moves none.
func (s *Service) JudgeCause(ctx context.Context, a domain.Actor, in JudgeCause) (Done, error) {
	return s.write(ctx, &a, domain.JudgeCauses, "judgeCause", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := in.check(); err != nil {
			return Done{}, err
		}
		v, err := attended(ctx, tx, a, in.Visit)
		if err != nil {
			return Done{}, err
		}
		if _, err := placesAt(ctx, tx, v.VesselID, in.Places); err != nil {
			return Done{}, err
		}
		done := touched(ref(domain.ThingJudgement, in.ID), ref(domain.ThingVisit, v.ID), ref(domain.ThingVessel, v.VesselID))
		return done, tx.InsertCauseJudgement(ctx, CauseJudgement{
			ID: in.ID, VesselID: v.VesselID, VisitID: &v.ID, Cause: strings.TrimSpace(in.Cause), Judgement: in.Judges, Reason: in.Reason,
			Ordinals: in.Places, ByID: a.Member, At: s.instant(),
		})
	})
}

func (in JudgeCause) check() error {
	if err := newID("id", in.ID); err != nil {
		return err
	}
	_, known := cause.Of(cause.Code(in.Cause))
	switch {
	case !slices.Contains([]string{"agrees", "disagrees", "adds"}, in.Judges):
		return domain.Invalidf("judges", "A surveyor agrees, disagrees or adds.")
	case !known && in.Judges != "adds":
		return domain.Invalidf("cause", "This is no cause of the ledger; add it as one of your own.")
	case strings.TrimSpace(in.Cause) == "":
		return domain.Invalidf("cause", "Name the cause that you add.")
	case strings.TrimSpace(in.Reason) == "":
		return domain.Invalidf("reason", "Give the reason; it stands beside the line with your name.")
	}
	return nil
}

// RecordCauseCheck is a check that was made.
type RecordCauseCheck struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Visit    uuid.UUID
	Outcome  string // a sign that a check can yield
	Places   []int32
	Finding  *uuid.UUID
	Note     string
	Unasked  *Unasked `json:",omitempty"`
}

// RecordCauseCheck keeps what came of a check: a cause excluded, or a line for or
// against some. What it means for each cause is the catalogue's to say.
func (s *Service) RecordCauseCheck(ctx context.Context, a domain.Actor, in RecordCauseCheck) (Done, error) {
	return s.write(ctx, &a, domain.WriteVisit, "recordCauseCheck", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := in.check(); err != nil {
			return Done{}, err
		}
		v, err := attended(ctx, tx, a, in.Visit)
		if err != nil {
			return Done{}, err
		}
		if err := s.leaveFor(ctx, tx, a, act{v.JobID, ref(domain.ThingCauseCheck, in.ID), in.needs(), in.Unasked}); err != nil {
			return Done{}, err
		}
		if _, err := placesAt(ctx, tx, v.VesselID, in.Places); err != nil {
			return Done{}, err
		}
		if err := findingOf(ctx, tx, a, in.Finding, v.VesselID); err != nil {
			return Done{}, err
		}
		done := touched(ref(domain.ThingCauseCheck, in.ID), ref(domain.ThingVisit, v.ID), ref(domain.ThingVessel, v.VesselID))
		return done, tx.InsertCauseCheck(ctx, CauseCheck{
			ID: in.ID, VesselID: v.VesselID, VisitID: v.ID, Outcome: in.Outcome, Ordinals: in.Places, FindingID: in.Finding, Note: in.Note,
			ByID: entered(a), At: s.instant(),
		})
	})
}

func (in RecordCauseCheck) check() error {
	if err := newID("id", in.ID); err != nil {
		return err
	}
	if sign, known := cause.SignOf(cause.SignCode(in.Outcome)); !known || sign.Check == "" {
		return domain.Invalidf("outcome", "This is no outcome of a check.")
	}
	return nil
}

// needs lists the permissions that the check needs. Whoever lifts soles has gone aboard.
func (in RecordCauseCheck) needs() []string {
	sign, _ := cause.SignOf(cause.SignCode(in.Outcome))
	check, known := cause.CheckOf(sign.Check)
	switch {
	case !known || !slices.Contains(ownersOnly, check.Consent):
		return nil
	case check.Consent == "lift soles":
		return []string{"board and survey", check.Consent}
	}
	return []string{check.Consent}
}

// findingOf refuses a finding of another vessel.
func findingOf(ctx context.Context, tx Tx, a domain.Actor, finding *uuid.UUID, vessel uuid.UUID) error {
	if finding == nil {
		return nil
	}
	visit, err := tx.FindingVisit(ctx, *finding)
	if err != nil {
		return err
	}
	of, err := tx.VisitVessel(ctx, visit, sees(a))
	if err == nil && of != vessel {
		err = domain.Invalidf("finding", "This finding belongs to another vessel.")
	}
	return err
}

// WithdrawCauseCheck takes a check back.
type WithdrawCauseCheck struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Reason   string
}

// WithdrawCauseCheck takes a check back with a reason; it stays on record and counts no more.
func (s *Service) WithdrawCauseCheck(ctx context.Context, a domain.Actor, in WithdrawCauseCheck) (Done, error) {
	return s.write(ctx, &a, domain.WriteVisit, "withdrawCauseCheck", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if strings.TrimSpace(in.Reason) == "" || len(in.Reason) > 2000 {
			return Done{}, domain.Invalidf("reason", "Give the reason in up to 2000 letters; the check stays on record with it.")
		}
		c, err := tx.CauseCheck(ctx, in.ID, sees(a))
		if err != nil {
			return Done{}, err
		}
		if c.WithdrawnAt != nil {
			return Done{}, domain.Conflictf("This check was withdrawn already.")
		}
		done := touched(ref(domain.ThingCauseCheck, c.ID), ref(domain.ThingVisit, c.VisitID), ref(domain.ThingVessel, c.VesselID))
		return done, tx.WithdrawCauseCheck(ctx, c.ID, in.Reason, s.instant())
	})
}
