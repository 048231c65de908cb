package tagged

import "github.com/carlos7ags/folio/core"

// writeTree writes the structure tree and the parent tree that leads back from marked
// content and annotations to their elements.
func (d *Document) writeTree(w *writer) *core.PdfIndirectReference {
	root := w.reserve()
	number(w, d.root)
	writeNode(w, d.root, root)
	nums := array()
	for i, p := range d.pages {
		owners := array()
		for _, n := range p.owner {
			owners.Add(n.ref)
		}
		nums.Add(object(i))
		nums.Add(w.add(owners))
	}
	for i, l := range d.links {
		nums.Add(object(len(d.pages) + i))
		nums.Add(l.node.ref)
	}
	w.put(root, dict("Type", "StructTreeRoot", "K", d.root.ref, "ParentTree", w.add(dict("Nums", nums)), "ParentTreeNextKey", len(d.pages)+len(d.links)))
	return root
}

func number(w *writer, n *Node) {
	n.ref = w.reserve()
	for _, k := range n.kids {
		if k.node != nil {
			number(w, k.node)
		}
	}
}

func writeNode(w *writer, n *Node, parent *core.PdfIndirectReference) {
	o := dict("Type", "StructElem", "S", n.Role, "P", parent)
	if n.Alt != "" || n.Role == "Figure" {
		o.Set("Alt", words(n.Alt))
	}
	if a := n.attributes(); a != nil {
		o.Set("A", a)
	}
	page := n.firstPage()
	if page != nil {
		o.Set("Pg", page.ref)
	}
	kids := array()
	for _, k := range n.kids {
		switch {
		case k.node != nil:
			writeNode(w, k.node, n.ref)
			kids.Add(k.node.ref)
		case k.annot != nil:
			kids.Add(dict("Type", "OBJR", "Obj", k.annot.ref, "Pg", k.page.ref))
		case k.page == page:
			kids.Add(object(k.mcid))
		default:
			kids.Add(dict("Type", "MCR", "Pg", k.page.ref, "MCID", k.mcid))
		}
	}
	switch kids.Len() {
	case 0:
	case 1:
		o.Set("K", kids.At(0))
	default:
		o.Set("K", kids)
	}
	w.put(n.ref, o)
}

func (n *Node) firstPage() *Page {
	for _, k := range n.kids {
		if k.page != nil && k.annot == nil {
			return k.page
		}
	}
	return nil
}

func (n *Node) attributes() core.PdfObject {
	switch {
	case n.Scope != "":
		return dict("O", "Table", "Scope", n.Scope)
	case n.List != "":
		return dict("O", "List", "ListNumbering", n.List)
	case n.box != nil:
		return dict("O", "Layout", "BBox", n.boxOn.rect(*n.box), "Placement", "Block")
	}
	return nil
}
