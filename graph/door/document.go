package door

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strings"
	"sync"

	"github.com/99designs/gqlgen/graphql"
	"github.com/vektah/gqlparser/v2/ast"
	"github.com/vektah/gqlparser/v2/gqlerror"
	"github.com/vektah/gqlparser/v2/parser"
	"github.com/vektah/gqlparser/v2/validator"
	"github.com/vektah/gqlparser/v2/validator/rules"

	"boottop.example/practice/domain"
)

// document is one that has passed every check that does not need its variables.
type document struct {
	text        string
	name        string // for log and metrics: a stored operation's, or "free"
	query       *ast.QueryDocument
	introspects bool
}

func hashOf(text string) string {
	sum := sha256.Sum256([]byte(text))
	return hex.EncodeToString(sum[:])
}

// store checks a stored operation once. Its name in the manifest must be its hash.
func (d *Door) store(name, text string) {
	hash := hashOf(text)
	doc, refused := d.check(text)
	if refused != nil || name != "" && strings.TrimPrefix(name, "sha256:") != hash {
		d.leftovers = append(d.leftovers, name)
		return
	}
	if _, twice := d.stored[hash]; twice {
		return
	}
	if len(doc.query.Operations) == 1 {
		doc.name = doc.query.Operations[0].Name
	}
	if doc.name == "" {
		doc.name = "health"
	}
	d.stored[hash] = doc
}

// find gives the document of a request. Where free documents are not allowed, text counts
// only if it is that of a stored one.
func (d *Door) find(in *request, free bool) (*document, *refusal) {
	hash := in.hash
	if in.query != "" {
		hash = hashOf(in.query)
		if in.hash != "" && in.hash != hash {
			return nil, malformed("extensions", "The hash is not that of the document beside it.")
		}
	}
	if doc, known := d.stored[hash]; known {
		return doc, nil
	}
	switch {
	case in.query == "":
		r := malformed("", "This operation is not known here. If a page sent it, load the page again.")
		r.errors[0].Extensions["code"] = "PERSISTED_QUERY_NOT_FOUND"
		return nil, r
	case !free:
		return nil, malformed("query", "Only the stored operations of the page are answered here. A program uses an API key.")
	}
	if doc := d.free.get(hash); doc != nil {
		return doc, nil
	}
	doc, refused := d.check(in.query)
	if refused != nil {
		return nil, refused
	}
	d.free.put(hash, doc)
	return doc, nil
}

// check reads a document and validates it, cheapest first.
func (d *Door) check(text string) (*document, *refusal) {
	query, err := parser.ParseQueryWithTokenLimit(&ast.Source{Input: text}, tokensMost)
	if err != nil {
		return nil, unreadable(syntax(err))
	}
	if len(query.Operations) == 0 {
		return nil, unreadable(says(domain.Invalid.Code(), "query", "The document holds no operation."))
	}
	s := shape{doc: query, memo: map[string]size{}}
	if too := s.measure(); too != "" {
		return nil, unreadable(says(domain.Invalid.Code(), "query", too))
	}
	if errs := validator.ValidateWithRules(d.schema, query, ruleSet()); len(errs) > 0 {
		return nil, misfit(errs)
	}
	return &document{text: text, name: "free", query: query, introspects: s.introspects}, nil
}

// ruleSet is the standard's rules, without those variants that search the schema for
// names like the misspelt one.
func ruleSet() *rules.Rules {
	set := rules.NewDefaultRules()
	set.ReplaceRule(rules.FieldsOnCorrectTypeRule.Name, rules.FieldsOnCorrectTypeRuleWithoutSuggestions.RuleFunc)
	set.ReplaceRule(rules.KnownArgumentNamesRule.Name, rules.KnownArgumentNamesRuleWithoutSuggestions.RuleFunc)
	set.ReplaceRule(rules.KnownTypeNamesRule.Name, rules.KnownTypeNamesRuleWithoutSuggestions.RuleFunc)
	set.ReplaceRule(rules.ScalarLeafsRule.Name, rules.ScalarLeafsRuleWithoutSuggestions.RuleFunc)
	set.ReplaceRule(rules.ValuesOfCorrectTypeRule.Name, rules.ValuesOfCorrectTypeRuleWithoutSuggestions.RuleFunc)
	return set
}

// syntax says where a document cannot be read. The parser's own words quote the document.
func syntax(err error) *gqlerror.Error {
	said := says(domain.Invalid.Code(), "query", "The document has a syntax error here.")
	found, ok := err.(*gqlerror.Error)
	switch {
	case !ok:
	case strings.HasPrefix(found.Message, "exceeded token limit"):
		said.Message = fmt.Sprintf("A document has at most %d tokens.", tokensMost)
	case strings.HasPrefix(found.Message, "exceeded maximum nesting"):
		said.Message = "The document is nested too deep."
	default:
		said.Locations = found.Locations
	}
	return said
}

// misfit says where a document does not fit the schema, each kind of fault once.
func misfit(errs gqlerror.List) *refusal {
	out := &refusal{status: 422}
	said := map[string]bool{}
	for _, e := range errs {
		if said[e.Rule] {
			continue
		}
		said[e.Rule] = true
		text := sentences[strings.TrimSuffix(e.Rule, "WithoutSuggestions")]
		if text == "" {
			text = "The document breaks the rule " + e.Rule + "."
		}
		one := says(domain.Invalid.Code(), "query", text)
		one.Locations = e.Locations[:min(1, len(e.Locations))]
		out.errors = append(out.errors, one)
	}
	return out
}

// sentences says each rule of the standard in words that hold nothing of the document.
var sentences = map[string]string{
	"FieldsOnCorrectType":          "A field is asked for that its type does not have.",
	"FragmentsOnCompositeTypes":    "A fragment is on a type that has no fields.",
	"KnownArgumentNames":           "An argument is given that its field does not take.",
	"KnownDirectives":              "A directive is not known, or may not stand here.",
	"KnownFragmentNames":           "A fragment is used that the document does not hold.",
	"KnownRootType":                "The schema has no operations of this kind.",
	"KnownTypeNames":               "A type is named that the schema does not have.",
	"LoneAnonymousOperation":       "An operation without a name must be the only one.",
	"MaxIntrospectionDepth":        "The introspection goes too deep.",
	"NoFragmentCycles":             "A fragment uses itself.",
	"NoUndefinedVariables":         "A variable is used that the operation does not define.",
	"NoUnusedFragments":            "A fragment is never used.",
	"NoUnusedVariables":            "A variable is never used.",
	"OverlappingFieldsCanBeMerged": "Two fields with the same name in the answer are not the same: give one an alias.",
	"PossibleFragmentSpreads":      "A fragment stands where its type can never be.",
	"ProvidedRequiredArguments":    "An argument that is needed is missing.",
	"ScalarLeafs":                  "A field with parts must say which; a field without parts must not.",
	"UniqueArgumentNames":          "An argument is given twice.",
	"UniqueDirectivesPerLocation":  "A directive stands twice in one place.",
	"UniqueFragmentNames":          "Two fragments have the same name.",
	"UniqueInputFieldNames":        "A field of an input is given twice.",
	"UniqueOperationNames":         "Two operations have the same name.",
	"UniqueVariableNames":          "Two variables have the same name.",
	"ValuesOfCorrectType":          "A value is not of the kind that is asked for here.",
	"VariablesAreInputTypes":       "A variable has a type that is no input.",
	"VariablesInAllowedPosition":   "A variable stands where its type does not fit.",
}

// badVariable names the variable's field that does not fit. The validator's path begins
// with "variable" and may end in a name of the caller's.
func (d *Door) badVariable(e *gqlerror.Error) *refusal {
	var path []string
	for _, step := range e.Path {
		switch step := step.(type) {
		case ast.PathName:
			path = append(path, string(step))
		case ast.PathIndex:
			path = append(path, fmt.Sprint(int(step)))
		}
	}
	if len(path) > 0 {
		path = path[1:]
	}
	text := "A variable is not of the kind that the operation asks for."
	switch {
	case e.Message == "must be defined", e.Message == "cannot be null":
		text = "This is needed and was left out."
	case e.Message == "unknown field":
		text, path = "An input holds a field that is not known here.", path[:max(0, len(path)-1)]
	}
	r := unprocessable("", text)
	r.path = path
	return r
}

// kept holds free documents that passed, for programs that send the same ones again.
// Only callers who may send free documents fill it, and it never grows past its limit.
type kept struct {
	mu   sync.Mutex
	docs map[string]*document
}

const keptMost = 256

func newKept() *kept { return &kept{docs: map[string]*document{}} }

func (k *kept) get(hash string) *document {
	k.mu.Lock()
	defer k.mu.Unlock()
	return k.docs[hash]
}

func (k *kept) put(hash string, d *document) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if len(k.docs) >= keptMost {
		clear(k.docs)
	}
	k.docs[hash] = d
}

type documentKey struct{}

func withDocument(ctx context.Context, d *document) context.Context {
	return context.WithValue(ctx, documentKey{}, d)
}

// fromContext hands gqlgen the document that was checked here, as its cache of documents.
type fromContext struct{}

var _ graphql.Cache[*ast.QueryDocument] = fromContext{}

func (fromContext) Get(ctx context.Context, _ string) (*ast.QueryDocument, bool) {
	d, ok := ctx.Value(documentKey{}).(*document)
	if !ok {
		return nil, false
	}
	return d.query, true
}

func (fromContext) Add(context.Context, string, *ast.QueryDocument) {}
