package render

import (
	"fmt"
	"strings"

	"boottop.example/practice/domain/report"
	"boottop.example/practice/domain/report/render/internal/tagged"
)

// Paper is the size of a sheet.
type Paper string

// The sheets.
const (
	A4     Paper = "a4"
	Letter Paper = "letter"
)

// size in points, upright: ISO 216 A4 and US Letter.
func (p Paper) size() (w, h float64) {
	if p == Letter {
		return 612, 792
	}
	return 595.28, 841.89
}

// Options of the PDF.
type Options struct {
	Paper    Paper                           // A4 when empty
	Photo    func(id string) ([]byte, error) // the JPEG copies that the report's hashes name
	Progress func(Progress)                  // called as parts are set; may be nil
	Language string                          // of the text; "en-GB" when empty
	Pages    func(n int)                     // told how many pages it came to; may be nil
}

// Progress is how far a PDF has got: parts set of all there are, photos among them, pages begun.
type Progress struct {
	Parts, OfParts int
	Photos         int
	Pages          int
}

// producer is what made the file, as its metadata says.
const producer = "Boottop report renderer 1"

// PDF sets the report on paper: tagged, built to PDF/UA-1 and PDF/A-2a, the same bytes
// for the same report and pictures.
//
// Errors: ErrPhoto for pictures that are missing or changed, a *figure.SpecError for a
// hull that cannot be drawn.
func PDF(r report.Report, o Options) ([]byte, error) {
	if o.Language == "" {
		o.Language = "en-GB"
	}
	d := tagged.New(tagged.Info{
		Title: title(r), Author: practiceWords(r), Subject: r.Kind, Lang: o.Language,
		Creator: "Boottop", Producer: producer, At: r.GeneratedAt,
	})
	t, err := newTypes(d)
	if err != nil {
		return nil, err
	}
	c := compose(r)
	f := &flow{d: d, t: t, c: c, o: o, s: newSizes(1), ids: map[string]*tagged.Anchor{}, blanks: t.blanks(r), total: countBlocks(c.front) + countBlocks(c.rest) + countBlocks(c.shown) + 1}
	f.portrait()
	if err := f.setAll(); err != nil {
		return nil, fmt.Errorf("set report: %w", err)
	}
	f.furniture()
	f.progress(1)
	if o.Pages != nil {
		o.Pages(len(d.Pages()))
	}
	return d.Bytes()
}

// setAll sets the report: what is to be read, then what is shown. Plates wait for the end
// of a page, so that what follows them fills it.
func (f *flow) setAll() (err error) {
	if f.s, err = f.frontSizes(); err != nil {
		return err
	}
	if err := f.placeAll(f.d.Root(), f.c.front); err != nil {
		return err
	}
	f.s = newSizes(1)
	f.newSheet()
	if f.s, err = f.restSizes(); err != nil {
		return err
	}
	if err := f.placeAll(f.d.Root(), f.c.rest); err != nil {
		return err
	}
	f.s = newSizes(1)
	if err := f.placeAll(f.d.Root(), f.c.shown); err != nil {
		return err
	}
	f.setWaiting()
	return f.err
}

// frontSizes are the largest at which the first part stands on one page, not below what
// reads well (8.1 pt): each is tried on a sheet that is thrown away. Where none does, it
// flows on at full size.
func (f *flow) frontSizes() (sizes, error) {
	for _, k := range []float64{1.03, 1, 0.97, 0.94, 0.91, 0.88} {
		try, err := f.try(f.c.front, k, bodyTop)
		if err != nil || len(try.d.Pages()) == 1 {
			return newSizes(k), err
		}
	}
	return newSizes(1), nil
}

// restSizes are those at which what is to be read does not end with a few lines on a page:
// a little smaller where that saves the page, else the full ones.
func (f *flow) restSizes() (sizes, error) {
	if len(f.c.rest) > mostTried {
		return newSizes(1), nil
	}
	for _, k := range []float64{1, 0.98, 0.96, 0.94, 0.92} {
		try, err := f.try(f.c.rest, k, f.y)
		if err != nil {
			return sizes{}, err
		}
		if len(try.d.Pages()) == 1 || try.filled() > lonely {
			return newSizes(k), nil
		}
	}
	return newSizes(1), nil
}

// mostTried is how many blocks are set more than once: to try twenty pages costs more than
// a page is worth.
const mostTried = 80

// lonely is the part of a page that looks forgotten.
const lonely = 0.2

// try sets blocks at a size on sheets that are thrown away, the first from y on.
func (f *flow) try(list []block, k, y float64) (*flow, error) {
	try := &flow{d: tagged.New(tagged.Info{}), t: f.t, c: f.c, o: Options{Paper: f.o.Paper}, s: newSizes(k), blanks: f.blanks, ids: map[string]*tagged.Anchor{}}
	try.portrait()
	try.y, try.fresh = y, y <= bodyTop
	return try, try.placeAll(try.d.Root(), list)
}

// filled is how much of the page's height is taken, 0 to 1.
func (f *flow) filled() float64 { return (f.y - bodyTop) / (f.bottom - bodyTop) }

// newSheet begins the rest on a page of its own, unless the front is short; that of an
// addendum follows on.
func (f *flow) newSheet() {
	short := len(f.d.Pages()) == 1 && f.filled() < shortFront
	switch {
	case f.fresh || f.c.r.Issue.AddendumTo != "":
	case short:
		f.y += afterFront
	default:
		f.portrait()
	}
}

// shortFront is the part of the first page that leaves room for more than the front.
const shortFront = 0.6

const afterFront = 12.0 // points

func countBlocks(list []block) int {
	n := len(list)
	for _, b := range list {
		if p, ok := b.(pair); ok {
			n += countBlocks(p.left) + countBlocks(p.right)
		}
	}
	return n
}

func (f *flow) progress(n int) {
	f.done += n
	if f.o.Progress != nil {
		f.o.Progress(Progress{Parts: min(f.done, f.total), OfParts: f.total, Photos: f.photos, Pages: len(f.d.Pages())})
	}
}

// furniture draws running heads, feet and the draft's margin on every page, once it is
// known how many there are.
func (f *flow) furniture() {
	r := f.c.r
	pages := f.d.Pages()
	for i, p := range pages {
		x, headY := marginX, 31.0
		footY := p.H - 55
		if p.W > p.H {
			x, headY, footY = wideX, 22, p.H-36
		}
		width := p.W - 2*x
		p.Artifact(tagged.Head, func(c *tagged.Canvas) {
			c.Fill(ink)
			right := fitText(f.t.text, practiceWords(r), 9, 0.5*width)
			c.Text(f.t.text, 9, x+width-f.t.text.Width(right, 9), headY, right)
			left := width - f.t.text.Width(right, 9) - 20
			if r.Issue.Draft {
				name := fitText(f.t.text, r.Vessel.Name, 9, left-90) + " · "
				c.Text(f.t.strong, 9, x+c.Text(f.t.text, 9, x, headY, name), headY, draftWords)
			} else {
				c.Text(f.t.text, 9, x, headY, fitText(f.t.text, title(r), 9, left))
			}
			c.Stroke(ink, 0.75)
			c.Line(x, headY+7, x+width, headY+7)
		})
		p.Artifact(tagged.Foot, func(c *tagged.Canvas) {
			c.Stroke(ink, 0.75)
			c.Line(x, footY, x+width, footY)
			c.Fill(ink)
			page := fmt.Sprintf("page %d of %d", i+1, len(pages))
			if r.Issue.Draft {
				page = " · " + page
			} else if r.AuditHead != "" {
				page = fitText(f.t.text, "audit head "+r.AuditHead, 8.25, 0.3*width) + " · " + page
			}
			w := f.t.text.Width(page, 8.25)
			c.Text(f.t.text, 8.25, x+width-w, footY+13, page)
			if r.Issue.Draft {
				d := f.t.strong.Width(draftWords, 8.25)
				c.Text(f.t.strong, 8.25, x+width-w-d, footY+13, draftWords)
				w += d
			}
			for k, l := range f.footLines(width - w - 20) {
				c.Text(f.t.text, 8.25, x, footY+13+10*float64(k), l)
			}
		})
		if r.Issue.Draft {
			p.Artifact(tagged.Margin, func(c *tagged.Canvas) {
				c.Fill(ink)
				w := f.t.titleItalic.Width(draftWords, 21)
				c.Upwards(f.t.titleItalic, 21, min(32, x-13), (p.H+w)/2, draftWords)
			})
		}
	}
}

// footLines breaks the words at the foot into no more than two lines.
func (f *flow) footLines(room float64) []string {
	var out []string
	for _, l := range f.t.lay([]span{{text: footWords(f.c.r)}}, 8.25, room) {
		s := ""
		for _, p := range l.parts {
			s += p.text
		}
		out = append(out, s)
	}
	if len(out) > 2 {
		out = []string{out[0], fitText(f.t.text, strings.Join(out[1:], ""), 8.25, room)}
	}
	return out
}

// fitText shortens a line that is too long for its place.
func fitText(t *tagged.Type, text string, size, room float64) string {
	text = tagged.Clean(text)
	if t.Width(text, size) <= room {
		return text
	}
	return fitting(t, text, size, room-t.Width("…", size)) + "…"
}
