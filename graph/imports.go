package graph

import (
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

func previewModel(p practice.Import) *model.ImportPreview {
	m := &model.ImportPreview{
		Layout: p.Layout, Good: int32(len(p.Readings)), Known: int32(p.Known), Faults: make([]model.ImportFault, len(p.Faults)),
		Places: make(wire.Column, len(p.Readings)), Placements: make(wire.Columns, len(p.Readings)), Written: make(wire.TextColumn, len(p.Readings)),
	}
	for k, f := range p.Faults {
		m.Faults[k] = model.ImportFault{Row: int32(f.Row), Column: int32(f.Column), Text: f.Text}
	}
	for k, r := range p.Readings {
		m.Places[k], m.Placements[k], m.Written[k] = r.Ordinal, r.Placements, r.AsWritten
	}
	return m
}
