package render

import (
	"strings"

	"boottop.example/practice/domain/report"
	"boottop.example/practice/domain/report/render/internal/tagged"
)

// place draws a block where the page stands. after is what follows it: a heading stays
// with the beginning of that.
func (f *flow) place(parent *tagged.Node, b block, after []block) error {
	switch b := b.(type) {
	case masthead:
		f.masthead(parent, b)
	case heading:
		f.heading(parent, b, after)
	case prose:
		if b.whole {
			f.need(f.wholeHeight(b, after))
		}
		f.paragraph(parent, "P", b.spans, f.s.of(b), leading, ink)
		f.y += f.s.after()
	case factList:
		f.facts(parent, b.facts)
		f.y += f.s.after()
	case pair:
		return f.pair(parent, b)
	case table:
		f.table(parent, b)
		f.y += f.s.after()
	case caution:
		f.caution(parent, b)
	case signature:
		f.sign(parent, b)
	case plateBlock:
		return f.plate(parent, b)
	case photoBlock:
		return f.photoRow(parent, b)
	case blanksNote:
		if f.blanks {
			f.paragraph(parent, "P", blankNote, f.s.small, leading, ink)
		}
	}
	return nil
}

func (f *flow) placeAll(parent *tagged.Node, list []block) error {
	for i, b := range list {
		if err := f.place(parent, b, list[i+1:]); err != nil {
			return err
		}
		f.progress(1)
	}
	return nil
}

// mastHead's three lines at the right decide how much the name may take.
func (f *flow) mastLines(m masthead, width float64) (kind, boat []textLine, boatSize float64) {
	right := f.mastRight(m)
	left := width - right - 16
	boatSize = f.s.masted
	for boatSize > 18 && f.t.title.Width(m.boat, boatSize) > left {
		boatSize -= 1
	}
	title := types{text: f.t.title, strong: f.t.title}
	slanted := types{text: f.t.titleItalic, strong: f.t.titleItalic}
	return slanted.lay([]span{{text: m.kind}}, 15, left), title.lay([]span{{text: m.boat}}, boatSize, left), boatSize
}

func (f *flow) mastRight(m masthead) float64 {
	w := 0.0
	for i, s := range []string{m.number, m.dated, m.client} {
		t := f.t.text
		if i == 0 {
			t = f.t.strong
		}
		w = max(w, t.Width(s, 10.05))
	}
	return min(w, 0.5*f.width)
}

func (f *flow) mastHeight(m masthead, width float64) float64 {
	kind, boat, size := f.mastLines(m, width)
	left := 6 + float64(len(kind))*15*1.25 + float64(len(boat))*size*1.08 + 5
	right := f.mastRight(m)
	lines := 0
	for i, s := range []string{m.number, m.dated, m.client} {
		lines += len(f.t.lay([]span{{text: s, strong: i == 0}}, 10.05, right+0.1))
	}
	return max(left, 12+float64(lines)*10.05*1.4)
}

func (f *flow) masthead(parent *tagged.Node, m masthead) {
	f.need(120)
	h := f.mastHeight(m, f.width)
	if f.c.r.Issue.Draft {
		f.rule(f.left, f.y+2.25, f.width, ink, 4.5, 10, 5)
	} else {
		f.rule(f.left, f.y+2.25, f.width, ink, 4.5)
	}
	top := f.y + 4.5
	kind, boat, size := f.mastLines(m, f.width)
	slanted := types{text: f.t.titleItalic, strong: f.t.titleItalic}
	upright := types{text: f.t.title, strong: f.t.title}
	y := top + h - 5 - float64(len(boat))*size*1.08
	f.with(slanted, func() {
		f.setLines(parent.Add("P"), kind, []span{{text: m.kind}}, 15, 1.25, f.left, y-float64(len(kind))*15*1.25, ink, 0)
	})
	f.with(upright, func() {
		f.setLines(parent.Add("H1"), boat, []span{{text: m.boat}}, size, 1.08, f.left, y, ink, 0)
	})
	f.d.Bookmark(1, m.boat, f.page, top)
	right := f.mastRight(m)
	var lines [][]textLine
	total := 0
	words := []span{{text: m.number, strong: true}, {text: m.dated}, {text: m.client}}
	for _, s := range words {
		l := f.t.lay([]span{s}, 10.05, right+0.1)
		lines, total = append(lines, l), total+len(l)
	}
	ry := top + h - 6 - float64(total)*10.05*1.4
	for i, l := range lines {
		f.setLines(parent.Add("P"), l, words[i:i+1], 10.05, 1.4, f.left+f.width-right, ry, ink, right)
		ry += float64(len(l)) * 10.05 * 1.4
	}
	f.y = top + h
	f.rule(f.left, f.y, f.width, ink, 0.75)
	f.y += 3
	f.fresh = false
}

// with sets what is drawn inside in other letters.
func (f *flow) with(t types, draw func()) {
	was := f.t
	f.t = t
	draw()
	f.t = was
}

func (f *flow) heading(parent *tagged.Node, h heading, after []block) {
	size := f.s.headSize(h.level)
	keep := size*titleLead + f.s.headAfter() + f.beginning(after)
	if f.page == nil || f.wide() || !f.fresh && f.room() < f.s.headSpace(h.level)+keep {
		f.portrait()
	}
	f.skip(f.s.headSpace(h.level))
	face := types{text: f.t.title, strong: f.t.title}
	role := "H2"
	if h.level == 3 {
		face, role = types{text: f.t.strong, strong: f.t.strong}, "H3"
	}
	spans := []span{{text: h.text}}
	f.setAnchor(h.id, f.y-4)
	f.d.Bookmark(h.level, h.text, f.page, f.y-4)
	f.with(face, func() { f.paragraph(parent, role, spans, size, titleLead, ink) })
	f.y += f.s.headAfter()
	if len(after) > 0 {
		if _, photo := after[0].(photoBlock); photo {
			f.y += f.s.after() // a picture has no leading above it
		}
	}
}

// beginning is how much of what follows must stand under a heading.
func (f *flow) beginning(after []block) float64 {
	if len(after) == 0 {
		return 0
	}
	switch b := after[0].(type) {
	case prose:
		if b.whole {
			return f.wholeHeight(b, after[1:])
		}
		lines := len(f.t.lay(b.spans, f.s.of(b), f.width))
		if len(after) > 1 && lines <= mostLead {
			if t, ok := after[1].(table); ok { // words that lead to a table stay with it
				return float64(lines)*f.s.of(b)*leading + f.s.after() + f.tableBeginning(t)
			}
		}
		return float64(min(lines, 3)) * f.s.of(b) * leading
	case table:
		return f.tableBeginning(b)
	case factList, pair:
		return 36
	case heading:
		return f.s.headSpace(b.level) + f.s.headSize(b.level)*titleLead + f.s.headAfter() + f.beginning(after[1:])
	case photoBlock:
		return f.rowOfPhotosHeight(b) + f.s.after()
	}
	return 0
}

// mostLead is how many lines may lead to a table and be kept with it.
const mostLead = 4

// wholeHeight is what a paragraph that is kept whole takes, with those that follow it.
func (f *flow) wholeHeight(p prose, after []block) float64 {
	h := float64(len(f.t.lay(p.spans, f.s.of(p), f.width)))*f.s.of(p)*leading + f.s.after()
	if len(after) == 0 {
		return h
	}
	switch next := after[0].(type) {
	case prose:
		if next.whole {
			h += f.wholeHeight(next, after[1:])
		}
	case blanksNote:
		if f.blanks {
			h += f.wholeHeight(prose{spans: blankNote, small: true}, nil)
		}
	}
	return h
}

// keptFacts is how high a list of facts may be and still be kept on one page, points.
const keptFacts = 130

// facts are a list: the name is its label, what is so its body.
func (f *flow) facts(parent *tagged.Node, list []report.Fact) {
	n := parent.Add("L")
	n.List = "None"
	term := f.termWidth(list, f.width)
	if h := f.height(factList{list}, f.width); h < keptFacts {
		f.need(h)
	}
	for _, x := range list {
		size := f.s.small
		name := f.t.lay([]span{{text: x.Name}}, size, term)
		is := f.t.lay([]span{{text: x.Is}}, size, f.width-term-9)
		item := n.Add("LI")
		label, body := item.Add("Lbl"), item.Add("LBody")
		for len(name)+len(is) > 0 {
			f.need(size * tabLead * float64(min(2, max(len(name), len(is)))))
			fit := max(1, int((f.room()+0.01)/(size*tabLead)))
			a, b := min(fit, len(name)), min(fit, len(is))
			if a > 0 {
				f.setLines(label, name[:a], []span{{text: x.Name}}, size, tabLead, f.left, f.y, ink2, 0)
			}
			if b > 0 {
				f.setLines(body, is[:b], []span{{text: x.Is}}, size, tabLead, f.left+term+9, f.y, ink, 0)
			}
			f.y += float64(max(a, b)) * size * tabLead
			f.fresh = false
			name, is = name[a:], is[b:]
			if len(name)+len(is) > 0 {
				f.portrait()
			}
		}
		f.y += 2 * f.s.k
	}
}

func (f *flow) termWidth(list []report.Fact, width float64) float64 {
	w := 0.0
	for _, x := range list {
		w = max(w, f.t.text.Width(x.Name, f.s.small))
	}
	return min(w+0.5, 0.4*width)
}

func (f *flow) factHeight(x report.Fact, term, width float64) float64 {
	a := len(f.t.lay([]span{{text: x.Name}}, f.s.small, term))
	b := len(f.t.lay([]span{{text: x.Is}}, f.s.small, width-term-9))
	return float64(max(a, b))*f.s.small*tabLead + 2*f.s.k
}

// pair sets two stacks beside each other where both fit the page, else one after the other.
func (f *flow) pair(parent *tagged.Node, p pair) error {
	half := (f.width - pairGap) / 2
	need := max(f.heights(p.left, half), f.heights(p.right, half))
	_, h := f.o.Paper.size()
	if len(p.left) == 0 || len(p.right) == 0 || need > h-bodyTop-bodyFoot {
		if err := f.placeAll(parent, p.left); err != nil {
			return err
		}
		return f.placeAll(parent, p.right)
	}
	f.need(need)
	top, fresh, left, width := f.y, f.fresh, f.left, f.width
	f.width = half
	if err := f.placeAll(parent, p.left); err != nil {
		return err
	}
	low := f.y
	f.left, f.y, f.fresh = left+half+pairGap, top, fresh
	if err := f.placeAll(parent, p.right); err != nil {
		return err
	}
	f.left, f.width, f.y = left, width, max(low, f.y)
	return nil
}

func cautionSpans(c caution) []span { return []span{{text: strings.Join(c.lines, " ")}} }

func (f *flow) caution(parent *tagged.Node, c caution) {
	f.skip(3 * f.s.k)
	f.need(6*f.s.k + float64(len(f.t.lay(cautionSpans(c), f.s.small, f.width)))*f.s.small*leading)
	f.rule(f.left, f.y, f.width, ink, 0.75)
	f.y += 3 * f.s.k
	f.paragraph(parent, "P", cautionSpans(c), f.s.small, leading, ink)
	f.y += 3 * f.s.k
	f.rule(f.left, f.y, f.width, ink, 0.75)
	f.y += f.s.after()
}

const (
	signWidth  = 172.0
	mostSigned = 12 // lines beside a name; more are a paragraph of their own, with the name in it
)

func (f *flow) signHeight(s signature, width float64) float64 {
	beside := len(f.t.lay([]span{{text: s.line}}, f.s.body, width-signWidth-21))
	if s.name == "" || beside > mostSigned {
		return 8 + float64(len(f.t.lay([]span{{text: s.line}}, f.s.body, width)))*f.s.body*leading
	}
	return 6 + max(26, float64(beside)*f.s.body*leading)
}

func (f *flow) sign(parent *tagged.Node, s signature) {
	f.need(f.signHeight(s, f.width))
	f.skip(6)
	spans := []span{{text: s.line}}
	lines := f.t.lay(spans, f.s.body, f.width-signWidth-21)
	if s.name == "" || len(lines) > mostSigned {
		f.paragraph(parent, "P", spans, f.s.body, leading, ink)
		return
	}
	h := max(24, float64(len(lines))*f.s.body*leading)
	base := f.y + h - 4
	size := 18.0
	for size > 9 && f.t.titleItalic.Width(s.name, size) > signWidth {
		size--
	}
	f.page.Mark(parent.Add("P"), func(c *tagged.Canvas) {
		c.Fill(ink)
		c.Text(f.t.titleItalic, size, f.left, base-2, fitText(f.t.titleItalic, s.name, size, signWidth))
	})
	f.rule(f.left, base+4, signWidth, ink, 0.75)
	f.setLines(parent.Add("P"), lines, spans, f.s.body, leading, f.left+signWidth+21, f.y+h-float64(len(lines))*f.s.body*leading, ink, 0)
	f.y += h + 4
	f.fresh = false
}
