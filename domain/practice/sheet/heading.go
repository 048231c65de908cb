package sheet

import (
	"strconv"
	"strings"
)

// head says which column holds what; -1 where there is none. Columns count from 0.
type head struct {
	layout             Layout
	width              int
	side, station, row int
	place, surface     int
	readings           []int
	rows               []rowColumn
}

type rowColumn struct{ column, row int }

// heading reads the first line of a file.
func heading(line line) (head, *Fault) {
	h := head{side: -1, station: -1, row: -1, place: -1, surface: -1}
	for c := range line.cells {
		name := strings.ToLower(line.cell(c))
		if name != "" {
			h.width = c + 1
		}
		if why := h.take(name, c); why != "" {
			return h, &Fault{line.number, c + 1, why}
		}
	}
	return h, h.check(line)
}

// take gives a column its meaning by its heading.
func (h *head) take(name string, column int) (why string) {
	only := func(at *int) string {
		if *at >= 0 {
			return "This heading stands twice."
		}
		*at = column
		return ""
	}
	switch {
	case name == "":
		return ""
	case name == "side":
		return only(&h.side)
	case name == "station":
		return only(&h.station)
	case name == "row":
		return only(&h.row)
	case name == "place" || name == "label":
		return only(&h.place)
	case name == "surface":
		return only(&h.surface)
	case strings.HasPrefix(name, "reading") || strings.HasPrefix(name, "placement"):
		h.readings = append(h.readings, column)
		return ""
	}
	if n, ok := small(strings.TrimPrefix(name, "row ")); ok {
		for _, r := range h.rows {
			if r.row == n {
				return "This row stands twice in the heading."
			}
		}
		h.rows = append(h.rows, rowColumn{column, n})
		return ""
	}
	return "This heading is not known. Use side, station and the numbers of the rows; or side, place and reading."
}

// check finds the layout, or says what the heading lacks.
func (h *head) check(line line) *Fault {
	fault := func(why string) *Fault { return &Fault{line.number, 1, why} }
	switch {
	case h.side < 0:
		return fault("The heading needs a column \"side\".")
	case len(h.rows) > 0 && len(h.readings) > 0:
		return fault("The heading has both rows and readings. Use one layout.")
	case len(h.rows) > 0:
		h.layout = Grid
		if h.station < 0 {
			return fault("The heading needs a column \"station\" beside the numbers of the rows.")
		}
	case len(h.readings) > 5:
		return fault("One to five placements are kept at a place; the heading has more columns of readings.")
	case len(h.readings) > 0:
		h.layout = Lines
		if h.place < 0 && (h.station < 0 || h.row < 0) {
			return fault("The heading needs a column \"place\", or \"station\" and \"row\".")
		}
	default:
		return fault("The heading needs the numbers of the rows, or a column \"reading\".")
	}
	return nil
}

// small reads a whole number of at most four digits, as stations and rows have; a row
// above the datum has a minus.
func small(text string) (int, bool) {
	if text == "" || len(text) > 5 || text[0] == '+' {
		return 0, false
	}
	n, err := strconv.Atoi(strings.Replace(text, "−", "-", 1))
	return n, err == nil && n > -10_000 && n < 10_000
}
