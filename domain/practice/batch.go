package practice

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"boottop.example/practice/domain"
)

// check refuses a batch whose columns do not fit together.
func (in AddReadings) check() error {
	n := len(in.IDs)
	if n == 0 || n > maxBatch {
		return domain.Invalidf("ids", "Send 1 to %d readings at a time.", maxBatch)
	}
	for _, c := range []struct {
		field    string
		has      int
		optional bool
	}{
		{"places", len(in.Ordinals), false},
		{"placements", len(in.Placements), false},
		{"takenAt", len(in.TakenAt), false},
		{"occasions", len(in.Occasions), true},
		{"written", len(in.Written), true},
		{"surfaces", len(in.Surfaces), true},
		{"knownBefore", len(in.KnownBefore), true},
		{"followUp", len(in.FollowUp), true},
	} {
		if c.has != n && !(c.optional && c.has == 0) {
			return domain.Invalidf(c.field, "This column has %d slots, the ids have %d.", c.has, n)
		}
	}
	seen := map[string]bool{}
	for k, id := range in.IDs {
		if err := newID(fmt.Sprintf("ids[%d]", k), id); err != nil {
			return err
		}
		if seen[id.String()] {
			return domain.Invalidf(fmt.Sprintf("ids[%d]", k), "This id stands twice in the batch.")
		}
		seen[id.String()] = true
	}
	return nil
}

// readings turns the columns into readings, judged against the pass's scale.
func (in AddReadings) readings(pass PassContext) ([]Reading, error) {
	list := make([]Reading, len(in.IDs))
	for k := range list {
		r, err := newReading(pass, in.Placements[k], slot(in.Written, k), fmt.Sprintf("placements[%d]", k))
		if err != nil {
			return nil, err
		}
		r.ID, r.Ordinal, r.Occasion, r.TakenAt = in.IDs[k], in.Ordinals[k], 1, in.TakenAt[k]
		r.Surface, r.KnownBefore, r.FollowUp = slot(in.Surfaces, k), slot(in.KnownBefore, k), slot(in.FollowUp, k)
		if in.Occasions != nil && in.Occasions[k] != Null {
			if in.Occasions[k] < 1 || in.Occasions[k] > 99 {
				return nil, domain.Invalidf(fmt.Sprintf("occasions[%d]", k), "An occasion is 1 for the grid, 2 and more for repeats.")
			}
			r.Occasion = int16(in.Occasions[k])
		}
		list[k] = r
	}
	return list, nil
}

func slot[T any](column []T, k int) T {
	var zero T
	if column == nil {
		return zero
	}
	return column[k]
}

// newReading judges one reading against the pass's scale: the median of one to five
// placements, or what was written where the instrument met the end of its scale.
func newReading(pass PassContext, placements []int16, written, field string) (Reading, error) {
	r := Reading{Placements: placements, AsWritten: written}
	for j, v := range placements {
		if pass.ScaleID != nil && (int32(v) < pass.LowTenths || int32(v) > pass.HighTenths) {
			return r, beyond(fmt.Sprintf("%s[%d]", field, j), pass)
		}
	}
	if len(placements) > 5 {
		return r, domain.Invalidf(field, "Keep one to five placements at a place.")
	}
	if written != "" {
		return limited(r, pass, written, field)
	}
	if len(placements) == 0 {
		return r, domain.Invalidf(field, "Give one to five placements, or what was written.")
	}
	r.Value = medianTwentieths(placements)
	return r, nil
}

// medianTwentieths gives the median of tenths in twentieths: exact, also for an even count.
func medianTwentieths(tenths []int16) int32 {
	s := slices.Clone(tenths)
	slices.Sort(s)
	n := len(s)
	return int32(s[(n-1)/2]) + int32(s[n/2])
}

// limited reads a limit or a range as it was written: "<", ">", "low", "high", "15–20".
func limited(r Reading, pass PassContext, written, field string) (Reading, error) {
	if utf8.RuneCountInString(written) > 20 {
		return r, domain.Invalidf(field, "What was written may have 20 letters at most.")
	}
	text := strings.ToLower(strings.TrimSpace(written))
	switch {
	case strings.HasPrefix(text, "<") || text == "low":
		r.LimitFlag, r.Value = "below", pass.LowTenths*2
		return r, endOfScale(&r, pass, text, field)
	case strings.HasPrefix(text, ">") || text == "high":
		r.LimitFlag, r.Value = "above", pass.HighTenths*2
		return r, endOfScale(&r, pass, text, field)
	}
	low, high, ok := strings.Cut(strings.NewReplacer("–", "-", "—", "-", "−", "-", " ", "").Replace(text), "-")
	if !ok {
		return r, domain.Invalidf(field, "Write <, > or a range such as 15–20; plain numbers go into the placements.")
	}
	l, err1 := twentieths(low)
	h, err2 := twentieths(high)
	if err1 != nil || err2 != nil || l > h {
		return r, domain.Invalidf(field, "A range is written 15–20, the lower end first.")
	}
	if pass.ScaleID != nil && (l < pass.LowTenths*2 || h > pass.HighTenths*2) {
		return r, beyond(field, pass)
	}
	r.LimitFlag, r.Low, r.High, r.Value = "range", &l, &h, (l+h)/2
	return r, nil
}

// endOfScale takes the limit that was written beside the sign: "<5" is below 5 where
// the scale's own end is not known, as in old reports.
func endOfScale(r *Reading, pass PassContext, text, field string) error {
	number := strings.TrimSpace(strings.TrimLeft(text, "<>≤≥ "))
	if number == "" || number == "low" || number == "high" {
		if pass.ScaleID == nil {
			return domain.Invalidf(field, "Without a scale its end is not known. Write the limit, such as <5.")
		}
		return nil
	}
	limit, err := twentieths(number)
	if err != nil {
		return domain.Invalidf(field, "Write the limit as a number, such as <5.")
	}
	if pass.ScaleID != nil && limit != r.Value {
		return domain.Invalidf(field, "The scale ends at %s. A number inside it goes into the placements.", unitsText(r.Value/2))
	}
	r.Value = limit
	return nil
}

// twentieths reads a number of scale units, with comma or point.
func twentieths(text string) (int32, error) {
	x, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	if err != nil || math.IsNaN(x) || math.Abs(x) > 5000 {
		return 0, fmt.Errorf("no number: %q", text)
	}
	return int32(math.Round(x * 20)), nil
}

// beyond refuses a number outside the scale, with the limits named.
func beyond(field string, pass PassContext) error {
	return domain.Invalidf(field, "The scale %s of %s runs from %s to %s. A reading at its end is written < or >.",
		pass.ScaleName, pass.InstrumentName, unitsText(pass.LowTenths), unitsText(pass.HighTenths))
}

func unitsText(tenths int32) string { return strconv.FormatFloat(float64(tenths)/10, 'f', -1, 64) }
