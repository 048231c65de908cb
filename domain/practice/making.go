package practice

import (
	"context"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/report/render"
)

// ReportMaking is how far the making of a frozen report has got: its page first, then its PDF.
type ReportMaking struct {
	Step     string // page or PDF
	Parts    int32  // of the PDF, set so far
	OfParts  int32
	Photos   int32 // of this step, set so far
	OfPhotos int32
	Pages    int32 // of the PDF, begun so far
	At       time.Time
	Made     bool // it came to its end
}

// MakingReader reads how far a making has got, and notes it: neither is a change to what
// the practice keeps.
type MakingReader interface {
	// NoteMaking keeps the newest figures of a making in place of older ones.
	NoteMaking(ctx context.Context, practice, report uuid.UUID, m ReportMaking) error
	// Making reads them; NotFound before the first.
	Making(ctx context.Context, practice, report uuid.UUID, who Sees) (ReportMaking, error)
}

// Making tells how far the making of a report has got; NotFound before it began.
func (s *Service) Making(ctx context.Context, a domain.Actor, report uuid.UUID) (ReportMaking, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return ReportMaking{}, err
	}
	return s.store.Making(ctx, a.Practice, report, sees(a))
}

// noteEvery is how long the figures of a making may be old: a person reads no faster.
const noteEvery = 200 * time.Millisecond

// making notes how far a job has got, while it runs.
type making struct {
	service *Service
	job     ReportJob
	now     ReportMaking
	noted   time.Time
}

// photo counts the photos that are set into the page.
func (m *making) photo(ctx context.Context, get func(id string) ([]byte, error)) func(id string) ([]byte, error) {
	return func(id string) ([]byte, error) {
		b, err := get(id)
		m.now.Photos++
		m.note(ctx)
		return b, err
	}
}

// pdf takes over what the renderer says of the PDF.
func (m *making) pdf(ctx context.Context) func(render.Progress) {
	return func(p render.Progress) {
		m.now.Step, m.now.Parts, m.now.OfParts = "PDF", int32(p.Parts), int32(p.OfParts)
		m.now.Photos, m.now.Pages = int32(p.Photos), int32(p.Pages)
		m.note(ctx)
	}
}

// note keeps the figures, not too often. Where they cannot be kept the report is made all
// the same: nobody waits for figures.
func (m *making) note(ctx context.Context) {
	at := m.service.now()
	if at.Sub(m.noted) < noteEvery {
		return
	}
	m.noted, m.now.At = at, m.service.instant()
	_ = m.service.store.NoteMaking(ctx, m.job.Practice, m.job.Report, m.now)
}
