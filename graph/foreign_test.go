package graph_test

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/vektah/gqlparser/v2/ast"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph"
	"boottop.example/practice/store"
	"boottop.example/practice/store/storetest"
	"boottop.example/practice/store/storetest/story"
)

// names says of which kind an id is, by the name of its argument or input field; `id` is
// said by the thing that the mutation names.
var names = map[string]domain.Thing{
	"mutation": domain.ThingMutation, "vessel": domain.ThingVessel, "element": domain.ThingElement, "plan": domain.ThingPlan, "place": domain.ThingPlace,
	"instrument": domain.ThingInstrument, "scale": domain.ThingScale, "spell": domain.ThingSpell, "job": domain.ThingJob, "visit": domain.ThingVisit,
	"follows": domain.ThingVisit, "pass": domain.ThingPass, "against": domain.ThingPass, "reading": domain.ThingReading, "finding": domain.ThingFinding, "otherFace": domain.ThingFinding, "againOf": domain.ThingFinding, "wording": domain.ThingWording, "sections": domain.ThingSection,
	"upload": domain.ThingUpload, "device": domain.ThingUpload, "recommendation": domain.ThingRecommendation, "report": domain.ThingReport, "by": domain.ThingReport,
	"party": domain.ThingParty, "kept": domain.ThingParty, "lost": domain.ThingParty, "one": domain.ThingParty, "other": domain.ThingParty, "client": domain.ThingParty, "yard": domain.ThingParty, "givenBy": domain.ThingParty,
	"engagement": domain.ThingEngagement, "terms": domain.ThingTerms,
	"people": domain.ThingMember, "judgedBy": domain.ThingMember, "was": domain.ThingFigure, "instruments": domain.ThingInstrument,
	"member": domain.ThingMember, "lead": domain.ThingMember, "hand": domain.ThingMember, "hands": domain.ThingMember,
	"firstScale": domain.ThingScale, "secondScale": domain.ThingScale, "replacesKit": domain.ThingRepeatKit, "replacesSet": domain.ThingCrossReadings,
	"wash":  domain.ThingWash,
	"photo": domain.ThingPhoto, "item": domain.ThingScheduleItem,
	"reinspections": domain.ThingReinspection, "invoice": domain.ThingInvoice, "notices": domain.ThingNotice,
}

// things says of which kind the `id` of a mutation or query is, by the end of its name.
var things = map[string]domain.Thing{
	"Member": domain.ThingMember, "ApiKey": domain.ThingAPIKey, "Instrument": domain.ThingInstrument, "Scale": domain.ThingScale, "Party": domain.ThingParty,
	"PartyRole": domain.ThingPartyRole, "PartyMerge": domain.ThingPartyMerge, "Vessel": domain.ThingVessel, "Element": domain.ThingElement, "Datum": domain.ThingDatum, "Layer": domain.ThingLayer,
	"Event": domain.ThingEvent, "Plan": domain.ThingPlan, "Spell": domain.ThingSpell, "Job": domain.ThingJob, "Permission": domain.ThingPermission, "Act": domain.ThingActWithoutLeave, "Hull": domain.ThingHullMarks, "Marks": domain.ThingHullMarks, "Paper": domain.ThingPaper,
	"Visit": domain.ThingVisit, "Pass": domain.ThingPass, "BlockCheck": domain.ThingBlockCheck, "Reading": domain.ThingReading, "Condition": domain.ThingCondition,
	"Finding": domain.ThingFinding, "Window": domain.ThingWindow, "Photo": domain.ThingPhoto, "Upload": domain.ThingUpload, "Recommendation": domain.ThingRecommendation,
	"RecommendationState": domain.ThingState, "Report": domain.ThingReport, "ReportHistory": domain.ThingReport, "Section": domain.ThingSection, "Wording": domain.ThingWording, "Comment": domain.ThingComment, "ForReview": domain.ThingReport, "OnDraft": domain.ThingComment, "Addendum": domain.ThingAddendum, "SecondLook": domain.ThingReport, "Share": domain.ThingShare, "Readings": domain.ThingReading,
	"Engagement": domain.ThingEngagement, "Enquiry": domain.ThingEngagement, "Terms": domain.ThingTerms, "YardLink": domain.ThingYardLink, "Yard": domain.ThingParty,
	"Leave": domain.ThingLeave, "DiaryFigure": domain.ThingFigure, "Move": domain.ThingMove, "Weather": domain.ThingWeather,
	"Places": domain.ThingPlace, "NotReached": domain.ThingNotReached, "Place": domain.ThingPlace, "Cause": domain.ThingJudgement, "CauseCheck": domain.ThingCauseCheck, "Standing": domain.ThingStanding,
	"Wash": domain.ThingWash, "Rebound": domain.ThingRebound, "SheetTest": domain.ThingSheetTest, "Gate": domain.ThingGateSignature,
	"Evidence": domain.ThingEvidence, "DangerNotice": domain.ThingDangerNotice, "SeenLetter": domain.ThingSeenLetter, "AttendanceNote": domain.ThingAttendanceNote,
	"Item":         domain.ThingExamination,
	"Reinspection": domain.ThingReinspection, "Guarantee": domain.ThingGuarantee, "Feed": domain.ThingFeed,
	"Invoice": domain.ThingInvoice, "Payment": domain.ThingPayment, "EarlyStart": domain.ThingEarlyStart,
	"Hold": domain.ThingHold,
}

// others are the ids that the name does not tell.
var others = map[string]domain.Thing{
	"recordRepeatKit": domain.ThingRepeatKit, "recordCrossReadings": domain.ThingCrossReadings, "instrumentBook": domain.ThingInstrument,
	"shareReport": domain.ThingShare, "offerTerms": domain.ThingTermsLink, "shareYard": domain.ThingYardLink, "inviteMember": domain.ThingInvitation, "importReadings": domain.ThingMutation, "previewImport": domain.ThingUpload,
	"inviteToVisit": domain.ThingVisitInvite, "declineVisit": domain.ThingDeclined, "proposeAgain": domain.ThingDeclined, "mergeParties": domain.ThingPartyMerge, "grantClientPhoto": domain.ThingUpload,
	"erasePerson": domain.ThingErasure, "eraseMember": domain.ThingErasure, "eraseFile": domain.ThingErasure,
}

// inner says of which kind the `id` of an input inside another is.
var inner = map[string]domain.Thing{"ScheduleAreaInput": domain.ThingScheduleArea, "ScheduleItemInput": domain.ThingScheduleItem, "PermissionInput": domain.ThingPermission}

func kindOf(operation, field string) (domain.Thing, bool) {
	if field != "id" && field != "ids" {
		k, known := names[field]
		return k, known
	}
	if k, known := others[operation]; known {
		return k, true
	}
	longest, kind := "", domain.Thing("")
	for end, k := range things {
		if strings.HasSuffix(strings.ToUpper(operation[:1])+operation[1:], end) && len(end) > len(longest) {
			longest, kind = end, k
		}
	}
	return kind, kind != ""
}

// makes tells whether a mutation's own id is that of a new thing. That is the caller's to
// choose and no question; store asks what happens where another practice has it already.
func makes(operation string) bool {
	return !slices.ContainsFunc([]string{"edit", "end", "move", "revoke", "close", "take", "issue", "withdraw", "undo", "drop", "send", "strike", "lift"}, func(verb string) bool { return strings.HasPrefix(operation, verb) })
}

// slot is a place in the contract that takes an id.
type slot struct {
	operation string
	kind      domain.Thing
	document  string
	variables func(id string) map[string]any
}

// slots walks the schema for every argument and input field that takes an id.
func slots(t *testing.T) (all []slot) {
	t.Helper()
	s := schema()
	for _, f := range s.Query.Fields {
		all = append(all, arguments(t, s, f, "")...)
	}
	all = append(all, arguments(t, s, s.Types["Vessel"].Fields.ForName("history"), "vessel")...)
	for _, f := range s.Mutation.Fields {
		if strings.HasPrefix(f.Name, "__") {
			continue
		}
		input := s.Types[f.Arguments[0].Type.Name()]
		document := fmt.Sprintf("mutation($input:%s!){%s(input:$input){__typename}}", input.Name, f.Name)
		all = append(all, inputSlots(t, s, f.Name, document, input, "", func(in map[string]any) map[string]any { return in })...)
	}
	return all
}

// inputSlots makes the slots of an input, and of the inputs inside it. within puts one of
// these where it belongs in what the mutation is sent.
func inputSlots(t *testing.T, s *ast.Schema, operation, document string, input *ast.Definition, path string, within func(map[string]any) map[string]any) (all []slot) {
	t.Helper()
	for _, field := range input.Fields {
		if d := s.Types[field.Type.Name()]; d.Kind == ast.InputObject {
			put := func(in map[string]any) map[string]any {
				around := filled(s, input, operation)
				if around[field.Name] = in; field.Type.Elem != nil {
					around[field.Name] = []any{in}
				}
				return within(around)
			}
			all = append(all, inputSlots(t, s, operation, document, d, path+field.Name+".", put)...)
			continue
		}
		isColumn := field.Type.Name() == "IdColumn"
		own := field.Name == "id" || field.Name == "ids"
		if field.Type.Name() != "ID" && !isColumn || field.Name == "mutation" || path == "" && own && makes(operation) {
			continue
		}
		kind, known := kindOf(operation, field.Name)
		if path != "" && own {
			kind, known = inner[input.Name]
		}
		if !known {
			t.Errorf("of which kind is the id %s.%s? Say it in this file", input.Name, field.Name)
			continue
		}
		all = append(all, slot{operation + "." + path + field.Name, kind, document, func(id string) map[string]any {
			in := filled(s, input, operation)
			if in[field.Name] = id; isColumn {
				in[field.Name] = []string{id}
			}
			return map[string]any{"input": within(in)}
		}})
	}
	return all
}

// arguments makes the slots of one field; under names the query field it stands below.
func arguments(t *testing.T, s *ast.Schema, f *ast.FieldDefinition, under string) (all []slot) {
	if strings.HasPrefix(f.Name, "__") {
		return nil
	}
	var declared, passed []string
	for _, a := range f.Arguments {
		declared = append(declared, "$"+a.Name+":"+a.Type.String())
		passed = append(passed, a.Name+":$"+a.Name)
	}
	if len(declared) == 0 {
		return nil
	}
	document := fmt.Sprintf("query(%s){%s(%s){__typename}}", strings.Join(declared, ","), f.Name, strings.Join(passed, ","))
	if under != "" {
		document = fmt.Sprintf("query($of:ID!,%s){%s(id:$of){%s(%s){__typename}}}", strings.Join(declared, ","), under, f.Name, strings.Join(passed, ","))
	}
	for _, a := range f.Arguments {
		if a.Type.Name() != "ID" {
			continue
		}
		variables := func(id string) map[string]any {
			v := map[string]any{"of": random(domain.ThingVessel)}
			for _, o := range f.Arguments {
				if o.Type.NonNull && o.DefaultValue == nil {
					v[o.Name] = filler(s, o.Type, f.Name, o.Name)
				}
			}
			v[a.Name] = id
			return v
		}
		if f.Name == "node" {
			for _, kind := range story.Kinds {
				all = append(all, slot{"node of a " + string(kind), kind, document, variables})
			}
			continue
		}
		kind, known := kindOf(f.Name, a.Name)
		if !known {
			t.Errorf("of which kind is the id %s(%s)? Say it in this file", f.Name, a.Name)
		}
		all = append(all, slot{f.Name + "." + a.Name, kind, document, variables})
	}
	return all
}

func random(kind domain.Thing) string { return string(kind) + "_" + uuid.Must(uuid.NewV7()).String() }

// sense is what a field is given where just any value would be refused before an id is
// looked for.
var sense = map[string]any{
	"timeZone": "Europe/Dublin", "email": "anna@dunlin.example", "how": "correct", "grade": "watch", "sure": "seen", "quoted": true,
	"lowTenths": 0, "highTenths": 1000, "to": "2026-04-06T15:00:00Z", "until": "2026-10-01T00:00:00Z", "plannedLift": "2026-03-01T12:00:00Z",
	"after": "wash", "readAt": "2026-04-08T12:00:00Z", "gate": "wash water",
}

// filled gives an input what it cannot do without.
func filled(s *ast.Schema, input *ast.Definition, operation string) map[string]any {
	in := map[string]any{}
	for _, field := range input.Fields {
		value, told := sense[field.Name]
		switch {
		case field.Name == "id" && inner[input.Name] != "":
			in[field.Name] = random(inner[input.Name])
		case told && field.Type.Name() != "Date":
			in[field.Name] = value
		case field.Type.NonNull && field.DefaultValue == nil:
			in[field.Name] = filler(s, field.Type, operation, field.Name)
		}
	}
	return in
}

func filler(s *ast.Schema, of *ast.Type, operation, name string) any {
	if of.Elem != nil {
		return []any{filler(s, of.Elem, operation, name)}
	}
	if value, told := sense[name]; told && of.Name() != "Date" {
		return value
	}
	kind, _ := kindOf(operation, name)
	switch of.Name() {
	case "ID":
		return random(kind)
	case "IdColumn":
		return []string{random(kind)}
	case "Time":
		return "2026-04-06T12:00:00Z"
	case "Date":
		return "2026-04-06"
	case "Boolean":
		return true
	case "Int", "Float":
		return 1
	case "Column":
		return []int{1}
	case "Columns":
		return [][]int{{1}}
	case "TextColumn":
		return []string{"port"}
	case "Sha256":
		return strings.Repeat("0", 64)
	case "Json":
		return map[string]any{}
	}
	switch d := s.Types[of.Name()]; d.Kind {
	case ast.Enum:
		return d.EnumValues[0].Name
	case ast.InputObject:
		return filled(s, d, operation)
	}
	return "x"
}

func TestEveryIDOfTheContractHidesTheOtherPractice(t *testing.T) {
	t.Parallel()
	s, members, theirs := twoPractices(t)
	by := map[domain.Thing]uuid.UUID{}
	for what, id := range theirs.IDs {
		by[story.Kinds[what]] = id
	}
	by[domain.ThingMutation] = theirs.IDs["import"]
	asked := 0
	for _, at := range slots(t) {
		their, there := by[at.kind]
		if !there {
			t.Errorf("the story makes nothing of kind %s for %s", at.kind, at.operation)
			continue
		}
		for _, who := range []domain.Role{"", domain.Principal, domain.Office, domain.Surveyor, domain.Guest} {
			s.actor = members[who]
			given, none := s.raw(at, string(at.kind)+"_"+their.String()), s.raw(at, random(at.kind))
			if asked++; given != none {
				t.Errorf("%s, asked by %q: theirs answers\n%s\nand none\n%s", at.operation, who, given, none)
			}
			if who == "" && !strings.Contains(given, "UNAUTHENTICATED") {
				t.Errorf("%s tells nobody %s", at.operation, given)
			}
		}
	}
	if asked < 500 {
		t.Errorf("only %d questions were asked: the walk is broken", asked)
	}
	s.actor = members[domain.Principal]
	s.reportGap(by[domain.ThingVessel])
}

// reportGap says how far apart the two answers come in time; it judges nothing.
func (s *service) reportGap(their uuid.UUID) {
	const document = `query($id:ID!){vessel(id:$id){name elements{id}}}`
	var took [2][]time.Duration
	for range 200 {
		for k, id := range []string{"vsl_" + their.String(), random(domain.ThingVessel)} {
			began := time.Now()
			s.raw(slot{document: document, variables: func(id string) map[string]any { return map[string]any{"id": id} }}, id)
			took[k] = append(took[k], time.Since(began))
		}
	}
	for k := range took {
		slices.Sort(took[k])
	}
	s.t.Logf("median of 200: theirs %v, none %v", took[0][100], took[1][100])
}

func (s *service) raw(at slot, id string) string {
	s.t.Helper()
	variables := at.variables(id)
	if in, ok := variables["input"].(map[string]any); ok {
		in["mutation"] = random(domain.ThingMutation)
	}
	body, err := json.Marshal(map[string]any{"query": at.document, "variables": variables})
	if err != nil {
		s.t.Fatal(err)
	}
	code, said := s.ask(string(body))
	if strings.Contains(said, "INTERNAL") || strings.Contains(said, "GRAPHQL_VALIDATION") {
		s.t.Errorf("%s: %s", at.operation, said)
	}
	return fmt.Sprint(code, said)
}

// twoPractices is a service with two practices, in one of which the story has been told.
func twoPractices(t *testing.T) (s *service, members map[domain.Role]domain.Actor, theirs *story.World) {
	t.Helper()
	db, bucket := storetest.New(t), storetest.S3(t)
	kept, err := store.Open(t.Context(), store.Config{URL: db.AppURL})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(kept.Close)
	objects, err := store.OpenObjects(store.ObjectsConfig{URL: bucket.URL(), Region: bucket.Region, Bucket: bucket.Name, Key: bucket.Key, Secret: bucket.Secret})
	if err != nil {
		t.Fatal(err)
	}
	cases := practice.New(kept, practice.WithObjects(objects), practice.WithPublicURL("https://boottop.example"), practice.WithClock(func() time.Time { return story.Today }))
	d, err := graph.Serve(&graph.Resolver{Practice: cases}, true)
	if err != nil {
		t.Fatal(err)
	}
	owner := db.Connect(t, db.OwnerURL)
	theirs, _ = story.Begin(t, kept, owner, cases, objects, "West pier surveys")
	theirs.Tell(t.Context())
	_, members = story.Begin(t, kept, owner, cases, objects, "East pier surveys")
	return &service{t: t, handler: d, store: kept, owner: owner}, members, theirs
}
