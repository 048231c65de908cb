package store

import (
	"encoding/binary"
	"errors"
	"math"

	"github.com/google/uuid"

	"boottop.example/practice/domain/practice"
)

var errArray = errors.New("an array in an unknown form")

// array reads PostgreSQL's binary form of a one-dimensional array: dimensions, a null
// flag, the element type, then for each dimension its length and lower bound, and for
// each element its length (-1 is null) and value, all big-endian 32-bit. read makes an
// element of its bytes, nil for a null; false where it has another size than it should.
// No bytes at all are no array.
func array[T any](b []byte, into *[]T, read func([]byte) (T, bool)) error {
	if b == nil {
		return nil
	}
	if len(b) < 12 {
		return errArray
	}
	if binary.BigEndian.Uint32(b) == 0 {
		return nil
	}
	if binary.BigEndian.Uint32(b) != 1 || len(b) < 20 {
		return errArray
	}
	n := int(binary.BigEndian.Uint32(b[12:]))
	b = b[20:]
	if n < 0 || n > len(b)/4 {
		return errArray
	}
	out := make([]T, n)
	for k := range out {
		if len(b) < 4 {
			return errArray
		}
		size := int(int32(binary.BigEndian.Uint32(b)))
		b = b[4:]
		if size > len(b) {
			return errArray
		}
		var element []byte
		if size >= 0 {
			element, b = b[:size:size], b[size:]
		}
		var ok bool
		if out[k], ok = read(element); !ok {
			return errArray
		}
	}
	*into = out
	return nil
}

// int4Of reads an integer; a null becomes the column's Null.
func int4Of(b []byte) (int32, bool) {
	if b == nil {
		return practice.Null, true
	}
	if len(b) != 4 {
		return 0, false
	}
	return int32(binary.BigEndian.Uint32(b)), true
}

// int2Of reads a smallint; a null, and the least one that stands for it, become Null.
func int2Of(b []byte) (int32, bool) {
	if b == nil {
		return practice.Null, true
	}
	if len(b) != 2 {
		return 0, false
	}
	if x := int16(binary.BigEndian.Uint16(b)); x != math.MinInt16 {
		return int32(x), true
	}
	return practice.Null, true
}

func uuidOf(b []byte) (u uuid.UUID, ok bool) { return u, copy(u[:], b) == 16 && len(b) == 16 }

func textOf(b []byte) (string, bool) { return string(b), b != nil }

// sideOf is textOf without making the same three words again for every place.
func sideOf(b []byte) (string, bool) {
	switch string(b) {
	case "port":
		return "port", true
	case "starboard":
		return "starboard", true
	case "centre":
		return "centre", true
	}
	return textOf(b)
}
