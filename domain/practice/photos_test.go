package practice_test

import (
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"net/http"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store"
	"boottop.example/practice/store/picture"
)

func TestAHEICOriginalIsShownByTheDevicesJPEG(t *testing.T) {
	t.Parallel()
	b, _, objects := withFiles(t)
	s, lead := b.survey(b.ours, "Petrel"), b.ours.of[domain.Surveyor]
	heic := must[[]byte](t)(os.ReadFile("../../testdata/photo/weep.heic"))
	original, device := b.uploaded(lead, "photo", "image/heic", heic), b.uploaded(lead, "photo", "image/jpeg", photo(t, 800, 600))
	add := func(original, device uuid.UUID) (uuid.UUID, error) {
		in := practice.AddPhoto{Mutation: newID(), ID: newID(), Upload: original, Device: &device, Vessel: s.vessel, Visit: &s.visit, TakenAt: ptr(b.clock.now()), ClockAhead: ptr(int32(95))}
		_, err := b.AddPhoto(t.Context(), lead, in)
		return in.ID, err
	}
	_, err := add(device, original)
	want(t, err, domain.Invalid, "device")
	_, err = add(original, newID())
	want(t, err, domain.NotFound)
	id, err := add(original, device)
	want(t, err, domain.Internal)
	if err := b.MakePhoto(t.Context(), practice.PhotoJob{Practice: b.ours.id, Photo: id}); err != nil {
		t.Fatal(err)
	}
	p := must[practice.Photo](t)(b.Photo(t.Context(), lead, id))
	if p.State != "ready" || !p.OnDevice || p.View == "" || *p.Width != 800 {
		t.Errorf("shown: %+v", p)
	}
	if kept := must[[]byte](t)(objects.Get(t.Context(), value[string](b, `select object_key from uploads where id = $1`, original), 1<<20)); string(kept) != string(heic) {
		t.Error("the original is not what was sent")
	}
	if kept := value[string](b, `select encode(sha256, 'hex') from uploads where id = $1`, original); kept != fmt.Sprintf("%x", sha256.Sum256(heic)) {
		t.Errorf("the hash kept with it is %s", kept)
	}
	if value[int](b, `select clock_ahead_seconds from photos where id = $1`, id) != 95 {
		t.Error("how far the camera's clock was ahead is not kept")
	}
}

func TestWhatIsDrawnOverAPhotoIsALayer(t *testing.T) {
	t.Parallel()
	b, objects, w := write(t)
	lead := b.ours.of[domain.Surveyor]
	id := b.pinned(w, "weep", 600)
	before := must[[]byte](t)(objects.Get(t.Context(), value[string](b, `select view_key from photos where id = $1`, id), 1<<24))
	version := int32(1)
	edit := func(change func(*practice.EditPhoto)) error {
		in := practice.EditPhoto{Mutation: newID(), ID: id, Version: version}
		change(&in)
		_, err := b.EditPhoto(t.Context(), lead, in)
		if err == nil {
			version++
		}
		return err
	}
	for field, drawn := range map[string]string{
		"drawn":         `{"kind": "arrow"}`,
		"drawn[0].kind": `[{"kind": "blot", "x": 1, "y": 1}]`,
		"drawn[0]":      `[{"kind": "ring", "x": 1001, "y": 1}]`,
		"drawn[0].text": `[{"kind": "text", "x": 1, "y": 1, "text": " "}]`,
	} {
		want(t, edit(func(p *practice.EditPhoto) { p.Drawn = json.RawMessage(drawn) }), domain.Invalid, field)
	}
	want(t, edit(func(p *practice.EditPhoto) {
		p.Drawn = json.RawMessage("[" + strings.Repeat(`{"kind":"ring"},`, 40) + `{"kind":"ring"}]`)
	}), domain.Invalid, "drawn")
	want(t, edit(func(p *practice.EditPhoto) {
		p.Drawn = json.RawMessage(`[{"kind":"arrow","x":100,"y":100,"toX":400,"toY":420},{"kind":"text","x":90,"y":80,"text":"brown"}]`)
	}), domain.Internal)
	want(t, edit(func(p *practice.EditPhoto) { p.Unpin, p.Place = true, &w.places[0] }), domain.Invalid, "unpin")
	want(t, edit(func(p *practice.EditPhoto) { p.Unpin = true }), domain.Internal)
	p := must[practice.Photo](t)(b.Photo(t.Context(), lead, id))
	if p.Place != nil || !strings.Contains(string(p.Annotation), "brown") {
		t.Errorf("after: %+v", p)
	}
	if after := must[[]byte](t)(objects.Get(t.Context(), p.ViewKey, 1<<24)); string(after) != string(before) {
		t.Error("drawing over a photo changed the picture")
	}
	if content := string(must[practice.ReportPage](t)(b.Report(t.Context(), lead, w.report)).Content); !strings.Contains(content, `"notes":[{"kind":"arrow"`) {
		t.Error("what is drawn does not stand in the report")
	}
}

// Promise C2: what nobody used is gone after a day, and nothing that is pinned goes.
func TestUploadsThatNothingCameOfAreSweptAway(t *testing.T) {
	t.Parallel()
	b, _, objects := withFiles(t)
	lead, vessel := b.ours.of[domain.Surveyor], b.vessel(b.ours, "Petrel")
	body := photo(t, 8, 8)
	pinned, loose := b.uploaded(lead, "photo", "image/jpeg", body), b.uploaded(lead, "photo", "image/jpeg", body)
	in := practice.AddPhoto{Mutation: newID(), ID: newID(), Upload: pinned, Vessel: vessel}
	must[practice.Done](t)(b.AddPhoto(t.Context(), lead, in))
	open := grantFor("photo", "image/jpeg", body)
	g := must[practice.Grant](t)(b.GrantUpload(t.Context(), lead, open))
	if put(t, g, body) != http.StatusOK {
		t.Fatal("the PUT was refused")
	}
	never := grantFor("photo", "image/jpeg", body)
	must[practice.Grant](t)(b.GrantUpload(t.Context(), lead, never))
	if n := value[int](b, `select count(*) from queue.river_job where kind = $1 and scheduled_at > now() + interval '24 hours'`, practice.JobSweepUpload); n != 4 {
		t.Errorf("%d sweeps are asked for", n)
	}
	b.clock.pass(26 * time.Hour)
	key := func(id uuid.UUID) string { return value[string](b, `select object_key from uploads where id = $1`, id) }
	for _, id := range []uuid.UUID{pinned, loose, open.ID, never.ID} {
		for range 2 { // a job may run more than once
			if err := b.SweepUpload(t.Context(), practice.SweepJob{Practice: b.ours.id, Upload: id}); err != nil {
				t.Fatal(err)
			}
		}
		_, err := objects.Stat(t.Context(), key(id))
		if gone := domain.KindOf(err) == domain.NotFound; gone == (id == pinned) {
			t.Errorf("upload %s: gone %v, pinned %v", id, gone, id == pinned)
		}
	}
	in = practice.AddPhoto{Mutation: newID(), ID: newID(), Upload: loose, Vessel: vessel}
	_, err := b.AddPhoto(t.Context(), lead, in)
	want(t, err, domain.Invalid, "upload") // no row without an object
}

// Promise C1: with the store away readings and findings go on, and photos wait.
func TestWithTheStoreAwayReadingsGoOnAndPhotosWait(t *testing.T) {
	t.Parallel()
	b, _, _ := withFiles(t)
	s, lead := b.survey(b.ours, "Petrel"), b.ours.of[domain.Surveyor]
	kept := practice.AddPhoto{Mutation: newID(), ID: newID(), Upload: b.uploaded(lead, "photo", "image/jpeg", photo(t, 60, 40)), Vessel: s.vessel, Visit: &s.visit}
	must[practice.Done](t)(b.AddPhoto(t.Context(), lead, kept))
	here := b.Service
	away, err := store.OpenObjects(store.ObjectsConfig{URL: "http://127.0.0.1:9", Region: "us-east-1", Bucket: "bucket", Key: "k", Secret: "s"})
	if err != nil {
		t.Fatal(err)
	}
	b.Service = practice.New(b.store, practice.WithClock(b.clock.now), practice.WithObjects(away), practice.WithPictures(picture.Maker{}))
	pass := b.pass(b.ours, s)
	must[practice.Done](t)(b.AddReadings(t.Context(), lead, practice.AddReadings{
		Mutation: newID(), Pass: pass, IDs: []uuid.UUID{newID()}, Ordinals: []int32{1}, Placements: [][]int16{{180}}, TakenAt: []time.Time{b.clock.now()},
	}))
	_, err = b.found(s)
	want(t, err, domain.Internal)
	in := grantFor("photo", "image/jpeg", []byte("x"))
	if g := must[practice.Grant](t)(b.GrantUpload(t.Context(), lead, in)); g.URL == "" {
		t.Error("leave to send a photo needs the store")
	}
	_, err = b.FinishUpload(t.Context(), lead, practice.FinishUpload{Mutation: newID(), Upload: in.ID})
	want(t, err, domain.Unavailable)
	if err := b.MakePhoto(t.Context(), practice.PhotoJob{Practice: b.ours.id, Photo: kept.ID}); domain.KindOf(err) != domain.Unavailable {
		t.Errorf("the copies came to %v", err)
	}
	if p := must[practice.Photo](t)(b.Photo(t.Context(), lead, kept.ID)); p.State != "waiting" {
		t.Errorf("the photo is %s", p.State)
	}
	b.Service = here
	if err := b.MakePhoto(t.Context(), practice.PhotoJob{Practice: b.ours.id, Photo: kept.ID}); err != nil {
		t.Fatal(err)
	}
	if p := must[practice.Photo](t)(b.Photo(t.Context(), lead, kept.ID)); p.State != "ready" {
		t.Errorf("once the store is back the photo is %s", p.State)
	}
}
