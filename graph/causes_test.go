package graph_test

import (
	"strings"
	"testing"

	"boottop.example/practice/domain"
)

// The worked table of the trade notes, "What two instruments of different depth would
// see", computed there from the same assumptions and printed to two decimals.
func TestTheWorkedTableOfDepthsIsServed(t *testing.T) {
	t.Parallel()
	s, members, theirs := twoPractices(t)
	s.actor = theirs.Actor
	got := s.send(`query($v:ID!){causes(vessel:$v){tag depthTable{days shallow middle deep mean} matters{title entries{cause state}} checks{code outcomes{sign}}}}`,
		map[string]any{"v": "vsl_" + theirs.Of("vessel").String()})
	for k, want := range [][5]float64{{0, 100, 100, 100, 100}, {1, 85, 92, 94, 97}, {7, 68, 80, 86, 91}, {21, 53, 68, 77, 85}, {60, 39, 54, 64, 74}, {240, 22, 33, 40, 49}} {
		for i, field := range []string{"days", "shallow", "middle", "deep", "mean"} {
			x, _ := dig(got, "causes", "depthTable", k, field).(float64)
			if i > 0 {
				x /= 10
			}
			if x < want[i]-1.01 || x > want[i]+1.01 {
				t.Errorf("row %d, %s: %v, the table has %v", k, field, x, want[i])
			}
		}
	}
	if title, _ := dig(got, "causes", "matters", 0, "title").(string); title != "The hull at large" {
		t.Errorf("first comes %q", title)
	}
	if tag, _ := dig(got, "causes", "tag").(string); !strings.Contains(tag, "no data") {
		t.Errorf("the catalogue says of itself %q", tag)
	}
	page := s.send(stored(t)["Causes"], map[string]any{"id": "vsl_" + theirs.Of("vessel").String()})
	if code := dig(page, "causes", "made", 0, "withdrawnReason"); code != "made at another place" {
		t.Errorf("the page shows %v", dig(page, "causes", "made"))
	}
	s.actor = members[domain.Surveyor]
	if hidden := s.send(`query($v:ID!){causes(vessel:$v){seq}}`, map[string]any{"v": "vsl_" + theirs.Of("vessel").String()}); hidden["causes"] != nil {
		t.Errorf("another practice is told %v", hidden)
	}
}
