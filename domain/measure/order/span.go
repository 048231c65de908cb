package order

import (
	"fmt"
	"math"
	"slices"

	"boottop.example/practice/domain/measure"
)

// Fortieth counts fortieths of a scale unit. Readings are whole twentieths, so the
// median of an even number of them, and its distance from a reading, fall on
// fortieths and are exact.
type Fortieth int32

// The open sides of a [Span]. They are no numbers and are never computed with.
const (
	OpenLow  Fortieth = math.MinInt32
	OpenHigh Fortieth = math.MaxInt32
)

// largestTwentieth keeps sums of two fortieths and their differences inside int32.
// It is 13 million scale units, beyond any instrument.
const largestTwentieth = 1 << 28

// Units gives the figure in scale units, an infinity where it is open.
func (f Fortieth) Units() float64 {
	switch f {
	case OpenLow:
		return math.Inf(-1)
	case OpenHigh:
		return math.Inf(1)
	default:
		return float64(f) / 40
	}
}

// Span is what is known of a figure on the scale: a point where Low equals High,
// half open where a reading met the end of its scale. Low never exceeds High.
type Span struct{ Low, High Fortieth }

// Exact tells whether the figure is known to the last fortieth.
func (s Span) Exact() bool { return s.Low == s.High }

// Minus gives the span of the difference of two figures, in fortieths.
func (s Span) Minus(t Span) Span {
	d := Span{Low: OpenLow, High: OpenHigh}
	if s.Low != OpenLow && t.High != OpenHigh {
		d.Low = s.Low - t.High
	}
	if s.High != OpenHigh && t.Low != OpenLow {
		d.High = s.High - t.Low
	}
	return d
}

// magnitude gives the span of the absolute value.
func (s Span) magnitude() Span {
	least := max(s.Low, 0)
	if s.High < 0 {
		least = -s.High
	}
	if s.Low == OpenLow || s.High == OpenHigh {
		return Span{least, OpenHigh}
	}
	return Span{least, max(s.High, -s.Low)}
}

// SpanOf gives what a value of the scale is known to be.
func SpanOf(v measure.Value) Span {
	at := Fortieth(v.At) * 2
	switch v.Limit {
	case measure.Below:
		return Span{OpenLow, at}
	case measure.Above:
		return Span{at, OpenHigh}
	case measure.Range:
		return Span{Fortieth(v.Low) * 2, Fortieth(v.High) * 2}
	default:
		return Span{at, at}
	}
}

// CheckValues refuses values that cannot come from a scale: a range whose ends
// are the wrong way round, a limit flag that does not exist, a number so large
// that sums of it would not fit. The error names argument and index.
func CheckValues(argument string, vs []measure.Value) error {
	for i, v := range vs {
		why := ""
		switch {
		case v.Limit > measure.Range:
			why = "has a limit flag that is not known"
		case v.Limit == measure.Range && v.Low > v.High:
			why = "must have the lower end of its range first"
		case tooLarge(v.At) || v.Limit == measure.Range && (tooLarge(v.Low) || tooLarge(v.High)):
			why = "must lie within 13 million scale units of zero"
		}
		if why != "" {
			return &measure.ArgumentError{Argument: fmt.Sprintf("%s[%d]", argument, i), Why: why}
		}
	}
	return nil
}

func tooLarge(t measure.Twentieth) bool { return t > largestTwentieth || t < -largestTwentieth }

// MedianOf gives the median of values that may carry limit flags. The k-th value
// in order lies between the k-th of the lower ends and the k-th of the upper ends,
// whatever the true values are; so does the median. A minority of readings at the
// scale's end therefore leaves the median exact.
//
//	vs  n ≥ 1 values of one scale
//
// Errors: measure.ErrEmpty; *measure.ArgumentError as [CheckValues].
func MedianOf(vs []measure.Value) (Span, error) {
	if len(vs) == 0 {
		return Span{}, measure.ErrEmpty
	}
	if err := CheckValues("vs", vs); err != nil {
		return Span{}, err
	}
	spans := make([]Span, len(vs))
	for i, v := range vs {
		spans[i] = SpanOf(v)
	}
	low, high := middles(spans)
	return Span{half(low), half(high)}, nil
}

// Spread is a median absolute deviation in scale units, as a span: a point unless
// readings at the scale's end leave it open.
type Spread struct{ Low, High float64 }

// MADOf gives the median of the absolute deviations of vs from centre, raw: times
// 1.4826 it estimates the standard deviation of normal readings (see [Scale]).
//
//	vs      n ≥ 1 values of one scale
//	centre  as [MedianOf] gives it
//
// Errors: measure.ErrEmpty; *measure.ArgumentError as [CheckValues].
func MADOf(vs []measure.Value, centre Span) (Spread, error) {
	if len(vs) == 0 {
		return Spread{}, measure.ErrEmpty
	}
	if err := CheckValues("vs", vs); err != nil {
		return Spread{}, err
	}
	spans := make([]Span, len(vs))
	for i, v := range vs {
		spans[i] = SpanOf(v).Minus(centre).magnitude()
	}
	low, high := middles(spans)
	return Spread{meanUnits(low), meanUnits(high)}, nil
}

// middles gives the two middle ones (the same twice for an odd count) of the lower
// ends and of the upper ends, each in its own order.
func middles(spans []Span) (low, high [2]Fortieth) {
	ends := make([]Fortieth, len(spans))
	for i, s := range spans {
		ends[i] = s.Low
	}
	low = middleTwo(ends)
	for i, s := range spans {
		ends[i] = s.High
	}
	return low, middleTwo(ends)
}

func middleTwo(f []Fortieth) [2]Fortieth {
	slices.Sort(f)
	return [2]Fortieth{f[(len(f)-1)/2], f[len(f)/2]}
}

// half is exact for values of a scale, which are even fortieths.
func half(m [2]Fortieth) Fortieth {
	for _, f := range m {
		if f == OpenLow || f == OpenHigh {
			return f
		}
	}
	return m[0]/2 + m[1]/2
}

func meanUnits(m [2]Fortieth) float64 {
	if m[1] == OpenHigh {
		return math.Inf(1)
	}
	return (float64(m[0]) + float64(m[1])) / 80
}
