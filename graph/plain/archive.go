package plain

import (
	"archive/zip"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"strings"
	"time"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/answer"
)

// perPhoto is how long one photo of an archive may take to a slow reader.
const perPhoto = 2 * time.Minute

// photos streams the photos that a report prints as one archive, one at a time and as
// they are: JPEG does not shrink. Nothing is kept beside the photo under way, and a
// download that broke off goes on from where it was.
func (s Reports) photos(from func(*http.Request) practice.Holder) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		private(w)
		if r.Method == http.MethodHead {
			w.Header().Set("Allow", "GET")
			w.WriteHeader(http.StatusMethodNotAllowed)
			return
		}
		shared, list, err := s.Practice.SharedPhotos(r.Context(), from(r))
		if err != nil {
			answer.Fault(w, r, err)
			return
		}
		limits := http.NewResponseController(w)
		photo := func(p practice.ArchivedPhoto) ([]byte, error) {
			b, err := s.Practice.PhotoBytes(r.Context(), p)
			_ = limits.SetWriteDeadline(time.Now().Add(perPhoto)) // where there is none to set, none ends it
			return b, err
		}
		if _, err := photo(list[0]); err != nil { // a store that is away is said before anything is sent
			answer.Fault(w, r, err)
			return
		}
		zipped, err := newArchive(list, shared.IssuedAt, photo)
		if err != nil {
			answer.Fault(w, r, err)
			return
		}
		defer zipped.close()
		h := w.Header()
		h.Set("Content-Type", "application/zip")
		h.Set("Content-Disposition", `attachment; filename="`+strings.Map(plainName, "photos-"+shared.Number+".zip")+`"`)
		h.Set("Content-Security-Policy", "default-src 'none'; sandbox")
		h.Set("ETag", zipped.tag())
		http.ServeContent(w, r, "", time.Time{}, zipped)
		if err := zipped.failed; err != nil {
			slog.WarnContext(r.Context(), "an archive of photos ended early", "report", shared.Number, "error", err)
			panic(http.ErrAbortHandler) // the reader sees a broken download and no short archive
		}
	}
}

// archive is a zip of photos that is made while it is read. The same photos give the same
// bytes, so that reading may begin anywhere in it.
type archive struct {
	list   []practice.ArchivedPhoto
	at     time.Time
	photo  func(practice.ArchivedPhoto) ([]byte, error)
	size   int64
	next   int64          // where the next Read begins
	made   *io.PipeReader // nil until something is read from there
	failed error
}

func newArchive(list []practice.ArchivedPhoto, at time.Time, photo func(practice.ArchivedPhoto) ([]byte, error)) (*archive, error) {
	a := &archive{list: list, at: at.UTC(), photo: photo}
	var length counter
	var blank []byte
	err := a.write(&length, func(p practice.ArchivedPhoto) ([]byte, error) { // how long it comes to hangs on no picture
		if int64(len(blank)) < p.Size {
			blank = make([]byte, p.Size)
		}
		return blank[:p.Size], nil
	})
	a.size = int64(length)
	return a, err
}

// tag names these photos in this order.
func (a *archive) tag() string {
	h := sha256.New()
	for _, p := range a.list {
		fmt.Fprintf(h, "%s %x %d\n", p.Name, p.SHA256, a.at.Unix())
	}
	return fmt.Sprintf(`"%x"`, h.Sum(nil))
}

func (a *archive) write(to io.Writer, photo func(practice.ArchivedPhoto) ([]byte, error)) error {
	out := zip.NewWriter(to)
	for _, p := range a.list {
		b, err := photo(p)
		if err != nil {
			return err
		}
		entry, err := out.CreateHeader(&zip.FileHeader{Name: p.Name, Method: zip.Store, Modified: a.at})
		if err != nil {
			return fmt.Errorf("archive %s: %w", p.Name, err)
		}
		if _, err := entry.Write(b); err != nil {
			return fmt.Errorf("archive %s: %w", p.Name, err)
		}
		if err := out.Flush(); err != nil {
			return err
		}
	}
	return out.Close()
}

// Read implements io.Reader. What lies before the place is made and left out: the list at
// the archive's end holds a sum over every photo.
func (a *archive) Read(p []byte) (int, error) {
	if a.made == nil {
		from, into := io.Pipe()
		a.made = from
		go func(skip int64) { _ = into.CloseWithError(a.write(&beyond{into, skip}, a.photo)) }(a.next)
	}
	n, err := a.made.Read(p)
	a.next += int64(n)
	if err != nil && !errors.Is(err, io.EOF) {
		a.failed = err
	}
	return n, err
}

// Seek implements io.Seeker.
func (a *archive) Seek(offset int64, whence int) (int64, error) {
	to := offset
	switch whence {
	case io.SeekCurrent:
		to += a.next
	case io.SeekEnd:
		to += a.size
	}
	if to < 0 {
		return 0, errors.New("seek before an archive's beginning")
	}
	if to != a.next {
		a.close()
		a.next, a.made = to, nil
	}
	return to, nil
}

// close ends what is being made.
func (a *archive) close() {
	if a.made != nil {
		_ = a.made.Close()
	}
}

// counter counts what is written to it.
type counter int64

func (c *counter) Write(p []byte) (int, error) {
	*c += counter(len(p))
	return len(p), nil
}

// beyond passes on what comes after the first bytes.
type beyond struct {
	to   io.Writer
	skip int64
}

func (b *beyond) Write(p []byte) (int, error) {
	if b.skip >= int64(len(p)) {
		b.skip -= int64(len(p))
		return len(p), nil
	}
	left := int(b.skip)
	b.skip = 0
	n, err := b.to.Write(p[left:])
	return left + n, err
}
