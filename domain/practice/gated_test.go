package practice_test

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store"
)

// What is said is kept by the number of the record that it was said at. Whatever is edited,
// in whatever order, a service that kept what it said before answers as one that never said
// anything.
func TestWhatIsKeptIsNeverStale(t *testing.T) {
	t.Parallel()
	m := measuring(t)
	first := m.pass(8, 0, nil)
	m.pass(20, 1, nil)
	m.pass(22, 0, nil)
	hand := m.ours.of[domain.Surveyor]
	said := func(s *practice.Service, against *uuid.UUID) string {
		h := must[practice.History](t)(s.History(t.Context(), hand, m.s.vessel, against))
		var out []any
		for _, p := range h.Passes {
			out = append(out, p.Standing, p.Because, p.Lost, plain(p.Gate), p.NotSeen)
		}
		out = append(out, h.Ahead, h.Course)
		return fmt.Sprint(len(h.Components), h.Components[0].Like.S, h.Components[0].Repeatability.S) + asJSON(t, out)
	}
	chance := rand.New(rand.NewPCG(4, 4))
	lowered, day := false, 22
	edits := []func(){
		func() { day++; m.pass(day, chance.NormFloat64(), map[int]float64{2: 9}) },
		func() {
			if lowered {
				must[practice.Done](t)(m.RestoreStanding(t.Context(), hand, practice.RestoreStanding{Mutation: newID(), Pass: first}))
			} else {
				must[practice.Done](t)(m.LowerStanding(t.Context(), hand, practice.LowerStanding{Mutation: newID(), ID: newID(), Pass: first, Standing: practice.Unlike, Reason: "worn pads"}))
			}
			lowered = !lowered
		},
		func() {
			must[practice.Done](t)(m.AddLayer(t.Context(), m.ours.of[domain.Office], practice.AddLayer{Mutation: newID(), Layer: practice.Layer{ID: newID(), ElementID: m.s.element, Kind: "behind", What: "water tank", Side: ptr("port"), Outline: json.RawMessage(`[[0,0],[3000,0],[3000,900],[0,900]]`)}}))
		},
		func() {
			must[practice.Done](t)(m.RecordCondition(t.Context(), hand, practice.RecordCondition{Mutation: newID(), Condition: practice.Condition{
				ID: newID(), VisitID: m.s.visit, At: m.clock.now().Add(time.Duration(chance.IntN(500)) * time.Hour), AirDecidegrees: ptr(int16(chance.IntN(200))), HumidityPermille: ptr[int16](700),
			}}))
		},
		func() {
			kit := practice.RecordRepeatKit{Mutation: newID(), ID: newID(), Instrument: m.s.instrument, Scale: m.s.scale, MadeOn: time.Date(2026, 4, 1, 0, 0, 0, 0, time.UTC), Hands: []uuid.UUID{hand.Member}, Spots: 10, Repeats: 3}
			for range 30 {
				kit.Tenths = append(kit.Tenths, int32(200+chance.IntN(9)))
			}
			must[practice.Done](t)(m.RecordRepeatKit(t.Context(), hand, kit))
		},
	}
	for round := range 14 {
		edits[chance.IntN(len(edits))]()
		var against *uuid.UUID
		if round%3 == 0 {
			against = &first
		}
		said(m.Service, against)                                                                                        // so that it is kept
		anew := must[*store.Store](t)(store.Open(t.Context(), store.Config{URL: m.store.Pool().Config().ConnString()})) // what one was measured by is kept with the store
		fresh := practice.New(anew, practice.WithClock(m.clock.now))
		if before, after := said(m.Service, against), said(fresh, against); before != after {
			anew.Close()
			t.Fatalf("after edit %d what was kept differs from what is worked out anew:\n%s\n%s", round, before, after)
		}
		anew.Close()
	}
}

// plain is a gate without the infinities that JSON cannot hold.
func plain(g *practice.Gate) any {
	if g == nil {
		return nil
	}
	c := *g
	c.VisitShift, c.Gain, c.Hull.Difference, c.Zones = tame(g.VisitShift), tame(g.Gain), tame(g.Hull.Difference), nil
	for _, z := range g.Zones {
		z.Verdict.Difference = tame(z.Verdict.Difference)
		c.Zones = append(c.Zones, z)
	}
	c.Explained = nil
	for _, x := range g.Explained {
		x.Expected = tame(x.Expected)
		c.Explained = append(c.Explained, x)
	}
	return c
}

func tame(b *practice.Band) *practice.Band {
	if b == nil {
		return nil
	}
	end := func(x float64) float64 { return max(-1e9, min(1e9, x)) }
	if math.IsNaN(b.Value) {
		return nil
	}
	return &practice.Band{Value: b.Value, Low: end(b.Low), High: end(b.High)}
}

func asJSON(t *testing.T, v any) string {
	t.Helper()
	raw, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(raw)
}
