package report

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
)

// Difference is one part of a report whose words are not what they were.
type Difference struct {
	Where string // "inShort", "recommendations", a section's id
	Title string // as a reader knows it
	Runs  []DifferenceRun
}

// DifferenceRun is a stretch of words that stayed, went or came.
type DifferenceRun struct {
	Kind string // "same", "gone" or "new"
	Text string
}

// Differences tells which words of a report changed, part by part, in the order of the
// report as it is now; parts that are gone come last. Parts that say the same are left out.
func Differences(before, now Report) []Difference {
	old, cur := parts(before), parts(now)
	var out []Difference
	for _, p := range cur {
		was := ""
		if k := slices.IndexFunc(old, p.samePlace); k >= 0 {
			was = old[k].text
			if old[k].title != p.title {
				was = old[k].title + "\n" + was
				p.text = p.title + "\n" + p.text
			}
		}
		if was != p.text {
			out = append(out, Difference{p.where, p.title, wordRuns(was, p.text)})
		}
	}
	for _, p := range old {
		if !slices.ContainsFunc(cur, p.samePlace) {
			out = append(out, Difference{p.where, p.title, []DifferenceRun{{"gone", p.text}}})
		}
	}
	return out
}

// part is the words of one part of a report.
type part struct{ where, title, text string }

func (p part) samePlace(o part) bool { return p.where == o.where }

func parts(r Report) []part {
	var out []part
	add := func(where, title string, lines ...string) {
		if text := strings.Join(nonEmpty(lines...), "\n"); text != "" {
			out = append(out, part{where, title, text})
		}
	}
	add("title", "Title", r.Kind)
	add("inShort", "In short", Join(r.InShort))
	add("scope", "What was asked", Join(r.Scope))
	for k, x := range r.Recommendations {
		where := orElse(x.ID, at("recommendations", k))
		add(where, "What to do", strings.Join(nonEmpty(x.Grade.Words(), x.What, x.Because, string(x.Sure), x.Who, x.By, x.ClosedBy), "; "))
	}
	add("limits", "Limits", Join(r.Limits))
	add("boat", "The boat", factLines(r.Boat)...)
	add("taken", "How it was read", factLines(r.Taken)...)
	for k, f := range r.Findings {
		add(orElse(f.ID, at("findings", k)), fmt.Sprintf("Finding %d", f.Number), append([]string{f.Title, f.Where, string(f.Sure), Join(f.Text)}, factLines(f.Measured)...)...)
	}
	for k, s := range r.Sections {
		add(orElse(s.ID, at("sections", k)), s.Title, s.Text...)
	}
	for _, c := range r.Changes {
		add(c.ID, "Beside "+c.Since, Join(c.Said))
	}
	for k, p := range r.Photos {
		add(orElse(p.ID, at("photos", k)), fmt.Sprintf("Photo %d", p.Number), p.Caption)
	}
	if v := r.Valuation; v != nil {
		add("value", "Value", append([]string{v.Figure + ", " + v.Basis + ", on " + v.On, Join(v.Said)}, factLines(v.Comparables)...)...)
	}
	return out
}

func factLines(list []Fact) []string {
	var out []string
	for _, f := range list {
		out = append(out, f.Name+": "+f.Is)
	}
	return out
}

// mostWords is how many words of a part are set against each other, one by one; longer
// ones are told as gone and new.
const mostWords = 2000

// wordRuns sets two texts against each other, word by word, by their longest common
// subsequence: what is alike at both ends is taken off first.
func wordRuns(before, now string) []DifferenceRun {
	a, b := words(before), words(now)
	head := 0
	for head < len(a) && head < len(b) && a[head] == b[head] {
		head++
	}
	tail := 0
	for tail < len(a)-head && tail < len(b)-head && a[len(a)-1-tail] == b[len(b)-1-tail] {
		tail++
	}
	var runs []DifferenceRun
	put := func(kind string, list ...string) {
		if len(list) == 0 {
			return
		}
		text := strings.Join(list, "")
		if n := len(runs); n > 0 && runs[n-1].Kind == kind {
			runs[n-1].Text += text
			return
		}
		runs = append(runs, DifferenceRun{kind, text})
	}
	put("same", a[:head]...)
	x, y := a[head:len(a)-tail], b[head:len(b)-tail]
	if len(x) > mostWords || len(y) > mostWords {
		put("gone", x...)
		put("new", y...)
	} else {
		common(x, y, put)
	}
	put("same", a[len(a)-tail:]...)
	return runs
}

func common(x, y []string, put func(kind string, list ...string)) {
	longest := make([][]int16, len(x)+1) // longest[i][j]: of x[i:] and y[j:]
	for i := range longest {
		longest[i] = make([]int16, len(y)+1)
	}
	for i := len(x) - 1; i >= 0; i-- {
		for j := len(y) - 1; j >= 0; j-- {
			if x[i] == y[j] {
				longest[i][j] = longest[i+1][j+1] + 1
			} else {
				longest[i][j] = max(longest[i+1][j], longest[i][j+1])
			}
		}
	}
	i, j := 0, 0
	for i < len(x) || j < len(y) {
		switch {
		case i < len(x) && j < len(y) && x[i] == y[j]:
			put("same", x[i])
			i, j = i+1, j+1
		case i < len(x) && (j == len(y) || longest[i+1][j] >= longest[i][j+1]):
			put("gone", x[i])
			i++
		default:
			put("new", y[j])
			j++
		}
	}
}

// words parts a text after each stretch of white space, so that joined they are the text.
func words(text string) []string {
	var out []string
	from, space := 0, false
	for k, r := range text {
		if space && !unicode.IsSpace(r) {
			out = append(out, text[from:k])
			from = k
		}
		space = unicode.IsSpace(r)
	}
	if from < len(text) {
		out = append(out, text[from:])
	}
	return out
}
