package practice

import (
	"context"
	"slices"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/report"
)

// InstrumentBook is what the practice knows of one of its instruments.
type InstrumentBook struct {
	Instrument Instrument
	Precisions []Precision
	Charts     []BlockChart
	Kits       []RepeatKit // newest first, replaced ones too
	Sets       []CrossFit  // newest first, replaced ones too
	Aid        report.Sentence
}

// InstrumentBook reads one instrument with its block charts, kits and comparisons. Days
// are those of UTC: a check is at most a day off where the yard lies far from it.
func (s *Service) InstrumentBook(ctx context.Context, a domain.Actor, id uuid.UUID) (InstrumentBook, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return InstrumentBook{}, err
	}
	all, err := s.store.Measurings(ctx, a.Practice, &id)
	if err != nil {
		return InstrumentBook{}, err
	}
	n := slices.IndexFunc(all.Instruments, func(i Instrument) bool { return i.ID == id })
	if n < 0 {
		return InstrumentBook{}, domain.ErrNotFound
	}
	b := InstrumentBook{Instrument: all.Instruments[n], Aid: report.OwnIsAnAid()}
	every := all.everyScale()
	for _, p := range every {
		if p.Instrument.ID == id {
			b.Precisions = append(b.Precisions, p.seenBy(a))
		}
	}
	b.Charts = blockCharts(all.Checks, every, func(t time.Time) string { return report.ShortDay(t, time.UTC) })
	b.Kits, b.Sets = all.kitsOf(id, a), all.setsOf(id, every)
	return b, nil
}

// everyScale is precisions with the scales of instruments of other kinds too.
func (m Measurings) everyScale() (out []Precision) {
	for _, i := range m.Instruments {
		for _, sc := range i.Scales {
			out = append(out, precisionOf(i, sc, m.Kits))
		}
	}
	return out
}

func (m Measurings) kitsOf(instrument uuid.UUID, a domain.Actor) (out []RepeatKit) {
	for _, k := range slices.Backward(m.Kits) {
		if k.Instrument == instrument {
			out = append(out, k.seenBy(a))
		}
	}
	return out
}

func (m Measurings) setsOf(instrument uuid.UUID, every []Precision) (out []CrossFit) {
	of := map[uuid.UUID]Precision{}
	for _, p := range every {
		of[p.Scale.ID] = p
	}
	for _, c := range slices.Backward(m.Sets) {
		first, second := of[c.FirstScale], of[c.SecondScale]
		if first.Instrument.ID == instrument || second.Instrument.ID == instrument {
			out = append(out, c.fit(first, second))
		}
	}
	return out
}
