package change

import (
	"fmt"
	"math"
	"slices"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/order"
	"boottop.example/practice/domain/measure/repeat"
)

// What must have been measured before any change is judged. The first is design
// section 3.3; the others are common practice, no source.
const (
	LeastReplacements = repeat.Enough // for s_r
	LeastLike         = 20            // places between like passes, less one a pair
	LeastPairs        = 5             // like pairs, for what the baseline leaves of a visit effect
)

// LikePair is two passes of one hull between which nothing can have changed: the
// same day or week, nothing done to the hull, read anew from finding the places on.
type LikePair struct {
	Differences     []float64 // later less earlier, one a place of the underbody, scale units
	Dry             []float64 // the same at dry places common to both; nil where there are none
	KBefore, KAfter int       // placements whose median each reading is, 1 to 5
}

// Again is a place read twice in one pass, blind: found again, same surface and hour.
type Again struct {
	First, Later float64 // scale units
	K            int     // placements whose median each is
}

// Components are a practice's own measure of what stands between two like passes.
// The zero Components says that nothing was measured.
type Components struct {
	Repeatability repeat.Deviation // s_r of one placement
	Reproducible  repeat.Deviation // s_R of instruments of one model; only for alike standing

	// Like is the standard deviation of a difference between two like passes once the
	// visit effect is out: repeatability, finding the place, place × visit, both passes.
	Like repeat.Deviation
	// Seen are the sizes of the differences between like passes, visit effect out, the
	// largest first. They keep a place from being called changed by a difference that
	// like passes show too, however long the tails of their scatter are: see [Compare].
	Seen []float64
	// LikeRep is what of Like² was repeatability, in units of s_r²: v(k)+v(k′).
	LikeRep float64

	// The breakdown, for advice: what more placements, or better marks, would save.
	Placing    float64 // s of finding the place again; needs blind repeats, else 0
	PlaceVisit float64 // s of place × visit, finding the place included where that was not measured

	// Left is what dry places leave of the visit effect on the underbody; unmeasured
	// below [LeastPairs] like pairs with dry places.
	Left repeat.Deviation

	Notes []measure.Note
}

// Measure estimates the components from re-placements, blind repeats and like pairs.
//
//	sr     s_r, as repeat.OfPlacements gives it
//	blind  blind repeats within a pass; may be empty, then finding the place again
//	       is counted with place × visit, which does no harm to any verdict
//	like   like pairs; each needs at least 2 differences
//
// Like² is the pooled variance of the differences about each pair's mean; the
// components follow by subtraction (ISO 5725-3 in spirit; formulae our own). One that
// comes out negative is zero.
//
// Nothing measured is no error: the result says so and verdicts will be cannot tell.
//
// Errors: *measure.ArgumentError for blind or like.
func Measure(sr repeat.Deviation, blind []Again, like []LikePair) (Components, error) {
	c := Components{Repeatability: sr}
	if err := c.fromLike(like); err != nil {
		return Components{}, err
	}
	if err := c.fromBlind(blind); err != nil {
		return Components{}, err
	}
	if c.Like.Measured() {
		perReading := (c.Like.S*c.Like.S - c.LikeRep*sr.S*sr.S) / 2
		c.PlaceVisit = math.Sqrt(max(0, perReading-c.Placing*c.Placing))
	}
	c.fromPairs(like)
	return c, nil
}

func (c *Components) fromLike(like []LikePair) error {
	var groups [][]float64
	var rep, n float64
	for i, p := range like {
		name := fmt.Sprintf("like[%d]", i)
		v, err := placements(p.KBefore, p.KAfter)
		if err != nil {
			return &measure.ArgumentError{Argument: name, Why: "must be medians of 1 to 5 placements"}
		}
		if len(p.Differences) < 2 {
			return &measure.ArgumentError{Argument: name, Why: "must hold at least 2 differences"}
		}
		if len(p.Dry) > 1000 {
			return &measure.ArgumentError{Argument: name, Why: "must hold at most 1000 dry places"}
		}
		if err := measure.Finite(name+".Differences", p.Differences...); err != nil {
			return err
		}
		if err := measure.Finite(name+".Dry", p.Dry...); err != nil {
			return err
		}
		groups = append(groups, p.Differences)
		w := float64(len(p.Differences) - 1)
		rep, n = rep+v*w, n+w
	}
	if n == 0 {
		return nil
	}
	c.checkTails(groups)
	d, err := repeat.OfPlacements(groups, 0, 0.95)
	d.Estimate.Notes = d.Estimate.Notes[:min(1, len(d.Estimate.Notes))] // its count of re-placements is not meant here
	c.Like, c.LikeRep = d, rep/n
	return err
}

// checkTails keeps the sizes of the differences and notes like pairs whose scatter is not
// normal: by Grubbs' test on each pair, and by the kurtosis of all, whose standard
// error for normal values is √(24/n).
func (c *Components) checkTails(groups [][]float64) {
	stray, n, fourth, square := false, 0.0, 0.0, 0.0
	for _, g := range groups {
		m, _ := order.MomentsOf(g)
		s, err := order.Grubbs(g, order.Both, 0.05/float64(len(groups)))
		stray = stray || err == nil && s.Outlier
		for _, v := range g {
			d := v - m.Mean
			c.Seen = append(c.Seen, math.Abs(d)*math.Sqrt(float64(m.N)/float64(m.N-1)))
			n, square, fourth = n+1, square+d*d, fourth+d*d*d*d
		}
	}
	slices.Sort(c.Seen)
	slices.Reverse(c.Seen)
	if excess := n*fourth/(square*square) - 3; stray || excess > 2*math.Sqrt(24/n) {
		c.Notes = append(c.Notes, measure.Note{
			Code: longTails,
			Text: "Like passes hold differences that ordinary scatter does not explain: it takes a larger change to call a single place changed.",
		})
	}
}

// seen is the size, in units of Like.S, that one of n unchanged places exceeds with
// chance rate at most by the ranks of like differences alone: the k-th largest of N,
// k = rate·(N+1)/n. sure is false where even the largest of them is exceeded more
// often, because they are too few; where their tail is long, it is then carried on.
func (c Components) seen(n int, rate float64) (size float64, sure bool) {
	if len(c.Seen) == 0 || c.Like.S == 0 {
		return 0, false
	}
	rank := rate * float64(len(c.Seen)+1) / float64(n)
	if k := int(rank); k >= 1 {
		return c.Seen[min(k, len(c.Seen))-1] / c.Like.S, true
	}
	if c.longTails() && len(c.Seen) > 3 {
		return c.beyond(rank) / c.Like.S, false
	}
	return c.Seen[0] / c.Like.S, false
}

// beyond gives the size that takes a rank below 1, were the tail of the like differences
// to go on as it began: what exceeds the m-th largest falls off exponentially, by the mean
// excess of the √N largest (peaks over a threshold with a shape of 0: Pickands, Ann. Stat.
// 3 (1975) 119-131, from memory). Longer than the tail of any mixture of normal scatters,
// shorter than that of Student's t: the tests show what that means for false alarms.
func (c Components) beyond(rank float64) float64 {
	m := int(math.Sqrt(float64(len(c.Seen))))
	from := c.Seen[m]
	var excess float64
	for _, s := range c.Seen[:m] {
		excess += (s - from) / float64(m)
	}
	return max(c.Seen[0], from+excess*math.Log(float64(m)/rank))
}

// longTails tells whether like passes held differences that ordinary scatter does not explain.
func (c Components) longTails() bool { return measure.Estimate{Notes: c.Notes}.Has(longTails) }

const longTails = "long-tails"

func (c *Components) fromBlind(blind []Again) error {
	var square, rep float64
	for i, a := range blind {
		v, err := repeat.MedianVariance(a.K)
		if err != nil {
			return &measure.ArgumentError{Argument: fmt.Sprintf("blind[%d].K", i), Why: "must be 1 to 5 placements"}
		}
		if err := measure.Finite(fmt.Sprintf("blind[%d]", i), a.First, a.Later); err != nil {
			return err
		}
		d := a.Later - a.First
		square, rep = square+d*d/2, rep+v
	}
	if len(blind) > 0 {
		n := float64(len(blind))
		c.Placing = math.Sqrt(max(0, square/n-rep/n*c.Repeatability.S*c.Repeatability.S))
	}
	return nil
}

// fromPairs sets what the underbody's mean moved beyond the dry places, over all like
// pairs, against what scatter among places explains.
func (c *Components) fromPairs(like []LikePair) {
	var square, explained float64
	n := 0
	for _, p := range like {
		if len(p.Dry) == 0 {
			continue
		}
		m, _ := order.MomentsOf(p.Differences)
		dry, _ := order.HodgesLehmann(p.Dry, 0.95)
		moved := m.Mean - dry.Value
		square += moved * moved
		explained += c.Like.S * c.Like.S * (1/float64(m.N) + centreVariance/float64(len(p.Dry)))
		n++
	}
	if n < LeastPairs {
		return
	}
	c.Left = repeat.Deviation{S: math.Sqrt(max(0, (square-explained)/float64(n))), DF: n}
}

// centreVariance is the variance of the Hodges-Lehmann centre of n normal values in
// units of σ²/n: π/3 for many (Lehmann 1975 §4.2), a little more for few. The
// tests hold it against simulation for 6 to 20.
const centreVariance = 1.07

// placements gives v(k)+v(k′): repeatability in a difference, in units of s_r².
func placements(before, after int) (float64, error) {
	a, err := repeat.MedianVariance(before)
	if err != nil {
		return 0, err
	}
	b, err := repeat.MedianVariance(after)
	return a + b, err
}

// Missing gives the reasons why nothing can be judged with these components.
func (c Components) Missing(alike bool) []Why {
	var why []Why
	if c.Repeatability.DF < LeastReplacements {
		why = append(why, NoRepeatability)
	}
	if c.Like.DF < LeastLike {
		why = append(why, NoLikePairs)
	}
	if alike && !c.Reproducible.Measured() {
		why = append(why, NoReproducibility)
	}
	return why
}
