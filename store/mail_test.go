package store_test

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain/entry"
	"boottop.example/practice/store"
	"boottop.example/practice/store/post"
	"boottop.example/practice/store/storetest"
)

var letter = entry.Letter{Kind: "test", To: "ines@north.example", Subject: "Fürs Protokoll", Body: "One line.\nhttp://127.0.0.1/reset/abc\n"}

func mailbox(t *testing.T) (*store.Store, *storetest.DB, uuid.UUID) {
	t.Helper()
	db := storetest.New(t)
	s, err := store.Open(t.Context(), store.Config{URL: db.AppURL})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(s.Close)
	p := uuid.Must(uuid.NewV7())
	if err := s.Door().CreatePractice(t.Context(), p, "North quay surveys", "Etc/UTC", "EUR", true, time.Now()); err != nil {
		t.Fatal(err)
	}
	return s, db, p
}

func TestALetterGoesOutByAJob(t *testing.T) {
	t.Parallel()
	s, db, p := mailbox(t)
	dir := t.TempDir()
	send, err := post.Folder(dir, "Boottop <boottop@practice.example>")
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	ended, done := make(chan error, 1), make(chan struct{})
	failures := 1 // the first try fails, so that the job runs again
	go func() {
		ended <- store.Work(ctx, db.WorkerURL, 1, map[string]store.Handler{
			store.MailJob: store.HandlerOf(func(ctx context.Context, job store.MailArgs) error {
				if failures > 0 {
					failures--
					return errors.New("the mail server is away")
				}
				defer close(done)
				return s.Deliver(ctx, job, send)
			}),
		})
	}()
	if err := s.SendMail(t.Context(), p, letter); err != nil {
		t.Fatal(err)
	}
	select {
	case <-done:
	case <-time.After(60 * time.Second):
		t.Fatal("the job did not run")
	}
	stop()
	if err := <-ended; err != nil {
		t.Errorf("the worker ended with %v", err)
	}
	files, _ := filepath.Glob(filepath.Join(dir, "*"))
	if len(files) != 1 || !strings.HasSuffix(files[0], ".eml") {
		t.Fatalf("the folder holds %v", files)
	}
	text, err := os.ReadFile(files[0])
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"To: <ines@north.example>", "@practice.example>", "Auto-Submitted: auto-generated", "/reset/abc"} {
		if !strings.Contains(string(text), want) {
			t.Errorf("the letter lacks %q:\n%s", want, text)
		}
	}
}

func TestALetterIsSentOnceAndKeepsItsName(t *testing.T) {
	t.Parallel()
	s, db, p := mailbox(t)
	if err := s.SendMail(t.Context(), p, letter); err != nil {
		t.Fatal(err)
	}
	var id uuid.UUID
	if err := db.Connect(t, db.OwnerURL).QueryRow(t.Context(), `select id from mails`).Scan(&id); err != nil {
		t.Fatal(err)
	}
	var names []uuid.UUID
	killed := errors.New("killed after sending")
	for _, fails := range []error{killed, nil, nil} {
		err := s.Deliver(t.Context(), store.MailArgs{Practice: p, Mail: id}, func(_ context.Context, name uuid.UUID, l entry.Letter, _ time.Time) error {
			if l != letter {
				t.Errorf("sent %+v", l)
			}
			names = append(names, name)
			return fails
		})
		if !errors.Is(err, fails) {
			t.Fatal(err)
		}
	}
	if len(names) != 2 || names[0] != names[1] || names[0] != id {
		t.Errorf("sent as %v, want twice as %v: once killed, once kept, then no more", names, id)
	}
}

func TestALetterCannotSmuggleHeaders(t *testing.T) {
	t.Parallel()
	s, _, p := mailbox(t)
	for _, bad := range []entry.Letter{
		{Kind: "test", To: "a@b.example\r\nBcc: c@d.example", Subject: "x", Body: "x"},
		{Kind: "test", To: "a@b.example", Subject: "x\nBcc: c@d.example", Body: "x"},
	} {
		if err := s.SendMail(t.Context(), p, bad); err == nil {
			t.Errorf("kept %+v", bad)
		}
	}
}
