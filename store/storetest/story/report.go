package story

import (
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain/practice"
)

// report is the part of the story about what is recommended, and the report until it is shared.
func report() []Step {
	return []Step{
		{Call: "AddRecommendation", Input: func(w *World) any {
			return practice.AddRecommendation{Mutation: newID(), Recommendation: practice.Recommendation{ID: w.new("recommendation"), JobID: w.Of("job"), Grade: "ashore", Sure: "seen", What: "Open the blister at 13/3."}}
		}},
		{Call: "EditRecommendation", Input: func(w *World) any {
			return practice.EditRecommendation{Mutation: newID(), ID: w.Of("recommendation"), Version: 1, WhoActs: ptr("yard")}
		}},
		{Call: "KeepWording", Input: func(w *World) any {
			return practice.KeepWording{Mutation: newID(), ID: w.new("wording"), Title: "How she lay", Body: "{vessel} lay there."}
		}},
		{Call: "KeepWording", Input: func(w *World) any {
			return practice.KeepWording{Mutation: newID(), ID: w.Of("wording"), Version: 1, Title: "How she lay", Body: "{vessel} lay ashore."}
		}},
		{Call: "AddRecommendation", Input: func(w *World) any {
			return practice.AddRecommendation{Mutation: newID(), Recommendation: practice.Recommendation{ID: w.new("danger"), JobID: w.Of("job"), Grade: "stop", Sure: "seen", What: "Clear the boat: a prop stands on one bolt."}}
		}},
		{Call: "DraftDangerNotice", Input: func(w *World) any {
			return practice.DraftDangerNotice{Mutation: newID(), ID: w.new("danger notice"), Recommendation: w.Of("danger")}
		}},
		{Call: "SendDangerNotice", Input: func(w *World) any {
			return practice.SendDangerNotice{Mutation: newID(), ID: w.Of("danger notice"), Version: 1, Text: "A prop stands on one bolt.", Told: []practice.DangerTold{{Name: "Anna Dunlin", Role: "client", SpokenAt: ptr(Today.Add(-time.Hour)), How: "by telephone", Email: "anna@dunlin.example"}}}
		}},
		{Call: "SetSchedule", Input: func(w *World) any {
			return practice.SetSchedule{Mutation: newID(), Schedule: practice.Schedule{Areas: []practice.ScheduleArea{{ID: w.new("area"), Name: "Hull", Items: []practice.ScheduleItem{{ID: w.new("item"), Name: "Topsides"}}}}}}
		}},
		{Call: "SetSchedule", Input: func(w *World) any {
			return practice.SetSchedule{Mutation: newID(), Schedule: practice.Schedule{Version: 1, Areas: []practice.ScheduleArea{{ID: w.Of("area"), Name: "Hull outside", Items: []practice.ScheduleItem{{ID: w.Of("item"), Name: "Topsides"}}}}}}
		}},
		{Call: "ExamineItem", Input: func(w *World) any {
			return practice.ExamineItem{Mutation: newID(), Examination: practice.Examination{ID: w.new("examination"), VisitID: w.Of("visit"), ItemID: w.Of("item"), Examined: "in part", Why: "the quay side", FindingID: w.ref("finding"), PhotoID: w.ref("photo")}}
		}},
		{Call: "ExamineItem", Input: func(w *World) any {
			return practice.ExamineItem{Mutation: newID(), Examination: practice.Examination{ID: w.Of("examination"), Version: 1, VisitID: w.Of("visit"), ItemID: w.Of("item"), Examined: "examined", Condition: "chalky"}}
		}},
		{Call: "SetValuation", Input: func(w *World) any {
			return practice.SetValuation{Mutation: newID(), Valuation: practice.Valuation{JobID: w.Of("job"), FigureMinor: 1_850_000, Currency: "EUR", Basis: "sale between willing parties, as she lies", ValueOn: day}}
		}},
		{Call: "SetValuation", Input: func(w *World) any {
			return practice.SetValuation{Mutation: newID(), Valuation: practice.Valuation{JobID: w.Of("job"), Version: 1, FigureMinor: 1_800_000, Currency: "EUR", Basis: "sale between willing parties, as she lies", ValueOn: day}}
		}},
		{Call: "AddAttendanceNote", Input: func(w *World) any {
			return practice.AddAttendanceNote{Mutation: newID(), Note: practice.AttendanceNote{ID: w.new("note"), JobID: w.Of("job"), VisitID: w.ref("visit"), Kind: "call", At: Today, WithWhom: "Anna Dunlin", Text: "She asks for the report by Friday."}}
		}},
		{Call: "StrikeAttendanceNote", Input: func(w *World) any {
			return practice.StrikeAttendanceNote{Mutation: newID(), ID: w.Of("note"), Reason: "another boat"}
		}},
		{Call: "DraftReport", Input: func(w *World) any {
			return practice.DraftReport{Mutation: newID(), ID: w.new("report"), Job: w.Of("job"), Title: "Limited survey", Paper: "A4"}
		}},
		{Call: "AddSection", Input: func(w *World) any {
			return practice.AddSection{Mutation: newID(), ID: w.new("section"), Report: w.Of("report"), Wording: w.ref("wording"), Title: "How she stood"}
		}},
		{Call: "EditSection", Input: func(w *World) any {
			return practice.EditSection{Mutation: newID(), ID: w.Of("section"), Version: 1, Body: ptr("She stood on four props.")}
		}},
		{Call: "OrderSections", Input: func(w *World) any {
			return practice.OrderSections{Mutation: newID(), Report: w.Of("report"), Sections: []uuid.UUID{w.Of("section")}}
		}},
		{Call: "CommentOnDraft", Input: func(w *World) any {
			return practice.CommentOnDraft{Mutation: newID(), ID: w.new("comment"), Report: w.Of("report"), Section: "limits", Text: "Was the bilge dry?"}
		}},
		{Call: "ResolveComment", Input: func(w *World) any { return practice.ResolveComment{Mutation: newID(), ID: w.Of("comment")} }},
		{Call: "SendForReview", Input: func(w *World) any {
			return practice.SendForReview{Mutation: newID(), ID: w.Of("report"), Version: w.version("reports", "report")}
		}},
		{Call: "EditReport", Input: func(w *World) any {
			return practice.EditReport{Mutation: newID(), ID: w.Of("report"), Version: w.version("reports", "report"), InShort: ptr("Two blisters to port."), Scope: ptr("The underbody."), Limits: ptr("Nothing inside.")}
		}},
		{Call: "TakeSecondLook", Input: func(w *World) any {
			return practice.TakeSecondLook{Mutation: newID(), ID: w.Of("report"), Version: w.version("reports", "report")}
		}},
		{
			Call: "IssueReport",
			Input: func(w *World) any {
				return practice.IssueReport{Mutation: newID(), ID: w.Of("report"), Version: w.version("reports", "report")}
			},
			After: func(w *World) {
				if err := w.Service.MakeReport(w.T.Context(), practice.ReportJob{Practice: w.Practice, Report: w.Of("report")}); err != nil {
					w.T.Fatal(err)
				}
			},
		},
		{Call: "SetRecommendationState", Input: func(w *World) any {
			return practice.SetRecommendationState{Mutation: newID(), ID: w.new("state"), Recommendation: w.Of("recommendation"), State: "acknowledged"}
		}},
		{Call: "AddEvidence", Input: func(w *World) any {
			return practice.AddEvidence{Mutation: newID(), Evidence: practice.ShownEvidence{ID: w.new("evidence"), RecommendationID: w.Of("recommendation"), Kind: "photo", PhotoID: w.ref("photo"), FindingID: w.ref("finding"), VisitID: w.ref("visit")}}
		}},
		{Call: "WriteSeenLetter", Input: func(w *World) any {
			return practice.WriteSeenLetter{Mutation: newID(), ID: w.new("letter"), Job: w.Of("job"), AddressedTo: "Pier Mutual", Reader: "insurer"}
		}},
		{
			Call: "ShareReport",
			Input: func(w *World) any {
				return practice.ShareReport{Mutation: newID(), ID: w.new("share"), Report: w.Of("report"), Party: w.ref("party"), Name: "Anna Dunlin", Email: "anna@dunlin.example", Until: noon.AddDate(0, 6, 0)}
			},
			After: func(w *World) { w.hear() },
		},
	}
}
