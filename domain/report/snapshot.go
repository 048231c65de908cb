package report

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"time"
)

// Format is the version of the frozen shape. A change that old bytes cannot be read
// into raises it, and Decode learns to lift the older ones.
const Format = 1

// ErrFormat is returned for bytes of a version this program does not know.
var ErrFormat = errors.New("report snapshot of an unknown format")

// Encode gives the canonical bytes of a report: fields in the order of the struct,
// no white space, times in UTC to the second, keys of a hull's shape sorted. Equal
// reports give equal bytes, so their hash is the report's.
//
// Errors: a hull whose shape is not JSON, or a time beyond the year 9999.
func Encode(r Report) ([]byte, error) {
	r, err := canonical(r)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(r); err != nil {
		return nil, fmt.Errorf("encode report: %w", err)
	}
	return bytes.TrimSuffix(b.Bytes(), []byte("\n")), nil
}

// Decode reads what Encode wrote. Unknown fields are refused: bytes that say more
// than this program knows are not the report it would print.
//
// Errors: ErrFormat for another version, else what is wrong with the bytes.
func Decode(b []byte) (Report, error) {
	var head struct {
		Format int `json:"format"`
	}
	if err := json.Unmarshal(b, &head); err != nil {
		return Report{}, fmt.Errorf("read report snapshot: %w", err)
	}
	if head.Format != Format {
		return Report{}, fmt.Errorf("%w: %d, this program reads %d; use a newer one", ErrFormat, head.Format, Format)
	}
	d := json.NewDecoder(bytes.NewReader(b))
	d.DisallowUnknownFields()
	var r Report
	if err := d.Decode(&r); err != nil {
		return Report{}, fmt.Errorf("read report snapshot: %w", err)
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return Report{}, errors.New("read report snapshot: more than one value")
	}
	return r, nil
}

func canonical(r Report) (Report, error) {
	r.Format = Format
	r.GeneratedAt = second(r.GeneratedAt)
	r.Issue.At = second(r.Issue.At)
	hulls := make([]Hull, len(r.Hulls))
	for i, h := range r.Hulls {
		shape, err := sorted(h.Shape)
		if err != nil {
			return r, fmt.Errorf("shape of %s: %w", h.Element, err)
		}
		h.Shape = shape
		hulls[i] = h
	}
	r.Hulls = hulls
	return r, nil
}

func second(t time.Time) time.Time { return t.UTC().Truncate(time.Second) }

// sorted writes any JSON with its keys in order and its numbers as they stood.
func sorted(raw json.RawMessage) (json.RawMessage, error) {
	if len(raw) == 0 {
		return json.RawMessage("null"), nil
	}
	d := json.NewDecoder(bytes.NewReader(raw))
	d.UseNumber()
	var v any
	if err := d.Decode(&v); err != nil {
		return nil, err
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return nil, errors.New("more than one value")
	}
	return json.Marshal(v)
}
