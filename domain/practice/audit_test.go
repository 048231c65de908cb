package practice_test

import (
	"context"
	"fmt"
	"reflect"
	"slices"
	"testing"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

// actions says what each use case asks of its actor. A use case without a line fails the
// test that walks them, so nobody adds one without deciding who may call it.
var actions = map[string]domain.Action{
	"APIKey": domain.ManageKeys, "APIKeys": domain.ManageKeys, "CreateAPIKey": domain.ManageKeys, "RevokeAPIKey": domain.ManageKeys,
	"Invitation": domain.ManageMembers, "InviteMember": domain.ManageMembers, "EditMember": domain.ManageMembers,
	"EditPractice": domain.ManagePractice,

	"Practice": domain.ReadPractice, "Viewer": domain.ReadPractice, "Head": domain.ReadPractice, "Today": domain.ReadPractice,
	"Member": domain.ReadPractice, "Members": domain.ReadPractice, "Invitations": domain.ReadPractice,
	"Party": domain.ReadPractice, "Parties": domain.ReadPractice, "PartyRole": domain.ReadPractice,
	"Instrument": domain.ReadPractice, "Instruments": domain.ReadPractice, "InstrumentBook": domain.ReadPractice, "Measuring": domain.ReadPractice,
	"Vessel": domain.ReadPractice, "Vessels": domain.ReadPractice, "Element": domain.ReadPractice, "Plan": domain.ReadPractice,
	"History": domain.ReadPractice, "Pass": domain.ReadPractice, "Place": domain.ReadPractice, "Reading": domain.ReadPractice,
	"Spell": domain.ReadDiary, "Spells": domain.ReadDiary, "Job": domain.ReadPractice, "Jobs": domain.ReadPractice,
	"Visit": domain.ReadPractice, "Visits": domain.ReadPractice, "Condition": domain.ReadPractice, "Finding": domain.ReadPractice, "FindingForms": domain.ReadPractice, "LookAgain": domain.ReadPractice,
	"Photo": domain.ReadPractice, "PreviewImport": domain.ReadPractice, "Recommendation": domain.ReadPractice,
	"Report": domain.ReadPractice, "ReportWithJob": domain.ReadPractice, "Reports": domain.ReadPractice, "ReportHistory": domain.ReadPractice, "Making": domain.ReadPractice, "Issued": domain.ReadPractice,

	"AddParty": domain.WritePeople, "EditParty": domain.WritePeople, "AddPartyRole": domain.WritePeople,
	"LikelyDoubles": domain.WritePeople, "PartiesBeside": domain.WritePeople, "PartyMerges": domain.WritePeople, "MergeParties": domain.WritePeople, "UndoPartyMerge": domain.WritePeople, "TellPartiesApart": domain.WritePeople,
	"AddInstrument": domain.WriteTools, "EditInstrument": domain.WriteTools, "AddScale": domain.WriteTools,
	"RecordRepeatKit": domain.WriteTools, "RecordCrossReadings": domain.WriteTools,
	"AddVessel": domain.WriteVessel, "EditVessel": domain.WriteVessel, "AddElement": domain.WriteVessel, "EditElement": domain.WriteVessel,
	"AddDatum": domain.WriteVessel, "AddLayer": domain.WriteVessel, "EndLayer": domain.WriteVessel, "AddEvent": domain.WriteVessel,
	"AddPlaces": domain.WriteVessel, "AddPlan": domain.WriteVessel,
	"AddJob": domain.Book, "EditJob": domain.Book, "GiveAccess": domain.Book, "RecordPermission": domain.Book, "RecordPermissions": domain.Book, "ExplainAct": domain.WriteVisit, "AddPaper": domain.Book,
	"AddSpell": domain.Book, "EditSpell": domain.Book, "PlanVisit": domain.Book,
	"EditVisit": domain.Book, "OverrideCheck": domain.Book, "ApplyMove": domain.Book, "ApplyWash": domain.Book, "UndoMove": domain.Book,
	"Engagement": domain.ReadDiary, "Engagements": domain.ReadDiary, "ConflictCheck": domain.ReadDiary, "Terms": domain.ReadDiary, "Yard": domain.ReadDiary,
	"AddEnquiry": domain.Book, "EditEngagement": domain.Book, "SetQuote": domain.Book, "DecideConflict": domain.Book, "BookEngagement": domain.Book,
	"Figures": domain.ReadFigures, "Notices": domain.ReadPractice, "SeeNotices": domain.ReadPractice, "SetDigest": domain.ReadPractice,
	"MoneySettings": domain.ReadMoney, "JobMoney": domain.ReadMoney, "Invoice": domain.ReadMoney, "Books": domain.ReadMoney, "ExportInvoices": domain.ReadMoney, "InvoicePDF": domain.ReadMoney,
	"EditMoneySettings": domain.ManagePractice, "DraftInvoice": domain.WriteMoney, "EditInvoice": domain.WriteMoney, "DropInvoice": domain.WriteMoney, "IssueInvoice": domain.WriteMoney,
	"CreditInvoice": domain.WriteMoney, "RecordPayment": domain.WriteMoney, "HoldReports": domain.WriteMoney, "RecordEarlyStart": domain.Book,
	"WriteTerms": domain.ManagePractice, "OfferTerms": domain.Book,
	"DescribeYard": domain.Book, "DescribeSlot": domain.Book, "ShareYard": domain.Book, "RevokeYardLink": domain.Book,
	"AddLeave": domain.Book, "EndLeave": domain.Book, "SetCompetences": domain.ManageMembers, "Competences": domain.ReadDiary, "DeclineVisit": domain.Book, "ProposeAgain": domain.Book,
	"DiaryFigures": domain.ReadDiary, "SetDiaryFigure": domain.ManagePractice,
	"AddTides": domain.Book, "RemoveTides": domain.Book, "RecordWeather": domain.Book,
	"Board": domain.ReadDiary, "VisitChecks": domain.ReadDiary, "ProposeVisits": domain.ReadDiary, "PlanMove": domain.ReadDiary, "PlanWash": domain.ReadDiary, "FitVisit": domain.ReadDiary, "HaulOut": domain.ReadDiary,

	"OpenPass": domain.WriteVisit, "EditPass": domain.WriteVisit, "ClosePass": domain.WriteVisit, "RecordBlockCheck": domain.WriteVisit,
	"AddReadings": domain.WriteVisit, "SupersedeReading": domain.WriteVisit, "VoidReading": domain.WriteVisit,
	"MarkFollowUp": domain.WriteVisit, "MarkNotReached": domain.WriteVisit, "ImportReadings": domain.WriteVisit,
	"LowerStanding": domain.WriteVisit, "RestoreStanding": domain.WriteVisit,
	"RecordCondition": domain.WriteVisit, "RecordFinding": domain.WriteVisit, "EditFinding": domain.WriteVisit, "RecordWindow": domain.WriteVisit, "MarkHull": domain.WriteVisit, "RemoveMarks": domain.WriteVisit, "AddPhoto": domain.WriteVisit, "EditPhoto": domain.WriteVisit,
	"GrantUpload": domain.ReadPractice, "FinishUpload": domain.ReadPractice, // and what the purpose asks, see TestUploads

	"FollowThrough": domain.ReadPractice, "SeenLetter": domain.ReadPractice, "AddEvidence": domain.ReadPractice, // and what the kind asks
	"DraftDangerNotice": domain.Recommend, "SendDangerNotice": domain.Issue, "WriteSeenLetter": domain.Issue,
	"Schedule": domain.ReadPractice, "SurveyBook": domain.ReadPractice, "SetSchedule": domain.ManagePractice, "ExamineItem": domain.WriteVisit,
	"SetValuation": domain.WriteReport, "AddAttendanceNote": domain.ReadPractice, "StrikeAttendanceNote": domain.ReadPractice,

	"AddRecommendation": domain.Recommend, "EditRecommendation": domain.Recommend,
	"SetRecommendationState": domain.ReadPractice, // and what the state asks, see TestRecommendation
	"Causes":                 domain.ReadPractice, "JudgeCause": domain.JudgeCauses, "RecordCauseCheck": domain.WriteVisit, "WithdrawCauseCheck": domain.WriteVisit,
	"AddSection": domain.WriteReport, "EditSection": domain.WriteReport, "OrderSections": domain.WriteReport, "SendForReview": domain.WriteReport,
	"CommentOnDraft": domain.WriteReport, "ResolveComment": domain.WriteReport, "DraftPDF": domain.ReadPractice, "AddendumFile": domain.ReadPractice,
	"Wordings": domain.WriteReport, "KeepWording": domain.ManagePractice,
	"DraftReport": domain.WriteReport, "EditReport": domain.WriteReport, "WriteAddendum": domain.WriteReport,
	"TakeSecondLook": domain.Issue, "IssueReport": domain.Issue, "IssueAddendum": domain.Issue, "ReplaceReport": domain.Issue, "WithdrawReport": domain.Issue,
	"ClientWord": domain.ReadPractice, "ShareReport": domain.Share, "RevokeShare": domain.Share,

	"Drying": domain.ReadPractice, "Brief": domain.ReadPractice, "SetDryingCourse": domain.WriteVisit, "RecordWash": domain.WriteVisit, "RecordRebound": domain.WriteVisit,
	"RecordSheetTest": domain.WriteVisit, "RecordAir": domain.WriteVisit, "SetGateRule": domain.ManagePractice, "SignGate": domain.SignGates,
	"Feeds": domain.ReadPractice, "MakeFeed": domain.ReadPractice, "RevokeFeed": domain.ReadPractice, "InviteToVisit": domain.Book,
	"Reinspections": domain.ReadDiary, "Reinspection": domain.ReadPractice, "ReinspectionSettings": domain.ReadDiary, "Recall": domain.ReadDiary,
	"AddReinspection": domain.Book, "MoveReinspection": domain.Book, "AddGuarantee": domain.Book, "SendRecall": domain.Book,
	"EditReinspectionSettings": domain.ManagePractice,

	"Holds": domain.ReadDiary, "PlaceHold": domain.HoldFiles, "LiftHold": domain.LiftHolds,
	"PersonKept": domain.KeepPrivacy, "MemberKept": domain.KeepPrivacy, "Retention": domain.KeepPrivacy, "ExportPerson": domain.KeepPrivacy,
	"EditRetention": domain.KeepPrivacy, "ErasePerson": domain.KeepPrivacy, "EraseMember": domain.KeepPrivacy, "EraseFile": domain.KeepPrivacy,
}

// either is another action that opens the same use case, if not for everything in it.
var either = map[string]domain.Action{
	"EditVisit": domain.WriteVisit, // whoever is there says that it was made
}

func mayCall(a domain.Actor, name string) bool {
	other, has := either[name]
	return domain.May(a, actions[name]) == nil || has && domain.May(a, other) == nil
}

// useCase is a method of the service that somebody calls.
type useCase struct {
	name   string
	method reflect.Value
}

// useCases finds every method whose second argument is an actor.
func (b *bundle) useCases() (all []useCase) {
	s := reflect.ValueOf(b.Service)
	for k := range s.NumMethod() {
		name, method := s.Type().Method(k).Name, s.Method(k)
		if in := method.Type(); in.NumIn() > 1 && in.In(1) == reflect.TypeFor[domain.Actor]() {
			all = append(all, useCase{name, method})
		}
	}
	return all
}

// call calls it with the zero value of every argument that is not given.
func (u useCase) call(ctx context.Context, a domain.Actor, args ...any) (results []any, err error) {
	in := []reflect.Value{reflect.ValueOf(ctx), reflect.ValueOf(a)}
	for k := 2; k < u.method.Type().NumIn(); k++ {
		v := reflect.New(u.method.Type().In(k)).Elem()
		if k-2 < len(args) && args[k-2] != nil {
			v.Set(reflect.ValueOf(args[k-2]))
		}
		in = append(in, v)
	}
	for _, v := range u.method.Call(in) {
		results = append(results, v.Interface())
	}
	err, _ = results[len(results)-1].(error)
	return results[:len(results)-1], err
}

// input is the argument of a write, with nothing in it but the id of the change. Those
// that look at a file first are left out.
func (u useCase) input() (in any, isWrite bool) {
	if slices.Contains([]string{"GrantUpload", "FinishUpload", "ImportReadings"}, u.name) {
		return nil, false
	}
	if u.method.Type().NumIn() != 3 || u.method.Type().In(2).Kind() != reflect.Struct {
		return nil, false
	}
	v := reflect.New(u.method.Type().In(2)).Elem()
	m := v.FieldByName("Mutation")
	if !m.IsValid() {
		return nil, false
	}
	m.Set(reflect.ValueOf(newID()))
	return v.Interface(), true
}

func TestEveryUseCaseHasItsLineInTheTable(t *testing.T) {
	t.Parallel()
	b := &bundle{Service: practice.New(nil)}
	var found []string
	for _, u := range b.useCases() {
		found = append(found, u.name)
		if _, known := actions[u.name]; !known {
			t.Errorf("%s is not in the table of what each use case asks: decide who may call it", u.name)
		}
	}
	for name := range actions {
		if !slices.Contains(found, name) {
			t.Errorf("the table speaks of %s, which is no use case", name)
		}
	}
	if len(found) < 80 {
		t.Errorf("found %d use cases, there are more", len(found))
	}
}

func TestNobodyIsToldToSignIn(t *testing.T) {
	t.Parallel()
	b := setup(t)
	for _, u := range b.useCases() {
		results, err := u.call(t.Context(), domain.Actor{})
		t.Run(u.name, func(t *testing.T) {
			want(t, err, domain.Unauthenticated)
			blank(t, results)
		})
		// A forged practice or member is nobody too, as long as no way in is named.
		_, err = u.call(t.Context(), domain.Actor{Practice: b.ours.id, Member: b.ours.of[domain.Principal].Member, Roles: domain.Roles})
		t.Run(u.name+" with a practice named", func(t *testing.T) { want(t, err, domain.Unauthenticated) })
	}
}

// blank checks that an error comes with nothing else.
func blank(t *testing.T, results []any) {
	t.Helper()
	for _, r := range results {
		if v := reflect.ValueOf(r); v.IsValid() && !v.IsZero() {
			t.Errorf("beside the error it gave %+v", r)
		}
	}
}

func TestEachRoleMayWhatTheTableSays(t *testing.T) {
	t.Parallel()
	b := setup(t)
	for _, role := range domain.Roles {
		for _, u := range b.useCases() {
			t.Run(fmt.Sprintf("%s %s", role, u.name), func(t *testing.T) {
				_, err := u.call(t.Context(), b.ours.of[role])
				may := mayCall(b.ours.of[role], u.name)
				switch kind := domain.KindOf(err); {
				case !may && kind != domain.Forbidden:
					t.Errorf("got %v, want Forbidden", err)
				case may && (kind == domain.Forbidden || kind == domain.Unauthenticated):
					t.Errorf("got %v, but the table lets the %s %s", err, role, actions[u.name])
				case err != nil && kind == domain.Internal:
					t.Errorf("an empty call ends in a fault of ours: %v", err)
				}
			})
		}
	}
}

// What a token says is held against the present in the write's own transaction: it may
// be minutes old (promise F3).
func TestAWriteAsksWhatTheMemberIsNow(t *testing.T) {
	t.Parallel()
	b := setup(t)
	left, lowered := b.member(b.ours, domain.Principal, domain.Surveyor), b.member(b.ours, domain.Principal, domain.Surveyor)
	b.exec(`update members set left_at = now() where id = $1`, left.Member)
	b.exec(`update members set roles = '{guest}' where id = $1`, lowered.Member)
	out := b.ours.of[domain.Principal]
	out.Session = newID()
	b.exec(`insert into sessions (id, account_id, practice_id, member_id, created_at, expires_at, ended_at)
		select $1, account_id, practice_id, id, now(), now() + interval '1 day', now() from members where id = $2`, out.Session, out.Member)
	revoked := b.ours.of[domain.Principal]
	revoked.Means, revoked.Key = domain.ByKey, newID()
	b.exec(`insert into api_keys (practice_id, id, member_id, name, key_sha256, created_at, revoked_at) values ($1, $2, $3, 'old', '', now(), now())`, b.ours.id, revoked.Key, revoked.Member)
	elsewhere := b.ours.of[domain.Principal]
	elsewhere.Practice = b.theirs.id // where this member is nobody
	for who, c := range map[string]struct {
		actor domain.Actor
		kind  domain.Kind
	}{
		"who has left": {left, domain.Unauthenticated}, "who has signed out": {out, domain.Unauthenticated}, "with a revoked key": {revoked, domain.Unauthenticated},
		"of another practice": {elsewhere, domain.Unauthenticated}, "who lost the roles": {lowered, domain.Forbidden},
	} {
		for _, u := range b.useCases() {
			if in, isWrite := u.input(); isWrite {
				t.Run(u.name+" by one "+who, func(t *testing.T) {
					_, err := u.call(t.Context(), c.actor, in)
					want(t, err, c.kind)
				})
			}
		}
	}
}

func TestWhatIsLeftOfTheRolesIsWhatCounts(t *testing.T) {
	t.Parallel()
	b := setup(t)
	vessel := b.vessel(b.ours, "Kittiwake")
	id, err := b.advise(b.ours.of[domain.Surveyor], b.job(b.ours, vessel, false))
	want(t, err, domain.Internal)
	b.exec(`update recommendations set state = 'issued' where id = $1`, id)
	was := b.member(b.ours, domain.Surveyor, domain.Office)
	b.exec(`update members set roles = '{office}' where id = $1`, was.Member)
	step := practice.SetRecommendationState{Mutation: newID(), ID: newID(), Recommendation: id, State: "seen done"}
	_, err = b.SetRecommendationState(t.Context(), was, step)
	want(t, err, domain.Forbidden)
	// A surveyor and guest who is only a guest now sees no job that he or she was not let into.
	was = b.member(b.ours, domain.Surveyor, domain.Guest)
	b.exec(`update members set roles = '{guest}' where id = $1`, was.Member)
	step.State = "acknowledged"
	_, err = b.SetRecommendationState(t.Context(), was, step)
	want(t, err, domain.NotFound)
}

func TestNothingRunsWithoutAnIDOfTheChange(t *testing.T) {
	t.Parallel()
	b := setup(t)
	for _, u := range b.useCases() {
		in, isWrite := u.input()
		if !isWrite {
			continue
		}
		for what, id := range map[string]uuid.UUID{"none": uuid.Nil, "one that is not of its time": uuid.Must(uuid.NewRandom())} {
			v := reflect.New(reflect.TypeOf(in)).Elem()
			v.FieldByName("Mutation").Set(reflect.ValueOf(id))
			_, err := u.call(t.Context(), b.ours.of[domain.Principal], v.Interface())
			t.Run(u.name+" with "+what, func(t *testing.T) { want(t, err, domain.Invalid, "mutation") })
		}
	}
	if n := value[int](b, `select count(*) from mutations`); n != 0 {
		t.Errorf("%d changes were recorded", n)
	}
}
