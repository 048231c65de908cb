package graph_test

import (
	"encoding/json"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
)

// stored finds the client's operations by name, as the client sends them.
func stored(t *testing.T) map[string]string {
	t.Helper()
	raw, err := os.ReadFile("../web/src/graphql/gen/persisted-documents.json")
	if err != nil {
		t.Fatal(err)
	}
	var all, byName map[string]string = nil, map[string]string{}
	if err := json.Unmarshal(raw, &all); err != nil {
		t.Fatal(err)
	}
	for _, document := range all {
		for _, kind := range []string{"query ", "mutation "} {
			if at := strings.Index(document, kind); at == 0 || at > 0 && document[at-1] == ' ' {
				name, _, _ := strings.Cut(document[at+len(kind):], " ")
				name, _, _ = strings.Cut(name, "(")
				byName[name] = document
			}
		}
	}
	return byName
}

// send asks a document and gives its data; errors end the test.
func (s *service) send(document string, variables map[string]any) map[string]any {
	s.t.Helper()
	body, err := json.Marshal(map[string]any{"query": document, "variables": variables})
	if err != nil {
		s.t.Fatal(err)
	}
	_, said := s.ask(string(body))
	var answer struct {
		Data   map[string]any
		Errors []any
	}
	if err := json.Unmarshal([]byte(said), &answer); err != nil || len(answer.Errors) > 0 || answer.Data == nil {
		s.t.Fatalf("%.60s: %s", document, said)
	}
	return answer.Data
}

func id(kind string) string { return kind + "_" + uuid.Must(uuid.NewV7()).String() }

// dig goes down an answer by names and indices.
func dig(v any, path ...any) any {
	for _, step := range path {
		switch step := step.(type) {
		case string:
			m, _ := v.(map[string]any)
			v = m[step]
		case int:
			list, _ := v.([]any)
			if step >= len(list) {
				return nil
			}
			v = list[step]
		}
	}
	return v
}

func TestAVisitFromPlanToPageThroughTheAPI(t *testing.T) {
	t.Parallel()
	s := setup(t)
	do := func(operation string, input map[string]any) map[string]any {
		t.Helper()
		input["mutation"] = id("mut")
		name, fields, _ := strings.Cut(operation, " ")
		kind := strings.ToUpper(name[:1]) + name[1:]
		return s.send("mutation($input:"+kind+"Input!){"+name+"(input:$input){"+fields+"}}", map[string]any{"input": input})
	}
	vessel, element, spell, job, visit := id("vsl"), id("elm"), id("spl"), id("job"), id("vis")
	do("addVessel vessel{id}", map[string]any{"id": vessel, "name": "Petrel"})
	do("addElement element{id}", map[string]any{"id": element, "vessel": vessel, "kind": "hull", "bootTopMm": 100})
	do("addPlaces ordinals", map[string]any{"element": element, "ids": []string{id("plc")}, "labels": []string{"1/1"}, "sides": []string{"port"}, "along": []int{500}, "down": []int{300}})
	lift := time.Now().UTC().Add(-7 * 24 * time.Hour)
	do("addSpell spell{id held vessel{ashore{days}}}", map[string]any{"id": spell, "vessel": vessel, "timeZone": "Etc/UTC", "actualLift": lift, "held": "props"})
	got := do("addJob job{id number lead{id}}", map[string]any{"id": job, "vessel": vessel, "kind": "limited moisture", "lead": "mem_" + s.actor.Member.String()})
	if n := dig(got, "addJob", "job", "number"); n != time.Now().UTC().Format("2006")+"-001" {
		t.Errorf("the job has number %v", n)
	}
	from := time.Now().UTC().Truncate(time.Hour)
	do("planVisit visit{id conditions{id}}", map[string]any{"id": visit, "job": job, "spell": spell, "kind": "meter visit", "from": from, "to": from.Add(time.Hour), "timeZone": "Etc/UTC", "lead": "mem_" + s.actor.Member.String()})
	cond := do("recordCondition condition{dewPointDecidegrees advice{code}}", map[string]any{"id": id("cnd"), "visit": visit, "at": from, "airDecidegrees": 150, "humidityPermille": 700, "skinPortDecidegrees": 90})
	if dig(cond, "recordCondition", "condition", "dewPointDecidegrees") != 96.0 || dig(cond, "recordCondition", "condition", "advice", 0, "code") != "condensing-port" {
		t.Errorf("conditions: %v", cond)
	}
	find := do("recordFinding finding{kind places}", map[string]any{"id": id("fnd"), "visit": visit, "kind": "blister", "sure": "seen", "places": []int{1}, "measured": map[string]any{"across mm": 4}})
	if dig(find, "recordFinding", "finding", "places", 0) != 1.0 {
		t.Errorf("finding: %v", find)
	}
	do("recordPermission job{permissions{what givenBy}}", map[string]any{"id": id("prm"), "job": job, "what": "scrape", "extent": "one window", "askedOn": "2026-03-01", "givenOn": "2026-03-02", "givenByName": "Wynn Harrow"})
	do("recordWindow window{side}", map[string]any{"id": id("win"), "visit": visit, "element": element, "side": "port", "alongMm": 500, "downMm": 300, "widthMm": 100, "heightMm": 80})
	do("recordPermission job{permissions{what givenBy}}", map[string]any{"id": id("prm"), "job": job, "what": "scrape", "askedOn": "2026-04-01"})
	do("editVisit visit{version}", map[string]any{"id": visit, "version": 1, "note": "in the shed"})
	do("editSpell spell{version}", map[string]any{"id": spell, "version": 1, "washedAt": lift.Add(time.Hour)})
	do("editJob job{version}", map[string]any{"id": job, "version": 1, "stage": "visiting"})
	do("giveAccess job{access{id}}", map[string]any{"job": job, "member": "mem_" + s.actor.Member.String()})

	client := stored(t)
	page := s.send(client["VisitPage"], map[string]any{"id": visit})
	for what, c := range map[string]struct{ got, want any }{
		"days ashore": {dig(page, "visit", "daysAshore"), 7.0}, "window": {dig(page, "visit", "windows", 0, "heightMm"), 80.0},
		"finding": {dig(page, "visit", "findings", 0, "kind"), "blister"}, "spell": {dig(page, "visit", "spell", "held"), "props"}, "job": {dig(page, "visit", "job", "id"), job},
	} {
		if c.got != c.want {
			t.Errorf("visit page, %s: %v, want %v", what, c.got, c.want)
		}
	}
	today := s.send(client["TodayPage"], nil)
	if dig(today, "today", "visits", 0, "id") != visit || dig(today, "today", "inHand", 0, "id") != job || dig(today, "today", "waiting", 0, "what") != "Permission asked, not yet answered: scrape" {
		t.Errorf("today: %v", today["today"])
	}
	jobs := s.send(client["JobsPage"], map[string]any{"open": true, "mine": true})
	if dig(jobs, "jobs", "edges", 0, "node", "id") != job || dig(jobs, "jobs", "pageInfo", "hasNextPage") != false {
		t.Errorf("jobs: %v", jobs)
	}
	if p := s.send(client["JobPage"], map[string]any{"id": job}); dig(p, "job", "visits", 0, "id") != visit || dig(p, "job", "permissions", 0, "what") != "scrape" {
		t.Errorf("job page: %v", p)
	}
	for _, node := range []string{vessel, spell, job, visit} {
		if p := s.send(`query($id:ID!){node(id:$id){id}}`, map[string]any{"id": node}); dig(p, "node", "id") != node {
			t.Errorf("node %s: %v", node, p)
		}
	}
	if p := s.send(`query($id:ID!){visit(id:$id){id} job(id:$id){id}}`, map[string]any{"id": id("vis")}); p["visit"] != nil || p["job"] != nil {
		t.Errorf("what is not there: %v", p)
	}
}
