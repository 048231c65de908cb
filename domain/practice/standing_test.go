package practice

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/uuid"

	"boottop.example/practice/domain/measure/change"
	"boottop.example/practice/domain/measure/repeat"
)

// What two passes share decides how far they may be compared, one thing at a time: surface
// state, face and mode count, and the reason is the one that decided.
func TestStandingIsReadFromTheContextOfTwoPasses(t *testing.T) {
	t.Parallel()
	one, other := uuid.New(), uuid.New()
	scale, hull := uuid.New(), uuid.New()
	like := PassContext{
		ID: uuid.New(), ElementID: hull, Face: "outside", Sensing: "deep", ScaleID: &scale, ScaleName: "A", ScaleMode: "hold", HighTenths: 1000, Surface: "antifouling",
		DrySurface: "bare gelcoat", InstrumentID: &one, InstrumentModel: "Skerrow deep",
	}
	measured := []Components{{Group: like.group(), Components: change.Components{Reproducible: repeat.Deviation{S: 1, DF: 20}}}}
	for code, c := range map[string]struct {
		alter      func(*PassContext)
		standing   Standing
		components []Components
	}{
		"same":               {func(*PassContext) {}, Same, nil},
		"alike":              {func(p *PassContext) { p.InstrumentID = &other }, Alike, measured},
		"no-reproducibility": {func(p *PassContext) { p.InstrumentID = &other }, Unlike, nil},
		"instrument":         {func(p *PassContext) { p.InstrumentID, p.InstrumentModel = &other, "another" }, Unlike, measured},
		"face":               {func(p *PassContext) { p.Face = "inside" }, Unlike, measured},
		"sensing":            {func(p *PassContext) { p.Sensing = "shallow" }, Unlike, measured},
		"scale":              {func(p *PassContext) { p.ScaleMode = "search" }, Unlike, measured},
		"surface":            {func(p *PassContext) { p.Surface = "bare gelcoat" }, Unlike, measured},
		"surface-unknown":    {func(p *PassContext) { p.Surface = "" }, Unlike, measured},
		"dry-surface":        {func(p *PassContext) { p.DrySurface = "painted topsides" }, Unlike, measured},
		"element":            {func(p *PassContext) { p.ElementID = uuid.New() }, Unlike, measured},
		"quoted":             {func(p *PassContext) { p.Quoted = true }, Quoted, measured},
	} {
		p := like
		p.ID = uuid.New()
		c.alter(&p)
		if got := inContext(like, p, c.components); got.Standing != c.standing || got.Reasons[0].Code != code || got.Because() == "" {
			t.Errorf("%s: stands %s by %s", code, got.Standing, got.Reasons[0].Code)
		}
	}
}

// Blocks that moved by more than the repeatability limit, and dry places that make no
// baseline, cost a pass its standing; until s_r is measured the blocks cost nothing.
func TestBlocksAndBaselineCostAPassItsStanding(t *testing.T) {
	t.Parallel()
	tool, scale := uuid.New(), uuid.New()
	p := HistoryPass{PassContext: PassContext{ID: uuid.New(), InstrumentID: &tool, ScaleID: &scale, ScaleName: "A"}, BlockChecks: []BlockCheck{
		{Block: "low", Moment: "before", ValueTenths: 100}, {Block: "low", Moment: "after", ValueTenths: 140},
	}}
	codes := func(h History) (out []string) {
		for _, w := range h.lost(&p) {
			out = append(out, w.Code)
		}
		return out
	}
	if got := codes(History{}); slices.Contains(got, "block-drift") || !slices.Contains(got, "no-baseline") {
		t.Errorf("unmeasured: lost by %v", got)
	}
	measured := History{Components: []Components{{Group: p.group(), Components: change.Components{Repeatability: repeat.Deviation{S: 1, DF: repeat.Enough}}}}}
	if got := codes(measured); !slices.Contains(got, "block-drift") { // 4 units against 2.8
		t.Errorf("a block moved by 4 units, s_r 1: lost by %v", got)
	}
	p.BlockChecks[1].ValueTenths = 120
	if got := codes(measured); slices.Contains(got, "block-drift") {
		t.Errorf("a block moved by 2 units, s_r 1: lost by %v", got)
	}
}

// A member lowers a standing and never raises one, whatever the context gave; a pass lowered
// to quoted is computed with nowhere.
func TestALoweredStandingOnlyGoesDown(t *testing.T) {
	t.Parallel()
	instrument, hull := uuid.New(), uuid.New()
	pass := func(change ...func(*HistoryPass)) HistoryPass {
		p := HistoryPass{PassContext: PassContext{ID: uuid.New(), ElementID: hull, Face: "outside", Surface: "antifouling", InstrumentID: &instrument}}
		for _, c := range change {
			c(&p)
		}
		return p
	}
	inside := func(p *HistoryPass) { p.Face = "inside" }
	paper := func(p *HistoryPass) { p.Quoted = true }
	to := func(s Standing) func(*HistoryPass) {
		return func(p *HistoryPass) { p.Lowered = &Lowered{Standing: s, By: "I. Varrow", Reason: "worn pads"} }
	}
	for name, c := range map[string]struct {
		held, other HistoryPass
		want        Standing
		named       bool // the member's reason is the one that decided
	}{
		"same goes to unlike":                       {pass(), pass(to(Unlike)), Unlike, true},
		"same goes to quoted":                       {pass(), pass(to(Quoted)), Quoted, true},
		"unlike goes to quoted":                     {pass(), pass(inside, to(Quoted)), Quoted, true},
		"unlike stays":                              {pass(), pass(inside, to(Unlike)), Unlike, false},
		"quoted is not raised":                      {pass(), pass(paper, to(Unlike)), Quoted, false},
		"nor is anything by a word that is none":    {pass(), pass(inside, to(Same)), Unlike, false},
		"what was lowered holds up nothing":         {pass(to(Unlike)), pass(), Unlike, true},
		"what is held against it stays in context":  {pass(to(Quoted)), pass(), Unlike, true},
		"and where it was quoted already, it stays": {pass(to(Quoted)), pass(paper), Quoted, false},
	} {
		got := standing(c.held, c.other, nil)
		if got.Standing != c.want || (got.Reasons[0].Code == "lowered") != c.named {
			t.Errorf("%s: stands %s by %v", name, got.Standing, got.Reasons)
		}
		if c.named && !strings.HasSuffix(got.Because(), "lowered by I. Varrow: worn pads") {
			t.Errorf("%s: because %s", name, got.Because())
		}
	}
	h := History{Passes: []HistoryPass{pass(to(Quoted)), pass()}, Axis: Axis{IDs: make([]uuid.UUID, 16), Sides: make([]string, 16), Down: make(Column, 16)}}
	for k := range h.Passes {
		p := &h.Passes[k]
		p.Taken, p.Flags, p.BootTopMm = make(Column, 16), make(Column, 16), new(int32)
		for n := range 16 {
			h.Axis.Sides[n], h.Axis.Down[n] = []string{"port", "starboard"}[n%2], 400
			if p.Taken[n] = 500; n < 8 {
				p.Taken[n], p.Flags[n], h.Axis.Down[n] = 240+int32(n), FlagDry, -400
			}
		}
	}
	h.weigh()
	if h.Passes[0].Contrasts.At(9) != Null || h.Passes[1].Contrasts.At(9) == Null {
		t.Errorf("lowered to quoted it has the contrast %d, its like %d (%v)", h.Passes[0].Contrasts.At(9), h.Passes[1].Contrasts.At(9), h.Passes[1].Baseline.Reasons)
	}
}
