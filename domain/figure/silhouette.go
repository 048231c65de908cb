package figure

// Silhouette is a hull seen from the side, hung from its waterline: by it a boat is known
// in a list. Height is half of width, px; width at least 40.
func Silhouette(h *Shape, width float64) Plate {
	k := &ink{}
	w := max(40, width)
	height := w / 2
	from, to := -h.Aft, h.LWL+h.Fore
	under := h.bottom()
	s := min((w-2)/h.Length(), (height-2)/(h.Top+under))
	x0 := (w - s*h.Length()) / 2
	y0 := (height-s*(h.Top+under))/2 + s*h.Top // the waterline
	at := func(x, z float64) Point { return Point{x0 + (x+h.Aft)*s, y0 + z*s} }
	curve := func(f func(float64) float64) Line {
		l := Line{at(from, f(from))}
		for i, x := range h.Xs {
			if i%2 == 1 && x > from && x < to {
				l = append(l, at(x, f(x)))
			}
		}
		return append(l, at(to, f(to)))
	}
	keel := func(x float64) float64 { return h.Depth(x) + h.keel(x) }
	sheer := func(x float64) float64 { return -h.Sheer(x) }
	h.hanging(k, at)
	k.area("topsides", between(curve(sheer), curve(func(x float64) float64 { return min(0, keel(x)) })))
	k.area("deep", between(curve(func(float64) float64 { return 0 }), curve(func(x float64) float64 { return max(0, keel(x)) })))
	k.area("outline", between(curve(sheer), curve(keel)))
	a, b := crossing(h.Depth, h.LWL/2, from), crossing(h.Depth, h.LWL/2, to)
	k.path("waterline", Line{at(a, 0), at(b, 0)})
	return Plate{Width: w, Height: height, Small: true, Mode: Today, Marks: k.marks}
}

// bottom is the draught of everything, m.
func (h *Shape) bottom() float64 {
	low := 0.0
	for _, x := range h.Xs {
		low = max(low, h.Depth(x)+h.keel(x))
	}
	for _, p := range h.Hung {
		low = max(low, h.Depth(h.rootAt(p))+p.Span)
	}
	if b := h.Bilge; b != nil {
		low = max(low, h.Depth((b.From+b.To)/2)+b.Span)
	}
	return low
}

func (h *Shape) hanging(k *ink, at func(x, z float64) Point) {
	for _, p := range h.Hung {
		foot := h.Depth(h.rootAt(p)) + p.Span
		a := max(-h.Aft, p.At[0])
		k.area("hung plain", Line{at(p.At[0], h.Depth(a)), at(p.At[2], foot), at(p.At[3], foot), at(p.At[1], h.Depth(h.rootAt(p)))})
	}
	if b := h.Bilge; b != nil {
		foot := h.Depth((b.From+b.To)/2) + b.Span
		in := (b.To - b.From) / 8
		k.area("hung plain", Line{at(b.From, h.Depth(b.From)), at(b.From+in, foot), at(b.To-in, foot), at(b.To, h.Depth(b.To))})
	}
}
