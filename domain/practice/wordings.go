package practice

import (
	"context"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// Wording is the practice's own text of a section, with placeholders, proposed for some
// kinds of survey.
type Wording struct {
	ID       uuid.UUID
	Kinds    []string // none: every kind
	Title    string
	Body     string
	Position int32
	Retired  bool // proposed no more
	Version  int32
	Earlier  []WordingVersion // every version there was, the newest first
}

// WordingVersion is a wording as it once was.
type WordingVersion struct {
	Version int32
	Title   string
	Body    string
	ByName  string
	At      time.Time
}

func (w Wording) fits(kind string) bool {
	return !w.Retired && (len(w.Kinds) == 0 || slices.Contains(w.Kinds, kind))
}

// WordingReader reads wordings.
type WordingReader interface {
	Wordings(ctx context.Context, practice uuid.UUID) ([]Wording, error)
}

// WordingWriter writes wordings.
type WordingWriter interface {
	// KeepWording keeps a wording and its version; version 0 is a new one.
	KeepWording(ctx context.Context, w Wording, by *uuid.UUID, now time.Time) error
}

// Wordings lists the practice's wordings in their order, with their versions.
func (s *Service) Wordings(ctx context.Context, a domain.Actor) ([]Wording, error) {
	if err := domain.May(a, domain.WriteReport); err != nil {
		return nil, err
	}
	return s.store.Wordings(ctx, a.Practice)
}

func wordingNamed(ctx context.Context, tx Tx, id uuid.UUID) (Wording, error) {
	all, err := tx.Wordings(ctx)
	if err != nil {
		return Wording{}, err
	}
	for _, w := range all {
		if w.ID == id {
			return w, nil
		}
	}
	return Wording{}, domain.ErrNotFound
}

// KeepWording is a wording; version 0 begins a new one.
type KeepWording struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Version  int32
	Kinds    []string
	Title    string
	Body     string
	Position int32
	Retired  bool
}

// KeepWording keeps a wording of the practice. Earlier versions stay readable, and drafts
// keep the words that they were given.
func (s *Service) KeepWording(ctx context.Context, a domain.Actor, in KeepWording) (Done, error) {
	return s.write(ctx, &a, domain.ManagePractice, "keepWording", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if in.Version == 0 {
			if err := newID("id", in.ID); err != nil {
				return Done{}, err
			}
		} else if _, err := wordingNamed(ctx, tx, in.ID); err != nil {
			return Done{}, err
		}
		w := Wording{ID: in.ID, Kinds: in.Kinds, Title: strings.TrimSpace(in.Title), Body: in.Body, Position: in.Position, Retired: in.Retired, Version: in.Version}
		if w.Kinds == nil {
			w.Kinds = []string{}
		}
		if err := (ReportSection{Title: w.Title, Body: w.Body}).check(); err != nil {
			return Done{}, err
		}
		for _, k := range w.Kinds {
			if kindTitles[k] == "" {
				return Done{}, domain.Invalidf("kinds", "There is no kind of survey %q for which reports are made.", k)
			}
		}
		return touched(ref(domain.ThingWording, in.ID)), tx.KeepWording(ctx, w, entered(a), s.instant())
	})
}
