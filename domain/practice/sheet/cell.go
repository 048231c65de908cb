package sheet

import (
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// read takes a cell's text apart; why is empty where it can be kept.
func (c *Cell) read(text string) (why string) {
	if body, marked := strings.CutSuffix(text, "!"); marked {
		c.FollowUp, text = true, strings.TrimSpace(body)
	}
	switch first, _ := utf8.DecodeRuneInString(text); {
	case text == "":
		return "A mark to follow up, but no reading."
	case strings.ContainsRune("<>≤≥", first), strings.EqualFold(text, "low"), strings.EqualFold(text, "high"):
		return c.limit(text)
	case isRange(text):
		return c.limit(text)
	case first == 'n' || first == 'N' || first == 'x' || first == 'X':
		return "What was not reached or does not count is marked in the grid, with its reason. Leave the cell empty."
	}
	for _, part := range strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == '/' || r == ';' || r == '\u00a0' }) {
		tenths, why := Tenths(part)
		if why != "" {
			return why
		}
		c.Placements = append(c.Placements, tenths)
	}
	switch {
	case len(c.Placements) == 0:
		return "This is no number."
	case len(c.Placements) > 5:
		return "One to five placements are kept at a place. The rest are repeats, read on another occasion."
	}
	return ""
}

func (c *Cell) limit(text string) string {
	if utf8.RuneCountInString(text) > 20 {
		return "A limit or a range as written has 20 letters at most."
	}
	c.Written = text
	return ""
}

// isRange tells whether a text is two numbers with a dash between them.
func isRange(text string) bool {
	at := strings.IndexAny(text, "-–—−")
	if at <= 0 {
		return false
	}
	_, size := utf8.DecodeRuneInString(text[at:])
	_, one := Tenths(strings.TrimSpace(text[:at]))
	_, two := Tenths(strings.TrimSpace(text[at+size:]))
	return one == "" && two == ""
}

// Tenths reads a number of scale units, with point or comma, to whole tenths. Numbers
// written finer are refused rather than rounded.
func Tenths(text string) (tenths int16, why string) {
	body := strings.Replace(text, ",", ".", 1)
	if body == "" || strings.Trim(body, "-0123456789.") != "" || len(body) > 8 {
		return 0, "This is no number."
	}
	x, err := strconv.ParseFloat(body, 64)
	if err != nil {
		return 0, "This is no number."
	}
	t := math.Round(x * 10)
	if math.Abs(x*10-t) > 1e-6 {
		return 0, "Readings are kept to a tenth of a scale unit; this one is written finer."
	}
	if math.Abs(t) > math.MaxInt16 {
		return 0, "This number is beyond any scale."
	}
	return int16(t), ""
}
