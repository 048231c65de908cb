package story

import (
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain/practice"
)

// diary is the part of the story about what bends the diary: moves, leave, tides, weather, yards; and an enquiry that becomes a job.
func diary() []Step {
	return []Step{
		{Call: "AddVessel", Input: func(w *World) any {
			return practice.AddVessel{Mutation: newID(), Vessel: practice.Vessel{ID: w.new("second vessel"), Name: "Whimbrel"}}
		}},
		{Call: "AddSpell", Input: func(w *World) any {
			return practice.AddSpell{Mutation: newID(), ID: w.new("planned spell"), Vessel: w.Of("second vessel"), Yard: w.ref("party"), TimeZone: "Europe/Dublin", PlannedLift: ptr(noon.AddDate(0, 0, 20)), PlannedLaunch: ptr(noon.AddDate(0, 0, 60)), DatePrecision: "instant"}
		}},
		{Call: "AddJob", Input: func(w *World) any {
			return practice.AddJob{Mutation: newID(), ID: w.new("second job"), Vessel: w.Of("second vessel"), Client: w.ref("party"), Kind: "limited moisture", Cite: "this client only"}
		}},
		{Call: "PlanVisit", Input: func(w *World) any {
			return practice.PlanVisit{
				Mutation: newID(), ID: w.new("planned visit"), Job: w.Of("second job"), Spell: w.ref("planned spell"), Kind: "meter visit", From: noon.AddDate(0, 0, 25), To: noon.AddDate(0, 0, 25).Add(time.Hour), TimeZone: "Europe/Dublin",
				Lead: w.ref("surveyor"), Instruments: []uuid.UUID{w.Of("instrument")}, Overrides: []practice.Override{{Code: practice.CheckAsked, Reason: "they said yes on the telephone"}},
			}
		}},
		{Call: "OverrideCheck", Input: func(w *World) any {
			return practice.OverrideCheck{Mutation: newID(), Visit: w.Of("planned visit"), Override: practice.Override{Code: practice.CheckCompetence, Reason: "she learns it with us"}}
		}},
		{Call: "ApplyMove", Input: func(w *World) any {
			return practice.ApplyMove{
				Mutation: newID(), ID: w.new("move"), Spell: w.Of("planned spell"), Version: 1, NewLift: noon.AddDate(0, 0, 29), NewLaunch: ptr(noon.AddDate(0, 0, 69)), Reason: "the crane is away",
				Lines: []practice.AcceptedLine{{Visit: w.Of("planned visit"), Version: 1, From: noon.AddDate(0, 0, 34), To: noon.AddDate(0, 0, 34).Add(time.Hour)}},
			}
		}},
		{Call: "UndoMove", Input: func(w *World) any { return practice.UndoMove{Mutation: newID(), ID: w.Of("move")} }},
		{Call: "AddLeave", Input: func(w *World) any {
			return practice.AddLeave{Mutation: newID(), Leave: practice.Leave{ID: w.new("leave"), MemberID: w.Of("surveyor"), From: noon.AddDate(0, 0, 24), To: noon.AddDate(0, 0, 27), Reason: "a wedding"}}
		}},
		{Call: "SetCompetences", Input: func(w *World) any {
			return practice.SetCompetences{Mutation: newID(), Member: w.Of("surveyor"), Kinds: []string{"pre-purchase"}, JudgedOn: &day, JudgedBy: w.ref("surveyor"), Grounds: "went along to ten"}
		}},
		{Call: "SetDiaryFigure", Input: func(w *World) any {
			return practice.SetDiaryFigure{Mutation: newID(), ID: w.new("figure"), Code: "antifouling", Bounds: []int{120, 240}, Reason: "our yards are cold"}
		}},
		{Call: "SetDiaryFigure", Input: func(w *World) any {
			return practice.SetDiaryFigure{Mutation: newID(), ID: w.new("figure again"), Code: "antifouling", Was: w.ref("figure"), Reason: "the trade's does"}
		}},
		{Call: "DeclineVisit", Input: func(w *World) any {
			return practice.DeclineVisit{Mutation: newID(), ID: w.new("declined"), Job: w.Of("second job"), Spell: w.Of("planned spell"), Line: "wet look", Reason: "she is lifted at night"}
		}},
		{Call: "ProposeAgain", Input: func(w *World) any {
			return practice.ProposeAgain{Mutation: newID(), ID: w.Of("declined")}
		}},
		{Call: "AddTides", Input: func(w *World) any {
			return practice.AddTides{Mutation: newID(), Place: "Skerrow", Source: "harbour office table", Times: []time.Time{noon.AddDate(0, 0, 20)}, HeightsMm: []int32{4300}}
		}},
		{Call: "RemoveTides", Input: func(w *World) any {
			return practice.RemoveTides{Mutation: newID(), Place: "Skerrow", From: noon, To: noon.AddDate(0, 1, 0)}
		}},
		{Call: "RecordWeather", Input: func(w *World) any {
			return practice.RecordWeather{Mutation: newID(), ID: w.new("weather"), Place: "Skerrow Boatyard", At: noon, RainMm: ptr(int16(4)), Source: "the yard's gauge"}
		}},
		{Call: "EndLeave", Input: func(w *World) any { return practice.EndLeave{Mutation: newID(), ID: w.Of("leave")} }},

		{Call: "DescribeYard", Input: func(w *World) any {
			return practice.DescribeYard{Mutation: newID(), Yard: w.Of("party"), LiftHours: "8 to 16", GateCode: "4711", TidePlace: "Skerrow", TideWithinMinutes: 90}
		}},
		{Call: "DescribeYard", Input: func(w *World) any {
			return practice.DescribeYard{Mutation: newID(), Yard: w.Of("party"), Version: 1, LiftHours: "8 to 17", GateCode: "4711", TideWithinMinutes: 90}
		}},
		{Call: "DescribeSlot", Input: func(w *World) any {
			return practice.DescribeSlot{Mutation: newID(), Spell: w.Of("planned spell"), WashAt: ptr(noon.AddDate(0, 0, 20).Add(time.Hour)), Pays: "the owner"}
		}},
		{Call: "ApplyWash", Input: func(w *World) any {
			return practice.ApplyWash{Mutation: newID(), ID: w.new("wash move"), Spell: w.Of("planned spell"), NewWash: noon.AddDate(0, 0, 21), Reason: "the hose is broken", TellYard: true}
		}},
		{Call: "ShareYard", Input: func(w *World) any {
			return practice.ShareYard{Mutation: newID(), ID: w.new("yard link"), Yard: w.Of("party"), Name: "Odo Rask", Email: "odo@rask.example", Until: noon.AddDate(1, 0, 0)}
		}},
		{Call: "RevokeYardLink", Input: func(w *World) any { return practice.RevokeYardLink{Mutation: newID(), ID: w.Of("yard link")} }},
		{Call: "AddParty", Input: func(w *World) any {
			return practice.AddParty{Mutation: newID(), Party: practice.Party{ID: w.new("client"), Name: "Ulla Knot", Kind: "person"}}
		}},
		{Call: "AddParty", Input: func(w *World) any {
			return practice.AddParty{Mutation: newID(), Party: practice.Party{ID: w.new("double"), Name: "U. Knot", Kind: "person", Phone: "555 0177"}}
		}},
		{Call: "AddPartyRole", Input: func(w *World) any {
			return practice.AddPartyRole{Mutation: newID(), ID: w.new("role of the double"), Party: w.Of("double"), Vessel: w.Of("second vessel"), Role: "owner"}
		}},
		{Call: "MergeParties", Input: func(w *World) any {
			return practice.MergeParties{Mutation: newID(), ID: w.new("merge"), Kept: w.Of("client"), Lost: w.Of("double"), Because: "she says so"}
		}},
		{Call: "UndoPartyMerge", Input: func(w *World) any {
			return practice.UndoPartyMerge{Mutation: newID(), ID: w.Of("merge"), Because: "it is her sister"}
		}},
		{Call: "TellPartiesApart", Input: func(w *World) any {
			return practice.TellPartiesApart{Mutation: newID(), First: w.Of("client"), Second: w.Of("double"), Because: "sisters"}
		}},
		{Call: "AddEnquiry", Input: func(w *World) any {
			return practice.AddEnquiry{Mutation: newID(), ID: w.new("engagement"), AskedBy: "Ulla Knot", BoatAsWritten: "a white sloop at Skerrow", Kind: "pre-purchase"}
		}},
		{Call: "EditEngagement", Input: func(w *World) any {
			return practice.EditEngagement{Mutation: newID(), ID: w.Of("engagement"), Version: 1, Client: w.ref("client"), Vessel: w.ref("second vessel")}
		}},
		{Call: "SetQuote", Input: func(w *World) any {
			return practice.SetQuote{Mutation: newID(), Engagement: w.Of("engagement"), Version: 2, Lines: []practice.QuoteLine{{Text: "Survey", AmountMinor: 60000, TaxPermille: 230}}}
		}},
		{Call: "DecideConflict", Input: func(w *World) any {
			return practice.DecideConflict{Mutation: newID(), Engagement: w.Of("engagement"), Version: 3, Decision: "go on", Note: "the yard was told"}
		}},
		{Call: "WriteTerms", Input: func(w *World) any {
			return practice.WriteTerms{Mutation: newID(), ID: w.new("terms"), Name: "2026-1", Body: "What we look at, and what not."}
		}},
		{
			Call: "OfferTerms",
			Input: func(w *World) any {
				return practice.OfferTerms{Mutation: newID(), ID: w.new("offer"), Engagement: w.Of("engagement"), Terms: w.Of("terms"), Name: "Ulla Knot", Email: "ulla@knot.example", Until: noon.AddDate(0, 1, 0)}
			},
			After: func(w *World) {
				w.accept("engagement")
				w.IDs["notice"] = w.noticed()
			},
		},
		{Call: "BookEngagement", Input: func(w *World) any {
			return practice.BookEngagement{Mutation: newID(), Engagement: w.Of("engagement"), Version: 5, Job: w.new("booked job"), Lead: w.ref("surveyor")}
		}},
	}
}
