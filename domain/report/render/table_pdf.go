package render

import (
	"math"
	"slices"
	"strings"

	"boottop.example/practice/domain/report/render/internal/tagged"
)

const (
	cellGap = 7.0
	cellPad = 3.0 // under heads
	iconGap = 4.5
)

// iconSize is how large a unit of an icon is.
func iconSize(size float64) float64 { return size / 12.4 }

func iconRoom(c cell, size float64) float64 {
	if len(c.icon.parts) == 0 {
		return 0
	}
	return c.icon.w*iconSize(size) + iconGap
}

// fit gives each column its breadth: what must not break takes what it needs, the rest is
// shared so that the rows are as low as can be, none below its longest word.
func (f *flow) fit(t table, width float64) []float64 {
	n := len(t.columns)
	width -= cellGap * float64(n-1)
	least, full, broken := make([]float64, n), make([]float64, n), make([]float64, n)
	behind := f.behindPoints(t)
	stands := make([][]float64, 0, len(t.rows)) // breadth of what stands in each cell, on one line
	for i, col := range t.columns {
		full[i] = f.t.medium.Width(col.head, f.s.small)
		least[i] = f.longest(col.head, f.s.small)
	}
	stands = append(stands, slices.Clone(full))
	for _, rows := range [][][]cell{t.rows, t.beside} {
		for _, r := range rows {
			line := make([]float64, n)
			for i := range min(n, len(r)) {
				l, w := f.cellWidths(r[i])
				if t.columns[i].right && r[i].figure() {
					lack := behind[i] - f.behindPoint(r[i])
					l, w = l+lack, w+lack
				}
				least[i], full[i], line[i] = max(least[i], l), max(full[i], w), w
			}
			stands = append(stands, line)
		}
	}
	for i, col := range t.columns {
		broken[i] = least[i]
		if col.nowrap && full[i] < widest(t)*width {
			least[i] = full[i]
		}
	}
	giveWay(t, least, broken, full, width)
	sumLeast, sumFull := sum(least), sum(full)
	out := make([]float64, n)
	switch {
	case sumFull <= width:
		f.giveToLast(t, out, full, width)
	case sumLeast >= width:
		for i := range out {
			out[i] = width * least[i] / max(1, sumLeast)
		}
	default:
		k := (width - sumLeast) / (sumFull - sumLeast)
		for i := range out {
			out[i] = least[i] + k*(full[i]-least[i])
		}
		lower(out, least, stands)
	}
	return out
}

// behindPoint is how broad the decimals of a figure are, its point with them; nought of what
// is no figure.
func (f *flow) behindPoint(c cell) float64 {
	if len(c.spans) != 1 {
		return 0
	}
	text := c.spans[0].text
	point := strings.LastIndexByte(text, '.')
	if point < 0 || strings.Trim(text[point+1:], "0123456789") != "" {
		return 0
	}
	return f.t.of(c.spans[0]).Width(text[point:], f.s.tab)
}

// behindPoints is the most of that in each column of figures, which stand point below point.
func (f *flow) behindPoints(t table) []float64 {
	out := make([]float64, len(t.columns))
	for i, col := range t.columns {
		for _, r := range t.rows {
			if col.right && i < len(r) {
				out[i] = max(out[i], f.behindPoint(r[i]))
			}
		}
	}
	return out
}

// figure tells whether a cell ends with one, so that it can stand under others.
func (c cell) figure() bool {
	text := ""
	for _, s := range c.spans {
		text = s.text
	}
	return text != "" && text[len(text)-1] >= '0' && text[len(text)-1] <= '9'
}

// lower moves breadth between columns as long as that saves lines, in steps that get finer.
func lower(out, least []float64, stands [][]float64) {
	rows, cells := linesOf(stands, out)
	for _, step := range []float64{48, 24, 12, 6} {
		for range 4 * len(out) {
			from, to := -1, -1
			for i := range out {
				for k := range out {
					if i == k || out[i]-step < least[i] {
						continue
					}
					out[i], out[k] = out[i]-step, out[k]+step
					if r, c := linesOf(stands, out); r < rows || r == rows && c < cells {
						rows, cells, from, to = r, c, i, k
					}
					out[i], out[k] = out[i]+step, out[k]-step
				}
			}
			if from < 0 {
				break
			}
			out[from], out[to] = out[from]-step, out[to]+step
		}
	}
}

// linesOf counts the lines of rows and of cells: breadth over breadth, with a tenth lost at
// the ends of lines.
func linesOf(stands [][]float64, widths []float64) (rows, cells float64) {
	const lost = 1.1
	for _, row := range stands {
		high := 1.0
		for i, w := range row {
			n := 1.0
			if w > widths[i]+0.01 {
				n = math.Ceil(w * lost / widths[i])
			}
			high, cells = max(high, n), cells+n
		}
		rows += high
	}
	return rows, cells
}

// widest is how much of the sheet a column may take that must not break: lists of figures
// are set in half of it, and leave it to the figures.
func widest(t table) float64 {
	if t.across > 1 {
		return 0.45
	}
	return 0.25
}

// giveWay lets lines of narrow columns break where they would leave the words of the
// widest column less than a third of the sheet: the longest lines first, the column that
// heads its row never.
func giveWay(t table, least, broken, full []float64, width float64) {
	widest := slices.Index(full, slices.Max(full))
	for width-sum(least)+least[widest] < 0.34*width {
		at := -1
		for i, col := range t.columns {
			if i != widest && !col.row && least[i] > broken[i] && (at < 0 || least[i] > least[at]) {
				at = i
			}
		}
		if at < 0 {
			return
		}
		least[at] = broken[at]
	}
}

// giveToLast keeps columns close and leaves what is over to the last.
func (f *flow) giveToLast(t table, out, full []float64, width float64) {
	over := width - sum(full)
	each := min(14, over/float64(len(out)))
	for i := range out {
		out[i] = full[i] + each
	}
	out[len(out)-1] += width - sum(out)
}

func sum(x []float64) float64 {
	s := 0.0
	for _, v := range x {
		s += v
	}
	return s
}

func (f *flow) cellWidths(c cell) (least, full float64) {
	icon := iconRoom(c, f.s.tab)
	for _, s := range c.spans {
		full += f.t.of(s).Width(s.text, f.s.tab)
		for _, a := range atoms([]span{s}) {
			least = max(least, f.t.of(s).Width(a.text, f.s.tab))
		}
	}
	return min(least, 150) + icon, full + icon + 0.1
}

func (f *flow) longest(text string, size float64) float64 {
	w := 0.0
	for _, part := range strings.Fields(text) {
		w = max(w, f.t.medium.Width(part, size))
	}
	return w
}

func (f *flow) headHeight(t table, widths []float64) float64 {
	lines := 1
	for i, col := range t.columns {
		lines = max(lines, len(f.medium().lay([]span{{text: col.head}}, f.s.small, widths[i])))
	}
	return float64(lines)*f.s.small*tabLead + cellPad + 1
}

func (f *flow) medium() types { return types{text: f.t.medium, strong: f.t.medium} }

// back is how far the words of a row's last cell reach back over the empty cells before it:
// why a place has no figures is not set in a strip. The cells stay what they are to a reader
// who hears them.
func back(r []cell, widths []float64) float64 {
	last := len(widths) - 1
	if len(r) != len(widths) {
		return 0
	}
	far := 0.0
	for i := last - 1; i > 0 && r[i].empty(); i-- {
		far += widths[i] + cellGap
	}
	return far
}

// breadth of what stands in a cell.
func breadth(r []cell, i int, widths []float64) float64 {
	if i == len(widths)-1 {
		return widths[i] + back(r, widths)
	}
	return widths[i]
}

func (f *flow) rowHeight(r []cell, widths []float64, size float64) float64 {
	lines := 1
	for i, c := range r {
		lines = max(lines, len(f.t.lay(c.spans, size, breadth(r, i, widths)-iconRoom(c, size))))
	}
	return float64(lines)*size*tabLead + 2*f.s.pad
}

// drawHead writes the column heads: the first time as TH, later as an artifact.
func (f *flow) drawHead(t table, widths []float64, x, y float64, row *tagged.Node) {
	h := f.headHeight(t, widths)
	size := f.s.small
	at := x
	put := func(i int, draw func(lines []textLine, spans []span, x float64)) {
		col := t.columns[i]
		spans := []span{{text: col.head}}
		lines := f.medium().lay(spans, size, widths[i])
		draw(lines, spans, at)
		at += widths[i] + cellGap
	}
	for i, col := range t.columns {
		right := 0.0
		if col.right {
			right = widths[i]
		}
		put(i, func(lines []textLine, spans []span, x float64) {
			top := y + h - cellPad - 1 - float64(len(lines))*size*tabLead
			if row != nil {
				f.with(f.medium(), func() { f.setLines(row.Header("Column"), lines, spans, size, tabLead, x, top, ink2, right) })
				return
			}
			f.page.Artifact(tagged.Repeat, func(c *tagged.Canvas) {
				c.Fill(ink2)
				for k, l := range lines {
					lx := x
					if right > 0 {
						lx = x + right - l.w
					}
					for _, s := range l.parts {
						c.Text(f.t.medium, size, lx+s.x, top+float64(k)*size*tabLead+size*(0.5*tabLead+0.28), s.text)
					}
				}
			})
		})
	}
	f.rule(x, y+h-0.5, sum(widths)+cellGap*float64(len(widths)-1), ink, 1.1)
}

// tableBeginning is how much of a table must stand below what leads to it: head and first
// row; of a list of figures all of it where one page holds it and this one is half taken,
// else a third of a page.
func (f *flow) tableBeginning(t table) float64 {
	if len(t.rows) == 0 {
		return 0
	}
	if t.across > 1 {
		_, page := f.o.Paper.size()
		page -= bodyTop + bodyFoot
		whole := 30 + float64(len(t.rows)/t.across+1)*(closeSize*tabLead+2*closePad+0.5)
		if whole < 0.9*page && f.room() < 0.55*page {
			return whole
		}
		return min(whole, page/3)
	}
	widths := f.fit(t, f.width)
	return min(f.headHeight(t, widths)+f.rowHeight(t.rows[0], widths, f.s.tab), 200)
}

// Size of long lists of figures, and the room above and below each, points.
const (
	closeSize = 8.5
	closePad  = 1.3
)

// table is one Table element, however many pages and columns of a page it runs over.
func (f *flow) table(parent *tagged.Node, t table) {
	if len(t.rows) == 0 {
		return
	}
	across := max(1, t.across)
	if across > 1 { // long lists of figures are set close
		was := f.s
		f.s.tab, f.s.small, f.s.pad = closeSize, closeSize, closePad
		defer func() { f.s = was }()
	}
	gutter := 22.0
	width := (f.width - gutter*float64(across-1)) / float64(across)
	widths := f.fit(t, width)
	if across > 1 {
		f.closeUp(t, widths)
	}
	head := f.headHeight(t, widths)
	node := parent.Add("Table")
	f.need(head + f.rowHeight(t.rows[0], widths, f.s.tab))
	f.setAnchor(t.id, f.y)
	headRow := node.Add("THead").Add("TR")
	body := node.Add("TBody")
	g := &grid{f: f, t: t, widths: widths, behind: f.behindPoints(t), head: head, body: body, across: across, step: width + gutter, width: width}
	for _, r := range t.rows {
		g.heights = append(g.heights, f.rowHeight(r, widths, f.s.tab))
	}
	g.begin(headRow, g.heights)
	for i, r := range t.rows {
		g.row(r, i == len(t.rows)-1, g.heights[i:])
	}
	g.end()
}

// closeUp sets rows closer where that saves a page which would hold next to nothing.
func (f *flow) closeUp(t table, widths []float64) {
	loose, head := f.s.pad, f.headHeight(t, widths)
	pages := func(pad float64) int {
		f.s.pad = pad
		_, sheet := f.o.Paper.size()
		room, n := f.bottom-f.y, 1
		for col, y, k := 1, head, 0; k < len(t.rows); k++ {
			h := f.rowHeight(t.rows[k], widths, f.s.tab)
			if y+h > room && y > head {
				if col++; col > max(1, t.across) {
					n, col, room = n+1, 1, sheet-bodyFoot-bodyTop-continuedHeight
				}
				y = head
			}
			y += h
		}
		return n
	}
	want := pages(loose)
	for _, pad := range []float64{1.05, 0.8} {
		if pages(pad) < want {
			f.s.pad = pad
			return
		}
	}
	f.s.pad = loose
}

// grid is a table being set.
type grid struct {
	f           *flow
	t           table
	widths      []float64
	behind      []float64 // decimals of each column
	heights     []float64 // of the rows
	head        float64
	body        *tagged.Node
	across, col int
	step, width float64
	x, y        float64
	top, low    float64 // of the rows on this page
	bottom      float64
}

// begin draws heads at the top of the first column of a page.
func (g *grid) begin(row *tagged.Node, rest []float64) {
	g.col, g.x, g.top = 0, g.f.left, g.f.y
	g.low = g.top
	g.bottom = g.f.bottom
	if g.across > 1 {
		g.bottom = min(g.bottom, g.top+g.balanced(rest))
	}
	g.open(row)
}

// balanced is the height at which the rest stands evenly in the columns of this page.
func (g *grid) balanced(rest []float64) float64 {
	full := g.f.bottom - g.top
	for h := g.head + sum(rest)/float64(g.across); h < full; h += 4 {
		col, y, fits := 1, g.head, true
		for _, r := range rest {
			if y+r > h {
				col, y = col+1, g.head
			}
			y += r
			if col > g.across {
				fits = false
				break
			}
		}
		if fits {
			return h + 0.5
		}
	}
	return full
}

func (g *grid) open(row *tagged.Node) {
	g.f.drawHead(g.t, g.widths, g.x, g.top, row)
	g.y = g.top + g.head
}

// next goes to the next column, or to the next page.
func (g *grid) next(rest []float64) {
	g.low = max(g.low, g.y)
	if g.col+1 < g.across {
		g.col++
		g.x += g.step
		g.open(nil)
		return
	}
	g.f.portrait()
	g.f.fresh = false
	g.f.continued(g.t)
	g.begin(nil, rest)
}

// continued names a table again where a page of plates may lie between.
func (f *flow) continued(t table) {
	label := f.c.labels[t.id]
	if label == "" {
		return
	}
	f.page.Artifact(tagged.Repeat, func(c *tagged.Canvas) {
		c.Fill(ink2)
		c.Text(f.t.italic, closeSize, f.left, f.y+closeSize, label+", continued")
	})
	f.y += continuedHeight
}

// continuedHeight is what that takes.
const continuedHeight = closeSize*tabLead + 4

func (g *grid) row(r []cell, last bool, rest []float64) {
	f, size := g.f, g.f.s.tab
	lines := make([][]textLine, len(g.widths))
	most := 1
	for i := range g.widths {
		if i < len(r) {
			lines[i] = f.t.lay(r[i].spans, size, breadth(r, i, g.widths)-iconRoom(r[i], size))
			most = max(most, len(lines[i]))
		}
	}
	tr := g.body.Add("TR")
	nodes := make([]*tagged.Node, len(g.widths))
	for i := range nodes {
		if g.t.columns[i].row {
			nodes[i] = tr.Header("Row")
		} else {
			nodes[i] = tr.Add("TD")
		}
	}
	pad := f.s.pad
	step := size * tabLead
	for done := 0; done < most; {
		if whole := float64(most)*step + 2*pad; done == 0 && g.y+whole > g.bottom+0.01 && g.y > g.top+g.head+0.01 && whole <= g.bottom-g.top-g.head {
			g.next(rest)
		}
		fit := int((g.bottom - g.y - 2*pad + 0.01) / step)
		if fit < 1 && g.y > g.top+g.head+0.01 {
			g.next(rest)
			continue
		}
		take := max(1, min(fit, most-done))
		x := g.x
		for i, n := range nodes {
			if i < len(r) {
				broad := breadth(r, i, g.widths)
				g.cell(n, r[i], lines[i], done, take, i, x+g.widths[i]-broad, g.y+pad, broad)
			}
			x += g.widths[i] + cellGap
		}
		g.y += float64(take)*step + 2*pad
		done += take
		colour, weight := hair, 0.5
		if last && done >= most {
			colour, weight = ink, 0.75
		}
		f.rule(g.x, g.y, g.width, colour, weight)
		if done < most {
			g.next(rest)
		}
	}
	f.fresh = false
}

func (g *grid) cell(n *tagged.Node, c cell, lines []textLine, from, take, col int, x, y, broad float64) {
	f, size := g.f, g.f.s.tab
	if from >= len(lines) {
		return
	}
	room := iconRoom(c, size)
	if from == 0 && room > 0 {
		f.icon(c.icon, x, y+0.5*size*tabLead-7*iconSize(size), iconSize(size))
	}
	right := 0.0
	if g.t.columns[col].right {
		right = broad - room
		if c.figure() {
			right -= g.behind[col] - f.behindPoint(c)
		}
	}
	part := lines[from:min(len(lines), from+take)]
	f.setLines(n, part, c.spans, size, tabLead, x+room, y, ink, right)
}

func (g *grid) end() {
	g.f.y = max(g.low, g.y) + 2
	g.f.fresh = false
}

// icon draws a sign as an artifact: the word beside it says the same.
func (f *flow) icon(i icon, x, y, k float64) {
	f.page.Artifact(tagged.Rule, func(c *tagged.Canvas) { drawIcon(c, i, x, y, k) })
}

func drawIcon(c *tagged.Canvas, i icon, x, y, k float64) {
	for _, p := range i.parts {
		c.Save()
		colour := ink
		if i.accent {
			colour = accent
		}
		if p.paper {
			colour = white
		}
		width := p.width
		if width == 0 {
			width = 1.5
		}
		c.Fill(colour)
		c.Stroke(colour, width*k)
		if len(p.dash) > 0 {
			d := make([]float64, len(p.dash))
			for j, v := range p.dash {
				d[j] = v * k
			}
			c.Dash(d...)
		}
		how := tagged.Stroked
		if p.fill {
			how = tagged.Filled
		}
		switch {
		case p.circle[2] > 0 && p.arc[0] != p.arc[1]:
			c.Path([][][2]float64{arcLine(p, x, y, k)}, true, how)
		case p.circle[2] > 0:
			c.Circle(x+p.circle[0]*k, y+p.circle[1]*k, p.circle[2]*k, how)
		default:
			line := make([][2]float64, len(p.line))
			for j, q := range p.line {
				line[j] = [2]float64{x + q[0]*k, y + q[1]*k}
			}
			c.Path([][][2]float64{line}, p.closed, how)
		}
		c.Restore()
	}
}
