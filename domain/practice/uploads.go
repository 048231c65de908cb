package practice

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// Upload is leave to put one object into the store, and what came of it.
type Upload struct {
	ID          uuid.UUID
	Purpose     string // photo, readings or document
	Key         string
	ContentType string
	SizeBytes   int64
	Sha256      []byte
	FileName    string
	GrantedTo   *uuid.UUID
	GrantedAt   time.Time
	ExpiresAt   time.Time
	FinishedAt  *time.Time
	SweptAt     *time.Time // nobody finished or used it in time: its object is gone
}

// UploadReader reads uploads.
type UploadReader interface {
	Upload(ctx context.Context, practice, id uuid.UUID) (Upload, error)
}

// UploadWriter writes uploads.
type UploadWriter interface {
	// Upload reads an upload and holds it: nothing sweeps it away meanwhile.
	Upload(ctx context.Context, id uuid.UUID) (Upload, error)
	// UploadInUse tells whether anything is pinned to an upload.
	UploadInUse(ctx context.Context, id uuid.UUID) (bool, error)
	SweepUpload(ctx context.Context, id uuid.UUID, now time.Time) error
	InsertUpload(ctx context.Context, u Upload) error
	// OpenGrants counts the grants of a member that may still be used.
	OpenGrants(ctx context.Context, member *uuid.UUID, now time.Time) (int64, error)
	FinishUpload(ctx context.Context, id uuid.UUID, now time.Time) error
}

const (
	grantLasts = 5 * time.Minute
	// finishWithin is how long after the grant an upload may be said to be done: a slow
	// line may begin in time and end late. What nobody finished is swept away later.
	finishWithin = 24 * time.Hour
	// maxGrants is how many grants one member may hold open.
	maxGrants = 200
	megabyte  = 1 << 20
)

// accepted says what may be uploaded for a purpose, and by whom.
type accepted struct {
	most  int64
	types []string
	do    domain.Action
}

var purposes = map[string]accepted{
	"photo":    {25 * megabyte, []string{"image/jpeg", "image/png", "image/webp", "image/heic"}, domain.WriteVisit},
	"readings": {2 * megabyte, []string{"text/csv"}, domain.WriteVisit},
	"document": {25 * megabyte, []string{"application/pdf"}, domain.Book},
}

// begins are the bytes that a file of each type begins with; text has none.
var begins = map[string]func(head []byte) bool{
	"image/jpeg":      func(h []byte) bool { return bytes.HasPrefix(h, []byte("\xff\xd8\xff")) },
	"image/png":       func(h []byte) bool { return bytes.HasPrefix(h, []byte("\x89PNG\r\n\x1a\n")) },
	"image/webp":      func(h []byte) bool { return len(h) >= 12 && string(h[:4]) == "RIFF" && string(h[8:12]) == "WEBP" },
	"image/heic":      func(h []byte) bool { return len(h) >= 12 && string(h[4:8]) == "ftyp" },
	"application/pdf": func(h []byte) bool { return bytes.HasPrefix(h, []byte("%PDF-")) },
}

// GrantUpload asks for leave to put one object into the store.
type GrantUpload struct {
	Mutation    uuid.UUID `json:"-"`
	ID          uuid.UUID
	Purpose     string
	ContentType string
	SizeBytes   int64
	Sha256      []byte
	FileName    string
}

// Grant is that leave: where to PUT, with just these headers, until when. The address
// is empty where the upload is finished or its time is over.
type Grant struct {
	URL       string
	Headers   map[string]string
	ExpiresAt time.Time
}

// GrantUpload gives leave to put one object of just this type, size and hash into the
// store, once, for five minutes, at a key of our own. The bytes never pass through here.
func (s *Service) GrantUpload(ctx context.Context, a domain.Actor, in GrantUpload) (Grant, error) {
	of, known := purposes[in.Purpose]
	if !known {
		if err := domain.May(a, domain.ReadPractice); err != nil {
			return Grant{}, err
		}
		return Grant{}, domain.Invalidf("purpose", "A file is a photo, readings or a document.")
	}
	_, err := s.write(ctx, &a, of.do, "grantUpload", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if s.objects == nil {
			return Done{}, errNoObjects
		}
		if err := in.check(of); err != nil {
			return Done{}, err
		}
		open, err := tx.OpenGrants(ctx, entered(a), s.instant())
		if err != nil {
			return Done{}, err
		}
		if open >= maxGrants {
			return Done{}, &domain.Fault{Kind: domain.Unavailable, Text: "Many uploads are under way already. Finish some, then ask again."}
		}
		now := s.instant()
		if err := tx.Enqueue(ctx, JobSweepUpload, SweepJob{a.Practice, in.ID}, now.Add(sweepAfter)); err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingUpload, in.ID)), tx.InsertUpload(ctx, Upload{
			ID: in.ID, Purpose: in.Purpose, Key: a.Practice.String() + "/" + uuid.NewString(), ContentType: in.ContentType,
			SizeBytes: in.SizeBytes, Sha256: in.Sha256, FileName: in.FileName, GrantedTo: entered(a), GrantedAt: now, ExpiresAt: now.Add(grantLasts),
		})
	})
	if err != nil {
		return Grant{}, err
	}
	u, err := s.ownUpload(ctx, a, in.ID)
	if err != nil {
		return Grant{}, err
	}
	return s.grant(ctx, u)
}

var errNoObjects error = &domain.Fault{Kind: domain.Unavailable, Text: "No store for files is set up here."}

func (in GrantUpload) check(of accepted) error {
	if err := newID("id", in.ID); err != nil {
		return err
	}
	switch {
	case !slices.Contains(of.types, in.ContentType):
		return domain.Invalidf("contentType", "For this purpose a file is one of: %s.", strings.Join(of.types, ", "))
	case in.SizeBytes < 1:
		return domain.Invalidf("sizeBytes", "The file is empty.")
	case in.SizeBytes > of.most:
		return domain.Invalidf("sizeBytes", "Such a file may have %d MB at most.", of.most/megabyte)
	case len(in.Sha256) != sha256.Size:
		return domain.Invalidf("sha256", "Give the SHA-256 of the file's bytes.")
	case len(in.FileName) > 1000:
		return domain.Invalidf("fileName", "The file's name is too long.")
	}
	return nil
}

// grant signs the address anew, so that a repeated call helps for what time is left.
func (s *Service) grant(ctx context.Context, u Upload) (Grant, error) {
	g := Grant{ExpiresAt: u.ExpiresAt}
	left := u.ExpiresAt.Sub(s.now()).Truncate(time.Second)
	if u.FinishedAt != nil || left < time.Second {
		return g, nil
	}
	var err error
	g.URL, g.Headers, err = s.objects.PresignPut(ctx, u.Key, u.ContentType, u.SizeBytes, u.Sha256, left)
	return g, err
}

// ownUpload reads an upload that was granted to the actor; any other is not there.
func (s *Service) ownUpload(ctx context.Context, a domain.Actor, id uuid.UUID) (Upload, error) {
	u, err := s.store.Upload(ctx, a.Practice, id)
	if err == nil && !grantedTo(u, a) {
		err = domain.ErrNotFound
	}
	return u, err
}

func grantedTo(u Upload, a domain.Actor) bool {
	return a.Means == domain.BySelf || u.GrantedTo != nil && *u.GrantedTo == a.Member
}

// FinishUpload says that the file has been put.
type FinishUpload struct {
	Mutation uuid.UUID `json:"-"`
	Upload   uuid.UUID
}

// FinishUpload reads what was put and holds size, hash and first bytes against the
// grant. What does not fit is not attached to anything. Said twice it answers the same.
func (s *Service) FinishUpload(ctx context.Context, a domain.Actor, in FinishUpload) (Done, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return Done{}, err
	}
	if s.objects == nil {
		return Done{}, errNoObjects
	}
	u, err := s.ownUpload(ctx, a, in.Upload)
	if err != nil {
		return Done{}, err
	}
	if u.FinishedAt == nil {
		// Outside the transaction: reading from the store may take long.
		if err := s.verify(ctx, u); err != nil {
			return Done{}, err
		}
	}
	return s.write(ctx, &a, purposes[u.Purpose].do, "finishUpload", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		return touched(ref(domain.ThingUpload, u.ID)), tx.FinishUpload(ctx, u.ID, s.instant())
	})
}

// verify reads an object and holds it against its grant.
func (s *Service) verify(ctx context.Context, u Upload) error {
	if s.now().After(u.GrantedAt.Add(finishWithin)) {
		return domain.Forbiddenf("The leave for this file is over. Ask for a new one and send the file again.")
	}
	size, err := s.objects.Stat(ctx, u.Key)
	if domain.KindOf(err) == domain.NotFound {
		return domain.Invalidf("upload", "The file has not arrived in the store. PUT it first, with just the headers of the grant.")
	}
	if err != nil {
		return err
	}
	if size != u.SizeBytes {
		return domain.Conflictf("The file in the store has %d bytes, the grant was for %d. Ask for a new grant and send it again.", size, u.SizeBytes)
	}
	head, sum, err := digest(ctx, s.objects, u.Key)
	if err != nil {
		return err
	}
	if !bytes.Equal(sum, u.Sha256) {
		return domain.Conflictf("The file in the store is not the one that was granted: its hash differs. Ask for a new grant and send it again.")
	}
	if is := begins[u.ContentType]; is != nil && !is(head) {
		return domain.Invalidf("upload", "The file is not what it says it is: it does not begin as %s does.", u.ContentType)
	}
	return nil
}

// digest reads an object through and gives its first bytes and its hash.
func digest(ctx context.Context, objects Objects, key string) (head, sum []byte, err error) {
	body, err := objects.Open(ctx, key)
	if err != nil {
		return nil, nil, err
	}
	defer body.Close()
	head = make([]byte, 32)
	n, err := io.ReadFull(body, head)
	if err != nil && !errors.Is(err, io.ErrUnexpectedEOF) && !errors.Is(err, io.EOF) {
		return nil, nil, fmt.Errorf("read object: %w", err)
	}
	h := sha256.New()
	h.Write(head[:n])
	if _, err := io.Copy(h, body); err != nil {
		return nil, nil, fmt.Errorf("read object: %w", err)
	}
	return head[:n], h.Sum(nil), nil
}

// finished refuses an upload that is not the actor's, of another purpose, or not yet checked.
func finished(u Upload, a domain.Actor, purpose string) error {
	switch {
	case !grantedTo(u, a) || u.Purpose != purpose:
		return domain.ErrNotFound
	case u.SweptAt != nil:
		return domain.Invalidf("upload", "Nobody used this file within a day, and it is gone. Send it again.")
	case u.FinishedAt == nil:
		return domain.Invalidf("upload", "The file has not been checked yet. Say that it is finished first.")
	}
	return nil
}

// JobSweepUpload is the kind of the job that sweeps what came of a grant that nobody used.
const JobSweepUpload = "sweep-upload"

// sweepAfter lies beyond the time in which an upload can be said to be done.
const sweepAfter = finishWithin + time.Hour

// SweepJob is that job's arguments.
type SweepJob struct {
	Practice uuid.UUID `json:"practice"`
	Upload   uuid.UUID `json:"upload"`
}

// SweepUpload removes the object of a grant that nothing came of: never finished, or
// finished and pinned to nothing a day later. What anything is pinned to stays. The row is
// marked first, so that nothing is pinned to an object on its way out; a run that was cut
// short removes the object when it runs again.
func (s *Service) SweepUpload(ctx context.Context, job SweepJob) error {
	if s.objects == nil {
		return errNoObjects
	}
	self := domain.Service(job.Practice)
	_, err := s.write(ctx, &self, domain.WriteVisit, "sweepUpload", derived("sweepUpload", job.Upload), job, func(ctx context.Context, tx Tx) (Done, error) {
		u, err := tx.Upload(ctx, job.Upload)
		if err != nil {
			return Done{}, err
		}
		used, err := tx.UploadInUse(ctx, job.Upload)
		if err != nil || used || u.FinishedAt != nil && u.Purpose != "photo" {
			return touched(ref(domain.ThingUpload, job.Upload)), err
		}
		return touched(ref(domain.ThingUpload, job.Upload)), tx.SweepUpload(ctx, job.Upload, s.instant())
	})
	if err != nil {
		return err
	}
	u, err := s.store.Upload(ctx, job.Practice, job.Upload)
	if err != nil || u.SweptAt == nil {
		return err
	}
	return s.objects.Remove(ctx, u.Key)
}
