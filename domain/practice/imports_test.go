package practice_test

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

func TestAFileOfReadingsIsKeptWholeAndOnce(t *testing.T) {
	t.Parallel()
	b, _, _ := withFiles(t)
	s := b.survey(b.ours, "Petrel")
	lead := b.ours.of[domain.Surveyor]
	pass := b.pass(b.ours, s)
	body := []byte("side;station;1;2\nport;1;21,5;22,4 22 23\nport;2;<0;\nstarboard;4;18;15–20 !\n")
	upload := b.uploaded(lead, "readings", "text/csv", body)
	preview := must[practice.Import](t)(b.PreviewImport(t.Context(), lead, upload, pass))
	if preview.Layout != "stations × rows" || len(preview.Readings) != 5 || len(preview.Faults) != 0 {
		t.Fatalf("preview: %+v", preview)
	}
	if n := value[int](b, `select count(*) from readings`); n != 0 {
		t.Errorf("looking kept %d", n)
	}
	in := practice.ImportReadings{Mutation: newID(), ID: newID(), Upload: upload, Pass: pass}
	done := thrice(t, func(ctx context.Context) (practice.Done, error) { return b.ImportReadings(ctx, lead, in) })
	if done.Kept != 5 {
		t.Errorf("kept %d, want 5", done.Kept)
	}
	page := must[practice.PassPage](t)(b.Pass(t.Context(), lead, pass))
	var got []string
	for _, e := range page.Entries {
		got = append(got, fmt.Sprintf("%s %s %d%s", page.Axis.Sides[e.Ordinal-1], page.Axis.Labels[e.Ordinal-1], e.Value, e.AsWritten))
	}
	if want := []string{"port 1/1 430", "port 1/2 448", "port 2/1 0<0", "starboard 4/1 360", "starboard 4/2 35015–20"}; !equalText(got, want) {
		t.Errorf("kept %q\nwant %q", got, want)
	}
	again := b.uploaded(lead, "readings", "text/csv", body) // the same file, sent anew
	done = must[practice.Done](t)(b.ImportReadings(t.Context(), lead, practice.ImportReadings{Mutation: newID(), ID: newID(), Upload: again, Pass: pass}))
	if n := value[int](b, `select count(*) from readings`); done.Kept != 0 || n != 5 {
		t.Errorf("the same file again kept %d, there are %d", done.Kept, n)
	}
	other := b.uploaded(lead, "readings", "text/csv", []byte("side;place;reading\nport;1/1;30\nport;3/1;20\n"))
	preview = must[practice.Import](t)(b.PreviewImport(t.Context(), lead, other, pass))
	if len(preview.Readings) != 1 || len(preview.Faults) != 1 || preview.Faults[0].Row != 2 || !strings.Contains(preview.Faults[0].Text, "as 21.5") {
		t.Errorf("a place that was read: %+v", preview)
	}
}

func TestAFileWithAFaultIsNotKeptAtAll(t *testing.T) {
	t.Parallel()
	b, _, _ := withFiles(t)
	s := b.survey(b.ours, "Petrel")
	lead := b.ours.of[domain.Surveyor]
	pass := b.pass(b.ours, s)
	for name, c := range map[string]struct{ body, says string }{
		"beyond the scale":     {"side;place;reading\nport;1/1;20\nport;1/2;120\n", "Row 3, column 3: The scale A"},
		"a place not there":    {"side;place;reading\nport;1/1;20\nport;9/9;20\n", "Row 3, column 3: The vessel has no place"},
		"a station not there":  {"side;station;1;2\nport;1;20;20\nport;7;20;\n", "Row 3, column 3: The vessel has no place at station 7, row 1"},
		"an unknown surface":   {"side;place;reading;surface\nport;1/1;20;teak\n", "Row 2, column 3: The surface is"},
		"no number":            {"side;place;reading\nport;1/1;20\nport;1/2;damp\n", "Row 3, column 3: This is no number"},
		"inside the scale's <": {"side;place;reading\nport;1/1;<5\n", "Row 2, column 3: The scale ends"},
		"not a table":          {"dear sirs\n", "Row 1, column 1"},
	} {
		upload := b.uploaded(lead, "readings", "text/csv", []byte(c.body))
		_, err := b.ImportReadings(t.Context(), lead, practice.ImportReadings{Mutation: newID(), ID: newID(), Upload: upload, Pass: pass})
		want(t, err, domain.Invalid, "upload")
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v", name, err)
		}
		preview := must[practice.Import](t)(b.PreviewImport(t.Context(), lead, upload, pass))
		if len(preview.Faults) == 0 {
			t.Errorf("%s: the preview is silent", name)
		}
	}
	if n := value[int](b, `select count(*) from readings`); n != 0 {
		t.Errorf("%d readings were kept", n)
	}
}

func TestAFileIsImportedByWhoeverSentIt(t *testing.T) {
	t.Parallel()
	b, _, _ := withFiles(t)
	s, theirs := b.survey(b.ours, "Petrel"), b.survey(b.theirs, "theirs")
	lead := b.ours.of[domain.Surveyor]
	pass, theirPass := b.pass(b.ours, s), b.pass(b.theirs, theirs)
	upload := b.uploaded(lead, "readings", "text/csv", []byte("side;place;reading\nport;1/1;20\n"))
	send := func(a domain.Actor, upload, pass uuid.UUID) error {
		_, err := b.ImportReadings(t.Context(), a, practice.ImportReadings{Mutation: newID(), ID: newID(), Upload: upload, Pass: pass})
		return err
	}
	want(t, send(b.ours.of[domain.Trainee], upload, pass), domain.NotFound)
	want(t, send(b.theirs.of[domain.Surveyor], upload, theirPass), domain.NotFound)
	want(t, send(lead, upload, theirPass), domain.NotFound)
	want(t, send(lead, newID(), pass), domain.NotFound)
	want(t, send(domain.Actor{}, upload, pass), domain.Unauthenticated)
	want(t, send(b.ours.of[domain.Office], upload, pass), domain.Forbidden)
	picture := b.uploaded(lead, "photo", "image/jpeg", photo(t, 8, 8))
	want(t, send(lead, picture, pass), domain.NotFound)
	must[practice.Done](t)(b.ClosePass(t.Context(), lead, practice.ClosePass{Mutation: newID(), ID: pass, Version: 1, At: b.clock.now()}))
	want(t, send(lead, upload, pass), domain.Conflict)
	_, err := b.PreviewImport(t.Context(), b.theirs.of[domain.Surveyor], upload, pass)
	want(t, err, domain.NotFound)
}
