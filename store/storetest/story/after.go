package story

import (
	"boottop.example/practice/domain/practice"
)

// after is the part of the story about what comes after an issued report, and what is erased in the end.
func after() []Step {
	return []Step{
		{Call: "WriteAddendum", Input: func(w *World) any {
			return practice.WriteAddendum{Mutation: newID(), ID: w.new("addendum"), Report: w.Of("report"), Text: "The window at 13/3 was made good."}
		}},
		{
			Call:  "IssueAddendum",
			Input: func(w *World) any { return practice.IssueAddendum{Mutation: newID(), ID: w.Of("addendum"), Version: 1} },
			After: func(w *World) {
				if err := w.Service.MakeAddendum(w.T.Context(), practice.AddendumJob{Practice: w.Practice, Addendum: w.Of("addendum")}); err != nil {
					w.T.Fatal(err)
				}
			},
		},
		{Call: "DraftReport", Input: func(w *World) any {
			return practice.DraftReport{Mutation: newID(), ID: w.new("second report"), Job: w.Of("job"), Title: "Limited survey", Paper: "Letter"}
		}},
		{Call: "EditReport", Input: func(w *World) any {
			return practice.EditReport{Mutation: newID(), ID: w.Of("second report"), Version: w.version("reports", "second report"), InShort: ptr("The same, put better.")}
		}},
		{Call: "TakeSecondLook", Input: func(w *World) any {
			return practice.TakeSecondLook{Mutation: newID(), ID: w.Of("second report"), Version: w.version("reports", "second report")}
		}},
		{
			Call: "IssueReport",
			Input: func(w *World) any {
				return practice.IssueReport{Mutation: newID(), ID: w.Of("second report"), Version: w.version("reports", "second report")}
			},
			After: func(w *World) {
				if err := w.Service.MakeReport(w.T.Context(), practice.ReportJob{Practice: w.Practice, Report: w.Of("second report")}); err != nil {
					w.T.Fatal(err)
				}
			},
		},
		{Call: "ReplaceReport", Input: func(w *World) any {
			return practice.ReplaceReport{Mutation: newID(), ID: w.Of("second report"), Version: w.version("reports", "second report"), By: w.Of("report"), Because: "the draught was put better"}
		}},
		{
			Call: "WithdrawReport",
			Input: func(w *World) any {
				return practice.WithdrawReport{Mutation: newID(), ID: w.Of("report"), Version: w.version("reports", "report"), Reason: "wrong boat on the cover"}
			},
		},
		{Call: "DraftReport", Input: func(w *World) any {
			return practice.DraftReport{Mutation: newID(), ID: w.new("third report"), Job: w.Of("job"), Title: "What is left", Paper: "A4"}
		}},
		{Call: "PlaceHold", Input: func(w *World) any {
			return practice.PlaceHold{Mutation: newID(), ID: w.new("hold"), On: practice.HoldOn{Job: w.ref("job")}, Reason: "a claim is in the air"}
		}},
		{Call: "LiftHold", Input: func(w *World) any {
			return practice.LiftHold{Mutation: newID(), ID: w.Of("hold"), Reason: "settled"}
		}},
		{Call: "EditRetention", Input: func(w *World) any {
			return practice.EditRetention{Mutation: newID(), FileYears: 12, FileJurisdiction: "as our counsel says"}
		}},
		{Call: "EditRetention", Input: func(w *World) any {
			return practice.EditRetention{Mutation: newID(), Version: 1, FileYears: 10, InvoiceYears: ptr(int32(7)), PeopleYears: ptr(int32(2))}
		}},
		{Call: "AddParty", Input: func(w *World) any {
			return practice.AddParty{Mutation: newID(), Party: practice.Party{ID: w.new("leaver"), Name: "Wil Turnstone", Kind: "person", Email: "wil@turnstone.example", Phone: "555 0199"}}
		}},
		{Call: "ErasePerson", Input: func(w *World) any {
			return practice.ErasePerson{Mutation: newID(), ID: w.new("erasure"), Party: w.Of("leaver"), Reason: "asked for it by letter", Name: "Wil Turnstone"}
		}},
		{Call: "EraseMember", Input: func(w *World) any {
			return practice.EraseMember{Mutation: newID(), ID: w.new("member's erasure"), Member: w.left(), Reason: "left two years ago", Name: "Nan Sanderling"}
		}},
		{Call: "EraseFile", Input: func(w *World) any {
			return practice.EraseFile{Mutation: newID(), ID: w.new("file's erasure"), Job: w.oldJob(), Reason: "its time is over", Number: "2001-007"}
		}},
	}
}
