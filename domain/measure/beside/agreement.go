package beside

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/order"
)

// Agreement is how far readings of one scale by two instruments, or two people, lie
// apart: Bland & Altman, Lancet i (1986) 307-310.
type Agreement struct {
	Bias         measure.Estimate // mean of x − y
	SD           float64          // of the differences
	Lower, Upper measure.Estimate // limits of agreement, bias ± z·SD, each with its own interval

	// SlopeOnMean is how the difference goes with the mean of both; where its P is
	// below 5 % one pair of limits does not speak for the whole scale, and the note
	// "uneven" is there.
	SlopeOnMean, P float64
	Notes          []measure.Note
}

// Agree gives the limits of agreement. It is for one scale read twice; for two scales
// a difference means nothing: [Cross].
//
//	x, y   readings of the same n ≥ 3 places, one scale
//	level  share of differences between the limits, and coverage of their intervals;
//	       0.95
//
// Intervals of the limits are exact for normal differences: d̄ ± k·s with √n·k the
// quantiles of the non-central t of shift z√n, n−1 degrees of freedom (Owen 1968 for
// quantiles of a normal; from memory, coverage checked by simulation). The usual
// approximation of 1999 covers about 91 % at n = 6.
//
// Errors: *measure.ArgumentError for x, y or level.
func Agree(x, y []float64, level float64) (Agreement, error) {
	if err := check(x, y, 3); err != nil {
		return Agreement{}, err
	}
	if err := measure.Level(level); err != nil {
		return Agreement{}, err
	}
	d, mid := make([]float64, len(x)), make([]float64, len(x))
	for i := range x {
		d[i], mid[i] = x[i]-y[i], x[i]/2+y[i]/2
	}
	bias, err := order.Mean(d, level)
	if err != nil {
		return Agreement{}, err
	}
	m, _ := order.MomentsOf(d)
	a := Agreement{Bias: bias, SD: m.SD}
	n, z := float64(m.N), order.Z((1+level)/2)
	near, far := limitFactors(n, z, level)
	a.Upper = measure.Estimate{Value: m.Mean + z*m.SD, Lower: m.Mean + near*m.SD, Upper: m.Mean + far*m.SD, Level: level, N: m.N}
	a.Lower = measure.Estimate{Value: m.Mean - z*m.SD, Lower: m.Mean - far*m.SD, Upper: m.Mean - near*m.SD, Level: level, N: m.N}
	for _, e := range []*measure.Estimate{&a.Lower, &a.Upper} {
		e.Assumes = []string{"differences about normal, alike over the whole scale"}
	}
	a.judgeSlope(mid, d)
	return a, nil
}

// limitFactors gives k for both ends of the interval of mean + z·sd.
func limitFactors(n, z, level float64) (near, far float64) {
	t := distuv.NoncentralT{Nu: n - 1, Mu: z * math.Sqrt(n)}
	quantile := func(p float64) float64 {
		low, high := -50.0, 2*t.Mu+50
		for t.CDF(high) < p && high < 1e9 {
			high *= 2
		}
		for range 80 {
			if m := (low + high) / 2; t.CDF(m) < p {
				low = m
			} else {
				high = m
			}
		}
		return high / math.Sqrt(n)
	}
	return quantile((1 - level) / 2), quantile((1 + level) / 2)
}

// judgeSlope regresses difference on mean.
func (a *Agreement) judgeSlope(mid, d []float64) {
	a.P = 1
	s := sumsOf(mid, d)
	if s.xx == 0 || s.n < 3 {
		return
	}
	a.SlopeOnMean = s.xy / s.xx
	rest := max(0, s.yy-s.xy*s.xy/s.xx)
	if rest == 0 {
		if s.xy != 0 {
			a.P = 0
		}
	} else {
		t := a.SlopeOnMean / math.Sqrt(rest/(s.n-2)/s.xx)
		a.P = tTail(t, s.n-2)
	}
	if a.P < 0.05 {
		a.Notes = append(a.Notes, measure.Note{
			Code: "uneven",
			Text: "The difference changes along the scale: one pair of limits does not speak for all of it.",
		})
	}
}

// Concordance is how closely pairs of readings of one scale lie to the line y = x: Lin,
// Biometrics 45 (1989) 255-268, with the correction of 2000.
type Concordance struct {
	Estimate measure.Estimate // ρ_c, at most 1; interval by Fisher's z
	Pearson  float64          // correlation, which does not mind another slope or zero
	Scale    float64          // σ_y/σ_x, 1 if the scales run alike
	Location float64          // (ȳ−x̄)/√(σ_x σ_y), 0 if they have one zero
	Bias     float64          // C_b = ρ_c/ρ, 1 if only scatter keeps them apart
}

// Lin gives the concordance of two sets of readings of one scale.
//
//	x, y   readings of the same n ≥ 4 places, one scale; variances with divisor n
//	level  coverage asked for
//
// Below 30 places the interval is too narrow (of 95 % it covers about 90 at n = 6 and
// 93 at n = 12), which the note "approximate" says.
//
// Errors: *measure.ArgumentError for x, y or level, and where either does not vary.
func Lin(x, y []float64, level float64) (Concordance, error) {
	if err := check(x, y, 4); err != nil {
		return Concordance{}, err
	}
	if err := measure.Level(level); err != nil {
		return Concordance{}, err
	}
	s := sumsOf(x, y)
	if s.xx == 0 || s.yy == 0 || s.xy == 0 {
		return Concordance{}, &measure.ArgumentError{Argument: "x", Why: "must vary, and y with it"}
	}
	vx, vy, cov := s.xx/s.n, s.yy/s.n, s.xy/s.n
	c := Concordance{
		Pearson: s.xy / math.Sqrt(s.xx) / math.Sqrt(s.yy), Scale: math.Sqrt(vy / vx),
		Location: (s.my - s.mx) / math.Pow(vx, 0.25) / math.Pow(vy, 0.25),
	}
	p := 2 * cov / (vx + vy + (s.mx-s.my)*(s.mx-s.my))
	c.Bias = p / c.Pearson
	c.Estimate = fisher(p, c, s.n, level)
	return c, nil
}

// fisher: Lin 1989 eq. for the variance of the z-transform, as corrected in 2000.
func fisher(p float64, c Concordance, n, level float64) measure.Estimate {
	e := measure.Estimate{Value: p, Lower: -1, Upper: 1, N: int(n), Assumes: []string{"pairs drawn from one normal distribution of two dimensions"}}
	r, u2 := c.Pearson, c.Location*c.Location
	if n < 30 {
		e.Notes = []measure.Note{{Code: "approximate", Text: "Below 30 places this interval is somewhat too narrow."}}
	}
	v := ((1-r*r)*p*p*(1-p*p)/(r*r) + 2*p*p*p*(1-p)*u2/r - p*p*p*p*u2*u2/(2*r*r)) / (n - 2)
	if math.Abs(p) >= 1-1e-12 || !(v >= 0) {
		e.Notes = []measure.Note{{Code: "no-interval", Text: "The pairs lie too close to the line for an interval."}}
		return e
	}
	half := order.Z((1+level)/2) * math.Sqrt(v) / (1 - p*p)
	e.Lower, e.Upper, e.Level = math.Tanh(math.Atanh(p)-half), math.Tanh(math.Atanh(p)+half), level
	return e
}
