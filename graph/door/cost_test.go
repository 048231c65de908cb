package door

import (
	"encoding/json"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/vektah/gqlparser/v2"
	"github.com/vektah/gqlparser/v2/ast"
	"github.com/vektah/gqlparser/v2/parser"
	"github.com/vektah/gqlparser/v2/validator"
)

// count gives what a document costs, and how many selections were looked at for it.
func count(t *testing.T, d *Door, document string, variables map[string]any) (cost int, refused *refusal) {
	t.Helper()
	query, err := parser.ParseQuery(&ast.Source{Input: document})
	if err != nil {
		t.Fatal(err)
	}
	if errs := validator.ValidateWithRules(d.schema, query, ruleSet()); len(errs) > 0 {
		t.Fatal(errs)
	}
	c := counter{doc: query, schema: d.schema, variables: variables, memo: map[string]int{}}
	cost = c.operation(query.Operations[0])
	return cost, c.fault
}

func TestCost(t *testing.T) {
	t.Parallel()
	d := forSchema(t)
	for _, c := range []struct {
		name, document string
		variables      map[string]any
		want           int
	}{
		{"a field is one", `{__typename}`, nil, 1},
		{"with its parts", `{viewer{roles practice{name}}}`, nil, 4},
		{"what stands below a page counts as often as its length", `{vessels(first:7){edges{node{id}}}}`, nil, 1 + 7*3},
		{"by a variable", `query($n:Int!){vessels(first:$n){edges{node{id}}}}`, map[string]any{"n": json.Number("7")}, 1 + 7*3},
		{"by the variable's default", `query($n:Int=9){vessels(first:$n){edges{node{id}}}}`, map[string]any{"n": int64(9)}, 1 + 9*3},
		{"by the schema's default, 30", `{vessels{edges{node{id}}}}`, nil, 1 + 30*3},
		{"another list counts five", `{invitations{id email}}`, nil, 1 + 5*2},
		{"a list of plain values is one", `{viewer{may}}`, nil, 2},
		{"a fragment counts at every spread", `{viewer{...R ...R}} fragment R on Viewer{roles may}`, nil, 5},
		{"so does one behind another", `{viewer{...A}} fragment A on Viewer{...B ...B} fragment B on Viewer{roles}`, nil, 3},
		{"inline fragments count all", `{node(id:"x"){... on Vessel{name} ... on Job{number}}}`, nil, 3},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			if got, refused := count(t, d, c.document, c.variables); got != c.want || refused != nil {
				t.Errorf("cost %d (%v), want %d", got, refused, c.want)
			}
		})
	}
	t.Run("products do not run over", func(t *testing.T) {
		t.Parallel()
		d := &Door{schema: gqlparser.MustLoadSchema(&ast.Source{Input: `type Query { all(first: Int): [Query] x: Int }`})}
		deep := strings.Repeat("{x all(first:200)", 14) + "{x}" + strings.Repeat("}", 14)
		if got, refused := count(t, d, deep, nil); got != ceiling || refused != nil {
			t.Errorf("cost %d, want %d", got, ceiling)
		}
	})
}

// TestTheClientsOperationsFit holds every stored operation to the limits that everybody
// else's documents have, at the longest page the client asks for.
func TestTheClientsOperationsFit(t *testing.T) {
	t.Parallel()
	d := forSchema(t)
	raw, err := os.ReadFile("../../web/src/graphql/gen/persisted-documents.json")
	if err != nil {
		t.Fatal(err)
	}
	var documents map[string]string
	if err := json.Unmarshal(raw, &documents); err != nil || len(documents) == 0 {
		t.Fatalf("%d stored operations, %v", len(documents), err)
	}
	for name, text := range documents {
		doc, refused := d.check(text)
		if refused != nil {
			t.Errorf("%s is refused: %v\n%s", name, refused.errors, text)
			continue
		}
		variables := map[string]any{}
		for _, v := range doc.query.Operations[0].VariableDefinitions {
			if v.Type.Name() == "Int" {
				variables[v.Variable] = int64(50)
			}
		}
		cost, fault := count(t, d, text, variables)
		if fault != nil || cost > costMost/2 {
			t.Errorf("%s costs %d (%v), more than half of what is allowed", doc.query.Operations[0].Name, cost, fault)
		}
	}
}

func TestIntrospectionOfOtherToolsFits(t *testing.T) {
	t.Parallel()
	// The query that graphql-js's getIntrospectionQuery writes with all of its options.
	ofType := "kind name"
	for range 9 {
		ofType = "kind name ofType { " + ofType + " }"
	}
	document := fmt.Sprintf(`query IntrospectionQuery { __schema { description queryType { name kind } mutationType { name kind } subscriptionType { name kind } types { ...FullType } directives { name description isRepeatable locations args(includeDeprecated: true) { ...InputValue } } } }
fragment FullType on __Type { kind name description specifiedByURL isOneOf fields(includeDeprecated: true) { name description args(includeDeprecated: true) { ...InputValue } type { ...TypeRef } isDeprecated deprecationReason } inputFields(includeDeprecated: true) { ...InputValue } interfaces { ...TypeRef } enumValues(includeDeprecated: true) { name description isDeprecated deprecationReason } possibleTypes { ...TypeRef } }
fragment InputValue on __InputValue { name description type { ...TypeRef } defaultValue isDeprecated deprecationReason }
fragment TypeRef on __Type { %s }`, ofType)
	d := forSchema(t)
	if _, refused := d.check(document); refused != nil {
		t.Fatalf("refused: %v", refused.errors)
	}
	if cost, _ := count(t, d, document, nil); cost > costMost {
		t.Errorf("costs %d", cost)
	}
}
