package render

import (
	"errors"
	"fmt"
	"strconv"

	"boottop.example/practice/domain/figure"
	"boottop.example/practice/domain/report"
	"boottop.example/practice/domain/report/render/internal/tagged"
)

func count(n int) string { return strconv.Itoa(n) }

// perPixel is how many points a pixel of a figure takes: its 12 px words are 9 pt, its
// smallest figures (9.5 px) just above 7.
const perPixel = 0.75

// waitingPlate is a plate that stands on a landscape page of its own, once the page that it
// is called for on is full.
type waitingPlate struct {
	parent *tagged.Node
	b      plateBlock
	t      types
	s      sizes
}

// plate sets what lies where on the page itself, if there is room: it has few figures. Other
// plates need the breadth of a page on its side, and wait for it while the text goes on.
func (f *flow) plate(parent *tagged.Node, b plateBlock) error {
	if b.p.Mode == report.ModePlaces && len(f.waiting) == 0 && !f.wide() {
		fig, err := drawHull(b, f.c.r, f.width/perPixel, false)
		if err != nil {
			return fmt.Errorf("plate %d: %w", b.p.Number, err)
		}
		if f.room() >= abovePlate+plateHead+fig.Height*perPixel+f.plateFoot(b) {
			f.skip(abovePlate)
			return f.drawPlate(parent, b)
		}
	}
	f.waiting = append(f.waiting, waitingPlate{parent, b, f.t, f.s})
	return nil
}

// setWaiting sets the plates that waited, each on its page.
func (f *flow) setWaiting() {
	t, s, list := f.t, f.s, f.waiting
	f.waiting = nil
	for _, w := range list {
		f.t, f.s = w.t, w.s
		f.landscape()
		f.err = errors.Join(f.err, f.drawPlate(w.parent, w.b))
	}
	f.t, f.s = t, s
}

const (
	abovePlate = 14.0     // between a text and a plate below it, points
	plateHead  = 15 * 1.3 // its title
)

// plateFoot is what stands below the drawing: legend and caption.
func (f *flow) plateFoot(b plateBlock) float64 {
	return float64(len(f.plateLines(b)))*f.s.small*1.3 + f.legendHeight(b) + 6
}

func (f *flow) plateLines(b plateBlock) []textLine {
	return f.t.lay(f.c.plateCaption(b), f.s.small, f.width-70)
}

// drawPlate draws title, drawing, legend and caption, as large as the page leaves room.
func (f *flow) drawPlate(parent *tagged.Node, b plateBlock) error {
	f.fresh = false
	f.setAnchor(b.p.ID, f.y)
	f.plateTitle(parent, b.p)
	caption, lines := f.c.plateCaption(b), f.plateLines(b)
	fig, err := f.sized(b, f.bottom-f.y-f.plateFoot(b))
	if err != nil {
		return fmt.Errorf("plate %d: %w", b.p.Number, err)
	}
	w, h := fig.Width*perPixel, fig.Height*perPixel
	x := f.left + (f.width-w)/2
	f.page.Figure(parent, said(b.p.Alt, fmt.Sprintf("Plate %d: the unrolled hull", b.p.Number)), tagged.Box{X: x, Y: f.y, W: w, H: h}, func(c *tagged.Canvas) { f.t.ink(c, fig, x, f.y) })
	f.y += h - 8
	f.legend(parent, b)
	if len(lines) > 0 {
		x := f.left + 35
		if len(lines) == 1 {
			x = f.left + (f.width-lines[0].w)/2
		}
		f.setLines(parent.Add("P"), lines, caption, f.s.small, 1.3, x, f.y, ink, 0)
		f.y += float64(len(lines)) * f.s.small * 1.3
	}
	return nil
}

func (f *flow) plateTitle(parent *tagged.Node, p report.Plate) {
	text := fmt.Sprintf("Plate %d. %s", p.Number, p.Title)
	size := 15.0
	for size > 9 && f.t.title.Width(text, size) > f.width {
		size -= 0.5
	}
	whole := text
	text = fitText(f.t.title, text, size, f.width)
	f.d.Bookmark(2, whole, f.page, f.y)
	f.page.Mark(parent.Add("H2"), func(c *tagged.Canvas) {
		c.Fill(ink)
		c.Text(f.t.title, size, f.left+(f.width-f.t.title.Width(text, size))/2, f.y+size, text)
	})
	f.y += plateHead
}

func (c *composition) plateCaption(b plateBlock) []span {
	spans := c.spans(b.p.Caption)
	if b.p.Note != "" {
		spans = append([]span{{text: b.p.Note + " "}}, spans...)
	}
	spans = append(spans, c.onIt(b)...)
	if b.hasTable() {
		if len(spans) > 0 {
			spans = append(spans, span{text: " "})
		}
		spans = append(spans, span{text: "In figures: "}, c.link(b.p.Table), span{text: "."})
	}
	return spans
}

// onIt names what lies on the plate of places, each a link to where it is told or shown:
// the same for who cannot see the drawing.
func (c *composition) onIt(b plateBlock) (out []span) {
	named, more := map[string]bool{}, 0
	for _, kind := range []figure.PinKind{figure.Finding, figure.Photo} {
		for _, p := range b.pins {
			if p.Kind != kind || c.labels[p.ID] == "" || named[p.ID] {
				continue
			}
			named[p.ID] = true
			if len(named) > mostNamed {
				more++
				continue
			}
			lead := ", "
			if len(out) == 0 {
				lead = "On it: "
			}
			out = append(out, span{text: lead}, c.link(p.ID))
		}
	}
	if more > 0 {
		out = append(out, span{text: fmt.Sprintf(" and %d more", more)})
	}
	if len(out) > 0 {
		out = append(out, span{text: "."})
	}
	return out
}

// mostNamed is how many findings and photos are named below the plate of places: beyond
// them the words would take the drawing's room.
const mostNamed = 40

// sized draws the figure as broad as the page, or less where it would be too high. Its
// height grows in a straight line with its breadth.
func (f *flow) sized(b plateBlock, room float64) (figure.Plate, error) {
	width := f.width / perPixel
	fig, err := drawHull(b, f.c.r, width, false)
	if err != nil || fig.Height*perPixel <= room {
		return fig, err
	}
	half, err := drawHull(b, f.c.r, width/2, false)
	if err != nil {
		return fig, err
	}
	slope := (fig.Height - half.Height) / (fig.Width - half.Width)
	if slope > 0 {
		width = fig.Width - (fig.Height-room/perPixel)/slope - 1
	}
	return drawHull(b, f.c.r, max(160, width), false)
}

// ink draws a plate's marks with its upper left corner at x, y.
func (t types) ink(c *tagged.Canvas, p figure.Plate, x, y float64) {
	t.inkScaled(c, p, x, y, perPixel)
}

func (t types) inkScaled(c *tagged.Canvas, p figure.Plate, x, y, k float64) {
	for _, m := range p.Marks {
		s := p.Style(m, figure.Print)
		c.Save()
		if s.Opacity < 1 {
			c.Opacity(s.Opacity)
		}
		t.inkMark(c, p, m, s, x, y, k)
		c.Restore()
	}
}

func (t types) inkMark(c *tagged.Canvas, p figure.Plate, m figure.Mark, s figure.Style, x, y, k float64) {
	if m.Kind == figure.Words {
		t.inkWords(c, m, s, x, y, k)
		return
	}
	if m.Fill != "" {
		inkHatch(c, p, m, x, y, k)
		s.Fill = nil
	}
	if s.Stroke != nil && s.Width > 0 {
		c.Stroke(tagged.RGB(*s.Stroke), s.Width*k)
		if len(s.Dash) > 0 {
			d := make([]float64, len(s.Dash))
			for i, v := range s.Dash {
				d[i] = v * k
			}
			c.Dash(d...)
		}
		if s.Round {
			c.Round()
		}
	}
	stroked := s.Stroke != nil && s.Width > 0
	if s.Fill != nil {
		if s.FillOpacity < 1 {
			c.Save()
			c.Opacity(s.FillOpacity)
		}
		c.Fill(tagged.RGB(*s.Fill))
		shape(c, m, x, y, k, tagged.Filled)
		if s.FillOpacity < 1 {
			c.Restore()
		}
	}
	if stroked {
		shape(c, m, x, y, k, tagged.Stroked)
	}
}

func shape(c *tagged.Canvas, m figure.Mark, x, y, k float64, how tagged.Paint) {
	switch m.Kind {
	case figure.Circle:
		if m.R > 0 {
			c.Circle(x+m.X*k, y+m.Y*k, m.R*k, how)
		}
	case figure.Rect:
		c.Rect(x+m.X*k, y+m.Y*k, m.W*k, m.H*k, how)
	case figure.Path:
		c.Path(scaled(m.Lines, x, y, k), m.Closed || how == tagged.Filled, how)
	}
}

func scaled(lines []figure.Line, x, y, k float64) [][][2]float64 {
	out := make([][][2]float64, 0, len(lines))
	for _, l := range lines {
		q := make([][2]float64, len(l))
		for i, v := range l {
			q[i] = [2]float64{x + v[0]*k, y + v[1]*k}
		}
		out = append(out, q)
	}
	return out
}

func inkHatch(c *tagged.Canvas, p figure.Plate, m figure.Mark, x, y, k float64) {
	c.Save()
	ground := p.Style(figure.Mark{Kind: figure.Rect, Class: "hatch-ground"}, figure.Print)
	if ground.Fill != nil {
		c.Fill(tagged.RGB(*ground.Fill))
		shape(c, m, x, y, k, tagged.Filled)
	}
	h := p.Style(figure.Mark{Kind: figure.Path, Class: m.Fill.Hatch().Class}, figure.Print)
	if h.Opacity < 1 {
		c.Opacity(h.Opacity)
	}
	if h.Stroke != nil {
		c.Stroke(tagged.RGB(*h.Stroke), h.Width*k)
		c.Path(scaled(figure.HatchLines(m), x, y, k), false, tagged.Stroked)
	}
	c.Restore()
}

func (t types) face(s figure.Style) *tagged.Type {
	switch {
	case s.Title && s.Italic:
		return t.titleItalic
	case s.Title:
		return t.title
	case s.Weight >= 600:
		return t.strong
	case s.Italic:
		return t.italic
	case s.Weight >= 500:
		return t.medium
	}
	return t.text
}

func (t types) inkWords(c *tagged.Canvas, m figure.Mark, s figure.Style, x, y, k float64) {
	if m.Text == "" || s.Fill == nil {
		return
	}
	face, size := t.face(s), m.Size*k
	at := x + m.X*k
	switch m.Anchor {
	case figure.Middle:
		at -= face.Width(m.Text, size) / 2
	case figure.End:
		at -= face.Width(m.Text, size)
	}
	if s.Halo != nil && s.HaloWidth > 0 {
		c.Save()
		c.Stroke(tagged.RGB(*s.Halo), s.HaloWidth*k)
		c.Round()
		c.Halo(face, size, at, y+m.Y*k, m.Text)
		c.Restore()
	}
	c.Fill(tagged.RGB(*s.Fill))
	c.Text(face, size, at, y+m.Y*k, m.Text)
}

const (
	keyRow  = 20.0 // height of a row of a legend, points
	keyGap  = 13.0
	keySign = 3.5
)

func (k key) signWidth() float64 {
	if len(k.sign) > 0 {
		return keySize * perPixel
	}
	return k.icon.w * perPixel
}

// legendRows breaks the legend where it is broader than the page.
func (f *flow) legendRows(b plateBlock) (lead string, rows [][]key, widths []float64) {
	lead, keys := legend(b)
	w := 0.0
	if lead != "" {
		w = f.t.strong.Width(lead, f.s.small)
	}
	var row []key
	for _, k := range keys {
		kw := k.signWidth() + keySign + f.t.text.Width(k.word, f.s.small)
		if w > 0 && w+keyGap+kw > f.width {
			rows, widths = append(rows, row), append(widths, w)
			row, w = nil, 0
		}
		if w > 0 {
			w += keyGap
		}
		row, w = append(row, k), w+kw
	}
	if len(row) > 0 || lead != "" {
		rows, widths = append(rows, row), append(widths, w)
	}
	return lead, rows, widths
}

func (f *flow) legendHeight(b plateBlock) float64 {
	_, rows, _ := f.legendRows(b)
	return float64(len(rows)) * keyRow
}

// legend is a list beside the plate: sign as label, word as body, so that it works in
// grey and for who hears it.
func (f *flow) legend(parent *tagged.Node, b plateBlock) {
	lead, rows, widths := f.legendRows(b)
	if len(rows) == 0 {
		return
	}
	size := f.s.small
	if lead != "" {
		x := f.left + (f.width-widths[0])/2
		f.page.Mark(parent.Add("P"), func(c *tagged.Canvas) {
			c.Fill(ink)
			c.Text(f.t.strong, size, x, f.y+keyRow/2+0.33*size, lead)
		})
	}
	list := parent.Add("L")
	list.List = "None"
	for i, row := range rows {
		x := f.left + (f.width-widths[i])/2
		if i == 0 && lead != "" {
			x += f.t.strong.Width(lead, size) + keyGap
		}
		for _, k := range row {
			x += f.key(list.Add("LI"), k, x, f.y) + keyGap
		}
		f.y += keyRow
	}
}

func (f *flow) key(item *tagged.Node, k key, x, y float64) float64 {
	size, w := f.s.small, k.signWidth()
	f.page.Artifact(tagged.Rule, func(c *tagged.Canvas) {
		if len(k.sign) > 0 {
			f.t.inkScaled(c, figure.Plate{Marks: k.sign}, x, y+keyRow/2-w/2, perPixel)
			return
		}
		drawIcon(c, k.icon, x, y+keyRow/2-7*perPixel, perPixel)
	})
	f.page.Mark(item.Add("LBody"), func(c *tagged.Canvas) {
		c.Fill(ink)
		c.Text(f.t.text, size, x+w+keySign, y+keyRow/2+0.33*size, k.word)
	})
	return w + keySign + f.t.text.Width(k.word, size)
}
