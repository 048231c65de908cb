package practice

import (
	"bytes"
	"context"
	"fmt"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// KeptObject is something that the store of files has to hold.
type KeptObject struct {
	What   string // upload, report PDF, photo copy …
	ID     uuid.UUID
	Key    string
	SHA256 []byte // nil where none was taken: it has to be there, and no more is known
}

// Unsound is an object that is not as it was kept.
type Unsound struct {
	KeptObject
	Wrong string // missing, or altered
}

func (u Unsound) String() string {
	return fmt.Sprintf("%s: %s of %s, under the key %s", u.Wrong, u.What, u.ID, u.Key)
}

// ScrubReader lists what the store of files has to hold for a practice.
type ScrubReader interface {
	// KeptObjects lists by key, from after a key on; with exact, what stands under that key.
	KeptObjects(ctx context.Context, practice uuid.UUID, after, exact string, most int) ([]KeptObject, error)
}

const scrubbedAtOnce = 500

// Scrub reads every object of a practice and holds its bytes against the hash that the
// database keeps. It says how many it read and which are missing or altered; it changes
// nothing. An object that was let go while it was read is none of those.
func Scrub(ctx context.Context, r ScrubReader, objects Objects, practice uuid.UUID) (read int, unsound []Unsound, err error) {
	for after := ""; ; {
		list, err := r.KeptObjects(ctx, practice, after, "", scrubbedAtOnce)
		if err != nil {
			return read, unsound, err
		}
		for _, k := range list {
			wrong, err := scrub(ctx, r, objects, practice, k)
			if err != nil {
				return read, unsound, err
			}
			if read++; wrong != "" {
				unsound = append(unsound, Unsound{k, wrong})
			}
			after = k.Key
		}
		if len(list) < scrubbedAtOnce {
			return read, unsound, nil
		}
	}
}

func scrub(ctx context.Context, r ScrubReader, objects Objects, practice uuid.UUID, k KeptObject) (wrong string, err error) {
	_, sum, err := digest(ctx, objects, k.Key)
	switch {
	case domain.KindOf(err) == domain.NotFound:
		still, err := r.KeptObjects(ctx, practice, "", k.Key, 1)
		if err != nil || len(still) == 0 {
			return "", err
		}
		return "missing", nil
	case err != nil:
		return "", fmt.Errorf("%s of %s: %w", k.What, k.ID, err)
	case k.SHA256 != nil && !bytes.Equal(sum, k.SHA256):
		return "altered", nil
	}
	return "", nil
}
