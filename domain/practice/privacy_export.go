package practice

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"html/template"
	"io"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// exportPageHead, exportTable and exportFoot are the page of an export that a person reads.
var (
	exportPageHead = template.Must(template.New("head").Parse(`<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>What {{.Practice}} keeps about {{.Name}}</title>
<style>body{font:16px/1.5 sans-serif;max-width:60rem;margin:2rem auto;padding:0 1rem}h2{margin-top:2rem}dl{display:grid;grid-template-columns:minmax(8rem,max-content) 1fr;gap:.1rem 1rem;border-top:1px solid;padding:.5rem 0;margin:0}dt{font-weight:600}dd{margin:0;white-space:pre-wrap;overflow-wrap:anywhere}</style></head><body>
<h1>What {{.Practice}} keeps about {{.Name}}</h1>
<p>Written on {{.On}}. The same rows stand in <code>person.json</code>, for a program to read. Times are UTC.</p>
<p>Readings, findings and photos of boats are the boat’s record and tell of no person. Issued reports are what their own files say; they are listed here with number and hash. Notes may name others too: whoever hands this on reads them through first.</p>
{{if .Invented}}<p><strong>An invented practice, boats and people: a demonstration.</strong></p>{{end}}`))
	exportTable = template.Must(template.New("table").Parse(`<h2>{{.}}</h2>`))
	exportRow   = template.Must(template.New("row").Parse(`<dl>{{range .}}<dt>{{.Name}}</dt><dd>{{.Value}}</dd>{{end}}</dl>`))
)

const exportFoot = "</body></html>\n"

// ExportPerson writes what the practice keeps about one party as an archive: person.json
// and a page with the same rows, and the pictures that he or she sent. It is noted first,
// and written as it is read. The time of every download is kept, and who asked.
func (s *Service) ExportPerson(ctx context.Context, a domain.Actor, party uuid.UUID, w io.Writer) error {
	if err := domain.May(a, domain.KeepPrivacy); err != nil {
		return err
	}
	kept, err := s.store.PersonKept(ctx, a.Practice, party, sees(a))
	if err != nil {
		return err
	}
	if kept.Shut {
		return domain.Forbiddenf(shutWords)
	}
	p, err := s.store.Practice(ctx, a.Practice)
	if err != nil {
		return err
	}
	id := uuid.Must(uuid.NewV7())
	_, err = s.write(ctx, &a, domain.KeepPrivacy, "exportPerson", id, party, func(ctx context.Context, tx Tx) (Done, error) {
		return touched(ref(domain.ThingParty, party)), tx.InsertPersonExport(ctx, id, party, entered(a), s.instant())
	})
	if err != nil {
		return err
	}
	out := zip.NewWriter(w)
	x := personExport{service: s, practice: p, kept: kept, at: s.instant(), out: out}
	if err := x.write(ctx, party); err != nil {
		return fmt.Errorf("export person: %w", err)
	}
	return out.Close()
}

// personExport is one archive while it is written.
type personExport struct {
	service  *Service
	practice Practice
	kept     PersonKept
	at       time.Time
	out      *zip.Writer
	page     bytes.Buffer // the page, until the rows are written: one person's words are few
	table    string
	rows     int
}

func (x *personExport) write(ctx context.Context, party uuid.UUID) error {
	f, err := x.create("person.json")
	if err != nil {
		return err
	}
	head, err := json.Marshal(map[string]any{"about": x.kept.Name, "keptBy": x.practice.Name, "writtenAt": x.at, "invented": x.practice.Invented})
	if err != nil {
		return err
	}
	on := x.at.In(Zone(x.practice.TimeZone)).Format("2 January 2006")
	err = exportPageHead.Execute(&x.page, map[string]any{"Practice": x.practice.Name, "Name": x.kept.Name, "On": on, "Invented": x.practice.Invented})
	if err != nil {
		return err
	}
	if _, err := fmt.Fprintf(f, "{\"export\":%s,\"rows\":[", head); err != nil {
		return err
	}
	pictures, err := x.service.store.PersonRows(ctx, x.practice.ID, party, func(r KeptRow) error { return x.row(f, r) })
	if err != nil {
		return err
	}
	if _, err := io.WriteString(f, "\n]}\n"); err != nil {
		return err
	}
	if f, err = x.create("read-me-first.html"); err != nil {
		return err
	}
	x.page.WriteString(exportFoot)
	if _, err := x.page.WriteTo(f); err != nil {
		return err
	}
	return x.pictures(ctx, pictures)
}

func (x *personExport) create(name string) (io.Writer, error) {
	return x.out.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate, Modified: x.at})
}

// row writes one row into the list, and onto the page.
func (x *personExport) row(to io.Writer, r KeptRow) error {
	comma := ","
	if x.rows == 0 {
		comma = ""
	}
	x.rows++
	if _, err := fmt.Fprintf(to, "%s\n{\"table\":%q,\"what\":%q,\"row\":%s}", comma, r.Table, r.What, r.Row); err != nil {
		return err
	}
	if r.Table != x.table {
		x.table = r.Table
		if err := exportTable.Execute(&x.page, strings.ToUpper(r.What[:1])+r.What[1:]); err != nil {
			return err
		}
	}
	var columns map[string]any
	if err := json.Unmarshal(r.Row, &columns); err != nil {
		return fmt.Errorf("row of %s: %w", r.Table, err)
	}
	type cell struct{ Name, Value string }
	var cells []cell
	for name, v := range columns {
		if v == nil || v == "" {
			continue
		}
		text, is := v.(string)
		if !is {
			raw, err := json.Marshal(v)
			if err != nil {
				return err
			}
			text = string(raw)
		}
		cells = append(cells, cell{strings.ReplaceAll(name, "_", " "), text})
	}
	slices.SortFunc(cells, func(a, b cell) int { return strings.Compare(a.Name, b.Name) })
	return exportRow.Execute(&x.page, cells)
}

// pictures adds the pictures that somebody sent, one at a time.
func (x *personExport) pictures(ctx context.Context, keys map[string]string) error {
	names := make([]string, 0, len(keys))
	for name := range keys {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		b, err := x.service.Object(ctx, keys[name])
		if err != nil {
			return err
		}
		f, err := x.out.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Store, Modified: x.at})
		if err != nil {
			return err
		}
		if _, err := f.Write(b); err != nil {
			return err
		}
	}
	return nil
}
