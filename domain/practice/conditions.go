package practice

import (
	"context"
	"math"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/measure/air"
	"boottop.example/practice/domain/measure/unit"
)

// Condition is what air, skin and boat were like at a time. Nil is not known; nothing
// is guessed. Temperatures are tenths of a degree Celsius, humidity parts in a thousand.
type Condition struct {
	ID                       uuid.UUID
	VisitID                  uuid.UUID
	At                       time.Time
	AirDecidegrees           *int16
	HumidityPermille         *int16
	SkinPortDecidegrees      *int16
	SkinStarboardDecidegrees *int16
	InsideHumidityPermille   *int16
	Sun                      string
	Wind                     string
	RainLast72h              string
	TankLevel                string
	BilgeLevel               string
	Indoors                  *bool
	Heating                  string
	Note                     string

	DewPointDecidegrees *int32    // computed; nil where temperature or humidity is missing
	Advice              []Warning // what a reading would be worth
}

// ConditionReader reads conditions.
type ConditionReader interface {
	Condition(ctx context.Context, practice, id uuid.UUID, who Sees) (Condition, error)
}

// ConditionWriter writes conditions.
type ConditionWriter interface {
	InsertCondition(ctx context.Context, c Condition, by *uuid.UUID) error
}

// Condition reads one record of the conditions, with its dew point and advice.
func (s *Service) Condition(ctx context.Context, a domain.Actor, id uuid.UUID) (Condition, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return Condition{}, err
	}
	c, err := s.store.Condition(ctx, a.Practice, id, sees(a))
	c.judge()
	return c, err
}

// RecordCondition is what air, skin and boat were like at a time of a visit.
type RecordCondition struct {
	Mutation  uuid.UUID `json:"-"`
	Condition Condition
}

// RecordCondition keeps the conditions at a time of a visit. It advises, it refuses nothing.
func (s *Service) RecordCondition(ctx context.Context, a domain.Actor, in RecordCondition) (Done, error) {
	return s.write(ctx, &a, domain.WriteVisit, "recordCondition", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		c := in.Condition
		if err := newID("id", c.ID); err != nil {
			return Done{}, err
		}
		v, err := attended(ctx, tx, a, c.VisitID)
		if err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingCondition, c.ID), ref(domain.ThingVisit, v.ID), ref(domain.ThingVessel, v.VesselID)), tx.InsertCondition(ctx, c, entered(a))
	})
}

// attended reads a visit that something is written to; a cancelled one was never made.
func attended(ctx context.Context, tx Tx, a domain.Actor, visit uuid.UUID) (Visit, error) {
	v, err := tx.Visit(ctx, visit, sees(a))
	if err == nil && v.State == "cancelled" {
		err = domain.Conflictf("This visit was called off. Plan it anew, or write to the visit that was made.")
	}
	return v, err
}

// judge computes the dew point and says what a reading would be worth.
func (c *Condition) judge() {
	if c.AirDecidegrees != nil && c.HumidityPermille != nil {
		if d, err := air.DewPoint(celsius(*c.AirDecidegrees), percent(*c.HumidityPermille)); err == nil {
			tenths := int32(math.Round(float64(d) * 10))
			c.DewPointDecidegrees = &tenths
		}
	}
	c.Advice = []Warning{}
	c.judgeSkin("port", c.SkinPortDecidegrees)
	c.judgeSkin("starboard", c.SkinStarboardDecidegrees)
	if c.SkinPortDecidegrees == nil && c.SkinStarboardDecidegrees == nil && c.AirDecidegrees != nil && *c.AirDecidegrees < 0 {
		c.advise("skin-unknown", "The air is below 0 °C and the skin was not measured. Measure it before you read.")
	}
}

// judgeSkin holds one side's skin against freezing and against the dew point.
func (c *Condition) judgeSkin(side string, skin *int16) {
	if skin == nil {
		return
	}
	switch {
	case *skin < 0:
		c.advise("frost-"+side, "The "+side+" skin is below 0 °C: take no readings there. What is read anyway is marked (common practice, no source).")
	case *skin <= 10:
		c.advise("near-frost-"+side, "The "+side+" skin is near 0 °C: readings tend to come out low there (common practice, no source; laboratory work has disputed it).")
	}
	if c.AirDecidegrees == nil || c.HumidityPermille == nil {
		return
	}
	margin, err := air.Margin(celsius(*c.AirDecidegrees), percent(*c.HumidityPermille), celsius(*skin), air.HandheldSensors())
	switch {
	case err != nil:
	case margin.Value <= 0:
		c.advise("condensing-"+side, "The "+side+" skin is at or below the dew point: water condenses on it. Wait, or read the other side first.")
	case margin.Lower <= 0:
		c.advise("near-dew-"+side, "The "+side+" skin is so near the dew point that the sensors cannot tell whether water lies on it. Wipe, and look again.")
	}
}

func (c *Condition) advise(code, text string) { c.Advice = append(c.Advice, Warning{code, text}) }

func celsius(decidegrees int16) unit.Celsius { return unit.Celsius(decidegrees) / 10 }

func percent(permille int16) unit.Humidity { return unit.Humidity(permille) / 10 }
