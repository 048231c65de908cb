package calc

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"boottop.example/practice/domain/measure/hullnumber"
)

func hullNumber(in *input) func() (answer, error) {
	in.most = 8 // a number written with gaps arrives in pieces
	on := in.flags.String("on", "", "day of reading, 2026-05-31; today if left out")
	return func() (answer, error) {
		text := strings.Join(in.words, " ")
		if strings.TrimSpace(text) == "" {
			return answer{}, errors.New("the number is missing: write it as it stands on the boat")
		}
		day := time.Now()
		if *on != "" {
			var err error
			if day, err = time.Parse(time.DateOnly, *on); err != nil {
				return answer{}, errors.New("-on must be a day such as 2026-05-31")
			}
		}
		return describe(hullnumber.Read(text, day)), nil
	}
}

func describe(n hullnumber.Number) answer {
	a := answer{Says: fmt.Sprintf("%q fits no known layout.", n.AsRead)}
	if n.Layout != hullnumber.Unknown {
		a.Says = fmt.Sprintf("%q reads as %s.", n.AsRead, n.Written)
	}
	add := func(name, text string) {
		if text != "" {
			a.Facts = append(a.Facts, fact{name, text})
		}
	}
	add("layout", layoutWords[n.Layout])
	add("country", n.Country)
	add("maker field", n.Maker.Code)
	add("may name the builder", mayName(n.Maker))
	add("serial", n.Serial)
	if n.Month != 0 {
		add("month", n.Month.String())
	}
	add("years it can stand for", years(n.Years))
	add("model year", years(n.ModelYears))
	add("or, undoing look-alikes", strings.Join(n.Perhaps, ", "))
	a.note(n.Warnings)
	a.note(n.Notes)
	a.Cautions = []string{"a number is evidence of what stands on the boat, not of where she comes from: compare both places and the papers"}
	return a
}

var layoutWords = map[hullnumber.Layout]string{
	hullnumber.Current:       "United States, since 1984",
	hullnumber.MonthYear:     "United States, month and year (until mid-1984)",
	hullnumber.ModelYear:     "United States, model year (until mid-1984)",
	hullnumber.International: "international",
}

func mayName(m hullnumber.Maker) string {
	switch {
	case m.Code == "":
		return ""
	case m.MayNameBuilder && m.Why != "":
		return "yes; " + m.Why
	case m.MayNameBuilder:
		return "yes"
	default:
		return strings.TrimSuffix("no; "+m.Why, "; ")
	}
}

func years(ys []int) string {
	s := make([]string, len(ys))
	for i, y := range ys {
		s[i] = fmt.Sprint(y)
	}
	return strings.Join(s, ", ")
}
