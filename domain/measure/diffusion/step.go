package diffusion

import (
	"math"

	"boottop.example/practice/domain/measure/unit"
)

// Steps within one exposure, in seconds.
const (
	wholeStep = 3600.0
	firstStep = 600.0
	longStep  = unit.SecondsPerDay
	stretch   = 1.03
)

// stepper holds one run's state and the eliminated matrix of its last step.
//
// The matrix is tridiagonal and symmetric. It is eliminated from both ends towards
// the middle cell: the two chains do not wait for each other, which nearly halves
// the time of a step, and a season of hourly weather is 7 200 steps.
type stepper struct {
	*Wall
	level Profile
	cond  []float64 // of each face at the wall's temperature, times the step: m
	ratio []float64 // what a cell hands on towards the middle, and its weight on the way back
	inv   []float64 // reciprocal pivots

	// what the matrix was made for
	dt              float64
	at              unit.Celsius
	outside, inside bool // sealed
	ready           bool

	outer, inner Boundary // of the last exposure
}

func newStepper(w *Wall, start Profile) *stepper {
	n := w.Cells()
	return &stepper{
		Wall: w, level: append(Profile(nil), start...),
		cond: make([]float64, n+1), ratio: make([]float64, n), inv: make([]float64, n),
	}
}

func (s *stepper) expose(e Exposure) {
	left, dt := e.Days.Seconds(), s.pace(e)
	if left <= wholeStep*(1+rounding) {
		dt = left
	}
	for left > 0 {
		if left < dt*1.5 { // rather one step a little long than a sliver
			dt = left
		}
		s.take(dt, e)
		left -= dt
		dt = math.Min(dt*stretch, longStep)
	}
}

// take makes one step of dt seconds, with the matrix of the last one if it still fits.
func (s *stepper) take(dt float64, e Exposure) {
	if !s.ready || dt != s.dt || e.At != s.at || e.Outside.sealed != s.outside || e.Inside.sealed != s.inside {
		s.dt, s.at, s.outside, s.inside, s.ready = dt, e.At, e.Outside.sealed, e.Inside.sealed, true
		s.conduct()
		s.eliminate()
	}
	s.step(e.Outside.level, e.Inside.level)
}

// jump is a change of a face's level that makes the steps start small again.
const jump = 0.1

// pace gives the first step of an exposure: the last one's where its faces meet
// much the same as before, else ten minutes.
func (s *stepper) pace(e Exposure) float64 {
	same := func(a, b Boundary) bool { return a.sealed == b.sealed && math.Abs(a.level-b.level) <= jump }
	calm := s.ready && same(e.Outside, s.outer) && same(e.Inside, s.inner)
	s.outer, s.inner = e.Outside, e.Inside
	if calm {
		return math.Max(s.dt, firstStep)
	}
	return firstStep
}

// step solves (store + cond) level' = store·level + cond·faces. A sealed face has
// no conductance, so its level does not matter.
func (s *stepper) step(outside, inside float64) {
	n := len(s.level)
	m := n / 2
	x, store, ratio, inv := s.level[:n], s.store[:n], s.ratio[:n], s.inv[:n]
	left, right := s.cond[0]*outside, s.cond[n]*inside
	for i, j := 0, n-1; j > m; i, j = i+1, j-1 {
		x[i] = store[i]*x[i] + left
		x[j] = store[j]*x[j] + right
		left, right = ratio[i]*x[i], ratio[j]*x[j]
	}
	if n%2 == 0 && m > 0 { // an even wall leaves one cell more on the left
		x[m-1] = store[m-1]*x[m-1] + left
		left = ratio[m-1] * x[m-1]
	}
	x[m] = (store[m]*x[m] + left + right) * inv[m]
	if n%2 == 0 && m > 0 {
		x[m-1] = inv[m-1]*x[m-1] + ratio[m-1]*x[m]
	}
	for i, j := n-2-m, m+1; j < n; i, j = i-1, j+1 {
		x[i] = inv[i]*x[i] + ratio[i]*x[i+1]
		x[j] = inv[j]*x[j] + ratio[j]*x[j-1]
	}
}

func (s *stepper) eliminate() {
	n := len(s.level)
	m := n / 2
	g, store, ratio, inv := s.cond[:n+1], s.store[:n], s.ratio[:n], s.inv[:n]
	var left, right float64 // what elimination takes from the next pivot
	for i, j := 0, n-1; j > m; i, j = i+1, j-1 {
		inv[i] = 1 / (store[i] + g[i] + g[i+1] - left)
		inv[j] = 1 / (store[j] + g[j] + g[j+1] - right)
		ratio[i], ratio[j] = g[i+1]*inv[i], g[j]*inv[j]
		left, right = g[i+1]*ratio[i], g[j]*ratio[j]
	}
	if n%2 == 0 && m > 0 {
		inv[m-1] = 1 / (store[m-1] + g[m-1] + g[m] - left)
		ratio[m-1] = g[m] * inv[m-1]
		left = g[m] * ratio[m-1]
	}
	inv[m] = 1 / (store[m] + g[m] + g[m+1] - left - right)
}

// conduct fills cond for the step's length, temperature and sealed faces.
func (s *stepper) conduct() {
	n := len(s.level)
	if s.like {
		k := s.dt * arrhenius(s.at, Reference, s.layers[0].ActivationEnergy)
		for i, g := range s.Wall.cond {
			s.cond[i] = k * g
		}
	} else {
		s.conductUnlike()
	}
	if s.outside {
		s.cond[0] = 0
	}
	if s.inside {
		s.cond[n] = 0
	}
}

// conductUnlike is for layers that temperature does not speed alike.
func (s *stepper) conductUnlike() {
	var k [8]float64
	for i, l := range s.layers {
		k[i] = s.dt * arrhenius(s.at, Reference, l.ActivationEnergy)
	}
	n := len(s.level)
	s.cond[0] = k[0] * s.Wall.cond[0]
	for i := 1; i < n; i++ {
		a, b := s.layer[i-1], s.layer[i]
		if a == b {
			s.cond[i] = k[a] * s.Wall.cond[i]
		} else {
			s.cond[i] = 1 / (s.half[i-1]/k[a] + s.half[i]/k[b])
		}
	}
	s.cond[n] = k[s.layer[n-1]] * s.Wall.cond[n]
}
