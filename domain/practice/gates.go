package practice

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/drying"
)

// notANumber marks a slot without a value in what the arithmetic takes.
var notANumber = math.NaN()

// DryingWriter writes drying logs.
type DryingWriter interface {
	PutDryingCourse(ctx context.Context, job uuid.UUID, c DryingCourse) error
	InsertWash(ctx context.Context, w Wash, by *uuid.UUID) error
	// WashOf tells the job of a wash and when it was.
	WashOf(ctx context.Context, wash uuid.UUID) (job uuid.UUID, at time.Time, err error)
	// ScaleEnds tells where a scale ends, tenths of its unit.
	ScaleEnds(ctx context.Context, scale uuid.UUID) (low, high int32, err error)
	InsertRebound(ctx context.Context, r Rebound, places []uuid.UUID, by *uuid.UUID) error
	InsertSheetTest(ctx context.Context, t SheetTest, by *uuid.UUID) error
	InsertAirLog(ctx context.Context, place, source string, ids []uuid.UUID, list []WeatherRecord) error
	PutGateRule(ctx context.Context, r GateRule) error
	InsertGateSignature(ctx context.Context, job uuid.UUID, s GateSignature, by uuid.UUID) error
}

// SetDryingCourse says how a job's drying is looked at; version 0 says it first.
type SetDryingCourse struct {
	Mutation uuid.UUID `json:"-"`
	Job      uuid.UUID
	Course   DryingCourse
}

// SetDryingCourse says from when a hull dries, through how thick a wall, in which air, and
// which contrast the band is asked for.
func (s *Service) SetDryingCourse(ctx context.Context, a domain.Actor, in SetDryingCourse) (Done, error) {
	return s.write(ctx, &a, domain.WriteVisit, "setDryingCourse", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		j, err := tx.Job(ctx, in.Job, sees(a))
		if err != nil {
			return Done{}, err
		}
		c := in.Course
		if c.TargetTenths == nil {
			c.TargetBecause = ""
		} else if strings.TrimSpace(c.TargetBecause) == "" {
			return Done{}, domain.Invalidf("targetBecause", "Say why this figure is asked for: it is a question about the course, and stands beside the answer.")
		}
		return ofJob(j), tx.PutDryingCourse(ctx, j.ID, c)
	})
}

// ofJob is what a change to a job's drying log touches.
func ofJob(j Job, things ...domain.Ref) Done {
	return touched(append(things, ref(domain.ThingJob, j.ID), ref(domain.ThingVessel, j.VesselID))...)
}

// RecordWash is a wash of the bared laminate.
type RecordWash struct {
	Mutation uuid.UUID `json:"-"`
	Wash     Wash
}

// RecordWash keeps a wash, with what its water showed.
func (s *Service) RecordWash(ctx context.Context, a domain.Actor, in RecordWash) (Done, error) {
	return s.write(ctx, &a, domain.WriteVisit, "recordWash", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.Wash.ID); err != nil {
			return Done{}, err
		}
		j, err := tx.Job(ctx, in.Wash.JobID, sees(a))
		if err != nil {
			return Done{}, err
		}
		return ofJob(j, ref(domain.ThingWash, in.Wash.ID)), tx.InsertWash(ctx, in.Wash, entered(a))
	})
}

// RecordRebound is readings before and after a wash or heat off.
type RecordRebound struct {
	Mutation uuid.UUID `json:"-"`
	Rebound  Rebound
}

// RecordRebound keeps what places read before a wash, or with heat on, and a fixed time
// after it, by one instrument on one scale.
func (s *Service) RecordRebound(ctx context.Context, a domain.Actor, in RecordRebound) (Done, error) {
	return s.write(ctx, &a, domain.WriteVisit, "recordRebound", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		r := in.Rebound
		if err := r.check(); err != nil {
			return Done{}, err
		}
		j, err := tx.Job(ctx, r.JobID, sees(a))
		if err != nil {
			return Done{}, err
		}
		if err := r.fitsWash(ctx, tx); err != nil {
			return Done{}, err
		}
		if err := r.onScale(ctx, tx); err != nil {
			return Done{}, err
		}
		places, err := placesAt(ctx, tx, j.VesselID, r.Places)
		if err != nil {
			return Done{}, err
		}
		return ofJob(j, ref(domain.ThingRebound, r.ID)), tx.InsertRebound(ctx, r, places, entered(a))
	})
}

func (r Rebound) check() error {
	if err := newID("id", r.ID); err != nil {
		return err
	}
	n := len(r.Places)
	if n == 0 || len(r.BeforeTenths) != n || len(r.AfterTenths) != n {
		return domain.Invalidf("places", "Give the places and, in the same order, what each read before and after.")
	}
	seen := map[int32]bool{}
	for k, o := range r.Places {
		if seen[o] {
			return domain.Invalidf(fmt.Sprintf("places[%d]", k), "Ordinal %d stands twice.", o)
		}
		seen[o] = true
	}
	return nil
}

// fitsWash refuses a wash of another job. A rebound after a wash counts from the wash.
func (r Rebound) fitsWash(ctx context.Context, tx Tx) error {
	if r.WashID == nil {
		return nil
	}
	job, at, err := tx.WashOf(ctx, *r.WashID)
	switch {
	case err != nil:
		return err
	case job != r.JobID:
		return domain.ErrNotFound
	case r.BeganAt.Before(at):
		return domain.Invalidf("beganAt", "The wash ends after it begins: count the delay from its end.")
	}
	return nil
}

func (r Rebound) onScale(ctx context.Context, tx Tx) error {
	low, high, err := tx.ScaleEnds(ctx, r.ScaleID)
	if err != nil {
		return err
	}
	for field, list := range map[string][]int32{"beforeTenths": r.BeforeTenths, "afterTenths": r.AfterTenths} {
		for k, v := range list {
			if v < low || v > high {
				return domain.Invalidf(fmt.Sprintf("%s[%d]", field, k), "The scale ends at %s and %s.", twentiethsText(2*low), twentiethsText(2*high))
			}
		}
	}
	return nil
}

// RecordSheetTest is a plastic sheet that was looked at.
type RecordSheetTest struct {
	Mutation uuid.UUID `json:"-"`
	Test     SheetTest
}

// RecordSheetTest keeps what a plastic sheet on the skin showed. It is screening only.
func (s *Service) RecordSheetTest(ctx context.Context, a domain.Actor, in RecordSheetTest) (Done, error) {
	return s.write(ctx, &a, domain.WriteVisit, "recordSheetTest", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.Test.ID); err != nil {
			return Done{}, err
		}
		j, err := tx.Job(ctx, in.Test.JobID, sees(a))
		if err != nil {
			return Done{}, err
		}
		return ofJob(j, ref(domain.ThingSheetTest, in.Test.ID)), tx.InsertSheetTest(ctx, in.Test, entered(a))
	})
}

// RecordAir is air at a place, in columns of one length.
type RecordAir struct {
	Mutation         uuid.UUID `json:"-"`
	Job              uuid.UUID
	Place            string
	Source           string
	At               []time.Time
	AirDecidegrees   []int32
	HumidityPermille []int32
}

// RecordAir keeps a log of the air outdoors or in a tent. Whoever writes it is at a job
// that names the place.
func (s *Service) RecordAir(ctx context.Context, a domain.Actor, in RecordAir) (Done, error) {
	return s.write(ctx, &a, domain.WriteVisit, "recordAir", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		list, err := in.records()
		if err != nil {
			return Done{}, err
		}
		j, err := tx.Job(ctx, in.Job, sees(a))
		if err != nil {
			return Done{}, err
		}
		ids := make([]uuid.UUID, len(list))
		for k := range ids {
			if ids[k], err = uuid.NewV7(); err != nil {
				return Done{}, fmt.Errorf("record air: %w", err)
			}
		}
		done := ofJob(j)
		done.Kept = len(list)
		return done, tx.InsertAirLog(ctx, strings.TrimSpace(in.Place), strings.TrimSpace(in.Source), ids, list)
	})
}

func (in RecordAir) records() ([]WeatherRecord, error) {
	n := len(in.At)
	switch {
	case strings.TrimSpace(in.Place) == "" || len(in.Place) > 100:
		return nil, domain.Invalidf("place", "Name the place whose air it was, in a few words.")
	case strings.TrimSpace(in.Source) == "" || len(in.Source) > 200:
		return nil, domain.Invalidf("source", "Say where the figures come from: a logger, a weather station, by hand.")
	case n == 0 || n > maxBatch:
		return nil, domain.Invalidf("at", "Give 1 to %d records at a time.", maxBatch)
	case len(in.AirDecidegrees) != n || len(in.HumidityPermille) != n:
		return nil, domain.Invalidf("airDecidegrees", "The columns must have one slot a time.")
	}
	out := make([]WeatherRecord, n)
	for k := range out {
		t, h := in.AirDecidegrees[k], in.HumidityPermille[k]
		if t < -450 || t > 800 {
			return nil, domain.Invalidf(fmt.Sprintf("airDecidegrees[%d]", k), "Air temperature is given in tenths of a degree Celsius, between −450 and 800.")
		}
		if h < 1 || h > 1000 {
			return nil, domain.Invalidf(fmt.Sprintf("humidityPermille[%d]", k), "Relative humidity is given in parts in a thousand, between 1 and 1000.")
		}
		out[k] = WeatherRecord{At: in.At[k], AirDecidegrees: int16(t), HumidityPermille: int16(h)}
	}
	return out, nil
}

// SetGateRule is a practice's own figures for a gate; version 0 sets them first.
type SetGateRule struct {
	Mutation uuid.UUID `json:"-"`
	Rule     GateRule
}

// SetGateRule sets the practice's own figures for a coating gate, with the reason that
// stands beside them on every sheet.
func (s *Service) SetGateRule(ctx context.Context, a domain.Actor, in SetGateRule) (Done, error) {
	return s.write(ctx, &a, domain.ManagePractice, "setGateRule", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := gateKnown(in.Rule.Gate, false); err != nil {
			return Done{}, err
		}
		if strings.TrimSpace(in.Rule.Because) == "" {
			return Done{}, domain.Invalidf("because", "Say where the figure comes from: it stands beside the gate on every sheet.")
		}
		return touched(ref(domain.ThingPractice, a.Practice)), tx.PutGateRule(ctx, in.Rule)
	})
}

// gateKnown refuses a gate that is none; to be signed it must not be for information only.
func gateKnown(gate string, toSign bool) error {
	rules := drying.Rules()
	k := slices.IndexFunc(rules, func(r drying.Rule) bool { return string(r.Key) == gate })
	switch {
	case k < 0:
		return domain.Invalidf("gate", "There is no such coating gate.")
	case toSign && rules[k].About:
		return domain.Invalidf("gate", "This line is for information only: laminate and gelcoat topsides are unlike surfaces, so it is never met or not met.")
	}
	return nil
}

// SignGate says that a gate was met on a day, or opens it again.
type SignGate struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Job      uuid.UUID
	Gate     string
	MetOn    time.Time // a day; where it is opened again, the day of that
	Evidence string
	Reopen   bool
}

// SignGate puts the actor's name to a coating gate, with the evidence for it. What the
// service's own line said is kept beside it. It says nothing of coating: whoever coats decides.
func (s *Service) SignGate(ctx context.Context, a domain.Actor, in SignGate) (Done, error) {
	if err := domain.May(a, domain.SignGates); err != nil {
		return Done{}, err
	}
	if err := newID("mutation", in.Mutation); err != nil {
		return Done{}, err
	}
	shown, err := s.shown(ctx, a, in)
	if err != nil {
		return Done{}, err
	}
	return s.write(ctx, &a, domain.SignGates, "signGate", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := in.check(s.instant()); err != nil {
			return Done{}, err
		}
		j, err := tx.Job(ctx, in.Job, sees(a))
		if err != nil {
			return Done{}, err
		}
		return ofJob(j, ref(domain.ThingGateSignature, in.ID)), tx.InsertGateSignature(ctx, j.ID, GateSignature{
			ID: in.ID, Gate: in.Gate, MetOn: in.MetOn, Evidence: strings.TrimSpace(in.Evidence), Shown: shown, Reopened: in.Reopen, At: s.instant(),
		}, a.Member)
	})
}

// shown is what the service's own line says of a gate now.
func (s *Service) shown(ctx context.Context, a domain.Actor, in SignGate) (string, error) {
	d, err := s.Drying(ctx, a, in.Job)
	switch {
	case domain.KindOf(err) == domain.NotFound:
		return "", nil // the write says so, after it has asked who signs
	case err != nil:
		return "", err
	}
	for _, g := range d.Gates {
		if string(g.Key) == in.Gate {
			return string(g.Verdict) + ": " + g.Evidence.Text(), nil
		}
	}
	return "", nil
}

func (in SignGate) check(now time.Time) error {
	if err := newID("id", in.ID); err != nil {
		return err
	}
	if err := gateKnown(in.Gate, true); err != nil {
		return err
	}
	if text := strings.TrimSpace(in.Evidence); text == "" || len(text) > 2000 {
		return domain.Invalidf("evidence", "Say what the signature rests on, in up to 2000 letters: what was measured, with what, and where it is written down.")
	}
	if in.MetOn.After(now.Add(24 * time.Hour)) {
		return domain.Invalidf("metOn", "This day has not come yet.")
	}
	return nil
}
