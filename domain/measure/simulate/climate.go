package simulate

import (
	"math"
	"math/rand/v2"
	"time"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/diffusion"
	"boottop.example/practice/domain/measure/unit"
)

// Climate is the weather of an invented harbour: a year's and a day's swing about
// a mean, days of rain, and water that follows the air a month behind.
type Climate struct {
	Mean, Yearly, Daily unit.Celsius  // mean, and half the swings of the year and the day
	Air                 unit.Humidity // mean over the year; damper in winter and at night
	Rain                float64       // share of the quarters of a day with rain, 0 to 1
	Inside              unit.Humidity // of the air in the boat; 0 seals the inner face
}

// Skerrow is the climate of the demo's invented harbour.
func Skerrow() Climate {
	return Climate{Mean: 10, Yearly: 6, Daily: 3, Air: 76, Rain: 0.12}
}

func (c Climate) check() error {
	if err := measure.Finite("Climate", float64(c.Mean), float64(c.Yearly), float64(c.Daily), float64(c.Air), c.Rain, float64(c.Inside)); err != nil {
		return err
	}
	if c.Air < 0 || c.Air > 100 || c.Inside < 0 || c.Inside > 100 || c.Rain < 0 || c.Rain > 1 {
		return &measure.ArgumentError{Argument: "Climate", Why: "must have humidities from 0 to 100 % and a share of rain from 0 to 1"}
	}
	if math.Abs(float64(c.Mean))+math.Abs(float64(c.Yearly))+math.Abs(float64(c.Daily)) > 90 {
		return &measure.ArgumentError{Argument: "Climate", Why: "must stay between −90 and 90 °C"}
	}
	return nil
}

// quarter is the grain of the weather.
const quarter = 6 * time.Hour

// Weather is the air at one time.
type Weather struct {
	At   unit.Celsius
	Air  unit.Humidity
	Rain bool
}

// Weather gives the air outdoors at a time. It depends on the time and the seed
// alone, so every wall of a hull, and every hull of a harbour with that seed, has
// the same rain.
func (c Climate) Weather(at time.Time, seed uint64) Weather {
	at = at.UTC()
	block := at.Unix() / int64(quarter/time.Second)
	r := rand.New(rand.NewPCG(seed, uint64(block)))
	year := 2 * math.Pi * (float64(at.YearDay()) - 205) / 365.25 // warmest in late July
	hour := 2 * math.Pi * (float64(at.Hour()) - 15) / 24
	// Two slow waves make spells of weather without a memory of their own.
	day := float64(at.Unix()) / unit.SecondsPerDay
	slow := math.Sin(2*math.Pi*day/9.3) + math.Sin(2*math.Pi*day/5.7+1)
	w := Weather{
		At:  c.Mean + c.Yearly*unit.Celsius(math.Cos(year)) + c.Daily*unit.Celsius(math.Cos(hour)) + unit.Celsius(0.8*slow+1.2*r.NormFloat64()),
		Air: c.Air - unit.Humidity(5*math.Cos(year)+7*math.Cos(hour)-4*slow+4*r.NormFloat64()),
	}
	w.Rain = r.Float64() < c.Rain*(1+0.4*slow)
	if w.Rain {
		w.Air = 96
	}
	w.Air = max(25, min(99, w.Air))
	return w
}

// water is the sea's temperature: half the air's swing, five weeks behind.
func (c Climate) water(at time.Time) unit.Celsius {
	year := 2 * math.Pi * (float64(at.YearDay()) - 240) / 365.25
	return max(0, c.Mean+1+c.Yearly*unit.Celsius(0.6*math.Cos(year)))
}

func (c Climate) inside() diffusion.Boundary {
	if c.Inside == 0 {
		return diffusion.Sealed()
	}
	return diffusion.Air(c.Inside)
}
