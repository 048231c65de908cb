package practice

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain/finding"
	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/change"
	"boottop.example/practice/domain/measure/coverage"
	"boottop.example/practice/domain/measure/diffusion"
	"boottop.example/practice/domain/measure/unit"
	"boottop.example/practice/domain/report"
)

// Sources is everything a report is built from, as it is kept now.
type Sources struct {
	Practice        uuid.UUID
	Facts           ReportFacts
	Elements        []Element
	Layers          []Layer
	History         History
	Recommendations []Recommendation
	Windows         []Bared
	Findings        []Found
	Photos          []Printed
	PhotosToCome    int // of the job, that the report would print and that are not made yet
	PhotosNever     int // of which no picture can be made
	Gaps            []GapAt
	Entries         []EntryAt
	Plans           []PlanAt
	Permissions     []Permission
	Schedule        Schedule
	Examinations    []Examination
	Valuation       *Valuation
	Signer          string // name of whoever signs
	SignerAs        string
	SecondLook      string // name of whoever looked the draft through
	Editor          string // name of whoever wrote in it last
	Sections        []ReportSection
	Comments        []Comment
	Sent            *SentDraft // as it was last sent for review
	AuditHead       string
}

// ReportFacts is what a report says of job, client, boat and practice.
type ReportFacts struct {
	JobID            uuid.UUID
	JobNumber        string
	Kind             string
	Scope            string
	ClientID         *uuid.UUID
	VesselID         uuid.UUID
	ClientName       string
	ClientAs         string
	WetLook          bool // a visit of this job looked her over just after the lift
	Name             string
	BoatKind         string
	LoaMm            *int32
	MouldedYear      *int16
	HullNumberAsRead string
	HullNumberWhere  string
	Registry         string
	OfficialNumber   string
	Water            string
	MonthsAfloat     *int16
	PracticeName     string
	Address          string
	Email            string
	Phone            string
	TimeZone         string
	Units            string
	ContrastEdges    []int16
	ReviewRequired   bool
	SelfCheckHours   int32
	Invented         bool
	Signers          int32     // members who may put their name under a report
	VisitedAt        time.Time // of the last visit that was made, or else is planned; the epoch where there is none
	VisitZone        string
	Yard             string // where that was
	LeadName         string
	Qualification    string
	Former           []string
}

// Bared is a scrape window of the job.
type Bared struct {
	ID           uuid.UUID
	Side         string
	AlongMm      int32
	DownMm       int32
	WidthMm      int32
	HeightMm     int32
	BaredTo      string
	BlistersSeen int32
}

// Found is a finding of the job.
type Found struct {
	ID        uuid.UUID
	Form      string
	Kind      string
	Sure      string
	Text      string
	Measured  json.RawMessage
	Side      *string
	Outline   json.RawMessage
	OtherFace *uuid.UUID
	Places    []int32
	VisitID   uuid.UUID
}

// GapAt is a place that a pass could not read.
type GapAt struct {
	PassID  uuid.UUID
	Ordinal int32
	Reason  string
}

// EntryAt is what a pass of the job holds at a place, beside its value.
type EntryAt struct {
	PassID     uuid.UUID
	Ordinal    int32
	Placements []int16
	Surface    string
	VoidReason string
	Low        *int32
	High       *int32
}

// PlanAt is the order in which a pass was read.
type PlanAt struct {
	PassID uuid.UUID
	Places []int32
}

// kindTitles are the kinds of survey as a report's title says them.
var kindTitles = map[string]string{
	"pre-purchase": "Pre-purchase condition survey", "insurance": "Condition survey for insurance",
	"limited moisture": "Limited survey, moisture of the underbody", "damage": "Damage survey",
	"repair supervision": "Drying and repair, attendance report", "completion": "Completion survey after repair",
	"warranty": "Survey at the end of a guarantee", "valuation": "Valuation", "expert witness": "Expert's report",
}

// assemble builds a report from its sources: pure, so that a draft on the screen and
// the frozen report come from one place. left counts the passes and recommendations of
// earlier jobs that may not be told to this client.
func assemble(r Report, src Sources, issue report.Issue, now time.Time) (built report.Report, left int) {
	f := src.Facts
	where, err := time.LoadLocation(f.TimeZone)
	if err != nil {
		where = time.UTC
	}
	texts := filledTexts(r, src)
	in := report.Input{
		Issue: issue, Zone: where, GeneratedAt: now,
		Practice:  report.Practice{Name: f.PracticeName, Contact: lines(f.Address, f.Phone, f.Email)},
		Client:    report.Client{Name: f.ClientName, As: f.ClientAs},
		Vessel:    report.Vessel{ID: "vsl_" + f.VesselID.String(), Name: f.Name, Former: f.Former, HullNumber: f.HullNumberAsRead, Registered: strings.TrimSpace(f.Registry + " " + f.OfficialNumber)},
		Kind:      kindTitles[f.Kind],
		Scope:     paragraphs(texts.of("scope"), f.Scope),
		Boat:      boatInput(src),
		Hulls:     hullInputs(src),
		Lead:      paragraphs(texts.of("inShort")),
		Sections:  texts.sections(),
		AuditHead: src.AuditHead,
	}
	if f.Units == "imperial" {
		in.Units = report.Units{Feet: true, Fahrenheit: true}
	}
	if r.Title != "" {
		in.Kind = r.Title
	}
	if f.Invented {
		in.Invented = "An invented practice, harbour, boats and people: a demonstration."
	}
	if !issue.Draft {
		in.Signature = &report.Signature{Name: src.Signer, As: orElse(src.SignerAs, "surveyor")}
		in.Review = reviewWords(r, src)
	}
	today, earlier, untold := src.History.ofReport(r.JobID, f.ClientID)
	left += untold
	for _, p := range today {
		in.Today = append(in.Today, passInput(p, src))
	}
	in.Windows = windowsInput(src.Windows)
	if f.WetLook {
		in.Look = "wet, just after the lift"
	}
	in.BlistersFound = slices.ContainsFunc(src.Findings, countsBlisters)
	in.Limits = limitsInput(texts.of("limits"), src, today)
	for _, p := range earlier {
		in.Earlier, in.Compared = beside(in.Earlier, in.Compared, today[0], p, &src.History)
	}
	for _, rec := range src.Recommendations {
		if rec.JobID == r.JobID {
			in.Recommendations = append(in.Recommendations, recommendationInput(rec, where))
		}
	}
	for k, found := range src.Findings {
		in.Findings = append(in.Findings, findingInput(k+1, found, src))
	}
	in.Photos = photosInput(src)
	in.Schedule = scheduleInput(src)
	in.Valuation = valuationInput(src.Valuation)
	return report.Build(in), left
}

// ofReport tells the passes of a job, the newest first, from earlier ones that its client may
// be told of; left counts what may not be told. What was read since is no earlier visit.
func (h *History) ofReport(job uuid.UUID, client *uuid.UUID) (today, earlier []HistoryPass, left int) {
	for _, p := range slices.Backward(h.Passes) {
		switch {
		case p.JobID == job:
			today = append(today, p)
		case p.tellable(job, client):
			earlier = append(earlier, p)
		default:
			left++
		}
	}
	if len(today) == 0 {
		return nil, nil, left
	}
	return today, slices.DeleteFunc(earlier, func(p HistoryPass) bool { return p.BeganAt.After(today[0].BeganAt) }), left
}

// beside sets an earlier pass beside today's: the visit always, the comparison where the
// gate answers anything.
func beside(visits []report.VisitInput, compared []report.ComparisonInput, today, p HistoryPass, h *History) ([]report.VisitInput, []report.ComparisonInput) {
	st := standing(today, p, h.Components)
	visits = append(visits, report.VisitInput{
		At: p.BeganAt, Zone: yardZone(p.PassContext), AsWritten: p.dateWords(), Ashore: ashoreInput(p.PassContext), AshoreAsWritten: p.DaysAshoreAsWritten, Instrument: orElse(p.InstrumentName, p.InstrumentAsWritten),
		Surveyor: orElse(p.HandName, p.HandAsWritten), Standing: report.Standing(st.Standing), Why: p.why(st),
	})
	if !st.Standing.compares() {
		return visits, compared
	}
	g := h.gate(&p, &today, st)
	return visits, append(compared, comparisonInput(fmt.Sprintf("change-%d", len(compared)+1), g, today, p, st, h.Axis))
}

// why says why a pass stands as it does, and that its dry places were changed.
func (p HistoryPass) why(st Stood) string {
	return strings.Trim(st.Because()+"; "+report.DryChanged(p.Plan.DryChangeReason), "; ")
}

// yardZone is the zone of the yard where a pass was read; nil where it is not known.
func yardZone(p PassContext) *time.Location {
	if p.TimeZone == "" {
		return nil
	}
	return Zone(p.TimeZone)
}

// comparisonInput lays out a gate as the report takes it.
func comparisonInput(id string, g *Gate, today, p HistoryPass, st Stood, axis Axis) report.ComparisonInput {
	in := report.ComparisonInput{
		ID: id, Pass: "pas_" + today.ID.String(), Since: p.BeganAt, Zone: yardZone(p.PassContext), Standing: report.Standing(st.Standing), Why: st.Because(), How: st.Because(),
		Least: g.LeastChange, Compared: g.Comparable, OfPlaces: g.OfPlaces, DryPlaces: g.DryPlaces, AtLarge: g.atLarge(), Zones: g.areas(),
	}
	if g.LeastChange == nil && len(g.Untold) > 0 && !unmeasured(g.Untold[0].Code) {
		in.Untold = g.Untold[0].Text
		in.Todo = g.Untold[0].Todo
	}
	if what := g.explainedBy(); what != "" && g.Hull.Difference != nil {
		in.ExplainedBy, in.By = what, g.Hull.Difference.Value
	}
	for k, v := range g.Verdicts {
		if v != Null {
			in.Places = append(in.Places, placeChange(g, k, today, p, axis))
		}
	}
	return in
}

func placeChange(g *Gate, k int, today, p HistoryPass, axis Axis) report.PlaceChangeInput {
	out := report.PlaceChangeInput{
		Place: twinless(axis, k), Said: verdictOf(change.Answer(g.Verdicts[k]), g.Differences[k] > 0),
		Then: unitsOf(p.Contrasts.At(k)), Now: unitsOf(today.Contrasts.At(k)), By: unitsOf(g.Differences[k]),
		ThenLimit: limitOf(p, k), NowLimit: limitOf(today, k),
	}
	if g.Whys[k] != "" && out.Said == report.CannotTell {
		out.Why = placeUntold(g.Whys[k]).Text
	}
	return out
}

// limitOf is how a pass's reading at a place met the end of its scale.
func limitOf(p HistoryPass, k int) measure.Limit {
	v, _ := p.value(k)
	return v.Limit
}

// unitsOf turns a column's twentieths into scale units; nil where there is none.
func unitsOf(x int32) *float64 {
	if x == Null {
		return nil
	}
	u := float64(x) / 20
	return &u
}

func boatInput(src Sources) report.BoatInput {
	f := src.Facts
	b := report.BoatInput{Type: f.BoatKind, HullRead: f.HullNumberWhere}
	if f.LoaMm != nil {
		b.LengthMM = int(*f.LoaMm)
	}
	if f.MouldedYear != nil {
		b.Moulded = fmt.Sprint(*f.MouldedYear)
	}
	if f.Water != "" {
		b.Water = f.Water + " water"
	}
	for _, l := range src.Layers {
		if l.Kind != "behind" && l.ValidTo == nil {
			b.Underbody = append(b.Underbody, known(l))
		}
	}
	return b
}

func known(l Layer) string {
	if l.HowKnown == "" {
		return l.What
	}
	return l.What + " (" + l.HowKnown + ")"
}

func recommendationInput(r Recommendation, where *time.Location) report.Recommendation {
	out := report.Recommendation{
		ID: "rec_" + r.ID.String(), Grade: report.Grade(r.Grade), What: r.What, Because: strings.TrimSpace(r.Reason + " " + r.Consequence),
		Sure: report.Sure(r.Sure), Who: r.WhoActs, By: r.ByAsWritten, ClosedBy: r.ClosedBy, ReadingsAlone: r.ReadingsOnly,
	}
	if r.ByOn != nil && out.By == "" {
		out.By = r.ByOn.In(time.UTC).Format("2 Jan 2006")
	}
	return out
}

func findingInput(number int, found Found, src Sources) report.Finding {
	out := report.Finding{ID: "fnd_" + found.ID.String(), Number: number, Kind: found.Kind, Title: found.Kind, Sure: report.Sure(found.Sure), Element: "hull"}
	if found.Text != "" {
		out.Text = []report.Sentence{report.Own(found.Text)}
	}
	facts, derived := finding.Facts(found.Form, found.Measured)
	out.Measured = append(facts, derived...)
	var names []string
	axis := src.History.Axis
	for _, o := range found.Places {
		k := int(o) - 1
		if k < 0 || k >= len(axis.IDs) {
			continue
		}
		names = append(names, twinless(axis, k))
		out.At = append(out.At, spot(axis, k))
	}
	if where, at, drawn := outlined(found); drawn != nil {
		names, out.At, out.Drawn = append(names, where), append(out.At, at), drawn
	}
	out.Where = strings.Join(names, ", ")
	out.Text = append(out.Text, otherFace(found, src)...)
	for _, p := range src.Photos {
		if equal(p.FindingID, &found.ID) {
			out.Photos = append(out.Photos, photoID(p.ID))
		}
	}
	return out
}

// outlined says where an outline lies, the middle of it, and its corners.
func outlined(found Found) (where string, at report.Spot, drawn *report.Drawn) {
	var corners [][2]int
	if found.Side == nil || json.Unmarshal(found.Outline, &corners) != nil || len(corners) == 0 {
		return "", at, nil
	}
	low, high := corners[0], corners[0]
	for _, c := range corners {
		for k := range c {
			low[k], high[k] = min(low[k], c[k]), max(high[k], c[k])
		}
	}
	at = report.Spot{Side: report.Side(*found.Side), Along: (low[0] + high[0]) / 2, Down: (low[1] + high[1]) / 2}
	return report.Within(*found.Side, low[0], high[0], low[1], high[1]), at, &report.Drawn{Side: at.Side, Outline: corners}
}

// otherFace points at what the job found of the same spot on the other face of the skin.
func otherFace(found Found, src Sources) []report.Sentence {
	for k, other := range src.Findings {
		if equal(found.OtherFace, &other.ID) || equal(other.OtherFace, &found.ID) {
			return []report.Sentence{report.SeenFromBoth(k + 1).Proved("fnd_" + other.ID.String())}
		}
	}
	return nil
}

func windowsInput(list []Bared) *report.WindowsInput {
	if len(list) == 0 {
		return nil
	}
	w := &report.WindowsInput{Count: len(list), Width: int(list[0].WidthMm), Height: int(list[0].HeightMm)}
	var to []string
	for _, b := range list {
		if !slices.Contains(to, b.BaredTo) {
			to = append(to, b.BaredTo)
		}
		w.M2 += float64(b.WidthMm) * float64(b.HeightMm) / 1e6
		w.Blisters += int(b.BlistersSeen)
		w.OtherShapes = w.OtherShapes || b.WidthMm != list[0].WidthMm || b.HeightMm != list[0].HeightMm
	}
	w.To = "scraped to " + strings.Join(to, " or ") + " for the eye"
	if bound, err := coverage.None(w.M2, 0.95); err == nil && w.Blisters == 0 {
		w.BoundPerM2 = bound.Upper
	}
	return w
}

// countsBlisters tells whether a finding counts any; one of none seen does not.
func countsBlisters(f Found) bool {
	counted := struct{ Count *float64 }{}
	_ = json.Unmarshal(f.Measured, &counted) // of another form, or none: no count
	return strings.Contains(strings.ToLower(f.Kind), "blister") && (counted.Count == nil || *counted.Count > 0)
}

func limitsInput(own string, src Sources, today []HistoryPass) report.LimitsInput {
	l := report.LimitsInput{More: paragraphs(own)}
	unreached, void := tally{}, tally{}
	for _, g := range src.Gaps {
		unreached.add(g.Reason, g.Ordinal)
	}
	for _, p := range today {
		unreached.add(noReason, unread(p, src)...)
	}
	for _, e := range src.Entries {
		if e.VoidReason != "" {
			void.add(e.VoidReason, e.Ordinal)
		}
	}
	l.Unreached, l.Void = reasons(unreached), reasons(void)
	l.NotPermitted = withheld(src.Permissions)
	for _, area := range scheduleInput(src) {
		for _, item := range area.Items {
			if item.Examined != report.Examined {
				l.NotExamined = append(l.NotExamined, report.ItemLeft{Name: item.Name, InPart: item.Examined == report.InPart, Why: item.Why})
			}
		}
	}
	if len(src.Windows) == 0 {
		l.NotOpened = append(l.NotOpened, "no window was scraped")
	}
	if len(today) == 0 {
		return l
	}
	p := today[0]
	l.Drying, l.Frozen = dryingReached(p), frost(p.PassContext)
	l.FlawMM = smallestFlaw(src.History.Axis, p)
	for _, m := range p.Missing {
		if what, is := notWritten[m.Code]; is {
			l.Missing = append(l.Missing, what)
		}
	}
	return l
}

// tally counts places by reason, each place once however many passes it failed.
type tally map[string]map[int32]bool

func (t tally) add(why string, places ...int32) {
	for _, o := range places {
		if t[why] == nil {
			t[why] = map[int32]bool{}
		}
		t[why][o] = true
	}
}

func reasons(counts tally) []report.Reason {
	var out []report.Reason
	for why, places := range counts {
		out = append(out, report.Reason{N: len(places), Why: why})
	}
	slices.SortFunc(out, func(a, b report.Reason) int {
		if a.N != b.N {
			return b.N - a.N
		}
		return strings.Compare(a.Why, b.Why)
	})
	return out
}

// dryingReached says how far drying has reached since the lift, from the one temperature that
// is known: that of the visit.
func dryingReached(p HistoryPass) *report.DryingInput {
	days, _, ok := p.DaysAshore()
	if !ok || p.AirDecidegrees == nil {
		return nil
	}
	in := report.DryingInput{Days: days, Air: float64(*p.AirDecidegrees) / 10}
	passed := unit.Days(days)
	if hours, known := p.HoursAshore(); known {
		in.Hours, passed = &hours, unit.Days(hours)/aDay
	}
	d := diffusion.PolyesterLaminate()
	depth, err := diffusion.DryingDepth([]diffusion.Stretch{{Days: passed, At: unit.Celsius(in.Air)}}, 0, d)
	if err != nil {
		return nil
	}
	in.LowMM, in.HighMM = depth.Lower, depth.Upper
	if equivalent, known := equivalentDays(p.PassContext); known && (p.Sensing == "deep" || p.Sensing == "shallow") {
		in.Left = signal(p.Sensing, equivalent[1]*float64(d.High/d.Typical))
	}
	return &in
}

// smallestFlaw is the smallest round flaw that the places read below the water meet
// nine times in ten, taken as a regular grid of their usual spacing; 0 where they make none.
func smallestFlaw(axis Axis, p HistoryPass) int {
	along, down := spacing(axis, p, axis.Along, axis.Down), spacing(axis, p, axis.Down, axis.Along)
	if along == 0 || down == 0 {
		return 0
	}
	flaw, err := coverage.Grid{Along: unit.Millimetres(along), Down: unit.Millimetres(down)}.Smallest(0.9)
	if err != nil {
		return 0
	}
	return int(math.Ceil(float64(flaw)))
}

// spacing finds the median step between neighbours in one direction, among the places
// read below the water that share the other.
func spacing(axis Axis, p HistoryPass, along, across Column) int32 {
	type line struct {
		side string
		at   int32
	}
	lines := map[line][]int32{}
	for k := range axis.IDs {
		if _, ok := p.value(k); ok && p.Flags.At(k)&FlagDry == 0 && axis.Down.At(k) > 0 {
			l := line{axis.Sides[k], across[k]}
			lines[l] = append(lines[l], along[k])
		}
	}
	var steps []int32
	for _, at := range lines {
		slices.Sort(at)
		for k := 1; k < len(at); k++ {
			steps = append(steps, at[k]-at[k-1])
		}
	}
	if len(steps) == 0 {
		return 0
	}
	slices.Sort(steps)
	return steps[len(steps)/2]
}

// ashoreInput is how long she had stood ashore, as far as lift and visit are dated.
func ashoreInput(p PassContext) *report.AshoreInput {
	a, known := p.Ashore()
	if !known {
		return nil
	}
	in := report.AshoreInput{Least: a.Least, Most: a.Most}
	if hours, ok := p.HoursAshore(); ok {
		in.Hours = &hours
	}
	return &in
}

func lines(texts ...string) []string {
	var out []string
	for _, t := range texts {
		for l := range strings.SplitSeq(t, "\n") {
			if l = strings.TrimSpace(l); l != "" {
				out = append(out, l)
			}
		}
	}
	return out
}

// paragraphs takes the first text that says anything, in its paragraphs.
func paragraphs(texts ...string) []string {
	for _, t := range texts {
		if p := lines(t); len(p) > 0 {
			return p
		}
	}
	return nil
}

func orElse(text, other string) string {
	if text == "" {
		return other
	}
	return text
}
