package strict_test

import (
	"bytes"
	"encoding/json"
	"reflect"
	"strings"
	"testing"

	"boottop.example/practice/graph/strict"
)

var wide = strict.Limits{Depth: 20, List: 100, Values: 1000}

func TestObject(t *testing.T) {
	t.Parallel()
	got, err := strict.Object([]byte(" {\"a\" : [ 1 , -0.5e+3, true,false,null ,\"x\\n\\u00e9\\ud83d\\ude00\\/\"], \"b\":{}\t}\r\n"), wide)
	want := map[string]any{
		"a": []any{json.Number("1"), json.Number("-0.5e+3"), true, false, nil, "x\n\u00e9\U0001f600/"},
		"b": map[string]any{},
	}
	if err != nil || !reflect.DeepEqual(got, want) {
		t.Errorf("got %#v, %v", got, err)
	}
}

func TestWhereAFaultIs(t *testing.T) {
	t.Parallel()
	_, err := strict.Object([]byte(`{"variables":{"input":{"names":["a","b\u0000"]}}}`), wide)
	fault, ok := err.(*strict.Error)
	if !ok || strings.Join(fault.Path, ".") != "variables.input.names.1" {
		t.Errorf("got %#v", err)
	}
}

func TestClean(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]bool{
		"": true, "two\nlines\tand\r": true, "שלום": true, "مرحبا": true, "a\u200fb": true,
		"\x00": false, "a\x1bb": false, "\u202e": false, "\u202d": false,
	} {
		if strict.Clean(text) != want {
			t.Errorf("%q: want %v", text, want)
		}
	}
}

// FuzzObject holds the reader against the standard library's: what it takes, the other
// takes too and reads the same; what the other refuses, it refuses.
func FuzzObject(f *testing.F) {
	for _, s := range []string{
		`{}`, `{"a":1}`, `{"a":[{},[],"",null,1e-5]}`, `{"a":"\ud83d\ude00"}`, `{"a":"\ud83d"}`, `{"a":1,"a":2}`, `{"a":01}`, `{"a":-}`, `{"a":1.}`,
		`{"a":"\x"}`, `{"a":"` + "\x01" + `"}`, `[1]`, `{"a":tru}`, `{"a":1}x`, `{"\u0061":1,"a":2}`, `{"a":"\\"}`, `{"a":"\u12"}`, `{`, `{"a`, `{"a"`, `{"a":`, `{"a":1,`,
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, body []byte) {
		got, err := strict.Object(body, wide)
		d := json.NewDecoder(bytes.NewReader(body))
		d.UseNumber()
		var want map[string]any
		theirs := d.Decode(&want)
		if err != nil {
			return // stricter: that is what it is for
		}
		if theirs != nil {
			t.Fatalf("taken, and the standard library says %v: %q", theirs, body)
		}
		if !reflect.DeepEqual(got, want) {
			t.Fatalf("%q is read as %#v, by the standard library as %#v", body, got, want)
		}
	})
}
