package practice

import (
	"context"
	"crypto/sha256"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// Authentic is what whoever holds an issued report's bytes is told of it: whether they
// are as issued, and what came after.
type Authentic struct {
	State        string // issued, amended, replaced or withdrawn
	Number       string
	Title        string
	IssuedAt     time.Time
	Pdf          bool // they are the PDF, else the page
	PracticeName string
	Invented     bool
	Addendum     int32  // they are the file of this addendum; 0 of the report itself
	ReplacedBy   string // number of the report that took its place
	EndedBecause string // why it was replaced or withdrawn
	EndedAt      *time.Time
	Addenda      []time.Time // when each was issued, by number
}

// AuthenticReader finds issued reports by the hash of their bytes.
type AuthenticReader interface {
	// ReportByHash finds the practice and the report; NotFound where no issue has that hash.
	ReportByHash(ctx context.Context, hash [sha256.Size]byte) (practice, report uuid.UUID, err error)
	Authentic(ctx context.Context, practice, report uuid.UUID, hash [sha256.Size]byte) (Authentic, error)
}

// Authentic tells whether bytes of this SHA-256 were issued here as a report's PDF or
// page. Anybody may ask: to know the hash is to hold the bytes.
func (s *Service) Authentic(ctx context.Context, hash [sha256.Size]byte) (Authentic, error) {
	practice, report, err := s.store.ReportByHash(ctx, hash)
	if err != nil {
		return Authentic{}, err
	}
	found, err := s.store.Authentic(ctx, practice, report, hash)
	if err == nil && found.Number == "" {
		err = domain.ErrNotFound
	}
	return found, err
}
