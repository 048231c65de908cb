package tagged

import (
	"encoding/hex"
	"fmt"
	"math"
	"strconv"

	"github.com/carlos7ags/folio/core"
)

// RGB is a colour of sRGB, 0 to 255 each.
type RGB [3]uint8

// Canvas inks a page. It writes operators itself, two decimals each, where folio's
// content.Stream writes six and allocates for each.
type Canvas struct{ p *Page }

func (c *Canvas) num(v float64) {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		v = 0
	}
	v = math.Round(v*100) / 100
	if v == 0 {
		v = 0 // no -0
	}
	c.p.buf = strconv.AppendFloat(c.p.buf, max(-32000, min(32000, v)), 'f', -1, 64)
	c.p.buf = append(c.p.buf, ' ')
}

func (c *Canvas) op(name string, args ...float64) {
	for _, a := range args {
		c.num(a)
	}
	c.p.buf = append(c.p.buf, name...)
	c.p.buf = append(c.p.buf, '\n')
}

func (c *Canvas) y(v float64) float64 { return c.p.H - v }

// Save and Restore keep the ink's state around what is drawn between them.
func (c *Canvas) Save() { c.op("q") }

// Restore ends what Save began.
func (c *Canvas) Restore() { c.op("Q") }

// Fill sets the colour of areas and letters.
func (c *Canvas) Fill(k RGB) {
	c.op("rg", float64(k[0])/255, float64(k[1])/255, float64(k[2])/255)
}

// Stroke sets the colour and breadth of lines.
func (c *Canvas) Stroke(k RGB, width float64) {
	c.op("RG", float64(k[0])/255, float64(k[1])/255, float64(k[2])/255)
	c.op("w", width)
}

// Dash breaks lines; none makes them whole.
func (c *Canvas) Dash(lengths ...float64) {
	c.p.buf = append(c.p.buf, '[')
	for _, l := range lengths {
		c.num(l)
	}
	c.p.buf = append(c.p.buf, "] 0 d\n"...)
}

// Round makes ends and corners of lines round.
func (c *Canvas) Round() { c.p.buf = append(c.p.buf, "1 J 1 j\n"...) }

// Opacity of all that follows, until Restore.
func (c *Canvas) Opacity(v float64) {
	c.p.buf = fmt.Appendf(c.p.buf, "/G%d gs\n", c.p.doc.state(v))
}

func (d *Document) state(v float64) int {
	for i, s := range d.states {
		if s == v {
			return i
		}
	}
	d.states = append(d.states, v)
	return len(d.states) - 1
}

// Clip keeps what follows inside a box, until Restore.
func (c *Canvas) Clip(b Box) {
	c.op("re", b.X, c.y(b.Y+b.H), b.W, b.H)
	c.p.buf = append(c.p.buf, "W n\n"...)
}

// Paint is what is done with a path.
type Paint string

// The paints.
const (
	Filled  Paint = "f"
	Stroked Paint = "S"
	Both    Paint = "B"
)

// Rect draws a rectangle.
func (c *Canvas) Rect(x, y, w, h float64, how Paint) {
	c.op("re", x, c.y(y+h), w, h)
	c.op(string(how))
}

// Line draws a straight line.
func (c *Canvas) Line(x0, y0, x1, y1 float64) {
	c.op("m", x0, c.y(y0))
	c.op("l", x1, c.y(y1))
	c.op("S")
}

// Path draws polylines, each closed if closed.
func (c *Canvas) Path(lines [][][2]float64, closed bool, how Paint) {
	drawn := false
	for _, l := range lines {
		for i, p := range l {
			if i == 0 {
				c.op("m", p[0], c.y(p[1]))
			} else {
				c.op("l", p[0], c.y(p[1]))
			}
		}
		if closed && len(l) > 0 {
			c.op("h")
		}
		drawn = drawn || len(l) > 0
	}
	if drawn {
		c.op(string(how))
	}
}

// Circle draws a circle of four Bézier arcs, good to 0.03 % of the radius.
func (c *Canvas) Circle(x, y, r float64, how Paint) {
	const k = 0.5522847498
	y = c.y(y)
	c.op("m", x+r, y)
	c.op("c", x+r, y+k*r, x+k*r, y+r, x, y+r)
	c.op("c", x-k*r, y+r, x-r, y+k*r, x-r, y)
	c.op("c", x-r, y-k*r, x-k*r, y-r, x, y-r)
	c.op("c", x+k*r, y-r, x+r, y-k*r, x+r, y)
	c.op(string(how))
}

// Arc draws part of a circle, angles in radians clockwise from three o'clock.
func (c *Canvas) Arc(x, y, r, from, to float64) {
	const steps = 24
	line := make([][2]float64, 0, steps+1)
	for i := range steps + 1 {
		sin, cos := math.Sincos(from + (to-from)*float64(i)/steps)
		line = append(line, [2]float64{x + r*cos, y + r*sin})
	}
	c.Path([][][2]float64{line}, false, Stroked)
}

// Text writes a line at x on the baseline y and gives its length.
func (c *Canvas) Text(t *Type, size, x, y float64, text string) float64 {
	return c.text(t, size, x, y, text, 0)
}

// Halo writes the outline of a text, width broad, in the stroking colour.
func (c *Canvas) Halo(t *Type, size, x, y float64, text string) {
	c.op("Tr", 1)
	c.text(t, size, x, y, text, 0)
	c.op("Tr", 0)
}

// Upwards writes a line running up the page from x, y.
func (c *Canvas) Upwards(t *Type, size, x, y float64, text string) {
	c.text(t, size, x, y, text, 1)
}

func (c *Canvas) text(t *Type, size, x, y float64, text string, turn float64) float64 {
	start := x
	for _, r := range t.shape(text) {
		if r.actual != "" {
			c.p.buf = fmt.Appendf(c.p.buf, "/Span <</ActualText <%X>>> BDC\n", core.EncodeTextStringUTF16BE(r.actual))
		}
		r.face.used = true
		c.p.buf = fmt.Appendf(c.p.buf, "BT\n/%s ", r.face.name)
		c.op("Tf", size)
		if turn == 0 {
			c.op("Tm", 1, 0, 0, 1, x, c.y(y))
		} else {
			c.op("Tm", 0, 1, -1, 0, x, c.y(y-(x-start)))
		}
		c.glyphs(r)
		c.p.buf = append(c.p.buf, "ET\n"...)
		if r.actual != "" {
			c.p.buf = append(c.p.buf, "EMC\n"...)
		}
		if turn == 0 {
			x += r.width * size
		}
	}
	return x - start
}

func (c *Canvas) glyphs(r run) {
	c.p.buf = append(c.p.buf, "[<"...)
	for i, g := range r.glyphs {
		b := r.face.ef.EncodeGIDs([]uint16{g.id}, string(g.r))
		c.p.buf = hex.AppendEncode(c.p.buf, b)
		if g.kern != 0 && i < len(r.glyphs)-1 {
			c.p.buf = append(c.p.buf, '>')
			c.p.buf = strconv.AppendInt(c.p.buf, int64(-g.kern), 10)
			c.p.buf = append(c.p.buf, '<')
		}
	}
	c.p.buf = append(c.p.buf, ">] TJ\n"...)
}

// Image lays a picture into a box.
func (c *Canvas) Image(m *Image, b Box) {
	m.used = true
	c.Save()
	c.op("cm", b.W, 0, 0, b.H, b.X, c.y(b.Y+b.H))
	c.p.buf = fmt.Appendf(c.p.buf, "/%s Do\n", m.name)
	c.Restore()
}
