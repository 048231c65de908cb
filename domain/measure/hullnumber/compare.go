package hullnumber

import (
	"fmt"

	"boottop.example/practice/domain/measure"
)

// Compare sets two readings of a boat's number side by side, as an American boat carries
// it twice, once in the open and once hidden (33 CFR 181, subpart C), and as papers
// repeat it. It returns no note when they agree character by character, separators and
// small letters apart.
func Compare(open, other Number) []measure.Note {
	if open.Plain == other.Plain {
		return nil
	}
	if open.Plain == "" || other.Plain == "" {
		return []measure.Note{{Code: "one-missing", Text: "Only one of the two numbers was read."}}
	}
	a, b := []rune(open.Plain), []rune(other.Plain)
	if len(a) != len(b) {
		return []measure.Note{{Code: "numbers-differ", Text: fmt.Sprintf("The two numbers differ: %s and %s.", characters(len(a)), characters(len(b)))}}
	}
	var notes []measure.Note
	for i := range a {
		if a[i] != b[i] {
			notes = append(notes, measure.Note{Code: "numbers-differ", Text: fmt.Sprintf("The two numbers differ at character %d: %c and %c.", i+1, a[i], b[i])})
		}
	}
	return notes
}
