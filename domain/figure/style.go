package figure

import (
	"slices"
	"strings"
)

// Style is how a mark is inked, with colours in numbers: for writers that know no
// stylesheet. Lengths are px.
type Style struct {
	Fill, Stroke *RGB // nil where there is none
	FillOpacity  float64
	Opacity      float64 // of the whole mark
	Width        float64
	Dash         []float64
	Round        bool // joins and ends

	// Of text only. Halo is stroked HaloWidth wide before the letters are filled.
	Title     bool // the title face rather than the text face
	Italic    bool
	Weight    int
	Halo      *RGB
	HaloWidth float64
}

// Style resolves the class of one of the plate's marks.
func (p Plate) Style(m Mark, colours Palette) Style {
	s := Style{FillOpacity: 1, Opacity: 1, Weight: colours.Weight}
	if m.Kind == Words {
		s.Fill = colours.colour("ink")
	}
	for _, r := range rules {
		if r.applies(p, strings.Fields(m.Class)) {
			r.set(&s, colours)
		}
	}
	return s
}

// rule inks all marks whose class has every word of class, later rules over earlier ones.
type rule struct {
	class string
	on    string // "small" or the mode of the plates it holds for; all when empty

	fill, stroke, halo string // tokens, "none", or "v3 48%" for that share over the sheet
	fillOpacity        float64
	opacity            float64
	width, haloWidth   float64
	dash               []float64
	disc, round        bool // width of the palette's discs; round joins
	title, italic      bool
	weight             int
}

func (r rule) applies(p Plate, words []string) bool {
	if r.on != "" && r.on != string(p.Mode) && !(r.on == "small" && p.Small) {
		return false
	}
	for _, w := range strings.Fields(r.class) {
		if !slices.Contains(words, w) {
			return false
		}
	}
	return true
}

func (r rule) set(s *Style, c Palette) {
	if r.fill != "" {
		s.Fill = c.colour(r.fill)
	}
	if r.stroke != "" {
		s.Stroke = c.colour(r.stroke)
	}
	if r.halo != "" {
		s.Halo, s.HaloWidth = c.colour(r.halo), r.haloWidth
	}
	if r.disc {
		s.Width = c.DiscLine
	}
	for _, v := range []struct {
		to *float64
		v  float64
	}{{&s.FillOpacity, r.fillOpacity}, {&s.Opacity, r.opacity}, {&s.Width, r.width}} {
		if v.v != 0 {
			*v.to = v.v
		}
	}
	if r.dash != nil {
		s.Dash = r.dash
	}
	if r.weight != 0 {
		s.Weight = r.weight
	}
	s.Round, s.Title, s.Italic = s.Round || r.round, s.Title || r.title, s.Italic || r.italic
}

// colour of a token, of a share of one over the sheet, or nil for none.
func (p Palette) colour(token string) *RGB {
	name, share, mixed := strings.Cut(token, " ")
	if name == "none" {
		return nil
	}
	c := p.Colours[name]
	if mixed {
		c = c.mix(percent(share), p.Colours["sheet"])
	}
	return &c
}

// rules is the one table of styles: the stylesheet of the web is written from it
// ([Stylesheet]), the PDF reads it through [Plate.Style].
var rules = []rule{
	// The frame.
	{class: "outer", fill: "none", stroke: "ink", width: 2.2},
	{class: "inner", fill: "none", stroke: "ink", width: 0.7},
	{class: "paper", fill: "sheet"},
	{class: "bar", fill: "ink"},
	{class: "scale", fill: "ink"},
	{class: "rule", fill: "none", stroke: "ink", width: 1},
	{class: "tick", fill: "none", stroke: "ink", width: 0.7},
	{class: "grad", fill: "ink-2", weight: 500},
	// The skin.
	{class: "topsides", fill: "land"},
	{class: "underbody", fill: "water"},
	{class: "deep", fill: "deep"},
	{class: "topsides", on: "map", fill: "sheet"},
	{class: "fair", fill: "none", stroke: "line", width: 0.5, opacity: 0.55},
	{class: "station", fill: "none", stroke: "line", width: 0.45, opacity: 0.45},
	{class: "station whole", opacity: 0.75},
	{class: "station", on: "small", opacity: 0.3},
	{class: "lining", fill: "none", stroke: "ink", width: 0.6},
	{class: "l0", opacity: 0.75},
	{class: "l1", opacity: 0.58},
	{class: "l2", opacity: 0.41},
	{class: "l3", opacity: 0.24},
	{class: "corner", fill: "none", stroke: "ink", width: 1.1},
	{class: "waterline", fill: "none", stroke: "ink", width: 1.5},
	{class: "waterline", on: "small", width: 1},
	{class: "boottop", fill: "none", stroke: "ink", width: 0.6},
	{class: "outline", fill: "none", stroke: "ink", width: 2, round: true},
	{class: "outline", on: "small", width: 1.3},
	{class: "outer", on: "small", width: 1.4},
	{class: "hung", stroke: "ink", width: 1.2, round: true},
	{class: "hung plain", fill: "sheet", width: 0.9},
	{class: "footprint", fill: "sheet", stroke: "ink", width: 1.1, round: true},
	// The map.
	{class: "f0", fill: "sheet"},
	{class: "f1", fill: "v1 30%"},
	{class: "f2", fill: "v2 38%"},
	{class: "f3", fill: "v3 48%"},
	{class: "f4", fill: "v4 60%"},
	{class: "tint", fill: "none", stroke: "ink", width: 0.7},
	{class: "tint t4", width: 1.5},
	// What lies behind, and names.
	{class: "behind", fill: "none", stroke: "ink-2", width: 0.9, dash: []float64{5, 3}},
	{class: "behind tank", fill: "ink", fillOpacity: 0.07},
	{class: "behind bulkhead", dash: []float64{8, 2, 2, 2}},
	{class: "leader", fill: "none", stroke: "ink-2", width: 0.7},
	{class: "fitting", fill: "none", stroke: "ink", width: 0.9},
	{class: "note", italic: true},
	{class: "note word", weight: 600, halo: "halo", haloWidth: 3},
	{class: "side", title: true, italic: true},
	{class: "title", title: true},
	{class: "under", title: true, italic: true},
	// Values. Their colours always lie inside an ink outline.
	{class: "fig", weight: 600},
	{class: "rev", fill: "on-value"},
	{class: "ring", fill: "sheet", stroke: "ink", width: 0.9},
	{class: "ring", on: "small", width: 0.7},
	{class: "collar v1", fill: "none", stroke: "v1", width: 1.4},
	{class: "collar v2", fill: "none", stroke: "v2", width: 2.6},
	{class: "v0", fill: "v0", stroke: "ink", width: 0.4},
	{class: "disc", stroke: "ink", disc: true},
	{class: "disc v2", fill: "v2"},
	{class: "disc v3", fill: "v3"},
	{class: "disc v4", fill: "v4"},
	{class: "halo", fill: "halo-fill", stroke: "ink", width: 1.3},
	{class: "dot", fill: "ink"},
	// Gaps.
	{class: "unread", stroke: "ink", width: 0.8},
	{class: "void", fill: "none", stroke: "ink", width: 1.6},
	{class: "due", fill: "none", stroke: "ink-2", width: 0.9, dash: []float64{2, 2}},
	{class: "follow", fill: "accent"},
	// Changes: ink only, a change has no place on the value scale.
	{class: "changed", fill: "ink"},
	{class: "inked", fill: "sheet"},
	{class: "quiet", weight: 400, halo: "water", haloWidth: 3},
	{class: "same", fill: "none", stroke: "ink", width: 0.8, opacity: 0.75},
	{class: "untold", fill: "sheet", stroke: "ink", width: 1.1, dash: []float64{2, 2}},
	// Choosing, and pins.
	{class: "bearing", fill: "none", stroke: "accent", width: 1},
	{class: "choice", fill: "none", stroke: "accent", width: 2.2},
	{class: "choice mirror", dash: []float64{3, 2}},
	{class: "choice lit", width: 1.6},
	{class: "pin", fill: "sheet", stroke: "ink", width: 1.2, round: true},
	{class: "pin photo", fill: "ink"},
	{class: "pin outline", fill: "none", stroke: "ink", width: 1.6},
	{class: "pin window", fill: "none", stroke: "ink", width: 1.6},
	// The ground and the lines of a hatching; see Pattern.Hatch.
	{class: "hatch-ground", fill: "sheet"},
	{class: "hatch", fill: "none", stroke: "ink", width: 0.6, opacity: 0.55},
	{class: "hatch strong", width: 1, opacity: 0.9},
}
