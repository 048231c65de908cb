package practice_test

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"testing/iotest"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/storetest"
)

// stored lists the keys of a practice's objects as they lie in the store.
func stored(t *testing.T, bucket *storetest.Bucket, practice uuid.UUID) (keys []string) {
	t.Helper()
	err := filepath.WalkDir(filepath.Join(bucket.Files, practice.String()), func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		key, err := filepath.Rel(bucket.Files, path)
		keys = append(keys, filepath.ToSlash(key))
		return err
	})
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		t.Fatal(err)
	}
	return keys
}

// Promise C3: what was altered or lost in the store is found, all of it and nothing else.
func TestAScrubFindsWhatIsMissingAndAltered(t *testing.T) {
	t.Parallel()
	b, bucket, objects := withFiles(t)
	w := b.write(b.survey(b.ours, "Petrel"), b.party(b.ours, "A. Ferrant"))
	for k := range 8 {
		b.pinned(w, fmt.Sprint("photo ", k), 100+k)
	}
	b.issued(w)
	b.amended(w)
	kept := must[[]practice.KeptObject](t)(b.store.KeptObjects(t.Context(), b.ours.id, "", "", 1000))
	kinds := map[string]int{}
	for _, k := range kept {
		kinds[k.What]++
	}
	if kinds["upload"] != 8 || kinds["photo copy"] != 8 || kinds["small photo copy"] != 8 || kinds["report PDF"] != 1 || kinds["report page"] != 1 || kinds["addendum PDF"] != 1 || kinds["addendum page"] != 1 {
		t.Fatalf("kept are %v", kinds)
	}
	scrub := func() (wrong map[string]string) {
		t.Helper()
		read, found, err := practice.Scrub(t.Context(), b.store, objects, b.ours.id)
		if err != nil || read != len(kept) {
			t.Fatalf("%d of %d were read, %v", read, len(kept), err)
		}
		wrong = map[string]string{}
		for _, u := range found {
			wrong[u.Key] = u.Wrong
		}
		return wrong
	}
	if wrong := scrub(); len(wrong) != 0 {
		t.Errorf("untouched, and found are %v", wrong)
	}
	want := map[string]string{}
	for _, k := range kept {
		path := filepath.Join(bucket.Files, filepath.FromSlash(k.Key))
		switch {
		case len(want) < 10 && k.SHA256 != nil:
			body, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			body[rand.IntN(len(body))] ^= 1
			if err := os.WriteFile(path, body, 0o600); err != nil {
				t.Fatal(err)
			}
			want[k.Key] = "altered"
		case len(want) < 12:
			if err := objects.Remove(t.Context(), k.Key); err != nil {
				t.Fatal(err)
			}
			want[k.Key] = "missing"
		}
	}
	if got := scrub(); fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("found are\n%v\nwant\n%v", got, want)
	}
	if _, found, err := practice.Scrub(t.Context(), b.store, objects, b.theirs.id); err != nil || len(found) != 0 {
		t.Errorf("the other practice: %v, %v", found, err)
	}
}

// Promise C2: a client is killed a hundred times while it sends a photo. What came back
// later and was pinned is there whole and once; nothing else is left in the store a day on.
func TestAClientKilledWhileItSendsLeavesNothingAndLosesNothing(t *testing.T) {
	t.Parallel()
	b, bucket, objects := withFiles(t)
	s, lead := b.survey(b.ours, "Petrel"), b.ours.of[domain.Surveyor]
	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	random := rand.New(rand.NewPCG(seed, 1))
	const kills = 100
	pinned, all := map[string][]byte{}, []uuid.UUID{}
	for k := range kills {
		c := &sender{bundle: b, lead: lead, body: append([]byte("\xff\xd8\xff"), make([]byte, 20_000+random.IntN(60_000))...)}
		for n := 3; n < len(c.body); n++ {
			c.body[n] = byte(random.Uint32())
		}
		c.grant = grantFor("photo", "image/jpeg", c.body)
		c.photo = practice.AddPhoto{Mutation: newID(), ID: newID(), Upload: c.grant.ID, Vessel: s.vessel, Visit: &s.visit}
		c.finish = practice.FinishUpload{Mutation: newID(), Upload: c.grant.ID}
		all = append(all, c.grant.ID)
		stage := k % (pin + 1)
		if err := c.send(stage, random.IntN(len(c.body))); err != nil {
			t.Fatalf("kill %d at stage %d: %v", k, stage, err)
		}
		if comesBack := k/(pin+1)%2 == 0; comesBack {
			if err := c.send(pin, len(c.body)); err != nil {
				t.Fatalf("kill %d at stage %d, come back: %v", k, stage, err)
			}
			stage = pin
		}
		if stage == pin {
			pinned[value[string](b, `select object_key from uploads where id = $1`, c.grant.ID)] = c.body
		}
	}
	b.clock.pass(26 * time.Hour)
	for _, id := range all {
		if err := b.SweepUpload(t.Context(), practice.SweepJob{Practice: b.ours.id, Upload: id}); err != nil {
			t.Fatal(err)
		}
	}
	keys := stored(t, bucket, b.ours.id)
	for _, key := range keys {
		if pinned[key] == nil {
			t.Errorf("%s is left over", key)
		}
	}
	for key, body := range pinned {
		if !slices.Contains(keys, key) {
			t.Errorf("%s was lost", key)
			continue
		}
		if got := must[[]byte](t)(objects.Get(t.Context(), key, 1<<20)); sha256.Sum256(got) != sha256.Sum256(body) {
			t.Errorf("%s is not what was sent", key)
		}
	}
	if n := value[int](b, `select count(*) from photos`); n != len(pinned) || n < kills/2 {
		t.Errorf("%d photos are pinned, %d were sent to their end", n, len(pinned))
	}
	if read, found, err := practice.Scrub(t.Context(), b.store, objects, b.ours.id); err != nil || read != len(pinned) || len(found) != 0 {
		t.Errorf("the scrub reads %d of %d and finds %v, %v", read, len(pinned), found, err)
	}
}

// The stages of sending a photo; a sender is killed after one, or in the middle of the PUT.
const (
	granted = iota
	halfPut
	wholePut
	finished
	pin
)

type sender struct {
	*bundle
	lead   domain.Actor
	body   []byte
	grant  practice.GrantUpload
	finish practice.FinishUpload
	photo  practice.AddPhoto
}

// send does all up to a stage; a PUT that is cut short ends after so many bytes.
func (c *sender) send(until, cut int) error {
	ctx := c.t.Context()
	g, err := c.GrantUpload(ctx, c.lead, c.grant)
	if err != nil || until == granted {
		return err
	}
	if g.URL != "" {
		if err := c.put(g, until == halfPut, cut); err != nil || until == halfPut {
			return err
		}
	}
	if until == wholePut {
		return nil
	}
	if _, err := c.FinishUpload(ctx, c.lead, c.finish); err != nil || until == finished {
		return err
	}
	_, err = c.AddPhoto(ctx, c.lead, c.photo)
	return err
}

var errKilled = errors.New("killed")

func (c *sender) put(g practice.Grant, killed bool, cut int) error {
	var body io.Reader = bytes.NewReader(c.body)
	if killed {
		body = io.MultiReader(bytes.NewReader(c.body[:cut]), iotest.ErrReader(errKilled))
	}
	req, err := http.NewRequestWithContext(c.t.Context(), http.MethodPut, g.URL, body)
	if err != nil {
		return err
	}
	req.ContentLength = int64(len(c.body))
	for name, v := range g.Headers {
		req.Header.Set(name, v)
	}
	res, err := http.DefaultClient.Do(req)
	if killed {
		if err == nil {
			_ = res.Body.Close()
			return fmt.Errorf("half of it was taken with %d", res.StatusCode)
		}
		return nil
	}
	if err != nil {
		return err
	}
	_ = res.Body.Close()
	if res.StatusCode != http.StatusOK && res.StatusCode != http.StatusPreconditionFailed {
		return fmt.Errorf("the PUT was answered with %d", res.StatusCode)
	}
	return nil
}
