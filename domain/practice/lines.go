package practice

import (
	"time"

	"github.com/google/uuid"
)

// Lines are things as lists and other things name one. A list reads them whole with
// what it belongs to, in the same trip.

// PartyLine is a person or an organisation.
type PartyLine struct {
	ID     uuid.UUID
	Name   string
	Kind   string // person or organisation
	IsYard bool
}

// JobLine is a job.
type JobLine struct {
	ID            uuid.UUID
	Number        string
	Kind          string
	Stage         string
	Vessel        VesselLine
	Client        *PartyLine
	Lead          *MemberLine
	DueOn         *time.Time
	StandsBetween string
	NextVisitAt   *time.Time // the earliest visit still to be made
}

// VisitLine is a visit, with its passes.
type VisitLine struct {
	ID        uuid.UUID
	Kind      string
	From      time.Time
	To        time.Time
	TimeZone  string
	Known     string // how far its date is known: instant, day, month or year
	AsWritten string // the date, of an old report
	Ashore    string // days ashore as written, of an old report
	State     string
	Lead      *MemberLine
	Yard      string
	Lift      *time.Time // of the spell it belongs to
	Precision string
	LiftZone  string
	JobID     uuid.UUID
	JobNumber string
	Vessel    VesselLine
	Passes    []PassLine
}

// DaysAshore counts the calendar days from the lift to the visit's start, in the yard's
// zone; ok is false where the spell or the visit is not
// known to the day.
func (v VisitLine) DaysAshore() (days int32, ok bool) {
	d, _, ok := DaysAshore(v.Lift, v.Precision, v.LiftZone, v.From)
	return int32(d), ok && v.Known != "month" && v.Known != "year"
}

// PassLine is a pass, with how many of its planned places hold a reading that counts.
type PassLine struct {
	ID         uuid.UUID
	VisitID    uuid.UUID
	Instrument string
	State      string
	Read       int32
	Planned    int32
}

// ReportLine is a report.
type ReportLine struct {
	ID        uuid.UUID
	Number    *string
	Title     string
	State     string
	JobID     uuid.UUID
	JobNumber string
	CreatedAt time.Time // orders lists
	IssuedAt  *time.Time
	Vessel    VesselLine
}
