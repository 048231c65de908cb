package baseline

import (
	"errors"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/order"
)

// ErrVoid is returned where a reading is set against a baseline that is not valid.
var ErrVoid = errors.New("the pass has no valid baseline, so contrasts are void")

// Contrast is a reading less the dry level of its own pass. It is a difference on a
// relative scale, never a ratio and never a percentage.
type Contrast struct {
	Span order.Span // fortieths of a unit; open where the reading met the scale's end

	// Times is the contrast in units of the dry scatter, low and high end; an
	// infinity where the span is open.
	Times [2]float64

	// Estimate is the contrast in scale units. Its interval holds the doubt of the
	// dry level; the reading's own repeatability comes on top. Value is the end that
	// is known where the span is open, with the note "at-least" or "at-most".
	Estimate measure.Estimate
}

// Of sets one reading of the same pass against the baseline.
//
// Errors: [ErrVoid]; *measure.ArgumentError for a value that cannot be.
func (b Baseline) Of(v measure.Value) (Contrast, error) {
	if !b.Valid() {
		return Contrast{}, ErrVoid
	}
	if err := order.CheckValues("v", []measure.Value{v}); err != nil {
		return Contrast{}, err
	}
	span := order.SpanOf(v).Minus(b.Median)
	low, high := span.Low.Units(), span.High.Units()
	at, doubt := known(v, b.Median)
	e := measure.Estimate{
		Value: at, Level: b.Estimate.Level, N: b.N,
		Lower: low - (b.Estimate.Upper - b.Estimate.Value),
		Upper: high + (b.Estimate.Value - b.Estimate.Lower),
		Notes: append(append([]measure.Note(nil), b.Estimate.Notes...), doubt...),
		Assumes: append([]string{"the reading is taken as it stands; its own repeatability comes on top"},
			b.Estimate.Assumes...),
	}
	return Contrast{Span: span, Times: [2]float64{low / b.Scatter, high / b.Scatter}, Estimate: e}, nil
}

// known gives the figure that stands for the contrast, and says what it is.
func known(v measure.Value, m order.Span) (float64, []measure.Note) {
	at := (order.Fortieth(v.At)*2 - m.Low).Units()
	switch v.Limit {
	case measure.Below:
		return at, []measure.Note{{Code: "at-most", Text: "The reading was below the scale: the contrast is at most this."}}
	case measure.Above:
		return at, []measure.Note{{Code: "at-least", Text: "The reading was above the scale: the contrast is at least this."}}
	case measure.Range:
		return at, []measure.Note{{Code: "range", Text: "The reading was written as a range: the contrast is its middle."}}
	default:
		return at, nil
	}
}

// Exact gives the contrast of an exact reading in fortieths of a unit, for columns
// of them. ok is false where the baseline is void or the reading carries a limit.
func (b Baseline) Exact(v measure.Value) (c order.Fortieth, ok bool) {
	if !b.Valid() || v.Limit != measure.Exact {
		return 0, false
	}
	return order.Fortieth(v.At)*2 - b.Median.Low, true
}
