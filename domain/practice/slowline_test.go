package practice_test

import (
	"bytes"
	"context"
	"image"
	"image/jpeg"
	"io"
	"math/rand/v2"
	"net"
	"net/http"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store"
	"boottop.example/practice/store/picture"
)

// slowLine is a line of 5 kB a second to a server, as from under a hull in a shed. It
// answers where it begins, and a function that cuts whatever is on it.
func slowLine(t *testing.T, to string) (at string, cut func()) {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = l.Close() })
	var mu sync.Mutex
	var on []net.Conn
	go func() {
		for {
			near, err := l.Accept()
			if err != nil {
				return
			}
			far, err := net.Dial("tcp", to)
			if err != nil {
				_ = near.Close()
				continue
			}
			mu.Lock()
			on = append(on, near, far)
			mu.Unlock()
			go trickle(far, near)
			go trickle(near, far)
		}
	}()
	return l.Addr().String(), func() {
		mu.Lock()
		defer mu.Unlock()
		for _, c := range on {
			_ = c.Close()
		}
		on = nil
	}
}

// trickle passes 500 bytes on in each tenth of a second, and closes both ends where one ends.
func trickle(to, from net.Conn) {
	defer to.Close()
	defer from.Close()
	piece := make([]byte, 500)
	for {
		n, err := from.Read(piece)
		if err != nil {
			return
		}
		if _, err := to.Write(piece[:n]); err != nil {
			return
		}
		time.Sleep(100 * time.Millisecond)
	}
}

// grain is a JPEG of so many points that does not shrink: some 1.5 bytes a point.
func grain(t *testing.T, w, h int) []byte {
	t.Helper()
	m, chance := image.NewGray(image.Rect(0, 0, w, h)), rand.New(rand.NewPCG(1, 2))
	for k := range m.Pix {
		m.Pix[k] = uint8(chance.UintN(256))
	}
	var raw bytes.Buffer
	if err := jpeg.Encode(&raw, m, &jpeg.Options{Quality: 90}); err != nil {
		t.Fatal(err)
	}
	return raw.Bytes()
}

// Promise C1 over a line of 5 kB a second: a photo on its way is never marked as kept,
// readings go on beside it, a line that is cut costs a second sending and nothing else, and
// what arrives is what was sent, once.
func TestOverASlowLineAPhotoArrivesWholeAndReadingsGoOn(t *testing.T) {
	t.Parallel()
	b, bucket, objects := withFiles(t)
	s, lead := b.survey(b.ours, "Petrel"), b.ours.of[domain.Surveyor]
	pass := b.pass(b.ours, s)
	line, cut := slowLine(t, bucket.Endpoint)
	over, err := store.OpenObjects(store.ObjectsConfig{
		URL: bucket.URL(), PublicURL: "http://" + line, Region: bucket.Region, Bucket: bucket.Name, Key: bucket.Key, Secret: bucket.Secret,
	})
	if err != nil {
		t.Fatal(err)
	}
	b.Service = practice.New(b.store, practice.WithClock(b.clock.now), practice.WithObjects(over), practice.WithPictures(picture.Maker{}))
	body := grain(t, 100, 100)
	if len(body) < 8_000 {
		t.Fatalf("the photo has %d bytes: nothing is on its way for long", len(body))
	}
	in := grantFor("photo", "image/jpeg", body)
	g := must[practice.Grant](t)(b.GrantUpload(t.Context(), lead, in))
	finish := func() error {
		_, err := b.FinishUpload(t.Context(), lead, practice.FinishUpload{Mutation: newID(), Upload: in.ID})
		return err
	}
	send := func() <-chan int {
		came := make(chan int, 1)
		go func() { came <- sent(t.Context(), g, body) }()
		return came
	}
	ordinal := int32(0)
	read := func() {
		ordinal++
		must[practice.Done](t)(b.AddReadings(t.Context(), lead, practice.AddReadings{
			Mutation: newID(), Pass: pass, IDs: []uuid.UUID{newID()}, Ordinals: []int32{ordinal}, Placements: [][]int16{{180}}, TakenAt: []time.Time{b.clock.now()},
		}))
	}

	first := send()
	time.Sleep(300 * time.Millisecond) // some of it is on the line, and most is not
	read()
	want(t, finish(), domain.Invalid, "upload")
	cut()
	if status := <-first; status == http.StatusOK {
		t.Fatal("a sending that was cut was taken for whole")
	}
	want(t, finish(), domain.Invalid, "upload")

	second := send()
	for status := 0; status == 0; {
		select {
		case status = <-second:
			if status != http.StatusOK {
				t.Fatalf("sent again: %d", status)
			}
		case <-time.After(500 * time.Millisecond):
			if ordinal < 6 {
				read()
			}
		}
	}
	want(t, finish(), domain.Internal)
	kept := practice.AddPhoto{Mutation: newID(), ID: newID(), Upload: in.ID, Vessel: s.vessel, Visit: &s.visit}
	must[practice.Done](t)(b.AddPhoto(t.Context(), lead, kept))
	if err := b.MakePhoto(t.Context(), practice.PhotoJob{Practice: b.ours.id, Photo: kept.ID}); err != nil {
		t.Fatal(err)
	}
	if p := must[practice.Photo](t)(b.Photo(t.Context(), lead, kept.ID)); p.State != "ready" {
		t.Errorf("the photo is %s", p.State)
	}
	served, err := objects.Get(t.Context(), value[string](b, `select object_key from uploads where id = $1`, in.ID), 1<<20)
	if err != nil || !bytes.Equal(served, body) {
		t.Errorf("%d bytes of %d came back: %v", len(served), len(body), err)
	}
	if n := value[int](b, `select count(*) from readings where pass_id = $1`, pass); n != int(ordinal) {
		t.Errorf("%d readings are kept, %d were sent", n, ordinal)
	}
}

// sent is the status that a sending ends with; 1 where there is none.
func sent(ctx context.Context, g practice.Grant, body []byte) int {
	req, err := http.NewRequestWithContext(ctx, http.MethodPut, g.URL, bytes.NewReader(body))
	if err != nil {
		return 1
	}
	for name, v := range g.Headers {
		req.Header.Set(name, v)
	}
	res, err := http.DefaultClient.Do(req)
	if err != nil {
		return 1
	}
	defer res.Body.Close()
	_, _ = io.Copy(io.Discard, res.Body)
	return res.StatusCode
}
