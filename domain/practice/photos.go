package practice

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/report"
)

// Photo is a photo of a vessel, pinned perhaps to a visit, a place or a finding. The
// original stays as it came; what is shown are copies without anything about where,
// when and with what it was taken.
type Photo struct {
	ID             uuid.UUID
	VesselID       uuid.UUID
	VisitID        *uuid.UUID
	FindingID      *uuid.UUID
	Caption        string
	State          string // waiting, ready or refused
	RefusedBecause string
	TakenAt        *time.Time
	Width          *int32 // of the original, upright
	Height         *int32
	Place          *int32 // ordinal
	ViewKey        string
	ThumbKey       string
	Printed        bool            // in the report of the job whose visit it belongs to
	Alt            string          // what it shows, for who cannot see it
	Annotation     json.RawMessage // what is drawn over it: report.Annotation each
	OnDevice       bool            // the copies are of a JPEG made on the device from the original
	Version        int32

	View  string // addresses that hold for some minutes; empty where there is none yet
	Thumb string
}

// Making is what the job that makes the copies knows of a photo.
type Making struct {
	ID          uuid.UUID
	State       string
	Key         string
	ContentType string
	SizeBytes   int64
	Sha256      []byte
}

// Made is what that job came to.
type Made struct {
	ID             uuid.UUID
	State          string // ready or refused
	RefusedBecause string
	Width, Height  *int32
	ViewKey        string
	ThumbKey       string
	ViewSHA256     []byte // of the copy that is shown and printed
	ViewWidth      *int32
	ViewHeight     *int32
}

// Copies are what is shown of a photo: JPEG, upright, nothing but the picture in them.
type Copies struct {
	Width, Height         int // of the original, upright
	ViewWidth, ViewHeight int
	View, Thumb           []byte
}

// Pictures makes copies. What cannot be a photo gets an Invalid fault that says why.
type Pictures interface {
	Copies(original []byte) (Copies, error)
}

// WithPictures gives the maker of copies; a service without one leaves photos waiting.
func WithPictures(p Pictures) Option { return func(s *Service) { s.pictures = p } }

// PhotoReader reads photos.
type PhotoReader interface {
	Photo(ctx context.Context, practice, id uuid.UUID, who Sees) (Photo, error)
	PhotoToMake(ctx context.Context, practice, id uuid.UUID) (Making, error)
	// PrintedCopy finds where the copy is kept that a report prints.
	PrintedCopy(ctx context.Context, practice, id uuid.UUID) (key string, err error)
}

// PhotoWriter writes photos.
type PhotoWriter interface {
	InsertPhoto(ctx context.Context, p AddPhoto) error
	MadePhoto(ctx context.Context, m Made) error
	// PhotoToEdit reads a photo that the actor may see and holds it.
	PhotoToEdit(ctx context.Context, id uuid.UUID, who Sees) (EditedPhoto, error)
	UpdatePhoto(ctx context.Context, p EditedPhoto) error
	// PlaceVessel finds the vessel of a place.
	PlaceVessel(ctx context.Context, place uuid.UUID) (vessel uuid.UUID, err error)
}

// addressLasts is how long the address of a copy holds. A page that is open longer asks again.
const addressLasts = 5 * time.Minute

// address gives each photo the addresses of its copies. Signing asks nobody.
func (s *Service) address(ctx context.Context, photos []Photo) (err error) {
	if s.objects == nil {
		return nil
	}
	for k := range photos {
		p := &photos[k]
		if p.ViewKey == "" {
			continue
		}
		if p.View, err = s.objects.PresignGet(ctx, p.ViewKey, "", "image/jpeg", addressLasts); err != nil {
			return err
		}
		if p.Thumb, err = s.objects.PresignGet(ctx, p.ThumbKey, "", "image/jpeg", addressLasts); err != nil {
			return err
		}
	}
	return nil
}

// Photo reads one photo.
func (s *Service) Photo(ctx context.Context, a domain.Actor, id uuid.UUID) (Photo, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return Photo{}, err
	}
	p, err := s.store.Photo(ctx, a.Practice, id, sees(a))
	if err != nil {
		return p, err
	}
	one := []Photo{p}
	err = s.address(ctx, one)
	return one[0], err
}

// AddPhoto pins an uploaded photo.
type AddPhoto struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Upload   uuid.UUID
	Vessel   uuid.UUID
	Visit    *uuid.UUID
	Place    *uuid.UUID
	Finding  *uuid.UUID
	Caption  string
	TakenAt  *time.Time // with what the camera's clock was ahead taken off
	// Device is a JPEG that the device made of an original that no program here opens.
	Device *uuid.UUID
	// ClockAhead is how many seconds the camera's clock was ahead of the phone's.
	ClockAhead *int32
	Unasked    *Unasked `json:",omitempty"`
}

// JobMakePhoto is the kind of the job that makes a photo's copies.
const JobMakePhoto = "photo"

// PhotoJob is that job's arguments.
type PhotoJob struct {
	Practice uuid.UUID `json:"practice"`
	Photo    uuid.UUID `json:"photo"`
}

// AddPhoto pins an uploaded photo to a visit, a place or a finding of a vessel and has
// its copies made.
func (s *Service) AddPhoto(ctx context.Context, a domain.Actor, in AddPhoto) (Done, error) {
	return s.write(ctx, &a, domain.WriteVisit, "addPhoto", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.ID); err != nil {
			return Done{}, err
		}
		if len(in.Caption) > 2000 {
			return Done{}, domain.Invalidf("caption", "Keep a caption to 2000 letters.")
		}
		u, err := tx.Upload(ctx, in.Upload)
		if err != nil {
			return Done{}, err
		}
		if err := finished(u, a, "photo"); err != nil {
			return Done{}, err
		}
		if err := in.onDevice(ctx, tx, a, u); err != nil {
			return Done{}, err
		}
		if err := s.belongs(ctx, tx, a, in); err != nil {
			return Done{}, err
		}
		if err := tx.InsertPhoto(ctx, in); err != nil {
			return Done{}, err
		}
		done := touched(ref(domain.ThingPhoto, in.ID), ref(domain.ThingVessel, in.Vessel))
		if in.Visit != nil {
			done.Touched = append(done.Touched, ref(domain.ThingVisit, *in.Visit).String())
		}
		return done, tx.Enqueue(ctx, JobMakePhoto, PhotoJob{a.Practice, in.ID}, s.instant())
	})
}

// onDevice takes a JPEG beside an original that cannot be opened here, and no other pair.
func (in AddPhoto) onDevice(ctx context.Context, tx Tx, a domain.Actor, original Upload) error {
	if in.Device == nil {
		return nil
	}
	u, err := tx.Upload(ctx, *in.Device)
	if err != nil {
		return err
	}
	if err := finished(u, a, "photo"); err != nil {
		return err
	}
	if original.ContentType != "image/heic" || u.ContentType != "image/jpeg" {
		return domain.Invalidf("device", "A copy made on the device is a JPEG of a HEIC original. Any other photo is sent as it is.")
	}
	return nil
}

// belongs refuses what is not of one vessel. A guest sees no vessel but through a visit.
func (s *Service) belongs(ctx context.Context, tx Tx, a domain.Actor, in AddPhoto) error {
	if _, err := tx.Vessel(ctx, in.Vessel); err != nil {
		return err
	}
	if in.Visit == nil && (in.Finding != nil || a.OnlyGuest()) {
		return domain.Invalidf("visit", "Name the visit that the photo belongs to.")
	}
	if in.Visit != nil {
		v, err := attended(ctx, tx, a, *in.Visit)
		if err != nil {
			return err
		}
		if v.VesselID != in.Vessel {
			return domain.Invalidf("visit", "This visit was to another vessel.")
		}
		if err := s.leaveFor(ctx, tx, a, act{v.JobID, ref(domain.ThingPhoto, in.ID), []string{"photograph"}, in.Unasked}); err != nil {
			return err
		}
	}
	if err := placeOf(ctx, tx, in.Place, in.Vessel); err != nil {
		return err
	}
	if in.Finding != nil {
		of, err := tx.FindingVisit(ctx, *in.Finding)
		if err != nil {
			return err
		}
		if of != *in.Visit {
			return domain.Invalidf("finding", "This finding was made in another visit.")
		}
	}
	return nil
}

// MakePhoto makes a photo's copies and marks it ready, or refused with the reason. It
// may run again after any fault: the same original gives the same copies at the same keys.
func (s *Service) MakePhoto(ctx context.Context, job PhotoJob) error {
	m, err := s.store.PhotoToMake(ctx, job.Practice, job.Photo)
	if err != nil {
		return err
	}
	if m.State != "waiting" {
		return nil // an earlier run came to its end
	}
	made, err := s.copies(ctx, job, m)
	if err != nil {
		return err
	}
	self := domain.Service(job.Practice)
	_, err = s.write(ctx, &self, domain.WriteVisit, "makePhoto", derived("makePhoto", m.ID), job, func(ctx context.Context, tx Tx) (Done, error) {
		return touched(ref(domain.ThingPhoto, m.ID)), tx.MadePhoto(ctx, made)
	})
	return err
}

// copies reads the original, one at a time, and stores what is shown of it.
func (s *Service) copies(ctx context.Context, job PhotoJob, m Making) (Made, error) {
	made := Made{ID: m.ID, State: "ready"}
	if m.ContentType == "image/heic" || m.ContentType == invoiceType {
		return made, nil // kept as it came: nothing is opened here that few programs open rightly
	}
	original, err := s.original(ctx, m)
	var copies Copies
	if err == nil {
		copies, err = s.decode(ctx, original)
	}
	if kind := domain.KindOf(err); err != nil && (kind == domain.Invalid || kind == domain.Conflict) {
		made.State, made.RefusedBecause = "refused", words(err)
		return made, nil
	}
	if err != nil {
		return made, err
	}
	made.Width, made.Height = pixels(copies.Width), pixels(copies.Height)
	made.ViewWidth, made.ViewHeight = pixels(copies.ViewWidth), pixels(copies.ViewHeight)
	hash := sha256.Sum256(copies.View)
	made.ViewSHA256 = hash[:]
	under := job.Practice.String() + "/" + job.Photo.String()
	made.ViewKey, made.ThumbKey = under+"-view", under+"-thumb"
	if err := s.objects.Put(ctx, made.ViewKey, "image/jpeg", copies.View); err != nil {
		return made, err
	}
	return made, s.objects.Put(ctx, made.ThumbKey, "image/jpeg", copies.Thumb)
}

func pixels(n int) *int32 { p := int32(n); return &p }

// EditedPhoto is what of a photo may be changed after it was pinned. The picture itself
// stays as it was taken.
type EditedPhoto struct {
	ID       uuid.UUID
	VesselID uuid.UUID
	VisitID  *uuid.UUID
	Caption  string
	Alt      string
	Printed  bool
	PlaceID  *uuid.UUID
	Version  int32

	Annotation json.RawMessage
}

// EditPhoto is a change to what is said of a photo; nil leaves a field as it is.
type EditPhoto struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Version  int32
	Caption  *string
	Alt      *string
	Printed  *bool // whether the report prints it
	Place    *uuid.UUID
	Unpin    bool            // from the place it was pinned to
	Drawn    json.RawMessage // what lies over it, all of it; nil leaves it
}

// EditPhoto changes what is said of a photo, what is drawn over it, the place it is
// pinned to, and whether the report of its job prints it. The picture stays as taken.
func (s *Service) EditPhoto(ctx context.Context, a domain.Actor, in EditPhoto) (Done, error) {
	return s.write(ctx, &a, domain.WriteVisit, "editPhoto", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		p, err := tx.PhotoToEdit(ctx, in.ID, sees(a))
		if err != nil {
			return Done{}, err
		}
		p.Version = in.Version
		set(&p.Caption, in.Caption)
		set(&p.Alt, in.Alt)
		set(&p.Printed, in.Printed)
		setPtr(&p.PlaceID, in.Place)
		if in.Unpin {
			if in.Place != nil {
				return Done{}, domain.Invalidf("unpin", "Pin it to a place or unpin it, not both.")
			}
			p.PlaceID = nil
		}
		if len(in.Drawn) > 0 {
			if p.Annotation, err = drawnOver(in.Drawn); err != nil {
				return Done{}, err
			}
		}
		if len(p.Caption) > 2000 || len(p.Alt) > 2000 {
			return Done{}, domain.Invalidf("caption", "Keep a caption to 2000 letters.")
		}
		if err := placeOf(ctx, tx, in.Place, p.VesselID); err != nil {
			return Done{}, err
		}
		done := touched(ref(domain.ThingPhoto, p.ID), ref(domain.ThingVessel, p.VesselID))
		if p.VisitID != nil {
			done.Touched = append(done.Touched, ref(domain.ThingVisit, *p.VisitID).String())
		}
		return done, tx.UpdatePhoto(ctx, p)
	})
}

const mostDrawn = 40

// drawnOver checks what is drawn over a photo: arrows, rings and words, in thousandths
// of its sides. It is a layer of its own.
func drawnOver(raw json.RawMessage) (json.RawMessage, error) {
	var list []report.Annotation
	if json.Unmarshal(raw, &list) != nil || len(list) > mostDrawn {
		return nil, domain.Invalidf("drawn", "Over a photo lie at most %d arrows, rings and words.", mostDrawn)
	}
	in := func(x int) bool { return x >= 0 && x <= 1000 }
	for k, n := range list {
		at := fmt.Sprintf("drawn[%d]", k)
		switch {
		case n.Kind != "arrow" && n.Kind != "ring" && n.Kind != "text":
			return nil, domain.Invalidf(at+".kind", "One draws an arrow, a ring or text.")
		case !in(n.X) || !in(n.Y) || !in(n.ToX) || !in(n.ToY):
			return nil, domain.Invalidf(at, "Positions are thousandths of the photo’s sides, 0 to 1000.")
		case n.Kind == "text" && (strings.TrimSpace(n.Text) == "" || len(n.Text) > 80):
			return nil, domain.Invalidf(at+".text", "Write up to 80 letters.")
		}
	}
	return json.Marshal(list)
}

// placeOf refuses a place on another vessel.
func placeOf(ctx context.Context, tx Tx, place *uuid.UUID, vessel uuid.UUID) error {
	if place == nil {
		return nil
	}
	of, err := tx.PlaceVessel(ctx, *place)
	if err == nil && of != vessel {
		err = domain.Invalidf("place", "This place is on another vessel.")
	}
	return err
}

// original reads the bytes that were uploaded; others in their place are not shown.
func (s *Service) original(ctx context.Context, m Making) ([]byte, error) {
	if s.objects == nil || s.pictures == nil {
		return nil, errNoObjects
	}
	b, err := s.objects.Get(ctx, m.Key, m.SizeBytes)
	if err != nil {
		return nil, err
	}
	if sum := sha256.Sum256(b); !bytes.Equal(sum[:], m.Sha256) {
		return nil, domain.Conflictf("The bytes in the store are not those that were uploaded.")
	}
	return b, nil
}

// decode takes its turn: pictures are large once they are open.
func (s *Service) decode(ctx context.Context, original []byte) (Copies, error) {
	select {
	case oneAtATime <- struct{}{}:
	case <-ctx.Done():
		return Copies{}, ctx.Err()
	}
	defer func() { <-oneAtATime }()
	return s.pictures.Copies(original)
}

// oneAtATime bounds the memory that open pictures take in this process.
var oneAtATime = make(chan struct{}, 1)

// words gives the sentence of a fault.
func words(err error) string {
	var f *domain.Fault
	if errors.As(err, &f) {
		return f.Text
	}
	return ""
}
