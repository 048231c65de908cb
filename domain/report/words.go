package report

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"boottop.example/practice/domain/measure"
)

// nb keeps a number and its unit on one line.
const nb = "\u00a0"

// Units is how a practice shows lengths and temperatures; stored is always metric.
type Units struct {
	Feet       bool
	Fahrenheit bool
}

// Day says an instant as a day in a zone: "14 October 2026".
func Day(t time.Time, zone *time.Location) string { return in(t, zone).Format("2 January 2006") }

// ShortDay is Day for tables: "14 Oct 2026".
func ShortDay(t time.Time, zone *time.Location) string { return in(t, zone).Format("2 Jan 2006") }

// Month says an instant as a month: "October 2023".
func Month(t time.Time, zone *time.Location) string { return in(t, zone).Format("January 2006") }

func in(t time.Time, zone *time.Location) time.Time {
	if zone == nil {
		zone = time.UTC
	}
	return t.In(zone)
}

// Tenths writes a figure to one decimal, halves away from zero, with a true minus.
// A figure that is not finite is written "–".
func Tenths(x float64) string { return fixed(x, 1) }

// Whole writes a figure without decimals.
func Whole(x float64) string { return fixed(x, 0) }

func fixed(x float64, decimals int) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return "–"
	}
	scale := math.Pow10(decimals)
	r := math.Round(x*scale) / scale
	if r == 0 {
		r = 0 // no "-0"
	}
	return strings.Replace(strconv.FormatFloat(r, 'f', decimals, 64), "-", "−", 1)
}

// Signed writes a difference with its sign: "+13.8", "−2.0", "±0.0".
func Signed(x float64, decimals int) string {
	s := fixed(x, decimals)
	switch {
	case s == "–" || strings.HasPrefix(s, "−"):
		return s
	case strings.Trim(s, "0.") == "":
		return "±" + s
	}
	return "+" + s
}

// Value writes a reading as taken: "35.3", "above 100", "below 0", "15 to 20".
func Value(v measure.Value) string {
	switch v.Limit {
	case measure.Below:
		return "below " + plain(v.At)
	case measure.Above:
		return "above " + plain(v.At)
	case measure.Range:
		return plain(v.Low) + " to " + plain(v.High)
	}
	return exact(v.At)
}

// Figure writes a reading as it stands on the hull, in whole units: "35", ">100", "<0", "15–20".
func Figure(v measure.Value) string {
	switch v.Limit {
	case measure.Below:
		return "<" + Whole(v.At.Units())
	case measure.Above:
		return ">" + Whole(v.At.Units())
	case measure.Range:
		return Whole(v.Low.Units()) + "–" + Whole(v.High.Units())
	}
	return Whole(v.At.Units())
}

// exact keeps the tenth, and the twentieth where an even count of placements made one.
func exact(t measure.Twentieth) string {
	if t%2 != 0 {
		return fixed(t.Units(), 2)
	}
	return fixed(t.Units(), 1)
}

func plain(t measure.Twentieth) string {
	if t%20 == 0 {
		return fixed(t.Units(), 0)
	}
	return exact(t)
}

// Metres says a length: "10.55 m" or "34 ft 7 in".
func Metres(mm int, u Units) string {
	if !u.Feet {
		return trimZero(fixed(float64(mm)/1000, 2)) + nb + "m"
	}
	inches := int(math.Round(float64(mm) / 25.4))
	if inches%12 == 0 {
		return fmt.Sprintf("%d%sft", inches/12, nb)
	}
	return fmt.Sprintf("%d%sft %d%sin", inches/12, nb, inches%12, nb)
}

func trimZero(s string) string {
	if !strings.Contains(s, ".") {
		return s
	}
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

// Temperature says degrees: "11 °C", "10.1 °C", "52 °F".
func Temperature(celsius float64, u Units) string {
	if u.Fahrenheit {
		return trimZero(fixed(celsius*9/5+32, 1)) + nb + "°F"
	}
	return trimZero(fixed(celsius, 1)) + nb + "°C"
}

// SquareMetres says square metres with two significant figures below one: "0.14 m²", "23 m²".
func SquareMetres(m2 float64) string {
	switch {
	case m2 > 0 && m2 < 0.1:
		return trimZero(fixed(m2, 1-int(math.Floor(math.Log10(m2))))) + nb + "m²"
	case m2 < 1:
		return fixed(m2, 2) + nb + "m²"
	case m2 < 10:
		return fixed(m2, 1) + nb + "m²"
	}
	return fixed(m2, 0) + nb + "m²"
}

// Count says how many: "1 place", "4 places".
func Count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// spelled writes small counts at the head of a sentence: "Two areas".
func spelled(n int) string {
	words := []string{"No", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten"}
	if n >= 0 && n < len(words) {
		return words[n]
	}
	return strconv.Itoa(n)
}

// list joins words as a sentence does: "a", "a and b", "a, b and c".
func list(words []string) string {
	switch n := len(words); n {
	case 0:
		return ""
	case 1:
		return words[0]
	default:
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
}

// AshoreInput is how long a boat had been out when she was looked at: whole days, from a
// least to a most where the lift or the visit is dated by a month or a year, and hours while
// they are under 72 and known.
type AshoreInput struct {
	Least, Most int
	Hours       *int
}

// Ashore says how long a boat had been out: hours under three days, then days, or the days
// between which it lies. Nil is not known.
func Ashore(out *AshoreInput) string {
	switch {
	case out == nil:
		return "days ashore not known"
	case out.Hours != nil:
		return Count(*out.Hours, "hour", "hours") + " ashore"
	case out.Least < out.Most:
		return Span(out.Least, out.Most) + " days ashore"
	}
	return Count(out.Most, "day", "days") + " ashore"
}

// AshoreWritten says how long a boat had been out as an old paper has it, in its own words,
// or that it does not say.
func AshoreWritten(words string) string {
	if words = strings.TrimSpace(words); words == "" || strings.EqualFold(words, "not stated") {
		return "days ashore not stated"
	}
	return "“" + words + "” ashore"
}

// Span gives whole numbers from a least to a most: "3 to 33", or the one number.
func Span(least, most int) string {
	if least == most {
		return strconv.Itoa(most)
	}
	return strconv.Itoa(least) + " to " + strconv.Itoa(most)
}
