package demo

import (
	"os"
	"strconv"
	"testing"
	"time"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/baseline"
)

// The scenario is loaded on any day, in any weather: each metered pass must carry a
// baseline whatever the day. DEMO_DAYS tries more of them.
func TestBaselinesOnAnyDayOfTheYear(t *testing.T) {
	t.Parallel()
	days := 4
	if n, err := strconv.Atoi(os.Getenv("DEMO_DAYS")); err == nil {
		days = n
	}
	zone, err := time.LoadLocation(harbourZone)
	if err != nil {
		t.Fatal(err)
	}
	for k := range days {
		now := time.Date(2027, 1, 17+k*365/days, 12, 0, 0, 0, zone)
		for _, of := range append(fleets["ebbstone"], fleets["marram"]...) {
			b := of(newCalendar(now, zone))
			spots := b.spots()
			var passes []*pass
			for n := range b.jobs {
				b.jobs[n].begin()
				for m := range b.jobs[n].visits {
					for p := range b.jobs[n].visits[m].passes {
						passes = append(passes, &b.jobs[n].visits[m].passes[p])
					}
				}
			}
			sheets, err := b.read(spots, passes)
			if err != nil {
				t.Fatal(err)
			}
			for n, sheet := range sheets {
				var dry []baseline.Place
				var under []measure.Value
				for _, x := range sheet.Read {
					v, ok := x.Median()
					if s := spots[x.Place]; ok && x.Occasion == 1 && s.dry {
						dry = append(dry, baseline.Place{Value: v, Side: baseline.Side(sideOf(s.side)), Above: -s.down - b.bootTop})
					} else if ok && x.Occasion == 1 {
						under = append(under, v)
					}
				}
				got, err := baseline.Of(dry, under, baseline.Defaults())
				if err != nil {
					t.Fatal(err)
				}
				if !got.Valid() && !passes[n].level {
					t.Errorf("%s, %s, %s: scatter %.1f, contrast %v", now.Format(time.DateOnly), b.vessel.Name, passes[n].key, got.Scatter, got.Reasons)
				}
			}
		}
	}
}
