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
	"slices"
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

// The day of the story, and its noon.
var (
	day  = time.Date(2026, 4, 6, 0, 0, 0, 0, time.UTC)
	noon = day.Add(12 * time.Hour)
)

// Steps is every write there is, in an order in which each succeeds.
func Steps() []Step {
	return slices.Concat(house(), boats(), diary(), visit(), report(), office(), after())
}
