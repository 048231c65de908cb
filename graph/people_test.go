package graph_test

import (
	"crypto/sha256"
	"strings"
	"testing"

	"boottop.example/practice/domain"
)

// change sends a mutation by its name, with the id of the change given or new.
func (s *service) change(operation string, input map[string]any) map[string]any {
	s.t.Helper()
	if input["mutation"] == nil {
		input["mutation"] = id("mut")
	}
	name, fields, _ := strings.Cut(operation, " ")
	kind := strings.ToUpper(name[:1]) + name[1:]
	answer := s.send("mutation($input:"+kind+"Input!){"+name+"(input:$input){"+fields+"}}", map[string]any{"input": input})
	return answer[name].(map[string]any)
}

func TestMembersThroughTheAPI(t *testing.T) {
	t.Parallel()
	s := setup(t)
	me := "mem_" + s.actor.Member.String()
	inv := id("inv")
	got := s.change("inviteMember invitation{id email name roles expiresAt}", map[string]any{"id": inv, "email": "Sigrid@tern.example", "name": "Sigrid Tern", "roles": []string{"surveyor", "office"}})
	if dig(got, "invitation", "id") != inv || dig(got, "invitation", "email") != "sigrid@tern.example" || dig(got, "invitation", "roles", 1) != "office" {
		t.Errorf("the invitation is answered as %v", got)
	}
	got = s.change("editMember member{id name qualification version}", map[string]any{"id": me, "version": 1, "qualification": "MSc"})
	if dig(got, "member", "qualification") != "MSc" || dig(got, "member", "version") != 2.0 {
		t.Errorf("the member is answered as %v", got)
	}
	key := map[string]any{"mutation": id("mut"), "id": id("key"), "member": me, "name": "weather"}
	got = s.change("createApiKey apiKey{id name member{id name} revokedAt} secret", key)
	secret, _ := got["secret"].(string)
	if !strings.HasPrefix(secret, "btk_") || dig(got, "apiKey", "member", "id") != me {
		t.Errorf("the key is answered as %v", got)
	}
	if who, err := s.store.Door().KeyMember(t.Context(), sha256.Sum256([]byte(secret))); err != nil || who.Member != s.actor.Member {
		t.Errorf("the key opens %+v, %v", who, err)
	}
	if got = s.change("createApiKey apiKey{id} secret", key); got["secret"] != nil || dig(got, "apiKey", "id") != key["id"] {
		t.Errorf("sent again the key is answered as %v", got)
	}
	got = s.change("revokeApiKey apiKey{revokedAt}", map[string]any{"id": key["id"]})
	if dig(got, "apiKey", "revokedAt") == nil {
		t.Errorf("the revoked key is answered as %v", got)
	}
	page := s.send(stored(t)["PeoplePage"], nil)
	if dig(page, "members", "edges", 0, "node", "id") != me || dig(page, "invitations", 0, "id") != inv {
		t.Errorf("the page of people has %v", page)
	}
	if keys := s.send(stored(t)["ApiKeys"], nil); dig(keys, "apiKeys", 0, "member", "name") != "I. Varrow" {
		t.Errorf("the keys are %v", keys)
	}
	s.actor.Roles = []domain.Role{domain.Office}
	if _, said := s.ask(`{"query":"{apiKeys{id}}"}`); !strings.Contains(said, "FORBIDDEN") {
		t.Errorf("the office asks for keys and is told %s", said)
	}
}

func TestPartiesThroughTheAPI(t *testing.T) {
	t.Parallel()
	s := setup(t)
	yard, vessel, job := id("pty"), id("vsl"), id("job")
	s.change("addParty party{id version roles{id} jobs{id}}", map[string]any{"id": yard, "kind": "organisation", "name": "Skerrow Boatyard", "isYard": true, "timeZone": "Europe/Dublin"})
	s.change("addParty party{id}", map[string]any{"id": id("pty"), "kind": "person", "name": "Anna Dunlin", "email": "anna@skerrow.example"})
	got := s.change("editParty party{id version timeZone phone}", map[string]any{"id": yard, "version": 1, "phone": "555 0101", "timeZone": ""})
	if dig(got, "party", "version") != 2.0 || dig(got, "party", "timeZone") != nil || dig(got, "party", "phone") != "555 0101" {
		t.Errorf("the party is answered as %v", got)
	}
	s.change("addVessel vessel{id}", map[string]any{"id": vessel, "name": "Kittiwake"})
	s.change("addJob job{id}", map[string]any{"id": job, "vessel": vessel, "kind": "insurance", "client": yard})
	got = s.change("addPartyRole vessel{id name}", map[string]any{"id": id("ptr"), "party": yard, "vessel": vessel, "job": job, "role": "owner", "from": "2019-05-01"})
	if dig(got, "vessel", "name") != "Kittiwake" {
		t.Errorf("the role is answered as %v", got)
	}
	node := s.send(`query($id:ID!){node(id:$id){... on Party{name roles{role from vessel{id} party{id isYard} job{id number client{name}}} jobs{id vessel{name}}}}}`, map[string]any{"id": yard})
	for path, want := range map[string]any{"role": "owner", "from": "2019-05-01"} {
		if got := dig(node, "node", "roles", 0, path); got != want {
			t.Errorf("the party's role has %s %v, want %v", path, got, want)
		}
	}
	if dig(node, "node", "roles", 0, "job", "client", "name") != "Skerrow Boatyard" || dig(node, "node", "jobs", 0, "id") != job {
		t.Errorf("the party is %v", node)
	}
	people := s.send(`query($id:ID!){vessel(id:$id){people{role party{name}}}}`, map[string]any{"id": vessel})
	if dig(people, "vessel", "people", 0, "party", "name") != "Skerrow Boatyard" {
		t.Errorf("the vessel's people are %v", people)
	}
	first := s.send(`query($after:String){parties(first:1,after:$after,search:"skerrow"){edges{node{name jobs{id}}}pageInfo{hasNextPage endCursor}}}`, nil)
	if dig(first, "parties", "edges", 0, "node", "name") != "Anna Dunlin" || dig(first, "parties", "pageInfo", "hasNextPage") != true {
		t.Errorf("the first page is %v", first)
	}
	second := s.send(`query($after:String){parties(first:1,after:$after,search:"skerrow"){edges{node{name jobs{id}}}pageInfo{hasNextPage}}}`, map[string]any{"after": dig(first, "parties", "pageInfo", "endCursor")})
	if dig(second, "parties", "edges", 0, "node", "jobs", 0, "id") != job || dig(second, "parties", "pageInfo", "hasNextPage") != false {
		t.Errorf("the second page is %v", second)
	}
	yards := s.send(`{parties(yardsOnly:true){edges{node{name}}}}`, nil)
	if dig(yards, "parties", "edges", 0, "node", "name") != "Skerrow Boatyard" || dig(yards, "parties", "edges", 1) != nil {
		t.Errorf("the yards are %v", yards)
	}
}

func TestRecommendationsThroughTheAPI(t *testing.T) {
	t.Parallel()
	s := setup(t)
	vessel, job, rec := id("vsl"), id("job"), id("rec")
	s.change("addVessel vessel{id}", map[string]any{"id": vessel, "name": "Kittiwake"})
	s.change("addJob job{id}", map[string]any{"id": job, "vessel": vessel, "kind": "insurance"})
	got := s.change("addRecommendation recommendation{id grade state states{state}}", map[string]any{"id": rec, "job": job, "grade": "Look further", "sure": "indicated", "readingsOnly": true, "what": "Empty the tank, read again."})
	if dig(got, "recommendation", "grade") != "further" || dig(got, "recommendation", "state") != "draft" {
		t.Errorf("the recommendation is answered as %v", got)
	}
	got = s.change("editRecommendation recommendation{byOn version job}", map[string]any{"id": rec, "version": 1, "byOn": "2026-05-01"})
	if dig(got, "recommendation", "byOn") != "2026-05-01" || dig(got, "recommendation", "version") != 2.0 || dig(got, "recommendation", "job") != job {
		t.Errorf("the recommendation is answered as %v", got)
	}
	if _, err := s.owner.Exec(t.Context(), `update recommendations set state = 'issued'`); err != nil {
		t.Fatal(err)
	}
	s.change("setRecommendationState recommendation{id}", map[string]any{"id": id("sta"), "recommendation": rec, "state": "acknowledged"})
	page := s.send(`query($id:ID!){vessel(id:$id){recommendations{id state states{state by at}} reinspections{id}}}`, map[string]any{"id": vessel})
	if dig(page, "vessel", "recommendations", 0, "state") != "acknowledged" || dig(page, "vessel", "recommendations", 0, "states", 0, "by") != "I. Varrow" || dig(page, "vessel", "reinspections", 0) != nil {
		t.Errorf("the vessel's page has %v", page)
	}
	node := s.send(`query($id:ID!){node(id:$id){... on Recommendation{what states{state}}}}`, map[string]any{"id": rec})
	if dig(node, "node", "what") != "Empty the tank, read again." || dig(node, "node", "states", 0, "state") != "acknowledged" {
		t.Errorf("the recommendation is %v", node)
	}
}
