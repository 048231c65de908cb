package simulate_test

import (
	"math"
	"testing"
	"time"

	"boottop.example/practice/domain/measure/simulate"
)

// Something damp behind 10 mm: the trade's check piece goes from about 20 to about
// 90 deep-sensing and stays near 10 shallow-sensing (common practice, no source).
func TestThePairSeparatesBehindFromNearTheSurface(t *testing.T) {
	t.Parallel()
	tank := simulate.Area{Side: simulate.Port, Along: simulate.Span{From: 2000, To: 4000}, Down: simulate.Span{From: 300, To: 1200}}
	rise := func(m simulate.Instrument, c simulate.Cause) float64 {
		h := sloop(t)
		before := read(t, h, pass("2021-11-01", m))[0]
		h.Causes = []simulate.Cause{c}
		after := read(t, h, pass("2021-11-01", m))[0]
		inside := func(p simulate.Place) bool {
			return p.Side == simulate.Port && p.Along > 2000 && p.Along < 4000 && p.Down > 300 && p.Down < 1200
		}
		return middle(t, h, after, inside) - middle(t, h, before, inside)
	}
	deep, shallow := simulate.DeepSensing("deep"), simulate.ShallowSensing("shallow")
	if d, s := rise(deep, simulate.TankBehind(tank, 10)), rise(shallow, simulate.TankBehind(tank, 10)); d < 45 || s > 4 {
		t.Errorf("a tank behind lifts deep by %.1f and shallow by %.1f", d, s)
	}
	film := simulate.Condensation(simulate.Everywhere(), day("2021-10-31"), day("2021-11-02"))
	if d, s := rise(deep, film), rise(shallow, film); s < 2*d {
		t.Errorf("condensation lifts deep by %.1f and shallow by %.1f", d, s)
	}
}

func TestAReservoirStaysWhileItsNeighboursDry(t *testing.T) {
	t.Parallel()
	h := sloop(t)
	h.Spells[1].Shelter = &simulate.Shelter{At: 20, Air: 40}
	h.Causes = []simulate.Cause{simulate.Delamination(simulate.Starboard, 3500, 600, 250, 6, day("2020-01-01"))}
	m := simulate.DeepSensing("deep")
	s := read(t, h, pass("2021-10-03", m), pass("2022-02-20", m))
	at := func(side simulate.Side) func(simulate.Place) bool {
		return func(p simulate.Place) bool { return p.Side == side && p.Along == 3500 && p.Down == 600 }
	}
	if gap := middle(t, h, s[1], at(simulate.Starboard)) - middle(t, h, s[1], at(simulate.Port)); gap < 10 {
		t.Errorf("the reservoir stands only %.1f above its mirror place", gap)
	}
	if fell := middle(t, h, s[0], at(simulate.Port)) - middle(t, h, s[1], at(simulate.Port)); fell < 5 {
		t.Errorf("the mirror place fell only by %.1f", fell)
	}
}

func TestWaterBehindALinerFeedsTheWall(t *testing.T) {
	t.Parallel()
	low := simulate.Area{Along: simulate.Span{From: 0, To: 3000}, Down: simulate.Span{From: 900, To: 2000}}
	m := simulate.DeepSensing("deep")
	end := func(causes ...simulate.Cause) float64 {
		h := sloop(t)
		h.Spells[1].Shelter = &simulate.Shelter{At: 20, Air: 40}
		h.Causes = causes
		return middle(t, h, read(t, h, pass("2022-02-20", m))[0], func(p simulate.Place) bool { return p.Along < 3000 && p.Down > 900 })
	}
	c := simulate.BilgeWaterBehind(low, 10, time.Time{})
	c.Strength = 0 // only what it does to the wall
	if fed, free := end(c), end(); fed < free+2 {
		t.Errorf("fed from behind the wall reads %.1f, without %.1f", fed, free)
	}
	residue := simulate.Residue(simulate.Everywhere(), 35, time.Time{})
	if kept, free := end(residue), end(); kept < free+2 {
		t.Errorf("with residue the wall reads %.1f, without %.1f", kept, free)
	}
}

func TestTwoCausesAtOneSpotAddUp(t *testing.T) {
	t.Parallel()
	h, m := sloop(t), simulate.DeepSensing("deep")
	m.High = 1000 // so that no end of the scale hides the sum
	truth := func(causes ...simulate.Cause) float64 {
		h.Causes = causes
		return read(t, h, pass("2021-11-01", m))[0].Read[20].Truth
	}
	tank := simulate.TankBehind(simulate.Everywhere(), 10)
	coat := simulate.ConductiveCoating(simulate.Everywhere(), 25)
	none := truth()
	if a, b, both := truth(tank)-none, truth(coat)-none, truth(tank, coat)-none; a <= 0 || b != 25 || math.Abs(a+b-both) > 1e-9 {
		t.Errorf("%.2f and %.2f make %.2f", a, b, both)
	}
}
