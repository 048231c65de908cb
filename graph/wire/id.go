// Package wire writes and reads the API's scalars: ids with their kind in front,
// days, columns.
package wire

import (
	"fmt"
	"io"
	"strings"

	"github.com/99designs/gqlgen/graphql"
	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// Kind is the prefix of an id: what kind of thing it names.
type Kind = domain.Thing

// The kinds of thing that have an id on the wire.
const (
	Addendum        = domain.ThingAddendum
	APIKey          = domain.ThingAPIKey
	AttendanceNote  = domain.ThingAttendanceNote
	DangerNotice    = domain.ThingDangerNotice
	Evidence        = domain.ThingEvidence
	Examination     = domain.ThingExamination
	ScheduleArea    = domain.ThingScheduleArea
	ScheduleItem    = domain.ThingScheduleItem
	SeenLetter      = domain.ThingSeenLetter
	BlockCheck      = domain.ThingBlockCheck
	CauseCheck      = domain.ThingCauseCheck
	Comment         = domain.ThingComment
	Condition       = domain.ThingCondition
	CrossReadings   = domain.ThingCrossReadings
	Datum           = domain.ThingDatum
	EarlyStart      = domain.ThingEarlyStart
	Element         = domain.ThingElement
	Engagement      = domain.ThingEngagement
	Erasure         = domain.ThingErasure
	Event           = domain.ThingEvent
	Feed            = domain.ThingFeed
	Finding         = domain.ThingFinding
	GateSignature   = domain.ThingGateSignature
	Guarantee       = domain.ThingGuarantee
	Hold            = domain.ThingHold
	Instrument      = domain.ThingInstrument
	Invitation      = domain.ThingInvitation
	Invoice         = domain.ThingInvoice
	VisitInvite     = domain.ThingVisitInvite
	Job             = domain.ThingJob
	Judgement       = domain.ThingJudgement
	Layer           = domain.ThingLayer
	Leave           = domain.ThingLeave
	Member          = domain.ThingMember
	Move            = domain.ThingMove
	Mutation        = domain.ThingMutation
	NotReached      = domain.ThingNotReached
	Notice          = domain.ThingNotice
	Party           = domain.ThingParty
	PartyMerge      = domain.ThingPartyMerge
	PartyRole       = domain.ThingPartyRole
	Pass            = domain.ThingPass
	Payment         = domain.ThingPayment
	Paper           = domain.ThingPaper
	Permission      = domain.ThingPermission
	Photo           = domain.ThingPhoto
	Place           = domain.ThingPlace
	Plan            = domain.ThingPlan
	Practice        = domain.ThingPractice
	Reading         = domain.ThingReading
	Rebound         = domain.ThingRebound
	Recommendation  = domain.ThingRecommendation
	Reinspection    = domain.ThingReinspection
	RepeatKit       = domain.ThingRepeatKit
	Report          = domain.ThingReport
	Scale           = domain.ThingScale
	Section         = domain.ThingSection
	Share           = domain.ThingShare
	SheetTest       = domain.ThingSheetTest
	Spell           = domain.ThingSpell
	Standing        = domain.ThingStanding
	State           = domain.ThingState
	Terms           = domain.ThingTerms
	TermsLink       = domain.ThingTermsLink
	Upload          = domain.ThingUpload
	Vessel          = domain.ThingVessel
	Visit           = domain.ThingVisit
	Weather         = domain.ThingWeather
	Wash            = domain.ThingWash
	Window          = domain.ThingWindow
	Wording         = domain.ThingWording
	YardLink        = domain.ThingYardLink
	ActWithoutLeave = domain.ThingActWithoutLeave
	HullMarks       = domain.ThingHullMarks
	Competence      = domain.ThingCompetence
	Figure          = domain.ThingFigure
	Declined        = domain.ThingDeclined
)

// ID names one thing on the wire.
type ID struct {
	Kind Kind
	UUID uuid.UUID
}

// New puts a kind in front of an id.
func New(kind Kind, id uuid.UUID) ID { return ID{kind, id} }

// Maybe gives nil for an id that is not set.
func Maybe(kind Kind, id *uuid.UUID) *ID {
	if id == nil {
		return nil
	}
	return &ID{kind, *id}
}

// As gives the UUID where the id is of this kind. An id of another kind names nothing:
// it becomes the nil UUID, which no thing has, so the answer is that of an unknown id.
func (id ID) As(kind Kind) uuid.UUID {
	if id.Kind != kind {
		return uuid.Nil
	}
	return id.UUID
}

// MaybeAs is As for an id that may be left out.
func MaybeAs(id *ID, kind Kind) *uuid.UUID {
	if id == nil {
		return nil
	}
	u := id.As(kind)
	return &u
}

func (id ID) String() string { return string(id.Kind) + "_" + id.UUID.String() }

// ParseID reads kind_uuid, the UUID in its one canonical form.
func ParseID(text string) (ID, error) {
	kind, rest, ok := strings.Cut(text, "_")
	if !ok || len(kind) != 3 || len(rest) != 36 {
		return ID{}, fmt.Errorf("an id is three letters, an underscore and a UUID")
	}
	u, err := uuid.Parse(rest)
	if err != nil || u.String() != rest {
		return ID{}, fmt.Errorf("an id is three letters, an underscore and a UUID in lower case")
	}
	return ID{Kind(kind), u}, nil
}

// MarshalGQL writes the id as a string.
func (id ID) MarshalGQL(w io.Writer) {
	b := make([]byte, 0, 42)
	b = append(b, '"')
	b = append(b, id.Kind...)
	b = append(b, '_')
	b = appendUUID(b, id.UUID)
	b = append(b, '"')
	_, _ = w.Write(b)
}

// UnmarshalGQL reads an id from a variable or a literal.
func (id *ID) UnmarshalGQL(v any) error {
	text, err := graphql.UnmarshalString(v)
	if err != nil {
		return fmt.Errorf("an id is a string")
	}
	*id, err = ParseID(text)
	return err
}

const hexDigits = "0123456789abcdef"

func appendUUID(b []byte, u uuid.UUID) []byte {
	for i, x := range u {
		switch i {
		case 4, 6, 8, 10:
			b = append(b, '-')
		}
		b = append(b, hexDigits[x>>4], hexDigits[x&15])
	}
	return b
}
