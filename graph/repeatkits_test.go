package graph_test

import (
	"strings"
	"testing"

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

// meter adds an instrument with a scale of 0 to 100.
func (s *service) meter(name string) map[string]string {
	s.t.Helper()
	m := map[string]string{"instrument": id("ins"), "scale": id("scl")}
	s.change("addInstrument instrument{id}", map[string]any{"id": m["instrument"], "name": name, "kind": "capacitance"})
	s.change("addScale instrument{id}", map[string]any{"id": m["scale"], "instrument": m["instrument"], "name": "0 to 100", "lowTenths": 0, "highTenths": 1000})
	return m
}
