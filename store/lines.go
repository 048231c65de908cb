package store

import (
	"encoding/json"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

// boat gathers the columns that every line with a vessel has.
func boat(id uuid.UUID, name, kind string, loa *int32, year *int16, hullNumber string, figure json.RawMessage, yard string, lifted *time.Time, zone string, lastPass *time.Time) practice.VesselLine {
	return practice.VesselLine{
		ID: id, Name: name, Kind: kind, LoaMm: loa, MouldedYear: year, HullNumber: hullNumber, Figure: figure,
		Yard: yard, LiftedAt: lifted, TimeZone: zone, LastPassAt: lastPass,
	}
}

func partyOf(id *uuid.UUID, name, kind string, isYard bool) *practice.PartyLine {
	if id == nil {
		return nil
	}
	return &practice.PartyLine{ID: *id, Name: name, Kind: kind, IsYard: isYard}
}

func memberOf(id *uuid.UUID, name string, roles []string, active bool) *practice.MemberLine {
	if id == nil {
		return nil
	}
	return &practice.MemberLine{ID: *id, Name: name, Roles: roles, Active: active}
}

// jobLineFrom is for every query whose columns are those of a job's line.
func jobLineFrom(r queries.GetJobLineRow) practice.JobLine {
	return practice.JobLine{
		ID: r.ID, Number: r.Number, Kind: r.Kind, Stage: r.Stage,
		Vessel: boat(r.VesselID, r.VesselName, r.VesselKind, r.LoaMm, r.MouldedYear, r.HullNumber, r.Figure, r.Yard, r.LiftedAt, r.YardZone, r.LastPassAt),
		Client: partyOf(r.ClientID, r.ClientName, r.ClientKind, r.ClientIsYard), Lead: memberOf(r.LeadID, r.LeadName, r.LeadRoles, r.LeadActive),
		DueOn: r.DueOn, StandsBetween: r.StandsBetween, NextVisitAt: r.NextVisitAt,
	}
}

// visitLineFrom is for every query whose columns are those of a visit's line.
func visitLineFrom(r queries.GetVisitLineRow) practice.VisitLine {
	return practice.VisitLine{
		ID: r.ID, Kind: r.Kind, From: r.FromAt, To: r.ToAt, TimeZone: r.TimeZone, State: r.State,
		Known: r.DatePrecision, AsWritten: r.DateAsWritten, Ashore: r.DaysAshoreAsWritten,
		Lead: memberOf(r.LeadID, r.LeadName, r.LeadRoles, r.LeadActive), Yard: r.AtYard, Lift: r.SpellLift, Precision: r.SpellPrecision, LiftZone: r.SpellZone,
		JobID: r.JobID, JobNumber: r.JobNumber,
		Vessel: boat(r.VesselID, r.VesselName, r.VesselKind, r.LoaMm, r.MouldedYear, r.HullNumber, r.Figure, r.Yard, r.LiftedAt, r.YardZone, r.LastPassAt),
	}
}

// visitLines puts visits and their passes together.
func visitLines(visits []queries.GetVisitLineRow, passes []queries.PassesOfDayRow) []practice.VisitLine {
	lines := convert(visits, visitLineFrom)
	at := make(map[uuid.UUID]int, len(lines))
	for k := range lines {
		at[lines[k].ID] = k
	}
	for _, p := range passes {
		if k, shown := at[p.VisitID]; shown {
			lines[k].Passes = append(lines[k].Passes, practice.PassLine{ID: p.ID, Instrument: p.Instrument, State: p.State, Read: p.PlacesRead, Planned: p.PlacesPlanned})
		}
	}
	return lines
}

func reportLineFrom(r queries.ReportLinesOfJobRow) practice.ReportLine {
	return practice.ReportLine{
		ID: r.ID, Number: r.Number, Title: r.Title, State: r.State, JobID: r.JobID, JobNumber: r.JobNumber, CreatedAt: r.CreatedAt, IssuedAt: r.IssuedAt,
		Vessel: boat(r.VesselID, r.VesselName, r.VesselKind, r.LoaMm, r.MouldedYear, r.HullNumber, r.Figure, r.Yard, r.LiftedAt, r.YardZone, r.LastPassAt),
	}
}
