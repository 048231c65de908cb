package wire

import (
	"encoding/hex"
	"encoding/json"
	"errors"
	"io"
	"time"

	"github.com/99designs/gqlgen/graphql"
)

// Date is a day of the calendar, kept as midnight UTC.
type Date struct{ time.Time }

// Day takes the day a time falls on, in the time's own zone.
func Day(t time.Time) Date {
	y, m, d := t.Date()
	return Date{time.Date(y, m, d, 0, 0, 0, 0, time.UTC)}
}

// MaybeDay is Day for a day that may be missing.
func MaybeDay(t *time.Time) *Date {
	if t == nil {
		return nil
	}
	d := Day(*t)
	return &d
}

// Time gives the day as time, nil where it was left out.
func (d *Date) Ptr() *time.Time {
	if d == nil {
		return nil
	}
	return &d.Time
}

// MarshalGQL writes 2026-10-14.
func (d Date) MarshalGQL(w io.Writer) { _, _ = io.WriteString(w, d.Format(`"2006-01-02"`)) }

// UnmarshalGQL reads 2026-10-14, years 1800 to 2200.
func (d *Date) UnmarshalGQL(v any) error {
	text, err := graphql.UnmarshalString(v)
	if err != nil {
		return errors.New("a day is a string, 2026-10-14")
	}
	t, err := time.Parse(time.DateOnly, text)
	if err != nil || t.Year() < 1800 || t.Year() > 2200 {
		return errors.New("a day is written 2026-10-14, between 1800 and 2200")
	}
	d.Time = t
	return nil
}

// Time is an instant, answered in UTC.
type Time struct{ time.Time }

// At makes an instant.
func At(t time.Time) Time { return Time{t} }

// MaybeAt is At for an instant that may be missing.
func MaybeAt(t *time.Time) *Time {
	if t == nil {
		return nil
	}
	return &Time{*t}
}

// Ptr gives the instant as time, nil where it was left out.
func (t *Time) Ptr() *time.Time {
	if t == nil {
		return nil
	}
	return &t.Time
}

// MarshalGQL writes RFC 3339 in UTC.
func (t Time) MarshalGQL(w io.Writer) {
	_, _ = w.Write(t.UTC().AppendFormat(make([]byte, 0, 32), `"2006-01-02T15:04:05.999999Z07:00"`))
}

// UnmarshalGQL reads RFC 3339 with its offset, years 1800 to 2200, to the microsecond.
func (t *Time) UnmarshalGQL(v any) error {
	text, err := graphql.UnmarshalString(v)
	if err != nil {
		return errors.New("an instant is a string, 2026-10-14T09:00:00Z")
	}
	at, err := time.Parse(time.RFC3339Nano, text)
	if err != nil || at.Year() < 1800 || at.Year() > 2200 {
		return errors.New("an instant is written 2026-10-14T09:00:00Z or with an offset, between 1800 and 2200")
	}
	t.Time = at.UTC().Truncate(time.Microsecond)
	return nil
}

// Sha256 is a hash as 64 hexadecimal digits.
type Sha256 []byte

// MarshalGQL writes lower-case digits.
func (s Sha256) MarshalGQL(w io.Writer) { _, _ = io.WriteString(w, `"`+hex.EncodeToString(s)+`"`) }

// UnmarshalGQL reads 64 hexadecimal digits.
func (s *Sha256) UnmarshalGQL(v any) error {
	text, err := graphql.UnmarshalString(v)
	if err != nil {
		return errors.New("a hash is a string")
	}
	b, err := hex.DecodeString(text)
	if err != nil || len(b) != 32 {
		return errors.New("a SHA-256 is 64 hexadecimal digits")
	}
	*s = b
	return nil
}

// JSON is an object passed through as it is.
type JSON json.RawMessage

// MarshalGQL writes the bytes, null where there are none.
func (j JSON) MarshalGQL(w io.Writer) {
	if len(j) == 0 {
		_, _ = io.WriteString(w, "null")
		return
	}
	_, _ = w.Write(j)
}

// UnmarshalGQL keeps what was sent.
func (j *JSON) UnmarshalGQL(v any) error {
	b, err := json.Marshal(v)
	if err != nil {
		return errors.New("must be a JSON value")
	}
	*j = b
	return nil
}

// Raw gives the bytes, nil where it was left out or null.
func (j JSON) Raw() json.RawMessage {
	if len(j) == 0 || string(j) == "null" {
		return nil
	}
	return json.RawMessage(j)
}

// MarshalJSON writes the day as GraphQL does.
func (d Date) MarshalJSON() ([]byte, error) { return []byte(d.Format(`"2006-01-02"`)), nil }

// MarshalJSON writes the hash as GraphQL does.
func (s Sha256) MarshalJSON() ([]byte, error) { return []byte(`"` + hex.EncodeToString(s) + `"`), nil }

// MarshalJSON writes the value as it is.
func (j JSON) MarshalJSON() ([]byte, error) {
	if len(j) == 0 {
		return []byte("null"), nil
	}
	return j, nil
}
