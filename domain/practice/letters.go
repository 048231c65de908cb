package practice

import (
	"context"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/report"
)

// SeenLetter is a letter to an insurer or lender that says only what was seen. What it
// said when it was written stays.
type SeenLetter struct {
	ID          uuid.UUID
	VesselID    uuid.UUID
	JobID       uuid.UUID
	AddressedTo string
	Reader      string // insurer or lender
	Reference   string
	Content     json.RawMessage // a report.Letter
	LeftOut     int32           // recommendations that may not be told to the job's client
	Sha256      []byte
	ByName      string
	At          time.Time
}

// LetterFacts is what a letter is written from.
type LetterFacts struct {
	VesselID         uuid.UUID
	VesselName       string
	HullNumberAsRead string
	PracticeName     string
	Address          string
	Email            string
	Phone            string
	TimeZone         string
	Invented         bool
	Recommendations  []RecommendationToTell
	States           []RecommendationState
	Evidence         []ShownEvidence
	Signer           string
}

// RecommendationToTell is an issued recommendation.
type RecommendationToTell struct {
	ID    uuid.UUID
	Grade string
	What  string
	State string
	Told  bool // may be told to the job's client
}

// SeenLetter reads a letter.
func (s *Service) SeenLetter(ctx context.Context, a domain.Actor, id uuid.UUID) (SeenLetter, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return SeenLetter{}, err
	}
	return s.store.SeenLetter(ctx, a.Practice, id, sees(a))
}

// WriteSeenLetter asks for a letter about what was seen of a job's vessel.
type WriteSeenLetter struct {
	Mutation    uuid.UUID `json:"-"`
	ID          uuid.UUID
	Job         uuid.UUID
	AddressedTo string
	Reader      string
	Reference   string
}

// WriteSeenLetter writes the letter from states and evidence, and keeps it as it stands.
// It tells only what may be told to the job's client, and nothing that nobody saw.
func (s *Service) WriteSeenLetter(ctx context.Context, a domain.Actor, in WriteSeenLetter) (Done, error) {
	return s.write(ctx, &a, domain.Issue, "writeSeenLetter", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.ID); err != nil {
			return Done{}, err
		}
		if strings.TrimSpace(in.AddressedTo) == "" {
			return Done{}, domain.Invalidf("addressedTo", "Say to whom it goes.")
		}
		f, err := tx.LetterFacts(ctx, in.Job, sees(a))
		if err != nil {
			return Done{}, err
		}
		left := f.leaveOut()
		if len(f.Recommendations) == 0 && left > 0 {
			return Done{}, domain.Invalidf("job", "There is nothing to tell: %s of other jobs may not be told to this job’s client.", report.Count(left, "recommendation", "recommendations"))
		}
		if len(f.Recommendations) == 0 {
			return Done{}, domain.Invalidf("job", "Nothing was recommended in a report that was issued: there is nothing to tell.")
		}
		now := s.instant()
		content, err := json.Marshal(f.letter(in, now))
		if err != nil {
			return Done{}, fmt.Errorf("encode letter: %w", err)
		}
		sum := sha256.Sum256(content)
		return touched(ref(domain.ThingSeenLetter, in.ID), ref(domain.ThingJob, in.Job), ref(domain.ThingVessel, f.VesselID)), tx.InsertSeenLetter(ctx, SeenLetter{
			ID: in.ID, VesselID: f.VesselID, JobID: in.Job, AddressedTo: in.AddressedTo, Reader: in.Reader, Reference: in.Reference, Content: content, LeftOut: int32(left), Sha256: sum[:],
		}, entered(a), now)
	})
}

// leaveOut drops what may not be told to the job's client and counts it.
func (f *LetterFacts) leaveOut() int {
	all := len(f.Recommendations)
	f.Recommendations = slices.DeleteFunc(f.Recommendations, func(r RecommendationToTell) bool { return !r.Told })
	return all - len(f.Recommendations)
}

// letter words the facts.
func (f LetterFacts) letter(in WriteSeenLetter, now time.Time) report.Letter {
	zone := Zone(f.TimeZone)
	l := report.LetterInput{
		Practice: report.Practice{Name: f.PracticeName, Contact: lines(f.Address, f.Phone, f.Email)}, To: in.AddressedTo, Reference: in.Reference,
		Vessel: f.VesselName, HullNumber: f.HullNumberAsRead, On: report.Day(now, zone), By: f.Signer, Invented: f.Invented,
	}
	for _, r := range f.Recommendations {
		line := report.FollowedInput{Grade: report.Grade(r.Grade), What: r.What, State: r.State}
		for _, x := range f.States {
			if x.RecommendationID == r.ID {
				line.Steps = append(line.Steps, report.StepInput{State: x.State, On: report.Day(x.At, zone), By: x.ByName, Reason: x.Reason})
			}
		}
		for _, e := range f.Evidence {
			if e.RecommendationID == r.ID {
				line.Evidence = append(line.Evidence, e.said(zone))
			}
		}
		l.Followed = append(l.Followed, line)
	}
	return report.BuildLetter(l)
}

func (e ShownEvidence) said(zone *time.Location) report.EvidenceInput {
	out := report.EvidenceInput{Kind: e.Kind, Text: e.Text, By: e.ByName, On: report.Day(e.At, zone)}
	switch {
	case e.SeenAt != nil:
		out.On = report.Day(*e.SeenAt, Zone(e.TimeZone))
	case e.ToldOn != nil:
		out.On = report.Day(*e.ToldOn, time.UTC)
		out.Bears = out.On
	}
	return out
}
