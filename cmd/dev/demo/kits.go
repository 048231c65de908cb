package demo

import (
	"cmp"
	"context"
	"math"
	"math/rand/v2"
	"time"

	"boottop.example/practice/domain/practice"
)

// kit is a morning's measuring of the practice by itself: ten spots of a hull in the
// yard, from the topsides to the garboard, each read three times by each hand.
type kit struct {
	key, meter string
	on         time.Time
	by         string   // who enters it
	hands      []string // who reads
	note       string
}

// crossing is a morning's reading of the same spots with two instruments.
type crossing struct {
	key, first, second string
	on                 time.Time
	by                 string
	spots              int
	apart              float64 // spread of what the two sense differently, units of the second
	matters            int32   // tenths of the second
	note               string
}

// steadiness is how a hand's placements scatter beside the instrument's own, and how
// much higher or lower it presses, scale units. Invented, like the people.
var steadiness = map[string]struct{ scatter, level float64 }{
	"varrow": {0.9, 0.1}, "maddern": {1, -0.2}, "quillan": {1.15, 0.3}, "tolland": {1, 0}, "trainee": {1.7, 0.7}, "aldane": {1, 0},
}

const (
	kitSpots   = 10
	kitRepeats = 3
	tasteApart = 0.3 // people differ a little more at some spots than at others, units
)

func (l *loader) kits() []kit {
	three := []string{"varrow", "maddern", "quillan"}
	return []kit{
		{key: "deep 1 first", meter: "deep 1", on: l.ago(7, 12, "09:30"), by: "tolland", hands: []string{"varrow", "tolland", "quillan"}, note: "Port side of a hull in the shed, topsides to garboard."},
		{key: "deep 2 first", meter: "deep 2", on: l.ago(5, 40, "09:30"), by: "varrow", hands: three, note: "Starboard side of a hull in the shed, topsides to garboard."},
		{key: "shallow 1 first", meter: "shallow 1", on: l.ago(5, 41, "09:30"), by: "varrow", hands: three, note: "The same spots as the day before."},
		{key: "deep 2 again", meter: "deep 2", on: l.ago(1, 25, "09:30"), by: "maddern", hands: append(three, "trainee"), note: "With the trainee, on a hull at Hallow Quay."},
		{key: "shallow 1 again", meter: "shallow 1", on: l.ago(1, 26, "09:30"), by: "maddern", hands: three, note: "Hallow Quay, the same spots."},
		{key: "marram", meter: "marram deep", on: l.ago(2, 15, "10:00"), by: "aldane", hands: []string{"aldane"}, note: "Alone; a second hand is still to be found."},
	}
}

func (l *loader) crosses() []crossing {
	return []crossing{
		{key: "deep pair", first: "deep 1", second: "deep 2", on: l.ago(5, 42, "10:30"), by: "quillan", spots: 18, matters: 50, note: "Two of one model, the same spots within the hour."},
		{key: "deep and shallow", first: "deep 2", second: "shallow 1", on: l.ago(1, 27, "10:30"), by: "maddern", spots: 20, apart: 5.5, matters: 50, note: "They sense to different depths: the hull was three days ashore."},
		{key: "deep and shallow, cut short", first: "deep 1", second: "shallow 1", on: l.ago(4, 9, "15:00"), by: "quillan", spots: 9, apart: 2.5, matters: 50, note: "Rain came on."},
	}
}

// measuring tells how the practices measured themselves.
func (l *loader) measuring(b *book) {
	for _, k := range l.kits() {
		b.at(k.on, "repeat kit "+k.key, func(ctx context.Context) error {
			in := practice.RecordRepeatKit{
				Mutation: mutation(k.on, "kit", k.key), ID: id(k.on, "kit", k.key), Instrument: meterID(l, k.meter), Scale: scaleID(l, k.meter), MadeOn: l.date(k.on),
				Spots: kitSpots, Repeats: kitRepeats, Tenths: k.read(), Note: k.note,
			}
			for _, h := range k.hands {
				in.Hands = append(in.Hands, l.as(h).Member)
			}
			return done(l.RecordRepeatKit(ctx, l.as(k.by), in))
		})
	}
	for _, c := range l.crosses() {
		b.at(c.on, "cross-readings "+c.key, func(ctx context.Context) error {
			first, second := c.read()
			return done(l.RecordCrossReadings(ctx, l.as(c.by), practice.RecordCrossReadings{
				Mutation: mutation(c.on, "cross", c.key), ID: id(c.on, "cross", c.key), FirstScale: scaleID(l, c.first), SecondScale: scaleID(l, c.second), MadeOn: l.date(c.on),
				First: first, Second: second, EffectTenths: c.matters, Note: c.note,
			}))
		})
	}
}

// read makes the readings hand by hand, spot by spot.
func (k kit) read() (tenths []int32) {
	r := rand.New(rand.NewPCG(number("kit", k.key), 1))
	m := meters[k.meter]
	var hull [kitSpots]float64
	for s := range hull {
		hull[s] = m.level(float64(s)/(kitSpots-1)) + 2*r.NormFloat64()
	}
	for _, h := range k.hands {
		hand := steadiness[h]
		for _, at := range hull {
			at += hand.level + tasteApart*r.NormFloat64()
			for range kitRepeats {
				tenths = append(tenths, m.write(at+hand.scatter*m.simulated().Placement*r.NormFloat64()))
			}
		}
	}
	return tenths
}

// read makes both columns of a set.
func (c crossing) read() (first, second []int32) {
	r := rand.New(rand.NewPCG(number("cross", c.key), 1))
	a, b := meters[c.first], meters[c.second]
	for s := range c.spots {
		wet := (float64(s) + r.Float64()) / float64(c.spots)
		first = append(first, a.write(a.level(wet)+a.simulated().Placement*r.NormFloat64()))
		second = append(second, b.write(b.level(wet)+math.Hypot(b.simulated().Placement, c.apart)*r.NormFloat64()))
	}
	return first, second
}

// level is what an instrument reads between topsides (0) and the wettest spot (1) of a
// hull in the yard, scale units.
func (m meter) level(wet float64) float64 {
	s := m.simulated()
	return m.zero + cmp.Or(m.gain, 1)*(s.Bare+s.Full*(0.12+0.8*wet))
}

// write is what the scale shows, tenths, off its ends.
func (m meter) write(units float64) int32 {
	step := float64(m.step)
	tenths := int32(math.Round(units*10/step) * step)
	return min(m.high-m.step, max(m.low+m.step, tenths))
}

// knock makes an instrument read higher from the day on which it fell off a trestle, on
// hulls and on blocks alike: what its block chart is there to show.
func (c calendar) knock(passes []*pass) {
	for _, p := range passes {
		if p.instrument == knocked && p.began.After(c.on(-100, "12:00")) {
			p.zero += 1.8
		}
	}
}

const knocked = "deep 1"
