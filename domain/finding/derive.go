package finding

import (
	"encoding/json"
	"fmt"
	"strings"

	"boottop.example/practice/domain/measure/coverage"
	"boottop.example/practice/domain/measure/order"
	"boottop.example/practice/domain/measure/timber"
	"boottop.example/practice/domain/measure/unit"
	"boottop.example/practice/domain/report"
)

// Facts say what was measured, each with its unit, and then what follows from it, marked
// as derived. Both are empty for a finding without a form.
func Facts(code string, measured json.RawMessage) (facts, derived []report.Fact) {
	f, known := FormOf(code)
	if !known {
		return nil, nil
	}
	v := f.Read(measured)
	for _, d := range f.Fields {
		if is := d.say(v[d.Name]); is != "" {
			facts = append(facts, report.Fact{Name: lower(d.Label), Is: is})
		}
	}
	if derive := derivations[code]; derive != nil {
		derived = derive(v)
	}
	return facts, derived
}

// say writes a value with its unit.
func (d Field) say(x any) string {
	unit := ""
	if d.Unit != "" {
		unit = "\u00a0" + d.Unit
	}
	switch x := x.(type) {
	case float64:
		return report.Plain(x) + unit
	case []float64:
		list := make([]string, len(x))
		for k, v := range x {
			list[k] = report.Plain(v)
		}
		return strings.Join(list, ", ") + unit
	case string:
		return x
	}
	return ""
}

// Name is what a finding of a form is called: the note under the hammer by what it said.
func Name(code string, measured json.RawMessage) string {
	f, _ := FormOf(code)
	v := f.Read(measured)
	switch {
	case code == Sounding:
		return v.words("note") + " note"
	case code == Core && wetWood(v):
		return "wet core"
	}
	return f.Name
}

func lower(label string) string {
	if strings.HasPrefix(label, "pH") {
		return label
	}
	return strings.ToLower(label[:1]) + label[1:]
}

var derivations = map[string]func(Values) []report.Fact{
	Blisters: blisters, Weep: func(v Values) []report.Fact { return acidity(v, nil) }, Bond: bond, Hardness: hardness,
	Thickness: thickness, Core: core, Timber: wood,
}

// blisters derives density and class of what was counted. The class is that of the
// diameters measured, at the density of all that were counted.
func blisters(v Values) (out []report.Fact) {
	count, _ := v.number("count")
	width, _ := v.number("widthMm")
	height, _ := v.number("heightMm")
	m2 := width * height / 1e6
	if count == 0 {
		if bound, err := coverage.None(m2, 0.95); err == nil {
			out = append(out, report.NoneCounted(m2, bound.Upper))
		}
		return out
	}
	if d, err := coverage.Density(int(count), m2, 0.95); err == nil {
		out = append(out, report.CountedDensity(int(count), m2, d.Value, d.Lower, d.Upper))
	}
	sizes := v.numbers("diametersMm")
	diameters := make([]unit.Millimetres, len(sizes))
	for k, d := range sizes {
		diameters[k] = unit.Millimetres(d)
	}
	if c, err := coverage.ClassOf(int(count), diameters, m2, coverage.StartingPictures()); err == nil {
		out = append(out, report.BlisterClass(c.ISO, c.Grade, c.Frequency, len(sizes), int(count), v.words("pictures")))
	} else {
		out = append(out, report.NoBlisterClass())
	}
	return acidity(v, out)
}

// acidity says on which side of neutral a liquid lies.
func acidity(v Values, out []report.Fact) []report.Fact {
	if x, tested := v.number("pH"); tested {
		return append(out, report.Acidity(x))
	}
	return out
}

func bond(v Values) []report.Fact {
	parted, a := v.number("partedMm")
	followed, b := v.number("followedMm")
	if !a || !b || followed == 0 || parted > followed {
		return nil
	}
	return []report.Fact{report.PartedOf(int(parted), int(followed))}
}

func hardness(v Values) []report.Fact {
	m, err := order.MomentsOf(v.numbers("values"))
	if err != nil {
		return nil
	}
	return []report.Fact{report.SeriesOf(m.N, m.Mean, m.SD, "", v.words("procedure"))}
}

func thickness(v Values) []report.Fact {
	values := v.numbers("valuesMm")
	middle, err := order.Middle(values)
	if err != nil {
		return nil
	}
	least := values[0]
	for _, x := range values {
		least = min(least, x)
	}
	out := []report.Fact{report.LeastAndMiddle(len(values), least, middle, "mm")}
	if v.words("method") == "ultrasonic" {
		out = append(out, report.SetVelocity(v.words("setBy")))
	}
	return out
}

// core derives the water that a sample lost. Wood states it on its dried weight, as the
// trade of timber does; of laminate and foam only the weight lost is told: no share of
// water is ever said of glass fibre.
func core(v Values) []report.Fact {
	wet, a := v.number("wetGrams")
	dry, b := v.number("dryGrams")
	if !a || !b {
		return nil
	}
	if share, ok := MoistureOfWood(v.words("material"), wet, dry); ok {
		return []report.Fact{report.LostOnDrying(wet-dry, share, v.words("material"))}
	}
	return []report.Fact{report.LostGrams(wet-dry, v.words("material"))}
}

// MoistureOfWood is the moisture content of a sample of timber in percent of its mass
// oven-dried: 100·(wet − dry)/dry, Wood Handbook (FPL-GTR-190, 2010), ch. 4; ok is false
// for what is no wood.
//
//	wet, dry  grams, above zero
func MoistureOfWood(material string, wet, dry float64) (percent float64, ok bool) {
	switch material {
	case "balsa", "plywood", "solid timber":
		return 100 * (wet - dry) / dry, dry > 0 && wet >= dry
	}
	return 0, false
}

// wetWood tells whether a sample of wood held free water: above fibre saturation.
func wetWood(v Values) bool {
	wet, a := v.number("wetGrams")
	dry, b := v.number("dryGrams")
	if a && b {
		share, ok := MoistureOfWood(v.words("material"), wet, dry)
		return ok && share > float64(timber.FibreSaturation)
	}
	return v.words("looks") == "water ran from it"
}

func wood(v Values) []report.Fact {
	readings := v.numbers("readings")
	middle, err := order.Middle(readings)
	if err != nil {
		return nil
	}
	at, known := v.number("celsius")
	if !known {
		at = 20
	}
	pins := timber.Pins{
		Reading: timber.Percent(middle), At: unit.Celsius(at), CalibratedAt: 20,
		Salty: v.words("salt") == "yes", Corrected: v.words("corrected") == "yes",
	}
	band, notes, err := timber.Judge(pins)
	if err != nil {
		return nil
	}
	doubts := make([]string, 0, len(notes)+1)
	for _, n := range notes {
		doubts = append(doubts, n.Text)
	}
	if !known {
		doubts = append(doubts, "the wood’s temperature was not written down")
	}
	return []report.Fact{report.TimberBand(fmt.Sprint(band), len(readings), middle, doubts)}
}
