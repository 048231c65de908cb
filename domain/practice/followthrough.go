package practice

import (
	"context"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// ShownEvidence shows how far a recommendation has got. It is added, never rewritten.
type ShownEvidence struct {
	ID               uuid.UUID
	RecommendationID uuid.UUID
	Kind             string // photo, invoice, reinspection or word
	PhotoID          *uuid.UUID
	FindingID        *uuid.UUID
	VisitID          *uuid.UUID // at which it was seen
	UploadID         *uuid.UUID // the invoice as a file
	Text             string
	ToldOn           *time.Time // of the invoice, or of the word
	ByName           string
	At               time.Time
	SeenAt           *time.Time // when that visit began
	TimeZone         string
	FileKey          string // of the upload
	FileName         string
	ThumbKey         string // of the photo
	ViewKey          string
}

// FollowThrough is what has come of a vessel's recommendations beside their states:
// evidence, notices of danger, letters that say what was seen.
type FollowThrough struct {
	Evidence []ShownEvidence
	Dangers  []DangerNotice
	Letters  []SeenLetter
}

// FollowThroughReader reads what came of recommendations.
type FollowThroughReader interface {
	FollowThrough(ctx context.Context, practice, vessel uuid.UUID, who Sees) (FollowThrough, error)
	SeenLetter(ctx context.Context, practice, id uuid.UUID, who Sees) (SeenLetter, error)
}

// FollowThroughWriter writes it.
type FollowThroughWriter interface {
	InsertEvidence(ctx context.Context, e ShownEvidence, by *uuid.UUID, now time.Time) error
	// PhotoVessel finds the vessel of a photo that the actor may see.
	PhotoVessel(ctx context.Context, photo uuid.UUID, who Sees) (vessel uuid.UUID, err error)
	DangerFacts(ctx context.Context, recommendation uuid.UUID, who Sees) (DangerFacts, error)
	InsertDangerNotice(ctx context.Context, n DangerNotice, by *uuid.UUID, now time.Time) error
	// DangerNoticeToSend reads a notice that the actor may see, holding it.
	DangerNoticeToSend(ctx context.Context, id uuid.UUID, who Sees) (DangerNotice, error)
	SendDangerNotice(ctx context.Context, n DangerNotice, by *uuid.UUID, now time.Time) error
	LetterFacts(ctx context.Context, job uuid.UUID, who Sees) (LetterFacts, error)
	InsertSeenLetter(ctx context.Context, l SeenLetter, by *uuid.UUID, now time.Time) error
}

// FollowThrough reads what has come of a vessel's recommendations.
func (s *Service) FollowThrough(ctx context.Context, a domain.Actor, vessel uuid.UUID) (FollowThrough, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return FollowThrough{}, err
	}
	return s.store.FollowThrough(ctx, a.Practice, vessel, sees(a))
}

// EvidenceFiles are the addresses under which a piece of evidence can be looked at; they
// hold for some minutes, and are empty where there is nothing to look at.
type EvidenceFiles struct{ File, Thumb, View string }

// EvidenceFiles gives evidence that was read for an actor its addresses.
func (s *Service) EvidenceFiles(ctx context.Context, e ShownEvidence) (f EvidenceFiles, err error) {
	if s.objects == nil {
		return f, nil
	}
	for _, x := range []struct {
		to             *string
		key, name, typ string
	}{{&f.File, e.FileKey, e.FileName, "application/pdf"}, {&f.Thumb, e.ThumbKey, "", "image/jpeg"}, {&f.View, e.ViewKey, "", "image/jpeg"}} {
		if x.key == "" {
			continue
		}
		if *x.to, err = s.objects.PresignGet(ctx, x.key, x.name, x.typ, addressLasts); err != nil {
			return EvidenceFiles{}, err
		}
	}
	return f, nil
}

// AddEvidence is one thing that shows how far a recommendation has got.
type AddEvidence struct {
	Mutation uuid.UUID `json:"-"`
	Evidence ShownEvidence
}

// AddEvidence keeps a photo, an invoice, a reinspection or somebody's word beside a
// recommendation. It sets no state: only a person who saw it says that it is done, and
// only such a person adds a reinspection.
func (s *Service) AddEvidence(ctx context.Context, a domain.Actor, in AddEvidence) (Done, error) {
	return s.write(ctx, &a, domain.ReadPractice, "addEvidence", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		e := in.Evidence
		if err := e.check(a); err != nil {
			return Done{}, err
		}
		r, err := tx.Recommendation(ctx, e.RecommendationID, sees(a))
		if err != nil {
			return Done{}, err
		}
		if r.State == "draft" {
			return Done{}, domain.Conflictf("This was not issued yet: nothing can have been done about it.")
		}
		if err := e.belongs(ctx, tx, a, r.VesselID); err != nil {
			return Done{}, err
		}
		done := touched(ref(domain.ThingEvidence, e.ID), ref(domain.ThingRecommendation, r.ID), ref(domain.ThingVessel, r.VesselID))
		return done, tx.InsertEvidence(ctx, e, entered(a), s.instant())
	})
}

func (e ShownEvidence) check(a domain.Actor) error {
	if err := newID("id", e.ID); err != nil {
		return err
	}
	saw := a.Signs() || a.Has(domain.Trainee)
	switch {
	case !slices.Contains([]string{"photo", "invoice", "reinspection", "word"}, e.Kind):
		return domain.Invalidf("kind", "Evidence is a photo, an invoice, a reinspection or a word.")
	case !saw && !a.Has(domain.Office):
		return domain.Forbiddenf("Your role in this practice does not let you add evidence.")
	case e.Kind == "reinspection" && !saw:
		return domain.Forbiddenf("Only a person who was there says what was seen at a visit.")
	case e.Kind == "photo" && e.PhotoID == nil:
		return domain.Invalidf("photo", "Name the photo.")
	case e.Kind == "reinspection" && e.VisitID == nil:
		return domain.Invalidf("visit", "Name the visit at which it was seen.")
	case (e.Kind == "invoice" || e.Kind == "word") && strings.TrimSpace(e.Text) == "":
		return domain.Invalidf("text", "Say whose it is and what it says.")
	}
	return nil
}

// belongs refuses what is of another vessel.
func (e ShownEvidence) belongs(ctx context.Context, tx Tx, a domain.Actor, vessel uuid.UUID) error {
	if e.PhotoID != nil {
		of, err := tx.PhotoVessel(ctx, *e.PhotoID, sees(a))
		if err != nil {
			return err
		}
		if of != vessel {
			return domain.Invalidf("photo", "This photo is of another vessel.")
		}
	}
	if e.VisitID != nil {
		v, err := attended(ctx, tx, a, *e.VisitID)
		if err != nil {
			return err
		}
		if v.VesselID != vessel {
			return domain.Invalidf("visit", "This visit was to another vessel.")
		}
	}
	if e.UploadID != nil {
		u, err := tx.Upload(ctx, *e.UploadID)
		if err != nil {
			return err
		}
		if err := finished(u, a, "document"); err != nil {
			return err
		}
	}
	return findingOf(ctx, tx, a, e.FindingID, vessel)
}
