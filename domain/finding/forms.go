// Package finding holds what is measured of each kind of finding: which figures belong to
// it, with their units and limits, and what is derived from them. A class is always
// derived from counts and sizes; nobody types one.
package finding

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"

	"boottop.example/practice/domain"
)

// Takes says what a field holds.
type Takes string

// What a field may hold.
const (
	Number  Takes = "number"  // one figure
	Whole   Takes = "whole"   // a count
	Numbers Takes = "numbers" // several figures, in the order in which they were taken
	Choice  Takes = "choice"  // one of Field.Choices
	Words   Takes = "words"   // up to 400 letters
)

// Field is one thing to write down of a finding.
type Field struct {
	Name    string // its key in what is kept
	Label   string
	Takes   Takes
	Unit    string
	Least   float64 // of each figure
	Most    float64
	Choices []string
	Needed  bool
	Help    string
}

// Form is what belongs to one kind of finding: only what that kind needs.
type Form struct {
	Code    string
	Name    string // as a finding of it is called
	Asks    string // one line of what to look at
	Caution string // where the step can hurt somebody
	Fields  []Field
}

const (
	mostNumbers = 200
	mostWords   = 400
)

// Values are what was measured, by field: float64, []float64 or string.
type Values map[string]any

// FormOf finds a form by its code.
func FormOf(code string) (Form, bool) {
	k := slices.IndexFunc(forms, func(f Form) bool { return f.Code == code })
	if k < 0 {
		return Form{}, false
	}
	return forms[k], true
}

// Forms lists every form, in the order in which they are offered.
func Forms() []Form { return slices.Clone(forms) }

// Check reads what was measured under a form and gives it as it is kept. A field that
// the form does not have, one that is needed and missing, and a figure outside its
// limits are refused by name.
func (f Form) Check(raw json.RawMessage) (json.RawMessage, error) {
	v, err := f.read(raw)
	if err != nil {
		return nil, err
	}
	if err := f.together(v); err != nil {
		return nil, err
	}
	return json.Marshal(v) // of a map: keys in order, so that a repeat is byte for byte the same
}

// Read takes what was kept; what does not fit the form any more is left out.
func (f Form) Read(raw json.RawMessage) Values {
	given := map[string]json.RawMessage{}
	if json.Unmarshal(raw, &given) != nil {
		return Values{}
	}
	v := Values{}
	for _, field := range f.Fields {
		if x, err := field.read(given[field.Name]); err == nil && x != nil {
			v[field.Name] = x
		}
	}
	return v
}

func (f Form) read(raw json.RawMessage) (Values, error) {
	given := map[string]json.RawMessage{}
	if len(bytes.TrimSpace(raw)) > 0 && json.Unmarshal(raw, &given) != nil {
		return nil, domain.Invalidf("measured", "Measurements are an object of names and values.")
	}
	v := Values{}
	for _, field := range f.Fields {
		x, err := field.read(given[field.Name])
		if err != nil {
			return nil, err
		}
		if x != nil {
			v[field.Name] = x
		} else if field.Needed {
			return nil, domain.Invalidf(field.path(), "%s: this kind of finding needs it.", field.Label)
		}
		delete(given, field.Name)
	}
	for name := range given {
		return nil, domain.Invalidf("measured."+name, "A finding of this kind has no %q. It has %s.", name, f.names())
	}
	return v, nil
}

func (f Form) names() string {
	names := make([]string, len(f.Fields))
	for k, field := range f.Fields {
		names[k] = field.Name
	}
	return strings.Join(names, ", ")
}

func (d Field) path() string { return "measured." + d.Name }

// read takes one value; nil where nothing was written down.
func (d Field) read(raw json.RawMessage) (any, error) {
	if t := strings.TrimSpace(string(raw)); t == "" || t == "null" || t == `""` || t == "[]" {
		return nil, nil
	}
	switch d.Takes {
	case Number, Whole:
		var x float64
		if json.Unmarshal(raw, &x) != nil {
			return nil, domain.Invalidf(d.path(), "%s is a figure.", d.Label)
		}
		return x, d.fits(x, d.path())
	case Numbers:
		var list []float64
		if json.Unmarshal(raw, &list) != nil {
			return nil, domain.Invalidf(d.path(), "%s are figures.", d.Label)
		}
		if len(list) > mostNumbers {
			return nil, domain.Invalidf(d.path(), "%s: at most %d figures.", d.Label, mostNumbers)
		}
		for k, x := range list {
			if err := d.fits(x, fmt.Sprintf("%s[%d]", d.path(), k)); err != nil {
				return nil, err
			}
		}
		return list, nil
	default:
		return d.words(raw)
	}
}

func (d Field) words(raw json.RawMessage) (any, error) {
	var s string
	if json.Unmarshal(raw, &s) != nil {
		return nil, domain.Invalidf(d.path(), "%s is said in words.", d.Label)
	}
	switch s = strings.TrimSpace(s); {
	case s == "":
		return nil, nil
	case d.Takes == Choice && !slices.Contains(d.Choices, s):
		return nil, domain.Invalidf(d.path(), "%s is one of: %s.", d.Label, strings.Join(d.Choices, ", "))
	case len(s) > mostWords:
		return nil, domain.Invalidf(d.path(), "%s: keep it to %d letters.", d.Label, mostWords)
	}
	return s, nil
}

func (d Field) fits(x float64, path string) error {
	switch {
	case x < d.Least || x > d.Most:
		unit := d.Unit
		if unit != "" {
			unit = " " + unit
		}
		return domain.Invalidf(path, "%s lies between %g and %g%s.", d.Label, d.Least, d.Most, unit)
	case d.Takes == Whole && x != math.Trunc(x):
		return domain.Invalidf(path, "%s is a whole number.", d.Label)
	}
	return nil
}

// number is one figure; ok is false where it was not written down.
func (v Values) number(name string) (x float64, ok bool) {
	x, ok = v[name].(float64)
	return x, ok
}

func (v Values) numbers(name string) []float64 {
	list, _ := v[name].([]float64)
	return list
}

func (v Values) words(name string) string {
	s, _ := v[name].(string)
	return s
}

// together refuses what each field allows and all of them do not.
func (f Form) together(v Values) error {
	switch f.Code {
	case Blisters:
		count, _ := v.number("count")
		if n := len(v.numbers("diametersMm")); float64(n) > count {
			return domain.Invalidf("measured.diametersMm", "There are %d diameters of %g blisters. Count every blister in the area; measure all or some.", n, count)
		}
		if opened, given := v.number("opened"); given && opened > count {
			return domain.Invalidf("measured.opened", "More blisters were opened than counted.")
		}
	case Core:
		wet, weighed := v.number("wetGrams")
		if dry, dried := v.number("dryGrams"); dried && weighed && dry > wet {
			return domain.Invalidf("measured.dryGrams", "The sample weighs more dried than as taken. Look at both weights.")
		}
	}
	return nil
}
