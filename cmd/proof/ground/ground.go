// Package ground is what the proofs stand on: how one is asked for, what it reports, and
// a database to work in.
package ground

import (
	"context"
	"flag"
	"fmt"
	"strings"
)

// Proof is one proof or benchmark.
type Proof struct {
	Name  string
	Brief string
	Flags func(*flag.FlagSet) // its own flags; may be nil
	Run   func(context.Context, Options) (Report, error)

	// ShortSeed begins the short form where none is given. A proof that judges shares of a
	// few cases has one, so that nothing but a change of the program can break it; 0: any.
	ShortSeed uint64
}

// Options is what every proof is asked with.
type Options struct {
	Seed  uint64
	N     int // 0: the proof's own size
	Short bool
	Judge bool // whether times are judged
	Keep  bool
	Say   func(format string, args ...any) // progress
}

// Size is N, or what the proof takes in its long or short form.
func (o Options) Size(long, short int) int {
	switch {
	case o.N > 0:
		return o.N
	case o.Short:
		return short
	}
	return long
}

// Report is what a proof found.
type Report struct {
	Proof   string  `json:"proof"`
	Seed    uint64  `json:"seed"`
	Held    bool    `json:"held"`
	Claims  []Claim `json:"claims"`
	Figures any     `json:"figures,omitempty"`
	Notes   string  `json:"-"` // figures as a table, for people
}

// Claim is a promise with what was found.
type Claim struct {
	What  string `json:"what"`
	Found string `json:"found"`
	Holds bool   `json:"holds"`
	Time  bool   `json:"time"` // it is about time, and judged only where asked
}

// Claim adds a promise that counts something.
func (r *Report) Claim(holds bool, what, found string, args ...any) {
	r.Claims = append(r.Claims, Claim{What: what, Found: fmt.Sprintf(found, args...), Holds: holds})
}

// ClaimTime adds a promise about time.
func (r *Report) ClaimTime(holds bool, what, found string, args ...any) {
	r.Claim(holds, what, found, args...)
	r.Claims[len(r.Claims)-1].Time = true
}

// Text is the report for people.
func (r *Report) Text(judged bool) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s, seed %d\n%s", r.Proof, r.Seed, r.Notes)
	for _, c := range r.Claims {
		word := "held  "
		switch {
		case c.Time && !judged:
			word = "unjudged"
		case !c.Holds:
			word = "BROKEN"
		}
		fmt.Fprintf(&b, "  %-8s %s: %s\n", word, c.What, c.Found)
	}
	return b.String()
}
