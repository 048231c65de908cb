package practice

import (
	"bytes"
	"cmp"
	"slices"
	"strings"
	"unicode"

	"github.com/google/uuid"
)

// What makes two entries look like one is the practice of offices and has no source:
// the same address of mail, the same last seven digits of a telephone number, the same
// words of a name in any order, an initial for a word, or one letter's difference.

// mostDoubles bounds the pairs that are shown at once.
const mostDoubles = 100

// crowd is how many entries may share a word before it says nothing of who they are.
const crowd = 100

// likelyDoubles pairs entries that look like one, those with most in common first.
//
//	all    entries, any order
//	apart  pairs that somebody found to be two, the lower id first
func likelyDoubles(all []Party, apart [][2]uuid.UUID) []Double {
	seen := map[[2]uuid.UUID]bool{}
	for _, pair := range apart {
		seen[pair] = true
	}
	var list []Double
	for _, bucket := range buckets(all) {
		for i, a := range bucket {
			for _, b := range bucket[i+1:] {
				pair := [2]uuid.UUID{a.ID, b.ID}
				if bytes.Compare(a.ID[:], b.ID[:]) > 0 {
					pair = [2]uuid.UUID{b.ID, a.ID}
				}
				if seen[pair] {
					continue
				}
				seen[pair] = true
				if because := inCommon(a, b); len(because) > 0 && (a.Kind == b.Kind || len(because) > 1) {
					list = append(list, Double{First: a, Second: b, Because: because})
				}
			}
		}
	}
	slices.SortFunc(list, func(a, b Double) int {
		return cmp.Or(len(b.Because)-len(a.Because), cmp.Compare(a.First.Name, b.First.Name), bytes.Compare(a.First.ID[:], b.First.ID[:]), bytes.Compare(a.Second.ID[:], b.Second.ID[:]))
	})
	return list[:min(len(list), mostDoubles)]
}

// buckets groups entries that share a mail address, a telephone number or a word of their
// names: only within a group can two be alike.
func buckets(all []Party) map[string][]Party {
	by := map[string][]Party{}
	for _, p := range all {
		keys := map[string]bool{"@" + mailKey(p.Email): p.Email != "", "#" + phoneKey(p.Phone): phoneKey(p.Phone) != ""}
		for _, word := range nameWords(p.Name) {
			keys[word] = true
			keys["^"+word[:1]] = len(nameWords(p.Name)) == 1 // one word alone may differ by a letter
		}
		for key, holds := range keys {
			if holds {
				by[key] = append(by[key], p)
			}
		}
	}
	for key, list := range by {
		if len(list) > crowd {
			delete(by, key)
		}
	}
	return by
}

// inCommon says what two entries have in common.
func inCommon(a, b Party) []string {
	var list []string
	if a.Email != "" && mailKey(a.Email) == mailKey(b.Email) {
		list = append(list, "The same e-mail address.")
	}
	if key := phoneKey(a.Phone); key != "" && key == phoneKey(b.Phone) {
		list = append(list, "The same telephone number.")
	}
	if text := nameAlike(a.Name, b.Name); text != "" {
		list = append(list, text)
	}
	return list
}

func mailKey(email string) string { return strings.ToLower(strings.TrimSpace(email)) }

// phoneKey is the end of a number, which is the same with and without the code of a
// country; empty where there are too few digits to tell anything.
func phoneKey(phone string) string {
	digits := strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' {
			return r
		}
		return -1
	}, phone)
	if len(digits) < 7 {
		return ""
	}
	return digits[len(digits)-7:]
}

// titles and legal forms say nothing of who somebody is.
var unsaying = map[string]bool{
	"mr": true, "mrs": true, "ms": true, "miss": true, "dr": true, "prof": true, "capt": true, "captain": true, "the": true, "and": true,
	"ltd": true, "limited": true, "llc": true, "inc": true, "plc": true, "gmbh": true, "ag": true, "bv": true, "sa": true, "sarl": true, "srl": true, "co": true, "company": true,
}

// plain letters for those with marks, of the languages that boats are mostly registered in.
var plain = strings.NewReplacer("ä", "ae", "ö", "oe", "ü", "ue", "ß", "ss", "å", "aa", "æ", "ae", "ø", "oe", "é", "e", "è", "e", "ê", "e", "ë", "e",
	"á", "a", "à", "a", "â", "a", "ã", "a", "í", "i", "ì", "i", "î", "i", "ï", "i", "ó", "o", "ò", "o", "ô", "o", "õ", "o", "ú", "u", "ù", "u", "û", "u", "ç", "c", "ñ", "n")

// nameWords are the words of a name in plain small letters, sorted, each once.
func nameWords(name string) []string {
	words := strings.FieldsFunc(plain.Replace(strings.ToLower(name)), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	words = slices.DeleteFunc(words, func(w string) bool { return unsaying[w] })
	slices.Sort(words)
	return slices.Compact(words)
}

// nameAlike says how two names are alike, or nothing.
func nameAlike(a, b string) string {
	x, y := nameWords(a), nameWords(b)
	if len(x) == 0 || len(y) == 0 {
		return ""
	}
	if slices.Equal(x, y) {
		return "The same name."
	}
	shared := func(w []string, in []string) []string {
		return slices.DeleteFunc(slices.Clone(w), func(one string) bool { return slices.Contains(in, one) })
	}
	left, right := shared(x, y), shared(y, x)
	if len(left) != 1 || len(right) != 1 {
		return ""
	}
	p, q := left[0], right[0]
	switch {
	case (len(p) == 1 || len(q) == 1) && p[0] == q[0] && len(x) > 1:
		return "A name and an initial that fit."
	case min(len(p), len(q)) >= 4 && oneSlip(p, q):
		return "Names that differ by a letter."
	}
	return ""
}

// oneSlip tells whether one letter put in, left out, changed or two swapped make b of a.
func oneSlip(a, b string) bool {
	x, y := []rune(a), []rune(b)
	if len(x) > len(y) {
		x, y = y, x
	}
	k := 0
	for k < len(x) && x[k] == y[k] {
		k++
	}
	switch rest := x[k:]; {
	case len(y) == len(x)+1:
		return slices.Equal(rest, y[k+1:])
	case len(y) != len(x):
		return false
	case len(rest) < 2:
		return true
	default:
		swapped := rest[0] == y[k+1] && rest[1] == y[k] && slices.Equal(rest[2:], y[k+2:])
		return swapped || slices.Equal(rest[1:], y[k+1:])
	}
}
