package report

import "strings"

// Claim is the kind of claim a sentence makes: what a reader may hold it to.
type Claim string

// The kinds of claim.
const (
	Measured   Claim = "measured"   // what instruments said on the day
	WasSeen    Claim = "seen"       // seen, heard, smelt or opened
	Compared   Claim = "compared"   // a difference that the gate let through
	NotShown   Claim = "not shown"  // compared, and no change shown
	Untold     Claim = "untold"     // cannot be said, and why
	Bounded    Claim = "bounded"    // a limit computed from what was looked at
	Modelled   Claim = "modelled"   // from a physical model, with its band
	ToDo       Claim = "to do"      // what is recommended
	NotLooked  Claim = "not looked" // not reached, opened or permitted
	Agreed     Claim = "agreed"     // scope and terms
	QuotedFrom Claim = "quoted"     // from somebody else's paper or word
	Opinion    Claim = "opinion"    // the surveyor's own words
	Caution    Claim = "caution"
)

// Sentence is one statement with its kind of claim and where its proof lies.
type Sentence struct {
	Claim Claim    `json:"claim"`
	Runs  []Run    `json:"runs"`
	See   []string `json:"see,omitempty"` // ids of plates, tables, findings, photos
}

// Run is a stretch of text of one weight.
type Run struct {
	Text   string `json:"text"`
	Strong bool   `json:"strong,omitempty"`
}

// Text is the sentence without its weights.
func (s Sentence) Text() string {
	var b strings.Builder
	for _, r := range s.Runs {
		b.WriteString(r.Text)
	}
	return b.String()
}

// Proved gives the sentence with the ids of what stands behind it.
func (s Sentence) Proved(ids ...string) Sentence {
	s.See = append(s.See[:len(s.See):len(s.See)], ids...)
	return s
}

// Say makes a sentence of a text in which *asterisks* mark what is strong.
func Say(c Claim, text string) Sentence {
	s := Sentence{Claim: c}
	for i, part := range strings.Split(text, "*") {
		if part != "" {
			s.Runs = append(s.Runs, Run{Text: part, Strong: i%2 == 1})
		}
	}
	return s
}

// Own is the surveyor's own text, kept as written.
func Own(text string) Sentence {
	return Sentence{Claim: Opinion, Runs: []Run{{Text: text}}}
}

// Join puts sentences into one text, a space between them.
func Join(list []Sentence) string {
	parts := make([]string, 0, len(list))
	for _, s := range list {
		parts = append(parts, s.Text())
	}
	return strings.Join(parts, " ")
}
