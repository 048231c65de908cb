package practice

import (
	"context"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// Paper is a document that somebody else issued, kept with a job. Tonnage, class and code
// documents are an authorised person's: they are stored here and never made.
type Paper struct {
	ID       uuid.UUID
	Kind     string
	Title    string
	IssuedBy string
	IssuedOn *time.Time
	EndsOn   *time.Time
	Number   string // as it bears
	NotedAt  time.Time
	Key      string // of the file in the store
	FileName string

	File string // address that holds for some minutes; empty where no store is set up
}

// PaperWriter writes papers.
type PaperWriter interface {
	InsertPaper(ctx context.Context, in AddPaper, by *uuid.UUID, now time.Time) error
}

// AddPaper is a document that somebody else issued.
type AddPaper struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Job      uuid.UUID
	Upload   uuid.UUID // a finished one, of purpose document
	Kind     string
	Title    string
	IssuedBy string
	IssuedOn *time.Time
	EndsOn   *time.Time
	Number   string
}

// AddPaper keeps a document with a job, as it came. Nothing is read out of it and nothing
// is made of it.
func (s *Service) AddPaper(ctx context.Context, a domain.Actor, in AddPaper) (Done, error) {
	return s.write(ctx, &a, domain.Book, "addPaper", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.ID); err != nil {
			return Done{}, err
		}
		j, err := tx.Job(ctx, in.Job, sees(a))
		if err != nil {
			return Done{}, err
		}
		p, err := tx.Practice(ctx)
		if err != nil {
			return Done{}, err
		}
		if err := in.check(p.Name); err != nil {
			return Done{}, err
		}
		u, err := tx.Upload(ctx, in.Upload)
		if err != nil {
			return Done{}, err
		}
		if err := finished(u, a, "document"); err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingPaper, in.ID), ref(domain.ThingJob, j.ID)), tx.InsertPaper(ctx, in, entered(a), s.instant())
	})
}

func (in *AddPaper) check(practice string) error {
	in.Title, in.IssuedBy = strings.TrimSpace(in.Title), strings.TrimSpace(in.IssuedBy)
	switch {
	case in.Title == "":
		return domain.Invalidf("title", "Say what paper it is.")
	case in.IssuedBy == "":
		return domain.Invalidf("issuedBy", "Say who issued it: an authorised person or body.")
	case in.Kind != "other" && strings.EqualFold(in.IssuedBy, practice):
		return domain.Invalidf("issuedBy", "Such a paper is an authorised person’s. The practice keeps it and never makes it.")
	}
	return nil
}

// addressPapers gives each paper the address of its file.
func (s *Service) addressPapers(ctx context.Context, papers []Paper) (err error) {
	if s.objects == nil {
		return nil
	}
	for k := range papers {
		p := &papers[k]
		if p.Key == "" {
			continue // its file's time is over
		}
		if p.File, err = s.objects.PresignGet(ctx, p.Key, p.FileName, "application/pdf", addressLasts); err != nil {
			return err
		}
	}
	return nil
}
