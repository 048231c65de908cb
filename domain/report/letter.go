package report

import (
	"fmt"
	"strings"
)

// Letter is a letter to an insurer or lender: of each recommendation what was seen, and
// of the rest that nothing was.
type Letter struct {
	Practice   Practice     `json:"practice"`
	To         string       `json:"to"`
	Reference  string       `json:"reference,omitempty"`
	Vessel     string       `json:"vessel"`
	HullNumber string       `json:"hullNumber,omitempty"`
	On         string       `json:"on"`
	Opening    []Sentence   `json:"opening"`
	Lines      []LetterLine `json:"lines"`
	Closing    []Sentence   `json:"closing"`
	By         string       `json:"by"`
	Invented   string       `json:"invented,omitempty"`
}

// LetterLine is one recommendation and what was seen of it.
type LetterLine struct {
	Grade string     `json:"grade"` // in words
	What  string     `json:"what"`
	First string     `json:"first,omitempty"` // the report it was issued in
	Said  []Sentence `json:"said"`
}

// LetterInput is what a letter is built from.
type LetterInput struct {
	Practice                                  Practice
	To, Reference, Vessel, HullNumber, On, By string
	Invented                                  bool
	Followed                                  []FollowedInput
}

// FollowedInput is a recommendation with its story.
type FollowedInput struct {
	Grade    Grade
	What     string
	State    string
	Steps    []StepInput // oldest first
	Evidence []EvidenceInput
}

// StepInput is a state that it came to.
type StepInput struct{ State, On, By, Reason string }

// EvidenceInput is what was shown or seen, and on which day it came here. An invoice may
// bear a day of its own, empty where nobody noted it.
type EvidenceInput struct{ Kind, Text, By, On, Bears string }

// BuildLetter words a letter: pure, the same for the same input.
func BuildLetter(in LetterInput) Letter {
	l := Letter{
		Practice: in.Practice, To: in.To, Reference: in.Reference, Vessel: in.Vessel, HullNumber: in.HullNumber, On: in.On, By: in.By,
		Opening: []Sentence{LetterTells(in.Vessel, in.On)}, Closing: LetterCloses(),
	}
	if in.Invented {
		l.Invented = "An invented practice, harbour, boats and people: a demonstration."
	}
	for _, f := range in.Followed {
		l.Lines = append(l.Lines, f.line())
	}
	return l
}

func (f FollowedInput) line() LetterLine {
	out := LetterLine{Grade: f.Grade.Words(), What: f.What}
	var seen *StepInput
	for k, s := range f.Steps {
		switch s.State {
		case "issued":
			out.First = strings.TrimPrefix(s.Reason, "report ")
		case "seen done":
			seen = &f.Steps[k]
		case "reopened", "not seen":
			seen = nil
		}
	}
	last := StepInput{State: f.State}
	if n := len(f.Steps); n > 0 {
		last = f.Steps[n-1]
	}
	out.Said = append(out.Said, Followed(f.State, last, seen))
	for _, e := range f.Evidence {
		out.Said = append(out.Said, Shown(e))
	}
	return out
}

// Followed says how far a recommendation has got, as far as anybody of the practice saw.
func Followed(state string, last StepInput, seen *StepInput) Sentence {
	switch {
	case seen != nil:
		return Say(WasSeen, fmt.Sprintf("*Seen done* by %s on %s.", seen.By, seen.On))
	case state == "claimed done":
		return Say(Untold, fmt.Sprintf("*Said to be done* on %s; this practice has not seen it.", last.On))
	case state == "not seen":
		return Say(WasSeen, fmt.Sprintf("Looked for by %s on %s: *not seen done*.", last.By, last.On))
	case state == "declined":
		return Say(Untold, fmt.Sprintf("*Not taken up* when last heard, on %s.", last.On))
	case state == "closed":
		return Say(Untold, fmt.Sprintf("Closed in the practice’s book on %s; *not seen done*.", last.On))
	}
	return Say(Untold, "*Open*: this practice has seen nothing done about it.")
}

// Shown says what was shown or seen of it, and what that does not tell.
func Shown(e EvidenceInput) Sentence {
	with := ""
	if e.Text != "" {
		with = " (" + strings.TrimSuffix(strings.ReplaceAll(e.Text, "*", "∗"), ".") + ")"
	}
	switch e.Kind {
	case "reinspection":
		return Say(WasSeen, fmt.Sprintf("Looked at in a visit on %s%s.", e.On, with))
	case "photo":
		return Say(WasSeen, fmt.Sprintf("A photo is kept, added on %s%s; it shows what it shows.", e.On, with))
	case "invoice":
		shown := "An invoice was shown on " + e.On
		if e.Bears != "" {
			shown = "An invoice of " + e.Bears + " was shown"
		}
		return Say(QuotedFrom, shown+with+"; it tells what was charged, not what was done.")
	}
	return Say(QuotedFrom, fmt.Sprintf("Told on %s%s; not seen.", e.On, with))
}

// LetterTells opens a letter.
func LetterTells(vessel, on string) Sentence {
	return Say(WasSeen, fmt.Sprintf("This letter tells what this practice has seen, up to %s, of what it recommended for %s in reports that were issued.", on, vessel))
}

// LetterCloses says what a letter is not.
func LetterCloses() []Sentence {
	return []Sentence{
		Say(Caution, "It says nothing of what was not looked at, and stands in place of no survey."),
		Say(Caution, "It is an account of what was seen on the days named and not a certificate of seaworthiness, class or compliance."),
	}
}

// DangerNotice words a notice that is limited to one danger.
func DangerNotice(vessel, yard, on, what, reason, practice, phone string) string {
	where := ""
	if yard != "" {
		where = ", " + yard
	}
	said := strings.TrimSuffix(strings.TrimSpace(what), ".")
	if reason = strings.TrimSuffix(strings.TrimSpace(reason), "."); reason != "" {
		said = reason + ". What to do first: " + said
	}
	return strings.Join([]string{
		fmt.Sprintf("%s%s, %s.", vessel, where, on),
		fmt.Sprintf("A danger to people or to the boat was seen: %s.", said),
		"Keep clear and stop work there until made safe by somebody who is entitled and able to. Local rules and whoever is in charge of the place come first.",
		"This notice is about this danger alone. It is no survey, it speaks of nothing else on board, and no notice says that a place is safe.",
		strings.TrimSpace(practice+", "+phone) + ".",
	}, "\n\n")
}
