package practice_test

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/measure/repeat"
	"boottop.example/practice/domain/practice"
)

func published(t *testing.T, name string, v any) {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join("..", "..", "testdata", "measure", name))
	if err == nil {
		err = json.Unmarshal(raw, v)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// wideMeter adds an instrument whose scale holds any published figure.
func (b *bundle) wideMeter(h house, name string) (instrument, scale uuid.UUID) {
	instrument, scale = newID(), newID()
	head := h.of[domain.Principal]
	must[practice.Done](b.t)(b.AddInstrument(b.t.Context(), head, practice.AddInstrument{Mutation: newID(), Instrument: practice.Instrument{ID: instrument, Name: name, Kind: "capacitance"}}))
	must[practice.Done](b.t)(b.AddScale(b.t.Context(), head, practice.AddScale{Mutation: newID(), Scale: practice.Scale{ID: scale, Instrument: instrument, Name: "wide", LowTenths: -1_000_000, HighTenths: 1_000_000, StepTenths: 1}}))
	return instrument, scale
}

func near(t *testing.T, what string, got, want, by float64) {
	t.Helper()
	if !(math.Abs(got-want) <= by) {
		t.Errorf("%s: got %.6g, want %.6g", what, got, want)
	}
}

// A published one-way layout entered as a kit: groups are spots, read by one hand.
func (b *bundle) layout(t *testing.T, groups [][]float64, times float64) practice.Precision {
	t.Helper()
	instrument, scale := b.wideMeter(b.ours, "Skerrow of "+newID().String())
	repeats := 0
	for _, g := range groups {
		repeats = max(repeats, len(g))
	}
	in := practice.RecordRepeatKit{
		Mutation: newID(), ID: newID(), Instrument: instrument, Scale: scale, MadeOn: time.Date(2026, 4, 6, 0, 0, 0, 0, time.UTC),
		Hands: []uuid.UUID{b.ours.of[domain.Surveyor].Member}, Spots: int32(len(groups)), Repeats: int32(repeats),
	}
	for _, g := range groups {
		for k := range repeats {
			if k < len(g) {
				in.Tenths = append(in.Tenths, int32(math.Round(g[k]*times*10)))
			} else {
				in.Tenths = append(in.Tenths, practice.Null)
			}
		}
	}
	must[practice.Done](t)(b.RecordRepeatKit(t.Context(), b.ours.of[domain.Surveyor], in))
	return must[practice.InstrumentBook](t)(b.InstrumentBook(t.Context(), b.ours.of[domain.Principal], instrument)).Precisions[0]
}

func byName(groups map[string][]float64) (out [][]float64) {
	var names []string
	for n := range groups {
		names = append(names, n)
	}
	slices.Sort(names)
	for _, n := range names {
		out = append(out, groups[n])
	}
	return out
}

// ISO 5725-2:1994 annex B.1, sulphur in coal (from memory, see the file), and the dyestuff
// batches of Davies & Goldsmith 1972 table 6.2, through the use cases.
func TestAKitGivesThePublishedRepeatability(t *testing.T) {
	t.Parallel()
	b := setup(t)
	// Maps, because a struct's s_r would take s_R too: encoding/json looks past case.
	var file struct {
		Dyestuff map[string]json.RawMessage
		Coal     struct {
			Published map[string]map[string]float64 `json:"published_from_memory"`
			Data      map[string]map[string][]float64
		} `json:"iso5725_coal"`
	}
	published(t, "precision.json", &file)
	var groups map[string][]float64
	var sr float64
	var ci [2]float64
	for name, v := range map[string]any{"groups_data": &groups, "s_r": &sr, "s_r_ci95": &ci} {
		if err := json.Unmarshal(file.Dyestuff[name], v); err != nil {
			t.Fatal(err)
		}
	}
	p := b.layout(t, byName(groups), 1)
	near(t, "s_r of dyestuff", p.Repeatability.S, sr, 1e-6)
	near(t, "its lower end", p.Repeatability.Estimate.Lower, ci[0], 1e-6)
	near(t, "its upper end", p.Repeatability.Estimate.Upper, ci[1], 1e-6)
	if p.Repeatability.DF != 24 || p.Enough() || p.Reproducibility.Measured() {
		t.Errorf("%d degrees of freedom, enough %t, s_R %v", p.Repeatability.DF, p.Enough(), p.Reproducibility)
	}
	for level, is := range file.Coal.Published {
		p := b.layout(t, byName(file.Coal.Data[level]), 100)
		near(t, "s_r of coal, "+level, p.Repeatability.S/100, is["s_r"], 0.0005)
	}
}

// Creatinine of 108 patients by two methods (R package mcr) and Sen's seven points, as
// cross-reading sets: the Deming line of equal errors.
func TestASetGivesThePublishedLine(t *testing.T) {
	t.Parallel()
	b := setup(t)
	_, first := b.wideMeter(b.ours, "Skerrow deep No. 2")
	instrument, second := b.wideMeter(b.ours, "Skerrow shallow No. 1")
	var data struct {
		Sets map[string]struct{ X, Y []float64 }
	}
	var expected struct {
		Sets map[string]struct {
			Deming struct {
				Intercept, Slope float64
				SlopeCI          [2]float64 `json:"slope_ci_centred_on_estimate"`
			} `json:"deming_ratio_1"`
		}
	}
	published(t, "side-by-side-data.json", &data)
	published(t, "side-by-side-expected.json", &expected)
	for name, times := range map[string]float64{"creatinine": 100, "sen_1968": 1} {
		set := data.Sets[name]
		in := practice.RecordCrossReadings{
			Mutation: newID(), ID: newID(), FirstScale: first, SecondScale: second, MadeOn: time.Date(2026, 4, 6, 0, 0, 0, 0, time.UTC), EffectTenths: 50,
		}
		for k := range set.X {
			in.First, in.Second = append(in.First, int32(math.Round(set.X[k]*times*10))), append(in.Second, int32(math.Round(set.Y[k]*times*10)))
		}
		must[practice.Done](t)(b.RecordCrossReadings(t.Context(), b.ours.of[domain.Surveyor], in))
		sets := must[practice.InstrumentBook](t)(b.InstrumentBook(t.Context(), b.ours.of[domain.Trainee], instrument)).Sets
		f := sets[slices.IndexFunc(sets, func(f practice.CrossFit) bool { return f.ID == in.ID })]
		want := expected.Sets[name].Deming
		near(t, name+", slope", f.Fit.Fit.Slope.Value, want.Slope, 1e-8)
		near(t, name+", intercept", f.Fit.Fit.Intercept.Value, want.Intercept*times, 1e-6)
		near(t, name+", lower end of the slope", f.Fit.Fit.Slope.Lower, want.SlopeCI[0], 1e-8)
		if few := len(set.X) < 15; few != (len(f.Band) == 0) || few != strings.Contains(f.Says[0].Text(), "Too few") {
			t.Errorf("%s of %d places says %q with a band of %d points", name, len(set.X), f.Says[0].Text(), len(f.Band))
		}
		if f.RatioMeasured {
			t.Errorf("%s: a ratio that nobody measured is called measured", name)
		}
	}
}

// threeHands is a kit of 10 spots, 3 people, 3 repeats whose hands come back the closer the
// sooner they are named.
func (b *bundle) threeHands(h house, instrument, scale uuid.UUID) practice.RecordRepeatKit {
	in := practice.RecordRepeatKit{
		Mutation: newID(), ID: newID(), Instrument: instrument, Scale: scale, MadeOn: time.Date(2026, 4, 6, 0, 0, 0, 0, time.UTC), Spots: 10, Repeats: 3,
		Hands: []uuid.UUID{h.of[domain.Principal].Member, h.of[domain.Surveyor].Member, h.of[domain.Trainee].Member},
	}
	for hand := range int32(3) {
		for spot := range int32(10) {
			wide := 5 * (hand + 1)
			at := 100 + 60*spot + 4*hand
			in.Tenths = append(in.Tenths, at-wide, at, at+wide)
		}
	}
	return in
}

func TestNobodyElseSeesAPersonsOwnRepeatability(t *testing.T) {
	t.Parallel()
	b := setup(t)
	instrument, scale := b.meter(b.ours, "Skerrow deep No. 2")
	must[practice.Done](t)(b.RecordRepeatKit(t.Context(), b.ours.of[domain.Office], b.threeHands(b.ours, instrument, scale)))
	everyone := []uuid.UUID{b.ours.of[domain.Principal].Member, b.ours.of[domain.Surveyor].Member, b.ours.of[domain.Trainee].Member}
	for role, sees := range map[domain.Role][]uuid.UUID{
		domain.Principal: everyone, domain.Surveyor: {b.ours.of[domain.Surveyor].Member}, domain.Trainee: {b.ours.of[domain.Trainee].Member},
		domain.Office: nil, domain.Guest: nil, // who typed it in does not read it back either
	} {
		a := b.ours.of[role]
		var own, inBook, read []uuid.UUID
		for _, p := range must[practice.Measuring](t)(b.Measuring(t.Context(), a)).Scales {
			for _, o := range p.Own {
				own = append(own, o.Member.ID)
			}
			if len(p.Says) == 0 || p.Repeatability.DF != 60 {
				t.Errorf("the %s does not see the practice's own: %+v", role, p)
			}
		}
		book := must[practice.InstrumentBook](t)(b.InstrumentBook(t.Context(), a, instrument))
		for _, o := range book.Precisions[0].Own {
			inBook = append(inBook, o.Member.ID)
		}
		for _, h := range book.Kits[0].Hands {
			if h.Tenths != nil {
				read = append(read, h.Member.ID)
			}
		}
		for what, got := range map[string][]uuid.UUID{"measuring": own, "book": inBook, "readings": read} {
			for _, m := range everyone {
				if slices.Contains(got, m) != slices.Contains(sees, m) {
					t.Errorf("the %s sees in %s what is of %v, should see %v", role, what, got, sees)
				}
			}
		}
	}
	// An API key acts for its member, and sees what that member sees.
	key := b.ours.of[domain.Surveyor]
	key.Means = domain.ByKey
	if m := must[practice.Measuring](t)(b.Measuring(t.Context(), key)); len(m.Scales[0].Own) != 1 {
		t.Errorf("a key of the surveyor's sees %d people", len(m.Scales[0].Own))
	}
	// People stand in the order of the kit, by name, never by figure.
	own := must[practice.Measuring](t)(b.Measuring(t.Context(), b.ours.of[domain.Principal])).Scales[0].Own
	if !slices.IsSortedFunc(own, func(x, y practice.OwnPrecision) int { return strings.Compare(x.Member.Name, y.Member.Name) }) {
		t.Errorf("people are not in the order of their names")
	}
}

// hands leaves of a kit of three those that are named.
func hands(in practice.RecordRepeatKit, kept ...int) practice.RecordRepeatKit {
	each := int(in.Spots * in.Repeats)
	out := in
	out.Hands, out.Tenths = nil, nil
	for _, k := range kept {
		out.Hands, out.Tenths = append(out.Hands, in.Hands[k]), append(out.Tenths, in.Tenths[k*each:(k+1)*each]...)
	}
	return out
}

// Whoever knows his or her own and the figure of two has the other's: issue of the
// comparison, screens.
func TestTheFigureOfTwoHandsGivesNeitherAway(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		kept []int // of principal, surveyor, trainee
		told map[domain.Role]bool
	}{
		"the trainee alone":               {[]int{2}, map[domain.Role]bool{domain.Principal: true, domain.Surveyor: false, domain.Trainee: true, domain.Office: false, domain.Guest: false}},
		"surveyor and trainee":            {[]int{1, 2}, map[domain.Role]bool{domain.Principal: true, domain.Surveyor: false, domain.Trainee: false, domain.Office: true, domain.Guest: true}},
		"principal, surveyor and trainee": {[]int{0, 1, 2}, map[domain.Role]bool{domain.Principal: true, domain.Surveyor: true, domain.Trainee: true, domain.Office: true, domain.Guest: true}},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			b := setup(t)
			instrument, scale := b.meter(b.ours, "Skerrow deep No. 2")
			must[practice.Done](t)(b.RecordRepeatKit(t.Context(), b.ours.of[domain.Office], hands(b.threeHands(b.ours, instrument, scale), c.kept...)))
			for role, told := range c.told {
				a := b.ours.of[role]
				book := must[practice.InstrumentBook](t)(b.InstrumentBook(t.Context(), a, instrument)).Precisions[0]
				measured := must[practice.Measuring](t)(b.Measuring(t.Context(), a)).Scales[0]
				for page, p := range map[string]practice.Precision{"instrument": book, "half hour": measured} {
					words := p.Says[0].Text()
					if got := p.Repeatability.S > 0; got != told || p.Withheld == told || strings.Contains(words, "tell one person’s own") == told || strings.Contains(words, "standard deviation") && !told {
						t.Errorf("on the page of the %s the %s is told %v: %q, want %v", page, role, p.Repeatability, words, told)
					}
					if p.Repeatability.DF != 20*len(c.kept) || p.Enough() != (len(c.kept) > 1) {
						t.Errorf("the %s is told of %d re-placements", role, p.Repeatability.DF)
					}
				}
			}
		})
	}
}

func TestNothingHasADefault(t *testing.T) {
	t.Parallel()
	b := setup(t)
	instrument, scale := b.meter(b.ours, "Skerrow deep No. 2")
	at := func() practice.Precision {
		return must[practice.InstrumentBook](t)(b.InstrumentBook(t.Context(), b.ours.of[domain.Principal], instrument)).Precisions[0]
	}
	p := at()
	if p.Repeatability.Measured() || p.Reproducibility.Measured() || p.Enough() || !strings.Contains(p.Says[0].Text(), "cannot tell") || !strings.Contains(p.Says[0].Text(), "Half an hour") {
		t.Errorf("with nothing measured: %+v", p)
	}
	few := b.kit(b.ours, instrument, scale, 120, 131, 305, 299)
	must[practice.Done](t)(b.RecordRepeatKit(t.Context(), b.ours.of[domain.Surveyor], few))
	if p = at(); p.Repeatability.DF != 2 || p.Enough() || !strings.Contains(p.Says[0].Text(), "2 re-placements") {
		t.Errorf("with two re-placements: %+v", p)
	}
	whole := b.threeHands(b.ours, instrument, scale)
	whole.Replaces, whole.Because = &few.ID, "read in full"
	must[practice.Done](t)(b.RecordRepeatKit(t.Context(), b.ours.of[domain.Surveyor], whole))
	p = at()
	// Each cell is m−w, m, m+w, so its variance is w²: √((0.5²+1²+1.5²)/3) over three hands.
	near(t, "s_r", p.Repeatability.S, math.Sqrt((0.25+1+2.25)/3), 1e-9)
	if p.Repeatability.DF != 60 || !p.Enough() || p.Kits != 1 || p.People != 3 || p.Spots != 10 {
		t.Errorf("with a whole kit: %+v", p)
	}
	for k, o := range p.Own {
		near(t, "own s_r", o.Repeatability.S, []float64{0.5, 1, 1.5}[k], 1e-9)
	}
	// The same layout given to the arithmetic itself.
	var spots [][][]float64
	for s := range 10 {
		var row [][]float64
		for h := range 3 {
			m, w := 10+6*float64(s)+0.4*float64(h), 0.5*float64(h+1)
			row = append(row, []float64{m - w, m, m + w})
		}
		spots = append(spots, row)
	}
	want, err := repeat.OfKit(spots, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "s_R", p.Reproducibility.S, want.Reproducibility.S, 1e-9)
}
