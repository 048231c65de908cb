package change

import (
	"math"

	"boottop.example/practice/domain/measure/repeat"
)

// shares is a variance as multiples of what was measured: Like², s_r², Left² and
// s_R²−s_r², and what is known in squared units. Written so, it keeps its degrees of
// freedom.
type shares struct{ like, rep, left, alike, known float64 }

func (s shares) plus(t shares) shares {
	return shares{s.like + t.like, s.rep + t.rep, s.left + t.left, s.alike + t.alike, s.known + t.known}
}

func (s shares) times(f float64) shares {
	return shares{s.like * f, s.rep * f, s.left * f, s.alike * f, s.known * f}
}

// reading is the variance of half a difference: one reading of k placements.
func (c Components) reading(k int) shares {
	v, _ := repeat.MedianVariance(k)
	return shares{like: 0.5, rep: v - c.LikeRep/2}
}

// total gives the variance and its degrees of freedom by Satterthwaite. It is never
// less than least times s_r², which repeatability alone would leave.
func (c Components) total(s shares, least float64) (variance, df float64) {
	sr := c.Repeatability.S * c.Repeatability.S
	parts := []struct {
		v  float64
		df int
	}{
		{s.like * c.Like.S * c.Like.S, c.Like.DF},
		{s.rep * sr, c.Repeatability.DF},
		{s.left * c.Left.S * c.Left.S, c.Left.DF},
		{s.alike * max(0, c.Reproducible.S*c.Reproducible.S-sr), c.Reproducible.DF},
	}
	variance = s.known
	var spread float64
	for _, p := range parts {
		if p.df > 0 {
			variance += p.v
			spread += p.v * p.v / float64(p.df)
		}
	}
	if floor := least * sr; variance < floor {
		return floor, float64(c.Repeatability.DF)
	}
	if spread == 0 || variance <= 0 {
		return max(0, variance), math.Inf(1)
	}
	return variance, variance * variance / spread
}
