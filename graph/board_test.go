package graph_test

import (
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"boottop.example/practice/graph/answer"
	"boottop.example/practice/graph/auth"
)

// byLink asks as somebody with a link and no sign-in.
func (s *service) byLink(link, document string, input map[string]any) (data map[string]any, said string) {
	s.t.Helper()
	body, err := json.Marshal(map[string]any{"query": document, "variables": map[string]any{"input": input}})
	if err != nil {
		s.t.Fatal(err)
	}
	r := httptest.NewRequest(http.MethodPost, "/graphql", strings.NewReader(string(body)))
	r.Header.Set("Content-Type", "application/json")
	r.Header.Set(auth.ShareHeader, link[strings.LastIndex(link, "/")+1:])
	w := httptest.NewRecorder()
	auth.WithShare(s.handler).ServeHTTP(w, r.WithContext(answer.WithSeen(r.Context(), &answer.Seen{ID: "request1"})))
	var got struct{ Data map[string]any }
	if err := json.Unmarshal(w.Body.Bytes(), &got); err != nil {
		s.t.Fatal(err)
	}
	return got.Data, w.Body.String()
}

// An enquiry becomes a job, its visits are proposed, planned and moved, and the yard and
// the client each see their own by link.
func TestBookingThroughTheAPI(t *testing.T) {
	t.Parallel()
	s := setup(t)
	do := func(operation string, input map[string]any) map[string]any {
		t.Helper()
		input["mutation"] = id("mut")
		name, fields, _ := strings.Cut(operation, " ")
		kind := strings.ToUpper(name[:1]) + name[1:]
		return s.send("mutation($input:"+kind+"Input!){"+name+"(input:$input){"+fields+"}}", map[string]any{"input": input})
	}
	me := "mem_" + s.actor.Member.String()
	vessel, yard, client, engagement, terms, job, spell, visit, instrument, move := id("vsl"), id("pty"), id("pty"), id("eng"), id("trm"), id("job"), id("spl"), id("vis"), id("ins"), id("mve")
	do("addVessel vessel{id}", map[string]any{"id": vessel, "name": "Petrel"})
	do("addParty party{id}", map[string]any{"id": yard, "kind": "organisation", "name": "Skerrow yard", "isYard": true})
	do("addParty party{id}", map[string]any{"id": client, "kind": "person", "name": "Ulla Knot"})
	do("addInstrument instrument{id}", map[string]any{"id": instrument, "name": "Skerrow deep No. 2", "kind": "capacitance", "sensing": "deep"})

	got := do("addEnquiry engagement{version missing{code}}", map[string]any{"id": engagement, "askedBy": "Ulla Knot", "kind": "limited moisture"})
	if dig(got, "addEnquiry", "engagement", "missing", 0, "code") != "client" {
		t.Errorf("missing: %v", got)
	}
	do("editEngagement engagement{version}", map[string]any{"id": engagement, "version": 1, "client": client, "vessel": vessel})
	do("decideConflict engagement{version}", map[string]any{"engagement": engagement, "version": 2, "decision": "go on"})
	got = do("setQuote engagement{netMinor taxMinor}", map[string]any{"engagement": engagement, "version": 3, "currency": "EUR", "lines": []any{map[string]any{"text": "Survey", "amountMinor": 60000, "taxPermille": 230}}})
	if dig(got, "setQuote", "engagement", "taxMinor") != 13800.0 {
		t.Errorf("quote: %v", got)
	}
	do("writeTerms terms{id}", map[string]any{"id": terms, "name": "2026-1", "body": "What we look at."})
	until := time.Now().AddDate(0, 0, 14)
	got = do("offerTerms link code", map[string]any{"id": id("tln"), "engagement": engagement, "terms": terms, "name": "Ulla Knot", "email": "ulla@knot.example", "until": until})
	link, code := dig(got, "offerTerms", "link").(string), dig(got, "offerTerms", "code").(string)
	if data, said := s.byLink(link, `{termsOffer{boat termsBody lines{text amountMinor} acceptedAt}}`, nil); dig(data, "termsOffer", "lines", 0, "amountMinor") != 60000.0 {
		t.Errorf("the offer by link: %s", said)
	}
	const accept = `mutation($input:AcceptTermsInput!){acceptTerms(input:$input){offer{acceptedBy}}}`
	if _, said := s.byLink("", accept, map[string]any{"mutation": id("mut"), "code": code, "name": "Ulla Knot"}); !strings.Contains(said, "UNAUTHENTICATED") {
		t.Errorf("without a link: %s", said)
	}
	if _, said := s.byLink(link, accept, map[string]any{"mutation": id("mut"), "code": "WRONG", "name": "Ulla Knot"}); !strings.Contains(said, `"field":"code"`) {
		t.Errorf("with a wrong code: %s", said)
	}
	if data, said := s.byLink(link, accept, map[string]any{"mutation": id("mut"), "code": code, "name": "Ulla Knot"}); dig(data, "acceptTerms", "offer", "acceptedBy") != "Ulla Knot" {
		t.Errorf("with its code: %s", said)
	}
	got = do("bookEngagement job{stage stands{code stops} engagement}", map[string]any{"engagement": engagement, "version": 5, "job": job, "lead": me})
	if dig(got, "bookEngagement", "job", "engagement") != engagement || dig(got, "bookEngagement", "job", "stands", 0, "stops") != "visit" {
		t.Errorf("booked: %v", got)
	}

	do("recordPermission job{permissions{what windows} stands{code}}", map[string]any{"id": id("prm"), "job": job, "what": "lift", "askedOn": "2026-03-01", "givenOn": "2026-03-02", "givenByName": "Wynn Harrow"})
	lift := time.Now().UTC().Truncate(24*time.Hour).AddDate(0, 0, 20).Add(9 * time.Hour)
	do("addSpell spell{id}", map[string]any{"id": spell, "vessel": vessel, "yard": yard, "timeZone": "Etc/UTC", "plannedLift": lift, "plannedLaunch": lift.AddDate(0, 1, 0)})
	got = s.send(`query($job:ID!){proposeVisits(job:$job){spell{id} visits{kind from to reason tag figures}}}`, map[string]any{"job": job})
	if dig(got, "proposeVisits", "spell", "id") != spell || dig(got, "proposeVisits", "visits", 1, "kind") != "meter visit" {
		t.Errorf("proposed: %v", got)
	}
	from := lift.AddDate(0, 0, 1)
	// What stands against it is let pass with a reason, and not without one, by the API as by a form.
	bare := map[string]any{"id": visit, "job": job, "spell": spell, "kind": "meter visit", "from": from, "to": from.Add(time.Hour), "timeZone": "Etc/UTC", "lead": me}
	for _, list := range [][]any{nil, {map[string]any{"code": "tide", "reason": "beside the point"}}} {
		bare["mutation"], bare["overrides"] = id("mut"), list
		if list == nil {
			delete(bare, "overrides")
		}
		body, err := json.Marshal(map[string]any{"query": `mutation($input:PlanVisitInput!){planVisit(input:$input){visit{id}}}`, "variables": map[string]any{"input": bare}})
		if err != nil {
			t.Fatal(err)
		}
		code, said := s.ask(string(body))
		if !strings.Contains(said, `"code":"CONFLICT"`) || !strings.Contains(said, `"field":"overrides"`) || !strings.Contains(said, "give a reason why all the same for each of: waiting-time") {
			t.Errorf("without a reason: %d %s", code, said)
		}
	}
	got = do("planVisit visit{id} checks{code passed}", map[string]any{
		"id": visit, "job": job, "spell": spell, "kind": "meter visit", "from": from, "to": from.Add(time.Hour), "timeZone": "Etc/UTC", "lead": me, "instruments": []string{instrument},
		"overrides": []any{map[string]any{"code": "waiting-time", "reason": "she sails on Friday"}},
	})
	if dig(got, "planVisit", "checks", 0, "code") != "waiting-time" || dig(got, "planVisit", "checks", 0, "passed") != "she sails on Friday" {
		t.Errorf("checks: %v", got)
	}
	plan := s.send(`query($spell:ID!,$lift:Time!){planMove(spell:$spell,newLift:$lift){spell{version} newLaunch conflicts lines{visit{id version} newFrom newTo mustMove}}}`, map[string]any{"spell": spell, "lift": lift.AddDate(0, 0, 9)})
	line := dig(plan, "planMove", "lines", 0)
	if dig(line, "visit", "id") != visit || dig(line, "mustMove") != true || dig(line, "newFrom") != from.AddDate(0, 0, 9).Format(time.RFC3339) {
		t.Errorf("planned move: %v", plan)
	}
	do("applyMove move", map[string]any{
		"id": move, "spell": spell, "version": 1, "newLift": lift.AddDate(0, 0, 9), "newLaunch": dig(plan, "planMove", "newLaunch"),
		"lines": []any{map[string]any{"visit": visit, "version": 1, "from": dig(line, "newFrom"), "to": dig(line, "newTo")}},
	})
	board := func() any {
		return dig(s.send(`query($from:Time!,$to:Time!){board(from:$from,to:$to){timeZone visits{id from people instruments job checks{code}} spells{id yard} surveyors{member{id}} yards{yard{name}}}}`, map[string]any{"from": lift, "to": lift.AddDate(0, 0, 30)}), "board")
	}
	if b := board(); dig(b, "visits", 0, "from") != from.AddDate(0, 0, 9).Format(time.RFC3339) || dig(b, "visits", 0, "people", 0) != me || dig(b, "visits", 0, "instruments", 0) != instrument || dig(b, "spells", 0, "yard") != yard {
		t.Errorf("the board: %v", b)
	}
	do("undoMove spell{plannedLift}", map[string]any{"id": move})
	if b := board(); dig(b, "visits", 0, "from") != from.Format(time.RFC3339) {
		t.Errorf("the board, moved back: %v", b)
	}

	// Who could go, before it is kept; a wash that takes the visit along, and back; the haul-out with all of it.
	got = s.send(`query($job:ID!,$visit:ID,$spell:ID,$from:Time!,$to:Time!){fitVisit(job:$job,visit:$visit,spell:$spell,kind:"meter visit",from:$from,to:$to,timeZone:"Etc/UTC"){hard{code} soft{code passed} surveyors{member{id} hard{code}} instruments{instrument{id} lastTime}}}`,
		map[string]any{"job": job, "visit": visit, "spell": spell, "from": lift.AddDate(0, 0, -1), "to": lift.AddDate(0, 0, -1).Add(time.Hour)})
	if dig(got, "fitVisit", "hard", 0, "code") != "outside" || dig(got, "fitVisit", "surveyors", 0, "member", "id") != me || dig(got, "fitVisit", "instruments", 0, "instrument", "id") != instrument {
		t.Errorf("the fit: %v", got)
	}
	washed := id("mve")
	plan = s.send(`query($spell:ID!,$wash:Time!){planWash(spell:$spell,newWash:$wash){lines{visit{id version} newFrom newTo reason}}}`, map[string]any{"spell": spell, "wash": from.Add(-time.Hour)})
	line = dig(plan, "planWash", "lines", 0)
	do("applyWash move", map[string]any{
		"id": washed, "spell": spell, "newWash": from.Add(-time.Hour),
		"lines": []any{map[string]any{"visit": visit, "version": dig(line, "visit", "version"), "from": dig(line, "newFrom"), "to": dig(line, "newTo")}},
	})
	haulOut := func() any {
		return dig(s.send(`query($spell:ID!){haulOut(spell:$spell){slot{washAt} visits{id from} moves{id what from visits}}}`, map[string]any{"spell": spell}), "haulOut")
	}
	if h := haulOut(); dig(h, "visits", 0, "from") != dig(line, "newFrom") || dig(h, "moves", 0, "what") != "wash" || dig(h, "moves", 0, "visits") != 1.0 {
		t.Errorf("the haul-out: %v", h)
	}
	do("undoMove spell{id}", map[string]any{"id": washed})
	if h := haulOut(); dig(h, "visits", 0, "from") != from.Format(time.RFC3339) || dig(h, "slot", "washAt") != nil {
		t.Errorf("the haul-out, the wash taken back: %v", h)
	}

	do("describeYard version", map[string]any{"yard": yard, "gateCode": "4711", "liftHours": "8 to 16"})
	do("describeSlot spell{id}", map[string]any{"spell": spell, "washAt": lift.Add(time.Hour), "told": "fin keel"})
	got = do("shareYard link", map[string]any{"id": id("yln"), "yard": yard, "name": "Odo Rask", "email": "odo@rask.example", "until": until})
	data, said := s.byLink(dig(got, "shareYard", "link").(string), `{yardSlots{yardName slots{boat lift told}}}`, nil)
	if dig(data, "yardSlots", "slots", 0, "boat") != "Petrel" || strings.Contains(said, "4711") || strings.Contains(said, "Ulla") {
		t.Errorf("the yard's slots: %s", said)
	}
}
