package hullnumber

import (
	"strings"
	"unicode"
)

// plain fills Plain from AsRead and says what was changed on the way. It returns
// whether a single hyphen followed the first two characters, as the international
// layout writes it.
func (n *Number) plain() (hyphenAfterCountry bool) {
	text := strings.TrimSpace(n.AsRead)
	var b strings.Builder
	var separators, folded, foreign, small bool
	for _, r := range text {
		if r >= 0xFF01 && r <= 0xFF5E { // full-width forms stand at a fixed distance from ASCII
			r -= 0xFEE0
			folded = true
		}
		switch {
		case r == '-' && b.Len() == 2 && !hyphenAfterCountry && !separators:
			hyphenAfterCountry = true
		case r == '-' || r == '/' || r == '.' || r == '_' || unicode.IsSpace(r) || unicode.Is(unicode.Pd, r):
			separators = true
		case r >= 'a' && r <= 'z':
			small = true
			b.WriteRune(r - 'a' + 'A')
		case r >= 'A' && r <= 'Z' || r >= '0' && r <= '9':
			b.WriteRune(r)
		default:
			foreign = true
			b.WriteRune(r)
		}
	}
	n.Plain = b.String()
	if n.Plain == "" {
		n.warn("empty", "No number was given. Record where it was looked for and that none was found.")
		return false
	}
	if small {
		n.note("small-letters", "Small letters were read as capitals.")
	}
	if separators {
		n.note("separators", "Spaces, hyphens, slashes or points were left out for reading; the number itself has none but the hyphen after a country code.")
	}
	if folded || foreign {
		n.warn("not-plain-characters", "It contains characters other than the letters A to Z and the digits 0 to 9. Compare it with the boat.")
	}
	return hyphenAfterCountry
}

// confusions gives, for what was read, what may have been meant where only letters or
// only digits can stand. Common practice, no source.
var (
	meantDigit  = map[byte]byte{'O': '0', 'Q': '0', 'D': '0', 'I': '1', 'L': '1', 'Z': '2', 'S': '5', 'G': '6', 'B': '8'}
	meantSerial = map[byte]byte{'O': '0', 'Q': '0', 'I': '1'}
	meantMonth  = map[byte]byte{'1': 'I', '8': 'B', '0': 'D', '6': 'G'}
)

// lookAlikes gives the well-formed numbers that differ from plain only in characters
// easily taken for one another, at most two of them, where plain is not well-formed
// itself.
func lookAlikes(plain string) []string {
	prefix, body := "", plain
	if len(plain) == 14 && isLetter(plain[0]) && isLetter(plain[1]) {
		prefix, body = plain[:2]+"-", plain[2:]
	}
	if len(body) != 12 {
		return nil
	}
	var found []string
	for _, form := range []string{"sssssADdd", "sssssmmdd", "sssssMddA"} {
		if form != "sssssADdd" && prefix != "" {
			continue // the older layouts never had a country
		}
		if fixed, changed, ok := undo(body, form); ok {
			if changed == 0 {
				return nil
			}
			found = append(found, prefix+fixed)
		}
	}
	return found
}

// undo makes body fit form, whose letters name what may stand at positions 4 to 12.
func undo(body, form string) (fixed string, changed int, ok bool) {
	b := []byte(body)
	for i := range b[3:] {
		c, at := b[3+i], 3+i
		fits, meant := allowed(form[i], c)
		if fits {
			continue
		}
		if meant == 0 || changed == 2 {
			return "", 0, false
		}
		b[at] = meant
		changed++
	}
	if form[5] == 'm' {
		if month := string(b[8:10]); month < "01" || month > "12" {
			return "", 0, false
		}
	}
	for _, c := range b[:3] {
		if !isLetter(c) && !isDigit(c) {
			return "", 0, false
		}
	}
	return string(b), changed, true
}

// allowed tells whether c may stand where kind is asked for, and if not what it may be
// a slip for.
func allowed(kind, c byte) (fits bool, meant byte) {
	switch kind {
	case 's':
		return (isLetter(c) || isDigit(c)) && meantSerial[c] == 0, meantSerial[c]
	case 'A':
		return c >= 'A' && c <= 'L', meantMonth[c]
	case 'M':
		return c == 'M', 0
	default:
		return isDigit(c), meantDigit[c]
	}
}

func isLetter(c byte) bool { return c >= 'A' && c <= 'Z' }
func isDigit(c byte) bool  { return c >= '0' && c <= '9' }
