package graph_test

import (
	"testing"
	"time"
)

// A visit from an old paper known to a month, and a place that the paper tells in words.
func TestAnOldPaperThroughTheAPI(t *testing.T) {
	t.Parallel()
	s := setup(t)
	h := s.workedHull(500, []int{0, 0})
	element := dig(s.send(`query($v:ID!){vessel(id:$v){elements{id} plans{id}}}`, map[string]any{"v": h.vessel}), "vessel")
	visit, pass, place := id("vis"), id("pas"), id("plc")
	got := s.change("planVisit visit{from to state datePrecision dateAsWritten daysAshore daysAshoreAsWritten}", map[string]any{
		"id": visit, "job": h.job, "kind": "meter visit", "from": "2011-08-20T12:00:00Z", "to": "2011-08-20T13:00:00Z", "timeZone": "Europe/Dublin",
		"datePrecision": "month", "dateAsWritten": "Aug. '11", "daysAshoreAsWritten": "a fortnight",
	})
	at := func(v any) time.Time {
		text, _ := v.(string)
		at, _ := time.Parse(time.RFC3339, text)
		return at
	}
	v := dig(got, "visit")
	if !at(dig(v, "from")).Equal(time.Date(2011, 7, 31, 23, 0, 0, 0, time.UTC)) || !at(dig(v, "to")).Equal(time.Date(2011, 8, 31, 23, 0, 0, 0, time.UTC)) { // summer time
		t.Errorf("August stands from %v to %v", dig(v, "from"), dig(v, "to"))
	}
	if dig(v, "state") != "done" || dig(v, "datePrecision") != "month" || dig(v, "dateAsWritten") != "Aug. '11" || dig(v, "daysAshore") != nil || dig(v, "daysAshoreAsWritten") != "a fortnight" {
		t.Errorf("the visit is answered as %v", v)
	}
	spell, dated := id("spl"), id("vis")
	s.change("addSpell spell{id}", map[string]any{"id": spell, "vessel": h.vessel, "timeZone": "Etc/UTC", "actualLift": "2012-05-02T09:00:00Z", "actualLaunch": "2012-09-01T09:00:00Z", "datePrecision": "day"})
	between := dig(s.change("planVisit visit{daysAshore ashoreBetween{least most}}", map[string]any{
		"id": dated, "job": h.job, "spell": spell, "kind": "meter visit", "from": "2012-06-20T12:00:00Z", "to": "2012-06-20T13:00:00Z", "timeZone": "Etc/UTC", "datePrecision": "month",
	}), "visit")
	if dig(between, "daysAshore") != nil || dig(between, "ashoreBetween", "least") != 30.0 || dig(between, "ashoreBetween", "most") != 59.0 {
		t.Errorf("a visit of June after a lift on 2 May is answered as %v", between)
	}
	const words = "port side, two metres from the stern, a hand below the waterline"
	s.change("addPlaces ordinals", map[string]any{
		"element": dig(element, "elements", 0, "id"), "ids": []string{place}, "labels": []string{"paper 1"}, "sides": []string{"port"}, "along": []int{2000}, "down": []int{100},
		"errors": []int{450}, "toldAs": []string{words},
	})
	if p := dig(s.send(`query($p:ID!){place(id:$p){toldAs positionErrorMm}}`, map[string]any{"p": place}), "place"); dig(p, "toldAs") != words || dig(p, "positionErrorMm") != 450.0 {
		t.Errorf("the place is answered as %v", p)
	}
	s.change("openPass pass{id}", map[string]any{
		"id": pass, "visit": visit, "element": dig(element, "elements", 0, "id"), "plan": dig(element, "plans", 0, "id"), "source": "typed from paper", "quoted": true,
		"instrumentAsWritten": "a meter", "beganAt": dig(v, "from"),
	})
	s.change("addReadings kept", map[string]any{"pass": pass, "ids": []string{id("rdg")}, "places": []int{17}, "placements": [][]int{{220}}, "takenAt": []int64{at(dig(v, "from")).Unix()}})
	first := dig(s.send(`query($v:ID!){vessel(id:$v){history{passes{id standing datePrecision dateAsWritten daysAshore matched{comparable of withinMm}}}}}`, map[string]any{"v": h.vessel}),
		"vessel", "history", "passes", 0)
	if dig(first, "id") != pass || dig(first, "standing") != "quoted" || dig(first, "datePrecision") != "month" || dig(first, "dateAsWritten") != "Aug. '11" || dig(first, "daysAshore") != nil {
		t.Errorf("the history has %v", first)
	}
	// Station 4, row 1 lies 400 mm away: within 2.4477 times the root of 450 mm and 50 mm squared and added.
	if m := dig(first, "matched"); dig(m, "comparable") != 1.0 || dig(m, "of") != 1.0 || dig(m, "withinMm") != 1108.0 {
		t.Errorf("matched %v", m)
	}
}
