// Package hullnumber reads the numbers moulded or fixed on hulls: the United States
// hull identification number in its three layouts, and the international craft (or
// watercraft) identification number.
//
// It never refuses. A number is evidence of what stands on the boat; whatever is odd
// about it is said in warnings, and a surveyor decides.
//
// Sources. The layout since 1984: 33 CFR 181.25 (read in the editions of 2005 and 2024).
// The international one: Commission Implementing Regulation (EU) 2017/1, article 3, and
// 68 FR 36957 (2003); the text of ISO 10087 was not available. The two older American
// layouts are from memory, not confirmed; a number read by one of them says so.
package hullnumber

import (
	"time"

	"boottop.example/practice/domain/measure"
)

// Layout is the way a number is divided into fields.
type Layout string

// The layouts that are told apart. Positions count from 1.
const (
	// Current is MMM SSSSS A D YY: maker, serial, month letter, year digit, model year.
	Current Layout = "us-current"
	// MonthYear is MMM SSSSS MM YY: maker, serial, month 01-12, year. Until mid-1984.
	MonthYear Layout = "us-month-year"
	// ModelYear is MMM SSSSS M YY A: maker, serial, the letter M, model year, and a month
	// letter with A for August. Until mid-1984.
	ModelYear Layout = "us-model-year"
	// International is CC-MMM SSSSS A D YY: a country before the fields of Current.
	International Layout = "international"
	// Unknown is anything else: a builder's own number, an altered one, a slip in reading.
	Unknown Layout = "unknown"
)

// Number is what could be read from a hull number. Fields that the layout does not
// have, or that could not be read, are zero.
type Number struct {
	AsRead  string // exactly as given; this is what is stored
	Plain   string // capitals, without separators
	Written string // as its layout writes it, e.g. XX-ZZZ12345A424; empty when Unknown
	Layout  Layout

	Country string // two letters, International only
	Maker   Maker
	Serial  string

	Month      time.Month // of certification or manufacture; 0 when it cannot be read
	Years      []int      // years the number can stand for, nearest to the model year first
	ModelYears []int      // usually one

	Perhaps  []string       // well-formed numbers one gets by undoing look-alikes such as O for 0
	Warnings []measure.Note // what does not fit
	Notes    []measure.Note // what a reader should know of a number that fits
}

// Maker is the three-character field for whoever put the boat on the market.
type Maker struct {
	Code string
	// MayNameBuilder is false where the field is known to hold something else, or could
	// not be read. Where it is true, Why still says what else it can hold.
	MayNameBuilder bool
	Why            string
}

// Has tells whether the number carries a warning or a note of this code.
func (n Number) Has(code string) bool {
	for _, list := range [][]measure.Note{n.Warnings, n.Notes} {
		for _, note := range list {
			if note.Code == code {
				return true
			}
		}
	}
	return false
}

func (n *Number) warn(code, text string) {
	n.Warnings = append(n.Warnings, measure.Note{Code: code, Text: text})
}

func (n *Number) note(code, text string) {
	n.Notes = append(n.Notes, measure.Note{Code: code, Text: text})
}

// Read divides a hull number into its fields.
//
//	text  as it stands on the boat, any characters, any length
//	asOf  the day of reading: no boat is taken to be built after it
//
// There are no errors: what cannot be read is Unknown and says why.
func Read(text string, asOf time.Time) Number {
	n := Number{AsRead: text, Layout: Unknown}
	hyphenAfterCountry := n.plain()
	n.divide(hyphenAfterCountry)
	n.checkSerial()
	n.resolveYears(asOf.Year())
	n.judgeMaker()
	n.Perhaps = lookAlikes(n.Plain)
	return n
}
