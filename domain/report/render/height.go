package render

// height of a block at the present measure, as far as the first page needs to know it.
func (f *flow) height(b block, width float64) float64 {
	s := f.s
	switch b := b.(type) {
	case masthead:
		return 4.5 + f.mastHeight(b, width) + 6
	case heading:
		return s.headSpace(b.level) + s.headSize(b.level)*titleLead + s.headAfter()
	case prose:
		size := s.of(b)
		return float64(len(f.t.lay(b.spans, size, width)))*size*leading + s.after()
	case factList:
		h := 0.0
		term := f.termWidth(b.facts, width)
		for _, x := range b.facts {
			h += f.factHeight(x, term, width)
		}
		return h
	case pair:
		half := (width - pairGap) / 2
		return max(f.heights(b.left, half), f.heights(b.right, half))
	case table:
		widths := f.fit(b, width)
		h := f.headHeight(b, widths)
		for _, r := range b.rows {
			h += f.rowHeight(r, widths, s.tab)
		}
		return h + s.after()
	case caution:
		return 9*s.k + float64(len(f.t.lay(cautionSpans(b), s.small, width)))*s.small*leading + s.after()
	case signature:
		return f.signHeight(b, width)
	}
	return 0
}

func (f *flow) heights(list []block, width float64) float64 {
	h := 0.0
	for _, b := range list {
		h += f.height(b, width)
	}
	return h
}

const pairGap = 14.0

func (s sizes) of(p prose) float64 {
	if p.small {
		return s.small
	}
	return s.body
}

func (s sizes) headSize(level int) float64 {
	if level == 2 {
		return s.h2
	}
	return s.h3
}

func (s sizes) headSpace(level int) float64 {
	if level == 2 {
		return 7 * s.k
	}
	return 8 * s.k
}

func (s sizes) headAfter() float64 { return 2.5 * s.k }
func (s sizes) after() float64     { return 4 * s.k }
