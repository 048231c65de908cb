// Package strict reads one JSON object the way the service takes them: UTF-8, one value,
// no key twice, no half of a surrogate pair, no control characters, and no deeper, longer
// or larger than its limits. The standard decoder lets all of these pass (the last of two
// equal keys wins, a lone surrogate becomes U+FFFD), and what two readers of one body
// understand differently is how checks are got round.
package strict

import (
	"encoding/json"
	"strconv"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// Limits bounds an object.
type Limits struct {
	Depth  int // nested objects and lists
	List   int // elements of one list
	Values int // values in all
}

// Error says what is wrong, in words that hold nothing of the input, and where.
type Error struct {
	Path []string // keys and indices; the caller's own words
	Text string
}

func (e *Error) Error() string { return e.Text }

// Object reads a body that is one object. Numbers stay as written (json.Number).
func Object(body []byte, limits Limits) (map[string]any, error) {
	if !utf8.Valid(body) {
		return nil, &Error{Text: "The body is not UTF-8."}
	}
	r := &reader{rest: body, limits: limits}
	r.space()
	if r.peek() != '{' {
		return nil, &Error{Text: "The body must be one JSON object."}
	}
	v, err := r.value(1)
	if err != nil {
		return nil, err
	}
	if r.space(); len(r.rest) > 0 {
		return nil, r.fault("The body must be one JSON object and nothing after it.")
	}
	return v.(map[string]any), nil
}

type reader struct {
	rest   []byte
	path   []string
	values int
	limits Limits
}

func (r *reader) fault(text string) error {
	return &Error{Path: append([]string(nil), r.path...), Text: text}
}

func (r *reader) broken() error { return r.fault("The body is not well-formed JSON.") }

func (r *reader) space() {
	for len(r.rest) > 0 && (r.rest[0] == ' ' || r.rest[0] == '\n' || r.rest[0] == '\t' || r.rest[0] == '\r') {
		r.rest = r.rest[1:]
	}
}

// peek gives the next byte, 0 at the end; a zero byte is no JSON anywhere.
func (r *reader) peek() byte {
	if len(r.rest) == 0 {
		return 0
	}
	return r.rest[0]
}

func (r *reader) take(c byte) bool {
	if r.peek() != c {
		return false
	}
	r.rest = r.rest[1:]
	return true
}

func (r *reader) value(depth int) (any, error) {
	if r.values++; r.values > r.limits.Values {
		return nil, r.fault("The body holds more than " + strconv.Itoa(r.limits.Values) + " values; send less at a time.")
	}
	switch c := r.peek(); {
	case c == '{' || c == '[':
		if depth > r.limits.Depth {
			return nil, r.fault("The body is nested more than " + strconv.Itoa(r.limits.Depth) + " deep.")
		}
		r.rest = r.rest[1:]
		if c == '{' {
			return r.object(depth)
		}
		return r.list(depth)
	case c == '"':
		return r.text()
	case c == '-' || c >= '0' && c <= '9':
		return r.number()
	case r.word("true"):
		return true, nil
	case r.word("false"):
		return false, nil
	case r.word("null"):
		return nil, nil
	}
	return nil, r.broken()
}

func (r *reader) word(w string) bool {
	if !strings.HasPrefix(string(r.rest[:min(len(w), len(r.rest))]), w) {
		return false
	}
	r.rest = r.rest[len(w):]
	return true
}

func (r *reader) object(depth int) (any, error) {
	out := map[string]any{}
	if r.space(); r.take('}') {
		return out, nil
	}
	for {
		r.space()
		if r.peek() != '"' {
			return nil, r.broken()
		}
		key, err := r.text()
		if err != nil {
			return nil, err
		}
		if _, twice := out[key]; twice {
			return nil, r.fault("An object has the same key twice.")
		}
		if r.space(); !r.take(':') {
			return nil, r.broken()
		}
		r.space()
		r.path = append(r.path, key)
		if out[key], err = r.value(depth + 1); err != nil {
			return nil, err
		}
		r.path = r.path[:len(r.path)-1]
		r.space()
		if r.take('}') {
			return out, nil
		}
		if !r.take(',') {
			return nil, r.broken()
		}
	}
}

func (r *reader) list(depth int) (any, error) {
	out := []any{}
	if r.space(); r.take(']') {
		return out, nil
	}
	for {
		if len(out) == r.limits.List {
			return nil, r.fault("A list has more than " + strconv.Itoa(r.limits.List) + " elements; send less at a time.")
		}
		r.space()
		r.path = append(r.path, strconv.Itoa(len(out)))
		v, err := r.value(depth + 1)
		if err != nil {
			return nil, err
		}
		r.path = r.path[:len(r.path)-1]
		out = append(out, v)
		r.space()
		if r.take(']') {
			return out, nil
		}
		if !r.take(',') {
			return nil, r.broken()
		}
	}
}

// number keeps the digits as written; -0, 1e5 and 1.50 are what they are.
func (r *reader) number() (any, error) {
	n := 0
	digits := func() bool {
		from := n
		for n < len(r.rest) && r.rest[n] >= '0' && r.rest[n] <= '9' {
			n++
		}
		return n > from
	}
	at := func(set string) bool { return n < len(r.rest) && strings.IndexByte(set, r.rest[n]) >= 0 }
	if at("-") {
		n++
	}
	if leading := at("0"); leading {
		n++
	} else if !digits() {
		return nil, r.broken()
	}
	if at(".") {
		if n++; !digits() {
			return nil, r.broken()
		}
	}
	if at("eE") {
		if n++; at("+-") {
			n++
		}
		if !digits() {
			return nil, r.broken()
		}
	}
	if n > 40 {
		return nil, r.fault("A number has more than 40 characters.")
	}
	text := json.Number(r.rest[:n])
	r.rest = r.rest[n:]
	return text, nil
}

func (r *reader) text() (string, error) {
	body := r.rest[1:]
	end, plain := 0, true
	for ; ; end++ {
		if end >= len(body) {
			return "", r.broken()
		}
		if c := body[end]; c == '"' {
			break
		} else if c < ' ' {
			return "", r.broken()
		} else if c == '\\' {
			plain = false
			end++
		}
	}
	raw := string(body[:end])
	r.rest = body[end+1:]
	if !plain {
		var err error
		if raw, err = r.unescape(raw); err != nil {
			return "", err
		}
	}
	if !Clean(raw) {
		return "", r.fault("Text may not hold control characters other than tab and line end, nor those that turn the direction of writing round.")
	}
	return raw, nil
}

var escapes = map[byte]byte{'"': '"', '\\': '\\', '/': '/', 'b': '\b', 'f': '\f', 'n': '\n', 'r': '\r', 't': '\t'}

func (r *reader) unescape(raw string) (string, error) {
	var out strings.Builder
	out.Grow(len(raw))
	for i := 0; i < len(raw); {
		if raw[i] != '\\' {
			out.WriteByte(raw[i])
			i++
			continue
		}
		if i++; raw[i] != 'u' {
			c, known := escapes[raw[i]]
			if !known {
				return "", r.broken()
			}
			out.WriteByte(c)
			i++
			continue
		}
		unit, err := r.unit(raw[i-1:])
		if err != nil {
			return "", err
		}
		i += 5
		if utf16.IsSurrogate(unit) {
			second, err := r.unit(raw[i:])
			unit = utf16.DecodeRune(unit, second)
			if err != nil || unit == utf8.RuneError {
				return "", r.fault("Text holds half of a surrogate pair.")
			}
			i += 6
		}
		out.WriteRune(unit)
	}
	return out.String(), nil
}

// unit reads \uXXXX at the start of s.
func (r *reader) unit(s string) (rune, error) {
	if len(s) < 6 || s[0] != '\\' || s[1] != 'u' {
		return 0, r.broken()
	}
	n, err := strconv.ParseUint(s[2:6], 16, 16)
	if err != nil {
		return 0, r.broken()
	}
	return rune(n), nil
}

// Clean tells whether text holds nothing that a database refuses or that makes a screen
// show something other than what was written: C0 controls but for tab and line ends, and
// the two direction overrides.
func Clean(text string) bool {
	for _, c := range text {
		switch {
		case c < ' ' && c != '\t' && c != '\n' && c != '\r', c == '\u202d', c == '\u202e':
			return false
		}
	}
	return true
}
