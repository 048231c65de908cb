package practice_test

import (
	"errors"
	"fmt"
	"io"
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store"
	"boottop.example/practice/store/storetest"
	"boottop.example/practice/store/storetest/story"
)

// Everything that exists in one practice is to another as if it were not there: a call
// that names it answers, byte for byte, what it answers for an id that nothing has
// (promise A3). The story is told in their practice first; then in ours, and before each
// step every id in its input is swapped for theirs and for one that nothing has.
func TestTheirIdsAnswerAsIdsOfNothing(t *testing.T) {
	t.Parallel()
	ours, theirs := worlds(t)
	cases := map[string]useCase{}
	for _, u := range ours.useCases() {
		cases[u.name] = u
	}
	theirs.Tell(t.Context())
	told, probes := map[string]bool{}, 0
	for _, s := range story.Steps() {
		told[s.Call] = true
		in := s.Input(ours.World)
		probes += probe(t, cases[s.Call], ours, theirs, []any{in})
		ours.Take(t.Context(), s, in)
	}
	reads := readsOf(ours.World)
	for name, u := range cases {
		for _, args := range reads[name] {
			probes += probe(t, u, ours, theirs, args)
			results, err := u.call(t.Context(), ours.Actor, args...)
			want(t, err, domain.Internal)
			checkOwn(t, name, theirs, results)
		}
		if len(reads[name]) == 0 && !told[name] {
			t.Errorf("%s is neither in the story nor among the reads: give it a line", name)
		}
	}
	if probes < 100 {
		t.Errorf("only %d ids were swapped, there are more", probes)
	}
}

// world is a practice in which the story is told, in a test's database.
type world struct {
	*bundle
	*story.World
}

// worlds are two practices in one database, over a real store of files.
func worlds(t *testing.T) (ours, theirs *world) {
	t.Helper()
	bucket := storetest.S3(t)
	objects, err := store.OpenObjects(store.ObjectsConfig{URL: bucket.URL(), Region: bucket.Region, Bucket: bucket.Name, Key: bucket.Key, Secret: bucket.Secret})
	if err != nil {
		t.Fatal(err)
	}
	b := setup(t, practice.WithObjects(objects))
	begin := func(name string) *world {
		w, _ := story.Begin(t, b.store, b.owner, b.Service, objects, name)
		return &world{b, w}
	}
	return begin("East pier surveys"), begin("West pier surveys")
}

// readsOf is every read there is, with arguments that find something; several where a read
// takes more than one.
func readsOf(w *story.World) map[string][][]any {
	every := practice.Page{First: 50}
	from, to := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC), time.Date(2026, 12, 31, 0, 0, 0, 0, time.UTC)
	one := func(args ...any) [][]any { return [][]any{args} }
	return map[string][][]any{
		"Practice": one(), "Viewer": one(), "Head": one(int64(0)), "Today": one((*time.Time)(nil)), "Invitations": one(), "APIKeys": one(),
		"Members": one(every), "Parties": one(practice.PartyFilter{}, every, practice.PartyParts{Roles: true, Jobs: true}), "Instruments": one(every),
		"Vessels": {{"", every}, {"Kittiwake", every}}, "Jobs": one(practice.JobFilter{}, every), "Reports": one(every),
		"Spells": one(from, to), "Visits": one(from, to, false),

		"Engagement": one(w.Of("engagement")), "Engagements": one(false, every), "ConflictCheck": one(w.Of("engagement")), "Terms": one(), "DiaryFigures": one(), "Competences": one(), "Yard": one(w.Of("party"), from, to),
		"Figures": one(from, to), "Notices": one(every), "MoneySettings": one(), "JobMoney": one(w.Of("job")), "Invoice": one(w.Of("invoice")), "Books": {{"owed", every}, {"draft", every}, {"issued", every}}, "ExportInvoices": one(from, to, io.Discard), "InvoicePDF": one(w.Of("invoice"), "A4"),
		"Board": one(from, to), "VisitChecks": one(w.Of("planned visit")), "ProposeVisits": one(w.Of("second job")), "PlanMove": one(w.Of("planned spell"), from.AddDate(0, 4, 0), (*time.Time)(nil)),
		"PlanWash": one(w.Of("planned spell"), from.AddDate(0, 4, 0)), "HaulOut": one(w.Of("planned spell")),
		"FitVisit": one(practice.FitVisit{Job: w.Of("second job"), Kind: "meter visit", From: from.AddDate(0, 4, 0), To: from.AddDate(0, 4, 0).Add(time.Hour), TimeZone: "Europe/Dublin"}),

		"Member": one(w.Of("surveyor")), "Invitation": one(w.Of("invitation")), "APIKey": one(w.Of("key")),
		"Party": one(w.Of("party"), practice.PartyParts{Roles: true, Jobs: true}), "PartyRole": one(w.Of("role")),
		"LikelyDoubles": one(), "PartiesBeside": one(w.Of("party"), w.Of("double")), "PartyMerges": one(every),
		"Instrument": one(w.Of("instrument"), true), "InstrumentBook": one(w.Of("instrument")), "Measuring": one(), "Element": one(w.Of("element")), "Plan": one(w.Of("plan")),
		"Vessel":  one(w.Of("vessel"), practice.VesselParts{FormerNames: true, Elements: true, Plans: true, Events: true, Spells: true, People: true, Jobs: true, Reports: true, Recommendations: true, Reinspections: true, Photos: true, History: true}, ptr(w.Of("pass"))),
		"History": one(w.Of("vessel"), ptr(w.Of("pass"))), "Pass": one(w.Of("pass")), "Causes": one(practice.CauseAsk{Vessel: w.Of("vessel"), Pass: ptr(w.Of("pass"))}), "Place": one(w.Of("place")), "Reading": one(w.Of("reading")),
		"Spell": one(w.Of("spell")), "Job": one(w.Of("job")),
		"Visit":     one(w.Of("visit"), practice.VisitParts{Spell: true, Conditions: true, Passes: true, Findings: true, Windows: true, Photos: true, Marks: true}),
		"Condition": one(w.Of("condition")), "Finding": one(w.Of("finding")), "FindingForms": one(), "LookAgain": one(w.Of("vessel")), "Photo": one(w.Of("photo")),
		"PreviewImport": one(w.Of("sheet"), w.Of("pass")),
		"Feeds":         one(),
		"Reinspections": {{"due", every}, {"booked", every}}, "Reinspection": one(w.Of("reinspection")), "ReinspectionSettings": one(), "Recall": one(w.Of("vessel"), ptr(w.Of("party"))),
		"Recommendation": one(w.Of("recommendation")), "Report": one(w.Of("report")), "ReportHistory": one(w.Of("report")), "Making": one(w.Of("report")), "ReportWithJob": one(w.Of("report")), "Issued": one(w.Of("report")),
		"Wordings": one(), "DraftPDF": one(w.Of("third report")), "AddendumFile": one(w.Of("report"), int32(1)),
		"FollowThrough": one(w.Of("vessel")), "ClientWord": one(w.Of("vessel")), "SeenLetter": one(w.Of("letter")), "Schedule": one(), "SurveyBook": one(w.Of("job")),
		"Drying": one(w.Of("job")), "Brief": one(w.Of("job")),
		"Holds":      {{practice.HoldOn{Party: ptr(w.Of("party"))}}, {practice.HoldOn{Job: ptr(w.Of("job"))}}, {practice.HoldOn{Vessel: ptr(w.Of("vessel"))}}},
		"PersonKept": one(w.Of("party")), "MemberKept": one(w.Of("surveyor")), "Retention": one(), "ExportPerson": one(w.Of("party"), io.Discard),
	}
}

// otherwise lists the ids that are compared before they are looked for: the answer is no
// NotFound, but the same for theirs and for none.
var otherwise = map[string]bool{
	"OpenPass Instrument": true, // the scale belongs to another one
	"SetDiaryFigure Was":  true, // another stands there now
}

// probe swaps each id in the arguments and counts them.
func probe(t *testing.T, u useCase, ours, theirs *world, args []any) (ids int) {
	t.Helper()
	known := map[uuid.UUID]string{}
	for what, id := range ours.IDs {
		known[id] = what
	}
	for k := range args {
		for n, ref := range swap(&args[k], known, -1, uuid.Nil) {
			ids++
			var answers [2]string
			for try, id := range []uuid.UUID{theirs.Of(ref.what), newID()} {
				changed := append([]any(nil), args...)
				swap(&changed[k], known, n, id)
				results, err := u.call(t.Context(), ours.Actor, changed...)
				answers[try] = said(results, err)
				if domain.KindOf(err) != domain.NotFound && !otherwise[u.name+" "+ref.path] {
					t.Errorf("%s with %s naming a %s that is not ours: got %v, want NotFound", u.name, ref.path, ref.what, err)
				}
			}
			if answers[0] != answers[1] {
				t.Errorf("%s with %s: theirs answers\n%s\none of nothing\n%s", u.name, ref.path, answers[0], answers[1])
			}
		}
	}
	return ids
}

// said writes an answer as a caller sees it. A fault is answered alone, and what lies
// behind it is the log's.
func said(results []any, err error) string {
	var f *domain.Fault
	if errors.As(err, &f) {
		return fmt.Sprintf("%s %q %q", f.Kind.Code(), f.Field, f.Text)
	}
	return fmt.Sprintf("%+v %v", results, err)
}

// found is an id in an input.
type found struct{ path, what string }

// swap lists the known ids in a value, and puts to in the place of number n. The value is
// copied before it is changed.
func swap(in *any, known map[uuid.UUID]string, n int, to uuid.UUID) (all []found) {
	v := reflect.New(reflect.TypeOf(*in)).Elem()
	v.Set(reflect.ValueOf(*in))
	var walk func(path string, v reflect.Value)
	walk = func(path string, v reflect.Value) {
		switch {
		case v.Type() == reflect.TypeFor[uuid.UUID]():
			what, is := known[v.Interface().(uuid.UUID)]
			if !is {
				return
			}
			if len(all) == n {
				v.Set(reflect.ValueOf(to))
			}
			all = append(all, found{path, what})
		case v.Kind() == reflect.Pointer && !v.IsNil() && v.Type().Elem() == reflect.TypeFor[uuid.UUID]():
			own := reflect.New(v.Type().Elem())
			own.Elem().Set(v.Elem())
			walk(path, own.Elem())
			v.Set(own)
		case v.Kind() == reflect.Struct && v.Type().PkgPath() != "time":
			for k := range v.NumField() {
				if v.Type().Field(k).IsExported() {
					walk(strings.TrimPrefix(path+"."+v.Type().Field(k).Name, "."), v.Field(k))
				}
			}
		}
	}
	walk("", v)
	*in = v.Interface()
	return all
}

// checkOwn looks for anything of theirs in an answer to us.
func checkOwn(t *testing.T, name string, theirs *world, results []any) {
	t.Helper()
	var said strings.Builder
	for _, r := range results {
		spell(&said, reflect.ValueOf(r))
	}
	text := said.String()
	for what, id := range theirs.IDs {
		if strings.Contains(text, id.String()) {
			t.Errorf("%s gives away the %s of another practice", name, what)
		}
	}
	if strings.Contains(text, theirs.Practice.String()) || strings.Contains(text, "West pier") {
		t.Errorf("%s gives away the other practice", name)
	}
}

// spell puts every exported value that an answer leads to into a text. JSON cannot: some
// figures have no bound.
func spell(to *strings.Builder, v reflect.Value) {
	if v.IsValid() && v.CanInterface() {
		if text, ok := v.Interface().(fmt.Stringer); ok && (v.Kind() != reflect.Pointer || !v.IsNil()) {
			fmt.Fprintln(to, text)
			return
		}
	}
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			spell(to, v.Elem())
		}
	case reflect.Slice:
		if v.Type().Elem().Kind() == reflect.Uint8 {
			fmt.Fprintln(to, string(v.Bytes()))
			return
		}
		for k := range v.Len() {
			spell(to, v.Index(k))
		}
	case reflect.Map:
		for _, k := range v.MapKeys() {
			spell(to, k)
			spell(to, v.MapIndex(k))
		}
	case reflect.Struct:
		for k := range v.NumField() {
			if v.Type().Field(k).IsExported() {
				spell(to, v.Field(k))
			}
		}
	default:
		fmt.Fprintln(to, v)
	}
}
