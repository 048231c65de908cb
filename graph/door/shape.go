package door

import (
	"fmt"
	"strings"

	"github.com/vektah/gqlparser/v2/ast"

	"boottop.example/practice/graph/strict"
)

// shape measures a document before anything is validated, in time linear in its text:
// each fragment is walked once and its size remembered.
type shape struct {
	doc *ast.QueryDocument

	fields, aliases, directives int
	introspects, unclean        bool
	repeated, circling          bool
	looks                       int // at the schema as a whole

	memo    map[string]size
	walking map[string]bool
}

// size is what a selection comes to once every spread is followed.
type size struct {
	depth, selections int

	lists    byte // of the schema's own lists, those that stand in it
	circling bool // one of them stands inside itself
}

func (z *size) add(part size) {
	z.depth = max(z.depth, part.depth)
	z.selections = min(z.selections+part.selections, 10*expandedMost)
	z.lists |= part.lists
	z.circling = z.circling || part.circling
}

// schemaLists are what a look at the schema has in plenty. One inside itself (the fields of
// the types of the fields …) multiplies a thousand types with each level.
var schemaLists = map[string]byte{
	"types": 1, "fields": 2, "args": 4, "inputFields": 8, "possibleTypes": 16, "interfaces": 32, "enumValues": 64, "directives": 128,
}

// measure gives the one sentence for what there is too much of; empty where all is well.
func (s *shape) measure() string {
	s.walking = map[string]bool{}
	var deepest, most, roots, variables int
	for _, op := range s.doc.Operations {
		s.note(op.Directives)
		for _, v := range op.VariableDefinitions {
			s.note(v.Directives)
			s.value(v.DefaultValue)
		}
		all := s.selection(op.SelectionSet)
		deepest, most, variables = max(deepest, all.depth), max(most, all.selections), max(variables, len(op.VariableDefinitions))
		if op.Operation == ast.Mutation {
			roots = max(roots, len(op.SelectionSet))
		}
	}
	for _, f := range s.doc.Fragments { // those nobody spreads count too
		s.fragment(f)
	}
	for _, rule := range []struct {
		is, most int
		of       string
	}{
		{len(s.doc.Operations), operationsMost, "operations"},
		{len(s.doc.Fragments), fragmentsMost, "fragments"},
		{variables, variablesMost, "variables"},
		{s.fields, fieldsMost, "fields"},
		{s.aliases, aliasesMost, "aliases"},
		{s.directives, directivesMost, "directives"},
		{deepest, depthMost, "levels"},
		{most, expandedMost, "fields once its fragments are followed"},
		{roots, mutationsMost, "mutations"},
	} {
		if rule.is > rule.most {
			return fmt.Sprintf("A document has at most %d %s.", rule.most, rule.of)
		}
	}
	switch {
	case s.looks > 1:
		return "A document asks for the whole schema once."
	case s.circling:
		return "A look at the schema asks for none of its lists inside that same list."
	case s.repeated:
		return fmt.Sprintf("A selection names the same field at most %d times.", sameMost)
	case s.unclean:
		return "A text in the document holds control characters, or such as turn the direction of writing round."
	}
	return ""
}

func (s *shape) selection(set ast.SelectionSet) size {
	return s.within(set, "", map[string]int{})
}

// within measures a selection, or an inline fragment as part of the selection it stands in:
// on is the type that the fragment is for.
func (s *shape) within(set ast.SelectionSet, on string, same map[string]int) size {
	var all size
	for _, one := range set {
		var part size
		switch one := one.(type) {
		case *ast.Field:
			part = s.field(one)
			if same[on+" "+one.Alias]++; same[on+" "+one.Alias] > sameMost {
				s.repeated = true
			}
		case *ast.InlineFragment:
			s.note(one.Directives)
			on := on
			if one.TypeCondition != "" {
				on = one.TypeCondition
			}
			part = s.within(one.SelectionSet, on, same)
		case *ast.FragmentSpread:
			s.note(one.Directives)
			if f := s.doc.Fragments.ForName(one.Name); f != nil {
				part = s.fragment(f)
			}
		}
		all.add(part)
	}
	return all
}

func (s *shape) field(f *ast.Field) size {
	s.fields++
	if f.Alias != f.Name {
		s.aliases++
	}
	s.note(f.Directives)
	for _, a := range f.Arguments {
		s.value(a.Value)
	}
	part := s.selection(f.SelectionSet)
	part.depth++
	part.selections++
	list := schemaLists[f.Name]
	part.circling = part.circling || part.lists&list != 0
	part.lists |= list
	if f.Name == "__schema" || f.Name == "__type" {
		s.introspects = true
		s.circling = s.circling || part.circling
	}
	if f.Name == "__schema" {
		s.looks++
	}
	return part
}

// fragment measures one once. A cycle counts as nothing here; validation names it.
func (s *shape) fragment(f *ast.FragmentDefinition) size {
	if known, done := s.memo[f.Name]; done || s.walking[f.Name] {
		return known
	}
	s.walking[f.Name] = true
	s.note(f.Directives)
	part := s.selection(f.SelectionSet)
	part.selections++
	s.memo[f.Name] = part
	return part
}

func (s *shape) note(list ast.DirectiveList) {
	s.directives += len(list)
	for _, d := range list {
		for _, a := range d.Arguments {
			s.value(a.Value)
		}
	}
}

// value holds literals to what variables are held to.
func (s *shape) value(v *ast.Value) {
	if v == nil {
		return
	}
	if (v.Kind == ast.StringValue || v.Kind == ast.BlockValue) && !(strict.Clean(v.Raw) && strings.ToValidUTF8(v.Raw, "") == v.Raw) {
		s.unclean = true
	}
	for _, child := range v.Children {
		s.value(child.Value)
	}
}
