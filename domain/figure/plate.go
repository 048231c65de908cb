package figure

import "math"

// Plate is a finished drawing: marks in the order they are inked, in pixels from the
// upper left corner.
type Plate struct {
	Width  float64 `json:"width"`
	Height float64 `json:"height"`
	Small  bool    `json:"small,omitempty"`
	Mode   Mode    `json:"mode"`
	Label  string  `json:"label"` // what the figure is, for those who do not see it
	Marks  []Mark  `json:"marks"`
}

// Point is x, y in pixels on a plate, or along, down in metres on a skin.
type Point [2]float64

// Line is a polyline.
type Line []Point

// Kind tells the four forms of a Mark apart.
type Kind string

// The forms.
const (
	Path   Kind = "path"   // Lines, each closed if Closed
	Circle Kind = "circle" // X, Y, R
	Rect   Kind = "rect"   // X, Y, W, H
	Words  Kind = "text"   // Text with its Anchor at X on the baseline Y, Size high
)

// Mark is one thing to ink. Class names its style ([Plate.Style]); marks in a row with the
// same Place belong to the reading there.
type Mark struct {
	Kind   Kind    `json:"kind"`
	Class  string  `json:"class"`
	Place  string  `json:"place,omitempty"`
	Lines  []Line  `json:"lines,omitempty"`
	Closed bool    `json:"closed,omitempty"`
	X      float64 `json:"x,omitempty"`
	Y      float64 `json:"y,omitempty"`
	R      float64 `json:"r,omitempty"`
	W      float64 `json:"w,omitempty"`
	H      float64 `json:"h,omitempty"`
	Text   string  `json:"text,omitempty"`
	Anchor Anchor  `json:"anchor,omitempty"`
	Size   float64 `json:"size,omitempty"`
	Fill   Pattern `json:"fill,omitempty"`
}

// Anchor is the end of a text that stands at its X.
type Anchor string

// The anchors.
const (
	Start  Anchor = "start"
	Middle Anchor = "middle"
	End    Anchor = "end"
)

// Pattern fills a mark with ruled lines ([Pattern.Hatch]).
type Pattern string

// The patterns: iron and other ballast, blades, and skin nobody has read.
const (
	Metal  Pattern = "metal"
	Blade  Pattern = "blade"
	Unread Pattern = "unread"
)

// round keeps coordinates to a hundredth of a pixel.
func round(v float64) float64 { return math.Round(v*100) / 100 }

// milli rounds metres to the millimetre.
func milli(v float64) float64 { return math.Round(v*1000) / 1000 }

// ink collects marks.
type ink struct {
	marks []Mark
	place string
}

func (k *ink) add(m Mark) {
	m.Place = k.place
	m.X, m.Y, m.R, m.W, m.H, m.Size = round(m.X), round(m.Y), round(m.R), round(m.W), round(m.H), round(m.Size)
	for _, l := range m.Lines {
		for i, p := range l {
			l[i] = Point{round(p[0]), round(p[1])}
		}
	}
	k.marks = append(k.marks, m)
}

func (k *ink) path(class string, lines ...Line) { k.add(Mark{Kind: Path, Class: class, Lines: lines}) }

func (k *ink) area(class string, line Line) {
	k.add(Mark{Kind: Path, Class: class, Lines: []Line{line}, Closed: true})
}

func (k *ink) circle(class string, x, y, r float64) {
	k.add(Mark{Kind: Circle, Class: class, X: x, Y: y, R: r})
}

func (k *ink) rect(class string, x, y, w, h float64) {
	k.add(Mark{Kind: Rect, Class: class, X: x, Y: y, W: w, H: h})
}

func (k *ink) text(class, text string, x, y, size float64, a Anchor) {
	k.add(Mark{Kind: Words, Class: class, Text: text, X: x, Y: y, Size: size, Anchor: a})
}
