package practice_test

import (
	"context"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/figure"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store"
	"boottop.example/practice/store/storetest"
)

// world is a practice in which everything has happened once: what exists, by a word.
type world struct {
	*bundle
	house
	objects *store.Objects
	actor   domain.Actor
	ids     map[string]uuid.UUID
	pending map[string]uuid.UUID // made by the step under way
}

func worlds(t *testing.T) (ours, theirs *world) {
	t.Helper()
	bucket := storetest.S3(t)
	objects, err := store.OpenObjects(store.ObjectsConfig{URL: bucket.URL(), Region: bucket.Region, Bucket: bucket.Name, Key: bucket.Key, Secret: bucket.Secret})
	if err != nil {
		t.Fatal(err)
	}
	b := setup(t, practice.WithObjects(objects))
	in := func(h house) *world {
		return &world{
			bundle: b, house: h, objects: objects, actor: h.of[domain.Principal], pending: map[string]uuid.UUID{},
			ids: map[string]uuid.UUID{"surveyor": h.of[domain.Surveyor].Member, "guest": h.of[domain.Guest].Member},
		}
	}
	return in(b.ours), in(b.theirs)
}

// of gives the id of what an earlier step made, made the id of what this one makes.
func (w *world) of(what string) uuid.UUID {
	w.t.Helper()
	id, there := w.ids[what]
	if !there {
		w.t.Fatalf("no step has made the %s yet", what)
	}
	return id
}

func (w *world) ref(what string) *uuid.UUID { return ptr(w.of(what)) }

func (w *world) made(what string) uuid.UUID {
	w.pending[what] = newID()
	return w.pending[what]
}

// put puts an upload's bytes into the store, as a browser does with its grant.
func (w *world) put(upload, contentType, text string) {
	w.t.Helper()
	key := value[string](w.bundle, `select object_key from uploads where practice_id = $1 and id = $2`, w.id, w.of(upload))
	if err := w.objects.Put(w.t.Context(), key, contentType, []byte(text)); err != nil {
		w.t.Fatal(err)
	}
}

// step is one use case of the story, with an input that fits the state at that point.
type step struct {
	call  string
	input func(w *world) any
	after func(w *world) // what the next step needs beside
}

const (
	photoBytes = "\xff\xd8\xff\xe0 not much of a picture"
	sheetBytes = "side,place,reading\nport,13/4,31\n"
)

// sloop is a figure that can be drawn.
func sloop() json.RawMessage {
	spec, err := figure.Default(figure.FinKeelSloop, figure.Dims{LOA: 9.8, Beam: 3.2, Draught: 1.7})
	if err != nil {
		panic(err)
	}
	raw, err := json.Marshal(spec)
	if err != nil {
		panic(err)
	}
	return raw
}

func sumOf(text string) []byte {
	sum := sha256.Sum256([]byte(text))
	return sum[:]
}

// story is every write there is, in an order in which each succeeds.
func story() []step {
	day := time.Date(2026, 4, 6, 0, 0, 0, 0, time.UTC)
	noon := time.Date(2026, 4, 6, 12, 0, 0, 0, time.UTC)
	m := newID
	return []step{
		{call: "EditPractice", input: func(w *world) any { return practice.EditPractice{Mutation: m(), Version: 1, Phone: ptr("555 0100")} }},
		{call: "InviteMember", input: func(w *world) any {
			return practice.InviteMember{Mutation: m(), ID: w.made("invitation"), Email: "sigrid@tern.example", Name: "Sigrid Tern", Roles: []string{"trainee"}}
		}},
		{call: "EditMember", input: func(w *world) any {
			return practice.EditMember{Mutation: m(), ID: w.of("surveyor"), Version: 1, Qualification: ptr("MSc")}
		}},
		{call: "CreateAPIKey", input: func(w *world) any {
			return practice.CreateAPIKey{Mutation: m(), ID: w.made("key"), Member: w.of("surveyor"), Name: "weather"}
		}},
		{call: "RevokeAPIKey", input: func(w *world) any { return practice.RevokeAPIKey{Mutation: m(), ID: w.of("key")} }},

		{call: "AddInstrument", input: func(w *world) any {
			return practice.AddInstrument{Mutation: m(), Instrument: practice.Instrument{ID: w.made("instrument"), Name: "Skerrow deep No. 2", Kind: "capacitance", Sensing: "deep"}}
		}},
		{call: "EditInstrument", input: func(w *world) any {
			return practice.EditInstrument{Mutation: m(), ID: w.of("instrument"), Version: 1, BatteryNote: ptr("9 V")}
		}},
		{call: "AddScale", input: func(w *world) any {
			return practice.AddScale{Mutation: m(), Scale: practice.Scale{ID: w.made("scale"), Instrument: w.of("instrument"), Name: "A", HighTenths: 1000, StepTenths: 10}}
		}},
		{call: "AddParty", input: func(w *world) any {
			return practice.AddParty{Mutation: m(), Party: practice.Party{ID: w.made("party"), Name: "Skerrow Boatyard", Kind: "organisation", IsYard: true}}
		}},
		{call: "EditParty", input: func(w *world) any {
			return practice.EditParty{Mutation: m(), ID: w.of("party"), Version: 1, Phone: ptr("555 0101")}
		}},

		{call: "AddVessel", input: func(w *world) any {
			return practice.AddVessel{Mutation: m(), Vessel: practice.Vessel{ID: w.made("vessel"), Name: "Kittiwake"}}
		}},
		{call: "EditVessel", input: func(w *world) any {
			return practice.EditVessel{Mutation: m(), ID: w.of("vessel"), Version: 1, Kind: ptr("sloop")}
		}},
		{call: "AddElement", input: func(w *world) any {
			return practice.AddElement{Mutation: m(), Element: practice.Element{ID: w.made("element"), VesselID: w.of("vessel"), Kind: "hull", BootTopMm: ptr(int32(100)), Figure: sloop()}}
		}},
		{call: "EditElement", input: func(w *world) any {
			return practice.EditElement{Mutation: m(), ID: w.of("element"), Version: 1, Name: ptr("hull")}
		}},
		{call: "AddDatum", input: func(w *world) any {
			return practice.AddDatum{Mutation: m(), Datum: practice.Datum{ID: w.made("datum"), ElementID: w.of("element"), Mark: "stern post"}}
		}},
		{call: "AddLayer", input: func(w *world) any {
			return practice.AddLayer{Mutation: m(), Layer: practice.Layer{ID: w.made("layer"), ElementID: w.of("element"), Kind: "behind", What: "water tank"}}
		}},
		{call: "EndLayer", input: func(w *world) any {
			return practice.EndLayer{Mutation: m(), ID: w.of("layer"), Version: 1, On: day}
		}},
		{call: "AddEvent", input: func(w *world) any {
			return practice.AddEvent{Mutation: m(), Vessel: w.of("vessel"), Event: practice.Event{ID: w.made("event"), Kind: "repair", What: "rudder stock", FromOn: day, ToOn: day}}
		}},
		{call: "AddPlaces", input: func(w *world) any {
			return practice.AddPlaces{
				Mutation: m(), Element: w.of("element"), IDs: []uuid.UUID{w.made("place"), w.made("second place"), w.made("third place")}, Labels: []string{"13/3", "13/1", "13/4"},
				Sides: []string{"port", "port", "port"}, Along: []int32{6500, 6500, 6500}, Down: []int32{900, -400, 1400},
			}
		}},
		{call: "AddPlan", input: func(w *world) any {
			return practice.AddPlan{Mutation: m(), ID: w.made("plan"), Vessel: w.of("vessel"), Places: []int32{2, 1, 3}, Dry: []int32{2}}
		}},

		{call: "AddSpell", input: func(w *world) any {
			return practice.AddSpell{Mutation: m(), ID: w.made("spell"), Vessel: w.of("vessel"), Yard: w.ref("party"), TimeZone: "Europe/Dublin", ActualLift: ptr(noon.AddDate(0, 0, -20)), DatePrecision: "instant"}
		}},
		{call: "EditSpell", input: func(w *world) any {
			return practice.EditSpell{Mutation: m(), ID: w.of("spell"), Version: 1, Yard: w.ref("party"), WashedAt: ptr(noon.AddDate(0, 0, -19))}
		}},
		{call: "AddJob", input: func(w *world) any {
			return practice.AddJob{Mutation: m(), ID: w.made("job"), Vessel: w.of("vessel"), Client: w.ref("party"), Lead: w.ref("surveyor"), Kind: "limited moisture", Cite: "this client only"}
		}},
		{call: "EditJob", input: func(w *world) any {
			return practice.EditJob{Mutation: m(), ID: w.of("job"), Version: 1, Client: w.ref("party"), Lead: w.ref("surveyor"), Scope: ptr("underbody")}
		}},
		{call: "GiveAccess", input: func(w *world) any {
			return practice.GiveAccess{Mutation: m(), Job: w.of("job"), Member: w.of("guest"), Allowed: true}
		}},
		{call: "RecordPermission", input: func(w *world) any {
			return practice.RecordPermission{Mutation: m(), Permission: practice.Permission{ID: w.made("permission"), JobID: w.of("job"), What: "photograph", AskedOn: &day}}
		}},
		{call: "RecordPermission", input: func(w *world) any {
			return practice.RecordPermission{Mutation: m(), Version: 1, Permission: practice.Permission{ID: w.of("permission"), JobID: w.of("job"), What: "photograph", GivenOn: &day, GivenByID: w.ref("party")}}
		}},
		{call: "AddPartyRole", input: func(w *world) any {
			return practice.AddPartyRole{Mutation: m(), ID: w.made("role"), Party: w.of("party"), Vessel: w.of("vessel"), Job: w.ref("job"), Role: "yard"}
		}},
		{call: "PlanVisit", input: func(w *world) any {
			return practice.PlanVisit{Mutation: m(), ID: w.made("visit"), Job: w.of("job"), Spell: w.ref("spell"), Kind: "meter visit", From: noon, To: noon.Add(3 * time.Hour), TimeZone: "Europe/Dublin", Lead: w.ref("surveyor")}
		}},
		{call: "PlanVisit", input: func(w *world) any {
			return practice.PlanVisit{Mutation: m(), ID: w.made("next visit"), Job: w.of("job"), Kind: "repeat readings", From: noon.AddDate(0, 0, 40), To: noon.AddDate(0, 0, 40).Add(time.Hour), TimeZone: "Europe/Dublin", Follows: w.ref("visit")}
		}},
		{call: "EditVisit", input: func(w *world) any {
			return practice.EditVisit{Mutation: m(), ID: w.of("visit"), Version: 1, Spell: w.ref("spell"), Lead: w.ref("surveyor"), State: ptr("done")}
		}},

		{call: "RecordCondition", input: func(w *world) any {
			return practice.RecordCondition{Mutation: m(), Condition: practice.Condition{ID: w.made("condition"), VisitID: w.of("visit"), At: noon, AirDecidegrees: ptr(int16(110)), HumidityPermille: ptr(int16(700)), SkinPortDecidegrees: ptr(int16(120)), SkinStarboardDecidegrees: ptr(int16(120))}}
		}},
		{call: "OpenPass", input: func(w *world) any {
			return practice.OpenPass{
				Mutation: m(), ID: w.made("pass"), Visit: w.of("visit"), Element: w.of("element"), Plan: w.of("plan"), Hand: w.ref("surveyor"), Instrument: w.ref("instrument"), Scale: w.ref("scale"),
				Face: "outside", Surface: "antifouling", DrySurface: "bare gelcoat", Source: "metered", BeganAt: noon,
			}
		}},
		{call: "EditPass", input: func(w *world) any {
			return practice.EditPass{Mutation: m(), ID: w.of("pass"), Version: 1, Rain: ptr("none")}
		}},
		{call: "RecordBlockCheck", input: func(w *world) any {
			return practice.RecordBlockCheck{Mutation: m(), Check: practice.BlockCheck{ID: w.made("block check"), PassID: w.of("pass"), Block: "low", Moment: "before", ValueTenths: 50, At: noon}}
		}},
		{call: "AddReadings", input: func(w *world) any {
			return practice.AddReadings{
				Mutation: m(), Pass: w.of("pass"), IDs: []uuid.UUID{w.made("dry reading"), w.made("reading")}, Ordinals: []int32{2, 1},
				Placements: [][]int16{{120}, {280, 290, 300}}, TakenAt: []time.Time{noon, noon.Add(time.Minute)},
			}
		}},
		{call: "SupersedeReading", input: func(w *world) any {
			return practice.SupersedeReading{Mutation: m(), ID: w.made("new reading"), Reading: w.of("reading"), How: "correct", Reason: "misheard", Placements: []int16{270}, TakenAt: noon}
		}},
		{call: "VoidReading", input: func(w *world) any {
			return practice.VoidReading{Mutation: m(), Reading: w.of("dry reading"), Reason: "water on the skin"}
		}},
		{call: "MarkFollowUp", input: func(w *world) any {
			return practice.MarkFollowUp{Mutation: m(), Pass: w.of("pass"), Ordinals: []int32{1}, On: true}
		}},
		{call: "MarkNotReached", input: func(w *world) any {
			return practice.MarkNotReached{Mutation: m(), Pass: w.of("pass"), IDs: []uuid.UUID{w.made("not reached")}, Ordinals: []int32{2}, Reason: "prop pad"}
		}},
		{call: "RecordFinding", input: func(w *world) any {
			return practice.RecordFinding{Mutation: m(), Finding: practice.Finding{ID: w.made("finding"), VisitID: w.of("visit"), ElementID: w.ref("element"), Kind: "blister", Sure: "seen", Text: "two, 10 mm", Places: []int32{1}}}
		}},
		{call: "RecordWindow", input: func(w *world) any {
			return practice.RecordWindow{Mutation: m(), Window: practice.Window{ID: w.made("window"), VisitID: w.of("visit"), ElementID: w.of("element"), Side: "port", AlongMm: 6500, DownMm: 900, WidthMm: 100, HeightMm: 100, BaredTo: "gelcoat"}}
		}},

		{
			call: "GrantUpload",
			input: func(w *world) any {
				return practice.GrantUpload{Mutation: m(), ID: w.made("photo file"), Purpose: "photo", ContentType: "image/jpeg", SizeBytes: int64(len(photoBytes)), Sha256: sumOf(photoBytes), FileName: "port.jpg"}
			},
			after: func(w *world) { w.put("photo file", "image/jpeg", photoBytes) },
		},
		{call: "FinishUpload", input: func(w *world) any { return practice.FinishUpload{Mutation: m(), Upload: w.of("photo file")} }},
		{call: "AddPhoto", input: func(w *world) any {
			return practice.AddPhoto{Mutation: m(), ID: w.made("photo"), Upload: w.of("photo file"), Vessel: w.of("vessel"), Visit: w.ref("visit"), Place: w.ref("place"), Finding: w.ref("finding"), Caption: "blister"}
		}},
		{
			call: "GrantUpload",
			input: func(w *world) any {
				return practice.GrantUpload{Mutation: m(), ID: w.made("sheet"), Purpose: "readings", ContentType: "text/csv", SizeBytes: int64(len(sheetBytes)), Sha256: sumOf(sheetBytes), FileName: "sheet.csv"}
			},
			after: func(w *world) { w.put("sheet", "text/csv", sheetBytes) },
		},
		{call: "FinishUpload", input: func(w *world) any { return practice.FinishUpload{Mutation: m(), Upload: w.of("sheet")} }},
		{call: "ImportReadings", input: func(w *world) any {
			return practice.ImportReadings{Mutation: m(), ID: w.made("import"), Upload: w.of("sheet"), Pass: w.of("pass")}
		}},
		{
			call: "ClosePass",
			input: func(w *world) any {
				v := value[int32](w.bundle, `select version from passes where practice_id = $1 and id = $2`, w.id, w.of("pass"))
				return practice.ClosePass{Mutation: m(), ID: w.of("pass"), Version: v, At: noon.Add(time.Hour)}
			},
		},

		{call: "AddRecommendation", input: func(w *world) any {
			return practice.AddRecommendation{Mutation: m(), Recommendation: practice.Recommendation{ID: w.made("recommendation"), JobID: w.of("job"), Grade: "ashore", Sure: "seen", What: "Open the blister at 13/3."}}
		}},
		{call: "EditRecommendation", input: func(w *world) any {
			return practice.EditRecommendation{Mutation: m(), ID: w.of("recommendation"), Version: 1, WhoActs: ptr("yard")}
		}},
		{call: "DraftReport", input: func(w *world) any {
			return practice.DraftReport{Mutation: m(), ID: w.made("report"), Job: w.of("job"), Title: "Limited survey", Paper: "A4"}
		}},
		{call: "EditReport", input: func(w *world) any {
			return practice.EditReport{Mutation: m(), ID: w.of("report"), Version: 1, InShort: ptr("Two blisters to port."), Scope: ptr("The underbody."), Limits: ptr("Nothing inside.")}
		}},
		{call: "TakeSecondLook", input: func(w *world) any { return practice.TakeSecondLook{Mutation: m(), ID: w.of("report"), Version: 2} }},
		{
			call:  "IssueReport",
			input: func(w *world) any { return practice.IssueReport{Mutation: m(), ID: w.of("report"), Version: 3} },
			after: func(w *world) {
				if err := w.MakeReport(w.t.Context(), practice.ReportJob{Practice: w.id, Report: w.of("report")}); err != nil {
					w.t.Fatal(err)
				}
			},
		},
		{call: "SetRecommendationState", input: func(w *world) any {
			return practice.SetRecommendationState{Mutation: m(), ID: w.made("state"), Recommendation: w.of("recommendation"), State: "acknowledged"}
		}},
		{call: "ShareReport", input: func(w *world) any {
			return practice.ShareReport{Mutation: m(), ID: w.made("share"), Report: w.of("report"), Party: w.ref("party"), Name: "Anna Dunlin", Email: "anna@dunlin.example", Until: noon.AddDate(0, 6, 0)}
		}},
		{call: "RevokeShare", input: func(w *world) any { return practice.RevokeShare{Mutation: m(), ID: w.of("share")} }},
		{
			call: "WithdrawReport",
			input: func(w *world) any {
				v := value[int32](w.bundle, `select version from reports where practice_id = $1 and id = $2`, w.id, w.of("report"))
				return practice.WithdrawReport{Mutation: m(), ID: w.of("report"), Version: v, Reason: "wrong boat on the cover"}
			},
		},
	}
}

// reads is every read there is, with arguments that find something; several where a read
// takes more than one.
func (w *world) reads() map[string][][]any {
	every := practice.Page{First: 50}
	from, to := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC), time.Date(2026, 12, 31, 0, 0, 0, 0, time.UTC)
	one := func(args ...any) [][]any { return [][]any{args} }
	return map[string][][]any{
		"Practice": one(), "Viewer": one(), "Head": one(int64(0)), "Today": one((*time.Time)(nil)), "Invitations": one(), "APIKeys": one(),
		"Members": one(every), "Parties": one(practice.PartyFilter{}, every, practice.PartyParts{Roles: true, Jobs: true}), "Instruments": one(every),
		"Vessels": {{"", every}, {"Kittiwake", every}}, "Jobs": one(practice.JobFilter{}, every), "Reports": one(every),
		"Spells": one(from, to), "Visits": one(from, to, false),

		"Member": one(w.of("surveyor")), "Invitation": one(w.of("invitation")), "APIKey": one(w.of("key")),
		"Party": one(w.of("party"), practice.PartyParts{Roles: true, Jobs: true}), "PartyRole": one(w.of("role")),
		"Instrument": one(w.of("instrument"), true), "Element": one(w.of("element")), "Plan": one(w.of("plan")),
		"Vessel":  one(w.of("vessel"), practice.VesselParts{Elements: true, Plans: true, Events: true, Spells: true, People: true, Jobs: true, Reports: true, Recommendations: true, Reinspections: true, Photos: true, History: true}, w.ref("pass")),
		"History": one(w.of("vessel"), w.ref("pass")), "Pass": one(w.of("pass")), "Place": one(w.of("place")), "Reading": one(w.of("reading")),
		"Spell": one(w.of("spell")), "Job": one(w.of("job")),
		"Visit":     one(w.of("visit"), practice.VisitParts{Spell: true, Conditions: true, Passes: true, Findings: true, Windows: true, Photos: true}),
		"Condition": one(w.of("condition")), "Finding": one(w.of("finding")), "Photo": one(w.of("photo")),
		"PreviewImport":  one(w.of("sheet"), w.of("pass")),
		"Recommendation": one(w.of("recommendation")), "Report": one(w.of("report")), "ReportWithJob": one(w.of("report")), "Issued": one(w.of("report")),
	}
}

// run takes one step and keeps what it made.
func (w *world) run(ctx context.Context, u useCase, s step, in any) error {
	if _, err := u.call(ctx, w.actor, in); err != nil {
		return fmt.Errorf("%s in the story: %w", s.call, err)
	}
	for what, id := range w.pending {
		w.ids[what] = id
	}
	clear(w.pending)
	if s.after != nil {
		s.after(w)
	}
	return nil
}
