package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store"
	"boottop.example/practice/store/storetest"
)

func TestIssuedTellsByItsExit(t *testing.T) {
	t.Parallel()
	db := storetest.New(t)
	s, err := store.Open(t.Context(), store.Config{URL: db.AppURL})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	owner := db.Connect(t, db.OwnerURL)
	house, vessel, job, report := uuid.Must(uuid.NewV7()), uuid.Must(uuid.NewV7()), uuid.Must(uuid.NewV7()), uuid.Must(uuid.NewV7())
	if err := s.Door().CreatePractice(t.Context(), house, "North quay surveys", "Etc/UTC", "EUR", true, time.Now()); err != nil {
		t.Fatal(err)
	}
	pdf := []byte("%PDF-1.7 issued bytes")
	for sql, args := range map[string][]any{
		`with v as (insert into vessels (practice_id, id, name, created_at) values ($1, $2, 'Petrel', now())),
		      j as (insert into jobs (practice_id, id, vessel_id, number, kind, created_at) values ($1, $3, $2, '2026-001', 'limited moisture', now())),
		      r as (insert into reports (practice_id, id, job_id, state, number, created_at) values ($1, $4, $3, 'withdrawn', '2026-001', now()))
		 insert into report_issues (practice_id, report_id, page_key, page_sha256, page_bytes, pdf_key, pdf_sha256, pdf_bytes, pdf_pages, issued_at)
		 values ($1, $4, 'p', 'x', 1, 'q', sha256($5), 1, 3, now())`: {house, vessel, job, report, pdf},
	} {
		if _, err := owner.Exec(t.Context(), sql, args...); err != nil {
			t.Fatal(err)
		}
	}
	dir := t.TempDir()
	same, changed := filepath.Join(dir, "same.pdf"), filepath.Join(dir, "changed.pdf")
	for name, body := range map[string][]byte{same: pdf, changed: append(pdf, '\n')} {
		if err := os.WriteFile(name, body, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	var said strings.Builder
	if err := tellIssued(t.Context(), practice.New(s), []string{same}, &said); err != nil || !strings.Contains(said.String(), "report 2026-001 of North quay surveys") || !strings.Contains(said.String(), "withdrawn since") {
		t.Errorf("%v: %s", err, said.String())
	}
	environ := []string{"BOOTTOP_DATABASE_URL=" + db.AppURL}
	if err := issued(t.Context(), []string{same, changed}, environ); err == nil {
		t.Error("a changed file goes unnoticed")
	}
	if err := issued(t.Context(), nil, environ); err == nil {
		t.Error("no file is no fault")
	}
}
