package report

import "testing"

// Few zones are told one by one; many are named once each by where they lie.
func TestZonesAreNamedByWhereTheyLie(t *testing.T) {
	t.Parallel()
	tube := Zone{About: "port 3", Places: 11, By: 7.1, Around: "the rudder stock tube"}
	inlet := Zone{About: "port 10", Places: 7, By: 6.8, Around: "the heads inlet"}
	tank := Zone{About: "port 13", Places: 2, By: 9, Matches: "the water tank"}
	bare := Zone{About: "starboard 8", Places: 1, By: 6.4}
	other := Zone{About: "port 5", Places: 1, By: 6.3}
	for _, c := range []struct {
		zones        []Zone
		areas, where string
	}{
		{nil, "No area is shown to have changed on its own.", "At no place is a change shown."},
		{[]Zone{bare}, "One area has changed: it lies about starboard 8: readings alone name no cause.", "Changed at one place about starboard 8 (+6.4)."},
		{
			[]Zone{tank, inlet, bare},
			"Three areas have changed: one matches the water tank; another lies around the heads inlet; another lies about starboard 8: readings alone name no cause.",
			"Changed at 2 places about port 13 by +9.0, at 7 places about port 10 by +6.8 and at one place about starboard 8 (+6.4).",
		},
		{
			[]Zone{tube, inlet, tube, bare, bare, other, tank},
			"Seven areas have changed: matching the water tank; around the rudder stock tube (2) and the heads inlet; about starboard 8 (2) and port 5: readings alone name no cause.",
			"Changed at 11 places about port 3 by +7.1, at 7 places about port 10 by +6.8, at 11 places about port 3 by +7.1, at 2 places about port 13 by +9.0 and at one place each about starboard 8 (+6.4), starboard 8 (+6.4) and port 5 (+6.3).",
		},
	} {
		if got := AreasChanged(c.zones).Text(); got != c.areas {
			t.Errorf("%d zones: %s", len(c.zones), got)
		}
		if got := ChangedAt(c.zones).Text(); got != c.where {
			t.Errorf("%d zones: %s", len(c.zones), got)
		}
	}
}
