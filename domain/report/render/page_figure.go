package render

import (
	"encoding/base64"
	"fmt"
	"html"
	"strings"

	"boottop.example/practice/domain/figure"
	"boottop.example/practice/domain/report"
)

func (w *pageWriter) plate(b plateBlock) error {
	fig, err := drawHull(b, w.c.r, 1072, false)
	if err != nil {
		return fmt.Errorf("plate %d: %w", b.p.Number, err)
	}
	phone, err := drawHull(b, w.c.r, 358, true)
	if err != nil {
		return fmt.Errorf("plate %d: %w", b.p.Number, err)
	}
	w.raw(`<section class="plate" id="`, html.EscapeString(b.p.ID), `"><h2>`)
	w.text(fmt.Sprintf("Plate %d. %s", b.p.Number, b.p.Title))
	w.raw(`</h2><figure><div class="large">`)
	w.b.Write(figure.SVG(fig, figure.SVGOptions{ID: fmt.Sprintf("plate%d", b.p.Number)}))
	w.raw(`</div><div class="phone">`)
	w.b.Write(figure.SVG(phone, figure.SVGOptions{ID: fmt.Sprintf("phone%d", b.p.Number)}))
	w.raw(`</div><figcaption><ul class="key">`)
	lead, keys := legend(b)
	if lead != "" {
		w.raw(`<li><strong>`)
		w.text(lead)
		w.raw(`</strong></li>`)
	}
	for _, k := range keys {
		w.raw(`<li>`)
		if len(k.sign) > 0 {
			w.stepSign(k.sign, false)
			w.stepSign(k.small, true)
		} else {
			w.icon(k.icon)
		}
		w.text(k.word)
		w.raw(`</li>`)
	}
	w.raw(`</ul>`)
	if caption := w.c.plateCaption(b); len(caption) > 0 {
		w.raw(`<p class="small">`)
		w.spans(caption)
		w.raw(`</p>`)
	}
	w.raw(`</figcaption></figure></section>`)
	return nil
}

func (w *pageWriter) stepSign(marks []figure.Mark, small bool) {
	svg := string(figure.SVG(figure.Plate{Width: keySize, Height: keySize, Small: small, Marks: marks}, figure.SVGOptions{ID: "key"}))
	w.raw(strings.Replace(svg, `role="img" aria-label=""`, `aria-hidden="true"`, 1))
}

// icon draws a sign whose word stands beside it.
func (w *pageWriter) icon(i icon) {
	if len(i.parts) == 0 {
		return
	}
	class := "m"
	switch {
	case i.accent:
		class = "m accent"
	case i.w > 14:
		class = "m sure"
	}
	w.raw(fmt.Sprintf(`<svg class="%s" width="%g" height="14" viewBox="0 0 %g 14" aria-hidden="true">`, class, i.w, i.w))
	for _, p := range i.parts {
		w.part(p)
	}
	w.raw(`</svg>`)
}

func (w *pageWriter) part(p part) {
	line, closed := p.line, p.closed
	if p.circle[2] > 0 && p.arc[0] != p.arc[1] {
		line, closed = arcLine(p, 0, 0, 1), true
	}
	if len(line) == 0 {
		w.raw(fmt.Sprintf(`<circle cx="%g" cy="%g" r="%g"`, p.circle[0], p.circle[1], p.circle[2]))
	} else {
		w.raw(`<path d="`)
		for i, q := range line {
			w.raw(fmt.Sprintf("%c%.4g %.4g", "ML"[min(i, 1)], q[0], q[1]))
		}
		if closed {
			w.raw("z")
		}
		w.raw(`"`)
	}
	switch {
	case p.fill:
		w.raw(` class="f"`)
	case p.paper:
		w.raw(` class="cut"`)
	default:
		w.raw(` class="s"`)
	}
	if p.width != 0 {
		w.raw(fmt.Sprintf(` style="stroke-width:%g"`, p.width))
	}
	if len(p.dash) > 0 {
		w.raw(fmt.Sprintf(` stroke-dasharray="%g %g"`, p.dash[0], p.dash[1]))
	}
	w.raw(`/>`)
}

func (w *pageWriter) photo(p report.Photo) error {
	var src, lazy string
	if w.o.PhotoURL != nil {
		src, lazy = w.o.PhotoURL(p), ` loading="lazy"`
	} else {
		b, err := photoBytes(p, w.o.Photo)
		if err != nil {
			return err
		}
		src = "data:image/jpeg;base64," + base64.StdEncoding.EncodeToString(b)
	}
	shape := fmt.Sprintf("%d/%d", max(1, p.Width), max(1, p.Height))
	w.raw(`<figure class="photo" id="`, html.EscapeString(p.ID), `" style="--shape:`, shape, `"><div class="print" style="aspect-ratio:`, shape, `"><img`, lazy, ` src="`, html.EscapeString(src),
		`" width="`, count(max(1, p.Width)), `" height="`, count(max(1, p.Height)), `" alt="`, html.EscapeString(tidy(photoAlt(p))), `">`)
	w.annotations(p)
	w.raw(`</div><figcaption>`)
	w.spans(w.c.photoCaption(p))
	w.raw(`</figcaption></figure>`)
	return nil
}

// annotations lie over a photo in thousandths of its sides; the picture stays as it is.
func (w *pageWriter) annotations(p report.Photo) {
	if len(p.Notes) == 0 {
		return
	}
	pw, ph := 1000.0, 1000*float64(max(1, p.Height))/float64(max(1, p.Width))
	w.raw(fmt.Sprintf(`<svg class="notes" viewBox="0 0 1000 %.0f" aria-hidden="true">`, ph))
	for _, a := range p.Notes {
		x, y := float64(a.X)/1000*pw, float64(a.Y)/1000*ph
		tx, ty := float64(a.ToX)/1000*pw, float64(a.ToY)/1000*ph
		for _, class := range []string{"under", "over"} {
			switch a.Kind {
			case "arrow":
				for _, l := range arrow(x, y, tx, ty, 24) {
					w.raw(fmt.Sprintf(`<path class="%s" d="M%.1f %.1fL%.1f %.1f"/>`, class, l[0][0], l[0][1], l[1][0], l[1][1]))
				}
			case "ring":
				w.raw(fmt.Sprintf(`<circle class="%s" cx="%.1f" cy="%.1f" r="%.1f"/>`, class, x, y, max(8, distance(x, y, tx, ty))))
			case "text":
				anchor := "start"
				if a.X > 600 {
					anchor = "end" // words that begin near the right edge run to the left of their point
				}
				w.raw(fmt.Sprintf(`<text class="%s" x="%.1f" y="%.1f" text-anchor="%s">`, class, x, y, anchor))
				w.text(a.Text)
				w.raw(`</text>`)
			}
		}
	}
	w.raw(`</svg>`)
}
