package hullnumber

import (
	"fmt"
	"strings"
	"time"
	"unicode/utf8"
)

// divide finds the layout and fills the fields that are cut from the text alone.
func (n *Number) divide(hyphenAfterCountry bool) {
	if n.Plain == "" {
		return
	}
	length := utf8.RuneCountInString(n.Plain)
	if length != len(n.Plain) { // characters outside ASCII: positions mean nothing
		n.warn("layout-unknown", "The number fits no known layout.")
		return
	}
	switch {
	case length == 14 && isLetter(n.Plain[0]) && isLetter(n.Plain[1]):
		n.international(hyphenAfterCountry)
	case length == 14:
		n.warn("country-letters", fmt.Sprintf("It has the 14 characters of the international layout, but %s is not the two letters of a country.", n.Plain[:2]))
		n.layoutUnknown()
	case length == 12:
		if hyphenAfterCountry {
			n.note("separators", "The hyphen was left out for reading: twelve characters have no country in front.")
		}
		n.american()
	default:
		n.warn("length", fmt.Sprintf("It has %s; the American layouts have 12 and the international one 14. A builder's own number, a part hidden or damaged, or a slip in reading.", characters(length)))
		n.layoutUnknown()
	}
}

func characters(n int) string {
	if n == 1 {
		return "1 character"
	}
	return fmt.Sprintf("%d characters", n)
}

func (n *Number) layoutUnknown() {
	n.Layout = Unknown
	n.Written = ""
	n.warn("layout-unknown", "The number fits no known layout. Before 1 November 1972 no American rule existed, and builders used numbers of their own.")
}

func (n *Number) american() {
	switch date := n.Plain[8:]; {
	case date[0] >= 'A' && date[0] <= 'L' && digits(date[1:]):
		n.Layout = Current
	case date[0] == 'M' && digits(date[1:3]) && date[3] >= 'A' && date[3] <= 'L':
		n.Layout = ModelYear
	case digits(date) && date[:2] >= "01" && date[:2] <= "12":
		n.Layout = MonthYear
	default:
		n.badDate(date)
		n.layoutUnknown()
		return
	}
	n.Written = n.Plain
	n.cut(n.Plain)
	if n.Layout != Current {
		n.note("layout-from-memory", "It was read by a layout used until mid-1984 that is known from memory only, not from the text of the rule.")
	}
}

func (n *Number) international(hyphen bool) {
	date := n.Plain[10:]
	if date[0] < 'A' || date[0] > 'L' || !digits(date[1:]) {
		n.badDate(date)
		n.layoutUnknown()
		return
	}
	n.Layout = International
	n.Country = n.Plain[:2]
	n.Written = n.Country + "-" + n.Plain[2:]
	n.cut(n.Plain[2:])
	if !hyphen {
		n.note("no-hyphen", "The hyphen that belongs after the country code is missing.")
	}
	n.checkCountry()
}

// cut takes maker, serial and month from the twelve characters that all layouts share.
func (n *Number) cut(body string) {
	n.Maker.Code, n.Serial = body[:3], body[3:8]
	switch n.Layout {
	case MonthYear:
		n.Month = time.Month(number(body[8:10]))
	case ModelYear:
		// A is August, so that the months of a model year run from August to July.
		n.Month = time.Month((int(body[11]-'A')+7)%12 + 1)
	default:
		n.Month = time.Month(body[8]-'A') + 1
	}
}

// badDate says what is wrong with the last four characters.
func (n *Number) badDate(date string) {
	switch {
	case isLetter(date[0]) && date[0] > 'M':
		n.warn("month-letter", fmt.Sprintf("%c stands where the month is: only A (January) to L (December) are used.", date[0]))
	case date[0] == 'M':
		n.warn("month-letter", "M stands where the month is: only A to L are months. In an older layout M is followed by two digits of the model year and a month letter.")
	default:
		n.warn("date-characters", fmt.Sprintf("The last four characters, %s, are not a month letter, a year digit and a model year, nor an older form of a date.", date))
	}
}

func (n *Number) checkSerial() {
	if n.Layout == Unknown {
		return
	}
	if i := strings.IndexAny(n.Serial, "IOQ"); i >= 0 {
		n.warn("serial-letter", fmt.Sprintf("The serial contains %c; I, O and Q are not used there. Probably a digit: compare it with the boat.", n.Serial[i]))
	}
}

func digits(s string) bool {
	for i := range len(s) {
		if !isDigit(s[i]) {
			return false
		}
	}
	return true
}

func number(s string) int {
	v := 0
	for i := range len(s) {
		v = v*10 + int(s[i]-'0')
	}
	return v
}
