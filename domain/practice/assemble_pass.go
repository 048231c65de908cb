package practice

import (
	"encoding/json"
	"maps"
	"slices"
	"strings"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/report"
)

// passInput lays out one of today's passes as the report takes it.
func passInput(p HistoryPass, src Sources) report.PassInput {
	in := report.PassInput{
		ID: "pas_" + p.ID.String(), At: p.BeganAt, Zone: yardZone(p.PassContext), Element: "hull", Instrument: orElse(p.InstrumentName, p.InstrumentAsWritten),
		ScaleLow: float64(p.LowTenths) / 10, ScaleHigh: float64(p.HighTenths) / 10, Mode: p.ScaleMode, Face: p.Face, Ashore: ashoreInput(p.PassContext),
		Surveyor: orElse(p.HandName, p.HandAsWritten), Surface: p.Surface, DrySurface: p.DrySurface, WashHours: number(p.HoursSinceWash, 1),
		HeatHours: number(p.HoursSinceHeatOff, 1), Rain: p.Rain, Air: number(p.AirDecidegrees, 10), Humidity: number(p.HumidityPermille, 10),
		SkinPort: number(p.SkinPortDecidegrees, 10), SkinStarboard: number(p.SkinStarboardDecidegrees, 10),
		BlockBefore: blocks(p.BlockChecks, "before"), BlockAfter: blocks(p.BlockChecks, "after"),
	}
	in.DryChanged = p.Plan.DryChangeReason
	if p.Baseline.Valid() {
		in.Baseline = &report.BaselineInput{Places: p.Baseline.N, Median: float64(p.Baseline.Median.Low) / 40, Scatter: p.Baseline.Scatter}
		in.Edges = Edges(p.Baseline.Scatter, src.Facts.ContrastEdges)
		in.Above = medianAbove(p, src.History.Axis)
	} else {
		var why []string
		for _, r := range p.Baseline.Reasons {
			why = append(why, r.Said())
		}
		in.NoBaseline = orElse(strings.Join(why, "; "), "no dry place was read")
	}
	in.Readings = readingInputs(p, src)
	return in
}

// Edges gives the four edges of the value scale of a pass, in scale units: the first is
// 2.5 times the baseline's scatter, the others are the practice's, kept in rising order.
func Edges(scatter float64, practice []int16) [4]float64 {
	e := [4]float64{2.5 * scatter}
	for k := 1; k < 4; k++ {
		if k-1 < len(practice) {
			e[k] = float64(practice[k-1])
		}
		e[k] = max(e[k], e[k-1])
	}
	return e
}

func number(x *int16, per float64) *float64 {
	if x == nil {
		return nil
	}
	f := float64(*x) / per
	return &f
}

// blocks gives the low and the high block of one moment, in scale units.
func blocks(checks []BlockCheck, moment string) []float64 {
	var out []float64
	for _, block := range []string{"low", "high"} {
		for _, c := range checks {
			if c.Moment == moment && c.Block == block {
				out = append(out, float64(c.ValueTenths)/10)
				break
			}
		}
	}
	return out
}

// medianAbove is the median contrast of the underbody on the pass's own surface, scale units.
func medianAbove(p HistoryPass, axis Axis) *float64 {
	var above []int32
	for k, c := range p.Contrasts {
		if c != Null && p.Flags.At(k)&(FlagDry|FlagTargeted|FlagOtherSurface) == 0 && axis.Down.At(k) > 0 {
			above = append(above, c)
		}
	}
	if len(above) == 0 {
		return nil
	}
	slices.Sort(above)
	n := len(above)
	m := float64(above[(n-1)/2]+above[n/2]) / 40
	return &m
}

// readingInputs lists the places of a pass in plan order: read, void and not reached.
func readingInputs(p HistoryPass, src Sources) []report.ReadingInput {
	axis := src.History.Axis
	entries, gaps := map[int32]EntryAt{}, map[int32]string{}
	for _, e := range src.Entries {
		if e.PassID == p.ID {
			entries[e.Ordinal] = e
		}
	}
	for _, g := range src.Gaps {
		if g.PassID == p.ID {
			gaps[g.Ordinal] = g.Reason
		}
	}
	var out []report.ReadingInput
	for _, o := range planOf(p, src) {
		k := int(o) - 1
		if k < 0 || k >= len(axis.IDs) {
			continue
		}
		x := report.ReadingInput{
			Place: twinless(axis, k), At: spot(axis, k), Dry: p.Flags.At(k)&FlagDry != 0, Follow: p.Flags.At(k)&FlagFollowUp != 0,
			Station: int(max(axis.Stations.At(k), 0)), Row: int(max(axis.Rows.At(k), 0)),
		}
		e, read := entries[o]
		switch why, gap := gaps[o]; {
		case gap:
			x.Gap, x.Why = report.Unread, why
		case !read:
			x.Gap, x.Why = report.Unread, noReason
		case e.VoidReason != "":
			x.Gap, x.Why = report.Void, e.VoidReason
		default:
			x.Value, x.Surface = exact(p, k, e), e.Surface
			for _, t := range e.Placements {
				x.Placements = append(x.Placements, measure.Value{At: measure.FromTenths(int32(t))})
			}
			if c := p.Contrasts.At(k); c != Null {
				units := float64(c) / 20
				x.Contrast = &units
			}
		}
		out = append(out, x)
	}
	return out
}

// noReason stands where a place of the plan has neither a reading nor a word why not.
const noReason = "no reason written down"

// unread lists the places of a pass's plan that have neither.
func unread(p HistoryPass, src Sources) (places []int32) {
	known := map[int32]bool{}
	for _, e := range src.Entries {
		if e.PassID == p.ID {
			known[e.Ordinal] = true
		}
	}
	for _, g := range src.Gaps {
		if g.PassID == p.ID {
			known[g.Ordinal] = true
		}
	}
	for _, o := range planOf(p, src) {
		if !known[o] {
			places = append(places, o)
		}
	}
	return places
}

// exact gives a reading's value with the bounds that the grid leaves out.
func exact(p HistoryPass, k int, e EntryAt) measure.Value {
	v, _ := p.value(k)
	if v.Limit == measure.Range && e.Low != nil && e.High != nil {
		v.Low, v.High = measure.Twentieth(*e.Low), measure.Twentieth(*e.High)
	}
	return v
}

func planOf(p HistoryPass, src Sources) []int32 {
	for _, plan := range src.Plans {
		if plan.PassID == p.ID {
			return plan.Places
		}
	}
	return nil
}

// twinless names a place so that it is told from its mirror twin, which may have the same label.
func twinless(axis Axis, k int) string { return axis.Sides[k] + " " + axis.Labels[k] }

func spot(axis Axis, k int) report.Spot {
	return report.Spot{Side: report.Side(axis.Sides[k]), Along: int(axis.Along[k]), Down: int(axis.Down[k])}
}

// hullInputs gives the figures of the vessel's hulls, with what lies behind their skin.
func hullInputs(src Sources) []report.Hull {
	var out []report.Hull
	for _, e := range src.Elements {
		if e.Kind != "hull" || len(e.Figure) == 0 {
			continue
		}
		h := report.Hull{Element: "hull", Shape: e.Figure, Stations: stationsOf(src.History.Axis), Rows: rowsOf(src.History.Axis)}
		for _, l := range src.Layers {
			if l.ElementID == e.ID && l.Kind == "behind" && l.ValidTo == nil {
				behind(&h, layerInput(l))
			}
		}
		for _, b := range src.Windows {
			h.Bared = append(h.Bared, report.Spot{Side: report.Side(b.Side), Along: int(b.AlongMm), Down: int(b.DownMm)})
		}
		out = append(out, h)
	}
	return out
}

// behind puts a layer on the hull: what is a single point goes through the skin.
func behind(h *report.Hull, l report.Layer) {
	if len(l.Outline) == 1 {
		at := report.Spot{Side: l.Side, Along: l.Outline[0][0], Down: l.Outline[0][1]}
		h.Fittings = append(h.Fittings, report.Fitting{Name: l.Name, At: at})
		return
	}
	h.Layers = append(h.Layers, l)
}

func layerInput(l Layer) report.Layer {
	out := report.Layer{Name: l.What, Side: report.Centre, Kind: "outline"}
	if l.Side != nil {
		out.Side = report.Side(*l.Side)
	}
	var detail struct{ Kind string }
	if json.Unmarshal(l.Detail, &detail) == nil && detail.Kind != "" {
		out.Kind = detail.Kind
	}
	_ = json.Unmarshal(l.Outline, &out.Outline) // checked when it was kept
	return out
}

// stationsOf gives where the stations of the places lie, from aft: each at the median of
// its places.
func stationsOf(axis Axis) []report.Station {
	at := map[int32][]int32{}
	for k := range axis.IDs {
		if n := axis.Stations.At(k); n != Null && n > 0 {
			at[n] = append(at[n], axis.Along[k])
		}
	}
	var out []report.Station
	for _, n := range slices.Sorted(maps.Keys(at)) {
		slices.Sort(at[n])
		out = append(out, report.Station{Number: int(n), Along: int(at[n][len(at[n])/2])})
	}
	return out
}

// rowsOf gives how far down the skin rows 0, 1, … lie: the median of their places.
func rowsOf(axis Axis) []int {
	at := map[int32][]int32{}
	most := int32(-1)
	for k := range axis.IDs {
		if r := axis.Rows.At(k); r != Null && r >= 0 && r < 40 {
			at[r] = append(at[r], axis.Down[k])
			most = max(most, r)
		}
	}
	var out []int
	for r := int32(0); r <= most; r++ {
		list := at[r]
		if len(list) == 0 {
			return out
		}
		slices.Sort(list)
		out = append(out, int(list[len(list)/2]))
	}
	return out
}
