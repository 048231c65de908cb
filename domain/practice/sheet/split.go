package sheet

import (
	"bytes"
	"encoding/binary"
	"encoding/csv"
	"errors"
	"io"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// table is a file's lines, those without anything in them left out.
type table []line

// line is one line, numbered as a person counts them.
type line struct {
	number int
	cells  []string
}

// cell gives the text of a column, counted from 0, without white space around it; empty
// beyond the end.
func (l line) cell(column int) string {
	if column < 0 || column >= len(l.cells) {
		return ""
	}
	return strings.TrimSpace(strings.ReplaceAll(l.cells[column], "\u00a0", " "))
}

func (l line) blank() bool {
	for c := range l.cells {
		if l.cell(c) != "" {
			return false
		}
	}
	return true
}

// split turns bytes into lines and cells.
func split(raw []byte) (table, *Fault) {
	if len(raw) > 2*MaxBytes { // UTF-16 takes two bytes a letter
		return nil, &Fault{1, 1, "The file is larger than 1 MB. A pass has a few hundred readings: is this the right file?"}
	}
	text, fault := decode(raw)
	if fault != nil {
		return nil, fault
	}
	if len(text) > MaxBytes {
		return nil, &Fault{1, 1, "The file is larger than 1 MB. A pass has a few hundred readings: is this the right file?"}
	}
	if strings.HasPrefix(text, "PK\x03\x04") {
		return nil, &Fault{1, 1, "This is a workbook. Save the sheet as CSV and send that."}
	}
	text = strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n")
	r := csv.NewReader(strings.NewReader(text))
	r.Comma, r.FieldsPerRecord = separator(text), -1
	return lines(r, text)
}

func lines(r *csv.Reader, text string) (table, *Fault) {
	var out table
	for {
		cells, err := r.Read()
		if errors.Is(err, io.EOF) {
			return out, nil
		}
		if err != nil {
			return nil, broken(err, r.Comma, text)
		}
		number, _ := r.FieldPos(0)
		if len(cells) > MaxColumns {
			return nil, &Fault{number, MaxColumns + 1, "The file has more than 100 columns. A pass has a few: is this the right file?"}
		}
		out = append(out, line{number, cells})
		if len(out) > MaxRows+1 {
			return nil, &Fault{number, 1, "The file has more than 400 rows below its heading. Split it."}
		}
	}
}

// broken says where quotes do not fit.
func broken(err error, comma rune, text string) *Fault {
	var at *csv.ParseError
	if !errors.As(err, &at) {
		return &Fault{1, 1, "The file cannot be read as CSV."}
	}
	if at.StartLine != at.Line {
		return &Fault{at.StartLine, 1, "A quotation mark opens in this row and never closes."}
	}
	column := 1
	if all := strings.Split(text, "\n"); at.Line <= len(all) {
		before := all[at.Line-1]
		column += strings.Count(before[:min(max(at.Column-1, 0), len(before))], string(comma))
	}
	return &Fault{at.Line, column, "A quotation mark stands where it does not belong, or never closes."}
}

// separator finds what parts the cells of the heading: a tab, else a semicolon, else a comma.
func separator(text string) rune {
	for _, first := range strings.SplitN(text, "\n", 20) {
		switch {
		case strings.Contains(first, "\t"):
			return '\t'
		case strings.Contains(first, ";"):
			return ';'
		case strings.TrimSpace(first) != "":
			return ','
		}
	}
	return ','
}

var (
	mark8   = []byte{0xef, 0xbb, 0xbf}
	mark16L = []byte{0xff, 0xfe}
	mark16B = []byte{0xfe, 0xff}
)

// decode reads UTF-8, or UTF-16 by its mark or by the zeros between Latin letters.
func decode(raw []byte) (string, *Fault) {
	switch {
	case bytes.HasPrefix(raw, mark8):
		raw = raw[3:]
	case bytes.HasPrefix(raw, mark16L):
		return wide(raw[2:], binary.LittleEndian)
	case bytes.HasPrefix(raw, mark16B):
		return wide(raw[2:], binary.BigEndian)
	case len(raw) > 3 && raw[1] == 0 && raw[3] == 0:
		return wide(raw, binary.LittleEndian)
	case len(raw) > 3 && raw[0] == 0 && raw[2] == 0:
		return wide(raw, binary.BigEndian)
	}
	if at := invalid(raw); at >= 0 {
		row := 1 + bytes.Count(raw[:at], []byte("\n"))
		return "", &Fault{row, 1, "The file holds letters that are not UTF-8. Save it as CSV in UTF-8 and send it again."}
	}
	return string(raw), nil
}

// invalid finds the first byte that is not text; -1 where all is.
func invalid(raw []byte) int {
	for at := 0; at < len(raw); {
		r, size := utf8.DecodeRune(raw[at:])
		if r == utf8.RuneError && size == 1 || r == 0 {
			return at
		}
		at += size
	}
	return -1
}

func wide(raw []byte, order binary.ByteOrder) (string, *Fault) {
	units := make([]uint16, len(raw)/2)
	for k := range units {
		if units[k] = order.Uint16(raw[2*k:]); units[k] == 0 {
			return "", &Fault{1, 1, "The file is not text. Save it as CSV in UTF-8 and send it again."}
		}
	}
	return string(utf16.Decode(units)), nil
}
