package practice

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// mostClientPhotos is how many photos and invoices one link may send in a day.
const mostClientPhotos = 20

// JobMakeClientPhoto is the kind of the job that makes the copies of a client's photo, and
// opens an invoice to be looked at.
const JobMakeClientPhoto = "client-photo"

// invoiceType is that of an invoice as a file.
const invoiceType = "application/pdf"

// clientSends is what may go with a client's answer: a photo or an invoice.
var clientSends = accepted{most: 25 * megabyte, types: append(slices.Clone(purposes["photo"].types), invoiceType)}

// clientPurpose is what an upload of a type is kept as.
func clientPurpose(contentType string) string {
	if contentType == invoiceType {
		return "document"
	}
	return "photo"
}

// GrantClientPhoto gives leave to put one photo or invoice into the store, under the rules
// of every other upload: this type, size and hash, one key of our own, once, for five minutes.
func (s *Service) GrantClientPhoto(ctx context.Context, who Holder, in GrantUpload) (Grant, error) {
	h, _, _, err := s.act(ctx, who)
	if err != nil {
		return Grant{}, err
	}
	if s.objects == nil {
		return Grant{}, errNoObjects
	}
	if err := in.check(clientSends); err != nil {
		return Grant{}, err
	}
	self := domain.Service(h.practice)
	hashed := struct {
		Share  uuid.UUID
		Upload GrantUpload
	}{h.share, in}
	_, err = s.write(ctx, &self, domain.Share, "grantClientPhoto", in.Mutation, hashed, func(ctx context.Context, tx Tx) (Done, error) {
		now := s.instant()
		sent, err := tx.ClientPhotosSince(ctx, h.share, now.Add(-24*time.Hour))
		if err != nil {
			return Done{}, err
		}
		if sent >= mostClientPhotos {
			return Done{}, errManyActs
		}
		if err := tx.Enqueue(ctx, JobSweepUpload, SweepJob{h.practice, in.ID}, now.Add(sweepAfter)); err != nil {
			return Done{}, err
		}
		err = tx.InsertUpload(ctx, Upload{
			ID: in.ID, Purpose: clientPurpose(in.ContentType), Key: h.practice.String() + "/" + uuid.NewString(), ContentType: in.ContentType,
			SizeBytes: in.SizeBytes, Sha256: in.Sha256, FileName: in.FileName, GrantedAt: now, ExpiresAt: now.Add(grantLasts),
		})
		if err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingUpload, in.ID), ref(domain.ThingShare, h.share)), tx.InsertClientPhoto(ctx, in.ID, h.share)
	})
	if err != nil {
		return Grant{}, err
	}
	if err := s.ownPhoto(ctx, h, in.ID); err != nil {
		return Grant{}, err
	}
	u, err := s.store.Upload(ctx, h.practice, in.ID)
	if err != nil {
		return Grant{}, err
	}
	return s.grant(ctx, u)
}

// ownPhoto refuses a photo that was granted to another link, or went with an answer already.
func (s *Service) ownPhoto(ctx context.Context, h held, upload uuid.UUID) error {
	share, err := s.store.ClientPhotoShare(ctx, h.practice, upload)
	if err == nil && share != h.share {
		err = domain.ErrNotFound
	}
	return err
}

// arrived holds what was put against its grant, outside any transaction. A photo that an
// answer has taken already was looked at then.
func (s *Service) arrived(ctx context.Context, h held, upload *uuid.UUID) error {
	if upload == nil {
		return nil
	}
	m, err := s.store.ClientPhotoToMake(ctx, h.practice, *upload)
	if err != nil || m.State != "granted" {
		return err
	}
	if err := s.ownPhoto(ctx, h, *upload); err != nil {
		return err
	}
	u, err := s.store.Upload(ctx, h.practice, *upload)
	if err != nil {
		return err
	}
	return s.verify(ctx, u)
}

// takePhoto attaches a photo or an invoice to the answer under way and has it made ready.
func (s *Service) takePhoto(ctx context.Context, tx Tx, h held, upload uuid.UUID) error {
	sent, err := tx.SentClientPhoto(ctx, upload)
	if err != nil {
		return err
	}
	if !sent {
		return domain.ErrNotFound
	}
	if err := tx.FinishUpload(ctx, upload, s.instant()); err != nil {
		return err
	}
	return tx.Enqueue(ctx, JobMakeClientPhoto, PhotoJob{h.practice, upload}, s.instant())
}

// MakeClientPhoto makes the copies of a client's photo and marks it ready, or refused with
// the reason. It may run again after any fault.
func (s *Service) MakeClientPhoto(ctx context.Context, job PhotoJob) error {
	m, err := s.store.ClientPhotoToMake(ctx, job.Practice, job.Photo)
	if err != nil || m.State != "waiting" {
		return err
	}
	made, err := s.copies(ctx, job, m)
	if err != nil {
		return err
	}
	self := domain.Service(job.Practice)
	_, err = s.write(ctx, &self, domain.Share, "makeClientPhoto", derived("makeClientPhoto", m.ID), job, func(ctx context.Context, tx Tx) (Done, error) {
		return touched(ref(domain.ThingUpload, m.ID)), tx.MadeClientPhoto(ctx, made)
	})
	if err != nil || made.ViewKey == "" {
		return err
	}
	// The sender may have been erased meanwhile: then the copies go as well.
	if m, err = s.store.ClientPhotoToMake(ctx, job.Practice, job.Photo); err != nil || m.State != "refused" {
		return err
	}
	return errors.Join(s.objects.Remove(ctx, made.ViewKey), s.objects.Remove(ctx, made.ThumbKey))
}

// ArchivedPhoto is one photo of a report as its archive holds it: the copy that was printed,
// without position or serial numbers, under a name of our making.
type ArchivedPhoto struct {
	Name   string
	Key    string
	SHA256 []byte
	Size   int64 // bytes
}

// SharedPhotos lists the photos that a report open to an outsider prints, and notes that
// they were fetched. Nothing else of the job is among them.
func (s *Service) SharedPhotos(ctx context.Context, who Holder) (Shared, []ArchivedPhoto, error) {
	h, err := s.reach(ctx, who, domain.ReadShared)
	if err != nil {
		return Shared{}, nil, err
	}
	shared, content, err := s.openTo(ctx, who, h)
	if err != nil {
		return Shared{}, nil, err
	}
	ids := make([]uuid.UUID, 0, len(content.Photos))
	for _, p := range content.Photos {
		id, err := uuid.Parse(strings.TrimPrefix(p.ID, photoID(uuid.Nil)[:4]))
		if err != nil {
			return Shared{}, nil, fmt.Errorf("photo %d of report %s: %w", p.Number, shared.Number, err)
		}
		ids = append(ids, id)
	}
	keys, err := s.store.PrintedCopies(ctx, h.practice, ids)
	if err != nil {
		return Shared{}, nil, err
	}
	if s.objects == nil {
		return Shared{}, nil, errNoObjects
	}
	var list []ArchivedPhoto
	for k, p := range content.Photos {
		sum, err := hex.DecodeString(p.SHA256)
		if err != nil || keys[ids[k]] == "" {
			return Shared{}, nil, domain.ErrNotFound
		}
		size, err := s.objects.Stat(ctx, keys[ids[k]])
		if err != nil {
			return Shared{}, nil, err
		}
		list = append(list, ArchivedPhoto{Name: photoName(p.Number, p.Place), Key: keys[ids[k]], SHA256: sum, Size: size})
	}
	if len(list) == 0 {
		return Shared{}, nil, domain.ErrNotFound
	}
	return shared, list, s.store.InsertOpening(ctx, h.practice, uuid.Must(uuid.NewV7()), h.share, "photos", s.instant())
}

// photoName is safe in every file system: a number, and the place in letters and digits.
func photoName(number int, place string) string {
	name := strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9':
			return r
		}
		return '-'
	}, place)
	if name = strings.Trim(name, "-"); name != "" {
		name = "-" + name
	}
	return fmt.Sprintf("photo-%03d%s.jpg", number, name)
}

// PhotoBytes reads one photo of an archive. What does not fit the hash that the report
// keeps is never handed out.
func (s *Service) PhotoBytes(ctx context.Context, p ArchivedPhoto) ([]byte, error) {
	b, err := s.Object(ctx, p.Key)
	if err != nil {
		return nil, err
	}
	if sum := sha256.Sum256(b); !bytes.Equal(sum[:], p.SHA256) {
		return nil, fmt.Errorf("%s does not fit the hash that its report keeps", p.Key)
	}
	return b, nil
}
