package practice_test

import (
	"bytes"
	"context"
	"crypto/sha256"
	"image"
	"image/jpeg"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store"
	"boottop.example/practice/store/picture"
	"boottop.example/practice/store/storetest"
)

// withFiles is setup with a real store of files of the test's own.
func withFiles(t testing.TB) (*bundle, *storetest.Bucket, *store.Objects) {
	t.Helper()
	b, bucket := setup(t), storetest.S3(t)
	objects, err := store.OpenObjects(store.ObjectsConfig{URL: bucket.URL(), Region: bucket.Region, Bucket: bucket.Name, Key: bucket.Key, Secret: bucket.Secret})
	if err != nil {
		t.Fatal(err)
	}
	b.clock.pass(time.Since(b.clock.now())) // the store goes by its own clock
	b.Service = practice.New(b.store, practice.WithClock(b.clock.now), practice.WithObjects(objects), practice.WithPictures(picture.Maker{}))
	return b, bucket, objects
}

func grantFor(purpose, contentType string, body []byte) practice.GrantUpload {
	sum := sha256.Sum256(body)
	return practice.GrantUpload{Mutation: newID(), ID: newID(), Purpose: purpose, ContentType: contentType, SizeBytes: int64(len(body)), Sha256: sum[:], FileName: "p\"ort\r\n.jpg"}
}

func put(t testing.TB, g practice.Grant, body []byte) int {
	t.Helper()
	req, err := http.NewRequestWithContext(t.Context(), http.MethodPut, g.URL, bytes.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	for name, v := range g.Headers {
		req.Header.Set(name, v)
	}
	res, err := http.DefaultClient.Do(req)
	if err != nil {
		t.Fatal(err)
	}
	_, _ = io.Copy(io.Discard, res.Body)
	_ = res.Body.Close()
	return res.StatusCode
}

// uploaded grants, puts and finishes.
func (b *bundle) uploaded(a domain.Actor, purpose, contentType string, body []byte) uuid.UUID {
	b.t.Helper()
	in := grantFor(purpose, contentType, body)
	g := must[practice.Grant](b.t)(b.GrantUpload(b.t.Context(), a, in))
	if status := put(b.t, g, body); status != http.StatusOK {
		b.t.Fatalf("PUT answered %d", status)
	}
	must[practice.Done](b.t)(b.FinishUpload(b.t.Context(), a, practice.FinishUpload{Mutation: newID(), Upload: in.ID}))
	return in.ID
}

func photo(t testing.TB, w, h int) []byte {
	t.Helper()
	var raw bytes.Buffer
	if err := jpeg.Encode(&raw, image.NewRGBA(image.Rect(0, 0, w, h)), nil); err != nil {
		t.Fatal(err)
	}
	return raw.Bytes()
}

func TestAGrantIsForOneFileOfAKnownKind(t *testing.T) {
	t.Parallel()
	b, _, _ := withFiles(t)
	lead := b.ours.of[domain.Surveyor]
	for name, c := range map[string]struct {
		change func(*practice.GrantUpload)
		field  string
	}{
		"a GIF":             {func(g *practice.GrantUpload) { g.ContentType = "image/gif" }, "contentType"},
		"an SVG":            {func(g *practice.GrantUpload) { g.ContentType = "image/svg+xml" }, "contentType"},
		"a page":            {func(g *practice.GrantUpload) { g.ContentType = "text/html" }, "contentType"},
		"no type":           {func(g *practice.GrantUpload) { g.ContentType = "" }, "contentType"},
		"a PDF for a photo": {func(g *practice.GrantUpload) { g.ContentType = "application/pdf" }, "contentType"},
		"nothing":           {func(g *practice.GrantUpload) { g.SizeBytes = 0 }, "sizeBytes"},
		"less than nothing": {func(g *practice.GrantUpload) { g.SizeBytes = -1 }, "sizeBytes"},
		"26 MB":             {func(g *practice.GrantUpload) { g.SizeBytes = 26 << 20 }, "sizeBytes"},
		"half a hash":       {func(g *practice.GrantUpload) { g.Sha256 = g.Sha256[:16] }, "sha256"},
		"another purpose":   {func(g *practice.GrantUpload) { g.Purpose = "program" }, "purpose"},
		"a name of 2 kB":    {func(g *practice.GrantUpload) { g.FileName = strings.Repeat("x", 2000) }, "fileName"},
		"an id not new":     {func(g *practice.GrantUpload) { g.ID = uuid.New() }, "id"},
	} {
		in := grantFor("photo", "image/jpeg", []byte("x"))
		c.change(&in)
		_, err := b.GrantUpload(t.Context(), lead, in)
		if domain.KindOf(err) != domain.Invalid {
			t.Errorf("%s: %v", name, err)
			continue
		}
		want(t, err, domain.Invalid, c.field)
	}
	in := grantFor("photo", "image/jpeg", []byte("x"))
	first := must[practice.Grant](t)(b.GrantUpload(t.Context(), lead, in))
	again := must[practice.Grant](t)(b.GrantUpload(t.Context(), lead, in))
	path := func(g practice.Grant) string { head, _, _ := strings.Cut(g.URL, "?"); return head }
	if path(first) != path(again) || !first.ExpiresAt.Equal(again.ExpiresAt) || first.ExpiresAt.Sub(b.clock.now()) > 5*time.Minute {
		t.Errorf("asked again: %v, first %v", again, first)
	}
	if n := value[int](b, `select count(*) from uploads`); n != 1 {
		t.Errorf("%d grants are kept", n)
	}
	if key := value[string](b, `select object_key from uploads`); !strings.HasPrefix(key, b.ours.id.String()+"/") || strings.Contains(key, "ort") {
		t.Errorf("the key is %s", key)
	}
	b.clock.pass(6 * time.Minute)
	if late := must[practice.Grant](t)(b.GrantUpload(t.Context(), lead, in)); late.URL != "" {
		t.Error("a grant outlives its five minutes")
	}
	_, err := b.GrantUpload(t.Context(), b.ours.of[domain.Office], grantFor("photo", "image/jpeg", []byte("x")))
	want(t, err, domain.Forbidden)
	_, err = b.GrantUpload(t.Context(), domain.Actor{}, grantFor("photo", "image/jpeg", []byte("x")))
	want(t, err, domain.Unauthenticated)
}

func TestGrantsRunOutForWhoeverTakesTooMany(t *testing.T) {
	t.Parallel()
	b, _, _ := withFiles(t)
	lead := b.ours.of[domain.Surveyor]
	b.exec(`insert into uploads (practice_id, id, purpose, object_key, content_type, size_bytes, sha256, granted_to, granted_at, expires_at)
		select $1, gen_random_uuid(), 'photo', g::text, 'image/jpeg', 1, '', $2, $3::timestamptz, $3::timestamptz + interval '5 minutes' from generate_series(1, 200) g`, b.ours.id, lead.Member, b.clock.now())
	_, err := b.GrantUpload(t.Context(), lead, grantFor("photo", "image/jpeg", []byte("x")))
	want(t, err, domain.Unavailable)
	_, err = b.GrantUpload(t.Context(), b.ours.of[domain.Trainee], grantFor("photo", "image/jpeg", []byte("x")))
	want(t, err, domain.Internal)
	b.clock.pass(6 * time.Minute)
	_, err = b.GrantUpload(t.Context(), lead, grantFor("photo", "image/jpeg", []byte("x")))
	want(t, err, domain.Internal)
}

// Promise 57, and 56 as far as a grant goes.
func TestAFileIsCheckedBeforeItCounts(t *testing.T) {
	t.Parallel()
	b, bucket, _ := withFiles(t)
	lead, trainee := b.ours.of[domain.Surveyor], b.ours.of[domain.Trainee]
	body := photo(t, 40, 30)
	grant := func(contentType string, body []byte) (practice.GrantUpload, practice.Grant) {
		in := grantFor("photo", contentType, body)
		return in, must[practice.Grant](t)(b.GrantUpload(t.Context(), lead, in))
	}
	finish := func(a domain.Actor, id uuid.UUID) error {
		_, err := b.FinishUpload(t.Context(), a, practice.FinishUpload{Mutation: newID(), Upload: id})
		return err
	}
	in, g := grant("image/jpeg", body)
	want(t, finish(lead, in.ID), domain.Invalid, "upload") // nothing was put yet
	if put(t, g, body) != http.StatusOK {
		t.Fatal("the PUT was refused")
	}
	want(t, finish(trainee, in.ID), domain.NotFound)
	want(t, finish(b.theirs.of[domain.Surveyor], in.ID), domain.NotFound)
	want(t, finish(domain.Actor{}, in.ID), domain.Unauthenticated)
	for range 2 {
		want(t, finish(lead, in.ID), domain.Internal)
	}
	thrice(t, func(ctx context.Context) (practice.Done, error) {
		return b.FinishUpload(ctx, lead, practice.FinishUpload{Mutation: in.ID, Upload: in.ID})
	})
	if status := put(t, g, body); status != http.StatusPreconditionFailed {
		t.Errorf("a second PUT: %d", status)
	}

	fake := []byte("<html><script>alert(1)</script></html>")
	in, g = grant("image/jpeg", fake)
	if put(t, g, fake) != http.StatusOK {
		t.Fatal("the PUT was refused")
	}
	want(t, finish(lead, in.ID), domain.Invalid, "upload") // it does not begin as a JPEG does

	in, g = grant("image/jpeg", body)
	if put(t, g, body) != http.StatusOK {
		t.Fatal("the PUT was refused")
	}
	key := value[string](b, `select object_key from uploads where id = $1`, in.ID)
	other := bytes.Clone(body)
	other[len(other)-3] ^= 1
	if err := os.WriteFile(filepath.Join(bucket.Files, filepath.FromSlash(key)), other, 0o600); err != nil {
		t.Fatal(err)
	}
	want(t, finish(lead, in.ID), domain.Conflict)
	_, err := b.AddPhoto(t.Context(), lead, practice.AddPhoto{Mutation: newID(), ID: newID(), Upload: in.ID, Vessel: b.vessel(b.ours, "Petrel")})
	want(t, err, domain.Invalid, "upload") // not attached

	in, g = grant("image/jpeg", body)
	if put(t, g, body) != http.StatusOK {
		t.Fatal("the PUT was refused")
	}
	b.clock.pass(25 * time.Hour)
	want(t, finish(lead, in.ID), domain.Forbidden)
}

func TestAPhotoGetsCopiesToBeShown(t *testing.T) {
	t.Parallel()
	b, _, objects := withFiles(t)
	s := b.survey(b.ours, "Petrel")
	lead := b.ours.of[domain.Surveyor]
	body := photo(t, 4100, 2050)
	in := practice.AddPhoto{Mutation: newID(), ID: newID(), Upload: b.uploaded(lead, "photo", "image/jpeg", body), Vessel: s.vessel, Visit: &s.visit, Place: &s.places[4], Caption: "weep at 2/1"}
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.AddPhoto(ctx, lead, in) })
	admin := value[int](b, `select count(*) from queue.river_job where kind = 'photo' and args = jsonb_build_object('practice', $1::text, 'photo', $2::text)`, b.ours.id, in.ID)
	if admin != 1 {
		t.Errorf("%d jobs are asked for", admin)
	}
	p := must[practice.Photo](t)(b.Photo(t.Context(), lead, in.ID))
	if p.State != "waiting" || p.View != "" || *p.Place != 5 {
		t.Errorf("before the job: %+v", p)
	}
	for range 2 { // a job may run more than once
		if err := b.MakePhoto(t.Context(), practice.PhotoJob{Practice: b.ours.id, Photo: in.ID}); err != nil {
			t.Fatal(err)
		}
	}
	p = must[practice.Photo](t)(b.Photo(t.Context(), lead, in.ID))
	if p.State != "ready" || *p.Width != 4100 || *p.Height != 2050 {
		t.Errorf("after the job: %+v", p)
	}
	for address, long := range map[string]int{p.View: 2000, p.Thumb: 400} {
		res, err := http.Get(address)
		if err != nil {
			t.Fatal(err)
		}
		config, err := jpeg.DecodeConfig(res.Body)
		_ = res.Body.Close()
		if err != nil || config.Width != long || res.Header.Get("Content-Type") != "image/jpeg" {
			t.Errorf("%d, %s: %d wide, %v", res.StatusCode, res.Header.Get("Content-Type"), config.Width, err)
		}
	}
	if kept := must[[]byte](t)(objects.Get(t.Context(), value[string](b, `select object_key from uploads`), 1<<25)); !bytes.Equal(kept, body) {
		t.Error("the original is not what was sent")
	}
	v := must[practice.VisitPage](t)(b.Visit(t.Context(), lead, s.visit, everything))
	if len(v.Photos) != 1 || v.Photos[0].View == "" || v.Photos[0].Caption != "weep at 2/1" {
		t.Errorf("with its visit: %+v", v.Photos)
	}
	if n := value[int](b, `select count(*) from mutations where operation = 'makePhoto'`); n != 1 {
		t.Errorf("the job is %d times in the record", n)
	}
}

func TestAPhotoThatCannotBeShownSaysWhy(t *testing.T) {
	t.Parallel()
	b, bucket, _ := withFiles(t)
	lead, vessel := b.ours.of[domain.Surveyor], b.vessel(b.ours, "Petrel")
	whole := photo(t, 60, 40)
	made := func(contentType string, body []byte, spoil bool) practice.Photo {
		t.Helper()
		in := practice.AddPhoto{Mutation: newID(), ID: newID(), Upload: b.uploaded(lead, "photo", contentType, body), Vessel: vessel}
		must[practice.Done](t)(b.AddPhoto(t.Context(), lead, in))
		if spoil {
			key := value[string](b, `select object_key from uploads where id = $1`, in.Upload)
			other := bytes.Clone(body)
			other[len(other)-3] ^= 1
			if err := os.WriteFile(filepath.Join(bucket.Files, filepath.FromSlash(key)), other, 0o600); err != nil {
				t.Fatal(err)
			}
		}
		if err := b.MakePhoto(t.Context(), practice.PhotoJob{Practice: b.ours.id, Photo: in.ID}); err != nil {
			t.Fatal(err)
		}
		return must[practice.Photo](t)(b.Photo(t.Context(), lead, in.ID))
	}
	if p := made("image/jpeg", whole[:len(whole)/2], false); p.State != "refused" || !strings.Contains(p.RefusedBecause, "damaged") || p.View != "" {
		t.Errorf("half a photo: %+v", p)
	}
	if p := made("image/jpeg", whole, true); p.State != "refused" || !strings.Contains(p.RefusedBecause, "not those that were uploaded") {
		t.Errorf("bytes changed in the store: %+v", p)
	}
	if p := made("image/heic", []byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic"), false); p.State != "ready" || p.View != "" {
		t.Errorf("HEIC: %+v", p)
	}
}

func TestAPhotoIsPinnedWithinOneVessel(t *testing.T) {
	t.Parallel()
	b, _, _ := withFiles(t)
	s, other, theirs := b.survey(b.ours, "Petrel"), b.survey(b.ours, "Gannet"), b.survey(b.theirs, "theirs")
	lead, guest := b.ours.of[domain.Surveyor], b.ours.of[domain.Guest]
	upload := b.uploaded(lead, "photo", "image/jpeg", photo(t, 8, 8))
	finding := newID()
	must[practice.Done](t)(b.RecordFinding(t.Context(), lead, practice.RecordFinding{Mutation: newID(), Finding: practice.Finding{ID: finding, VisitID: other.visit, Kind: "crack", Sure: "seen"}}))
	for name, c := range map[string]struct {
		change func(*practice.AddPhoto)
		kind   domain.Kind
		field  string
	}{
		"good":                   {func(*practice.AddPhoto) {}, domain.Internal, ""},
		"another vessel's visit": {func(p *practice.AddPhoto) { p.Visit = &other.visit }, domain.Invalid, "visit"},
		"another vessel's place": {func(p *practice.AddPhoto) { p.Place = &other.places[0] }, domain.Invalid, "place"},
		"another finding":        {func(p *practice.AddPhoto) { p.Finding = &finding }, domain.Invalid, "finding"},
		"a finding, no visit":    {func(p *practice.AddPhoto) { p.Finding, p.Visit = &finding, nil }, domain.Invalid, "visit"},
		"their vessel":           {func(p *practice.AddPhoto) { p.Vessel = theirs.vessel }, domain.NotFound, ""},
		"their visit":            {func(p *practice.AddPhoto) { p.Visit = &theirs.visit }, domain.NotFound, ""},
		"no upload":              {func(p *practice.AddPhoto) { p.Upload = newID() }, domain.NotFound, ""},
	} {
		in := practice.AddPhoto{Mutation: newID(), ID: newID(), Upload: upload, Vessel: s.vessel, Visit: &s.visit}
		c.change(&in)
		_, err := b.AddPhoto(t.Context(), lead, in)
		if domain.KindOf(err) != c.kind || err == nil && c.kind != domain.Internal {
			t.Errorf("%s: %v", name, err)
			continue
		}
		want(t, err, c.kind, c.field)
	}
	_, err := b.AddPhoto(t.Context(), b.ours.of[domain.Trainee], practice.AddPhoto{Mutation: newID(), ID: newID(), Upload: upload, Vessel: s.vessel})
	want(t, err, domain.NotFound) // it was granted to another
	own := b.uploaded(guest, "photo", "image/jpeg", photo(t, 8, 8))
	_, err = b.AddPhoto(t.Context(), guest, practice.AddPhoto{Mutation: newID(), ID: newID(), Upload: own, Vessel: s.vessel})
	want(t, err, domain.Invalid, "visit")
	_, err = b.AddPhoto(t.Context(), guest, practice.AddPhoto{Mutation: newID(), ID: newID(), Upload: own, Vessel: s.vessel, Visit: &s.visit})
	want(t, err, domain.NotFound)
	b.let(guest, s.job)
	_, err = b.AddPhoto(t.Context(), guest, practice.AddPhoto{Mutation: newID(), ID: newID(), Upload: own, Vessel: s.vessel, Visit: &s.visit})
	want(t, err, domain.Internal)
}
