// Package matterhorn reads a PDF back and lists where it falls short of PDF/UA-1, after
// the failure conditions of the Matterhorn Protocol 1.02 (PDF Association; numbers from
// memory). It is our own check, for tests; it is no certificate. It reads with folio's
// reader, so that it knows nothing of how the file was written.
package matterhorn

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"github.com/carlos7ags/folio/core"
	"github.com/carlos7ags/folio/reader"
)

// Check lists the faults of a file; none means that every check below held.
func Check(pdf []byte) ([]string, error) {
	r, err := reader.Parse(pdf)
	if err != nil {
		return nil, fmt.Errorf("read back: %w", err)
	}
	c := &checker{r: r, marks: map[mark]bool{}, owner: map[mark]int{}, pages: map[int]int{}, links: map[int]bool{}}
	c.catalog()
	if err := c.content(); err != nil {
		return nil, err
	}
	c.structure()
	c.parents()
	c.fonts()
	return c.faults, nil
}

// mark is one marked-content sequence of a page.
type mark struct{ page, mcid int }

type checker struct {
	r      *reader.PdfReader
	faults []string
	marks  map[mark]bool // seen on a page
	owner  map[mark]int  // object number of the element that claims it
	pages  map[int]int   // object number of a page → index
	links  map[int]bool  // object numbers of annotations claimed by a Link
	level  int           // of the last heading
	h1     int
}

func (c *checker) fault(format string, a ...any) {
	if len(c.faults) < 40 {
		c.faults = append(c.faults, fmt.Sprintf(format, a...))
	}
}

func (c *checker) get(o core.PdfObject) core.PdfObject {
	if o == nil {
		return nil
	}
	v, err := c.r.ResolveObject(o)
	if err != nil {
		return nil
	}
	return v
}

func (c *checker) dict(o core.PdfObject) *core.PdfDictionary {
	switch v := c.get(o).(type) {
	case *core.PdfDictionary:
		return v
	case *core.PdfStream:
		return v.Dict
	}
	return nil
}

func (c *checker) list(o core.PdfObject) []core.PdfObject {
	a, ok := c.get(o).(*core.PdfArray)
	if !ok {
		return nil
	}
	var out []core.PdfObject
	for _, v := range a.All() {
		out = append(out, v)
	}
	return out
}

func (c *checker) name(o core.PdfObject) string {
	if n, ok := c.get(o).(*core.PdfName); ok {
		return n.Value
	}
	return ""
}

func (c *checker) text(o core.PdfObject) string {
	if s, ok := c.get(o).(*core.PdfString); ok {
		return s.TextString()
	}
	return ""
}

func (c *checker) number(o core.PdfObject) int {
	if n, ok := c.get(o).(*core.PdfNumber); ok {
		return n.IntValue()
	}
	return -1
}

func num(o core.PdfObject) int {
	if r, ok := o.(*core.PdfIndirectReference); ok {
		return r.Num()
	}
	return 0
}

func (c *checker) catalog() {
	cat := c.r.Catalog()
	if b, ok := c.get(c.dict(cat.Get("MarkInfo")).Get("Marked")).(*core.PdfBoolean); !ok || !b.Bool() {
		c.fault("06-003 the file does not say that it is tagged")
	}
	if c.text(cat.Get("Lang")) == "" {
		c.fault("11-006 no language")
	}
	v := c.dict(cat.Get("ViewerPreferences"))
	if v == nil {
		c.fault("07-001 no DisplayDocTitle")
	} else if b, ok := c.get(v.Get("DisplayDocTitle")).(*core.PdfBoolean); !ok || !b.Bool() {
		c.fault("07-001 DisplayDocTitle is not true")
	}
	meta, ok := c.get(cat.Get("Metadata")).(*core.PdfStream)
	if !ok {
		c.fault("06-001 no metadata")
		return
	}
	for _, want := range []string{"<pdfuaid:part>1<", "<pdfaid:part>2<", "<pdfaid:conformance>A<", "<dc:title>"} {
		if !bytes.Contains(meta.Data, []byte(want)) {
			c.fault("06-002 metadata lack %s", want)
		}
	}
	if len(c.list(cat.Get("OutputIntents"))) != 1 {
		c.fault("PDF/A 6.2.3: want one output intent")
	}
	if len(c.list(c.r.Trailer().Get("ID"))) != 2 {
		c.fault("PDF/A 6.1.3: no file identifier")
	}
}

// drawing operators: each must stand inside marked content or an artifact.
var drawing = []string{"S", "s", "f", "F", "f*", "B", "B*", "b", "b*", "Tj", "TJ", "'", "\"", "Do", "sh", "BI", "INLINE_IMAGE"}

// content walks every page: nothing drawn outside marks, artifacts and text never inside
// one another, no MCID twice.
func (c *checker) content() error {
	kids := c.list(c.dict(c.r.Catalog().Get("Pages")).Get("Kids"))
	if len(kids) != c.r.PageCount() {
		c.fault("pages are not one flat list")
	}
	for i, k := range kids {
		c.pages[num(k)] = i
		p, err := c.r.Page(i)
		if err != nil {
			return err
		}
		ops, err := p.ContentOps()
		if err != nil {
			return err
		}
		c.page(i, ops)
	}
	return nil
}

func (c *checker) page(i int, ops []reader.ContentOp) {
	var stack []string
	depth, text := 0, 0
	for _, op := range ops {
		switch op.Operator {
		case "BDC", "BMC":
			stack = append(stack, c.begin(i, op, stack))
		case "EMC":
			if len(stack) == 0 {
				c.fault("page %d: a mark ends that never began", i+1)
				return
			}
			stack = stack[:len(stack)-1]
		case "q":
			depth++
		case "Q":
			depth--
		case "BT":
			text++
		case "ET":
			text--
		}
		if slices.Contains(drawing, op.Operator) && !slices.ContainsFunc(stack, func(s string) bool { return s != "span" }) {
			c.fault("01-005 page %d: %s drawn outside marked content", i+1, op.Operator)
		}
	}
	if len(stack) != 0 || depth != 0 || text != 0 {
		c.fault("page %d: marks, states or texts left open", i+1)
	}
}

func (c *checker) begin(page int, op reader.ContentOp, stack []string) string {
	tag, mcid, artifact := "", -1, false
	for k, t := range op.Operands {
		value := strings.TrimPrefix(t.Value, "/")
		if k == 0 {
			tag = value
			artifact = tag == "Artifact"
		}
		if value == "MCID" && k+1 < len(op.Operands) {
			mcid = int(op.Operands[k+1].Int)
		}
	}
	inTagged, inArtifact := slices.Contains(stack, "tagged"), slices.Contains(stack, "artifact")
	switch {
	case artifact:
		if inTagged {
			c.fault("01-003 page %d: an artifact inside tagged content", page+1)
		}
		return "artifact"
	case mcid >= 0:
		if inArtifact || inTagged {
			c.fault("01-004 page %d: tagged content %d inside other marks", page+1, mcid)
		}
		m := mark{page, mcid}
		if c.marks[m] {
			c.fault("page %d: MCID %d twice", page+1, mcid)
		}
		c.marks[m] = true
		return "tagged"
	}
	return "span"
}

// parentsOf says where a structure type may stand: ISO 32000-1, 14.8.4.
var parentsOf = map[string][]string{
	"Document": {""}, "TR": {"Table", "THead", "TBody", "TFoot"}, "TH": {"TR"}, "TD": {"TR"}, "THead": {"Table"}, "TBody": {"Table"},
	"LI": {"L"}, "Lbl": {"LI"}, "LBody": {"LI"},
}

func (c *checker) structure() {
	root := c.dict(c.r.Catalog().Get("StructTreeRoot"))
	if root == nil {
		c.fault("no structure tree")
		return
	}
	kids := c.list(root.Get("K"))
	if kids == nil {
		kids = []core.PdfObject{root.Get("K")}
	}
	for _, k := range kids {
		c.element(k, "", nil)
	}
	if c.h1 != 1 {
		c.fault("14-006 %d headings of the first level", c.h1)
	}
	for m := range c.marks {
		if _, ok := c.owner[m]; !ok {
			c.fault("page %d: MCID %d belongs to no element", m.page+1, m.mcid)
		}
	}
}

func (c *checker) element(o core.PdfObject, parent string, up core.PdfObject) {
	d := c.dict(o)
	if d == nil {
		c.fault("a kid of %s is no element", parent)
		return
	}
	role := c.name(d.Get("S"))
	if want, ok := parentsOf[role]; ok && !slices.Contains(want, parent) {
		c.fault("09-004 %s stands in %q", role, parent)
	}
	if up != nil && num(d.Get("P")) != num(up) {
		c.fault("%s does not point at its parent", role)
	}
	c.heading(role)
	c.attributes(role, d)
	kids := c.list(d.Get("K"))
	if kids == nil && d.Get("K") != nil {
		kids = []core.PdfObject{d.Get("K")}
	}
	if role == "Table" {
		c.table(d)
	}
	for _, k := range kids {
		c.kid(k, o, d, role)
	}
}

func (c *checker) kid(k, o core.PdfObject, d *core.PdfDictionary, role string) {
	if n, ok := c.get(k).(*core.PdfNumber); ok {
		c.claim(c.pages[num(d.Get("Pg"))], n.IntValue(), o, role)
		return
	}
	kd := c.dict(k)
	if kd == nil {
		c.fault("a kid of %s cannot be read", role)
		return
	}
	switch c.name(kd.Get("Type")) {
	case "MCR":
		c.claim(c.pages[num(kd.Get("Pg"))], c.number(kd.Get("MCID")), o, role)
	case "OBJR":
		if role != "Link" {
			c.fault("28-011 an annotation in %s, not in Link", role)
		}
		c.links[num(kd.Get("Obj"))] = true
	default:
		c.element(k, role, o)
	}
}

func (c *checker) claim(page, mcid int, o core.PdfObject, role string) {
	m := mark{page, mcid}
	if _, ok := c.owner[m]; ok {
		c.fault("page %d: MCID %d claimed twice", page+1, mcid)
	}
	if !c.marks[m] {
		c.fault("%s claims MCID %d of page %d, which is not there", role, mcid, page+1)
	}
	c.owner[m] = num(o)
}

func (c *checker) heading(role string) {
	if len(role) != 2 || role[0] != 'H' || role[1] < '1' || role[1] > '6' {
		return
	}
	l := int(role[1] - '0')
	if l > c.level+1 {
		c.fault("14-003 H%d after H%d", l, c.level)
	}
	if l == 1 {
		c.h1++
	}
	c.level = l
}

func (c *checker) attributes(role string, d *core.PdfDictionary) {
	a := c.dict(d.Get("A"))
	switch role {
	case "Figure":
		if strings.TrimSpace(c.text(d.Get("Alt"))) == "" {
			c.fault("13-004 a Figure without alternative text")
		}
		if a == nil || len(c.list(a.Get("BBox"))) != 4 {
			c.fault("a Figure without its box")
		}
	case "TH":
		if a == nil || !slices.Contains([]string{"Row", "Column", "Both"}, c.name(a.Get("Scope"))) {
			c.fault("15-003 a TH without Scope")
		}
	}
}

// table asks that every row has as many cells as the first.
func (c *checker) table(d *core.PdfDictionary) {
	want := -1
	for _, part := range c.list(d.Get("K")) {
		p := c.dict(part)
		rows := c.list(p.Get("K"))
		if rows == nil && p.Get("K") != nil {
			rows = []core.PdfObject{p.Get("K")}
		}
		for _, r := range rows {
			n := len(c.list(c.dict(r).Get("K")))
			if want < 0 {
				want = n
			}
			if n != want {
				c.fault("09-005 a row of %d cells in a table of %d", n, want)
			}
		}
	}
	if want < 2 {
		c.fault("a Table without rows of cells")
	}
}

// parents holds the parent tree to the elements' own claims, and annotations to theirs.
func (c *checker) parents() {
	tree := map[int]core.PdfObject{}
	root := c.dict(c.r.Catalog().Get("StructTreeRoot"))
	nums := c.list(c.dict(root.Get("ParentTree")).Get("Nums"))
	for i := 0; i+1 < len(nums); i += 2 {
		tree[c.number(nums[i])] = nums[i+1]
	}
	kids := c.list(c.dict(c.r.Catalog().Get("Pages")).Get("Kids"))
	for i, k := range kids {
		p := c.dict(k)
		owners := c.list(tree[c.number(p.Get("StructParents"))])
		for id, o := range owners {
			if c.owner[mark{i, id}] != num(o) {
				c.fault("page %d: the parent tree gives MCID %d to another element", i+1, id)
			}
		}
		for m := range c.marks {
			if m.page == i && m.mcid >= len(owners) {
				c.fault("page %d: MCID %d is not in the parent tree", i+1, m.mcid)
			}
		}
		annots := c.list(p.Get("Annots"))
		if len(annots) > 0 && c.name(p.Get("Tabs")) != "S" {
			c.fault("28-008 page %d: tab order is not that of the structure", i+1)
		}
		for _, a := range annots {
			c.annotation(i, a, tree)
		}
	}
}

func (c *checker) annotation(page int, a core.PdfObject, tree map[int]core.PdfObject) {
	d := c.dict(a)
	if !c.links[num(a)] {
		c.fault("28-010 page %d: an annotation in no element", page+1)
	}
	if c.text(d.Get("Contents")) == "" {
		c.fault("28-012 page %d: a link without words", page+1)
	}
	if e := c.dict(tree[c.number(d.Get("StructParent"))]); e == nil || c.name(e.Get("S")) != "Link" {
		c.fault("page %d: the parent tree does not give an annotation to a Link", page+1)
	}
	if dest := c.list(d.Get("Dest")); len(dest) == 0 {
		c.fault("page %d: a link leads nowhere", page+1)
	} else if _, ok := c.pages[num(dest[0])]; !ok {
		c.fault("page %d: a link leads to no page", page+1)
	}
}

// fonts are embedded, and their letters have a meaning.
func (c *checker) fonts() {
	for i := range c.r.PageCount() {
		p, err := c.r.Page(i)
		if err != nil {
			return
		}
		res, err := p.Resources()
		if err != nil || res == nil {
			c.fault("page %d: no resources", i+1)
			continue
		}
		fonts := c.dict(res.Get("Font"))
		if fonts == nil {
			continue
		}
		for name, f := range fonts.All() {
			d := c.dict(f)
			if d.Get("ToUnicode") == nil {
				c.fault("10-001 font %s does not say what its letters mean", name)
			}
			for _, k := range c.list(d.Get("DescendantFonts")) {
				fd := c.dict(c.dict(k).Get("FontDescriptor"))
				if fd == nil || fd.Get("FontFile2") == nil {
					c.fault("31-009 font %s is not embedded", name)
				}
			}
		}
		return // one set of resources for all pages
	}
}
