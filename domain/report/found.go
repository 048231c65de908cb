package report

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// What follows from the figures of a finding, as facts: a name and what it is. A class
// names the standard whose pictures it stands in for; nothing here names a cause.

// Plain writes a figure as it was entered: no more decimals than it has, true minus.
func Plain(x float64) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return "–"
	}
	return strings.Replace(strconv.FormatFloat(x, 'f', -1, 64), "-", "−", 1)
}

// NoneCounted is what a count of zero leaves open.
//
//	m2     area gone over, m²
//	upper  one-sided upper 95 % density, per m²: −ln 0.05 / m2
func NoneCounted(m2, upper float64) Fact {
	return Fact{"none seen", fmt.Sprintf("in %s; up to %s to the square metre could lie there unseen, if they lie evenly", SquareMetres(m2), Whole(math.Ceil(upper-1e-9)))}
}

// CountedDensity is the density behind a count, with its exact Poisson interval rounded
// outward; to a tenth below ten.
func CountedDensity(count int, m2, value, lower, upper float64) Fact {
	scale, decimals := 1.0, 0
	if value < 10 { // else a few in a large area would be written as none
		scale, decimals = 10, 1
	}
	write := func(x float64) string { return fixed(x, decimals) }
	return Fact{"density", fmt.Sprintf("%d in %s: %s to the square metre (%s to %s, 95%s%% confidence)", count, SquareMetres(m2), write(value), write(math.Floor(lower*scale)/scale), write(math.Ceil(upper*scale)/scale), nb)}
}

// BlisterClass says the derived class and which pictures were looked at.
//
//	iso        quantity and size, "3(S2)"; grade and frequency as ASTM D714 has them
//	pictures   the standard whose pictures the surveyor held beside them, or empty
func BlisterClass(iso string, grade int, frequency string, measured, counted int, pictures string) Fact {
	s := fmt.Sprintf("ISO 4628-2 %s, about ASTM D714 %d%s%s: derived from counts and diameters", iso, grade, nb, frequency)
	if measured < counted {
		s += fmt.Sprintf(" (%d of %d measured)", measured, counted)
	}
	switch pictures {
	case "", "neither":
		s += "; the standards judge by pictures, and none were held beside it"
	default:
		s += "; looked at against the pictures of " + pictures
	}
	return Fact{"class", s + ". Both were written for paint films, and no size is read back from a class"}
}

// NoBlisterClass says why there is no class.
func NoBlisterClass() Fact {
	return Fact{"class", "none: no diameter was measured"}
}

// Acidity says on which side of neutral a liquid lies by pH paper. Bounds from memory.
func Acidity(pH float64) Fact {
	word := "about neutral"
	switch {
	case pH <= 6:
		word = "acid"
	case pH >= 8.5:
		word = "alkaline"
	}
	return Fact{"liquid by paper", fmt.Sprintf("%s, pH %s", word, Plain(pH))}
}

// PartedOf says how much of a bond line has parted of what could be followed.
func PartedOf(parted, followed int) Fact {
	return Fact{"parted", fmt.Sprintf("%d of the %d%smm that could be followed; the rest was not seen", parted, followed, nb)}
}

// SeriesOf sums up a series: count, mean and standard deviation with n − 1. A short
// series says so: fewer than ten is common practice's bound, no source.
func SeriesOf(n int, mean, sd float64, unit, procedure string) Fact {
	s := fmt.Sprintf("%s by %s: mean %s", Count(n, "value", "values"), procedure, strings.TrimSpace(Tenths(mean)+" "+unit))
	if n > 1 {
		s += ", standard deviation " + Tenths(sd)
	}
	if n < 10 {
		s += "; a short series"
	}
	return Fact{"series", s}
}

// LeastAndMiddle says the least and the middle of thicknesses, as they were got.
func LeastAndMiddle(n int, least, middle float64, unit string) Fact {
	if n == 1 {
		return Fact{"least", "one figure alone"}
	}
	return Fact{"least", fmt.Sprintf("%s%s%s, middle %s, of %d", Plain(least), nb, unit, Plain(middle), n)}
}

// SetVelocity reminds what an ultrasonic thickness rests on.
func SetVelocity(setBy string) Fact {
	if setBy == "" {
		return Fact{"rests on", "a sound velocity that nothing on this hull was held against: the figures may all be out together"}
	}
	return Fact{"rests on", "a sound velocity set by " + setBy}
}

// LostOnDrying is the moisture content of a wood sample, on its weight oven-dried.
func LostOnDrying(grams, percent float64, material string) Fact {
	return Fact{"moisture of the wood", fmt.Sprintf("%s%sg lost on drying: %s%s%% of the dried weight of the %s wood sample", fixed(grams, 2), nb, Whole(percent), nb, material)}
}

// LostGrams is what a sample of anything but wood lost: a weight and no share.
func LostGrams(grams float64, material string) Fact {
	return Fact{"lost on drying", fmt.Sprintf("%s%sg of the %s sample", fixed(grams, 2), nb, material)}
}

// TimberBand says what a timber reading means, with its doubts.
func TimberBand(band string, n int, middle float64, doubts []string) Fact {
	s := fmt.Sprintf("%s; middle of %s %s on the timber scale", band, Count(n, "reading", "readings"), Plain(middle))
	if len(doubts) > 0 {
		s += ". " + strings.Join(doubts, "; ")
	}
	return Fact{"the wood", s}
}

// Within says where an outline lies on the skin, in metres from its datum.
func Within(side string, from, to, upper, lower int) string {
	m := func(mm int) string { return trimZero(fixed(float64(mm)/1000, 2)) }
	return fmt.Sprintf("%s, %s to %s%sm forward, %s to %s%sm down", side, m(from), m(to), nb, m(upper), m(lower), nb)
}

// SeenFromBoth points at the finding of the same spot on the other face of the skin.
func SeenFromBoth(number int) Sentence {
	return Say(WasSeen, fmt.Sprintf("The same spot was looked at from the other face: finding %d.", number))
}

// ItemsLeft says which items of the schedule were not examined, or in part, and why.
func ItemsLeft(items []ItemLeft) (out []Sentence) {
	var not, part []string
	for _, i := range items {
		words := lowerFirst(i.Name)
		if i.Why != "" {
			words += " (" + strings.TrimSuffix(i.Why, ".") + ")"
		}
		words = strings.ReplaceAll(words, "*", "∗")
		if i.InPart {
			part = append(part, words)
		} else {
			not = append(not, words)
		}
	}
	if len(not) > 0 {
		out = append(out, Say(NotLooked, "Not examined: "+strings.Join(not, "; ")+"."))
	}
	if len(part) > 0 {
		out = append(out, Say(NotLooked, "Examined in part: "+strings.Join(part, "; ")+"."))
	}
	return out
}

// lowerFirst begins a word in the middle of a sentence as such; initials stay.
func lowerFirst(s string) string {
	if len(s) > 1 && s[1] >= 'a' && s[1] <= 'z' {
		return strings.ToLower(s[:1]) + s[1:]
	}
	return s
}

// Money says an amount of whole minor units with its currency: "18 500 EUR".
func Money(minor int64, currency string) string {
	whole, cents := minor/100, minor%100
	digits := strconv.FormatInt(whole, 10)
	for k := len(digits) - 3; k > 0; k -= 3 {
		digits = digits[:k] + nb + digits[k:]
	}
	if cents != 0 {
		digits += fmt.Sprintf(".%02d", cents)
	}
	return digits + nb + currency
}
