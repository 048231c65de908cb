package graph_test

import (
	"fmt"
	"testing"
)

// What the next check costs in minutes, harm and consent; what a surveyor says beside the
// computed lines, by name and reason; and what came of a check, as a client of the API has them.
func TestALedgerIsWorkedOnThroughTheAPI(t *testing.T) {
	t.Parallel()
	s, _, theirs := twoPractices(t)
	s.actor = theirs.Actor
	vessel, visit := "vsl_"+theirs.Of("vessel").String(), "vis_"+theirs.Of("visit").String()
	ask := func() any {
		return dig(s.send(`query($v:ID!){causes(vessel:$v){checks{code minutes harm consent} matters{
			entries{cause state artefact against{sign excludes}} next{check powerHundredths tells} judgements{cause judges reason by} says{claim text}}}}`, map[string]any{"v": vessel}), "causes")
	}
	before := ask()
	kinds := map[any]any{}
	for k := 0; dig(before, "checks", k) != nil; k++ {
		kinds[dig(before, "checks", k, "code")] = dig(before, "checks", k)
	}
	if plug := kinds["plug"]; dig(plug, "minutes") != 45.0 || dig(plug, "harm") != "a hole to make good" || dig(plug, "consent") != "drill or core" {
		t.Errorf("a plug costs %v", plug)
	}
	next := dig(before, "matters", 0, "next", 0)
	if kind := kinds[dig(next, "check")]; kind == nil || number(dig(kind, "minutes")) <= 0 || number(dig(next, "powerHundredths")) <= 0 || dig(next, "tells", 0) == nil {
		t.Errorf("next is %v, a %v", next, kind)
	}
	for _, j := range []map[string]any{
		{"cause": "ordinary-absorption", "judges": "disagrees", "reason": "she was afloat a month only"},
		{"cause": "an old repair", "judges": "adds", "reason": "the colour of the gelcoat"},
	} {
		j["id"], j["visit"] = id("jdg"), visit
		s.change("judgeCause judgement", j)
	}
	s.change("recordCauseCheck check", map[string]any{"id": id("chk"), "visit": visit, "outcome": "inside-nothing", "note": "soles up"})
	after := ask()
	said := map[any]any{}
	for k := 0; dig(after, "matters", 0, "judgements", k) != nil; k++ {
		j := dig(after, "matters", 0, "judgements", k)
		said[dig(j, "cause")] = []any{dig(j, "judges"), dig(j, "reason"), dig(j, "by") != ""}
	}
	if got := fmt.Sprint(said["ordinary-absorption"], said["an old repair"]); got != "[disagrees she was afloat a month only true] [adds the colour of the gelcoat true]" {
		t.Errorf("beside the lines stands %s", got)
	}
	for k := 0; dig(after, "matters", 0, "entries", k) != nil; k++ {
		is, was := dig(after, "matters", 0, "entries", k), dig(before, "matters", 0, "entries", k)
		if dig(is, "cause") == "something-behind" && dig(is, "state") != "excluded" {
			t.Errorf("with nothing inside, what lies behind is %v", dig(is, "state"))
		}
		if state := dig(was, "state"); state == "likely" || state == "confirmed" {
			t.Errorf("%v is %v by readings alone", dig(was, "cause"), state)
		}
	}
}
