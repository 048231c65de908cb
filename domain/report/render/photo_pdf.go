package render

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"math"
	"strings"

	"boottop.example/practice/domain/report"
	"boottop.example/practice/domain/report/render/internal/tagged"
)

// ErrPhoto is returned when the bytes of a photo are missing or are not those that the
// report was written with.
var ErrPhoto = errors.New("photo cannot be printed")

// photoBytes gets a photo and holds it to the hash that the report froze.
func photoBytes(p report.Photo, get func(id string) ([]byte, error)) ([]byte, error) {
	if get == nil {
		return nil, fmt.Errorf("%w: photo %d: nobody to ask for it", ErrPhoto, p.Number)
	}
	b, err := get(p.ID)
	if err != nil {
		return nil, fmt.Errorf("%w: photo %d: %w", ErrPhoto, p.Number, err)
	}
	if sum := sha256.Sum256(b); hex.EncodeToString(sum[:]) != p.SHA256 {
		return nil, fmt.Errorf("%w: photo %d: its bytes are not those the report was written with", ErrPhoto, p.Number)
	}
	return b, nil
}

const photoMost = 320.0 // height of a picture, so that two stand on a page

// photoSize fits a picture into a breadth.
func (f *flow) photoSize(p report.Photo, width float64) (w, h float64) {
	pw, ph := float64(max(1, p.Width)), float64(max(1, p.Height))
	_, page := f.o.Paper.size()
	most := min(photoMost, (page-bodyTop-bodyFoot-150)/2+16)
	k := min(width/pw, most/ph)
	return pw * k, max(1, ph*k)
}

const (
	captionLead = 1.3
	captionGap  = 4.0  // between a picture and its caption
	photoGap    = 12.0 // below it
)

// captionLines are those below a picture, or beside one that is upright and stands alone.
func (f *flow) captionLines(p report.Photo, width float64) (lines []textLine, aside bool) {
	w, h := f.photoSize(p, width)
	if room := width - w - pairGap; upright(p) && room > 150 {
		lines = f.t.lay(f.c.photoCaption(p), f.s.small, room)
		if float64(len(lines))*f.s.small*captionLead < h {
			return lines, true
		}
	}
	return f.t.lay(f.c.photoCaption(p), f.s.small, width), false
}

func (f *flow) photoHeight(p report.Photo, width float64) float64 {
	_, h := f.photoSize(p, width)
	lines, aside := f.captionLines(p, width)
	if aside {
		return h + photoGap
	}
	return h + captionGap + float64(len(lines))*f.s.small*captionLead + photoGap
}

// rowOfPhotosHeight is that of a picture, or of the higher of two.
func (f *flow) rowOfPhotosHeight(b photoBlock) float64 {
	if b.beside == nil {
		return f.photoHeight(b.p, f.width)
	}
	half := (f.width - pairGap) / 2
	return max(f.photoHeight(b.p, half), f.photoHeight(*b.beside, half))
}

func (c *composition) photoCaption(p report.Photo) []span {
	spans := []span{{text: fmt.Sprintf("Photo %d. ", p.Number), strong: true}, {text: sentence(p.Caption)}}
	var more []string
	if p.Place != "" {
		more = append(more, "place "+p.Place)
	}
	if p.Taken != "" {
		more = append(more, "taken "+p.Taken)
	}
	if p.By != "" {
		more = append(more, "by "+p.By)
	}
	proof := c.see([]string{c.placesPlate(p)})
	if len(more)+len(proof) > 0 {
		text := strings.Join(more, ", ")
		if text != "" {
			text = " " + strings.ToUpper(text[:1]) + text[1:]
		}
		spans = append(append(append(spans, span{text: text}), proof...), span{text: "."})
	}
	if p.OnDevice {
		spans = append(spans, span{text: " Copy made on the device; the original is kept."})
	}
	return spans
}

// placesPlate is the plate that shows where a photo was taken.
func (c *composition) placesPlate(p report.Photo) string {
	if p.At == nil {
		return ""
	}
	for _, x := range c.r.Plates {
		if x.Mode == report.ModePlaces && (x.Element == p.Element || p.Element == "") {
			return x.ID
		}
	}
	return ""
}

// photoRow sets one picture, or two beside each other.
func (f *flow) photoRow(parent *tagged.Node, b photoBlock) error {
	_, page := f.o.Paper.size()
	need := f.rowOfPhotosHeight(b)
	if b.beside == nil {
		return f.photo(parent, b.p)
	}
	if need > page-bodyTop-bodyFoot { // captions without end
		if err := f.photo(parent, b.p); err != nil {
			return err
		}
		return f.photo(parent, *b.beside)
	}
	f.need(need)
	top, left, width := f.y, f.left, f.width
	f.width = (width - pairGap) / 2
	if err := f.photo(parent, b.p); err != nil {
		return err
	}
	low := f.y
	f.left, f.y = left+f.width+pairGap, top
	if err := f.photo(parent, *b.beside); err != nil {
		return err
	}
	f.left, f.width, f.y = left, width, max(low, f.y)
	return nil
}

func (f *flow) photo(parent *tagged.Node, p report.Photo) error {
	b, err := photoBytes(p, f.o.Photo)
	if err != nil {
		return err
	}
	m, err := f.d.JPEG(b)
	if err != nil {
		return fmt.Errorf("%w: photo %d: %w", ErrPhoto, p.Number, err)
	}
	f.need(f.photoHeight(p, f.width))
	f.setAnchor(p.ID, f.y)
	lines, aside := f.captionLines(p, f.width)
	w, h := f.photoSize(p, f.width)
	at := tagged.Box{X: f.left, Y: f.y, W: w, H: h}
	f.page.Figure(parent, photoAlt(p), at, func(c *tagged.Canvas) {
		c.Image(m, at)
		c.Stroke(ink, 0.5)
		c.Rect(at.X, at.Y, at.W, at.H, tagged.Stroked)
		c.Save()
		c.Clip(at)
		for _, a := range p.Notes {
			f.annotate(c, a, at)
		}
		c.Restore()
	})
	f.photos++
	f.fresh = false
	if aside {
		high := float64(len(lines)) * f.s.small * captionLead
		f.setLines(parent.Add("P"), lines, f.c.photoCaption(p), f.s.small, captionLead, f.left+w+pairGap, f.y+h-high, ink, 0)
		f.y += h + photoGap
		return nil
	}
	f.y += h + captionGap
	f.paragraph(parent, "P", f.c.photoCaption(p), f.s.small, captionLead, ink)
	f.y += photoGap
	return nil
}

// annotate draws over a photo: ink on a white edge, so that it shows on light and dark.
func (f *flow) annotate(c *tagged.Canvas, a report.Annotation, at tagged.Box) {
	x, y := at.X+at.W*float64(a.X)/1000, at.Y+at.H*float64(a.Y)/1000
	tx, ty := at.X+at.W*float64(a.ToX)/1000, at.Y+at.H*float64(a.ToY)/1000
	twice := func(draw func()) {
		for _, pen := range []struct {
			c tagged.RGB
			w float64
		}{{white, 4}, {accent, 2}} {
			c.Save()
			c.Stroke(pen.c, pen.w)
			c.Round()
			draw()
			c.Restore()
		}
	}
	switch a.Kind {
	case "arrow":
		twice(func() { c.Path(arrow(x, y, tx, ty, 9), false, tagged.Stroked) })
	case "ring":
		twice(func() { c.Circle(x, y, max(3, distance(x, y, tx, ty)), tagged.Stroked) })
	case "text":
		text := fitText(f.t.strong, a.Text, 10, at.W-2*noteEdge)
		x = max(at.X+noteEdge, min(x, at.X+at.W-noteEdge-f.t.strong.Width(text, 10)))
		y = max(at.Y+10+noteEdge, min(y, at.Y+at.H-noteEdge))
		c.Save()
		c.Stroke(white, 3)
		c.Round()
		c.Halo(f.t.strong, 10, x, y, text)
		c.Fill(accent)
		c.Text(f.t.strong, 10, x, y, text)
		c.Restore()
	}
}

// noteEdge is how far words over a photo keep from its edge, points.
const noteEdge = 3.0

func arrow(x, y, tx, ty, head float64) [][][2]float64 {
	lines := [][][2]float64{{{x, y}, {tx, ty}}}
	turn := math.Atan2(ty-y, tx-x)
	for _, side := range []float64{2.6, -2.6} {
		sin, cos := math.Sincos(turn + side)
		lines = append(lines, [][2]float64{{tx, ty}, {tx + head*cos, ty + head*sin}})
	}
	return lines
}

func distance(x, y, tx, ty float64) float64 { return math.Hypot(tx-x, ty-y) }

func photoAlt(p report.Photo) string {
	return said(p.Alt, said(p.Caption, fmt.Sprintf("Photo %d", p.Number)))
}

// said gives words, or others where there are none that could be read out.
func said(s, other string) string {
	if strings.TrimSpace(tagged.Clean(s)) == "" {
		return other
	}
	return s
}
