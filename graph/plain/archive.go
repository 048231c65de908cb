package plain

import (
	"archive/zip"
	"fmt"
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
// they are: JPEG does not shrink. Nothing is kept beside the photo under way.
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
		first, err := s.Practice.PhotoBytes(r.Context(), list[0]) // a store that is away is said before anything is sent
		if err != nil {
			answer.Fault(w, r, err)
			return
		}
		h := w.Header()
		h.Set("Content-Type", "application/zip")
		h.Set("Content-Disposition", `attachment; filename="`+strings.Map(plainName, "photos-"+shared.Number+".zip")+`"`)
		h.Set("Content-Security-Policy", "default-src 'none'; sandbox")
		if err := s.archive(w, r, list, first, shared.IssuedAt); err != nil {
			slog.WarnContext(r.Context(), "an archive of photos ended early", "report", shared.Number, "error", err)
			panic(http.ErrAbortHandler) // the reader sees a broken download and no short archive
		}
	}
}

func (s Reports) archive(w http.ResponseWriter, r *http.Request, list []practice.ArchivedPhoto, first []byte, at time.Time) error {
	out, limits := zip.NewWriter(w), http.NewResponseController(w)
	for k, p := range list {
		b := first
		if k > 0 {
			var err error
			if b, err = s.Practice.PhotoBytes(r.Context(), p); err != nil {
				return err
			}
		}
		_ = limits.SetWriteDeadline(time.Now().Add(perPhoto)) // where there is none to set, none ends it
		entry, err := out.CreateHeader(&zip.FileHeader{Name: p.Name, Method: zip.Store, Modified: at.UTC()})
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
