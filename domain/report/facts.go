package report

import (
	"fmt"
	"strings"
)

type facts []Fact

func (f *facts) add(name, is string) {
	if is != "" {
		*f = append(*f, Fact{Name: name, Is: is})
	}
}

// boatFacts words "The boat".
func boatFacts(in Input) []Fact {
	var f facts
	b := in.Boat
	var what []string
	if b.Type != "" {
		what = append(what, b.Type)
	}
	if b.LengthMM > 0 {
		what = append(what, Metres(b.LengthMM, in.Units))
	}
	if b.Moulded != "" {
		what = append(what, "moulded "+b.Moulded)
	}
	f.add("vessel", strings.Join(what, ", "))
	f.add("formerly", strings.Join(in.Vessel.Former, ", "))
	if in.Vessel.HullNumber != "" {
		f.add("hull no.", strings.Join(nonEmpty(in.Vessel.HullNumber, b.HullRead), ", "))
	}
	f.add("registered", in.Vessel.Registered)
	f.add("underbody", strings.Join(b.Underbody, "; "))
	f.add("bared", windowsWords(in.Windows))
	f.add("afloat", afloatWords(in))
	return append(f, b.More...)
}

func windowsWords(w *WindowsInput) string {
	if w == nil || w.Count == 0 {
		return "nothing"
	}
	s := Count(w.Count, "window", "windows")
	if !w.OtherShapes && w.Width > 0 {
		s += fmt.Sprintf(" of %d%s×%s%d%smm", w.Width, nb, nb, w.Height, nb)
	}
	if w.To != "" {
		s += ", " + w.To
	}
	return s + ": " + SquareMetres(w.M2) + " together"
}

func afloatWords(in Input) string {
	b := in.Boat
	parts := nonEmpty(b.Water)
	if b.MonthsIn != nil {
		parts = append(parts, Count(*b.MonthsIn, "month", "months")+" since the last launch")
	}
	s := strings.Join(parts, ", ")
	if b.Relaunch != nil {
		s = strings.Join(nonEmpty(s, "relaunch planned for "+in1(in, *b.Relaunch)), "; ")
	}
	return s
}

// takenFacts words "How it was read", from the pass the report speaks of.
func takenFacts(in Input) []Fact {
	if len(in.Today) == 0 {
		return nil
	}
	return passFacts(in, in.Today[0])
}

func passFacts(in Input, p PassInput) []Fact {
	var f facts
	f.add("instrument", strings.Join(nonEmpty(p.Instrument, scaleWords(p)), ", "))
	f.add("block check", blockWords(p))
	f.add("surface", surfaceWords(p))
	f.add("air", airWords(in.Units, p))
	f.add("baseline", baselineWords(p))
	f.add("surveyor", p.Surveyor)
	return f
}

func blockWords(p PassInput) string {
	say := func(xs []float64, when string) string {
		if len(xs) == 0 {
			return "not read " + when
		}
		parts := make([]string, 0, len(xs))
		for _, x := range xs {
			parts = append(parts, Tenths(x))
		}
		return strings.Join(parts, " and ") + " " + when
	}
	return say(p.BlockBefore, "before") + ", " + say(p.BlockAfter, "after")
}

func surfaceWords(p PassInput) string {
	s := orElse(p.Surface, "underbody’s not written down")
	if p.DrySurface != "" {
		s = strings.Join(nonEmpty("underbody "+p.Surface, "topsides "+p.DrySurface), ", ")
	}
	if p.WashHours != nil {
		s += "; washed " + hoursWords(*p.WashHours) + " before"
	}
	if p.HeatHours != nil {
		s += "; heat off " + hoursWords(*p.HeatHours) + " before"
	}
	if p.Rain != "" {
		s += "; " + p.Rain
	}
	return s
}

func airWords(u Units, p PassInput) string {
	var parts []string
	if p.Air != nil {
		parts = append(parts, Temperature(*p.Air, u))
	}
	if p.Humidity != nil {
		parts = append(parts, Whole(*p.Humidity)+nb+"%"+nb+"RH")
	}
	s := orElse(strings.Join(parts, ", "), "not written down")
	var skin []string
	if p.SkinPort != nil {
		skin = append(skin, Temperature(*p.SkinPort, u)+" port")
	}
	if p.SkinStarboard != nil {
		skin = append(skin, Temperature(*p.SkinStarboard, u)+" starboard")
	}
	if len(skin) > 0 {
		s += "; skin " + strings.Join(skin, ", ")
	}
	return s
}

func baselineWords(p PassInput) string {
	words := "none: " + orElse(p.NoBaseline, "its dry places were too few")
	if b := p.Baseline; b != nil {
		words = fmt.Sprintf("%s, median %s, scatter %s (1.4826%s×%sMAD)", Count(b.Places, "place", "places"), Tenths(b.Median), Tenths(b.Scatter), nb, nb)
	}
	return strings.Join(nonEmpty(words, DryChanged(p.DryChanged)), "; ")
}

// DryChanged says that the dry places of a pass are others than those of the plan before it,
// in the words of whoever changed them; nothing where they are the same.
func DryChanged(reason string) string {
	if reason == "" {
		return ""
	}
	return "dry places differ from the plan before: " + reason
}

func nonEmpty(words ...string) []string {
	out := make([]string, 0, len(words))
	for _, w := range words {
		if w != "" {
			out = append(out, w)
		}
	}
	return out
}
