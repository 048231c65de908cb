package graph_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

func TestMeasuringThroughTheAPI(t *testing.T) {
	t.Parallel()
	s := setup(t)
	me := "mem_" + s.actor.Member.String()
	deep, shallow := s.meter("Skerrow deep No. 2"), s.meter("Skerrow shallow No. 1")
	const book = "book{instrument{id} precisions{enough repeatability{value degreesOfFreedom} reproducibility{value} own{member{id} says{text}} says{claim text}} kits{id hands{member{id} tenths} replacement{recordedBy{id} replaces}}}"
	kit := map[string]any{
		"mutation": id("mut"), "id": id("kit"), "instrument": deep["instrument"], "scale": deep["scale"], "madeOn": "2026-04-06",
		"hands": []string{me}, "spots": 2, "repeats": 2, "tenths": []any{120, 131, 305, nil},
	}
	first, again := s.change("recordRepeatKit "+book, kit), s.change("recordRepeatKit "+book, kit)
	for _, got := range []map[string]any{first, again} {
		if dig(got, "book", "precisions", 0, "repeatability", "degreesOfFreedom") != 1.0 || dig(got, "book", "precisions", 0, "enough") != false || dig(got, "book", "precisions", 0, "reproducibility") != nil {
			t.Errorf("the book says %v", got)
		}
		if dig(got, "book", "kits", 0, "id") != kit["id"] || dig(got, "book", "kits", 0, "hands", 0, "tenths", 3) != nil || dig(got, "book", "kits", 0, "hands", 0, "tenths", 1) != 131.0 || dig(got, "book", "kits", 1) != nil {
			t.Errorf("the kit is answered as %v", dig(got, "book", "kits"))
		}
	}
	got := s.change("recordRepeatKit "+book, map[string]any{
		"id": id("kit"), "instrument": deep["instrument"], "scale": deep["scale"], "madeOn": "2026-04-06", "hands": []string{me}, "spots": 2, "repeats": 2,
		"tenths": []any{120, 131, 305, 299}, "replacesKit": kit["id"], "because": "the last one was left out",
	})
	if dig(got, "book", "kits", 0, "replacement", "replaces") != kit["id"] {
		t.Errorf("the newer kit is answered as %v", dig(got, "book", "kits", 0))
	}
	set := map[string]any{
		"id": id("crs"), "firstScale": deep["scale"], "secondScale": shallow["scale"], "madeOn": "2026-04-06",
		"first": []int{100, 200, 300, 400, 500}, "second": []int{150, 260, 340, 460, 540}, "effectTenths": 50,
	}
	got = s.change("recordCrossReadings book{comparisons{id comparable needed line{slope ratioMeasured} band{at} says{claim text}}}", set)
	cross := dig(got, "book", "comparisons", 0)
	if dig(cross, "comparable") != false || dig(cross, "line", "ratioMeasured") != false || !strings.Contains(dig(cross, "says", 0, "text").(string), "Too few") {
		t.Errorf("the set is answered as %v", cross)
	}
	data := s.send("{measuring{scales{instrument{name} own{member{id}}} pairs{first{name} second{name} places needed} aid{claim text}}}", nil)
	if dig(data, "measuring", "pairs", 0, "places") != 5.0 || dig(data, "measuring", "pairs", 0, "needed") != 15.0 || dig(data, "measuring", "scales", 0, "own", 0, "member", "id") != me {
		t.Errorf("measuring answers %v", data)
	}
	s.actor.Roles = []domain.Role{domain.Guest}
	if _, said := s.ask(`{"query":"mutation{recordRepeatKit(input:{mutation:\"` + id("mut") + `\",id:\"` + id("kit") + `\",instrument:\"` + id("ins") + `\",scale:\"` + id("scl") + `\",madeOn:\"2026-04-06\",hands:[],spots:2,repeats:2,tenths:[]}){book{instrument{id}}}}"}`); !strings.Contains(said, "FORBIDDEN") {
		t.Errorf("a guest is answered %s", said)
	}
}

// TestOwnRepeatabilityIsForItsPersonAndThePrincipal asks as each role what the pages of
// instruments and of people ask: issue of the comparison, screens.
func TestOwnRepeatabilityIsForItsPersonAndThePrincipal(t *testing.T) {
	t.Parallel()
	s := setup(t)
	deep := s.meter("Skerrow deep No. 2")
	principal := s.actor
	people := map[domain.Role]string{domain.Principal: "mem_" + principal.Member.String()}
	actors := map[domain.Role]domain.Actor{domain.Principal: principal}
	for _, role := range []domain.Role{domain.Surveyor, domain.Trainee, domain.Office, domain.Guest} {
		account, member := uuid.Must(uuid.NewV7()), uuid.Must(uuid.NewV7())
		if _, err := s.store.Door().CreateAccount(t.Context(), account, string(role)+"@north.example", "none", time.Now()); err != nil {
			t.Fatal(err)
		}
		if _, err := s.owner.Exec(t.Context(), `insert into members (practice_id, id, account_id, name, roles) values ($1, $2, $3, $4, $5)`, principal.Practice, member, account, "A "+string(role), []string{string(role)}); err != nil {
			t.Fatal(err)
		}
		people[role] = "mem_" + member.String()
		actors[role] = domain.Actor{Practice: principal.Practice, Member: member, Means: domain.ByKey, Roles: []domain.Role{role}}
	}
	hands := []string{people[domain.Principal], people[domain.Surveyor], people[domain.Trainee]}
	s.change("recordRepeatKit book{instrument{id}}", map[string]any{
		"id": id("kit"), "instrument": deep["instrument"], "scale": deep["scale"], "madeOn": "2026-04-06", "hands": hands, "spots": 2, "repeats": 2,
		"tenths": []any{120, 131, 305, 299, 118, 126, 301, 297, 125, 133, 309, 300},
	})
	seen := func(own any) (list []string) {
		for k := range own.([]any) {
			list = append(list, dig(own, k, "member", "id").(string))
		}
		slices.Sort(list)
		return list
	}
	slices.Sort(hands)
	for role, sees := range map[domain.Role][]string{
		domain.Principal: hands, domain.Surveyor: {people[domain.Surveyor]}, domain.Trainee: {people[domain.Trainee]}, domain.Office: nil, domain.Guest: nil,
	} {
		s.actor = actors[role]
		measuring := s.send(stored(t)["MeasuringPage"], nil)
		book := s.send(stored(t)["InstrumentPage"], map[string]any{"id": deep["instrument"]})
		for page, own := range map[string]any{"people": dig(measuring, "measuring", "scales", 0, "own"), "instrument": dig(book, "instrumentBook", "precisions", 0, "own")} {
			if got := seen(own); !slices.Equal(got, sees) {
				t.Errorf("on the page of %s the %s sees what is of %v, should see %v", page, role, got, sees)
			}
		}
		for k := range hands {
			hand := dig(book, "instrumentBook", "kits", 0, "hands", k)
			if reads, may := dig(hand, "tenths") != nil, slices.Contains(sees, dig(hand, "member", "id").(string)); reads != may {
				t.Errorf("the %s reads what %v read: %v, should: %v", role, dig(hand, "member", "name"), reads, may)
			}
		}
		for _, said := range []any{dig(measuring, "measuring", "aid", "text"), dig(book, "instrumentBook", "aid", "text")} {
			if text, _ := said.(string); !strings.Contains(text, "An aid and not a score") {
				t.Errorf("the %s is told %q of what it is for", role, said)
			}
		}
	}
}

// meter adds an instrument with a scale of 0 to 100.
func (s *service) meter(name string) map[string]string {
	s.t.Helper()
	m := map[string]string{"instrument": id("ins"), "scale": id("scl")}
	s.change("addInstrument instrument{id}", map[string]any{"id": m["instrument"], "name": name, "kind": "capacitance"})
	s.change("addScale instrument{id}", map[string]any{"id": m["scale"], "instrument": m["instrument"], "name": "0 to 100", "lowTenths": 0, "highTenths": 1000})
	return m
}
