// Package sheet reads a file of readings: comma, semicolon or tab between cells, point
// or comma in numbers, UTF-8 or UTF-16, in one of two layouts.
//
// Stations by rows, as the blank recording sheet has it: a heading with "side",
// "station" and the numbers of the rows, then a line for each station of a side.
//
//	side;station;1;2;3
//	port;4;35,3;35,8 35,1;<5
//
// A line a reading: a heading with "side", "place" (a label such as 13/3) or "station"
// and "row", and one to five columns that begin with "reading"; "surface" may follow.
//
//	side,place,reading 1,reading 2,surface
//	port,13/3,35.3,35.8,bare gelcoat
//
// A cell holds one to five placements, parted by spaces or "/"; "<" or ">" where the
// instrument met the end of its scale; or a range as written, 15–20. A "!" at the end
// asks for a look from inside. Empty cells were not read.
package sheet

import (
	"fmt"
	"strings"
)

// The limits of a file.
const (
	MaxBytes    = 1 << 20
	MaxRows     = 400
	MaxColumns  = 100
	MaxReadings = 2000
	maxFaults   = 200 // no more are listed; the first are what a person puts right first
)

// Layout is how a file is laid out.
type Layout string

// The layouts.
const (
	Grid  Layout = "stations × rows"
	Lines Layout = "a line a reading"
)

// Fault is what is wrong at a place in the file, rows and columns counted from 1.
type Fault struct {
	Row, Column int
	Text        string
}

func (f Fault) Error() string { return fmt.Sprintf("Row %d, column %d: %s", f.Row, f.Column, f.Text) }

// Cell is one reading of a file: where it stands, which place it speaks of, and what it says.
type Cell struct {
	Row, Column int
	Side        string // port, starboard or centre
	Label       string // of the place; empty where Station and RowNo name it
	Station     int
	RowNo       int
	Placements  []int16 // tenths of a scale unit, in the order of the cells
	Written     string  // "<5", ">", "15–20"; empty for plain numbers
	Surface     string
	FollowUp    bool
}

// File is what a file holds: its readings in the order of the file, and what is wrong in it.
type File struct {
	Layout Layout
	Cells  []Cell
	Faults []Fault
}

// Parse reads a whole file. What is wrong in single cells is listed beside what is
// good; a file that cannot be read at all has one fault and no cells.
func Parse(raw []byte) File {
	table, fault := split(raw)
	if fault != nil {
		return File{Faults: []Fault{*fault}}
	}
	r := reader{table: table, seen: map[string]int{}}
	r.read()
	return r.file
}

// reader goes through a table.
type reader struct {
	table table
	file  File
	seen  map[string]int // places that stand in the file already, by the row they stand in
}

func (r *reader) fault(row, column int, format string, args ...any) {
	if len(r.file.Faults) < maxFaults {
		r.file.Faults = append(r.file.Faults, Fault{row, column, fmt.Sprintf(format, args...)})
	}
}

func (r *reader) read() {
	if len(r.table) == 0 {
		r.fault(1, 1, "The file is empty.")
		return
	}
	head, fault := heading(r.table[0])
	if fault != nil {
		r.file.Faults = append(r.file.Faults, *fault)
		return
	}
	r.file.Layout = head.layout
	for _, line := range r.table[1:] {
		if line.blank() {
			continue
		}
		if head.layout == Grid {
			r.station(head, line)
		} else {
			r.reading(head, line)
		}
		if len(r.file.Cells) > MaxReadings {
			r.file.Cells = nil
			r.fault(line.number, 1, "The file holds more than %d readings. Split it.", MaxReadings)
			return
		}
	}
	if len(r.file.Cells) == 0 && len(r.file.Faults) == 0 {
		r.fault(1, 1, "There is no reading below the heading.")
	}
}

// station reads the readings of one line of a grid.
func (r *reader) station(head head, line line) {
	r.excess(head, line)
	side, ok := r.side(line, head.side)
	station, numbered := r.number(line, head.station, "station")
	if !ok || !numbered {
		return
	}
	for _, c := range head.rows {
		text := line.cell(c.column)
		if text == "" {
			continue
		}
		cell := Cell{Row: line.number, Column: c.column + 1, Side: side, Station: station, RowNo: c.row}
		r.keep(cell, text)
	}
}

// reading reads the one reading of a line.
func (r *reader) reading(head head, line line) {
	r.excess(head, line)
	side, ok := r.side(line, head.side)
	if !ok {
		return
	}
	cell := Cell{Row: line.number, Side: side}
	if head.place >= 0 {
		if cell.Label = line.cell(head.place); cell.Label == "" {
			r.fault(line.number, head.place+1, "Name the place by its label, such as 13/3.")
			return
		}
	} else {
		station, one := r.number(line, head.station, "station")
		row, two := r.number(line, head.row, "row")
		if !one || !two {
			return
		}
		cell.Station, cell.RowNo = station, row
	}
	if head.surface >= 0 {
		cell.Surface = strings.ToLower(line.cell(head.surface))
	}
	var texts []string
	for _, c := range head.readings {
		if text := line.cell(c); text != "" {
			if cell.Column == 0 {
				cell.Column = c + 1
			}
			texts = append(texts, text)
		}
	}
	if len(texts) == 0 {
		return // not read
	}
	r.keep(cell, strings.Join(texts, " "))
}

// excess tells of cells beyond the heading: most often a comma in a number that the
// file also parts its cells with.
func (r *reader) excess(head head, line line) {
	for c := head.width; c < len(line.cells); c++ {
		if line.cell(c) != "" {
			r.fault(line.number, c+1, "This cell stands beyond the last heading. Where numbers have a comma, part the cells with semicolons.")
			return
		}
	}
}

// keep reads a cell's text and keeps it, once for each place.
func (r *reader) keep(cell Cell, text string) {
	if why := cell.read(text); why != "" {
		r.fault(cell.Row, cell.Column, "%s", why)
		return
	}
	key := fmt.Sprintf("%s %s %d/%d", cell.Side, cell.Label, cell.Station, cell.RowNo)
	if row, twice := r.seen[key]; twice {
		r.fault(cell.Row, cell.Column, "This place stands in row %d already. Put several placements into one cell; repeats are read on another occasion.", row)
		return
	}
	r.seen[key] = cell.Row
	r.file.Cells = append(r.file.Cells, cell)
}

var sides = map[string]string{
	"port": "port", "p": "port", "starboard": "starboard", "stbd": "starboard", "s": "starboard", "centre": "centre", "center": "centre", "c": "centre",
}

func (r *reader) side(line line, column int) (string, bool) {
	side, known := sides[strings.ToLower(line.cell(column))]
	if !known {
		r.fault(line.number, column+1, "The side is port, starboard or centre.")
	}
	return side, known
}

func (r *reader) number(line line, column int, what string) (int, bool) {
	n, ok := small(line.cell(column))
	if !ok {
		r.fault(line.number, column+1, "The %s is a whole number.", what)
	}
	return n, ok
}
