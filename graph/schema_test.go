package graph_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/vektah/gqlparser/v2/ast"

	"boottop.example/practice/graph/generated"
)

func schema() *ast.Schema {
	return generated.NewExecutableSchema(generated.Config{}).Schema()
}

// reach collects the names of all types that a selection on a type can come to.
func reach(s *ast.Schema, from string, seen map[string]bool) map[string]bool {
	if seen[from] {
		return seen
	}
	seen[from] = true
	for _, f := range s.Types[from].Fields {
		reach(s, f.Type.Name(), seen)
	}
	for _, t := range s.PossibleTypes[from] {
		reach(s, t.Name, seen)
	}
	return seen
}

// outside collects what the three kinds of link open (a report, an offer, a yard's slots)
// and what an account of reports does.
func outside(s *ast.Schema) map[string]bool {
	seen := map[string]bool{}
	for _, root := range []string{"Outside", "TermsOffer", "YardSlots", "ClientHome", "SendShareCodePayload", "AnswerTaskPayload", "GrantClientPhotoPayload", "WriteToPracticePayload", "PermitSharingPayload", "WithdrawSharingPayload"} {
		reach(s, root, seen)
	}
	return seen
}

// What a client by link resolves has no edge to the practice's own types: no path leads
// across, whatever is asked.
func TestNoPathLeadsFromOutsideIn(t *testing.T) {
	t.Parallel()
	s := schema()
	allowed := []string{
		"Outside", "SharedReport", "ClientBoat", "ClientTask", "SharedAddendum", "TermsOffer", "OfferLine", "YardSlots", "YardSlot",
		"ClientHome", "ClientAddress", "ClientKept", "ClientAnswer", "ClientAnswerKind", "ClientMessage", "ClientPermit",
		"SendShareCodePayload", "AnswerTaskPayload", "GrantClientPhotoPayload", "WriteToPracticePayload", "PermitSharingPayload", "WithdrawSharingPayload",
		"String", "Int", "Boolean", "Date", "Time", "Json", "Sha256",
	}
	reached := outside(s)
	if len(reached) < 6 {
		t.Fatalf("only %d types reached: the walk is broken", len(reached))
	}
	for name := range reached {
		if !slices.Contains(allowed, name) {
			t.Errorf("a client by link can reach %s", name)
		}
	}
	inside := 0
	for name := range reach(s, "Query", map[string]bool{}) {
		if !slices.Contains(allowed, name) {
			inside++
		}
	}
	if inside < 20 {
		t.Errorf("the walk from Query finds %d types of the practice: it is broken", inside)
	}
}

// Ids of the practice's things do not go outside either: no field of type ID.
func TestNothingOutsideCarriesAnId(t *testing.T) {
	t.Parallel()
	s := schema()
	for name := range outside(s) {
		for _, f := range s.Types[name].Fields {
			if f.Type.Name() == "ID" || f.Type.Name() == "IdColumn" {
				t.Errorf("%s.%s is an id", name, f.Name)
			}
		}
	}
}

// One input and one payload a mutation, each input carrying the id of the change.
func TestEveryMutationHasOneInputAndOnePayload(t *testing.T) {
	t.Parallel()
	s := schema()
	for _, f := range s.Mutation.Fields {
		if strings.HasPrefix(f.Name, "__") {
			continue
		}
		title := strings.ToUpper(f.Name[:1]) + f.Name[1:]
		if len(f.Arguments) != 1 || f.Arguments[0].Type.Name() != title+"Input" || f.Type.Name() != title+"Payload" {
			t.Errorf("%s does not take %sInput and answer %sPayload", f.Name, title, title)
			continue
		}
		if id := s.Types[title+"Input"].Fields.ForName("mutation"); id == nil || id.Type.String() != "ID!" {
			t.Errorf("%sInput does not carry the id of the change", title)
		}
	}
}

// What outsiders send names nothing of the practice by an id either: a change's own id, and
// the id of a photo, which is held to the link that it was granted to (see
// TestAClientsPhotoIsOneThatWasGranted). A report in an account goes by a key of that account.
func TestOutsidersNameNothingByItsId(t *testing.T) {
	t.Parallel()
	s := schema()
	held := map[string]bool{"GrantClientPhotoInput.id": true, "AnswerTaskInput.upload": true}
	inputs := 0
	for _, f := range s.Mutation.Fields {
		if !outside(s)[f.Type.Name()] && f.Name != "acceptTerms" {
			continue
		}
		inputs++
		for _, field := range s.Types[f.Arguments[0].Type.Name()].Fields {
			kind := s.Types[field.Type.Name()].Kind
			if name := f.Arguments[0].Type.Name() + "." + field.Name; field.Name != "mutation" && !held[name] && (field.Type.Name() == "ID" || field.Type.Name() == "IdColumn" || kind == ast.InputObject) {
				t.Errorf("%s lets an outsider name anything", name)
			}
		}
	}
	if inputs < 7 {
		t.Errorf("only %d mutations are open to outsiders: the walk is broken", inputs)
	}
	for _, f := range s.Query.Fields {
		if allowed := []string{"outside", "termsOffer", "yardSlots", "clientHome"}; slices.Contains(allowed, f.Name) && len(f.Arguments) > 0 {
			t.Errorf("%s takes %d arguments from an outsider", f.Name, len(f.Arguments))
		}
	}
}
