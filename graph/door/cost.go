package door

import (
	"encoding/json"
	"fmt"
	"strconv"

	"github.com/vektah/gqlparser/v2/ast"
)

// counter counts what an operation may cost: each field is one; what stands below a
// connection's field counts as often as `first` says, and what stands below another list
// listCosts times, which is a guess at its length. A fragment is counted once and its
// count used at every spread, because following each spread again is what an attacker
// would make us do: gqlgen's own count takes two seconds over a kilobyte of fragments.
type counter struct {
	doc       *ast.QueryDocument
	schema    *ast.Schema
	variables map[string]any
	memo      map[string]int
	fault     *refusal
}

// ceiling keeps sums from running over; every count beyond is the same refusal.
const ceiling = 1 << 30

func (c *counter) operation(op *ast.OperationDefinition) int { return c.selection(op.SelectionSet) }

func (c *counter) selection(set ast.SelectionSet) int {
	total := 0
	for _, one := range set {
		switch one := one.(type) {
		case *ast.Field:
			total += c.field(one)
		case *ast.InlineFragment:
			total += c.selection(one.SelectionSet)
		case *ast.FragmentSpread:
			total += c.fragment(one)
		}
		total = min(total, ceiling)
	}
	return total
}

func (c *counter) fragment(spread *ast.FragmentSpread) int {
	if known, done := c.memo[spread.Name]; done {
		return known
	}
	n := c.selection(spread.Definition.SelectionSet)
	c.memo[spread.Name] = n
	return n
}

func (c *counter) field(f *ast.Field) int {
	below := c.selection(f.SelectionSet)
	times := 1
	switch first, paged := c.first(f); {
	case paged:
		times = first
	case f.Definition != nil && f.Definition.Type.Elem != nil && f.Definition.Name != "edges" && len(f.SelectionSet) > 0:
		times = listCosts
	}
	return min(1+times*below, ceiling)
}

// first reads how long a page is asked for, and refuses what is no length of a page.
func (c *counter) first(f *ast.Field) (n int, paged bool) {
	if f.Definition == nil || f.Definition.Arguments.ForName("first") == nil {
		return 0, false
	}
	args := f.ArgumentMap(c.variables)
	n, ok := number(args["first"])
	if !ok || n < 1 || n > firstMost {
		if c.fault == nil {
			c.fault = unprocessable("first", fmt.Sprintf("A page has between 1 and %d entries.", firstMost))
			c.fault.errors[0].Locations = at(f.Position)
		}
		return 1, true
	}
	return n, true
}

// number reads an Int as the library hands it on; all of these have been seen.
func number(v any) (int, bool) {
	switch v := v.(type) {
	case int:
		return v, true
	case int32:
		return int(v), true
	case int64:
		return int(min(max(v, -1), ceiling)), true
	case float64:
		return int(min(max(v, -1), ceiling)), v == float64(int(min(max(v, -1), ceiling)))
	case json.Number:
		n, err := strconv.Atoi(v.String())
		return n, err == nil
	case string:
		n, err := strconv.Atoi(v)
		return n, err == nil
	}
	return 0, false
}
