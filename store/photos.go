package store

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

var _ = say(map[string]rule{
	"photos_pkey": {domain.Conflict, "id", "A photo with this id is kept already."},
})

// Photo implements practice.PhotoReader.
func (s *Store) Photo(ctx context.Context, p, id uuid.UUID, who practice.Sees) (practice.Photo, error) {
	var row *queries.GetPhotoRow
	guest, self, member := whom(who)
	if err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) { one(b, &row, queries.GetPhoto, p, id, guest, self, member) }); err != nil {
		return practice.Photo{}, err
	}
	if row == nil {
		return practice.Photo{}, domain.ErrNotFound
	}
	return photoFrom(*row), nil
}

// PhotoToMake implements practice.PhotoReader.
func (s *Store) PhotoToMake(ctx context.Context, p, id uuid.UUID) (practice.Making, error) {
	var row *queries.PhotoToMakeRow
	if err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) { one(b, &row, queries.PhotoToMake, p, id) }); err != nil {
		return practice.Making{}, err
	}
	if row == nil {
		return practice.Making{}, domain.ErrNotFound
	}
	return practice.Making{ID: row.ID, State: row.State, Key: row.ObjectKey, ContentType: row.ContentType, SizeBytes: row.SizeBytes, Sha256: row.Sha256}, nil
}

// InsertPhoto implements practice.PhotoWriter.
func (tx *inPractice) InsertPhoto(ctx context.Context, in practice.AddPhoto) error {
	return fault("insert photo", tx.q.InsertPhoto(ctx, queries.InsertPhotoParams{
		PracticeID: tx.practice, ID: in.ID, UploadID: in.Upload, VisitID: in.Visit, VesselID: in.Vessel, PlaceID: in.Place,
		FindingID: in.Finding, Caption: in.Caption, TakenAt: in.TakenAt, DeviceUpload: in.Device, ClockAheadSeconds: in.ClockAhead,
	}))
}

// MadePhoto implements practice.PhotoWriter. Where another run was first there is nothing left to do.
func (tx *inPractice) MadePhoto(ctx context.Context, m practice.Made) error {
	_, err := tx.q.MadePhoto(ctx, queries.MadePhotoParams{
		PracticeID: tx.practice, ID: m.ID, State: m.State, RefusedBecause: m.RefusedBecause, Width: m.Width, Height: m.Height,
		ViewKey: m.ViewKey, ThumbKey: m.ThumbKey, ViewSha256: m.ViewSHA256, ViewWidth: m.ViewWidth, ViewHeight: m.ViewHeight,
	})
	return fault("mark photo made", err)
}

// PrintedCopy implements practice.PhotoReader.
func (s *Store) PrintedCopy(ctx context.Context, p, id uuid.UUID) (string, error) {
	var keys []string
	if err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) { column(b, &keys, queries.PrintedCopy, p, id) }); err != nil {
		return "", err
	}
	if len(keys) == 0 || keys[0] == "" {
		return "", domain.ErrNotFound
	}
	return keys[0], nil
}

// PhotoToEdit implements practice.PhotoWriter.
func (tx *inPractice) PhotoToEdit(ctx context.Context, id uuid.UUID, who practice.Sees) (practice.EditedPhoto, error) {
	guest, self, member := whom(who)
	p, err := found(tx.q.LockPhoto(ctx, queries.LockPhotoParams{PracticeID: tx.practice, ID: id, Guest: guest, Self: self, Member: member}))
	return practice.EditedPhoto{
		ID: p.ID, VesselID: p.VesselID, VisitID: p.VisitID, Caption: p.Caption, Alt: p.Alt, Printed: p.Printed, PlaceID: p.PlaceID, Annotation: p.Annotation,
	}, fault("read photo", err)
}

// UpdatePhoto implements practice.PhotoWriter.
func (tx *inPractice) UpdatePhoto(ctx context.Context, p practice.EditedPhoto) error {
	return fault("update photo", changed(tx.q.UpdatePhoto(ctx, queries.UpdatePhotoParams{
		PracticeID: tx.practice, ID: p.ID, Version: p.Version, Caption: p.Caption, Alt: p.Alt, Printed: p.Printed, PlaceID: p.PlaceID, Annotation: p.Annotation,
	})))
}

// PlaceVessel implements practice.PhotoWriter.
func (tx *inPractice) PlaceVessel(ctx context.Context, place uuid.UUID) (uuid.UUID, error) {
	id, err := found(tx.q.PlaceVessel(ctx, queries.PlaceVesselParams{PracticeID: tx.practice, ID: place}))
	return id, fault("read place", err)
}

// photoFrom is for every query whose columns are those of a photo.
func photoFrom(r queries.GetPhotoRow) practice.Photo {
	return practice.Photo{
		ID: r.ID, VesselID: r.VesselID, VisitID: r.VisitID, FindingID: r.FindingID, Caption: r.Caption, State: r.State, RefusedBecause: r.RefusedBecause,
		TakenAt: r.TakenAt, Width: r.Width, Height: r.Height, Place: r.Place, ViewKey: r.ViewKey, ThumbKey: r.ThumbKey,
		Printed: r.Printed, Alt: r.Alt, Annotation: r.Annotation, OnDevice: r.OnDevice, Version: r.Version,
	}
}
