package cause

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"boottop.example/practice/domain"
)

// ErrUnknownSign says that a fact names a sign that is not in the table.
var ErrUnknownSign = errors.New("this sign is not in the table")

// Fact is a sign that holds, with its evidence.
type Fact struct {
	Sign   SignCode
	Detail string       // figures and words of this case: "median 14.2 above its surroundings"
	Places []int32      // ordinals it speaks of; none: the hull at large
	See    []domain.Ref // passes, findings, layers, windows, events, checks
}

// key tells facts apart; the same evidence told twice is one line.
func (f Fact) key() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s|%s|%v", f.Sign, f.Detail, f.Places)
	for _, r := range f.See {
		b.WriteByte('|')
		b.WriteString(r.String())
	}
	return b.String()
}

// State is how far the evidence has come for a cause.
type State string

// The states.
const (
	Confirmed    State = "confirmed"      // a sample, or a place that was opened
	Likely       State = "likely"         // two independent families of evidence agree
	PointTowards State = "points-towards" // something points towards it
	Live         State = "live"           // nothing points towards it; not excluded
	Excluded     State = "excluded"       // actively excluded
)

var states = []State{Confirmed, Likely, PointTowards, Live, Excluded}

// Line is a fact as it bears on one cause.
type Line struct {
	Fact
	Text   string // the sign's
	Family Family
	Source string // row of the trade notes
	Opens  bool   // it confirms: a sample, or a place that was opened
	Shuts  bool   // it excludes
}

// Entry is a cause of the ledger with its evidence.
type Entry struct {
	Cause    Cause
	State    State
	For      []Line
	Against  []Line   // excluding lines among them
	NotDone  []Check  // that would bear on it
	Unsaid   []Line   // what could not be looked for, Detail saying why
	Families []Family // of what points towards it
}

// Ledger is what the evidence says of one matter: the hull at large, or a patch.
type Ledger struct {
	Entries []Entry  // live causes first, as they rank; then the excluded
	Unnamed []Line   // what points towards something that the catalogue does not hold
	Next    []Choice // checks not done, best first
}

// Live gives the causes that are not excluded, as they rank.
func (l Ledger) Live() []Entry {
	k := slices.IndexFunc(l.Entries, func(e Entry) bool { return e.State == Excluded })
	if k < 0 {
		return l.Entries
	}
	return l.Entries[:k]
}

// Build keeps the ledger of some facts, in any order; the same fact twice counts once.
// Signs that could not be looked for come as unsaid, their Detail saying why; they weigh
// nothing and stand beside what was not done.
//
// A cause is confirmed by a sample or an opened place. It is likely where two families
// of evidence besides records point towards it, by lines that no live mimic would
// explain as well, one of them towards no other cause at all, and more lines speak for
// it than against it. Water in the laminate asks for more: lines that no mimic of the
// catalogue would explain, and no live mimic that the evidence does not let go of (see
// mimics). A cause is excluded by an excluding line, unless a line of the same check says
// the contrary or it is confirmed; a mimic that something points towards only where a second
// family speaks against it, or where figures held against a limit exclude it. Live causes rank by state, then by the families that point
// towards them, records counted after all others, by lines for less lines against, by
// how few causes those lines point towards, and last as the catalogue has them. The
// ranking is this project's own.
//
// Errors: ErrUnknownSign.
func Build(facts []Fact, unsaid ...Fact) (Ledger, error) {
	facts, held, err := settled(facts)
	if err != nil {
		return Ledger{}, err
	}
	unsaid, open, err := settled(unsaid)
	if err != nil {
		return Ledger{}, err
	}
	l := Ledger{}
	var live []Cause
	for _, c := range catalogue {
		e := entry(c, facts, held)
		for k, s := range open {
			if says(s, c.Code) != nothing {
				e.Unsaid = append(e.Unsaid, line(unsaid[k], s))
			}
		}
		if e.State = e.state(nil); e.State != Excluded {
			live = append(live, c)
		}
		l.Entries = append(l.Entries, e)
	}
	mimicked := slices.ContainsFunc(l.Entries, Entry.mimics)
	for k, e := range l.Entries {
		if l.Entries[k].State = e.state(live); l.Entries[k].State == Likely && e.Cause.Wet && mimicked {
			l.Entries[k].State = PointTowards
		}
	}
	for k, s := range held {
		if s.Points != "" {
			l.Unnamed = append(l.Unnamed, line(facts[k], s))
		}
	}
	slices.SortStableFunc(l.Entries, rank)
	l.Next = next(l.Live(), undone(held))
	return l, nil
}

// settled puts facts in order, each once, with its sign.
func settled(facts []Fact) ([]Fact, []Sign, error) {
	facts = slices.Clone(facts)
	slices.SortFunc(facts, func(a, b Fact) int { return cmp.Compare(a.key(), b.key()) })
	facts = slices.CompactFunc(facts, func(a, b Fact) bool { return a.key() == b.key() })
	held := make([]Sign, len(facts))
	for k, f := range facts {
		s, known := SignOf(f.Sign)
		if !known {
			return nil, nil, fmt.Errorf("%q: %w", f.Sign, ErrUnknownSign)
		}
		held[k] = s
	}
	return facts, held, nil
}

func entry(c Cause, facts []Fact, held []Sign) Entry {
	e := Entry{Cause: c}
	for k, s := range held {
		x := line(facts[k], s)
		x.Opens, x.Shuts = slices.Contains(s.Confirms, c.Code), slices.Contains(s.Excludes, c.Code)
		switch {
		case slices.Contains(s.For, c.Code):
			e.For = append(e.For, x)
		case x.Shuts, slices.Contains(s.Against, c.Code):
			e.Against = append(e.Against, x)
		}
	}
	for _, f := range Families() {
		if slices.ContainsFunc(e.For, func(x Line) bool { return x.Family == f }) {
			e.Families = append(e.Families, f)
		}
	}
	for _, k := range undone(held) {
		if bears(k, c.Code) {
			e.NotDone = append(e.NotDone, k)
		}
	}
	return e
}

func line(f Fact, s Sign) Line {
	return Line{Fact: f, Text: s.Text, Family: s.Family, Source: s.Source}
}

// state weighs the lines beside the causes that are live.
func (e Entry) state(live []Cause) State {
	switch {
	case slices.ContainsFunc(e.For, func(x Line) bool { return x.Opens }):
		return Confirmed
	case e.shut():
		return Excluded
	case e.naming(live) >= 2 && e.single() && len(e.For) > len(e.Against):
		return Likely
	case len(e.For) > 0:
		return PointTowards
	default:
		return Live
	}
}

// naming counts the families that could name the cause: those of which a line points
// towards no mimic as well, unless the cause is a mimic itself. For water in the laminate
// that is any mimic, excluded or not: such a line is why the question is asked, and does
// not answer it. For other causes it is one that is still live.
func (e Entry) naming(live []Cause) (n int) {
	if e.Cause.Wet {
		live = catalogue
	}
	for _, f := range e.Families {
		own := slices.ContainsFunc(e.For, func(x Line) bool { return x.Family == f && (e.Cause.Artefact || !x.mimicked(live)) })
		if f.Names() && own {
			n++
		}
	}
	return n
}

// single tells whether a line of a family that names points towards this cause alone.
func (e Entry) single() bool {
	return slices.ContainsFunc(e.For, func(x Line) bool { return x.Family.Names() && x.alone() })
}

// alone tells whether the line points towards one cause and no other.
func (x Line) alone() bool {
	s, _ := SignOf(x.Sign)
	return len(s.For) == 1
}

// mimics tells whether this is a mimic that nothing excluded and that the evidence does not
// let go of: a line, records too, points towards it alone; or more speaks for it than
// against it, a family besides records among it.
func (e Entry) mimics() bool {
	if !e.Cause.Artefact || e.State == Excluded {
		return false
	}
	alone := slices.ContainsFunc(e.For, Line.alone)
	return alone || e.pointed() > 0 && len(e.For) > len(e.Against)
}

// pointed counts the families of evidence besides records that point towards the cause.
func (e Entry) pointed() (n int) {
	for _, f := range e.Families {
		if f.Names() {
			n++
		}
	}
	return n
}

// mimicked tells whether the line points towards a live mimic too.
func (x Line) mimicked(live []Cause) bool {
	s, _ := SignOf(x.Sign)
	return slices.ContainsFunc(live, func(c Cause) bool { return c.Artefact && slices.Contains(s.For, c.Code) })
}

// shut tells whether something excludes the cause that no other outcome of the same
// check contradicts. As it takes two families of evidence to call a cause likely, it takes
// two to exclude a mimic that something points towards: what somebody saw or read once may
// be wrong. Figures that the service holds against a limit exclude by themselves.
func (e Entry) shut() bool {
	return slices.ContainsFunc(e.Against, func(x Line) bool {
		if !x.Shuts || slices.ContainsFunc(e.For, func(y Line) bool { return sameCheck(x.Sign, y.Sign) }) {
			return false
		}
		s, _ := SignOf(x.Sign)
		return !e.Cause.Artefact || s.Figures || len(e.For) == 0 || slices.ContainsFunc(e.Against, func(y Line) bool { return y.Family != x.Family })
	})
}

func sameCheck(a, b SignCode) bool {
	x, _ := SignOf(a)
	y, _ := SignOf(b)
	return x.Check != "" && x.Check == y.Check
}

// rank puts the better supported first.
func rank(a, b Entry) int {
	return cmp.Or(
		cmp.Compare(slices.Index(states, a.State), slices.Index(states, b.State)),
		cmp.Compare(b.pointed(), a.pointed()),
		cmp.Compare(len(b.Families), len(a.Families)),
		cmp.Compare(len(b.For)-len(b.Against), len(a.For)-len(a.Against)),
		cmp.Compare(b.sharpness(), a.sharpness()),
	)
}

// sharpness counts each line for a cause as its share among the causes it points towards.
func (e Entry) sharpness() float64 {
	sum := 0.0
	for _, x := range e.For {
		s, _ := SignOf(x.Sign)
		sum += 1 / float64(len(s.For))
	}
	return sum
}

// undone lists the checks of which no outcome is among the signs and which make sense
// with them: nobody withdraws a fitting where there is none.
func undone(held []Sign) (out []Check) {
	for _, c := range checks {
		done := slices.ContainsFunc(held, func(s Sign) bool { return s.Check == c.Code })
		apt := len(c.Needs) == 0 || slices.ContainsFunc(held, func(s Sign) bool { return slices.Contains(c.Needs, s.Code) })
		if !done && apt {
			out = append(out, c)
		}
	}
	return out
}

// bears tells whether an outcome of the check says anything of a cause.
func bears(c Check, of Code) bool {
	return slices.ContainsFunc(outcomes()[c.Code], func(s Sign) bool { return says(s, of) != nothing })
}

// saying is what a sign says of a cause.
type saying int

const (
	against saying = iota - 1
	nothing
	favours
)

func says(s Sign, of Code) saying {
	switch {
	case slices.Contains(s.For, of), slices.Contains(s.Confirms, of):
		return favours
	case slices.Contains(s.Against, of), slices.Contains(s.Excludes, of):
		return against
	}
	return nothing
}
