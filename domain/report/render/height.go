package render

// height of a block of a pair, the only ones that must be known before they are set.
func (f *flow) height(b block, width float64) float64 {
	s := f.s
	switch b := b.(type) {
	case heading:
		return s.headSpace(b.level) + s.headSize(b.level)*titleLead + s.headAfter()
	case factList:
		h := s.after()
		term := f.termWidth(b.facts, width)
		for _, x := range b.facts {
			h += f.factHeight(x, term, width)
		}
		return h
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
