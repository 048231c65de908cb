package figure

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"unicode/utf8"
)

// SpecError lists everything that is wrong with a spec, by field.
type SpecError struct{ Problems []Problem }

// Problem is one field of a spec and what to do about it.
type Problem struct {
	Field string `json:"field"`
	Text  string `json:"text"`
}

func (e *SpecError) Error() string {
	said := make([]string, len(e.Problems))
	for i, p := range e.Problems {
		said[i] = p.Field + " " + p.Text
	}
	return "hull figure: " + strings.Join(said, "; ")
}

// Parse reads a spec from JSON, refuses unknown fields and validates it.
func Parse(text []byte) (Spec, error) {
	var s Spec
	d := json.NewDecoder(strings.NewReader(string(text)))
	d.DisallowUnknownFields()
	if err := d.Decode(&s); err != nil {
		return Spec{}, &SpecError{[]Problem{{"spec", "cannot be read: " + err.Error()}}}
	}
	return s, s.Validate()
}

// Limits of a figure. They keep a drawing possible; they are no opinion on boats.
const (
	maxHung  = 8
	maxWords = 60
)

// Validate returns nil or a *SpecError.
func (s Spec) Validate() error {
	c := &check{}
	c.between("lwl", s.LWL, 1.5, 60)
	if len(c.problems) > 0 { // everything below is measured against it
		return &SpecError{c.problems}
	}
	c.between("aft", s.Aft, 0, s.LWL/2)
	c.between("fore", s.Fore, 0, s.LWL/2)
	c.between("beam", s.Beam, 0.3, s.LWL)
	c.between("body", s.Body, 0.03, s.LWL/2)
	for i, name := range []string{"freeboard[0]", "freeboard[1]", "freeboard[2]"} {
		c.between(name, s.Freeboard[i], 0.1, 8)
	}
	c.between("counter", s.Counter, 0, s.Freeboard[0])
	c.curve("plan", s.Plan)
	c.curve("profile", s.Profile)
	s.validateSection(c)
	s.validateKeels(c)
	s.validateHung(c)
	if s.Cut != 0 {
		c.between("cut", s.Cut, 0.15, 10)
	}
	if len(c.problems) > 0 {
		return &SpecError{c.problems}
	}
	return nil
}

func (s Spec) validateSection(c *check) {
	switch {
	case s.Chine == nil:
		c.between("section", s.Section, 1, 6)
	case s.Section != 0:
		c.say("section", "stands beside chine: give one of the two")
	default:
		c.between("chine[0]", s.Chine[0], 0.2, 1)
		c.between("chine[1]", s.Chine[1], 0, 0.9)
	}
}

func (s Spec) validateKeels(c *check) {
	if k := s.Keel; k != nil {
		c.between("keel.heel", k.Heel, 0, s.LWL)
		c.between("keel.forefoot", k.Forefoot, k.Heel+0.2, s.LWL)
		c.between("keel.ramp", k.Ramp, 0.1, s.LWL)
		c.between("keel.depth", k.Depth, 0, s.LWL/2)
	}
	if b := s.Bilge; b != nil {
		c.between("bilge.from", b.From, 0, s.LWL)
		c.between("bilge.to", b.To, b.From+0.1, s.LWL)
		c.between("bilge.out", b.Out, 0.1, 0.95)
		c.between("bilge.thick", b.Thick, 0.02, 1)
		c.between("bilge.span", b.Span, 0.05, s.LWL/2)
		c.words("bilge.name", b.Name)
	}
}

func (s Spec) validateHung(c *check) {
	if len(s.Hung) > maxHung {
		c.say("hung", fmt.Sprintf("has %d parts; a figure takes %d", len(s.Hung), maxHung))
	}
	for i, h := range s.Hung {
		field := fmt.Sprintf("hung[%d]", i)
		c.words(field+".name", h.Name)
		c.between(field+".span", h.Span, 0.02, s.LWL/2)
		c.between(field+".at[0]", h.At[0], -s.Aft-0.6, s.LWL)
		c.between(field+".at[1]", h.At[1], h.At[0]+0.02, s.LWL+s.Fore)
		c.between(field+".at[2]", h.At[2], -s.Aft-1, s.LWL)
		c.between(field+".at[3]", h.At[3], h.At[2]+0.02, s.LWL+s.Fore)
	}
}

type check struct{ problems []Problem }

func (c *check) say(field, text string) { c.problems = append(c.problems, Problem{field, text}) }

func (c *check) between(field string, v, lo, hi float64) {
	switch {
	case math.IsNaN(v) || math.IsInf(v, 0):
		c.say(field, "is not a number")
	case lo > hi:
		c.say(field, "has no room left by the fields before it")
	case v < lo || v > hi:
		c.say(field, fmt.Sprintf("is %s; give %s to %s", short(v), short(lo), short(hi)))
	}
}

func (c *check) curve(field string, v Curve) {
	c.between(field+".peak", v.Peak, 0.05, 0.95)
	c.between(field+".aft", v.Aft, 0, 1)
	c.between(field+".fore", v.Fore, 0, 1)
	c.between(field+".pa", v.PA, 1, 6)
	c.between(field+".pf", v.PF, 1, 6)
}

func (c *check) words(field, v string) {
	if utf8.RuneCountInString(v) > maxWords {
		c.say(field, fmt.Sprintf("is longer than %d characters", maxWords))
	}
	if strings.ContainsFunc(v, func(r rune) bool { return r < ' ' }) {
		c.say(field, "holds a line break or control character")
	}
}

// short writes a length as a person would: no more than two decimals.
func short(v float64) string {
	t := fmt.Sprintf("%.2f", v)
	return strings.TrimSuffix(strings.TrimRight(t, "0"), ".")
}
