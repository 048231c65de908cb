package practice

import (
	"context"
	"encoding/hex"
	"encoding/json"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/report"
)

// Printed is a photo of the job that its report prints: its copy, never the original.
type Printed struct {
	ID             uuid.UUID
	FindingID      *uuid.UUID
	Caption        string
	Alt            string
	TakenAt        *time.Time
	ViewWidth      *int32
	ViewHeight     *int32
	ViewSha256     []byte
	ViewKey        string
	Annotation     json.RawMessage
	OnDevice       bool
	OriginalSha256 []byte
	Place          *int32 // ordinal
	TimeZone       string // of the visit
	TakenBy        string
}

// photoID is what a report calls a photo.
func photoID(id uuid.UUID) string { return string(domain.ThingPhoto) + "_" + id.String() }

// photosInput numbers the job's photos in the order in which they were taken. The report
// keeps the hash of the copy it prints, so that another picture is never printed for it,
// and the hash of the original, so that the file as taken can be told.
func photosInput(src Sources) []report.Photo {
	axis := src.History.Axis
	out := make([]report.Photo, 0, len(src.Photos))
	for k, p := range src.Photos {
		photo := report.Photo{
			ID: photoID(p.ID), Number: k + 1, Caption: p.Caption, Alt: orElse(p.Alt, p.Caption), By: p.TakenBy,
			SHA256: hex.EncodeToString(p.ViewSha256), Original: hex.EncodeToString(p.OriginalSha256),
		}
		photo.OnDevice = p.OnDevice
		_ = json.Unmarshal(p.Annotation, &photo.Notes) // checked when it was drawn
		if p.ViewWidth != nil && p.ViewHeight != nil {
			photo.Width, photo.Height = int(*p.ViewWidth), int(*p.ViewHeight)
		}
		if p.TakenAt != nil {
			photo.Taken = p.TakenAt.In(Zone(p.TimeZone)).Format("2 January 2006, 15:04")
		}
		if p.Place != nil {
			if at := int(*p.Place) - 1; at >= 0 && at < len(axis.IDs) {
				photo.Place, photo.Element = axis.Sides[at]+" "+axis.Labels[at], "hull"
				spot := spot(axis, at)
				photo.At = &spot
			}
		}
		out = append(out, photo)
	}
	return out
}

// reportPhoto hands the renderer the copies that a report's hashes name; what does not
// fit its hash the renderer refuses.
func (s *Service) reportPhoto(ctx context.Context, practice uuid.UUID) func(id string) ([]byte, error) {
	return func(id string) ([]byte, error) {
		photo, err := uuid.Parse(strings.TrimPrefix(id, photoID(uuid.Nil)[:4]))
		if err != nil {
			return nil, domain.ErrNotFound
		}
		key, err := s.store.PrintedCopy(ctx, practice, photo)
		if err != nil {
			return nil, err
		}
		return s.objects.Get(ctx, key, maxReport)
	}
}
