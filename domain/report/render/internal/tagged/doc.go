// Package tagged writes PDF files whose every mark belongs to a structure tree or is an
// artifact: built to PDF/UA-1 (ISO 14289-1) and PDF/A-2a (ISO 19005-2). It stands on
// folio's objects, fonts and images; the tree, the marked content, the metadata and the
// file are its own, because folio's writer makes one table a page, rows without cells
// and links without their objects.
//
// Coordinates are points from the upper left corner of a page, y downwards. Equal input
// gives equal bytes.
package tagged

import (
	"fmt"
	"time"

	"github.com/carlos7ags/folio/core"
)

// Info is what the file says of itself.
type Info struct {
	Title    string
	Author   string
	Subject  string
	Lang     string // "en-GB"
	Creator  string
	Producer string
	At       time.Time // creation, whole seconds
}

// Document is a file being written.
type Document struct {
	info    Info
	pages   []*Page
	root    *Node
	fonts   []*Face
	images  []*Image
	states  []float64 // opacities, each a graphics state
	entries []entry
	links   []*link
}

// New begins a document.
func New(info Info) *Document {
	return &Document{info: info, root: &Node{Role: "Document"}}
}

// Root is the Document element that everything hangs on.
func (d *Document) Root() *Node { return d.root }

// Pages gives the pages so far, in order.
func (d *Document) Pages() []*Page { return d.pages }

// Page adds a page of w × h points.
func (d *Document) Page(w, h float64) *Page {
	p := &Page{doc: d, W: w, H: h, index: len(d.pages)}
	d.pages = append(d.pages, p)
	return p
}

// Node is an element of the structure tree: what a screen reader walks.
type Node struct {
	Role   string // a standard structure type: "H1", "P", "Table", "TH", …
	Alt    string // of a Figure
	Scope  string // of a TH: "Column" or "Row"
	List   string // of an L: its numbering, "None"
	parent *Node
	kids   []kid
	box    *Box // of a Figure
	boxOn  *Page
	ref    *core.PdfIndirectReference
}

// kid is one child: an element, marked content on a page, or an annotation.
type kid struct {
	node  *Node
	page  *Page
	mcid  int
	annot *link
}

// Box is a rectangle in points from the upper left corner of its page.
type Box struct{ X, Y, W, H float64 }

// Add appends a child element.
func (n *Node) Add(role string) *Node {
	c := &Node{Role: role, parent: n}
	n.kids = append(n.kids, kid{node: c})
	return c
}

// Header appends a TH with its scope.
func (n *Node) Header(scope string) *Node {
	c := n.Add("TH")
	c.Scope = scope
	return c
}

// Anchor is a place that links and bookmarks lead to. It may be set after it is used,
// but must be before the document is written.
type Anchor struct {
	page *Page
	y    float64
}

// Set puts the anchor at a height of a page.
func (a *Anchor) Set(p *Page, y float64) { a.page, a.y = p, y }

// IsSet tells whether the anchor leads anywhere.
func (a *Anchor) IsSet() bool { return a != nil && a.page != nil }

type entry struct {
	level int
	title string
	to    Anchor
}

// Bookmark adds a line of the outline; level 1 is the outermost.
func (d *Document) Bookmark(level int, title string, p *Page, y float64) {
	d.entries = append(d.entries, entry{level: level, title: title, to: Anchor{page: p, y: y}})
}

type link struct {
	page *Page
	box  Box
	to   *Anchor
	says string
	node *Node
	ref  *core.PdfIndirectReference
}

// Page is one page. Everything drawn on it goes through Mark or Artifact.
type Page struct {
	doc   *Document
	W, H  float64
	index int
	buf   []byte
	owner []*Node // by MCID
	links []*link
	ref   *core.PdfIndirectReference
}

// Mark draws content that belongs to an element.
func (p *Page) Mark(n *Node, draw func(c *Canvas)) {
	id := len(p.owner)
	p.owner = append(p.owner, n)
	n.kids = append(n.kids, kid{page: p, mcid: id})
	p.buf = fmt.Appendf(p.buf, "/%s <</MCID %d>> BDC\n", n.Role, id)
	draw(&Canvas{p})
	p.buf = append(p.buf, "EMC\n"...)
}

// Figure draws an illustration with its alternative text and its box.
func (p *Page) Figure(parent *Node, alt string, box Box, draw func(c *Canvas)) *Node {
	n := parent.Add("Figure")
	n.Alt, n.box, n.boxOn = alt, &box, p
	p.Mark(n, draw)
	return n
}

// The kinds of artifact: running heads and feet, repeated heads of tables, and rules.
const (
	Head   = "/Type /Pagination /Subtype /Header"
	Foot   = "/Type /Pagination /Subtype /Footer"
	Margin = "/Type /Pagination /Subtype /Watermark"
	Repeat = "/Type /Pagination"
	Rule   = "/Type /Layout"
)

// Artifact draws what is no part of the text: rules, running heads, repeated table heads.
func (p *Page) Artifact(kind string, draw func(c *Canvas)) {
	p.buf = append(p.buf, "/Artifact <<"...)
	p.buf = append(p.buf, kind...)
	p.buf = append(p.buf, ">> BDC\n"...)
	draw(&Canvas{p})
	p.buf = append(p.buf, "EMC\n"...)
}

// Link lays an active area over a Link element's content. says is its description.
func (p *Page) Link(n *Node, box Box, to *Anchor, says string) {
	l := &link{page: p, box: box, to: to, says: says, node: n}
	p.links = append(p.links, l)
	p.doc.links = append(p.doc.links, l)
	n.kids = append(n.kids, kid{page: p, annot: l})
}
