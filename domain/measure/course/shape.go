package course

import "math"

// Shape is a family of drying curves y = a + b·g(t/θ).
type Shape string

// The shapes. A wall that dries by diffusion falls with √t early and exponentially
// late; Slab does both, the other two are its ends. Crank 1975 §4.3.
const (
	// RootTime is a − b·√t: the early course, which has no plateau and no time constant.
	RootTime Shape = "root-time"
	// Slab is a + b·M(t/θ) with M the share of water left in a plane wall that dries from
	// one face, θ = L²/D. Half of the fall is done at 0.197 θ.
	Slab Shape = "slab"
	// Exponential is a + b·exp(−t/θ): the late course.
	Exponential Shape = "exponential"
)

// g is the basis function; it falls from 1 to 0, except for RootTime, where it grows.
func (s Shape) g(t, theta float64) float64 {
	switch s {
	case RootTime:
		return math.Sqrt(t)
	case Slab:
		return left(t / theta)
	default:
		return math.Exp(-t / theta)
	}
}

// left is the share of its water that a plane wall still holds at Fourier number
// tau = D·t/L², one face open: Crank 1975 eq. 4.18 and 4.20 for a sheet of 2L, equation
// numbers from memory. The short-time form and the series agree to 1e-15 where they meet.
func left(tau float64) float64 {
	if tau <= 0 {
		return 1
	}
	if tau < 0.2 {
		s, sign := 1/math.Sqrt(math.Pi), -1.0
		root := math.Sqrt(tau)
		for n := 1.0; n < 8; n++ {
			v := ierfc(n / root)
			if v == 0 {
				break
			}
			s += 2 * sign * v
			sign = -sign
		}
		return 1 - 2*root*s
	}
	sum := 0.0
	for n := 0.0; n < 12; n++ {
		k := (2*n + 1) * (2*n + 1) * math.Pi * math.Pi
		term := 8 / k * math.Exp(-k*tau/4)
		sum += term
		if term < 1e-18 {
			break
		}
	}
	return sum
}

// when is the inverse of g: the time at which it stands at x, 0 for x at or above its
// start, infinite at or below its end.
func (s Shape) when(x, theta float64) float64 {
	if s == RootTime {
		return x * x
	}
	switch {
	case x >= 1:
		return 0
	case x <= 0:
		return math.Inf(1)
	case s == Exponential:
		return -theta * math.Log(x)
	default:
		return theta * fourierAt(x)
	}
}

// fourierAt inverts left, 0 < x < 1: the leading term of the short-time form or of the
// series, improved by Newton's steps.
func fourierAt(x float64) float64 {
	tau := math.Pi / 4 * (1 - x) * (1 - x)
	if x < 0.5 {
		tau = -4 / (math.Pi * math.Pi) * math.Log(math.Pi*math.Pi/8*x)
	}
	for range 4 {
		d := leftSlope(tau)
		if d == 0 {
			break
		}
		tau = max(tau/2, tau-(left(tau)-x)/d)
	}
	return tau
}

// leftSlope is the derivative of left by tau.
func leftSlope(tau float64) float64 {
	if tau <= 0 {
		return 0
	}
	s := 0.0
	if tau < 0.2 {
		s, sign := 1.0, -1.0
		for n := 1.0; n < 8; n++ {
			s += 2 * sign * math.Exp(-n*n/tau)
			sign = -sign
		}
		return -s / math.Sqrt(math.Pi*tau)
	}
	for n := 0.0; n < 12; n++ {
		s -= 2 * math.Exp(-(2*n+1)*(2*n+1)*math.Pi*math.Pi*tau/4)
	}
	return s
}

// ierfc is the integral of erfc from x to infinity.
func ierfc(x float64) float64 {
	if x > 26 {
		return 0
	}
	return math.Exp(-x*x)/math.Sqrt(math.Pi) - x*math.Erfc(x)
}

// timed tells whether the shape has a time constant, and so a plateau.
func (s Shape) timed() bool { return s != RootTime }

func (s Shape) parameters() int {
	if s.timed() {
		return 3
	}
	return 2
}

// least is how many visits a fit takes: two more than it has parameters, so that its
// doubt can be seen.
func (s Shape) least() int { return s.parameters() + 2 }
