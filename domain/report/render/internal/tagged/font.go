package tagged

import (
	"encoding/binary"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/carlos7ags/folio/font"
	"golang.org/x/text/unicode/norm"
)

// Source is a font file read once and shared by documents.
type Source struct {
	face    font.Face
	tabular map[uint16]uint16 // default figure → the one of common width
}

// ReadFont parses a TrueType file.
func ReadFont(ttf []byte) (*Source, error) {
	face, err := font.ParseTTF(ttf)
	if err != nil {
		return nil, fmt.Errorf("read font: %w", err)
	}
	if face.UnitsPerEm() != 1000 {
		return nil, fmt.Errorf("read font: %d units per em, want 1000", face.UnitsPerEm())
	}
	return &Source{face: face, tabular: singles(ttf, "tnum")}, nil
}

// Face is a font in one document.
type Face struct {
	src   *Source
	name  string
	ef    *font.EmbeddedFont
	used  bool
	ids   map[rune]uint16
	kerns map[[2]uint16]int
}

// Type is a face with those that stand in where it has no letter.
type Type struct {
	faces []*Face
	blank *Face // has U+25A1
	words map[string][]run
}

// Face adds a font to the document.
func (d *Document) Face(s *Source) *Face {
	f := &Face{src: s, name: fmt.Sprintf("F%d", len(d.fonts)), ef: font.NewEmbeddedFont(s.face), ids: map[rune]uint16{}, kerns: map[[2]uint16]int{}}
	d.fonts = append(d.fonts, f)
	return f
}

// NewType makes a type of faces in order of preference; the last must have U+25A1,
// which stands for letters that none of them has.
func NewType(faces ...*Face) *Type {
	return &Type{faces: faces, blank: faces[len(faces)-1], words: map[string][]run{}}
}

type glyph struct {
	id   uint16
	r    rune
	kern int // towards the next, thousandths of an em
}

type run struct {
	face   *Face
	glyphs []glyph
	width  float64 // ems
	actual string  // the letters meant, where blanks stand for them
}

func (f *Face) id(r rune) uint16 {
	id, ok := f.ids[r]
	if !ok {
		id = f.src.face.GlyphIndex(r)
		if t, ok := f.src.tabular[id]; ok && id != 0 {
			id = t
		}
		f.ids[r] = id
	}
	return id
}

func (f *Face) kern(a, b uint16) int {
	k, ok := f.kerns[[2]uint16{a, b}]
	if !ok {
		k = f.src.face.Kern(a, b)
		f.kerns[[2]uint16{a, b}] = k
	}
	return k
}

// Clean gives a text as it can be set: composed letters, no control or direction
// characters, no line breaks.
func Clean(text string) string {
	plain := true
	for i := range len(text) {
		if text[i] < ' ' || text[i] >= utf8.RuneSelf || text[i] == 0x7f {
			plain = false
			break
		}
	}
	if plain {
		return text
	}
	return norm.NFC.String(strings.Map(func(r rune) rune {
		switch {
		case r == '\t' || r == '\n' || r == '\r' || r == '\u2028' || r == '\u2029':
			return ' '
		case r == '\u00a0' || r == '\u202f' || r == '\u2007':
			return '\u00a0'
		case unicode.Is(unicode.Cc, r) || unicode.Is(unicode.Cf, r):
			return -1
		}
		return r
	}, text))
}

const blank = '□'

// pick finds a face that has the letter; false where a blank stands for it.
func (t *Type) pick(r rune) (*Face, uint16, bool) {
	for _, f := range t.faces {
		if id := f.id(r); id != 0 {
			return f, id, true
		}
	}
	return t.blank, t.blank.id(blank), false
}

// shape sets a text: glyphs with kerning, in runs of one face.
func (t *Type) shape(text string) []run {
	if r, ok := t.words[text]; ok {
		return r
	}
	var runs []run
	for _, r := range Clean(text) {
		r = plainSpace(r)
		f, id, ok := t.pick(r)
		n := len(runs) - 1
		if n < 0 || runs[n].face != f || (runs[n].actual != "") == ok {
			runs = append(runs, run{face: f})
			n++
		}
		w := &runs[n]
		if !ok {
			w.actual += string(r)
			r = blank
		}
		if k := len(w.glyphs); k > 0 {
			w.glyphs[k-1].kern = f.kern(w.glyphs[k-1].id, id)
			w.width += float64(w.glyphs[k-1].kern) / 1000
		}
		w.glyphs = append(w.glyphs, glyph{id: id, r: r})
		w.width += float64(f.src.face.GlyphAdvance(id)) / 1000
	}
	if len(text) < 64 {
		t.words[text] = runs
	}
	return runs
}

// plainSpace draws the space that keeps words together as any other: some faces lack it,
// and one glyph has one meaning in the file.
func plainSpace(r rune) rune {
	if r == '\u00a0' {
		return ' '
	}
	return r
}

// Width is the length of a text in points.
func (t *Type) Width(text string, size float64) float64 {
	w := 0.0
	for _, r := range t.shape(text) {
		w += r.width
	}
	return w * size
}

// Fit gives how many bytes of a clean text are no longer than room.
func (t *Type) Fit(text string, size, room float64) int {
	ems, limit := 0.0, room/size
	ends := make([]int, 0, len(text))
	for i := range text {
		ends = append(ends, i)
	}
	ends = append(ends, len(text))
	n := 0
	for _, r := range t.shape(text) {
		for _, g := range r.glyphs {
			if ems += float64(r.face.src.face.GlyphAdvance(g.id)) / 1000; ems > limit {
				return ends[n]
			}
			ems += float64(g.kern) / 1000
			n++
		}
	}
	return len(text)
}

// Has tells whether every letter of a text can be set; what cannot is printed as □ and
// kept as its own letters for readers and searches.
func (t *Type) Has(text string) bool {
	for _, r := range t.shape(text) {
		if r.actual != "" {
			return false
		}
	}
	return true
}

// singles reads one-for-one substitutions of a feature from a font's GSUB table
// (OpenType 1.9, lookup type 1, and type 7 that wraps it). Anything else is left out.
func singles(ttf []byte, feature string) (m map[uint16]uint16) {
	m = map[uint16]uint16{}
	defer func() {
		if recover() != nil { // a table that points outside itself has no figures for us
			m = nil
		}
	}()
	u16 := func(b []byte, at int) int { return int(binary.BigEndian.Uint16(b[at:])) }
	u32 := func(b []byte, at int) int { return int(binary.BigEndian.Uint32(b[at:])) }
	var gsub []byte
	for i := range u16(ttf, 4) {
		if e := ttf[12+16*i:]; string(e[:4]) == "GSUB" {
			gsub = ttf[u32(e, 8) : u32(e, 8)+u32(e, 12)]
		}
	}
	if gsub == nil {
		return m
	}
	features, lookups := gsub[u16(gsub, 6):], gsub[u16(gsub, 8):]
	for i := range u16(features, 0) {
		if string(features[2+6*i:][:4]) != feature {
			continue
		}
		f := features[u16(features, 2+6*i+4):]
		for j := range u16(f, 2) {
			l := lookups[u16(lookups, 2+2*u16(f, 4+2*j)):]
			for k := range u16(l, 4) {
				sub, kind := l[u16(l, 6+2*k):], u16(l, 0)
				if kind == 7 {
					kind, sub = u16(sub, 2), sub[u32(sub, 4):]
				}
				if kind == 1 {
					single(sub, m)
				}
			}
		}
	}
	return m
}

func single(sub []byte, m map[uint16]uint16) {
	u16 := func(b []byte, at int) uint16 { return binary.BigEndian.Uint16(b[at:]) }
	for i, g := range coverage(sub[u16(sub, 2):]) {
		if u16(sub, 0) == 1 {
			m[g] = g + u16(sub, 4)
		} else {
			m[g] = u16(sub, 6+2*i)
		}
	}
}

func coverage(c []byte) []uint16 {
	u16 := func(at int) uint16 { return binary.BigEndian.Uint16(c[at:]) }
	var list []uint16
	for i := range int(u16(2)) {
		if u16(0) == 1 {
			list = append(list, u16(4+2*i))
			continue
		}
		for g := int(u16(4 + 6*i)); g <= int(u16(6+6*i)); g++ {
			list = append(list, uint16(g))
		}
	}
	return list
}
