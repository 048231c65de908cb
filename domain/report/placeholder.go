package report

import (
	"regexp"
	"slices"
	"strings"
)

// Placeholder is a word in braces that a practice's wording may hold, and what stands for
// it in one report; empty where it is not known.
type Placeholder struct {
	Name string // "vessel"; {vessel} in the text
	Is   string
}

// PlaceholderNames lists every placeholder there is, in the order in which they are offered.
var PlaceholderNames = []string{
	"vessel", "hull number", "client", "client as", "date", "yard", "days ashore", "instrument", "surveyor", "practice", "job", "kind",
}

// Unfilled is a placeholder that nothing stands for.
type Unfilled struct {
	Name  string
	Known bool // false: there is no placeholder of this name
}

var inBraces = regexp.MustCompile(`\{([^{}\n]{1,40})\}`)

// Fill sets what is known in place of a text's placeholders. One that is empty or that
// does not exist stays, in brackets, and is told, once each. What is filled in is not
// looked through again: a name with braces in it stays a name.
func Fill(text string, with []Placeholder) (filled string, gaps []Unfilled) {
	filled = inBraces.ReplaceAllStringFunc(text, func(braced string) string {
		name := strings.ToLower(strings.TrimSpace(braced[1 : len(braced)-1]))
		k := slices.IndexFunc(with, func(p Placeholder) bool { return p.Name == name })
		if k >= 0 && with[k].Is != "" {
			return with[k].Is
		}
		gap := Unfilled{Name: name, Known: k >= 0}
		if !slices.Contains(gaps, gap) {
			gaps = append(gaps, gap)
		}
		return "[" + name + "]"
	})
	return filled, gaps
}
