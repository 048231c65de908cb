// Package unit names the physical units that the arithmetic is written in, so that
// a depth cannot be passed for a temperature. A value is held in the unit that
// gives the type its name; what is shown to a person is chosen elsewhere.
package unit

// Units of the arithmetic.
type (
	Celsius     float64 // temperature, degrees Celsius
	Humidity    float64 // relative humidity over liquid water, 0 to 100 percent
	Millimetres float64 // depth, thickness, distance on the skin
	Days        float64 // elapsed time; 1 day is 86 400 s
	Diffusivity float64 // square metres a second
	Pascals     float64 // pressure
)

// Zero Celsius on the absolute scale, and the length of a day in seconds.
const (
	ZeroCelsius   = 273.15
	SecondsPerDay = 86400
)

// Kelvin gives the absolute temperature.
func (t Celsius) Kelvin() float64 { return float64(t) + ZeroCelsius }

// Metres gives the length in metres.
func (l Millimetres) Metres() float64 { return float64(l) / 1000 }

// Seconds gives the time in seconds.
func (d Days) Seconds() float64 { return float64(d) * SecondsPerDay }

// Fraction gives the humidity as a share of saturation, 0 to 1.
func (h Humidity) Fraction() float64 { return float64(h) / 100 }
