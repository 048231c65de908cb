package figure

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
)

// Stylesheet is figure.css: how a plate in SVG is inked, on the tokens of tokens.css. The
// file web/src/figure/figure.css is written from it.
func Stylesheet() string {
	var b strings.Builder
	b.WriteString("/* Written from domain/figure/style.go by `go test ./domain/figure -update`. Every colour is a token. */\n@layer figure {\n")
	b.WriteString(base)
	for _, r := range rules {
		block(&b, "  ", r.selector(), r.declarations())
	}
	b.WriteString(behaviour)
	b.WriteString("  @media print {\n")
	block(&b, "    ", ".hull", Print.tokens())
	b.WriteString("  }\n")
	block(&b, "  ", ".hull.ink", Ink.tokens())
	b.WriteString(forced)
	b.WriteString("}\n")
	return b.String()
}

// block writes one rule as the client's formatter would.
func block(b *strings.Builder, indent, selector string, declarations []string) {
	fmt.Fprintf(b, "%s%s {\n", indent, selector)
	for _, d := range declarations {
		fmt.Fprintf(b, "%s  %s\n", indent, d)
	}
	fmt.Fprintf(b, "%s}\n", indent)
}

const base = `  .hull {
    display: block;
    max-width: 100%;
    height: auto;
    font-family: var(--text);
    font-weight: var(--w);
    font-variant-numeric: tabular-nums lining-nums;
  }
  .hull text {
    fill: var(--ink);
  }
  .hull path,
  .hull circle,
  .hull rect {
    vector-effect: non-scaling-stroke;
  }
`

// behaviour: a choosable figure, its focus, the fade when a pass changes (nothing moves,
// and nothing at all for readers who ask for that), and the signs beside words.
const behaviour = `  .hull [role='option'] {
    cursor: pointer;
    outline: none;
  }
  .hull .focus {
    fill: none;
    stroke: var(--accent);
    stroke-width: 3;
  }
  .hull .focus-gap {
    fill: none;
    stroke: var(--sheet);
    stroke-width: 7;
  }
  @media (prefers-reduced-motion: no-preference) {
    .hull .readings {
      animation: hull-fade 120ms linear;
    }
  }
  @keyframes hull-fade {
    from {
      opacity: 0;
    }
  }
  .hull.sign {
    display: inline-block;
    vertical-align: middle;
    overflow: visible;
  }
  .key .follow {
    color: var(--accent);
  }
  .m.sure {
    width: 30px;
    margin-right: 6px;
  }
  .m .cut {
    fill: none;
    stroke: var(--sheet);
    stroke-width: 2;
  }
  .m .over {
    stroke: var(--ground);
    stroke-width: 1.2;
  }
`

// forced: readers who choose their own colours get ink and paper only; shapes still differ.
const forced = `  @media (forced-colors: active) {
    .hull {
      forced-color-adjust: none;
      --ink: CanvasText;
      --ink-2: CanvasText;
      --line: CanvasText;
      --sheet: Canvas;
      --halo: Canvas;
      --land: Canvas;
      --water: Canvas;
      --deep: Canvas;
      --accent: Highlight;
      --v0: CanvasText;
      --v1: CanvasText;
      --v2: CanvasText;
      --v3: CanvasText;
      --v4: CanvasText;
      --on-value: Canvas;
      --halo-fill: Canvas;
    }
    .hull .collar.v1 {
      stroke: none;
    }
    .hull .collar.v2 {
      stroke-width: 1;
    }
  }
`

// tokens writes a palette as custom properties.
func (p Palette) tokens() []string {
	var d []string
	for _, k := range slices.Sorted(maps.Keys(p.Colours)) {
		d = append(d, fmt.Sprintf("--%s: %s;", k, p.Colours[k].Hex()))
	}
	return append(d, fmt.Sprintf("--disc-line: %s;", number(p.DiscLine)), fmt.Sprintf("--w: %d;", p.Weight))
}

func (r rule) selector() string {
	s := ".hull"
	if r.on != "" {
		s += "." + r.on
	}
	return s + " ." + strings.Join(strings.Fields(r.class), ".")
}

func (r rule) declarations() []string {
	var d []string
	set := func(property, value string) { d = append(d, property+": "+value+";") }
	if r.fill != "" {
		set("fill", css(r.fill))
	}
	if r.stroke != "" {
		set("stroke", css(r.stroke))
	}
	for _, v := range []struct {
		property string
		v        float64
	}{{"fill-opacity", r.fillOpacity}, {"opacity", r.opacity}, {"stroke-width", r.width}} {
		if v.v != 0 {
			set(v.property, number(v.v))
		}
	}
	if r.disc {
		set("stroke-width", "var(--disc-line)")
	}
	if r.dash != nil {
		set("stroke-dasharray", strings.Join(numbers(r.dash), " "))
	}
	if r.round {
		set("stroke-linejoin", "round")
		set("stroke-linecap", "round")
	}
	return append(d, r.lettering()...)
}

func (r rule) lettering() []string {
	var d []string
	if r.title {
		d = append(d, "font-family: var(--title);", "font-weight: 400;")
	}
	if r.italic {
		d = append(d, "font-style: italic;")
	}
	switch r.weight {
	case 0:
	case 400:
		d = append(d, "font-weight: var(--w);")
	case 600:
		d = append(d, "font-weight: var(--w-strong, 600);")
	default:
		d = append(d, fmt.Sprintf("font-weight: %d;", r.weight))
	}
	if r.halo != "" {
		d = append(d, "paint-order: stroke;", fmt.Sprintf("stroke: %s;", css(r.halo)), fmt.Sprintf("stroke-width: %spx;", number(r.haloWidth)), "stroke-linejoin: round;")
	}
	return d
}

// css writes a token, or a share of one over the sheet.
func css(token string) string {
	name, share, mixed := strings.Cut(token, " ")
	switch {
	case name == "none":
		return "none"
	case mixed:
		return fmt.Sprintf("color-mix(in srgb, var(--%s) %s, var(--sheet))", name, share)
	}
	return "var(--" + name + ")"
}

func percent(share string) float64 {
	v, err := strconv.ParseFloat(strings.TrimSuffix(share, "%"), 64)
	if err != nil {
		panic("figure: share in style table: " + share)
	}
	return v / 100
}

func number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

func numbers(list []float64) []string {
	words := make([]string, len(list))
	for i, v := range list {
		words[i] = number(v)
	}
	return words
}
