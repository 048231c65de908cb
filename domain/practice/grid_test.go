package practice_test

import (
	"flag"
	"fmt"
	"slices"
	"testing"

	"github.com/google/uuid"
	"pgregory.net/rapid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

// Each check is some dozens of transactions; -rapid.checks=1000 is for a night.
func init() { _ = flag.Set("rapid.checks", "20") }

// keptReading is a reading as the test expects it to stand: a grid needs no more of it.
type keptReading struct {
	id       uuid.UUID
	ordinal  int32
	occasion int16
	value    int32
	flags    int32 // those that are the reading's own
	current  bool
}

// sheet is what a pass should hold, worked out in Go from what was sent.
type sheet struct {
	readings   []keptReading
	notReached map[int32]bool
}

// grid works the read model out again: the current first occasions in columns.
func (s *sheet) grid(n int, dry []int32) practice.Grid {
	g := practice.Grid{Taken: make(practice.Column, n), Flags: make(practice.Column, n), Dry: dry}
	for k := range n {
		g.Taken[k] = practice.Null
		ordinal := int32(k + 1)
		if slices.Contains(dry, ordinal) {
			g.Flags[k] |= practice.FlagDry
		}
		if s.notReached[ordinal] {
			g.Flags[k] |= practice.FlagNotReached
		}
		for _, r := range s.readings {
			switch {
			case r.ordinal != ordinal:
			case r.occasion > 1:
				g.Flags[k] |= practice.FlagRepeated
			case r.current:
				g.Taken[k] = r.value
				g.Flags[k] |= r.flags
			}
		}
	}
	return g
}

// current finds the readings that stand, in the order they came.
func (s *sheet) current() []int {
	var at []int
	for k, r := range s.readings {
		if r.current {
			at = append(at, k)
		}
	}
	return at
}

// editor sends random changes and notes what they should come to.
type editor struct {
	b     *bundle
	hand  domain.Actor
	pass  uuid.UUID
	sheet sheet
	n     int32
}

func (e *editor) add(t *rapid.T) {
	ordinals := rapid.SliceOfN(rapid.Int32Range(1, e.n), 1, 6).Draw(t, "ordinals")
	in := batch(e.pass, nil)
	for range ordinals {
		in.IDs, in.TakenAt = append(in.IDs, newID()), append(in.TakenAt, e.b.clock.now())
		in.Placements = append(in.Placements, rapid.SliceOfN(rapid.Int16Range(0, 1000), 1, 5).Draw(t, "placements"))
		in.KnownBefore, in.FollowUp = append(in.KnownBefore, rapid.Bool().Draw(t, "known")), append(in.FollowUp, rapid.Bool().Draw(t, "follow"))
		in.Written = append(in.Written, rapid.SampledFrom([]string{"", "", "", "<", ">", "15-20"}).Draw(t, "written"))
	}
	in.Ordinals = ordinals
	must[practice.Done](e.b.t)(e.b.AddReadings(e.b.t.Context(), e.hand, in))
	for k, id := range in.IDs {
		r := keptReading{id: id, ordinal: ordinals[k], occasion: 1, current: true}
		for _, other := range e.sheet.readings {
			if other.ordinal == r.ordinal && other.current {
				r.occasion = max(r.occasion, other.occasion+1)
			}
		}
		sorted := slices.Sorted(slices.Values(in.Placements[k]))
		r.value = int32(sorted[(len(sorted)-1)/2]) + int32(sorted[len(sorted)/2])
		switch in.Written[k] {
		case "<":
			r.value, r.flags = 0, practice.FlagBelow
		case ">":
			r.value, r.flags = 2000, practice.FlagAbove
		case "15-20":
			r.value, r.flags = 350, practice.FlagRange
		}
		if in.KnownBefore[k] {
			r.flags |= practice.FlagKnown
		}
		if in.FollowUp[k] {
			r.flags |= practice.FlagFollowUp
		}
		e.sheet.readings = append(e.sheet.readings, r)
	}
}

func (e *editor) supersede(t *rapid.T) {
	at := e.sheet.current()
	if len(at) == 0 {
		t.Skip("nothing to take the place of")
	}
	old := &e.sheet.readings[rapid.SampledFrom(at).Draw(t, "old")]
	v := rapid.Int16Range(0, 1000).Draw(t, "tenths")
	id := newID()
	must[practice.Done](e.b.t)(e.b.SupersedeReading(e.b.t.Context(), e.hand, practice.SupersedeReading{
		Mutation: newID(), ID: id, Reading: old.id, How: rapid.SampledFrom([]string{"correct", "replace"}).Draw(t, "how"), Reason: "as the sheet has it",
		Placements: []int16{v}, TakenAt: e.b.clock.now(),
	}))
	old.current = false
	e.sheet.readings = append(e.sheet.readings, keptReading{
		id: id, ordinal: old.ordinal, occasion: old.occasion, value: 2 * int32(v), current: true,
		flags: practice.FlagCorrected | practice.FlagKnown | old.flags&practice.FlagFollowUp,
	})
}

func (e *editor) void(t *rapid.T) {
	at := e.sheet.current()
	if len(at) == 0 {
		t.Skip("nothing to make void")
	}
	r := &e.sheet.readings[rapid.SampledFrom(at).Draw(t, "reading")]
	must[practice.Done](e.b.t)(e.b.VoidReading(e.b.t.Context(), e.hand, practice.VoidReading{Mutation: newID(), Reading: r.id, Reason: "pads not flat"}))
	r.flags |= practice.FlagVoid
}

func (e *editor) follow(t *rapid.T) {
	ordinal, on := rapid.Int32Range(1, e.n).Draw(t, "ordinal"), rapid.Bool().Draw(t, "on")
	must[practice.Done](e.b.t)(e.b.MarkFollowUp(e.b.t.Context(), e.hand, practice.MarkFollowUp{Mutation: newID(), Pass: e.pass, Ordinals: []int32{ordinal}, On: on}))
	for k := range e.sheet.readings {
		if r := &e.sheet.readings[k]; r.ordinal == ordinal && r.occasion == 1 && r.current {
			r.flags &^= practice.FlagFollowUp
			if on {
				r.flags |= practice.FlagFollowUp
			}
		}
	}
}

func (e *editor) reach(t *rapid.T) {
	ordinal, withdrawn := rapid.Int32Range(1, e.n).Draw(t, "ordinal"), rapid.Bool().Draw(t, "withdrawn")
	in := practice.MarkNotReached{Mutation: newID(), Pass: e.pass, IDs: []uuid.UUID{newID()}, Ordinals: []int32{ordinal}, Reason: "prop pad", Withdrawn: withdrawn}
	must[practice.Done](e.b.t)(e.b.MarkNotReached(e.b.t.Context(), e.hand, in))
	e.sheet.notReached[ordinal] = !withdrawn
}

// grid reads the read model as it is kept, element by element, without the code that
// reads it for answers.
func (b *bundle) grid(pass uuid.UUID) practice.Grid {
	b.t.Helper()
	var g practice.Grid
	row := b.owner.QueryRow(b.t.Context(), `select (select array_agg(coalesce(x, -2147483648) order by n) from unnest(taken) with ordinality u (x, n)), flags, dry from pass_grids where pass_id = $1`, pass)
	if err := row.Scan((*[]int32)(&g.Taken), (*[]int32)(&g.Flags), &g.Dry); err != nil {
		b.t.Fatal(err)
	}
	return g
}

func equalGrids(a, b practice.Grid) bool {
	return slices.Equal(a.Taken, b.Taken) && slices.Equal(a.Flags, b.Flags) && slices.Equal(a.Dry, b.Dry)
}

func TestTheGridIsWhatTheReadingsSay(t *testing.T) {
	t.Parallel()
	b := setup(t)
	s := b.survey(b.ours, "Petrel")
	rapid.Check(t, func(r *rapid.T) {
		e := &editor{b: b, hand: b.ours.of[domain.Surveyor], pass: b.pass(b.ours, s), sheet: sheet{notReached: map[int32]bool{}}, n: int32(len(s.places))}
		step := 0
		var dry []int32
		for k := range s.places {
			if k%4 < 2 { // the first row of each station, both sides
				dry = append(dry, int32(k+1))
			}
		}
		r.Repeat(map[string]func(*rapid.T){
			"add": e.add, "supersede": e.supersede, "void": e.void, "follow up": e.follow, "not reached": e.reach,
			"": func(r *rapid.T) {
				if step++; step%4 != 0 { // looking costs as much as changing
					return
				}
				if got, want := b.grid(e.pass), e.sheet.grid(len(s.places), dry); !equalGrids(got, want) {
					r.Fatalf("the grid holds\n%s\nthe readings say\n%s", lines(got), lines(want))
				}
			},
		})
		want := e.sheet.grid(len(s.places), dry)
		if got := b.grid(e.pass); !equalGrids(got, want) {
			r.Fatalf("at the end the grid holds\n%s\nthe readings say\n%s", lines(got), lines(want))
		}
		// What an answer is made of is the same, and so is what a rebuild would write.
		page := must[practice.PassPage](t)(b.Pass(t.Context(), e.hand, e.pass))
		if !equalGrids(page.Grid, want) {
			r.Fatalf("the pass is read as\n%s\nthe readings say\n%s", lines(page.Grid), lines(want))
		}
	})
}

func lines(g practice.Grid) string {
	text := fmt.Sprintf("dry %v", g.Dry)
	for k := range g.Taken {
		text += fmt.Sprintf("\n%3d: %d %b", k+1, g.Taken[k], g.Flags.At(k))
	}
	return text
}

// A place that is added later lengthens no grid that is there; the pass is shown with it
// empty.
func TestAGridIsShorterThanTheAxisOncePlacesWereAdded(t *testing.T) {
	t.Parallel()
	b, hand, pass, s := readable(t)
	must[practice.Done](t)(b.AddReadings(t.Context(), hand, batch(pass, map[int32]int16{1: 120})))
	must[practice.Done](t)(b.AddPlaces(t.Context(), hand, practice.AddPlaces{
		Mutation: newID(), Element: s.element, IDs: []uuid.UUID{newID()}, Labels: []string{"9/9"}, Sides: []string{"port"}, Along: []int32{9000}, Down: []int32{900},
	}))
	h := must[practice.History](t)(b.History(t.Context(), hand, s.vessel, nil))
	if len(h.Axis.IDs) != 17 || len(h.Passes) != 1 || len(h.Passes[0].Taken) != 16 || h.Passes[0].Taken.At(16) != practice.Null || len(h.Passes[0].Contrasts) != 17 {
		t.Errorf("axis %d, taken %d, contrasts %d", len(h.Axis.IDs), len(h.Passes[0].Taken), len(h.Passes[0].Contrasts))
	}
}
