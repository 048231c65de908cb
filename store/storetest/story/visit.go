package story

import (
	"encoding/json"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain/practice"
)

// visit is the part of the story about a visit: what was read, found, marked, washed and photographed.
func visit() []Step {
	return []Step{
		{Call: "RecordCondition", Input: func(w *World) any {
			return practice.RecordCondition{Mutation: newID(), Condition: practice.Condition{ID: w.new("condition"), VisitID: w.Of("visit"), At: noon, AirDecidegrees: ptr(int16(110)), HumidityPermille: ptr(int16(700)), SkinPortDecidegrees: ptr(int16(120)), SkinStarboardDecidegrees: ptr(int16(120))}}
		}},
		{Call: "OpenPass", Input: func(w *World) any {
			return practice.OpenPass{
				Mutation: newID(), ID: w.new("pass"), Visit: w.Of("visit"), Element: w.Of("element"), Plan: w.Of("plan"), Hand: w.ref("surveyor"), Instrument: w.ref("instrument"), Scale: w.ref("scale"),
				Face: "outside", Surface: "antifouling", DrySurface: "bare gelcoat", Source: "metered", BeganAt: noon,
			}
		}},
		{Call: "EditPass", Input: func(w *World) any {
			return practice.EditPass{Mutation: newID(), ID: w.Of("pass"), Version: 1, Rain: ptr("none")}
		}},
		{Call: "RecordBlockCheck", Input: func(w *World) any {
			return practice.RecordBlockCheck{Mutation: newID(), Check: practice.BlockCheck{ID: w.new("block check"), PassID: w.Of("pass"), Block: "low", Moment: "before", ValueTenths: 50, At: noon}}
		}},
		{Call: "AddReadings", Input: func(w *World) any {
			return practice.AddReadings{
				Mutation: newID(), Pass: w.Of("pass"), IDs: []uuid.UUID{w.new("dry reading"), w.new("reading")}, Ordinals: []int32{2, 1},
				Placements: [][]int16{{120}, {280, 290, 300}}, TakenAt: []time.Time{noon, noon.Add(time.Minute)},
			}
		}},
		{Call: "SupersedeReading", Input: func(w *World) any {
			return practice.SupersedeReading{Mutation: newID(), ID: w.new("new reading"), Reading: w.Of("reading"), How: "correct", Reason: "misheard", Placements: []int16{270}, TakenAt: noon}
		}},
		{Call: "VoidReading", Input: func(w *World) any {
			return practice.VoidReading{Mutation: newID(), Reading: w.Of("dry reading"), Reason: "water on the skin"}
		}},
		{Call: "MarkFollowUp", Input: func(w *World) any {
			return practice.MarkFollowUp{Mutation: newID(), Pass: w.Of("pass"), Ordinals: []int32{1}, On: true}
		}},
		{Call: "MarkNotReached", Input: func(w *World) any {
			return practice.MarkNotReached{Mutation: newID(), Pass: w.Of("pass"), IDs: []uuid.UUID{w.new("not reached")}, Ordinals: []int32{2}, Reason: "prop pad"}
		}},
		{Call: "RecordFinding", Input: func(w *World) any {
			return practice.RecordFinding{Mutation: newID(), Finding: practice.Finding{ID: w.new("finding"), VisitID: w.Of("visit"), ElementID: w.ref("element"), Kind: "blister", Sure: "seen", Text: "two, 10 mm", Measured: json.RawMessage(`{"pH": 7}`), Places: []int32{1}, LookAgain: true}}
		}},
		{Call: "RecordFinding", Input: func(w *World) any {
			return practice.RecordFinding{Mutation: newID(), Finding: practice.Finding{
				ID: w.new("inside finding"), VisitID: w.Of("visit"), Form: "sounding", Sure: "seen", Measured: json.RawMessage(`{"note": "dull", "face": "inside"}`),
				Side: ptr("port"), Outline: json.RawMessage(`[[6400, 800], [6600, 800], [6600, 1000]]`), OtherFace: w.ref("finding"),
			}}
		}},
		{Call: "EditFinding", Input: func(w *World) any {
			return practice.EditFinding{Mutation: newID(), Finding: practice.Finding{
				ID: w.Of("inside finding"), Version: 1, Form: "sounding", Sure: "seen", Measured: json.RawMessage(`{"note": "clear", "face": "inside"}`), Places: []int32{1},
				AgainOf: w.ref("finding"),
			}}
		}},
		{Call: "RecordWindow", Input: func(w *World) any {
			return practice.RecordWindow{Mutation: newID(), Window: practice.Window{ID: w.new("window"), VisitID: w.Of("visit"), ElementID: w.Of("element"), Side: "port", AlongMm: 6500, DownMm: 900, WidthMm: 100, HeightMm: 100, BaredTo: "gelcoat"}}
		}},

		{
			Call: "MarkHull",
			Input: func(w *World) any {
				return practice.MarkHull{Mutation: newID(), Unasked: &practice.Unasked{NotedAt: &noon}, Marks: practice.HullMarks{ID: w.new("marks"), VisitID: w.Of("visit"), MadeWith: "chalk", Where: "stations 1 to 4", MadeAt: noon}}
			},
			After: func(w *World) { w.IDs["act without leave"] = w.unasked() },
		},
		{Call: "ExplainAct", Input: func(w *World) any {
			return practice.ExplainAct{Mutation: newID(), ID: w.Of("act without leave"), Reason: "the owner stood by"}
		}},
		{Call: "RemoveMarks", Input: func(w *World) any {
			return practice.RemoveMarks{Mutation: newID(), ID: w.Of("marks"), At: noon.Add(2 * time.Hour)}
		}},
		{Call: "RecordPermission", Input: func(w *World) any {
			return practice.RecordPermission{Mutation: newID(), Permission: practice.Permission{ID: w.new("boarding"), JobID: w.Of("job"), What: "board and survey", GivenOn: &day, GivenByName: "Ada Skerry"}}
		}},
		{Call: "RecordPermission", Input: func(w *World) any {
			return practice.RecordPermission{Mutation: newID(), Permission: practice.Permission{ID: w.new("soles"), JobID: w.Of("job"), What: "lift soles", GivenOn: &day, GivenByName: "Ada Skerry"}}
		}},
		{Call: "RecordCauseCheck", Input: func(w *World) any {
			return practice.RecordCauseCheck{Mutation: newID(), ID: w.new("check"), Visit: w.Of("visit"), Outcome: "inside-nothing", Places: []int32{2}, Finding: w.ref("finding")}
		}},
		{Call: "WithdrawCauseCheck", Input: func(w *World) any {
			return practice.WithdrawCauseCheck{Mutation: newID(), ID: w.Of("check"), Reason: "made at another place"}
		}},
		{Call: "JudgeCause", Input: func(w *World) any {
			return practice.JudgeCause{Mutation: newID(), ID: w.new("judgement"), Visit: w.Of("visit"), Cause: "leak-at-a-fitting", Judges: "agrees", Reason: "a stain inside the locker", Places: []int32{2}}
		}},
		{Call: "SetDryingCourse", Input: func(w *World) any {
			return practice.SetDryingCourse{Mutation: newID(), Job: w.Of("job"), Course: practice.DryingCourse{BeganOn: ptr(time.Date(2026, 3, 5, 0, 0, 0, 0, time.UTC)), WallMm: ptr(int16(9)), TentPlace: "shed 2", OutdoorsPlace: "the quay"}}
		}},
		{Call: "SetDryingCourse", Input: func(w *World) any {
			return practice.SetDryingCourse{Mutation: newID(), Job: w.Of("job"), Course: practice.DryingCourse{WallMm: ptr(int16(10)), TentPlace: "shed 2", OutdoorsPlace: "the quay", Version: 1}}
		}},
		{Call: "RecordAir", Input: func(w *World) any {
			return practice.RecordAir{Mutation: newID(), Job: w.Of("job"), Place: "shed 2", Source: "a logger", At: []time.Time{Today}, AirDecidegrees: []int32{180}, HumidityPermille: []int32{450}}
		}},
		{Call: "RecordWash", Input: func(w *World) any {
			return practice.RecordWash{Mutation: newID(), Wash: practice.Wash{ID: w.new("wash"), JobID: w.Of("job"), At: Today.Add(-72 * time.Hour), How: "hot", PhTenths: ptr(int16(52))}}
		}},
		{Call: "RecordRebound", Input: func(w *World) any {
			return practice.RecordRebound{Mutation: newID(), Rebound: practice.Rebound{ID: w.new("rebound"), JobID: w.Of("job"), After: "wash", WashID: w.ref("wash"), BeganAt: Today.Add(-71 * time.Hour), ReadAt: Today.Add(-23 * time.Hour), ScaleID: w.Of("scale"), Places: []int32{1}, BeforeTenths: []int32{200}, AfterTenths: []int32{240}}}
		}},
		{Call: "RecordSheetTest", Input: func(w *World) any {
			return practice.RecordSheetTest{Mutation: newID(), Test: practice.SheetTest{ID: w.new("plastic sheet"), JobID: w.Of("job"), TapedAt: Today.Add(-48 * time.Hour), LookedAt: Today.Add(-12 * time.Hour)}}
		}},
		{Call: "SetGateRule", Input: func(w *World) any {
			return practice.SetGateRule{Mutation: newID(), Rule: practice.GateRule{Gate: "surface temperature", Least: ptr(12.0), Because: "the coating’s sheet"}}
		}},
		{Call: "SetGateRule", Input: func(w *World) any {
			return practice.SetGateRule{Mutation: newID(), Rule: practice.GateRule{Gate: "surface temperature", Least: ptr(13.0), Because: "the coating’s new sheet", Version: 1}}
		}},
		{Call: "SignGate", Input: func(w *World) any {
			return practice.SignGate{Mutation: newID(), ID: w.new("signature"), Job: w.Of("job"), Gate: "plastic sheet", MetOn: Today, Evidence: "taped on 36 hours, nothing under it"}
		}},

		{
			Call: "GrantUpload",
			Input: func(w *World) any {
				return practice.GrantUpload{Mutation: newID(), ID: w.new("photo file"), Purpose: "photo", ContentType: "image/jpeg", SizeBytes: int64(len(photoBytes)), Sha256: sumOf(photoBytes), FileName: "port.jpg"}
			},
			After: func(w *World) { w.put("photo file", "image/jpeg", photoBytes) },
		},
		{Call: "FinishUpload", Input: func(w *World) any { return practice.FinishUpload{Mutation: newID(), Upload: w.Of("photo file")} }},
		{Call: "AddPhoto", Input: func(w *World) any {
			return practice.AddPhoto{Mutation: newID(), ID: w.new("photo"), Upload: w.Of("photo file"), Vessel: w.Of("vessel"), Visit: w.ref("visit"), Place: w.ref("place"), Finding: w.ref("finding"), Caption: "blister"}
		}},
		{
			Call: "GrantUpload",
			Input: func(w *World) any {
				return practice.GrantUpload{Mutation: newID(), ID: w.new("paper file"), Purpose: "document", ContentType: "application/pdf", SizeBytes: int64(len(paperBytes)), Sha256: sumOf(paperBytes), FileName: "tonnage.pdf"}
			},
			After: func(w *World) { w.put("paper file", "application/pdf", paperBytes) },
		},
		{Call: "FinishUpload", Input: func(w *World) any { return practice.FinishUpload{Mutation: newID(), Upload: w.Of("paper file")} }},
		{Call: "AddPaper", Input: func(w *World) any {
			return practice.AddPaper{Mutation: newID(), ID: w.new("paper"), Job: w.Of("job"), Upload: w.Of("paper file"), Kind: "tonnage", Title: "Certificate of tonnage", IssuedBy: "The registry's measurer", IssuedOn: &day}
		}},
		{Call: "EditPhoto", Input: func(w *World) any {
			return practice.EditPhoto{Mutation: newID(), ID: w.Of("photo"), Version: 1, Alt: ptr("A blister beside a ruler"), Printed: ptr(false)}
		}},
		{
			Call: "GrantUpload",
			Input: func(w *World) any {
				return practice.GrantUpload{Mutation: newID(), ID: w.new("sheet"), Purpose: "readings", ContentType: "text/csv", SizeBytes: int64(len(sheetBytes)), Sha256: sumOf(sheetBytes), FileName: "sheet.csv"}
			},
			After: func(w *World) { w.put("sheet", "text/csv", sheetBytes) },
		},
		{Call: "FinishUpload", Input: func(w *World) any { return practice.FinishUpload{Mutation: newID(), Upload: w.Of("sheet")} }},
		{Call: "ImportReadings", Input: func(w *World) any {
			return practice.ImportReadings{Mutation: newID(), ID: w.new("import"), Upload: w.Of("sheet"), Pass: w.Of("pass")}
		}},
		{
			Call: "ClosePass",
			Input: func(w *World) any {
				return practice.ClosePass{Mutation: newID(), ID: w.Of("pass"), Version: w.version("passes", "pass"), At: noon.Add(time.Hour)}
			},
		},
		{Call: "LowerStanding", Input: func(w *World) any {
			return practice.LowerStanding{Mutation: newID(), ID: w.new("lowered"), Pass: w.Of("pass"), Standing: practice.Unlike, Reason: "the pad was worn"}
		}},
		{Call: "RestoreStanding", Input: func(w *World) any { return practice.RestoreStanding{Mutation: newID(), Pass: w.Of("pass")} }},
	}
}
