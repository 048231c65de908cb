package course_test

import (
	"math"
	"testing"

	"boottop.example/practice/domain/measure/course"
	"boottop.example/practice/domain/measure/internal/check"
)

// NIST/ITL Statistical Reference Datasets, nonlinear regression, certified to eleven
// digits (testdata/measure/02-nonlinear-strd.json).
type strd struct {
	Datasets map[string]struct {
		Params []struct {
			Start1, Start2, Certified float64
			SD                        float64 `json:"certified_sd"`
		}
		RSS  float64 `json:"residual_sum_of_squares"`
		SD   float64 `json:"residual_sd"`
		X, Y []float64
	}
}

func exponentials(p []float64, x float64) float64 {
	s := 0.0
	for i := 0; i < len(p); i += 2 {
		s += p[i] * math.Exp(-p[i+1]*x)
	}
	return s
}

func exponentialSlopes(p []float64, x float64, g []float64) {
	for i := 0; i < len(p); i += 2 {
		e := math.Exp(-p[i+1] * x)
		g[i], g[i+1] = e, -p[i]*x*e
	}
}

func strdCurves() map[string]course.Curve {
	uptake := course.Curve{
		Parameters: 2,
		At:         func(p []float64, x float64) float64 { return p[0] * -math.Expm1(-p[1]*x) },
		Slope: func(p []float64, x float64, g []float64) {
			g[0], g[1] = -math.Expm1(-p[1]*x), p[0]*x*math.Exp(-p[1]*x)
		},
	}
	return map[string]course.Curve{
		"Misra1a": uptake,
		"BoxBOD":  uptake,
		"Chwirut2": {
			Parameters: 3,
			At:         func(p []float64, x float64) float64 { return math.Exp(-p[0]*x) / (p[1] + p[2]*x) },
			Slope: func(p []float64, x float64, g []float64) {
				d := p[1] + p[2]*x
				v := math.Exp(-p[0]*x) / d
				g[0], g[1], g[2] = -x*v, -v/d, -x*v/d
			},
		},
		"Lanczos3": {Parameters: 6, At: exponentials, Slope: exponentialSlopes},
		"MGH17": {
			Parameters: 5,
			At: func(p []float64, x float64) float64 {
				return p[0] + p[1]*math.Exp(-x*p[3]) + p[2]*math.Exp(-x*p[4])
			},
			Slope: func(p []float64, x float64, g []float64) {
				e1, e2 := math.Exp(-x*p[3]), math.Exp(-x*p[4])
				g[0], g[1], g[2], g[3], g[4] = 1, e1, e2, -x*p[1]*e1, -x*p[2]*e2
			},
		},
		"MGH10": {
			Parameters: 3,
			At:         func(p []float64, x float64) float64 { return p[0] * math.Exp(p[1]/(x+p[2])) },
			Slope: func(p []float64, x float64, g []float64) {
				d := x + p[2]
				e := math.Exp(p[1] / d)
				g[0], g[1], g[2] = e, p[0]*e/d, -p[0]*e*p[1]/(d*d)
			},
		},
	}
}

func TestFitReachesTheCertifiedValuesFromBothStarts(t *testing.T) {
	t.Parallel()
	var ref strd
	check.Load(t, "02-nonlinear-strd.json", &ref)
	for name, curve := range strdCurves() {
		d := ref.Datasets[name]
		if len(d.X) == 0 {
			t.Fatalf("%s is not in the file", name)
		}
		for which := range 2 {
			start := make([]float64, len(d.Params))
			for i, p := range d.Params {
				start[i] = []float64{p.Start1, p.Start2}[which]
			}
			got, err := course.Fit(curve, d.X, d.Y, start)
			if err != nil {
				t.Errorf("%s from start %d: %v", name, which+1, err)
				continue
			}
			for i, p := range d.Params {
				check.Digits(t, name, got.P[i], p.Certified, 7)
				check.Digits(t, name+" standard error", got.SE[i], p.SD, 6)
			}
			check.Digits(t, name+" residual sum of squares", got.RSS, d.RSS, 7)
			t.Logf("%s from start %d: %d evaluations", name, which+1, got.Evaluations)
		}
	}
}
