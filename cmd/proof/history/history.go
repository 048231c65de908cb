// Package history measures a vessel's whole history over loopback HTTP: the service's
// columns beside the same figures as a list of objects, and beside the database alone.
package history

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"os"
	"runtime"
	"runtime/debug"
	"runtime/pprof"
	"slices"
	"syscall"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/cmd/proof/ground"
	"boottop.example/practice/store"
)

var (
	readings int
	callers  int
	profile  string
)

// Proof is the benchmark of a vessel's history.
var Proof = ground.Proof{
	Name:  "history",
	Brief: "a vessel's history in columns, beside a list of objects and the database alone",
	Flags: func(f *flag.FlagSet) {
		f.IntVar(&readings, "readings", 0, "how many readings the database holds; 0: 1,000,000, short form 36,000")
		f.IntVar(&callers, "callers", 8, "how many callers, beside one alone")
		f.StringVar(&profile, "profile", "", "write a CPU profile of the columns to this `file`, and measure nothing else")
	},
	Run: run,
}

// What the promise says of one vessel's history: 12 passes of 300 readings.
const (
	passes    = 12
	places    = 300
	mostBytes = 90_000
)

// promised is how many times the list of objects the columns must reach.
var promised = map[int]float64{1: 11, 8: 15}

// ofDatabase is the share of the database's own rate that must come out of the service.
const ofDatabase = 0.35

// round is what one round measured, answers a second.
type round struct {
	Callers  int     `json:"callers"`
	Columns  float64 `json:"columns"`
	Objects  float64 `json:"objects"`
	Database float64 `json:"database"`
}

type figures struct {
	Readings     int     `json:"readings"`
	ColumnsBytes int     `json:"columnsBytes"`
	ObjectsBytes int     `json:"objectsBytes"`
	Trips        float64 `json:"trips"`
	Rounds       []round `json:"rounds"`
}

// collectAt is Go's memory setting in which `practice serve` runs; both servers share it.
const collectAt = 400

func run(ctx context.Context, o ground.Options) (r ground.Report, err error) {
	defer debug.SetGCPercent(debug.SetGCPercent(collectAt))
	n := readings
	if n == 0 {
		n = 1_000_000
		if o.Short {
			n = 36_000
		}
	}
	db, err := ground.Open(ctx, o, fmt.Sprintf("history_%d", n))
	if err != nil {
		return r, err
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	fleet, err := load(ctx, o, db, n)
	if err != nil {
		return r, err
	}
	m := &measure{Options: o, db: db, fleet: fleet, some: fleet.Vessels[:min(40, len(fleet.Vessels))]}
	m.Readings = n
	if err := m.open(ctx); err != nil {
		return r, err
	}
	defer m.close()
	if err := m.answers(&r); err != nil {
		return r, err
	}
	if err := m.trips(ctx, &r); err != nil {
		return r, err
	}
	if profile != "" {
		return r, m.profiled(ctx)
	}
	if err := m.rates(ctx, &r); err != nil {
		return r, err
	}
	r.Figures = m.figures
	return r, nil
}

func load(ctx context.Context, o ground.Options, db *ground.Database, n int) (ground.Fleet, error) {
	if !db.Fresh {
		return ground.FindFleet(ctx, db.OwnerURL)
	}
	begin := time.Now()
	shape := ground.Shape{Vessels: max(1, n/(passes*places)), Passes: passes, Places: places}
	f, err := ground.LoadFleet(ctx, db.OwnerURL, shape, o.Seed)
	o.Say("loaded %d readings of %d vessels in %.0f s", shape.Readings(), shape.Vessels, time.Since(begin).Seconds())
	return f, err
}

// measure is the servers side by side over one database.
type measure struct {
	ground.Options
	figures
	db      *ground.Database
	fleet   ground.Fleet
	some    []uuid.UUID // the vessels asked for
	columns *side
	objects *side
	bench   *bench
}

func (m *measure) open(ctx context.Context) (err error) {
	if m.columns, err = serveOurs(ctx, m.fleet, store.Config{URL: m.db.AppURL, MaxConns: conns}); err != nil {
		return err
	}
	if m.objects, err = servePlain(ctx, m.fleet, m.db.AppURL); err != nil {
		return err
	}
	m.bench, err = newBench(ctx, m.fleet, func(ear *heard) (*side, error) {
		return serveOurs(ctx, m.fleet, store.Config{URL: m.db.AppURL, MaxConns: 1, Tracer: ear})
	}, m.db.AppURL, m.some)
	if err != nil {
		m.Say("without the database alone: %v", err)
		m.bench = nil
	}
	return nil
}

func (m *measure) close() {
	for _, s := range []*side{m.columns, m.objects} {
		if s != nil {
			s.stop()
		}
	}
	if m.bench != nil {
		m.bench.stop()
	}
}

// answers compares what both say about one vessel, and how long they take to say it.
func (m *measure) answers(r *ground.Report) error {
	var said [2]bytes.Buffer
	for k, s := range []*side{m.columns, m.objects} {
		c, err := call(s.addr)
		if err != nil {
			return err
		}
		_, err = c.ask(s.body(m.some[0]), &said[k])
		_ = c.conn.Close()
		if err != nil {
			return fmt.Errorf("%s: %w: %s", s.name, err, said[k].String())
		}
	}
	m.ColumnsBytes, m.ObjectsBytes = said[0].Len(), said[1].Len()
	differs, err := compare(said[0].Bytes(), said[1].Bytes())
	if err != nil {
		return err
	}
	r.Claim(differs == "", "both answers say the same", "%s", or(differs, "every figure equal"))
	r.Claim(m.ColumnsBytes <= mostBytes, fmt.Sprintf("at most %d bytes before compression", mostBytes), "%d in columns, %d as objects", m.ColumnsBytes, m.ObjectsBytes)
	return nil
}

// trips counts round trips an answer takes once every statement is known.
func (m *measure) trips(ctx context.Context, r *ground.Report) error {
	relay, through, err := ground.NewRelay(m.db.AppURL)
	if err != nil {
		return err
	}
	defer relay.Close()
	s, err := serveOurs(ctx, m.fleet, store.Config{URL: through, MaxConns: 1})
	if err != nil {
		return err
	}
	defer s.stop()
	c, err := call(s.addr)
	if err != nil {
		return err
	}
	defer c.conn.Close()
	const warm, counted = 3, 10
	var before int64
	for k := range warm + counted {
		if k == warm {
			before = relay.Trips()
		}
		if _, err := c.ask(s.body(m.some[k%len(m.some)]), &bytes.Buffer{}); err != nil {
			return err
		}
	}
	m.Trips = float64(relay.Trips()-before) / counted
	r.Claim(m.Trips == 1, "one round trip in all, after warm-up", "%.1f an answer", m.Trips)
	return nil
}

// rates measures in rounds, each side for a moment in each, so that what else the machine
// does meets all of them; ratios are taken within rounds.
func (m *measure) rates(ctx context.Context, r *ground.Report) error {
	rounds, each := m.Size(7, 1), 3*time.Second
	if m.Short {
		each = 300 * time.Millisecond
	}
	r.Notes = fmt.Sprintf("  %d readings; answers a second, medians of %d rounds\n", m.Readings, rounds)
	for _, n := range []int{1, callers} {
		list := make([]round, rounds)
		for k := range list {
			if err := m.round(ctx, &list[k], n, each); err != nil {
				return err
			}
			m.Say("callers %d, round %d: columns %.0f, objects %.0f, database alone %.0f a second", n, k+1, list[k].Columns, list[k].Objects, list[k].Database)
		}
		m.Rounds = append(m.Rounds, list...)
		times := median(list, func(x round) float64 { return x.Columns / x.Objects })
		r.Notes += fmt.Sprintf("  %2d callers: columns %.0f, objects %.0f, database alone %.0f\n", n, median(list, func(x round) float64 { return x.Columns }),
			median(list, func(x round) float64 { return x.Objects }), median(list, func(x round) float64 { return x.Database }))
		if want, there := promised[n]; there {
			r.ClaimTime(times >= want, fmt.Sprintf("at least %g times the list of objects at %d callers", want, n), "%.1f times", times)
		}
		if m.bench != nil {
			share := median(list, func(x round) float64 { return x.Columns / x.Database })
			r.ClaimTime(share >= ofDatabase, fmt.Sprintf("at least %g of the database alone at %d callers", ofDatabase, n), "%.2f", share)
		}
	}
	return nil
}

func (m *measure) round(ctx context.Context, x *round, n int, each time.Duration) (err error) {
	x.Callers = n
	if x.Columns, err = m.columns.rate(ctx, n, m.some, each); err != nil {
		return err
	}
	if x.Objects, err = m.objects.rate(ctx, n, m.some, each); err != nil {
		return err
	}
	if m.bench != nil {
		x.Database, err = m.bench.rate(ctx, n, each)
	}
	return err
}

// profiled shows where the time of the columns goes, and what an answer of each costs.
func (m *measure) profiled(ctx context.Context) error {
	f, err := os.Create(profile)
	if err != nil {
		return err
	}
	defer f.Close()
	for _, s := range []*side{m.objects, m.columns} {
		if _, err := s.rate(ctx, 1, m.some, time.Second); err != nil { // warm
			return err
		}
		if s == m.columns {
			if err := pprof.StartCPUProfile(f); err != nil {
				return err
			}
			defer pprof.StopCPUProfile()
		}
		const d = 10 * time.Second
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		spent := cpu()
		rate, err := s.rate(ctx, callers, m.some, d)
		if err != nil {
			return err
		}
		spent = cpu() - spent
		runtime.ReadMemStats(&after)
		n := rate * d.Seconds()
		m.Say("%s: %.0f answers a second; each %.2f ms of processor (caller included), %.0f allocations, %.0f kB", s.name, rate,
			spent.Seconds()*1000/n, float64(after.Mallocs-before.Mallocs)/n, float64(after.TotalAlloc-before.TotalAlloc)/n/1000)
	}
	return nil
}

// cpu is the processor time this program has taken.
func cpu() time.Duration {
	var u syscall.Rusage
	_ = syscall.Getrusage(syscall.RUSAGE_SELF, &u) // cannot fail for oneself
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

func median(list []round, of func(round) float64) float64 {
	x := make([]float64, len(list))
	for k := range list {
		x[k] = of(list[k])
	}
	slices.Sort(x)
	return (x[(len(x)-1)/2] + x[len(x)/2]) / 2
}

func or(text, otherwise string) string {
	if text == "" {
		return otherwise
	}
	return text
}

// compare lays the objects out as columns and tells the first difference.
func compare(columns, objects []byte) (string, error) {
	var a struct {
		Data struct {
			Vessel struct {
				Name    string
				History struct {
					Axis struct {
						IDs           []string `json:"ids"`
						Labels, Sides []string
						Along, Down   []int
						Mirrors       []*int
					}
					Passes []comparedPass
				}
			}
		}
	}
	var b struct {
		Data struct {
			Vessel struct {
				Name   string
				Places []struct {
					ID, Label, Side string
					Along, Down     int
					Mirror          *int
				}
				Passes []comparedPass
			}
		}
	}
	if err := errors.Join(json.Unmarshal(columns, &a), json.Unmarshal(objects, &b)); err != nil {
		return "", err
	}
	axis, ours, theirs := a.Data.Vessel.History.Axis, a.Data.Vessel.History.Passes, b.Data.Vessel.Passes
	if len(ours) != passes || len(theirs) != passes || len(axis.IDs) != places || len(b.Data.Vessel.Places) != places {
		return fmt.Sprintf("%d passes of %d places beside %d of %d", len(ours), len(axis.IDs), len(theirs), len(b.Data.Vessel.Places)), nil
	}
	at := map[string]int{}
	for k, p := range b.Data.Vessel.Places {
		at[p.ID] = k
		if axis.IDs[k] != "plc_"+p.ID || axis.Labels[k] != p.Label || axis.Sides[k] != p.Side || axis.Along[k] != p.Along || axis.Down[k] != p.Down || deref(axis.Mirrors[k]) != deref(p.Mirror) {
			return "place " + p.Label, nil
		}
	}
	for k := range ours {
		if d := ours[k].differs(theirs[k], at); d != "" {
			return fmt.Sprintf("pass %d: %s", k, d), nil
		}
	}
	return "", nil
}

type comparedPass struct {
	On, Standing, Hand string
	DaysAshore         *int
	Baseline           struct {
		MedianFortieths *int
		Scatter         *float64
		Count           int
	}
	Values, Contrasts, Flags []*int
	Readings                 []struct {
		Place        string
		Value, Flags int
		Contrast     *int
	}
}

func (p comparedPass) differs(q comparedPass, at map[string]int) string {
	if p.On != q.On || p.Standing != q.Standing || p.Hand != q.Hand || deref(p.DaysAshore) != deref(q.DaysAshore) ||
		deref(p.Baseline.MedianFortieths) != deref(q.Baseline.MedianFortieths) || p.Baseline.Count != q.Baseline.Count || deref(p.Baseline.Scatter) != deref(q.Baseline.Scatter) {
		return "context"
	}
	read := 0
	for _, v := range p.Values {
		if v != nil {
			read++
		}
	}
	if read != len(q.Readings) || read == 0 {
		return fmt.Sprintf("%d readings beside %d", read, len(q.Readings))
	}
	for _, r := range q.Readings {
		k := at[r.Place]
		if deref(p.Values[k]) != r.Value || deref(p.Flags[k]) != r.Flags || deref(p.Contrasts[k]) != deref(r.Contrast) {
			return fmt.Sprintf("slot %d", k)
		}
	}
	return ""
}

func deref[T int | float64](x *T) T {
	if x == nil {
		return -1 << 20
	}
	return *x
}
