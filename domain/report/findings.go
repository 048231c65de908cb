package report

// Finding is something seen, heard, smelt or opened.
type Finding struct {
	ID       string     `json:"id"`
	Number   int        `json:"number"`
	Kind     string     `json:"kind"` // "blisters", "crack pattern"
	Title    string     `json:"title"`
	Where    string     `json:"where,omitempty"`
	Sure     Sure       `json:"sure"`
	At       []Spot     `json:"at,omitempty"`
	Element  string     `json:"element,omitempty"`
	Drawn    *Drawn     `json:"drawn,omitempty"`
	Text     []Sentence `json:"text,omitempty"`
	Measured []Fact     `json:"measured,omitempty"`
	Photos   []string   `json:"photos,omitempty"` // ids
}

// Drawn is an outline on the skin, as the surveyor drew it. The last spot of its finding
// is its middle.
type Drawn struct {
	Side    Side     `json:"side"`
	Outline [][2]int `json:"outline"` // along, down; mm
}

// Photo is one picture in the report. Its bytes are handed to the renderer, which
// checks them against the hash kept here.
type Photo struct {
	ID       string       `json:"id"`
	Number   int          `json:"number"`
	Caption  string       `json:"caption"`
	Alt      string       `json:"alt"` // what it shows, for who cannot see it
	Taken    string       `json:"taken,omitempty"`
	By       string       `json:"by,omitempty"`
	Place    string       `json:"place,omitempty"`
	Element  string       `json:"element,omitempty"`
	At       *Spot        `json:"at,omitempty"`
	Width    int          `json:"width"` // pixels of the copy printed
	Height   int          `json:"height"`
	SHA256   string       `json:"sha256"`             // hex, of the copy printed (JPEG)
	Original string       `json:"original,omitempty"` // hex, of the file as taken
	OnDevice bool         `json:"onDevice,omitempty"` // the copy was made on the device from an original kept as it is
	Notes    []Annotation `json:"notes,omitempty"`
}

// Annotation is drawn over a photo and never alters it.
type Annotation struct {
	Kind string `json:"kind"` // "arrow", "ring" or "text"
	X    int    `json:"x"`    // thousandths of the width, from the left
	Y    int    `json:"y"`    // thousandths of the height, from the top
	ToX  int    `json:"toX,omitempty"`
	ToY  int    `json:"toY,omitempty"` // arrow: its point; ring: a point on it
	Text string `json:"text,omitempty"`
}

// Area of a whole-boat survey.
type Area struct {
	Name  string `json:"name"`
	Items []Item `json:"items,omitempty"`
}

// How far an item was examined.
const (
	Examined    = "examined"
	InPart      = "in part"
	NotExamined = "not examined"
)

// Item is one thing of an area: looked at, in part, or not.
type Item struct {
	Name      string `json:"name"`
	Examined  string `json:"examined"` // Examined, InPart or NotExamined
	Why       string `json:"why,omitempty"`
	Condition string `json:"condition,omitempty"`
	Note      string `json:"note,omitempty"`
	Finding   string `json:"finding,omitempty"` // id
}

// Valuation is an opinion of value on a day.
type Valuation struct {
	Figure      string     `json:"figure"` // with its currency, in words of the practice
	Basis       string     `json:"basis"`
	On          string     `json:"on"`
	Said        []Sentence `json:"said,omitempty"`
	Comparables []Fact     `json:"comparables,omitempty"`
}

// Section is the surveyor's own text under a heading of its own.
type Section struct {
	ID    string   `json:"id,omitempty"` // sec_…
	Title string   `json:"title"`
	Text  []string `json:"text"` // paragraphs
}
