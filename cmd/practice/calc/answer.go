package calc

import (
	"fmt"
	"io"
	"math"

	"boottop.example/practice/domain/measure"
)

// answer is what a question comes to: a sentence, its figures with their units, what
// they rest on, doubts, and cautions.
type answer struct {
	Calculation string   `json:"calculation"`
	Says        string   `json:"says"`
	Figures     []figure `json:"figures,omitempty"`
	Facts       []fact   `json:"facts,omitempty"`
	Assumes     []string `json:"assumes,omitempty"`
	Notes       []note   `json:"notes,omitempty"`
	Cautions    []string `json:"cautions,omitempty"`
}

// figure is a number with its unit, and its band where it has one. What is unbounded
// is left out, since JSON has no infinity.
type figure struct {
	Name     string   `json:"name"`
	Value    *float64 `json:"value,omitempty"`
	Lower    *float64 `json:"lower,omitempty"`
	Upper    *float64 `json:"upper,omitempty"`
	Level    float64  `json:"level,omitempty"` // coverage of the band; absent where it has none
	Unit     string   `json:"unit"`
	decimals int
}

// fact is an answer in words.
type fact struct {
	Name string `json:"name"`
	Text string `json:"text"`
}

type note struct {
	Code string `json:"code"`
	Text string `json:"text"`
}

func finite(x float64) *float64 {
	if math.IsInf(x, 0) || math.IsNaN(x) {
		return nil
	}
	return &x
}

func plain(name string, x float64, unit string, decimals int) figure {
	return figure{Name: name, Value: finite(x), Unit: unit, decimals: decimals}
}

func banded(name string, e measure.Estimate, unit string, decimals int) figure {
	return figure{
		Name: name, Value: finite(e.Value), Lower: finite(e.Lower), Upper: finite(e.Upper),
		Level: e.Level, Unit: unit, decimals: decimals,
	}
}

// carry takes over what an estimate rests on and its doubts.
func (a *answer) carry(e measure.Estimate) {
	a.Assumes = append(a.Assumes, e.Assumes...)
	a.note(e.Notes)
}

func (a *answer) note(notes []measure.Note) {
	for _, n := range notes {
		a.Notes = append(a.Notes, note(n))
	}
}

func (a *answer) write(w io.Writer) {
	fmt.Fprintln(w, a.Says)
	if len(a.Figures)+len(a.Facts) > 0 {
		fmt.Fprintln(w)
	}
	for _, f := range a.Figures {
		fmt.Fprintf(w, "  %-28s %s\n", f.Name, f.text())
	}
	for _, f := range a.Facts {
		fmt.Fprintf(w, "  %-28s %s\n", f.Name, f.Text)
	}
	list := func(head string, items []string) {
		if len(items) == 0 {
			return
		}
		fmt.Fprintf(w, "\n%s\n", head)
		for _, s := range items {
			fmt.Fprintf(w, "  - %s\n", s)
		}
	}
	list("Rests on:", a.Assumes)
	notes := make([]string, len(a.Notes))
	for i, n := range a.Notes {
		notes[i] = n.Text
	}
	list("Note:", notes)
	list("Caution:", a.Cautions)
}

func (f figure) text() string {
	number := func(x *float64) string {
		if x == nil {
			return "no bound"
		}
		s := fmt.Sprintf("%.*f", f.decimals, *x)
		if *x != 0 && math.Abs(*x) < math.Pow10(-f.decimals)/2 { // rather a small figure than a zero
			s = fmt.Sprintf("%.2g", *x)
		}
		return s
	}
	s := number(f.Value) + " " + f.Unit
	if f.Lower == nil && f.Upper == nil {
		return s
	}
	s += fmt.Sprintf("  (%s to %s", number(f.Lower), number(f.Upper))
	if f.Level > 0 {
		s += fmt.Sprintf(", %g %%", 100*f.Level)
	}
	return s + ")"
}
