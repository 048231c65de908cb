package wire

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"

	"github.com/google/uuid"
)

// Null stands for an empty slot of a Column. No reading, ordinal or millimetre comes near it.
const Null = math.MinInt32

// Column is a list of whole numbers and nulls. It is one scalar because gqlgen would
// make and check a value for every element of a typed list.
type Column []int32

// put writes what fill appends, about n bytes. An answer is put together in a
// bytes.Buffer: there it is appended in place. A column seldom comes alone, so a buffer
// that is full grows by several: growing column by column copied an answer three times.
func put(w io.Writer, n int, fill func([]byte) []byte) {
	var b []byte
	if buffer, ok := w.(*bytes.Buffer); ok {
		if buffer.Available() < n {
			buffer.Grow(8 * n)
		}
		b = buffer.AvailableBuffer()
	} else {
		b = make([]byte, 0, n)
	}
	_, _ = w.Write(fill(b))
}

// MarshalGQL appends the numbers without reflection.
func (c Column) MarshalGQL(w io.Writer) { put(w, 2+6*len(c), c.append) }

func (c Column) append(b []byte) []byte {
	b = append(b, '[')
	for i, x := range c {
		if i > 0 {
			b = append(b, ',')
		}
		if x == Null {
			b = append(b, "null"...)
			continue
		}
		b = strconv.AppendInt(b, int64(x), 10)
	}
	return append(b, ']')
}

// UnmarshalGQL reads a list of whole numbers and nulls, naming the slot that is none.
func (c *Column) UnmarshalGQL(v any) error {
	list, ok := v.([]any)
	if !ok {
		return errors.New("a column is a list")
	}
	out := make(Column, len(list))
	for i, x := range list {
		n, err := whole(x)
		if err != nil {
			return fmt.Errorf("slot %d: %w", i, err)
		}
		out[i] = n
	}
	*c = out
	return nil
}

func whole(x any) (int32, error) {
	var n int64
	switch x := x.(type) {
	case nil:
		return Null, nil
	case json.Number:
		m, err := strconv.ParseInt(x.String(), 10, 64)
		if err != nil {
			return 0, errors.New("must be a whole number or null")
		}
		n = m
	case int64:
		n = x
	case int:
		n = int64(x)
	case float64:
		if x != math.Trunc(x) || math.Abs(x) > 1<<40 {
			return 0, errors.New("must be a whole number or null")
		}
		n = int64(x)
	default:
		return 0, errors.New("must be a whole number or null")
	}
	if n <= Null || n > math.MaxInt32 {
		return 0, errors.New("is too large")
	}
	return int32(n), nil
}

// Columns is a list of lists of whole numbers; a nil list is a null.
type Columns [][]int16

// MarshalGQL appends the numbers without reflection.
func (c Columns) MarshalGQL(w io.Writer) { put(w, 2+18*len(c), c.append) }

func (c Columns) append(b []byte) []byte {
	b = append(b, '[')
	for i, list := range c {
		if i > 0 {
			b = append(b, ',')
		}
		if list == nil {
			b = append(b, "null"...)
			continue
		}
		b = append(b, '[')
		for j, x := range list {
			if j > 0 {
				b = append(b, ',')
			}
			b = strconv.AppendInt(b, int64(x), 10)
		}
		b = append(b, ']')
	}
	return append(b, ']')
}

// UnmarshalGQL reads a list of lists of whole numbers, naming the slot that is none.
func (c *Columns) UnmarshalGQL(v any) error {
	outer, ok := v.([]any)
	if !ok {
		return errors.New("must be a list of lists")
	}
	out := make(Columns, len(outer))
	for i, x := range outer {
		if x == nil {
			continue
		}
		inner, ok := x.([]any)
		if !ok {
			return fmt.Errorf("slot %d: must be a list or null", i)
		}
		out[i] = make([]int16, len(inner))
		for j, y := range inner {
			n, err := whole(y)
			if err != nil || n == Null || n < math.MinInt16 || n > math.MaxInt16 {
				return fmt.Errorf("slot %d, number %d: must be a whole number of tenths", i, j)
			}
			out[i][j] = int16(n)
		}
	}
	*c = out
	return nil
}

// IDColumn is a list of ids and nulls of one kind or another.
type IDColumn []ID

// Of makes a column of one kind; the nil UUID is a null.
func Of(kind Kind, ids []uuid.UUID) IDColumn {
	out := make(IDColumn, len(ids))
	for i, id := range ids {
		if id != uuid.Nil {
			out[i] = ID{kind, id}
		}
	}
	return out
}

// As gives the UUIDs; what is of another kind becomes the nil UUID.
func (c IDColumn) As(kind Kind) []uuid.UUID {
	out := make([]uuid.UUID, len(c))
	for i, id := range c {
		out[i] = id.As(kind)
	}
	return out
}

// MarshalGQL writes the ids as strings.
func (c IDColumn) MarshalGQL(w io.Writer) { put(w, 2+43*len(c), c.append) }

func (c IDColumn) append(b []byte) []byte {
	b = append(b, '[')
	for i, id := range c {
		if i > 0 {
			b = append(b, ',')
		}
		if id == (ID{}) {
			b = append(b, "null"...)
			continue
		}
		b = append(b, '"')
		b = append(b, id.Kind...)
		b = append(b, '_')
		b = appendUUID(b, id.UUID)
		b = append(b, '"')
	}
	return append(b, ']')
}

// UnmarshalGQL reads a list of ids and nulls.
func (c *IDColumn) UnmarshalGQL(v any) error {
	list, ok := v.([]any)
	if !ok {
		return errors.New("a column of ids is a list")
	}
	out := make(IDColumn, len(list))
	for i, x := range list {
		if x == nil {
			continue
		}
		if err := out[i].UnmarshalGQL(x); err != nil {
			return fmt.Errorf("slot %d: %w", i, err)
		}
	}
	*c = out
	return nil
}

// TextColumn is a list of texts; on the wire an empty one is a null.
type TextColumn []string

// MarshalGQL writes the texts, empty ones as null.
func (c TextColumn) MarshalGQL(w io.Writer) { put(w, 2+12*len(c), c.append) }

func (c TextColumn) append(b []byte) []byte {
	b = append(b, '[')
	for i, s := range c {
		if i > 0 {
			b = append(b, ',')
		}
		switch {
		case s == "":
			b = append(b, "null"...)
		case plain(s):
			b = append(append(append(b, '"'), s...), '"')
		default:
			quoted, err := json.Marshal(s)
			if err != nil { // cannot be: any string marshals
				quoted = []byte("null")
			}
			b = append(b, quoted...)
		}
	}
	return append(b, ']')
}

// plain tells whether a text stands in JSON as it is; most labels do.
func plain(s string) bool {
	for i := range len(s) {
		if c := s[i]; c < ' ' || c > '~' || c == '"' || c == '\\' || c == '<' || c == '>' || c == '&' {
			return false
		}
	}
	return true
}

// UnmarshalGQL reads a list of texts and nulls.
func (c *TextColumn) UnmarshalGQL(v any) error {
	list, ok := v.([]any)
	if !ok {
		return errors.New("a column of texts is a list")
	}
	out := make(TextColumn, len(list))
	for i, x := range list {
		switch x := x.(type) {
		case nil:
		case string:
			out[i] = x
		default:
			return fmt.Errorf("slot %d: must be a text or null", i)
		}
	}
	*c = out
	return nil
}
