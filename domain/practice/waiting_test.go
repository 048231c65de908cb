package practice

import (
	"testing"
	"time"

	"github.com/google/uuid"
)

// Whatever is known of a hull, a visit is proposed no sooner than its passes would keep
// their standing: the diary and the standings read one table.
func TestNoVisitIsProposedThatWouldLoseItsStanding(t *testing.T) {
	t.Parallel()
	lift := time.Date(2026, 10, 20, 10, 0, 0, 0, time.UTC)
	spell := DiarySpell{ActualLift: &lift, TimeZone: "Etc/UTC"}
	hull := uuid.New()
	for _, construction := range []string{"", "single skin, ortho", "iso (spray)", "vinyl ester, foam core", "sandwich, end-grain balsa", "tanks isolated"} {
		for _, coating := range []string{"", "antifouling", "epoxy barrier; antifouling", "Barrier coat"} {
			w := Hull{Construction: construction, Coating: coating}.waiting(spell, nil)
			h := History{Layers: draw([]Layer{{ElementID: hull, Kind: "construction", What: construction}, {ElementID: hull, Kind: "coating", What: coating}})}
			read := PassContext{ElementID: hull, LiftedAt: &lift, DatePrecision: "instant", TimeZone: "Etc/UTC", BeganAt: w.begins(spell)}
			if says := h.tooSoon(read); says != "" {
				t.Errorf("%q, %q: proposed from %s (%s), and then: %s", construction, coating, w.begins(spell), w.Code, says)
			}
			if w.Tag == "" || w.Reason == "" || w.Last.hours() < w.First.hours() {
				t.Errorf("%q, %q: %+v", construction, coating, w)
			}
		}
	}
}
