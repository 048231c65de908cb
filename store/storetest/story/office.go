package story

import (
	"github.com/google/uuid"

	"boottop.example/practice/domain/practice"
)

// office is the part of the story about what the office does afterwards: feeds, recalls, money.
func office() []Step {
	return []Step{
		{Call: "EditPractice", Input: func(w *World) any {
			return practice.EditPractice{Mutation: newID(), Version: 2, Email: ptr("office@pier.example")}
		}},
		{Call: "MakeFeed", Input: func(w *World) any {
			return practice.MakeFeed{Mutation: newID(), ID: w.new("feed"), Purpose: "my visits", Boats: true}
		}},
		{Call: "InviteToVisit", Input: func(w *World) any {
			return practice.InviteToVisit{Mutation: newID(), ID: w.new("visit invitation"), Visit: w.Of("next visit"), Name: "Anna Dunlin", Email: "anna@dunlin.example"}
		}},
		{Call: "RevokeFeed", Input: func(w *World) any { return practice.RevokeFeed{Mutation: newID(), ID: w.Of("feed")} }},
		{Call: "AddReinspection", Input: func(w *World) any {
			return practice.AddReinspection{Mutation: newID(), ID: w.new("reinspection"), Vessel: w.Of("vessel"), From: day, To: day.AddDate(0, 1, 0), Reason: "the keel bolts, at the next lift"}
		}},
		{Call: "SendRecall", Input: func(w *World) any {
			return practice.SendRecall{Mutation: newID(), Vessel: w.Of("vessel"), Party: w.Of("party"), Reinspections: []uuid.UUID{w.Of("reinspection")}, Subject: "Kittiwake", Body: "Time for another look."}
		}},
		{Call: "MoveReinspection", Input: func(w *World) any {
			return practice.MoveReinspection{Mutation: newID(), ID: w.Of("reinspection"), Version: 2, State: "booked", Job: w.ref("job")}
		}},
		{Call: "AddGuarantee", Input: func(w *World) any {
			return practice.AddGuarantee{Mutation: newID(), Guarantee: practice.Guarantee{ID: w.new("guarantee"), Vessel: w.Of("vessel"), What: "the epoxy scheme", EndsOn: day.AddDate(2, 0, 0)}}
		}},
		{Call: "EditReinspectionSettings", Input: func(w *World) any {
			return practice.EditReinspectionSettings{Mutation: newID(), RecallMonthly: ptr(true)}
		}},
		{Call: "EditReinspectionSettings", Input: func(w *World) any {
			return practice.EditReinspectionSettings{Mutation: newID(), Version: 1, AheadDays: ptr(int32(90))}
		}},
		{Call: "SeeNotices", Input: func(w *World) any {
			return practice.SeeNotices{Mutation: newID(), Notices: []uuid.UUID{w.Of("notice")}}
		}},
		{Call: "SetDigest", Input: func(w *World) any { return practice.SetDigest{Mutation: newID(), Digest: "weekly"} }},
		{Call: "EditMoneySettings", Input: func(w *World) any {
			return practice.EditMoneySettings{Mutation: newID(), TaxPermille: ptr(int32(230)), EarlyStartWording: ptr("I ask you to begin at once.")}
		}},
		{Call: "EditMoneySettings", Input: func(w *World) any {
			return practice.EditMoneySettings{Mutation: newID(), Version: 1, Foot: ptr("An invented bank.")}
		}},
		{Call: "RecordEarlyStart", Input: func(w *World) any {
			return practice.RecordEarlyStart{Mutation: newID(), ID: w.new("early start"), Job: w.Of("job"), AskedOn: day, AskedBy: "Anna Dunlin", How: "by letter"}
		}},
		{Call: "HoldReports", Input: func(w *World) any { return practice.HoldReports{Mutation: newID(), Job: w.Of("job"), Hold: true} }},
		{Call: "DraftInvoice", Input: func(w *World) any {
			return practice.DraftInvoice{Mutation: newID(), ID: w.new("dropped invoice"), Job: w.Of("job"), Kind: "deposit"}
		}},
		{Call: "DropInvoice", Input: func(w *World) any {
			return practice.DropInvoice{Mutation: newID(), ID: w.Of("dropped invoice"), Version: 1}
		}},
		{Call: "DraftInvoice", Input: func(w *World) any {
			return practice.DraftInvoice{Mutation: newID(), ID: w.new("invoice"), Job: w.Of("job"), Kind: "invoice", Lines: []practice.InvoiceLine{{Kind: "work", Text: "Survey", Hundredths: 100, PriceMinor: 50000, TaxPermille: 230}}}
		}},
		{Call: "EditInvoice", Input: func(w *World) any {
			return practice.EditInvoice{Mutation: newID(), ID: w.Of("invoice"), Version: 1, PayerName: ptr("Anna Dunlin")}
		}},
		{Call: "IssueInvoice", Input: func(w *World) any { return practice.IssueInvoice{Mutation: newID(), ID: w.Of("invoice"), Version: 2} }},
		{Call: "CreditInvoice", Input: func(w *World) any {
			return practice.CreditInvoice{Mutation: newID(), ID: w.new("credit note"), Invoice: w.Of("invoice"), Note: "half a day less", Lines: []practice.InvoiceLine{{Kind: "work", Text: "Survey", Hundredths: 100, PriceMinor: 10000, TaxPermille: 230}}}
		}},
		{Call: "RecordPayment", Input: func(w *World) any {
			return practice.RecordPayment{Mutation: newID(), Payment: practice.Payment{ID: w.new("payment"), InvoiceID: w.Of("invoice"), AmountMinor: 20000, PaidOn: day, How: "bank"}}
		}},
		{Call: "HoldReports", Input: func(w *World) any {
			return practice.HoldReports{Mutation: newID(), Job: w.Of("job"), Because: "the rest is promised in writing"}
		}},
		{Call: "RevokeShare", Input: func(w *World) any { return practice.RevokeShare{Mutation: newID(), ID: w.Of("share")} }},
	}
}
