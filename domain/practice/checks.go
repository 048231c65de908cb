package practice

import (
	"context"
	"fmt"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// CheckWriter keeps why something that stands against a visit was let pass.
type CheckWriter interface {
	OverrideCheck(ctx context.Context, visit uuid.UUID, code, reason string, by *uuid.UUID, at time.Time) error
}

// Override lets one check of a visit pass, with the reason.
type Override struct {
	Code   string
	Reason string
}

// OverrideCheck lets a check of a visit pass.
type OverrideCheck struct {
	Mutation uuid.UUID `json:"-"`
	Visit    uuid.UUID
	Override Override
}

// OverrideCheck keeps why something that stands against a visit was let pass. The check
// stays to be seen, with its reason; sent again with another reason the newer one counts.
func (s *Service) OverrideCheck(ctx context.Context, a domain.Actor, in OverrideCheck) (Done, error) {
	return s.write(ctx, &a, domain.Book, "overrideCheck", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		v, err := tx.Visit(ctx, in.Visit, sees(a))
		if err != nil {
			return Done{}, err
		}
		return visitDone(v), s.override(ctx, tx, a, v.ID, []Override{in.Override})
	})
}

// override keeps reasons beside a visit.
func (s *Service) override(ctx context.Context, tx Tx, a domain.Actor, visit uuid.UUID, list []Override) error {
	for k, o := range list {
		field := func(name string) string {
			if len(list) == 1 {
				return name
			}
			return fmt.Sprintf("overrides[%d].%s", k, name)
		}
		if !softChecks[o.Code] {
			return domain.Invalidf(field("code"), "There is no such check that may be let pass.")
		}
		if strings.TrimSpace(o.Reason) == "" || len(o.Reason) > 500 {
			return domain.Invalidf(field("reason"), "Say in at most 500 letters why this is let pass.")
		}
		if err := tx.OverrideCheck(ctx, visit, o.Code, strings.TrimSpace(o.Reason), entered(a), s.instant()); err != nil {
			return err
		}
	}
	return nil
}

// The checks that may be let pass. The hard ones are the database's.
const (
	CheckLeave      = "leave"
	CheckDistance   = "distance"
	CheckWaiting    = "waiting-time"
	CheckTide       = "tide"
	CheckCompetence = "competence"
	CheckInstrument = "instrument"
	CheckAsked      = "yard-asked"
	CheckWeather    = "weather"
)

var softChecks = map[string]bool{
	CheckLeave: true, CheckDistance: true, CheckWaiting: true, CheckTide: true, CheckCompetence: true, CheckInstrument: true, CheckAsked: true, CheckWeather: true,
}
