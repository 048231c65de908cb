package hullnumber

import (
	"fmt"
	"slices"
	"time"
)

const (
	firstRule          = 1972 // 33 CFR 181: nothing was required before 1 November 1972
	firstCurrent       = 1984 // model year the present American layout begins with
	lastOldLayouts     = 1984
	firstInternational = 1995 // first edition of ISO 10087
	ahead              = 2    // how many years a model year may run ahead of the calendar: common practice, no source
)

// resolveYears finds the years that the date characters can stand for.
func (n *Number) resolveYears(now int) {
	if n.Layout == Unknown {
		return
	}
	body := n.Plain[len(n.Plain)-12:]
	switch n.Layout {
	case MonthYear:
		n.monthYear(number(body[10:12]))
	case ModelYear:
		n.modelYear(number(body[9:11]))
	default:
		n.yearDigit(int(body[9]-'0'), number(body[10:12]), now)
	}
	n.checkTime(now)
}

func (n *Number) monthYear(twoDigits int) {
	year := 1900 + twoDigits
	n.Years = []int{year}
	if year < firstRule || year > lastOldLayouts {
		n.warn("outside-layout-years", fmt.Sprintf("Read as month and year it says %d; that layout was used from November 1972 to mid-1984.", year))
	} else if year == firstRule && n.Month < time.November {
		n.warn("outside-layout-years", "It says a month before 1 November 1972, when numbers were first required.")
	}
}

func (n *Number) modelYear(twoDigits int) {
	model := 1900 + twoDigits
	n.ModelYears = []int{model}
	year := model
	if n.Month >= time.August { // the model year began in the August before
		year--
	}
	n.Years = []int{year}
	if year < firstRule || model > lastOldLayouts {
		n.warn("outside-layout-years", fmt.Sprintf("Read as model year %d; that layout was used from November 1972 to mid-1984.", model))
	}
}

// yearDigit resolves the one digit of the year against the model year. The decade is
// not in the number. The nearest year wins; that is this project's own rule, not part
// of 33 CFR 181.25 or of the international standard.
func (n *Number) yearDigit(digit, twoDigits, now int) {
	for _, century := range []int{1900, 2000} {
		if y := century + twoDigits; y >= firstRule && y <= now+ahead {
			n.ModelYears = append(n.ModelYears, y)
		}
	}
	if len(n.ModelYears) == 0 {
		n.warn("model-year-impossible", fmt.Sprintf("No model year ending in %02d lies between %d and %d.", twoDigits, firstRule, now+ahead))
		for y := firstRule; y <= now; y++ {
			if y%10 == digit {
				n.Years = append(n.Years, y)
			}
		}
		return
	}
	for _, model := range n.ModelYears {
		n.Years = append(n.Years, nearest(digit, model, now)...)
	}
	slices.Sort(n.Years)
	n.Years = slices.Compact(n.Years)
	model := n.ModelYears[len(n.ModelYears)-1]
	slices.SortStableFunc(n.Years, func(a, b int) int { return distance(a, model) - distance(b, model) })
	n.checkApart(model)
}

// nearest gives the years ending in digit that lie nearest to the model year and not
// in the future: one, or two when both are five away.
func nearest(digit, model, now int) []int {
	var years []int
	best := 10
	for y := model - 9; y <= model+9 && y <= now; y++ {
		if (y%10+10)%10 != digit {
			continue
		}
		switch d := distance(y, model); {
		case d < best:
			years, best = []int{y}, d
		case d == best:
			years = append(years, y)
		}
	}
	return years
}

func (n *Number) checkApart(model int) {
	if len(n.Years) == 0 {
		return // said by checkTime
	}
	switch year := n.Years[0]; {
	case len(n.ModelYears) > 1:
		n.warn("century-open", "The model year fits two centuries. The boat's papers decide.")
	case len(n.Years) > 1:
		n.warn("years-open", fmt.Sprintf("The year digit fits %d and %d equally well beside model year %d.", n.Years[0], n.Years[1], model))
	case year > model:
		n.warn("made-after-model-year", fmt.Sprintf("The year digit points to %d, after model year %d. Possible, but unusual: compare it with the boat and her papers.", year, model))
	case year < model-1:
		n.warn("years-apart", fmt.Sprintf("The nearest year with that digit is %d, %d years before model year %d.", year, model-year, model))
	default:
		n.note("year-resolved", fmt.Sprintf("The number holds one digit of the year; %d is the nearest to model year %d.", year, model))
	}
}

// checkTime warns of dates before the layout existed or after the day of reading.
func (n *Number) checkTime(now int) {
	if len(n.Years) == 0 {
		n.warn("in-the-future", fmt.Sprintf("Every year that the number can stand for lies after %d.", now))
		return
	}
	year := slices.Max(n.Years)
	if year > now {
		n.warn("in-the-future", fmt.Sprintf("It says %d, after the day of reading.", year))
	}
	if len(n.ModelYears) == 0 {
		return
	}
	switch model := slices.Max(n.ModelYears); {
	case n.Layout == Current && model < firstCurrent:
		n.warn("older-than-layout", fmt.Sprintf("Model year %d is older than this layout, which begins with model year %d (from memory, not confirmed): assigned later, or misread.", model, firstCurrent))
	case n.Layout == International && model < firstInternational:
		n.warn("older-than-layout", fmt.Sprintf("Model year %d is older than the international layout: the number was assigned after building, so the maker field need not name the builder.", model))
	}
}

func distance(a, b int) int {
	if a > b {
		return a - b
	}
	return b - a
}
