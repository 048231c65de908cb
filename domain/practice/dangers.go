package practice

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/entry"
	"boottop.example/practice/domain/report"
)

// DangerNotice is a notice limited to one danger. Once sent it stays as it was sent.
type DangerNotice struct {
	ID               uuid.UUID
	RecommendationID uuid.UUID
	JobID            uuid.UUID
	Text             string
	DraftedBy        string
	DraftedAt        time.Time
	SentBy           string
	SentAt           *time.Time
	Version          int32
	Told             []DangerTold
}

// DangerTold is somebody who was told: spoken to first, then in writing.
type DangerTold struct {
	Name     string
	Role     string     // owner, client, yard, on board, harbour or other
	SpokenAt *time.Time // nil: in writing alone
	How      string     // in person, by telephone, by radio
	Email    string
}

// DangerFacts is what a notice is drafted from.
type DangerFacts struct {
	What         string
	Reason       string
	Grade        string
	JobID        uuid.UUID
	VesselID     uuid.UUID
	VesselName   string
	Yard         string
	ClientName   string
	ClientEmail  string
	PracticeName string
	Phone        string
	TimeZone     string
}

// DraftDangerNotice asks for the draft of a notice about one recommendation.
type DraftDangerNotice struct {
	Mutation       uuid.UUID `json:"-"`
	ID             uuid.UUID
	Recommendation uuid.UUID
}

// DraftDangerNotice drafts a notice that speaks of the danger and of nothing else.
func (s *Service) DraftDangerNotice(ctx context.Context, a domain.Actor, in DraftDangerNotice) (Done, error) {
	return s.write(ctx, &a, domain.Recommend, "draftDangerNotice", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.ID); err != nil {
			return Done{}, err
		}
		f, err := tx.DangerFacts(ctx, in.Recommendation, sees(a))
		if err != nil {
			return Done{}, err
		}
		if report.Grade(f.Grade) != report.StopAndMakeSafe {
			return Done{}, domain.Invalidf("recommendation", "A notice is for a danger now: grade it Stop and make safe first.")
		}
		now := s.instant()
		n := DangerNotice{
			ID: in.ID, RecommendationID: in.Recommendation, JobID: f.JobID,
			Text: report.DangerNotice(f.VesselName, f.Yard, report.Day(now, Zone(f.TimeZone)), f.What, f.Reason, f.PracticeName, f.Phone),
		}
		return touched(ref(domain.ThingDangerNotice, n.ID), ref(domain.ThingRecommendation, in.Recommendation), ref(domain.ThingVessel, f.VesselID)),
			tx.InsertDangerNotice(ctx, n, entered(a), now)
	})
}

// SendDangerNotice sends a notice to the people who were spoken to.
type SendDangerNotice struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Version  int32
	Text     string // as the surveyor put it in the end
	Told     []DangerTold
}

const mostTold = 10

// SendDangerNotice sends a notice, after the people were spoken to: who, when and how is
// kept with it. The client is told too, whoever else is.
func (s *Service) SendDangerNotice(ctx context.Context, a domain.Actor, in SendDangerNotice) (Done, error) {
	return s.write(ctx, &a, domain.Issue, "sendDangerNotice", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		n, err := tx.DangerNoticeToSend(ctx, in.ID, sees(a))
		if err != nil {
			return Done{}, err
		}
		if n.SentAt != nil {
			return Done{}, domain.Conflictf("This notice was sent and stays as it was. Draft another.")
		}
		f, err := tx.DangerFacts(ctx, n.RecommendationID, sees(a))
		if err != nil {
			return Done{}, err
		}
		now := s.instant()
		if n.Told, err = told(in.Told, f, now); err != nil {
			return Done{}, err
		}
		if n.Text = strings.TrimSpace(in.Text); n.Text == "" || len(n.Text) > 4000 {
			return Done{}, domain.Invalidf("text", "A notice says what the danger is, in up to 4000 letters.")
		}
		n.Version = in.Version
		if err := tx.SendDangerNotice(ctx, n, entered(a), now); err != nil {
			return Done{}, err
		}
		for _, t := range n.Told {
			if t.Email == "" {
				continue
			}
			letter := entry.Letter{Kind: "danger", To: t.Email, Subject: "Danger seen on " + f.VesselName, Body: n.Text}
			if err := tx.SendMail(ctx, letter, now); err != nil {
				return Done{}, err
			}
		}
		return touched(ref(domain.ThingDangerNotice, n.ID), ref(domain.ThingRecommendation, n.RecommendationID), ref(domain.ThingVessel, f.VesselID)), nil
	})
}

// told checks who was told, and adds the client where nobody did.
func told(list []DangerTold, f DangerFacts, now time.Time) ([]DangerTold, error) {
	if len(list) > mostTold {
		return nil, domain.Invalidf("told", "Name at most %d people.", mostTold)
	}
	list = slices.Clone(list)
	spoken, client := false, false
	for k, t := range list {
		if t.Role == "client" && t.Email == "" && plausibleEmail(f.ClientEmail) {
			list[k].Email = f.ClientEmail // spoken to, the client has it in writing too
		}
		if err := list[k].check(fmt.Sprintf("told[%d]", k), now); err != nil {
			return nil, err
		}
		spoken, client = spoken || t.SpokenAt != nil, client || t.Role == "client"
	}
	if !spoken {
		return nil, domain.Invalidf("told", "Speak to somebody first, in person or by telephone; then write. Name who it was, and when.")
	}
	if client {
		return list, nil
	}
	if !plausibleEmail(f.ClientEmail) {
		return nil, domain.Invalidf("told", "The client is to be told too, and no e-mail address is known. Speak to the client and add it here.")
	}
	return append(list, DangerTold{Name: f.ClientName, Role: "client", Email: f.ClientEmail}), nil
}

func (t DangerTold) check(at string, now time.Time) error {
	switch {
	case strings.TrimSpace(t.Name) == "":
		return domain.Invalidf(at+".name", "Say who was told.")
	case t.SpokenAt != nil && t.How == "":
		return domain.Invalidf(at+".how", "Say how: in person, by telephone or by radio.")
	case t.SpokenAt != nil && t.SpokenAt.After(now.Add(5*time.Minute)):
		return domain.Invalidf(at+".spokenAt", "This lies ahead. Say when you spoke.")
	case t.SpokenAt == nil && t.Email == "":
		return domain.Invalidf(at+".email", "Somebody who was not spoken to needs an e-mail address.")
	case t.Email != "" && !plausibleEmail(t.Email):
		return domain.Invalidf(at+".email", "This is no e-mail address.")
	}
	return nil
}
