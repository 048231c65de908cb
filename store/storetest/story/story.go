// Package story tells everything that can happen in a practice, once and in order: every
// write there is, each with an input that fits the state at that point. Tests tell it to
// have something of every kind, and to stop before a step and try what should not work.
package story

import (
	"context"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"maps"
	"reflect"
	"regexp"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/figure"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store"
)

// World is a practice in which the story is told.
type World struct {
	T        testing.TB
	Service  *practice.Service
	Objects  practice.Objects
	Owner    *pgx.Conn // sees all rows
	Practice uuid.UUID
	Actor    domain.Actor         // a principal, who does everything
	IDs      map[string]uuid.UUID // what exists, by a word; begins with a surveyor and a guest
	made     map[string]uuid.UUID // by the step under way
}

// Kinds says what kind of thing each word of the story is.
var Kinds = map[string]domain.Thing{
	"surveyor": domain.ThingMember, "guest": domain.ThingMember, "invitation": domain.ThingInvitation, "key": domain.ThingAPIKey,
	"instrument": domain.ThingInstrument, "scale": domain.ThingScale, "second scale": domain.ThingScale, "kit": domain.ThingRepeatKit, "second kit": domain.ThingRepeatKit,
	"cross-readings": domain.ThingCrossReadings, "second cross-readings": domain.ThingCrossReadings, "party": domain.ThingParty, "double": domain.ThingParty, "merge": domain.ThingPartyMerge, "role": domain.ThingPartyRole, "role of the double": domain.ThingPartyRole,
	"vessel": domain.ThingVessel, "element": domain.ThingElement, "datum": domain.ThingDatum, "layer": domain.ThingLayer, "event": domain.ThingEvent,
	"place": domain.ThingPlace, "second place": domain.ThingPlace, "third place": domain.ThingPlace, "plan": domain.ThingPlan,
	"spell": domain.ThingSpell, "job": domain.ThingJob, "permission": domain.ThingPermission, "scraping": domain.ThingPermission, "boarding": domain.ThingPermission, "soles": domain.ThingPermission, "approach": domain.ThingPermission, "drilling": domain.ThingPermission, "marks": domain.ThingHullMarks, "act without leave": domain.ThingActWithoutLeave, "visit": domain.ThingVisit, "next visit": domain.ThingVisit,
	"condition": domain.ThingCondition, "pass": domain.ThingPass, "block check": domain.ThingBlockCheck, "dry reading": domain.ThingReading,
	"reading": domain.ThingReading, "new reading": domain.ThingReading, "not reached": domain.ThingNotReached, "finding": domain.ThingFinding, "inside finding": domain.ThingFinding,
	"window": domain.ThingWindow, "photo file": domain.ThingUpload, "paper file": domain.ThingUpload, "paper": domain.ThingPaper, "photo": domain.ThingPhoto, "sheet": domain.ThingUpload, "import": domain.ThingMutation,
	"second vessel": domain.ThingVessel, "planned spell": domain.ThingSpell, "second job": domain.ThingJob, "planned visit": domain.ThingVisit,
	"figure": domain.ThingFigure, "figure again": domain.ThingFigure, "declined": domain.ThingDeclined,
	"leave": domain.ThingLeave, "weather": domain.ThingWeather, "move": domain.ThingMove, "wash move": domain.ThingMove,
	"client": domain.ThingParty, "engagement": domain.ThingEngagement, "terms": domain.ThingTerms, "offer": domain.ThingTermsLink, "booked job": domain.ThingJob, "yard link": domain.ThingYardLink,
	"invoice": domain.ThingInvoice, "notice": domain.ThingNotice, "dropped invoice": domain.ThingInvoice, "credit note": domain.ThingInvoice, "payment": domain.ThingPayment, "early start": domain.ThingEarlyStart,
	"recommendation": domain.ThingRecommendation, "state": domain.ThingState, "report": domain.ThingReport, "share": domain.ThingShare,
	"evidence": domain.ThingEvidence, "danger notice": domain.ThingDangerNotice, "letter": domain.ThingSeenLetter, "danger": domain.ThingRecommendation,
	"area": domain.ThingScheduleArea, "item": domain.ThingScheduleItem, "examination": domain.ThingExamination, "note": domain.ThingAttendanceNote,
	"check": domain.ThingCauseCheck, "judgement": domain.ThingJudgement, "lowered": domain.ThingStanding,
	"addendum": domain.ThingAddendum, "wording": domain.ThingWording, "section": domain.ThingSection, "comment": domain.ThingComment, "second report": domain.ThingReport, "third report": domain.ThingReport,
	"wash": domain.ThingWash, "rebound": domain.ThingRebound,
	"plastic sheet": domain.ThingSheetTest, "signature": domain.ThingGateSignature,
	"leaver": domain.ThingParty, "hold": domain.ThingHold, "erasure": domain.ThingErasure, "member's erasure": domain.ThingErasure, "file's erasure": domain.ThingErasure, "old job": domain.ThingJob,
	"gone member": domain.ThingMember, "reinspection": domain.ThingReinspection, "guarantee": domain.ThingGuarantee, "feed": domain.ThingFeed, "visit invitation": domain.ThingVisitInvite,
}

// Begin makes a practice with a member of every role, and a world in it.
func Begin(t testing.TB, s *store.Store, owner *pgx.Conn, service *practice.Service, objects practice.Objects, name string) (*World, map[domain.Role]domain.Actor) {
	t.Helper()
	now := time.Date(2026, 4, 1, 9, 0, 0, 0, time.UTC)
	w := &World{T: t, Service: service, Objects: objects, Owner: owner, Practice: newID(), IDs: map[string]uuid.UUID{}}
	if err := s.Door().CreatePractice(t.Context(), w.Practice, name, "Europe/Dublin", "EUR", true, now); err != nil {
		t.Fatal(err)
	}
	members := map[domain.Role]domain.Actor{}
	for _, role := range domain.Roles {
		id, email := newID(), newID().String()+"@"+string(role)+".example"
		account, err := s.Door().CreateAccount(t.Context(), newID(), email, "no password opens this", now)
		if err != nil {
			t.Fatal(err)
		}
		_, err = owner.Exec(t.Context(), `insert into members (practice_id, id, account_id, name, email, roles) values ($1, $2, $3, $4, $5, $6)`,
			w.Practice, id, account, "The "+string(role), email, []domain.Role{role})
		if err != nil {
			t.Fatal(err)
		}
		members[role] = domain.Actor{Practice: w.Practice, Member: id, Means: domain.BySession, Roles: []domain.Role{role}}
	}
	w.Actor, w.IDs["surveyor"], w.IDs["guest"] = members[domain.Principal], members[domain.Surveyor].Member, members[domain.Guest].Member
	return w, members
}

// Today is the day on which the story is told; a service that tells it needs a clock
// that stands there.
var Today = time.Date(2026, 4, 7, 9, 30, 0, 0, time.UTC)

// Of gives the id of what an earlier step made.
func (w *World) Of(what string) uuid.UUID {
	w.T.Helper()
	id, there := w.IDs[what]
	if !there {
		w.T.Fatalf("no step has made the %s yet", what)
	}
	return id
}

func (w *World) ref(what string) *uuid.UUID {
	w.T.Helper()
	id := w.Of(what)
	return &id
}

// new gives the id of what the step under way makes.
func (w *World) new(what string) uuid.UUID {
	w.T.Helper()
	if Kinds[what] == "" {
		w.T.Fatalf("of which kind is a %s? Say it in Kinds", what)
	}
	if w.made == nil {
		w.made = map[string]uuid.UUID{}
	}
	w.made[what] = newID()
	return w.made[what]
}

func newID() uuid.UUID { return uuid.Must(uuid.NewV7()) }

func ptr[T any](v T) *T { return &v }

// Take takes a step and keeps what it made.
func (w *World) Take(ctx context.Context, s Step, input any) {
	w.T.Helper()
	results := reflect.ValueOf(w.Service).MethodByName(s.Call).Call([]reflect.Value{reflect.ValueOf(ctx), reflect.ValueOf(w.Actor), reflect.ValueOf(input)})
	if err, _ := results[len(results)-1].Interface().(error); err != nil {
		w.T.Fatalf("%s in the story: %v", s.Call, err)
	}
	w.Keep()
	if s.After != nil {
		s.After(w)
	}
}

// Keep keeps what the step under way made: it went well.
func (w *World) Keep() {
	maps.Copy(w.IDs, w.made)
	clear(w.made)
}

// Tell takes every step.
func (w *World) Tell(ctx context.Context) {
	w.T.Helper()
	for _, s := range Steps() {
		w.Take(ctx, s, s.Input(w))
	}
}

// put puts an upload's bytes into the store, as a browser does with its grant.
func (w *World) put(upload, contentType, text string) {
	w.T.Helper()
	w.store(w.Of(upload), contentType, text)
}

func (w *World) store(upload uuid.UUID, contentType, text string) {
	w.T.Helper()
	var key string
	err := w.Owner.QueryRow(w.T.Context(), `select object_key from uploads where practice_id = $1 and id = $2`, w.Practice, upload).Scan(&key)
	if err == nil {
		err = w.Objects.Put(w.T.Context(), key, contentType, []byte(text))
	}
	if err != nil {
		w.T.Fatal(err)
	}
}

// letters are the secret of an offer's link and its code, in the letter that brought them.
var letters = regexp.MustCompile(`/t/([A-Za-z0-9_-]{43})(?s:.*)on that page: ([A-Z0-9-]+)`)

// accept accepts an offer as the client does who got the letter.
func (w *World) accept(engagement string) {
	w.T.Helper()
	var body string
	err := w.Owner.QueryRow(w.T.Context(), `select body from mails where practice_id = $1 and kind = 'terms' order by created_at desc, id desc limit 1`, w.Practice).Scan(&body)
	if err != nil {
		w.T.Fatal(err)
	}
	found := letters.FindStringSubmatch(body)
	if found == nil {
		w.T.Fatalf("no link or no code in\n%s", body)
	}
	if _, err := w.Service.AcceptTerms(w.T.Context(), found[1], practice.AcceptTerms{Mutation: newID(), Code: found[2], Name: "Ulla Knot"}); err != nil {
		w.T.Fatalf("accept the offer for the %s: %v", engagement, err)
	}
}

// noticed finds the notice that whoever tells the story got.
func (w *World) noticed() (id uuid.UUID) {
	w.T.Helper()
	if err := w.Owner.QueryRow(w.T.Context(), `select id from notices where practice_id = $1 and member_id = $2`, w.Practice, w.Actor.Member).Scan(&id); err != nil {
		w.T.Fatal(err)
	}
	return id
}

// left is a member who has left, and oldJob a job of long ago: nothing in the story is so old.
func (w *World) left() uuid.UUID {
	w.T.Helper()
	id := w.new("gone member")
	w.IDs["gone member"] = id
	_, err := w.Owner.Exec(w.T.Context(), `insert into members (practice_id, id, account_id, name, email, roles, left_at) values ($1, $2, $3, 'Nan Sanderling', 'nan@sanderling.example', '{surveyor}', '2024-01-01Z')`,
		w.Practice, id, newID())
	if err != nil {
		w.T.Fatal(err)
	}
	return id
}

func (w *World) oldJob() uuid.UUID {
	w.T.Helper()
	id := w.new("old job")
	w.IDs["old job"] = id
	_, err := w.Owner.Exec(w.T.Context(), `insert into jobs (practice_id, id, vessel_id, number, kind, stage, created_at) values ($1, $2, $3, '2001-007', 'insurance', 'closed', '2001-05-05Z')`,
		w.Practice, id, w.Of("vessel"))
	if err != nil {
		w.T.Fatal(err)
	}
	return id
}

// unasked finds the act that was kept without leave.
func (w *World) unasked() (id uuid.UUID) {
	w.T.Helper()
	if err := w.Owner.QueryRow(w.T.Context(), `select id from acts_without_leave where practice_id = $1`, w.Practice).Scan(&id); err != nil {
		w.T.Fatal(err)
	}
	return id
}

// linkLetter finds the link to a report in the letter that brought it.
var linkLetter = regexp.MustCompile(`/s/([A-Za-z0-9_-]{43})`)

// link is the secret of the newest link to a report.
func (w *World) link() string {
	w.T.Helper()
	var body string
	err := w.Owner.QueryRow(w.T.Context(), `select body from mails where practice_id = $1 and kind = 'share' order by created_at desc, id desc limit 1`, w.Practice).Scan(&body)
	if err != nil {
		w.T.Fatal(err)
	}
	return linkLetter.FindStringSubmatch(body)[1]
}

// Said is one thing that a client does; done again it is the same.
type Said struct {
	Name string
	Say  func(context.Context) error
}

// Hear lists everything that a client does with a report that was shared, in order: by
// the link first, then from an account.
func (w *World) Hear() []Said {
	w.T.Helper()
	const picture = "\xff\xd8\xff"
	account, upload := newID(), newID()
	if _, err := w.Owner.Exec(w.T.Context(), `insert into accounts (id, email, password_hash, created_at) values ($1, $2, '', now())`, account, account.String()+"@dunlin.example"); err != nil {
		w.T.Fatal(err)
	}
	code, grant, write, answer, permit, withdraw := newID(), newID(), newID(), newID(), newID(), newID()
	s, client := w.Service, domain.Actor{Account: account, Means: domain.ByAccount, Roles: []domain.Role{domain.Client}}
	kept := func(ctx context.Context) (practice.Holder, error) {
		home, err := s.ClientHome(ctx, practice.Holder{Actor: client})
		if err != nil || len(home.Reports) == 0 {
			return practice.Holder{}, fmt.Errorf("the account opens %d reports: %w", len(home.Reports), err)
		}
		return practice.Holder{Actor: client, Report: home.Reports[0].Key}, nil
	}
	from := func(say func(context.Context, practice.Holder) error) func(context.Context) error {
		return func(ctx context.Context) error {
			who, err := kept(ctx)
			if err != nil {
				return err
			}
			return say(ctx, who)
		}
	}
	return []Said{
		{"a code is sent", func(ctx context.Context) error {
			_, _, err := s.SendShareCode(ctx, practice.Holder{Link: w.link()}, code)
			return err
		}},
		{"the reports are kept", func(ctx context.Context) error { return s.GrantClient(ctx, w.link(), account) }},
		{"a photo is granted", from(func(ctx context.Context, who practice.Holder) error {
			_, err := s.GrantClientPhoto(ctx, who, practice.GrantUpload{Mutation: grant, ID: upload, ContentType: "image/jpeg", SizeBytes: 3, Sha256: sumOf(picture)})
			return err
		})},
		{"a task is answered", from(func(ctx context.Context, who practice.Holder) error {
			w.store(upload, "image/jpeg", picture)
			_, _, err := s.AnswerTask(ctx, who, practice.AnswerTask{Mutation: answer, Task: 1, Answer: "claimed done", Photo: &upload})
			return err
		})},
		{"a message is written", from(func(ctx context.Context, who practice.Holder) error {
			_, _, err := s.WriteToPractice(ctx, who, practice.WriteToPractice{Mutation: write, Text: "May she go in on Friday?"})
			return err
		})},
		{"leave is given", from(func(ctx context.Context, who practice.Holder) error {
			_, _, err := s.PermitSharing(ctx, who, practice.PermitSharing{Mutation: permit, Name: "Skerrow Mutual", Email: "desk@mutual.example"})
			return err
		})},
		{"leave is taken back", from(func(ctx context.Context, who practice.Holder) error {
			_, _, err := s.WithdrawSharing(ctx, who, practice.WithdrawSharing{Mutation: withdraw, Number: 1})
			return err
		})},
	}
}

// hear has the client do all of it.
func (w *World) hear() {
	w.T.Helper()
	for _, said := range w.Hear() {
		if err := said.Say(w.T.Context()); err != nil {
			w.T.Fatalf("%s: %v", said.Name, err)
		}
	}
}

// version reads the newest version of a row.
func (w *World) version(table, what string) (v int32) {
	w.T.Helper()
	if err := w.Owner.QueryRow(w.T.Context(), fmt.Sprintf(`select version from %s where practice_id = $1 and id = $2`, table), w.Practice, w.Of(what)).Scan(&v); err != nil {
		w.T.Fatal(err)
	}
	return v
}

// Step is one use case of the story.
type Step struct {
	Call  string
	Input func(w *World) any
	After func(w *World) // what the next step needs beside
}

const (
	photoBytes = "\xff\xd8\xff\xe0 not much of a picture"
	paperBytes = "%PDF-1.7 not much of a paper"
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

// Steps is every write there is, in an order in which each succeeds.
func Steps() []Step {
	day := time.Date(2026, 4, 6, 0, 0, 0, 0, time.UTC)
	noon := time.Date(2026, 4, 6, 12, 0, 0, 0, time.UTC)
	m := newID
	return []Step{
		{Call: "EditPractice", Input: func(w *World) any { return practice.EditPractice{Mutation: m(), Version: 1, Phone: ptr("555 0100")} }},
		{Call: "InviteMember", Input: func(w *World) any {
			return practice.InviteMember{Mutation: m(), ID: w.new("invitation"), Email: "sigrid@tern.example", Name: "Sigrid Tern", Roles: []string{"trainee"}}
		}},
		{Call: "EditMember", Input: func(w *World) any {
			return practice.EditMember{Mutation: m(), ID: w.Of("surveyor"), Version: 1, Qualification: ptr("MSc")}
		}},
		{Call: "CreateAPIKey", Input: func(w *World) any {
			return practice.CreateAPIKey{Mutation: m(), ID: w.new("key"), Member: w.Of("surveyor"), Name: "weather"}
		}},
		{Call: "RevokeAPIKey", Input: func(w *World) any { return practice.RevokeAPIKey{Mutation: m(), ID: w.Of("key")} }},

		{Call: "AddInstrument", Input: func(w *World) any {
			return practice.AddInstrument{Mutation: m(), Instrument: practice.Instrument{ID: w.new("instrument"), Name: "Skerrow deep No. 2", Kind: "capacitance", Sensing: "deep"}}
		}},
		{Call: "EditInstrument", Input: func(w *World) any {
			return practice.EditInstrument{Mutation: m(), ID: w.Of("instrument"), Version: 1, BatteryNote: ptr("9 V")}
		}},
		{Call: "AddScale", Input: func(w *World) any {
			return practice.AddScale{Mutation: m(), Scale: practice.Scale{ID: w.new("scale"), Instrument: w.Of("instrument"), Name: "A", HighTenths: 1000, StepTenths: 10}}
		}},
		{Call: "AddScale", Input: func(w *World) any {
			return practice.AddScale{Mutation: m(), Scale: practice.Scale{ID: w.new("second scale"), Instrument: w.Of("instrument"), Name: "B", HighTenths: 1000, StepTenths: 10}}
		}},
		{Call: "RecordRepeatKit", Input: func(w *World) any {
			return practice.RecordRepeatKit{
				Mutation: m(), ID: w.new("kit"), Instrument: w.Of("instrument"), Scale: w.Of("scale"), MadeOn: day,
				Hands: []uuid.UUID{w.Of("surveyor")}, Spots: 2, Repeats: 2, Tenths: []int32{120, 130, 310, 290},
			}
		}},
		{Call: "RecordRepeatKit", Input: func(w *World) any {
			return practice.RecordRepeatKit{
				Mutation: m(), ID: w.new("second kit"), Instrument: w.Of("instrument"), Scale: w.Of("scale"), MadeOn: day,
				Hands: []uuid.UUID{w.Of("surveyor")}, Spots: 2, Repeats: 2, Tenths: []int32{120, 130, 310, 300}, Replaces: w.ref("kit"), Because: "misheard",
			}
		}},
		{Call: "RecordCrossReadings", Input: func(w *World) any {
			return practice.RecordCrossReadings{
				Mutation: m(), ID: w.new("cross-readings"), FirstScale: w.Of("scale"), SecondScale: w.Of("second scale"), MadeOn: day,
				First: []int32{120, 310}, Second: []int32{150, 400}, EffectTenths: 50,
			}
		}},
		{Call: "RecordCrossReadings", Input: func(w *World) any {
			return practice.RecordCrossReadings{
				Mutation: m(), ID: w.new("second cross-readings"), FirstScale: w.Of("scale"), SecondScale: w.Of("second scale"), MadeOn: day,
				First: []int32{120, 310}, Second: []int32{150, 410}, EffectTenths: 50, Replaces: w.ref("cross-readings"), Because: "misheard",
			}
		}},
		{Call: "AddParty", Input: func(w *World) any {
			return practice.AddParty{Mutation: m(), Party: practice.Party{ID: w.new("party"), Name: "Skerrow Boatyard", Kind: "organisation", Email: "office@skerrow.example", IsYard: true}}
		}},
		{Call: "EditParty", Input: func(w *World) any {
			return practice.EditParty{Mutation: m(), ID: w.Of("party"), Version: 1, Phone: ptr("555 0101")}
		}},

		{Call: "AddVessel", Input: func(w *World) any {
			return practice.AddVessel{Mutation: m(), Vessel: practice.Vessel{ID: w.new("vessel"), Name: "Kittiwake"}}
		}},
		{Call: "EditVessel", Input: func(w *World) any {
			return practice.EditVessel{Mutation: m(), ID: w.Of("vessel"), Version: 1, Kind: ptr("sloop")}
		}},
		{Call: "AddElement", Input: func(w *World) any {
			return practice.AddElement{Mutation: m(), Element: practice.Element{ID: w.new("element"), VesselID: w.Of("vessel"), Kind: "hull", BootTopMm: ptr(int32(100)), Figure: sloop()}}
		}},
		{Call: "EditElement", Input: func(w *World) any {
			return practice.EditElement{Mutation: m(), ID: w.Of("element"), Version: 1, Name: ptr("hull")}
		}},
		{Call: "AddDatum", Input: func(w *World) any {
			return practice.AddDatum{Mutation: m(), Datum: practice.Datum{ID: w.new("datum"), ElementID: w.Of("element"), Mark: "stern post"}}
		}},
		{Call: "AddLayer", Input: func(w *World) any {
			return practice.AddLayer{Mutation: m(), Layer: practice.Layer{ID: w.new("layer"), ElementID: w.Of("element"), Kind: "behind", What: "water tank"}}
		}},
		{Call: "EndLayer", Input: func(w *World) any {
			return practice.EndLayer{Mutation: m(), ID: w.Of("layer"), Version: 1, On: day}
		}},
		{Call: "AddEvent", Input: func(w *World) any {
			return practice.AddEvent{Mutation: m(), Vessel: w.Of("vessel"), Event: practice.Event{ID: w.new("event"), Kind: "repair", What: "rudder stock", FromOn: day, ToOn: day}}
		}},
		{Call: "AddPlaces", Input: func(w *World) any {
			return practice.AddPlaces{
				Mutation: m(), Element: w.Of("element"), IDs: []uuid.UUID{w.new("place"), w.new("second place"), w.new("third place")}, Labels: []string{"13/3", "13/1", "13/4"},
				Sides: []string{"port", "port", "port"}, Along: []int32{6500, 6500, 6500}, Down: []int32{900, -400, 1400},
			}
		}},
		{Call: "AddPlan", Input: func(w *World) any {
			return practice.AddPlan{Mutation: m(), ID: w.new("plan"), Vessel: w.Of("vessel"), Places: []int32{2, 1, 3}, Dry: []int32{2}}
		}},

		{Call: "AddSpell", Input: func(w *World) any {
			return practice.AddSpell{Mutation: m(), ID: w.new("spell"), Vessel: w.Of("vessel"), Yard: w.ref("party"), TimeZone: "Europe/Dublin", ActualLift: ptr(noon.AddDate(0, 0, -20)), DatePrecision: "instant"}
		}},
		{Call: "EditSpell", Input: func(w *World) any {
			return practice.EditSpell{Mutation: m(), ID: w.Of("spell"), Version: 1, Yard: w.ref("party"), WashedAt: ptr(noon.AddDate(0, 0, -19))}
		}},
		{Call: "AddJob", Input: func(w *World) any {
			return practice.AddJob{Mutation: m(), ID: w.new("job"), Vessel: w.Of("vessel"), Client: w.ref("party"), Lead: w.ref("surveyor"), Kind: "limited moisture", Cite: "this client only"}
		}},
		{Call: "EditJob", Input: func(w *World) any {
			return practice.EditJob{Mutation: m(), ID: w.Of("job"), Version: 1, Client: w.ref("party"), Lead: w.ref("surveyor"), Scope: ptr("underbody")}
		}},
		{Call: "GiveAccess", Input: func(w *World) any {
			return practice.GiveAccess{Mutation: m(), Job: w.Of("job"), Member: w.Of("guest"), Allowed: true}
		}},
		{Call: "RecordPermission", Input: func(w *World) any {
			return practice.RecordPermission{Mutation: m(), Permission: practice.Permission{ID: w.new("permission"), JobID: w.Of("job"), What: "photograph", AskedOn: &day}}
		}},
		{Call: "RecordPermission", Input: func(w *World) any {
			return practice.RecordPermission{Mutation: m(), Version: 1, Permission: practice.Permission{ID: w.Of("permission"), JobID: w.Of("job"), What: "photograph", GivenOn: &day, GivenByID: w.ref("party")}}
		}},
		{Call: "RecordPermission", Input: func(w *World) any {
			return practice.RecordPermission{Mutation: m(), Permission: practice.Permission{ID: w.new("scraping"), JobID: w.Of("job"), What: "scrape", Extent: "100 by 100 mm", Windows: ptr(int32(6)), GivenOn: &day, GivenByName: "Ada Skerry", MakesGood: "the yard"}}
		}},
		{Call: "RecordPermissions", Input: func(w *World) any {
			return practice.RecordPermissions{Mutation: m(), Permissions: []practice.Permission{
				{ID: w.new("approach"), JobID: w.Of("job"), What: "approach the previous surveyor", AskedOn: &day},
				{ID: w.new("drilling"), JobID: w.Of("job"), What: "drill or core", AskedOn: &day},
			}}
		}},
		{Call: "AddPartyRole", Input: func(w *World) any {
			return practice.AddPartyRole{Mutation: m(), ID: w.new("role"), Party: w.Of("party"), Vessel: w.Of("vessel"), Job: w.ref("job"), Role: "yard"}
		}},
		{Call: "PlanVisit", Input: func(w *World) any {
			return practice.PlanVisit{Mutation: m(), ID: w.new("visit"), Job: w.Of("job"), Spell: w.ref("spell"), Kind: "meter visit", From: noon, To: noon.Add(3 * time.Hour), TimeZone: "Europe/Dublin", Lead: w.ref("surveyor"), Instruments: []uuid.UUID{w.Of("instrument")}}
		}},
		{Call: "PlanVisit", Input: func(w *World) any {
			return practice.PlanVisit{Mutation: m(), ID: w.new("next visit"), Job: w.Of("job"), Kind: "repeat readings", From: noon.AddDate(0, 0, 40), To: noon.AddDate(0, 0, 40).Add(time.Hour), TimeZone: "Europe/Dublin", Follows: w.ref("visit")}
		}},
		{Call: "EditVisit", Input: func(w *World) any {
			return practice.EditVisit{Mutation: m(), ID: w.Of("visit"), Version: 1, Spell: w.ref("spell"), Lead: w.ref("surveyor"), State: ptr("done"), People: &[]uuid.UUID{w.Of("guest")}, Instruments: &[]uuid.UUID{w.Of("instrument")}}
		}},
		{Call: "AddVessel", Input: func(w *World) any {
			return practice.AddVessel{Mutation: m(), Vessel: practice.Vessel{ID: w.new("second vessel"), Name: "Whimbrel"}}
		}},
		{Call: "AddSpell", Input: func(w *World) any {
			return practice.AddSpell{Mutation: m(), ID: w.new("planned spell"), Vessel: w.Of("second vessel"), Yard: w.ref("party"), TimeZone: "Europe/Dublin", PlannedLift: ptr(noon.AddDate(0, 0, 20)), PlannedLaunch: ptr(noon.AddDate(0, 0, 60)), DatePrecision: "instant"}
		}},
		{Call: "AddJob", Input: func(w *World) any {
			return practice.AddJob{Mutation: m(), ID: w.new("second job"), Vessel: w.Of("second vessel"), Client: w.ref("party"), Kind: "limited moisture", Cite: "this client only"}
		}},
		{Call: "PlanVisit", Input: func(w *World) any {
			return practice.PlanVisit{
				Mutation: m(), ID: w.new("planned visit"), Job: w.Of("second job"), Spell: w.ref("planned spell"), Kind: "meter visit", From: noon.AddDate(0, 0, 25), To: noon.AddDate(0, 0, 25).Add(time.Hour), TimeZone: "Europe/Dublin",
				Lead: w.ref("surveyor"), Instruments: []uuid.UUID{w.Of("instrument")}, Overrides: []practice.Override{{Code: practice.CheckAsked, Reason: "they said yes on the telephone"}},
			}
		}},
		{Call: "OverrideCheck", Input: func(w *World) any {
			return practice.OverrideCheck{Mutation: m(), Visit: w.Of("planned visit"), Override: practice.Override{Code: practice.CheckCompetence, Reason: "she learns it with us"}}
		}},
		{Call: "ApplyMove", Input: func(w *World) any {
			return practice.ApplyMove{
				Mutation: m(), ID: w.new("move"), Spell: w.Of("planned spell"), Version: 1, NewLift: noon.AddDate(0, 0, 29), NewLaunch: ptr(noon.AddDate(0, 0, 69)), Reason: "the crane is away",
				Lines: []practice.AcceptedLine{{Visit: w.Of("planned visit"), Version: 1, From: noon.AddDate(0, 0, 34), To: noon.AddDate(0, 0, 34).Add(time.Hour)}},
			}
		}},
		{Call: "UndoMove", Input: func(w *World) any { return practice.UndoMove{Mutation: m(), ID: w.Of("move")} }},
		{Call: "AddLeave", Input: func(w *World) any {
			return practice.AddLeave{Mutation: m(), Leave: practice.Leave{ID: w.new("leave"), MemberID: w.Of("surveyor"), From: noon.AddDate(0, 0, 24), To: noon.AddDate(0, 0, 27), Reason: "a wedding"}}
		}},
		{Call: "SetCompetences", Input: func(w *World) any {
			return practice.SetCompetences{Mutation: m(), Member: w.Of("surveyor"), Kinds: []string{"pre-purchase"}, JudgedOn: &day, JudgedBy: w.ref("surveyor"), Grounds: "went along to ten"}
		}},
		{Call: "SetDiaryFigure", Input: func(w *World) any {
			return practice.SetDiaryFigure{Mutation: m(), ID: w.new("figure"), Code: "antifouling", Bounds: []int{120, 240}, Reason: "our yards are cold"}
		}},
		{Call: "SetDiaryFigure", Input: func(w *World) any {
			return practice.SetDiaryFigure{Mutation: m(), ID: w.new("figure again"), Code: "antifouling", Was: w.ref("figure"), Reason: "the trade's does"}
		}},
		{Call: "DeclineVisit", Input: func(w *World) any {
			return practice.DeclineVisit{Mutation: m(), ID: w.new("declined"), Job: w.Of("second job"), Spell: w.Of("planned spell"), Line: "wet look", Reason: "she is lifted at night"}
		}},
		{Call: "ProposeAgain", Input: func(w *World) any {
			return practice.ProposeAgain{Mutation: m(), ID: w.Of("declined")}
		}},
		{Call: "AddTides", Input: func(w *World) any {
			return practice.AddTides{Mutation: m(), Place: "Skerrow", Source: "harbour office table", Times: []time.Time{noon.AddDate(0, 0, 20)}, HeightsMm: []int32{4300}}
		}},
		{Call: "RemoveTides", Input: func(w *World) any {
			return practice.RemoveTides{Mutation: m(), Place: "Skerrow", From: noon, To: noon.AddDate(0, 1, 0)}
		}},
		{Call: "RecordWeather", Input: func(w *World) any {
			return practice.RecordWeather{Mutation: m(), ID: w.new("weather"), Place: "Skerrow Boatyard", At: noon, RainMm: ptr(int16(4)), Source: "the yard's gauge"}
		}},
		{Call: "EndLeave", Input: func(w *World) any { return practice.EndLeave{Mutation: m(), ID: w.Of("leave")} }},

		{Call: "DescribeYard", Input: func(w *World) any {
			return practice.DescribeYard{Mutation: m(), Yard: w.Of("party"), LiftHours: "8 to 16", GateCode: "4711", TidePlace: "Skerrow", TideWithinMinutes: 90}
		}},
		{Call: "DescribeYard", Input: func(w *World) any {
			return practice.DescribeYard{Mutation: m(), Yard: w.Of("party"), Version: 1, LiftHours: "8 to 17", GateCode: "4711", TideWithinMinutes: 90}
		}},
		{Call: "DescribeSlot", Input: func(w *World) any {
			return practice.DescribeSlot{Mutation: m(), Spell: w.Of("planned spell"), WashAt: ptr(noon.AddDate(0, 0, 20).Add(time.Hour)), Pays: "the owner"}
		}},
		{Call: "ApplyWash", Input: func(w *World) any {
			return practice.ApplyWash{Mutation: m(), ID: w.new("wash move"), Spell: w.Of("planned spell"), NewWash: noon.AddDate(0, 0, 21), Reason: "the hose is broken", TellYard: true}
		}},
		{Call: "ShareYard", Input: func(w *World) any {
			return practice.ShareYard{Mutation: m(), ID: w.new("yard link"), Yard: w.Of("party"), Name: "Odo Rask", Email: "odo@rask.example", Until: noon.AddDate(1, 0, 0)}
		}},
		{Call: "RevokeYardLink", Input: func(w *World) any { return practice.RevokeYardLink{Mutation: m(), ID: w.Of("yard link")} }},
		{Call: "AddParty", Input: func(w *World) any {
			return practice.AddParty{Mutation: m(), Party: practice.Party{ID: w.new("client"), Name: "Ulla Knot", Kind: "person"}}
		}},
		{Call: "AddParty", Input: func(w *World) any {
			return practice.AddParty{Mutation: m(), Party: practice.Party{ID: w.new("double"), Name: "U. Knot", Kind: "person", Phone: "555 0177"}}
		}},
		{Call: "AddPartyRole", Input: func(w *World) any {
			return practice.AddPartyRole{Mutation: m(), ID: w.new("role of the double"), Party: w.Of("double"), Vessel: w.Of("second vessel"), Role: "owner"}
		}},
		{Call: "MergeParties", Input: func(w *World) any {
			return practice.MergeParties{Mutation: m(), ID: w.new("merge"), Kept: w.Of("client"), Lost: w.Of("double"), Because: "she says so"}
		}},
		{Call: "UndoPartyMerge", Input: func(w *World) any {
			return practice.UndoPartyMerge{Mutation: m(), ID: w.Of("merge"), Because: "it is her sister"}
		}},
		{Call: "TellPartiesApart", Input: func(w *World) any {
			return practice.TellPartiesApart{Mutation: m(), First: w.Of("client"), Second: w.Of("double"), Because: "sisters"}
		}},
		{Call: "AddEnquiry", Input: func(w *World) any {
			return practice.AddEnquiry{Mutation: m(), ID: w.new("engagement"), AskedBy: "Ulla Knot", BoatAsWritten: "a white sloop at Skerrow", Kind: "pre-purchase"}
		}},
		{Call: "EditEngagement", Input: func(w *World) any {
			return practice.EditEngagement{Mutation: m(), ID: w.Of("engagement"), Version: 1, Client: w.ref("client"), Vessel: w.ref("second vessel")}
		}},
		{Call: "SetQuote", Input: func(w *World) any {
			return practice.SetQuote{Mutation: m(), Engagement: w.Of("engagement"), Version: 2, Lines: []practice.QuoteLine{{Text: "Survey", AmountMinor: 60000, TaxPermille: 230}}}
		}},
		{Call: "DecideConflict", Input: func(w *World) any {
			return practice.DecideConflict{Mutation: m(), Engagement: w.Of("engagement"), Version: 3, Decision: "go on", Note: "the yard was told"}
		}},
		{Call: "WriteTerms", Input: func(w *World) any {
			return practice.WriteTerms{Mutation: m(), ID: w.new("terms"), Name: "2026-1", Body: "What we look at, and what not."}
		}},
		{
			Call: "OfferTerms",
			Input: func(w *World) any {
				return practice.OfferTerms{Mutation: m(), ID: w.new("offer"), Engagement: w.Of("engagement"), Terms: w.Of("terms"), Name: "Ulla Knot", Email: "ulla@knot.example", Until: noon.AddDate(0, 1, 0)}
			},
			After: func(w *World) {
				w.accept("engagement")
				w.IDs["notice"] = w.noticed()
			},
		},
		{Call: "BookEngagement", Input: func(w *World) any {
			return practice.BookEngagement{Mutation: m(), Engagement: w.Of("engagement"), Version: 5, Job: w.new("booked job"), Lead: w.ref("surveyor")}
		}},

		{Call: "RecordCondition", Input: func(w *World) any {
			return practice.RecordCondition{Mutation: m(), Condition: practice.Condition{ID: w.new("condition"), VisitID: w.Of("visit"), At: noon, AirDecidegrees: ptr(int16(110)), HumidityPermille: ptr(int16(700)), SkinPortDecidegrees: ptr(int16(120)), SkinStarboardDecidegrees: ptr(int16(120))}}
		}},
		{Call: "OpenPass", Input: func(w *World) any {
			return practice.OpenPass{
				Mutation: m(), ID: w.new("pass"), Visit: w.Of("visit"), Element: w.Of("element"), Plan: w.Of("plan"), Hand: w.ref("surveyor"), Instrument: w.ref("instrument"), Scale: w.ref("scale"),
				Face: "outside", Surface: "antifouling", DrySurface: "bare gelcoat", Source: "metered", BeganAt: noon,
			}
		}},
		{Call: "EditPass", Input: func(w *World) any {
			return practice.EditPass{Mutation: m(), ID: w.Of("pass"), Version: 1, Rain: ptr("none")}
		}},
		{Call: "RecordBlockCheck", Input: func(w *World) any {
			return practice.RecordBlockCheck{Mutation: m(), Check: practice.BlockCheck{ID: w.new("block check"), PassID: w.Of("pass"), Block: "low", Moment: "before", ValueTenths: 50, At: noon}}
		}},
		{Call: "AddReadings", Input: func(w *World) any {
			return practice.AddReadings{
				Mutation: m(), Pass: w.Of("pass"), IDs: []uuid.UUID{w.new("dry reading"), w.new("reading")}, Ordinals: []int32{2, 1},
				Placements: [][]int16{{120}, {280, 290, 300}}, TakenAt: []time.Time{noon, noon.Add(time.Minute)},
			}
		}},
		{Call: "SupersedeReading", Input: func(w *World) any {
			return practice.SupersedeReading{Mutation: m(), ID: w.new("new reading"), Reading: w.Of("reading"), How: "correct", Reason: "misheard", Placements: []int16{270}, TakenAt: noon}
		}},
		{Call: "VoidReading", Input: func(w *World) any {
			return practice.VoidReading{Mutation: m(), Reading: w.Of("dry reading"), Reason: "water on the skin"}
		}},
		{Call: "MarkFollowUp", Input: func(w *World) any {
			return practice.MarkFollowUp{Mutation: m(), Pass: w.Of("pass"), Ordinals: []int32{1}, On: true}
		}},
		{Call: "MarkNotReached", Input: func(w *World) any {
			return practice.MarkNotReached{Mutation: m(), Pass: w.Of("pass"), IDs: []uuid.UUID{w.new("not reached")}, Ordinals: []int32{2}, Reason: "prop pad"}
		}},
		{Call: "RecordFinding", Input: func(w *World) any {
			return practice.RecordFinding{Mutation: m(), Finding: practice.Finding{ID: w.new("finding"), VisitID: w.Of("visit"), ElementID: w.ref("element"), Kind: "blister", Sure: "seen", Text: "two, 10 mm", Places: []int32{1}, LookAgain: true}}
		}},
		{Call: "RecordFinding", Input: func(w *World) any {
			return practice.RecordFinding{Mutation: m(), Finding: practice.Finding{
				ID: w.new("inside finding"), VisitID: w.Of("visit"), Form: "sounding", Sure: "seen", Measured: json.RawMessage(`{"note": "dull", "face": "inside"}`),
				Side: ptr("port"), Outline: json.RawMessage(`[[6400, 800], [6600, 800], [6600, 1000]]`), OtherFace: w.ref("finding"),
			}}
		}},
		{Call: "EditFinding", Input: func(w *World) any {
			return practice.EditFinding{Mutation: m(), Finding: practice.Finding{
				ID: w.Of("inside finding"), Version: 1, Form: "sounding", Sure: "seen", Measured: json.RawMessage(`{"note": "clear", "face": "inside"}`), Places: []int32{1},
				AgainOf: w.ref("finding"),
			}}
		}},
		{Call: "RecordWindow", Input: func(w *World) any {
			return practice.RecordWindow{Mutation: m(), Window: practice.Window{ID: w.new("window"), VisitID: w.Of("visit"), ElementID: w.Of("element"), Side: "port", AlongMm: 6500, DownMm: 900, WidthMm: 100, HeightMm: 100, BaredTo: "gelcoat"}}
		}},

		{
			Call: "MarkHull",
			Input: func(w *World) any {
				return practice.MarkHull{Mutation: m(), Unasked: &practice.Unasked{NotedAt: &noon}, Marks: practice.HullMarks{ID: w.new("marks"), VisitID: w.Of("visit"), MadeWith: "chalk", Where: "stations 1 to 4", MadeAt: noon}}
			},
			After: func(w *World) { w.IDs["act without leave"] = w.unasked() },
		},
		{Call: "ExplainAct", Input: func(w *World) any {
			return practice.ExplainAct{Mutation: m(), ID: w.Of("act without leave"), Reason: "the owner stood by"}
		}},
		{Call: "RemoveMarks", Input: func(w *World) any {
			return practice.RemoveMarks{Mutation: m(), ID: w.Of("marks"), At: noon.Add(2 * time.Hour)}
		}},
		{Call: "RecordPermission", Input: func(w *World) any {
			return practice.RecordPermission{Mutation: m(), Permission: practice.Permission{ID: w.new("boarding"), JobID: w.Of("job"), What: "board and survey", GivenOn: &day, GivenByName: "Ada Skerry"}}
		}},
		{Call: "RecordPermission", Input: func(w *World) any {
			return practice.RecordPermission{Mutation: m(), Permission: practice.Permission{ID: w.new("soles"), JobID: w.Of("job"), What: "lift soles", GivenOn: &day, GivenByName: "Ada Skerry"}}
		}},
		{Call: "RecordCauseCheck", Input: func(w *World) any {
			return practice.RecordCauseCheck{Mutation: m(), ID: w.new("check"), Visit: w.Of("visit"), Outcome: "inside-nothing", Places: []int32{2}, Finding: w.ref("finding")}
		}},
		{Call: "WithdrawCauseCheck", Input: func(w *World) any {
			return practice.WithdrawCauseCheck{Mutation: m(), ID: w.Of("check"), Reason: "made at another place"}
		}},
		{Call: "JudgeCause", Input: func(w *World) any {
			return practice.JudgeCause{Mutation: m(), ID: w.new("judgement"), Visit: w.Of("visit"), Cause: "leak-at-a-fitting", Judges: "agrees", Reason: "a stain inside the locker", Places: []int32{2}}
		}},
		{Call: "SetDryingCourse", Input: func(w *World) any {
			return practice.SetDryingCourse{Mutation: m(), Job: w.Of("job"), Course: practice.DryingCourse{BeganOn: ptr(time.Date(2026, 3, 5, 0, 0, 0, 0, time.UTC)), WallMm: ptr(int16(9)), TentPlace: "shed 2", OutdoorsPlace: "the quay"}}
		}},
		{Call: "SetDryingCourse", Input: func(w *World) any {
			return practice.SetDryingCourse{Mutation: m(), Job: w.Of("job"), Course: practice.DryingCourse{WallMm: ptr(int16(10)), TentPlace: "shed 2", OutdoorsPlace: "the quay", Version: 1}}
		}},
		{Call: "RecordAir", Input: func(w *World) any {
			return practice.RecordAir{Mutation: m(), Job: w.Of("job"), Place: "shed 2", Source: "a logger", At: []time.Time{Today}, AirDecidegrees: []int32{180}, HumidityPermille: []int32{450}}
		}},
		{Call: "RecordWash", Input: func(w *World) any {
			return practice.RecordWash{Mutation: m(), Wash: practice.Wash{ID: w.new("wash"), JobID: w.Of("job"), At: Today.Add(-72 * time.Hour), How: "hot", PhTenths: ptr(int16(52))}}
		}},
		{Call: "RecordRebound", Input: func(w *World) any {
			return practice.RecordRebound{Mutation: m(), Rebound: practice.Rebound{ID: w.new("rebound"), JobID: w.Of("job"), After: "wash", WashID: w.ref("wash"), BeganAt: Today.Add(-71 * time.Hour), ReadAt: Today.Add(-23 * time.Hour), ScaleID: w.Of("scale"), Places: []int32{1}, BeforeTenths: []int32{200}, AfterTenths: []int32{240}}}
		}},
		{Call: "RecordSheetTest", Input: func(w *World) any {
			return practice.RecordSheetTest{Mutation: m(), Test: practice.SheetTest{ID: w.new("plastic sheet"), JobID: w.Of("job"), TapedAt: Today.Add(-48 * time.Hour), LookedAt: Today.Add(-12 * time.Hour)}}
		}},
		{Call: "SetGateRule", Input: func(w *World) any {
			return practice.SetGateRule{Mutation: m(), Rule: practice.GateRule{Gate: "surface temperature", Least: ptr(12.0), Because: "the coating’s sheet"}}
		}},
		{Call: "SetGateRule", Input: func(w *World) any {
			return practice.SetGateRule{Mutation: m(), Rule: practice.GateRule{Gate: "surface temperature", Least: ptr(13.0), Because: "the coating’s new sheet", Version: 1}}
		}},
		{Call: "SignGate", Input: func(w *World) any {
			return practice.SignGate{Mutation: m(), ID: w.new("signature"), Job: w.Of("job"), Gate: "plastic sheet", MetOn: Today, Evidence: "taped on 36 hours, nothing under it"}
		}},

		{
			Call: "GrantUpload",
			Input: func(w *World) any {
				return practice.GrantUpload{Mutation: m(), ID: w.new("photo file"), Purpose: "photo", ContentType: "image/jpeg", SizeBytes: int64(len(photoBytes)), Sha256: sumOf(photoBytes), FileName: "port.jpg"}
			},
			After: func(w *World) { w.put("photo file", "image/jpeg", photoBytes) },
		},
		{Call: "FinishUpload", Input: func(w *World) any { return practice.FinishUpload{Mutation: m(), Upload: w.Of("photo file")} }},
		{Call: "AddPhoto", Input: func(w *World) any {
			return practice.AddPhoto{Mutation: m(), ID: w.new("photo"), Upload: w.Of("photo file"), Vessel: w.Of("vessel"), Visit: w.ref("visit"), Place: w.ref("place"), Finding: w.ref("finding"), Caption: "blister"}
		}},
		{
			Call: "GrantUpload",
			Input: func(w *World) any {
				return practice.GrantUpload{Mutation: m(), ID: w.new("paper file"), Purpose: "document", ContentType: "application/pdf", SizeBytes: int64(len(paperBytes)), Sha256: sumOf(paperBytes), FileName: "tonnage.pdf"}
			},
			After: func(w *World) { w.put("paper file", "application/pdf", paperBytes) },
		},
		{Call: "FinishUpload", Input: func(w *World) any { return practice.FinishUpload{Mutation: m(), Upload: w.Of("paper file")} }},
		{Call: "AddPaper", Input: func(w *World) any {
			return practice.AddPaper{Mutation: m(), ID: w.new("paper"), Job: w.Of("job"), Upload: w.Of("paper file"), Kind: "tonnage", Title: "Certificate of tonnage", IssuedBy: "The registry's measurer", IssuedOn: &day}
		}},
		{Call: "EditPhoto", Input: func(w *World) any {
			return practice.EditPhoto{Mutation: m(), ID: w.Of("photo"), Version: 1, Alt: ptr("A blister beside a ruler"), Printed: ptr(false)}
		}},
		{
			Call: "GrantUpload",
			Input: func(w *World) any {
				return practice.GrantUpload{Mutation: m(), ID: w.new("sheet"), Purpose: "readings", ContentType: "text/csv", SizeBytes: int64(len(sheetBytes)), Sha256: sumOf(sheetBytes), FileName: "sheet.csv"}
			},
			After: func(w *World) { w.put("sheet", "text/csv", sheetBytes) },
		},
		{Call: "FinishUpload", Input: func(w *World) any { return practice.FinishUpload{Mutation: m(), Upload: w.Of("sheet")} }},
		{Call: "ImportReadings", Input: func(w *World) any {
			return practice.ImportReadings{Mutation: m(), ID: w.new("import"), Upload: w.Of("sheet"), Pass: w.Of("pass")}
		}},
		{
			Call: "ClosePass",
			Input: func(w *World) any {
				return practice.ClosePass{Mutation: m(), ID: w.Of("pass"), Version: w.version("passes", "pass"), At: noon.Add(time.Hour)}
			},
		},
		{Call: "LowerStanding", Input: func(w *World) any {
			return practice.LowerStanding{Mutation: m(), ID: w.new("lowered"), Pass: w.Of("pass"), Standing: practice.Unlike, Reason: "the pad was worn"}
		}},
		{Call: "RestoreStanding", Input: func(w *World) any { return practice.RestoreStanding{Mutation: m(), Pass: w.Of("pass")} }},

		{Call: "AddRecommendation", Input: func(w *World) any {
			return practice.AddRecommendation{Mutation: m(), Recommendation: practice.Recommendation{ID: w.new("recommendation"), JobID: w.Of("job"), Grade: "ashore", Sure: "seen", What: "Open the blister at 13/3."}}
		}},
		{Call: "EditRecommendation", Input: func(w *World) any {
			return practice.EditRecommendation{Mutation: m(), ID: w.Of("recommendation"), Version: 1, WhoActs: ptr("yard")}
		}},
		{Call: "KeepWording", Input: func(w *World) any {
			return practice.KeepWording{Mutation: m(), ID: w.new("wording"), Title: "How she lay", Body: "{vessel} lay there."}
		}},
		{Call: "KeepWording", Input: func(w *World) any {
			return practice.KeepWording{Mutation: m(), ID: w.Of("wording"), Version: 1, Title: "How she lay", Body: "{vessel} lay ashore."}
		}},
		{Call: "AddRecommendation", Input: func(w *World) any {
			return practice.AddRecommendation{Mutation: m(), Recommendation: practice.Recommendation{ID: w.new("danger"), JobID: w.Of("job"), Grade: "stop", Sure: "seen", What: "Clear the boat: a prop stands on one bolt."}}
		}},
		{Call: "DraftDangerNotice", Input: func(w *World) any {
			return practice.DraftDangerNotice{Mutation: m(), ID: w.new("danger notice"), Recommendation: w.Of("danger")}
		}},
		{Call: "SendDangerNotice", Input: func(w *World) any {
			return practice.SendDangerNotice{Mutation: m(), ID: w.Of("danger notice"), Version: 1, Text: "A prop stands on one bolt.", Told: []practice.DangerTold{{Name: "Anna Dunlin", Role: "client", SpokenAt: ptr(Today.Add(-time.Hour)), How: "by telephone", Email: "anna@dunlin.example"}}}
		}},
		{Call: "SetSchedule", Input: func(w *World) any {
			return practice.SetSchedule{Mutation: m(), Schedule: practice.Schedule{Areas: []practice.ScheduleArea{{ID: w.new("area"), Name: "Hull", Items: []practice.ScheduleItem{{ID: w.new("item"), Name: "Topsides"}}}}}}
		}},
		{Call: "SetSchedule", Input: func(w *World) any {
			return practice.SetSchedule{Mutation: m(), Schedule: practice.Schedule{Version: 1, Areas: []practice.ScheduleArea{{ID: w.Of("area"), Name: "Hull outside", Items: []practice.ScheduleItem{{ID: w.Of("item"), Name: "Topsides"}}}}}}
		}},
		{Call: "ExamineItem", Input: func(w *World) any {
			return practice.ExamineItem{Mutation: m(), Examination: practice.Examination{ID: w.new("examination"), VisitID: w.Of("visit"), ItemID: w.Of("item"), Examined: "in part", Why: "the quay side", FindingID: w.ref("finding"), PhotoID: w.ref("photo")}}
		}},
		{Call: "ExamineItem", Input: func(w *World) any {
			return practice.ExamineItem{Mutation: m(), Examination: practice.Examination{ID: w.Of("examination"), Version: 1, VisitID: w.Of("visit"), ItemID: w.Of("item"), Examined: "examined", Condition: "chalky"}}
		}},
		{Call: "SetValuation", Input: func(w *World) any {
			return practice.SetValuation{Mutation: m(), Valuation: practice.Valuation{JobID: w.Of("job"), FigureMinor: 1_850_000, Currency: "EUR", Basis: "sale between willing parties, as she lies", ValueOn: day}}
		}},
		{Call: "SetValuation", Input: func(w *World) any {
			return practice.SetValuation{Mutation: m(), Valuation: practice.Valuation{JobID: w.Of("job"), Version: 1, FigureMinor: 1_800_000, Currency: "EUR", Basis: "sale between willing parties, as she lies", ValueOn: day}}
		}},
		{Call: "AddAttendanceNote", Input: func(w *World) any {
			return practice.AddAttendanceNote{Mutation: m(), Note: practice.AttendanceNote{ID: w.new("note"), JobID: w.Of("job"), VisitID: w.ref("visit"), Kind: "call", At: Today, WithWhom: "Anna Dunlin", Text: "She asks for the report by Friday."}}
		}},
		{Call: "StrikeAttendanceNote", Input: func(w *World) any {
			return practice.StrikeAttendanceNote{Mutation: m(), ID: w.Of("note"), Reason: "another boat"}
		}},
		{Call: "DraftReport", Input: func(w *World) any {
			return practice.DraftReport{Mutation: m(), ID: w.new("report"), Job: w.Of("job"), Title: "Limited survey", Paper: "A4"}
		}},
		{Call: "AddSection", Input: func(w *World) any {
			return practice.AddSection{Mutation: m(), ID: w.new("section"), Report: w.Of("report"), Wording: w.ref("wording"), Title: "How she stood"}
		}},
		{Call: "EditSection", Input: func(w *World) any {
			return practice.EditSection{Mutation: m(), ID: w.Of("section"), Version: 1, Body: ptr("She stood on four props.")}
		}},
		{Call: "OrderSections", Input: func(w *World) any {
			return practice.OrderSections{Mutation: m(), Report: w.Of("report"), Sections: []uuid.UUID{w.Of("section")}}
		}},
		{Call: "CommentOnDraft", Input: func(w *World) any {
			return practice.CommentOnDraft{Mutation: m(), ID: w.new("comment"), Report: w.Of("report"), Section: "limits", Text: "Was the bilge dry?"}
		}},
		{Call: "ResolveComment", Input: func(w *World) any { return practice.ResolveComment{Mutation: m(), ID: w.Of("comment")} }},
		{Call: "SendForReview", Input: func(w *World) any {
			return practice.SendForReview{Mutation: m(), ID: w.Of("report"), Version: w.version("reports", "report")}
		}},
		{Call: "EditReport", Input: func(w *World) any {
			return practice.EditReport{Mutation: m(), ID: w.Of("report"), Version: w.version("reports", "report"), InShort: ptr("Two blisters to port."), Scope: ptr("The underbody."), Limits: ptr("Nothing inside.")}
		}},
		{Call: "TakeSecondLook", Input: func(w *World) any {
			return practice.TakeSecondLook{Mutation: m(), ID: w.Of("report"), Version: w.version("reports", "report")}
		}},
		{
			Call: "IssueReport",
			Input: func(w *World) any {
				return practice.IssueReport{Mutation: m(), ID: w.Of("report"), Version: w.version("reports", "report")}
			},
			After: func(w *World) {
				if err := w.Service.MakeReport(w.T.Context(), practice.ReportJob{Practice: w.Practice, Report: w.Of("report")}); err != nil {
					w.T.Fatal(err)
				}
			},
		},
		{Call: "SetRecommendationState", Input: func(w *World) any {
			return practice.SetRecommendationState{Mutation: m(), ID: w.new("state"), Recommendation: w.Of("recommendation"), State: "acknowledged"}
		}},
		{Call: "AddEvidence", Input: func(w *World) any {
			return practice.AddEvidence{Mutation: m(), Evidence: practice.ShownEvidence{ID: w.new("evidence"), RecommendationID: w.Of("recommendation"), Kind: "photo", PhotoID: w.ref("photo"), FindingID: w.ref("finding"), VisitID: w.ref("visit")}}
		}},
		{Call: "WriteSeenLetter", Input: func(w *World) any {
			return practice.WriteSeenLetter{Mutation: m(), ID: w.new("letter"), Job: w.Of("job"), AddressedTo: "Pier Mutual", Reader: "insurer"}
		}},
		{
			Call: "ShareReport",
			Input: func(w *World) any {
				return practice.ShareReport{Mutation: m(), ID: w.new("share"), Report: w.Of("report"), Party: w.ref("party"), Name: "Anna Dunlin", Email: "anna@dunlin.example", Until: noon.AddDate(0, 6, 0)}
			},
			After: func(w *World) { w.hear() },
		},
		{Call: "EditPractice", Input: func(w *World) any {
			return practice.EditPractice{Mutation: m(), Version: 2, Email: ptr("office@pier.example")}
		}},
		{Call: "MakeFeed", Input: func(w *World) any {
			return practice.MakeFeed{Mutation: m(), ID: w.new("feed"), Purpose: "my visits", Boats: true}
		}},
		{Call: "InviteToVisit", Input: func(w *World) any {
			return practice.InviteToVisit{Mutation: m(), ID: w.new("visit invitation"), Visit: w.Of("next visit"), Name: "Anna Dunlin", Email: "anna@dunlin.example"}
		}},
		{Call: "RevokeFeed", Input: func(w *World) any { return practice.RevokeFeed{Mutation: m(), ID: w.Of("feed")} }},
		{Call: "AddReinspection", Input: func(w *World) any {
			return practice.AddReinspection{Mutation: m(), ID: w.new("reinspection"), Vessel: w.Of("vessel"), From: day, To: day.AddDate(0, 1, 0), Reason: "the keel bolts, at the next lift"}
		}},
		{Call: "SendRecall", Input: func(w *World) any {
			return practice.SendRecall{Mutation: m(), Vessel: w.Of("vessel"), Party: w.Of("party"), Reinspections: []uuid.UUID{w.Of("reinspection")}, Subject: "Kittiwake", Body: "Time for another look."}
		}},
		{Call: "MoveReinspection", Input: func(w *World) any {
			return practice.MoveReinspection{Mutation: m(), ID: w.Of("reinspection"), Version: 2, State: "booked", Job: w.ref("job")}
		}},
		{Call: "AddGuarantee", Input: func(w *World) any {
			return practice.AddGuarantee{Mutation: m(), Guarantee: practice.Guarantee{ID: w.new("guarantee"), Vessel: w.Of("vessel"), What: "the epoxy scheme", EndsOn: day.AddDate(2, 0, 0)}}
		}},
		{Call: "EditReinspectionSettings", Input: func(w *World) any {
			return practice.EditReinspectionSettings{Mutation: m(), RecallMonthly: ptr(true)}
		}},
		{Call: "EditReinspectionSettings", Input: func(w *World) any {
			return practice.EditReinspectionSettings{Mutation: m(), Version: 1, AheadDays: ptr(int32(90))}
		}},
		{Call: "SeeNotices", Input: func(w *World) any {
			return practice.SeeNotices{Mutation: m(), Notices: []uuid.UUID{w.Of("notice")}}
		}},
		{Call: "SetDigest", Input: func(w *World) any { return practice.SetDigest{Mutation: m(), Digest: "weekly"} }},
		{Call: "EditMoneySettings", Input: func(w *World) any {
			return practice.EditMoneySettings{Mutation: m(), TaxPermille: ptr(int32(230)), EarlyStartWording: ptr("I ask you to begin at once.")}
		}},
		{Call: "EditMoneySettings", Input: func(w *World) any {
			return practice.EditMoneySettings{Mutation: m(), Version: 1, Foot: ptr("An invented bank.")}
		}},
		{Call: "RecordEarlyStart", Input: func(w *World) any {
			return practice.RecordEarlyStart{Mutation: m(), ID: w.new("early start"), Job: w.Of("job"), AskedOn: day, AskedBy: "Anna Dunlin", How: "by letter"}
		}},
		{Call: "HoldReports", Input: func(w *World) any { return practice.HoldReports{Mutation: m(), Job: w.Of("job"), Hold: true} }},
		{Call: "DraftInvoice", Input: func(w *World) any {
			return practice.DraftInvoice{Mutation: m(), ID: w.new("dropped invoice"), Job: w.Of("job"), Kind: "deposit"}
		}},
		{Call: "DropInvoice", Input: func(w *World) any {
			return practice.DropInvoice{Mutation: m(), ID: w.Of("dropped invoice"), Version: 1}
		}},
		{Call: "DraftInvoice", Input: func(w *World) any {
			return practice.DraftInvoice{Mutation: m(), ID: w.new("invoice"), Job: w.Of("job"), Kind: "invoice", Lines: []practice.InvoiceLine{{Kind: "work", Text: "Survey", Hundredths: 100, PriceMinor: 50000, TaxPermille: 230}}}
		}},
		{Call: "EditInvoice", Input: func(w *World) any {
			return practice.EditInvoice{Mutation: m(), ID: w.Of("invoice"), Version: 1, PayerName: ptr("Anna Dunlin")}
		}},
		{Call: "IssueInvoice", Input: func(w *World) any { return practice.IssueInvoice{Mutation: m(), ID: w.Of("invoice"), Version: 2} }},
		{Call: "CreditInvoice", Input: func(w *World) any {
			return practice.CreditInvoice{Mutation: m(), ID: w.new("credit note"), Invoice: w.Of("invoice"), Note: "half a day less", Lines: []practice.InvoiceLine{{Kind: "work", Text: "Survey", Hundredths: 100, PriceMinor: 10000, TaxPermille: 230}}}
		}},
		{Call: "RecordPayment", Input: func(w *World) any {
			return practice.RecordPayment{Mutation: m(), Payment: practice.Payment{ID: w.new("payment"), InvoiceID: w.Of("invoice"), AmountMinor: 20000, PaidOn: day, How: "bank"}}
		}},
		{Call: "HoldReports", Input: func(w *World) any {
			return practice.HoldReports{Mutation: m(), Job: w.Of("job"), Because: "the rest is promised in writing"}
		}},
		{Call: "RevokeShare", Input: func(w *World) any { return practice.RevokeShare{Mutation: m(), ID: w.Of("share")} }},
		{Call: "WriteAddendum", Input: func(w *World) any {
			return practice.WriteAddendum{Mutation: m(), ID: w.new("addendum"), Report: w.Of("report"), Text: "The window at 13/3 was made good."}
		}},
		{
			Call:  "IssueAddendum",
			Input: func(w *World) any { return practice.IssueAddendum{Mutation: m(), ID: w.Of("addendum"), Version: 1} },
			After: func(w *World) {
				if err := w.Service.MakeAddendum(w.T.Context(), practice.AddendumJob{Practice: w.Practice, Addendum: w.Of("addendum")}); err != nil {
					w.T.Fatal(err)
				}
			},
		},
		{Call: "DraftReport", Input: func(w *World) any {
			return practice.DraftReport{Mutation: m(), ID: w.new("second report"), Job: w.Of("job"), Title: "Limited survey", Paper: "Letter"}
		}},
		{Call: "EditReport", Input: func(w *World) any {
			return practice.EditReport{Mutation: m(), ID: w.Of("second report"), Version: w.version("reports", "second report"), InShort: ptr("The same, put better.")}
		}},
		{Call: "TakeSecondLook", Input: func(w *World) any {
			return practice.TakeSecondLook{Mutation: m(), ID: w.Of("second report"), Version: w.version("reports", "second report")}
		}},
		{
			Call: "IssueReport",
			Input: func(w *World) any {
				return practice.IssueReport{Mutation: m(), ID: w.Of("second report"), Version: w.version("reports", "second report")}
			},
			After: func(w *World) {
				if err := w.Service.MakeReport(w.T.Context(), practice.ReportJob{Practice: w.Practice, Report: w.Of("second report")}); err != nil {
					w.T.Fatal(err)
				}
			},
		},
		{Call: "ReplaceReport", Input: func(w *World) any {
			return practice.ReplaceReport{Mutation: m(), ID: w.Of("second report"), Version: w.version("reports", "second report"), By: w.Of("report"), Because: "the draught was put better"}
		}},
		{
			Call: "WithdrawReport",
			Input: func(w *World) any {
				return practice.WithdrawReport{Mutation: m(), ID: w.Of("report"), Version: w.version("reports", "report"), Reason: "wrong boat on the cover"}
			},
		},
		{Call: "DraftReport", Input: func(w *World) any {
			return practice.DraftReport{Mutation: m(), ID: w.new("third report"), Job: w.Of("job"), Title: "What is left", Paper: "A4"}
		}},
		{Call: "PlaceHold", Input: func(w *World) any {
			return practice.PlaceHold{Mutation: m(), ID: w.new("hold"), On: practice.HoldOn{Job: w.ref("job")}, Reason: "a claim is in the air"}
		}},
		{Call: "LiftHold", Input: func(w *World) any {
			return practice.LiftHold{Mutation: m(), ID: w.Of("hold"), Reason: "settled"}
		}},
		{Call: "EditRetention", Input: func(w *World) any {
			return practice.EditRetention{Mutation: m(), FileYears: 12, FileJurisdiction: "as our counsel says"}
		}},
		{Call: "EditRetention", Input: func(w *World) any {
			return practice.EditRetention{Mutation: m(), Version: 1, FileYears: 10, InvoiceYears: ptr(int32(7)), PeopleYears: ptr(int32(2))}
		}},
		{Call: "AddParty", Input: func(w *World) any {
			return practice.AddParty{Mutation: m(), Party: practice.Party{ID: w.new("leaver"), Name: "Wil Turnstone", Kind: "person", Email: "wil@turnstone.example", Phone: "555 0199"}}
		}},
		{Call: "ErasePerson", Input: func(w *World) any {
			return practice.ErasePerson{Mutation: m(), ID: w.new("erasure"), Party: w.Of("leaver"), Reason: "asked for it by letter", Name: "Wil Turnstone"}
		}},
		{Call: "EraseMember", Input: func(w *World) any {
			return practice.EraseMember{Mutation: m(), ID: w.new("member's erasure"), Member: w.left(), Reason: "left two years ago", Name: "Nan Sanderling"}
		}},
		{Call: "EraseFile", Input: func(w *World) any {
			return practice.EraseFile{Mutation: m(), ID: w.new("file's erasure"), Job: w.oldJob(), Reason: "its time is over", Number: "2001-007"}
		}},
	}
}
