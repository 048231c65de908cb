package plain_test

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/domain/report"
)

// pictured puts two photos into the report's snapshot and another beside it that is not printed.
func (sh *shelf) pictured(files practice.Objects) (bodies [][]byte) {
	sh.t.Helper()
	var vessel uuid.UUID
	owner := sh.db.Connect(sh.t, sh.db.OwnerURL)
	if err := owner.QueryRow(sh.t.Context(), `select id from vessels`).Scan(&vessel); err != nil {
		sh.t.Fatal(err)
	}
	var photos []report.Photo
	for k, place := range []string{"port 13/3", `"><../é`, ""} {
		upload, photo, body := id(), id(), bytes.Repeat([]byte{0xff, 0xd8, byte(k)}, 400_000)
		key := photo.String() + "-view"
		if err := files.Put(sh.t.Context(), key, "image/jpeg", body); err != nil {
			sh.t.Fatal(err)
		}
		sh.exec(`insert into uploads (practice_id, id, purpose, object_key, content_type, size_bytes, sha256, granted_at, expires_at) values ($1, $2, 'photo', $3, 'image/jpeg', 3, ''::bytea, now(), now())`, sh.house, upload, key+"-original")
		sh.exec(`insert into photos (practice_id, id, upload_id, vessel_id, state, view_key, thumb_key) values ($1, $2, $3, $4, 'ready', $5, $5)`, sh.house, photo, upload, vessel, key)
		if k == 2 {
			continue
		}
		sum := sha256.Sum256(body)
		photos = append(photos, report.Photo{ID: "pho_" + photo.String(), Number: k + 1, Caption: "c", Alt: "a", Place: place, Width: 4, Height: 3, SHA256: hex.EncodeToString(sum[:])})
		bodies = append(bodies, body)
	}
	content, err := report.Encode(report.Build(report.Input{
		Issue: report.Issue{Number: "2026-001", At: time.Now()}, GeneratedAt: time.Now(), Zone: time.UTC, Practice: report.Practice{Name: "North quay surveys"},
		Client: report.Client{Name: "A. Ferrant"}, Vessel: report.Vessel{Name: "Petrel"}, Kind: "Limited survey", Photos: photos,
	}))
	if err != nil {
		sh.t.Fatal(err)
	}
	sh.exec(`update report_snapshots set content = $1, sha256 = sha256($1)`, content)
	return bodies
}

func TestPhotosComeAsOneArchive(t *testing.T) {
	t.Parallel()
	sh := open(t)
	if res, _ := sh.get("/share/" + sh.token + "/photos.zip"); res.StatusCode != http.StatusNotFound {
		t.Errorf("a report without photos: %d", res.StatusCode)
	}
	bodies := sh.pictured(sh.files)
	res, body := sh.get("/share/" + sh.token + "/photos.zip")
	if res.StatusCode != http.StatusOK {
		t.Fatalf("%d %s", res.StatusCode, body)
	}
	for name, want := range map[string]string{
		"Content-Type": "application/zip", "Content-Disposition": `attachment; filename="photos-2026-001.zip"`, "X-Content-Type-Options": "nosniff",
		"Cache-Control": "private, no-store", "Referrer-Policy": "no-referrer", "Content-Security-Policy": "default-src 'none'; sandbox",
	} {
		if got := res.Header.Get(name); got != want {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
	archive, err := zip.NewReader(bytes.NewReader(body), int64(len(body)))
	if err != nil || len(archive.File) != 2 {
		t.Fatalf("%v, %d photos", err, len(archive.File))
	}
	for k, name := range []string{"photo-001-port-13-3.jpg", "photo-002.jpg"} {
		f := archive.File[k]
		if f.Name != name || f.Method != zip.Store {
			t.Errorf("photo %d is %q by method %d, want %q as it is", k+1, f.Name, f.Method, name)
		}
		in, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		held, err := io.ReadAll(in)
		if err != nil || !bytes.Equal(held, bodies[k]) {
			t.Errorf("photo %d is not the copy that was printed: %v", k+1, err)
		}
	}
	if n := sh.opened(); n != 1 {
		t.Errorf("%d openings logged, want the archive's", n)
	}
	if res.ContentLength != int64(len(body)) {
		t.Errorf("it was said to have %d bytes and has %d", res.ContentLength, len(body))
	}
	// One that broke off goes on from where it was, in the first photo or the last byte.
	for _, from := range []int{1, 500_000, len(body) - 1} {
		req, err := http.NewRequestWithContext(t.Context(), http.MethodGet, sh.url+"/share/"+sh.token+"/photos.zip", nil)
		if err != nil {
			t.Fatal(err)
		}
		req.Header.Set("Range", fmt.Sprintf("bytes=%d-", from))
		req.Header.Set("If-Range", res.Header.Get("ETag"))
		rest, err := http.DefaultClient.Do(req)
		if err != nil {
			t.Fatal(err)
		}
		more, err := io.ReadAll(rest.Body)
		rest.Body.Close()
		if err != nil || rest.StatusCode != http.StatusPartialContent || !bytes.Equal(more, body[from:]) {
			t.Errorf("from byte %d: %d, %d bytes of %d, %v", from, rest.StatusCode, len(more), len(body)-from, err)
		}
	}
	guessed, _ := sh.get("/share/" + strings.Repeat("A", 43) + "/photos.zip")
	sh.exec(`update shares set revoked_at = now()`)
	ended, _ := sh.get("/share/" + sh.token + "/photos.zip")
	if guessed.StatusCode != http.StatusNotFound || ended.StatusCode != http.StatusNotFound {
		t.Errorf("guessed %d, ended %d", guessed.StatusCode, ended.StatusCode)
	}
}

// A picture that was exchanged in the store is in no archive: the download breaks off.
func TestAnotherPictureIsInNoArchive(t *testing.T) {
	t.Parallel()
	sh := open(t)
	sh.pictured(sh.files)
	sh.exec(`update photos set view_key = (select min(view_key) from photos)`)
	req, err := http.NewRequestWithContext(t.Context(), http.MethodGet, sh.url+"/share/"+sh.token+"/photos.zip", nil)
	if err != nil {
		t.Fatal(err)
	}
	res, err := http.DefaultClient.Do(req)
	if err != nil {
		return
	}
	defer res.Body.Close()
	if _, err := io.ReadAll(res.Body); err == nil && res.StatusCode == http.StatusOK {
		t.Error("the archive came to its end with another picture in it")
	}
}

func TestNobodyFetchesFromAnAccount(t *testing.T) {
	t.Parallel()
	sh := open(t)
	for _, file := range []string{"report.pdf", "report.html", "photos.zip"} {
		if res, _ := sh.get("/kept/" + strings.Repeat("A", 22) + "/" + file); res.StatusCode != http.StatusUnauthorized {
			t.Errorf("%s: %d", file, res.StatusCode)
		}
	}
}
