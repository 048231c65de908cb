package graph_test

import (
	"encoding/json"
	"regexp"
	"strings"
	"testing"
	"time"
)

// Every query of the client is asked of a practice that has nothing yet, and of the
// emptiest things: a vessel of which only the name is known, a job without visits, a
// visit without passes, a pass without readings. No page of theirs is a fault of ours.
func TestTheClientsQueriesOfTheEmptiestThings(t *testing.T) {
	t.Parallel()
	s := setup(t)
	nothing := map[string]string{"vsl": id("vsl"), "job": id("job"), "vis": id("vis"), "pas": id("pas"), "ins": id("ins"), "rep": id("rep"), "pty": id("pty")}
	s.asksEverything(nothing)

	vessel, job, visit, pass, instrument, party, element, plan := id("vsl"), id("job"), id("vis"), id("pas"), id("ins"), id("pty"), id("elm"), id("pln")
	bare := id("vsl")
	s.change("addVessel vessel{id}", map[string]any{"id": bare, "name": "A name and no more"})
	s.asksEverything(map[string]string{"vsl": bare})

	s.change("addVessel vessel{id}", map[string]any{"id": vessel, "name": "Hull without a reading"})
	s.change("addElement element{id}", map[string]any{"id": element, "vessel": vessel, "kind": "hull", "bootTopMm": 100})
	s.asksEverything(map[string]string{"vsl": vessel})
	s.change("addPlaces ordinals", map[string]any{"element": element, "ids": []string{id("plc")}, "labels": []string{"1"}, "sides": []string{"port"}, "along": []int{500}, "down": []int{500}})
	s.change("addPlan plan{id}", map[string]any{"id": plan, "vessel": vessel, "places": []int{1}, "dry": []int{}})
	s.change("addParty party{id}", map[string]any{"id": party, "kind": "organisation", "name": "A yard", "isYard": true})
	s.change("addInstrument instrument{id}", map[string]any{"id": instrument, "name": "A deep one", "kind": "capacitance", "sensing": "deep"})
	s.change("addJob job{id}", map[string]any{"id": job, "vessel": vessel, "kind": "limited moisture"})
	s.asksEverything(map[string]string{"vsl": vessel, "job": job, "pty": party, "ins": instrument})
	at := time.Date(2020, 5, 4, 9, 0, 0, 0, time.UTC)
	s.change("planVisit visit{id}", map[string]any{"id": visit, "job": job, "kind": "meter visit", "from": at, "to": at.Add(time.Hour), "timeZone": "Etc/UTC"})
	s.asksEverything(map[string]string{"vsl": vessel, "job": job, "vis": visit})
	s.change("openPass pass{id}", map[string]any{
		"id": pass, "visit": visit, "element": element, "plan": plan, "instrumentAsWritten": "a deep one", "source": "typed from paper", "quoted": true, "beganAt": at,
	})
	report := id("rep")
	s.change("draftReport report{id}", map[string]any{"id": report, "job": job, "title": "Nothing read"})
	s.asksEverything(map[string]string{"vsl": vessel, "job": job, "vis": visit, "pas": pass, "rep": report})
}

// asked is the head of a stored query, wherever its fragments stand; variable is one of
// its variables, the name and the type.
var (
	asked    = regexp.MustCompile(`\bquery \w+ ?(?:\([^)]*\))? ?\{`)
	variable = regexp.MustCompile(`\$(\w+): ?([\w!\[\]]+)`)
)

// asksEverything sends each stored query once for each thing that its id may name.
func (s *service) asksEverything(things map[string]string) {
	s.t.Helper()
	for name, document := range stored(s.t) {
		head := asked.FindString(document)
		if head == "" {
			continue
		}
		for kind, thing := range things {
			variables := map[string]any{}
			for _, v := range variable.FindAllStringSubmatch(head, -1) {
				variables[v[1]] = somethingOf(v[2], thing)
			}
			body, err := json.Marshal(map[string]any{"query": document, "variables": variables})
			if err != nil {
				s.t.Fatal(err)
			}
			if status, said := s.ask(string(body)); strings.Contains(said, `"code":"INTERNAL"`) {
				s.t.Errorf("%s of %s answers %d: %.300s", name, kind, status, said)
			}
			if len(variables) == 0 {
				break
			}
		}
	}
}

// somethingOf gives a variable of a type a value: an id names the thing.
func somethingOf(kind, thing string) any {
	if !strings.HasSuffix(kind, "!") {
		return nil
	}
	switch strings.TrimSuffix(kind, "!") {
	case "ID":
		return thing
	case "Time":
		return "2026-11-29T09:00:00Z"
	case "Date":
		return "2026-11-29"
	case "Boolean":
		return true
	case "ReinspectionsShown":
		return "due"
	}
	return "a word"
}
