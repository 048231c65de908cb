package practice

import (
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/measure/change"
	"boottop.example/practice/domain/measure/repeat"
)

// Evidence is what a practice measured of its own scatter with the groups of scales that
// a vessel was read with, each row under its group: see [PassContext.group].
type Evidence struct {
	Kits     []KitReadingAt
	Replaced []Replaced
	Repeats  []RepeatAt
	Pairs    []LikePasses
	Crossed  []CrossReadingAt

	mu       sync.Mutex
	measured map[string]Components // by group, once they were asked for
}

// KitReadingAt is one reading of a repeatability kit.
type KitReadingAt struct {
	Group      string
	Kit        uuid.UUID
	Instrument uuid.UUID
	MadeOn     time.Time
	Member     uuid.UUID
	Spot       int16
	Repeat     int16
	Tenths     int32
}

// Replaced is the placements of one reading, tenths.
type Replaced struct {
	Group      string
	Pass       uuid.UUID
	Placements []int16
}

// RepeatAt is a place read twice in one pass, twentieths.
type RepeatAt struct {
	Group  string
	First  int32
	Later  int32
	Placed int32 // placements behind each
}

// LikePasses is two passes of one hull within the week with nothing done between.
type LikePasses struct {
	Group          string
	Vessel         uuid.UUID
	Earlier, Later uuid.UUID
	EarlierGrid    Grid
	LaterGrid      Grid

	// The worse of the two: the coldest skin, the fewest hours since a wash and since heat
	// went off, what a block moved by within a pass. Nil is not known.
	Sensing           string
	SkinDecidegrees   *int16
	HoursSinceWash    *int16
	Heated            *bool
	HoursSinceHeatOff *int16
	BlockTenths       int32
}

// lost tells whether frost, a wash, heat or its blocks would cost either pass its standing:
// what is held against no other pass measures no scatter either. How long she was ashore
// costs a pair nothing, since both passes were read within the week, and its dry places are
// part of what is measured.
func (p LikePasses) lost(sr repeat.Deviation) bool {
	worse := PassContext{
		Sensing: p.Sensing, SkinPortDecidegrees: p.SkinDecidegrees, HoursSinceWash: p.HoursSinceWash, Heated: p.Heated, HoursSinceHeatOff: p.HoursSinceHeatOff,
	}
	return frost(worse) || heated(worse) || washed(worse) != "" || tooFar(float64(p.BlockTenths)/10, sr)
}

// CrossReadingAt is one spot read by two instruments of one model and scale, tenths.
type CrossReadingAt struct {
	Group  string
	Set    uuid.UUID
	First  uuid.UUID
	Second uuid.UUID
	Spot   int16
	Tenths [2]int32
}

// Components is what stands between two like readings of one group of scales, as this
// practice measured it, and how much it measured. Nothing of it has a default.
type Components struct {
	change.Components
	Group              string
	Model, Scale, Mode string
	Hands              repeat.Deviation // s_R between people
	Taste              float64          // s of person × spot: what another hand adds at a place
	Kits               int
	Replacements       int
	BlindRepeats       int
	LikePairs          int
	CrossReadings      int
	Missing            []Untold
	Withheld           bool // s_r is left out for the reader: see [Precision.Withheld]

	crossed [][2]uuid.UUID // the pairs of instruments read side by side
	people  []uuid.UUID    // whose kits are behind s_r
}

// seenBy leaves s_r out where it would tell what is another person's own.
func (c Components) seenBy(a domain.Actor) Components {
	if tellsOwn(a, c.people) {
		c.Withheld, c.Repeatability = true, repeat.Deviation{DF: c.Repeatability.DF}
	}
	return c
}

// Untold is why something cannot be told, and what would mend it.
type Untold struct {
	Code   string
	Text   string
	Todo   string
	Places int // how many it concerns; 0 where it concerns the passes as a whole
}

// groupMark parts a group's names; no name holds it.
const groupMark = "\x1f"

// group names the readings that are of one kind with a pass's: model, or the one
// instrument where no model is known, scale and mode. The view scale_groups makes the
// same of a scale; a test holds them equal.
func (p PassContext) group() string {
	if p.InstrumentID == nil || p.ScaleID == nil {
		return ""
	}
	model := p.InstrumentModel
	if model == "" {
		model = p.InstrumentID.String()
	}
	return strings.Join([]string{model, p.ScaleName, p.ScaleMode, strconv.Itoa(int(p.LowTenths)), strconv.Itoa(int(p.HighTenths))}, groupMark)
}

// componentsOf measures the components of every group among the passes; what was measured
// once of the same evidence is not measured again.
func (e *Evidence) componentsOf(passes []HistoryPass) []Components {
	if e == nil {
		return nil
	}
	e.mu.Lock()
	defer e.mu.Unlock()
	var out []Components
	for _, p := range passes {
		g := p.group()
		if g == "" || slices.ContainsFunc(out, func(c Components) bool { return c.Group == g }) {
			continue
		}
		c, there := e.measured[g]
		if !there {
			c = e.components(p.PassContext)
			if e.measured == nil {
				e.measured = map[string]Components{}
			}
			e.measured[g] = c
		}
		out = append(out, c)
	}
	return out
}

// components measures those of the group that a pass belongs to.
func (e *Evidence) components(p PassContext) Components {
	out := Components{Group: p.group(), Model: orElse(p.InstrumentModel, p.InstrumentName), Scale: p.ScaleName, Mode: p.ScaleMode}
	step := float64(p.StepTenths) / 10
	kits := e.kits(out.Group)
	places := e.replaced(&out, kits)
	out.people = e.people(out.Group)
	sr, _ := repeat.OfPlacements(places, step, 0.95) // nothing set down twice leaves it unmeasured
	out.hands(kits)
	like := e.like(&out, sr)
	c, err := change.Measure(sr, e.again(&out), like)
	if err != nil { // cannot be: readings come from the scale's own limits
		c = change.Components{Repeatability: sr}
	}
	c.Reproducible = e.instruments(&out)
	out.Components = c
	out.Missing = missingOf(c)
	return out
}

// missingOf lists what is still to be measured before anything is judged.
func missingOf(c change.Components) []Untold {
	var out []Untold
	for _, why := range c.Missing(false) {
		out = append(out, untold(why))
	}
	return out
}

// kit is one repeatability kit: by spot and person the repeats, scale units.
type kit struct {
	id    uuid.UUID
	cells map[[2]string][]float64
	spots []string
	hands []string
}

func (e *Evidence) kits(group string) (out []kit) {
	for _, r := range e.Kits {
		if r.Group != group {
			continue
		}
		if len(out) == 0 || out[len(out)-1].id != r.Kit {
			out = append(out, kit{id: r.Kit, cells: map[[2]string][]float64{}})
		}
		k := &out[len(out)-1]
		spot, hand := strconv.Itoa(int(r.Spot)), r.Member.String()
		if !slices.Contains(k.spots, spot) {
			k.spots = append(k.spots, spot)
		}
		if !slices.Contains(k.hands, hand) {
			k.hands = append(k.hands, hand)
		}
		k.cells[[2]string{spot, hand}] = append(k.cells[[2]string{spot, hand}], float64(r.Tenths)/10)
	}
	return out
}

// people names whose kits of a group count.
func (e *Evidence) people(group string) (out []uuid.UUID) {
	for _, r := range e.Kits {
		if r.Group == group && !slices.Contains(out, r.Member) {
			out = append(out, r.Member)
		}
	}
	return out
}

// replaced gathers what one hand read several times at one spot, from kits and from the
// placements of passes.
func (e *Evidence) replaced(c *Components, kits []kit) (places [][]float64) {
	for _, k := range kits {
		for _, spot := range k.spots {
			for _, hand := range k.hands {
				if cell := k.cells[[2]string{spot, hand}]; len(cell) > 1 {
					places = append(places, cell)
				}
			}
		}
	}
	c.Kits = len(kits)
	for _, r := range e.Replaced {
		if r.Group != c.Group {
			continue
		}
		one := make([]float64, len(r.Placements))
		for k, t := range r.Placements {
			one[k] = float64(t) / 10
		}
		places = append(places, one)
	}
	for _, p := range places {
		c.Replacements += len(p) - 1
	}
	return places
}

// hands takes what people differ by from the newest kit that several read in full.
func (c *Components) hands(kits []kit) {
	for _, k := range slices.Backward(kits) {
		spots := make([][][]float64, len(k.spots))
		for i, spot := range k.spots {
			for _, hand := range k.hands {
				spots[i] = append(spots[i], k.cells[[2]string{spot, hand}])
			}
		}
		if of, err := repeat.OfKit(spots, 0.95); err == nil {
			c.Hands, c.Taste = of.Reproducibility, of.Taste
			return
		}
	}
}

func (e *Evidence) again(c *Components) (out []change.Again) {
	for _, r := range e.Repeats {
		if r.Group == c.Group {
			out = append(out, change.Again{First: float64(r.First) / 20, Later: float64(r.Later) / 20, K: placements(r.Placed)})
		}
	}
	c.BlindRepeats = len(out)
	return out
}

// like gives the pairs of like passes that keep their standing, each pass in one pair at
// most: two pairs that share a pass would count its errors twice.
func (e *Evidence) like(c *Components, sr repeat.Deviation) (out []change.LikePair) {
	used := map[uuid.UUID]bool{}
	for _, p := range e.Pairs {
		if p.Group != c.Group || used[p.Earlier] || used[p.Later] || p.lost(sr) {
			continue
		}
		pair := p.differences()
		if len(pair.Differences) < 2 {
			continue
		}
		used[p.Earlier], used[p.Later] = true, true
		out = append(out, pair)
	}
	c.LikePairs = len(out)
	return out
}

// unfit are the flags of a reading that is no number to subtract.
const unfit = FlagBelow | FlagAbove | FlagRange | FlagVoid | FlagOtherSurface

func (p LikePasses) differences() change.LikePair {
	var pair change.LikePair
	k := placed{}
	for slot := range p.LaterGrid.Taken {
		a, b := p.EarlierGrid.Taken.At(slot), p.LaterGrid.Taken.At(slot)
		flags := p.EarlierGrid.Flags.At(slot) | p.LaterGrid.Flags.At(slot)
		if a == Null || b == Null || flags&unfit != 0 {
			continue
		}
		d := float64(b-a) / 20
		switch {
		case p.EarlierGrid.Flags.At(slot)&p.LaterGrid.Flags.At(slot)&FlagDry != 0:
			pair.Dry = append(pair.Dry, d)
		case flags&(FlagDry|FlagTargeted) == 0:
			pair.Differences = append(pair.Differences, d)
			k.count(p.EarlierGrid.Placed.At(slot), p.LaterGrid.Placed.At(slot))
		}
	}
	pair.KBefore, pair.KAfter = k.usual()
	return pair
}

// placed counts how many placements stand behind readings.
type placed [2][repeat.MostPlacements + 1]int

func (p *placed) count(before, after int32) {
	p[0][placements(before)]++
	p[1][placements(after)]++
}

// usual gives the commonest counts; of equals the smaller.
func (p *placed) usual() (before, after int) {
	most := func(n [repeat.MostPlacements + 1]int) int {
		best := 1
		for k := range n {
			if n[k] > n[best] {
				best = k
			}
		}
		return best
	}
	return most(p[0]), most(p[1])
}

// placements is how many stand behind a reading: one where it was not written down.
func placements(n int32) int { return int(min(max(n, 1), repeat.MostPlacements)) }

// instruments gives s_R between instruments of the model. A spot read by each of two
// instruments has (x₁−x₂)²/2 as its share of s_R²: the within-group variance of pairs.
func (e *Evidence) instruments(c *Components) repeat.Deviation {
	var spots [][]float64
	for _, r := range e.Crossed {
		if r.Group == c.Group {
			spots = append(spots, []float64{float64(r.Tenths[0]) / 10, float64(r.Tenths[1]) / 10})
			if pair := [2]uuid.UUID{r.First, r.Second}; !slices.Contains(c.crossed, pair) {
				c.crossed = append(c.crossed, pair)
			}
		}
	}
	c.CrossReadings = len(spots)
	if len(spots) < LeastCrossed {
		return repeat.Deviation{}
	}
	d, err := repeat.OfPlacements(spots, 0, 0.95)
	if err != nil {
		return repeat.Deviation{}
	}
	return d
}

// LeastCrossed is how many spots two instruments of one model are read on before one
// stands for the other: design section 3.2 asks fifteen of unlike ones, the kit ten of
// like ones.
const LeastCrossed = 10

// untold words a reason of the arithmetic: what cannot be told, and what would mend it.
func untold(why change.Why) Untold {
	text, todo := why.Sentence(), ""
	if head, tail, found := strings.Cut(strings.TrimSuffix(text, "."), ": "); found {
		text, todo = head+".", strings.ToUpper(tail[:1])+tail[1:]+"."
	}
	return Untold{Code: why.String(), Text: text, Todo: todo}
}
