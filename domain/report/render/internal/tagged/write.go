package tagged

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"math"

	"github.com/carlos7ags/folio/core"
)

// ErrNowhere is returned when a link or bookmark leads to an anchor that was never set.
var ErrNowhere = errors.New("a link leads nowhere")

// writer gathers the objects of a file; object number n is objects[n-1].
type writer struct {
	objects []core.PdfObject
}

func (w *writer) add(o core.PdfObject) *core.PdfIndirectReference {
	w.objects = append(w.objects, o)
	return core.NewPdfIndirectReference(len(w.objects), 0)
}

// reserve numbers an object that is filled in later.
func (w *writer) reserve() *core.PdfIndirectReference { return w.add(nil) }

func (w *writer) put(r *core.PdfIndirectReference, o core.PdfObject) { w.objects[r.Num()-1] = o }

func (w *writer) stream(data []byte) *core.PdfIndirectReference {
	return w.add(deflated(data))
}

func deflated(data []byte) *core.PdfStream {
	s := core.NewPdfStreamCompressed(data)
	s.SetCompressLevel(6) // a third of the time of the best, a hundredth more bytes
	return s
}

func dict(pairs ...any) *core.PdfDictionary {
	d := core.NewPdfDictionary()
	for i := 0; i < len(pairs); i += 2 {
		d.Set(pairs[i].(string), object(pairs[i+1]))
	}
	return d
}

func object(v any) core.PdfObject {
	switch v := v.(type) {
	case core.PdfObject:
		return v
	case int:
		return core.NewPdfInteger(v)
	case float64:
		return core.NewPdfReal(v)
	case bool:
		return core.NewPdfBoolean(v)
	case string:
		return core.NewPdfName(v)
	}
	panic(fmt.Sprintf("tagged: no object for %T", v))
}

func words(s string) core.PdfObject { return core.NewPdfTextString(Clean(s)) }

func array(v ...core.PdfObject) *core.PdfArray { return core.NewPdfArray(v...) }

func (p *Page) rect(b Box) *core.PdfArray {
	n := func(v float64) core.PdfObject { return core.NewPdfReal(round(v)) }
	return array(n(b.X), n(p.H-b.Y-b.H), n(b.X+b.W), n(p.H-b.Y))
}

func round(v float64) float64 { return math.Round(v*100) / 100 }

// Bytes writes the file.
//
// Errors: ErrNowhere.
func (d *Document) Bytes() ([]byte, error) {
	for _, l := range d.links {
		if !l.to.IsSet() {
			return nil, fmt.Errorf("%w: %s", ErrNowhere, l.says)
		}
	}
	w := &writer{}
	catalog := w.reserve()
	pages := w.reserve()
	for _, p := range d.pages {
		p.ref = w.reserve()
	}
	resources := d.writeResources(w)
	d.writeLinks(w)
	tree := d.writeTree(w)
	d.writePages(w, pages, resources)
	profile := deflated(srgb())
	profile.Dict.Set("N", core.NewPdfInteger(3))
	intent := w.add(dict("Type", "OutputIntent", "S", "GTS_PDFA1", "OutputConditionIdentifier", words("sRGB"), "Info", words("sRGB IEC61966-2.1"), "DestOutputProfile", w.add(profile)))
	meta := core.NewPdfStream(d.info.xmp())
	meta.Dict.Set("Type", core.NewPdfName("Metadata"))
	meta.Dict.Set("Subtype", core.NewPdfName("XML"))
	c := dict(
		"Type", "Catalog", "Pages", pages, "Lang", words(d.info.Lang), "MarkInfo", dict("Marked", true),
		"ViewerPreferences", dict("DisplayDocTitle", true), "StructTreeRoot", tree, "Metadata", w.add(meta), "OutputIntents", array(intent),
	)
	if outline := d.writeOutline(w); outline != nil {
		c.Set("Outlines", outline)
		c.Set("PageMode", core.NewPdfName("UseOutlines"))
	}
	w.put(catalog, c)
	at := core.NewPdfLiteralString(d.info.At.UTC().Format("D:20060102150405+00'00'"))
	info := w.add(dict("Title", words(d.info.Title), "Author", words(d.info.Author), "Subject", words(d.info.Subject), "Creator", words(d.info.Creator), "Producer", words(d.info.Producer), "CreationDate", at, "ModDate", at))
	return w.file(catalog, info)
}

func (d *Document) writeResources(w *writer) *core.PdfIndirectReference {
	fonts, images, states := core.NewPdfDictionary(), core.NewPdfDictionary(), core.NewPdfDictionary()
	for _, f := range d.fonts {
		if f.used {
			fonts.Set(f.name, w.add(f.ef.BuildObjects(w.add)))
		}
	}
	for _, m := range d.images {
		if m.used {
			ref, _ := m.src.BuildXObject(w.add)
			images.Set(m.name, ref)
		}
	}
	for i, v := range d.states {
		states.Set(fmt.Sprintf("G%d", i), dict("Type", "ExtGState", "CA", v, "ca", v))
	}
	r := core.NewPdfDictionary()
	for _, part := range []struct {
		name string
		d    *core.PdfDictionary
	}{{"Font", fonts}, {"XObject", images}, {"ExtGState", states}} {
		if part.d.Len() > 0 {
			r.Set(part.name, part.d)
		}
	}
	return w.add(r)
}

func (d *Document) writePages(w *writer, pages, resources *core.PdfIndirectReference) {
	kids := array()
	for i, p := range d.pages {
		o := dict("Type", "Page", "Parent", pages, "MediaBox", array(object(0), object(0), object(round(p.W)), object(round(p.H))),
			"Resources", resources, "Contents", w.stream(p.buf), "StructParents", i, "Tabs", "S")
		if len(p.links) > 0 {
			annots := array()
			for _, l := range p.links {
				annots.Add(l.ref)
			}
			o.Set("Annots", annots)
		}
		w.put(p.ref, o)
		kids.Add(p.ref)
	}
	w.put(pages, dict("Type", "Pages", "Kids", kids, "Count", len(d.pages)))
}

// destination shows a place at the top of the window, at the reader's own magnification.
func (a Anchor) destination() core.PdfObject {
	return array(a.page.ref, object("XYZ"), core.NewPdfNull(), object(round(a.page.H-a.y)), core.NewPdfNull())
}

func (d *Document) writeLinks(w *writer) {
	for i, l := range d.links {
		l.ref = w.add(dict("Type", "Annot", "Subtype", "Link", "Rect", l.page.rect(l.box), "Border", array(object(0), object(0), object(0)),
			"F", 4, "Contents", words(l.says), "StructParent", len(d.pages)+i, "Dest", l.to.destination()))
	}
}

// writeOutline nests the bookmarks by level.
func (d *Document) writeOutline(w *writer) *core.PdfIndirectReference {
	if len(d.entries) == 0 {
		return nil
	}
	type item struct {
		ref        *core.PdfIndirectReference
		dict       *core.PdfDictionary
		last       *item
		parent     *item
		count, lvl int
	}
	root := &item{ref: w.reserve(), dict: dict("Type", "Outlines")}
	at := root
	for _, e := range d.entries {
		for at != root && at.lvl >= e.level {
			at = at.parent
		}
		n := &item{ref: w.reserve(), lvl: e.level, parent: at, dict: dict("Title", words(e.title), "Parent", at.ref, "Dest", e.to.destination())}
		if at.last == nil {
			at.dict.Set("First", n.ref)
		} else {
			at.last.dict.Set("Next", n.ref)
			n.dict.Set("Prev", at.last.ref)
		}
		at.last = n
		at.dict.Set("Last", n.ref)
		for up := at; up != nil; up = up.parent {
			up.count++
			up.dict.Set("Count", core.NewPdfInteger(up.count))
		}
		w.put(n.ref, n.dict)
		at = n
	}
	w.put(root.ref, root.dict)
	return root.ref
}

// perStream is how many objects share one object stream.
const perStream = 200

// file lays the objects out: streams as they are, everything else in object streams, a
// cross-reference stream at the end. The file's ID is the hash of what stands before it.
func (w *writer) file(catalog, info *core.PdfIndirectReference) ([]byte, error) {
	var out bytes.Buffer
	out.WriteString("%PDF-1.7\n%\xe2\xe3\xcf\xd3\n")
	count := len(w.objects)
	entries := make([]core.XRefStreamEntry, count+1)
	entries[0] = core.XRefStreamEntry{Type: core.XRefEntryFree, Field3: 65535}
	emit := func(num int, o core.PdfObject) error {
		at := uint64(out.Len())
		for len(entries) <= num {
			entries = append(entries, core.XRefStreamEntry{})
		}
		entries[num] = core.XRefStreamEntry{Type: core.XRefEntryInUse, Field2: at}
		fmt.Fprintf(&out, "%d 0 obj\n", num)
		if _, err := o.WriteTo(&out); err != nil {
			return err
		}
		out.WriteString("\nendobj\n")
		return nil
	}
	var packed []core.ObjStmEntry
	for i, o := range w.objects {
		if s, ok := o.(*core.PdfStream); ok {
			if err := emit(i+1, s); err != nil {
				return nil, err
			}
			continue
		}
		packed = append(packed, core.ObjStmEntry{ObjectNumber: i + 1, Object: o})
	}
	next := count
	for len(packed) > 0 {
		part := packed[:min(perStream, len(packed))]
		packed = packed[len(part):]
		s, err := core.BuildObjStm(part)
		if err != nil {
			return nil, err
		}
		s.SetCompressLevel(6)
		next++
		for i, e := range part {
			entries[e.ObjectNumber] = core.XRefStreamEntry{Type: core.XRefEntryCompressed, Field2: uint64(next), Field3: uint64(i)}
		}
		if err := emit(next, s); err != nil {
			return nil, err
		}
	}
	sum := sha256.Sum256(out.Bytes())
	id := core.NewPdfHexString(string(sum[:16]))
	at := out.Len()
	entries = append(entries, core.XRefStreamEntry{Type: core.XRefEntryInUse, Field2: uint64(at)})
	xref, err := core.BuildXRefStream([]core.XRefStreamSubsection{{Entries: entries}}, len(entries), dict("Root", catalog, "Info", info, "ID", array(id, id)))
	if err != nil {
		return nil, err
	}
	fmt.Fprintf(&out, "%d 0 obj\n", len(entries)-1)
	if _, err := xref.WriteTo(&out); err != nil {
		return nil, err
	}
	fmt.Fprintf(&out, "\nendobj\nstartxref\n%d\n%%%%EOF\n", at)
	return out.Bytes(), nil
}
