package practice

import (
	"bytes"
	"cmp"
	"context"
	"slices"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	crossed "boottop.example/practice/domain/measure/beside"
	"boottop.example/practice/domain/measure/repeat"
	"boottop.example/practice/domain/report"
)

// What a kit usually holds: common practice, from memory. Only [repeat.Enough] and two
// people are asked for before a figure is used.
const (
	UsualSpots   = 10
	UsualRepeats = 3
	UsualPeople  = 3
)

// confidence is the coverage of every interval shown of a practice's own measuring.
const confidence = 0.95

// Precision is how closely readings come back with one instrument on one scale, as the
// practice's own kits measured it. Nothing of it has a default.
type Precision struct {
	Instrument      Instrument
	Scale           Scale
	Kits            int              // those that still count
	Repeatability   repeat.Deviation // s_r, from every cell of every kit
	Reproducibility repeat.Deviation // s_R, from the newest kit that two or more read in full
	People, Spots   int              // behind s_R
	MostSpots       int              // of any kit
	MostRepeats     int
	MostPeople      int
	Own             []OwnPrecision // those of the people whom the reader may see
	Withheld        bool           // s_r is left out: it would tell what is another's own
	Says            []report.Sentence
}

// Enough tells whether anything may be judged by s_r.
func (p Precision) Enough() bool { return p.Repeatability.DF >= repeat.Enough }

// OwnPrecision is how closely one person's placements come back: an aid to that person.
type OwnPrecision struct {
	Member        MemberLine
	Repeatability repeat.Deviation
	Kits          int
	Says          report.Sentence
}

// Measuring is what a practice has measured of itself and what it has not.
type Measuring struct {
	Scales []Precision
	Pairs  []PairMeasured
	Aid    report.Sentence // what a person's own figure is for
}

// PairMeasured is two instruments in use and how many places the fullest set of them has.
type PairMeasured struct {
	First, Second Instrument
	Places        int
	Needed        int
}

// Measuring tells what the practice has measured of itself. A person's own figure is shown
// to that person and to the principal.
func (s *Service) Measuring(ctx context.Context, a domain.Actor) (Measuring, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return Measuring{}, err
	}
	all, err := s.store.Measurings(ctx, a.Practice, nil)
	if err != nil {
		return Measuring{}, err
	}
	m := Measuring{Pairs: all.pairs(), Aid: report.OwnIsAnAid()}
	for _, p := range all.precisions() {
		if p.Instrument.RetiredOn == nil {
			m.Scales = append(m.Scales, p.seenBy(a))
		}
	}
	return m, nil
}

// seesOwn tells whether the actor may see a person's own repeatability: that person and
// the principal, and the service itself.
func seesOwn(a domain.Actor, member uuid.UUID) bool {
	return a.Means == domain.BySelf || a.Has(domain.Principal) || a.Member == member
}

// seenBy leaves out what is other people's own, and s_r where that would tell it: of a
// single other hand it is the figure itself, or gives it once the reader's own is taken off.
func (p Precision) seenBy(a domain.Actor) Precision {
	people := make([]uuid.UUID, len(p.Own))
	for k, o := range p.Own {
		people[k] = o.Member.ID
	}
	p.Own = slices.DeleteFunc(p.Own, func(o OwnPrecision) bool { return !seesOwn(a, o.Member.ID) })
	if tellsOwn(a, people) {
		p.Withheld, p.Repeatability = true, repeat.Deviation{DF: p.Repeatability.DF}
		p.Says = slices.Concat([]report.Sentence{report.RepeatsOfOne(p.Instrument.Name, p.Repeatability.DF)}, p.Says[1:])
	}
	return p
}

// tellsOwn tells whether a figure pooled over people gives a single one of them away to
// somebody who may not see that one's own.
func tellsOwn(a domain.Actor, people []uuid.UUID) bool {
	others := 0
	for _, p := range people {
		if !seesOwn(a, p) {
			others++
		}
	}
	return others == 1
}

// seenBy takes the readings of others out: whoever has them can compute what is theirs.
func (k RepeatKit) seenBy(a domain.Actor) RepeatKit {
	k.Hands = slices.Clone(k.Hands)
	for n, h := range k.Hands {
		if !seesOwn(a, h.Member.ID) {
			k.Hands[n].Tenths = nil
		}
	}
	return k
}

// reads tells whether an instrument has scales whose readings are compared.
func (i Instrument) reads() bool { return i.Kind == "capacitance" || i.Kind == "pins" }

// precisions gives every scale of every instrument that reads moisture.
func (m Measurings) precisions() (out []Precision) {
	for _, i := range m.Instruments {
		for _, sc := range i.Scales {
			if i.reads() {
				out = append(out, precisionOf(i, sc, m.Kits))
			}
		}
	}
	return out
}

// precisionOf measures one scale by the kits that count.
func precisionOf(i Instrument, sc Scale, kits []RepeatKit) Precision {
	p := Precision{Instrument: i, Scale: sc}
	step := float64(sc.StepTenths) / 10
	var all [][]float64
	own := map[uuid.UUID][][]float64{}
	for _, k := range kits {
		if k.Scale != sc.ID || !k.Current() {
			continue
		}
		p.Kits++
		p.MostSpots, p.MostRepeats, p.MostPeople = max(p.MostSpots, int(k.Spots)), max(p.MostRepeats, int(k.Repeats)), max(p.MostPeople, len(k.Hands))
		for _, h := range k.Hands {
			cells := k.cells(h)
			all, own[h.Member.ID] = append(all, cells...), append(own[h.Member.ID], cells...)
			p.meet(h.Member)
		}
		p.reproduce(k)
	}
	p.Repeatability, _ = repeat.OfPlacements(all, step, confidence) // nothing read twice leaves it unmeasured
	for n := range p.Own {
		o := &p.Own[n]
		o.Repeatability, _ = repeat.OfPlacements(own[o.Member.ID], step, confidence)
		o.Says = report.OwnRepeats(i.Name, spread(o.Repeatability), repeat.Enough)
	}
	// In the order of names, never of figures.
	slices.SortFunc(p.Own, func(a, b OwnPrecision) int {
		return cmp.Or(cmp.Compare(a.Member.Name, b.Member.Name), bytes.Compare(a.Member.ID[:], b.Member.ID[:]))
	})
	p.say()
	return p
}

// meet counts a person in.
func (p *Precision) meet(m MemberLine) {
	n := slices.IndexFunc(p.Own, func(o OwnPrecision) bool { return o.Member.ID == m.ID })
	if n < 0 {
		n, p.Own = len(p.Own), append(p.Own, OwnPrecision{Member: m})
	}
	p.Own[n].Kits++
}

// reproduce takes s_R from a kit that at least two people read in full at two spots.
func (p *Precision) reproduce(k RepeatKit) {
	spots := k.shared()
	kit, err := repeat.OfKit(spots, confidence)
	if err != nil {
		return
	}
	p.Reproducibility, p.People, p.Spots = kit.Reproducibility, kit.People, kit.Spots
}

// cells gives a person's readings spot by spot, scale units.
func (k RepeatKit) cells(h KitHand) (out [][]float64) {
	for cell := range slices.Chunk(h.Tenths, int(k.Repeats)) {
		out = append(out, units(taken(cell)))
	}
	return out
}

// shared gives the spots that everybody read, by spot and person.
func (k RepeatKit) shared() (spots [][][]float64) {
	for s := range int(k.Spots) {
		var row [][]float64
		for _, h := range k.Hands {
			if cell := units(taken(h.Tenths[s*int(k.Repeats) : (s+1)*int(k.Repeats)])); len(cell) > 0 {
				row = append(row, cell)
			}
		}
		if len(row) == len(k.Hands) {
			spots = append(spots, row)
		}
	}
	return spots
}

// units turns tenths into scale units.
func units(tenths []int32) []float64 {
	out := make([]float64, len(tenths))
	for k, v := range tenths {
		out[k] = float64(v) / 10
	}
	return out
}

func spread(d repeat.Deviation) report.Scatter {
	return report.Scatter{S: d.S, Low: d.Estimate.Lower, High: d.Estimate.Upper, DF: d.DF}
}

func (p *Precision) say() {
	switch {
	case !p.Repeatability.Measured():
		p.Says = append(p.Says, report.RepeatsUnmeasured(p.Instrument.Name))
	case !p.Enough():
		p.Says = append(p.Says, report.RepeatsTooFew(p.Instrument.Name, p.Repeatability.DF, repeat.Enough))
	default:
		p.Says = append(p.Says, report.Repeats(p.Instrument.Name, spread(p.Repeatability), repeat.Limit(p.Repeatability.S)))
	}
	if p.Reproducibility.Measured() {
		p.Says = append(p.Says, report.Reproduces(spread(p.Reproducibility), repeat.Limit(p.Reproducibility.S), p.People, p.Spots))
	} else {
		p.Says = append(p.Says, report.ReproducesUnmeasured())
	}
}

// pairs lists the instruments in use two by two, with the fullest set of each pair.
func (m Measurings) pairs() (out []PairMeasured) {
	of := map[uuid.UUID]uuid.UUID{}
	var used []Instrument
	for _, i := range m.Instruments {
		for _, sc := range i.Scales {
			of[sc.ID] = i.ID
		}
		if i.reads() && i.RetiredOn == nil && len(i.Scales) > 0 && !i.Scales[0].TimberPercent {
			used = append(used, i)
		}
	}
	for n, a := range used {
		for _, b := range used[n+1:] {
			p := PairMeasured{First: a, Second: b, Needed: crossed.Least}
			for _, set := range m.Sets {
				first, second := of[set.FirstScale], of[set.SecondScale]
				if set.Current() && (first == a.ID && second == b.ID || first == b.ID && second == a.ID) {
					p.Places = max(p.Places, len(set.First))
				}
			}
			out = append(out, p)
		}
	}
	return out
}
