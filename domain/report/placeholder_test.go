package report

import (
	"slices"
	"strings"
	"testing"
)

func TestFill(t *testing.T) {
	t.Parallel()
	with := []Placeholder{{"vessel", "Tamsel {client}"}, {"client", ""}, {"date", "14 October 2026"}}
	for _, c := range []struct {
		text, want string
		gaps       []Unfilled
	}{
		{"On {date} {vessel} lay ashore.", "On 14 October 2026 Tamsel {client} lay ashore.", nil},
		{"For { Client }, and for {client}.", "For [client], and for [client].", []Unfilled{{"client", true}}},
		{"Seen by {nobody}.", "Seen by [nobody].", []Unfilled{{"nobody", false}}},
		{"Braces {} and { stay.", "Braces {} and { stay.", nil},
		{"", "", nil},
	} {
		got, gaps := Fill(c.text, with)
		if got != c.want || !slices.Equal(gaps, c.gaps) {
			t.Errorf("%q: %q %v, want %q %v", c.text, got, gaps, c.want, c.gaps)
		}
	}
}

// However it is written, nothing but a placeholder is touched.
func FuzzFill(f *testing.F) {
	f.Add("{vessel} {client}{")
	f.Add("{{vessel}}")
	f.Fuzz(func(t *testing.T, text string) {
		got, gaps := Fill(text, []Placeholder{{"vessel", "Tamsel"}})
		if !strings.ContainsRune(text, '{') && (got != text || gaps != nil) {
			t.Errorf("%q became %q, %v", text, got, gaps)
		}
		if len(gaps) == 0 && strings.Contains(got, "{vessel}") && !strings.Contains(text, "{{") {
			t.Errorf("%q left a placeholder unfilled: %q", text, got)
		}
	})
}
