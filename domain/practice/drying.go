package practice

import (
	"context"
	"slices"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/drying"
	"boottop.example/practice/domain/measure/diffusion"
	"boottop.example/practice/domain/report"
)

// Drying is a job's drying log: everything recorded, and what may be said from it.
type Drying struct {
	Job      JobLine
	Course   DryingCourse
	History  History
	Passes   []DryingPass // of her time ashore, oldest first
	Washes   []Wash
	Rebounds []Rebound
	Sheets   []SheetTest
	Weather  []WeatherRecord // oldest first
	Moments  []SkinRecord    // conditions of visits, oldest first
	Rules    []GateRule
	Signed   []GateSignature

	Began     time.Time // day 0 of the series
	BeganFrom string    // said, the lift, or the first pass

	Series     drying.Series
	Fit        drying.Course
	Outdoors   *drying.Climate
	Tent       *drying.Climate
	Physics    *drying.Physics
	Reached    []drying.Reached // at 20 °C, and in the air she dries in where that is known
	Reasons    []StallReason
	Gates      []GateLine
	Title      string
	Statements []report.Sentence
	Cautions   []string

	inSeries, shallowOnes []int // indices of Passes
}

// DryingCourse is how a job's drying is looked at. Version 0 is not yet said.
type DryingCourse struct {
	BeganOn       *time.Time
	WallMm        *int16
	Inside        string // no water, water stands there, or not known
	OutdoorsPlace string // place names of weather records
	TentPlace     string
	TargetTenths  *int32 // a contrast that the band is asked for
	TargetBecause string
	Note          string
	Version       int32
}

// DryingPass is a pass of her time ashore, with its part in the series.
type DryingPass struct {
	*HistoryPass
	Days    float64  // since drying began
	In      bool     // part of the series
	Shallow bool     // part of the shallow-sensing series
	Why     string   // why it is left out
	Level   *float64 // median contrast over the places common to the series, scale units
}

// Wash is one wash of the bared laminate. pH in tenths, conductivities in tenths of a
// µS/cm, volume in µL, area in mm²; nil is not measured.
type Wash struct {
	ID                 uuid.UUID
	JobID              uuid.UUID
	At                 time.Time
	How                string // fresh, hot or steam
	Extent             string
	PhTenths           *int16
	ConductivityTenths *int32
	SupplyTenths       *int32
	VolumeUl           *int32
	AreaMm2            *int32
	Note               string
	ByName             string
}

// Rebound is readings before a wash, or with heat on, and again after it. Tenths of a
// scale unit, as read, in the order of Places.
type Rebound struct {
	ID             uuid.UUID
	JobID          uuid.UUID
	After          string // wash or heat off
	WashID         *uuid.UUID
	BeganAt        time.Time // the end of the wash, or heat off
	ReadAt         time.Time
	ScaleID        uuid.UUID
	InstrumentName string
	Note           string
	ByName         string
	Places         []int32 // ordinals
	BeforeTenths   []int32
	AfterTenths    []int32
}

// SheetTest is a plastic sheet taped to the skin.
type SheetTest struct {
	ID        uuid.UUID
	JobID     uuid.UUID
	Place     string
	TapedAt   time.Time
	LookedAt  time.Time
	Condensed bool
	Note      string
	ByName    string
}

// WeatherRecord is air at a place.
type WeatherRecord struct {
	At               time.Time
	AirDecidegrees   int16
	HumidityPermille int16
	Source           string
	Tent             bool // under her cover, not outdoors
}

// SkinRecord is air and skin at a visit.
type SkinRecord struct {
	At                       time.Time
	AirDecidegrees           int16
	HumidityPermille         int16
	SkinPortDecidegrees      *int16
	SkinStarboardDecidegrees *int16
	Indoors                  *bool
}

// GateRule is a practice's own figures for a gate.
type GateRule struct {
	Gate    string
	Least   *float64
	Most    *float64
	Because string
	Version int32
}

// GateSignature says that somebody signed a gate as met, or opened it again.
type GateSignature struct {
	ID       uuid.UUID
	Gate     string
	MetOn    time.Time
	Evidence string
	Shown    string // what the service's own line said then
	Reopened bool
	ByName   string
	At       time.Time
}

// StallReason is a pattern of a stall in words.
type StallReason struct {
	drying.Reason
	Head     string
	Check    string
	Evidence report.Sentence
}

// GateLine is a gate of the sheet: what it asks, what the records say, who signed it.
type GateLine struct {
	drying.Gate
	Name        string
	Asks        string
	RuleVersion int32 // of the practice's own figures; 0 where the default stands
	Evidence    report.Sentence
	Signature   *GateSignature // the one that stands
	OpenBecause string         // why a signed gate is open again
}

// DryingReader reads drying logs.
type DryingReader interface {
	// Drying reads a job's drying log in one trip.
	Drying(ctx context.Context, practice, job uuid.UUID, who Sees) (Drying, error)
}

// Drying reads a job's drying log and what may be said from it.
func (s *Service) Drying(ctx context.Context, a domain.Actor, job uuid.UUID) (Drying, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return Drying{}, err
	}
	d, err := s.store.Drying(ctx, a.Practice, job, sees(a))
	if err != nil {
		return Drying{}, err
	}
	if err := d.judge(s.instant()); err != nil {
		return Drying{}, err
	}
	return d, nil
}

// judge fills what is computed.
func (d *Drying) judge(now time.Time) error {
	d.ashore()
	d.begin(now)
	d.choose()
	if err := d.series(); err != nil {
		return err
	}
	if err := d.air(now); err != nil {
		return err
	}
	d.reasons()
	d.gates()
	d.say()
	return nil
}

// ashore takes the passes of the time ashore that the job's own passes fall into.
func (d *Drying) ashore() {
	d.History.weigh()
	lifts := map[time.Time]bool{}
	for _, p := range d.History.Passes {
		if p.JobID == d.Job.ID && p.LiftedAt != nil {
			lifts[*p.LiftedAt] = true
		}
	}
	for k := range d.History.Passes {
		p := &d.History.Passes[k]
		if p.JobID == d.Job.ID || p.LiftedAt != nil && lifts[*p.LiftedAt] {
			d.Passes = append(d.Passes, DryingPass{HistoryPass: p})
		}
	}
}

// begin finds day 0: as said, or the lift, or else the first pass.
func (d *Drying) begin(now time.Time) {
	d.Began, d.BeganFrom = now, "now"
	if len(d.Passes) > 0 {
		first := d.Passes[0]
		d.Began, d.BeganFrom = first.BeganAt, "the first pass"
		if first.LiftedAt != nil {
			d.Began, d.BeganFrom = *first.LiftedAt, "the lift"
		}
	}
	if on := d.Course.BeganOn; on != nil {
		d.Began, d.BeganFrom = time.Date(on.Year(), on.Month(), on.Day(), 0, 0, 0, 0, d.zone()), "the day said"
	}
}

// since counts days from the day drying began.
func (d *Drying) since(t time.Time) float64 { return t.Sub(d.Began).Hours() / 24 }

// choose takes the passes that may be held against one another: closed, of like standing
// to the newest of the commonest kind, with a baseline, since drying began.
func (d *Drying) choose() {
	for k := range d.Passes {
		p := &d.Passes[k]
		p.Days = d.since(p.BeganAt)
		p.Why = p.unfit()
	}
	deep := d.largest(func(p PassContext) bool { return p.Sensing != "shallow" })
	shallow := d.largest(func(p PassContext) bool { return p.Sensing == "shallow" })
	if len(deep) < 2 && len(shallow) > len(deep) {
		deep, shallow = shallow, nil
	}
	d.inSeries, d.shallowOnes = deep, shallow
	for _, k := range deep {
		d.Passes[k].In = true
	}
	for _, k := range shallow {
		d.Passes[k].Shallow = true
	}
	for k := range d.Passes {
		if p := &d.Passes[k]; !p.In && !p.Shallow && p.Why == "" {
			p.Why = d.stands(d.newest(), *p).Because()
		}
	}
}

// unfit says why a pass can be part of no series.
func (p *DryingPass) unfit() string {
	switch {
	case p.Quoted:
		return "quoted: its context did not survive"
	case p.quoted():
		return p.Lowered.because()
	case p.State == "open":
		return "not closed yet"
	case p.Days < 0:
		return "read before drying began"
	case !p.Baseline.Valid():
		return "no dry baseline, so nothing to stand above"
	}
	return ""
}

func (d *Drying) newest() DryingPass {
	if len(d.inSeries) > 0 {
		return d.Passes[d.inSeries[len(d.inSeries)-1]]
	}
	return d.Passes[len(d.Passes)-1]
}

// largest finds the largest set of passes of one standing; of equals, the newest.
func (d *Drying) largest(may func(PassContext) bool) (best []int) {
	for ref := len(d.Passes) - 1; ref >= 0; ref-- {
		if d.Passes[ref].Why != "" || !may(d.Passes[ref].PassContext) {
			continue
		}
		var set []int
		for k := range d.Passes {
			if d.Passes[k].Why != "" || !may(d.Passes[k].PassContext) {
				continue
			}
			if how := d.stands(d.Passes[ref], d.Passes[k]).Standing; how == Reference || how == Same {
				set = append(set, k)
			}
		}
		if len(set) > len(best) {
			best = set
		}
	}
	return best
}

func (d *Drying) stands(ref, other DryingPass) Stood {
	return standing(*ref.HistoryPass, *other.HistoryPass, d.History.Components)
}

// series fits the course.
func (d *Drying) series() (err error) {
	if d.Series, err = drying.Of(d.visits(d.inSeries)); err != nil {
		return err
	}
	for i, k := range d.inSeries {
		if i < len(d.Series.Level) {
			d.Passes[k].Level = &d.Series.Level[i]
		}
	}
	var target *float64
	if t := d.Course.TargetTenths; t != nil {
		units := float64(*t) / 10
		target = &units
	}
	d.Fit, err = d.Series.Course(target)
	return err
}

func (d *Drying) visits(of []int) []drying.Visit {
	out := make([]drying.Visit, len(of))
	for i, k := range of {
		p := d.Passes[k]
		v := drying.Visit{Days: p.Days, Dry: p.Baseline.Median.Low.Units(), Heated: p.Heated, Contrast: make([]float64, len(d.History.Axis.IDs))}
		if p.HumidityPermille != nil {
			h := float64(*p.HumidityPermille) / 10
			v.Humidity = &h
		}
		for slot := range v.Contrast {
			v.Contrast[slot] = p.underbody(d.History.Axis, slot)
		}
		out[i] = v
	}
	return out
}

// underbody gives a place's contrast in scale units: not a number where it is dry,
// targeted, above the datum, on another surface than the pass, or has no exact value.
func (p *DryingPass) underbody(axis Axis, slot int) float64 {
	if c, flags := p.Contrasts.At(slot), p.Flags.At(slot); c != Null && axis.Down.At(slot) > 0 && (flags == Null || flags&(unfit|FlagDry|FlagTargeted) == 0) {
		return float64(c) / 20
	}
	return notANumber
}

// air sums up the climates and asks diffusion what they allow.
func (d *Drying) air(now time.Time) error {
	d.Outdoors = d.climate(false)
	if d.Tent = d.climate(true); d.Tent == nil {
		d.Tent = d.atVisits()
	}
	in := d.around()
	if err := d.reached(in); err != nil {
		return err
	}
	if in == nil || d.Course.WallMm == nil || d.since(now) <= 0 {
		return nil
	}
	p, err := drying.Through(float64(*d.Course.WallMm), *in, drying.Inside(d.Course.Inside), d.since(now))
	d.Physics = &p
	return err
}

// around is the air that she dries in, as far as it is known; nil where none is.
func (d *Drying) around() *drying.Climate {
	if d.Tent != nil {
		return d.Tent
	}
	return d.Outdoors
}

// reached makes the tables of how deep drying has reached.
func (d *Drying) reached(in *drying.Climate) error {
	walls := []float64{float64(diffusion.Reference)}
	if in != nil {
		walls = append(walls, in.Temperature)
	}
	for _, celsius := range walls {
		table, err := drying.ReachedAt(celsius)
		if err != nil {
			return err
		}
		d.Reached = append(d.Reached, table)
	}
	return nil
}

func (d *Drying) climate(tent bool) *drying.Climate {
	var list []drying.Air
	for _, w := range d.Weather {
		if days := d.since(w.At); w.Tent == tent && days >= 0 {
			list = append(list, airOf(days, w.AirDecidegrees, w.HumidityPermille))
		}
	}
	return climateOf(list)
}

// atVisits is the air of the visits, but for those known to be outdoors: under cover it is
// the best that is known of a tent whose air nobody logged.
func (d *Drying) atVisits() *drying.Climate {
	var list []drying.Air
	for _, m := range d.Moments {
		if days := d.since(m.At); days >= 0 && (m.Indoors == nil || *m.Indoors) {
			list = append(list, airOf(days, m.AirDecidegrees, m.HumidityPermille))
		}
	}
	return climateOf(list)
}

func climateOf(list []drying.Air) *drying.Climate {
	c, ok := drying.Sum(list)
	if !ok {
		return nil
	}
	return &c
}

func airOf(days float64, decidegrees, permille int16) drying.Air {
	return drying.Air{Days: days, Temperature: float64(decidegrees) / 10, Humidity: float64(permille) / 10}
}

// reasons holds the patterns of a stall against what was recorded.
func (d *Drying) reasons() {
	e := drying.Evidence{Series: d.Series, Places: d.places(), Tent: d.Tent, Washes: d.rebounds("wash"), HeatOff: d.rebounds("heat off")}
	if shallow, err := drying.Of(d.visits(d.shallowOnes)); err == nil && len(d.shallowOnes) > 0 {
		e.Shallow = &shallow
	}
	for _, r := range drying.Reasons(e) {
		d.Reasons = append(d.Reasons, StallReason{Reason: r, Head: report.StallPattern(r.Pattern), Check: report.StallCheck(r.Pattern), Evidence: report.StallEvidence(r, d.Tent)})
	}
}

func (d *Drying) places() []drying.Place {
	mirrors := d.History.Axis.Mirrors()
	out := make([]drying.Place, len(d.History.Axis.IDs))
	for k := range out {
		out[k] = drying.Place{Side: d.History.Axis.Sides[k], Mirror: int(mirrors.At(k)) - 1}
	}
	return out
}

func (d *Drying) rebounds(after string) (out []drying.Rebound) {
	for _, r := range d.Rebounds {
		if r.After == after {
			one := r.Measured()
			one.Days = d.since(r.ReadAt)
			out = append(out, one)
		}
	}
	return out
}

// Hours is the delay from the wash, or heat off, to the reading.
func (r Rebound) Hours() float64 { return r.ReadAt.Sub(r.BeganAt).Hours() }

// Measured gives a rebound as the arithmetic takes it, without its day.
func (r Rebound) Measured() drying.Rebound {
	return drying.Rebound{Hours: r.Hours(), Before: inUnits(r.BeforeTenths), After: inUnits(r.AfterTenths)}
}

func inUnits(tenths []int32) []float64 {
	out := make([]float64, len(tenths))
	for k, t := range tenths {
		out[k] = float64(t) / 10
	}
	return out
}

// Measured gives a wash as the arithmetic takes it.
func (w Wash) Measured() drying.Wash {
	out := drying.Wash{Conductivity: tenths(w.ConductivityTenths), Supply: tenths(w.SupplyTenths)}
	if w.PhTenths != nil {
		ph := float64(*w.PhTenths) / 10
		out.PH = &ph
	}
	if w.VolumeUl != nil && w.AreaMm2 != nil {
		volume, area := float64(*w.VolumeUl)/1000, float64(*w.AreaMm2)
		out.Volume, out.Area = &volume, &area
	}
	return out
}

func tenths(x *int32) *float64 {
	if x == nil {
		return nil
	}
	f := float64(*x) / 10
	return &f
}

// gates holds the sheet's rules against what was recorded, and puts the signatures beside.
func (d *Drying) gates() {
	rules, versions := OwnRules(d.Rules)
	for _, g := range drying.Gates(rules, d.records()) {
		line := GateLine{Gate: g, Name: report.GateName(g.Key), Asks: report.GateAsks(g.Rule), RuleVersion: versions[g.Key]}
		line.Evidence = report.GateEvidence(g, d.dayOf(g.Days))
		line.signed(d.Signed, d.Washes, d.zone())
		d.Gates = append(d.Gates, line)
	}
	d.title()
}

func (d *Drying) dayOf(days float64) string {
	if days != days { // nothing recorded
		return ""
	}
	return report.ShortDay(d.Began.Add(time.Duration(days*24*float64(time.Hour))), d.zone())
}

// zone is that of the yard where she dries.
func (d *Drying) zone() *time.Location {
	if len(d.Passes) == 0 {
		return time.UTC
	}
	return Zone(d.Passes[0].TimeZone)
}

// OwnRules puts a practice's own figures into the defaults, and tells the version of each.
func OwnRules(own []GateRule) ([]drying.Rule, map[drying.Key]int32) {
	rules, versions := drying.Rules(), map[drying.Key]int32{}
	for k := range rules {
		for _, o := range own {
			if o.Gate == string(rules[k].Key) {
				rules[k].Least, rules[k].Most, rules[k].Tag = o.Least, o.Most, "this practice’s own figure: "+o.Because
				versions[rules[k].Key] = o.Version
			}
		}
	}
	return rules, versions
}

func (d *Drying) records() drying.Records {
	r := drying.Records{Series: d.Series, HeatOff: d.rebounds("heat off"), LeastChange: d.leastChange()}
	for _, m := range d.Moments {
		moment := drying.Moment{Air: airOf(d.since(m.At), m.AirDecidegrees, m.HumidityPermille)}
		for _, t := range []*int16{m.SkinPortDecidegrees, m.SkinStarboardDecidegrees} {
			if t != nil {
				moment.Skin = append(moment.Skin, float64(*t)/10)
			}
		}
		r.Moments = append(r.Moments, moment)
	}
	for _, w := range d.Washes {
		one := w.Measured()
		one.Days = d.since(w.At)
		r.Washes = append(r.Washes, one)
	}
	for _, t := range d.Sheets {
		r.Sheets = append(r.Sheets, drying.Sheet{Days: d.since(t.LookedAt), Hours: t.LookedAt.Sub(t.TapedAt).Hours(), Condensed: t.Condensed})
	}
	return r
}

// leastChange is the least change of the hull at large that the gate would show between
// the last visit of the series and the third last; nil until the practice has measured
// what its readings repeat to.
func (d *Drying) leastChange() *float64 {
	n := len(d.inSeries)
	if n < 3 {
		return nil
	}
	before, after := d.Passes[d.inSeries[n-3]], d.Passes[d.inSeries[n-1]]
	return d.History.gate(before.HistoryPass, after.HistoryPass, d.stands(after, before)).Hull.Least
}

// undoneByWash are the gates whose signature a later wash opens again.
var undoneByWash = []drying.Key{drying.Stable, drying.HeatOff, drying.PlasticFilm}

// signed finds the signature that stands, if one does. A wash after the day on which the
// gate was met opens it, whenever that was signed.
func (g *GateLine) signed(all []GateSignature, washes []Wash, zone *time.Location) {
	for _, s := range all {
		if s.Gate != string(g.Key) {
			continue
		}
		if g.Signature, g.OpenBecause = &s, ""; s.Reopened {
			g.Signature, g.OpenBecause = nil, "opened again by "+s.ByName+": "+s.Evidence
		}
	}
	if g.Signature == nil || !slices.Contains(undoneByWash, g.Key) {
		return
	}
	for _, w := range washes {
		if w.At.After(g.Signature.At) || day(w.At.In(zone)).After(day(g.Signature.MetOn)) {
			g.Signature, g.OpenBecause = nil, "she was washed after it was met"
			return
		}
	}
}

func (d *Drying) title() {
	met, of := 0, 0
	var last *time.Time
	for _, g := range d.Gates {
		if g.About {
			continue
		}
		of++
		if g.Signature == nil {
			continue
		}
		met++
		if on := g.Signature.MetOn; last == nil || on.After(*last) {
			last = &on
		}
	}
	d.Title = report.GateSheetTitle(met, of, last)
}

// say puts the log into sentences.
func (d *Drying) say() {
	d.Statements = []report.Sentence{report.DryingCourseSays(d.Fit, len(d.inSeries))}
	if b := d.Fit.Band; b != nil {
		d.Statements = append(d.Statements, report.DryingBand(float64(*d.Course.TargetTenths)/10, d.Course.TargetBecause, *b))
	}
	if cycles := d.rebounds("wash"); len(cycles) > 0 {
		how, last := drying.Compare(cycles)
		d.Statements = append(d.Statements, report.ReboundSays(how, last, len(cycles)))
	}
	if d.Physics != nil {
		d.Statements = append(d.Statements, report.DryingPhysics(*d.Physics, *d.around()))
	}
	d.Cautions = report.DryingCautions()
}
