package practice_test

import (
	"context"
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

// meter adds an instrument with a scale of 0 to 100.
func (b *bundle) meter(h house, name string) (instrument, scale uuid.UUID) {
	b.t.Helper()
	instrument, scale = newID(), newID()
	head := h.of[domain.Principal]
	must[practice.Done](b.t)(b.AddInstrument(b.t.Context(), head, practice.AddInstrument{Mutation: newID(), Instrument: practice.Instrument{ID: instrument, Name: name, Kind: "capacitance"}}))
	must[practice.Done](b.t)(b.AddScale(b.t.Context(), head, practice.AddScale{Mutation: newID(), Scale: practice.Scale{ID: scale, Instrument: instrument, Name: "0 to 100", HighTenths: 1000, StepTenths: 1}}))
	return instrument, scale
}

// kit is two spots, read twice by one hand.
func (b *bundle) kit(h house, instrument, scale uuid.UUID, tenths ...int32) practice.RecordRepeatKit {
	return practice.RecordRepeatKit{
		Mutation: newID(), ID: newID(), Instrument: instrument, Scale: scale, MadeOn: time.Date(2026, 4, 6, 0, 0, 0, 0, time.UTC),
		Hands: []uuid.UUID{h.of[domain.Surveyor].Member}, Spots: 2, Repeats: 2, Tenths: tenths,
	}
}

func TestARepeatKitIsKeptWhole(t *testing.T) {
	t.Parallel()
	b := setup(t)
	instrument, scale := b.meter(b.ours, "Skerrow deep No. 2")
	surveyor := b.ours.of[domain.Surveyor]
	in := b.kit(b.ours, instrument, scale, 120, 131, 305, practice.Null)
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.RecordRepeatKit(ctx, surveyor, in) })
	if n := value[int](b, `select count(*) from repeat_kit_readings`); n != 3 {
		t.Errorf("%d readings are kept, want 3", n)
	}
	in.Tenths = []int32{120, 131, 305, 299}
	_, err := b.RecordRepeatKit(t.Context(), surveyor, in)
	want(t, err, domain.Conflict)

	again := b.kit(b.ours, instrument, scale, 120, 131, 305, 299)
	again.Replaces, again.Because = &in.ID, "the last one was left out"
	must[practice.Done](t)(b.RecordRepeatKit(t.Context(), surveyor, again))
	third := b.kit(b.ours, instrument, scale, 120, 131, 305, 298)
	third.Replaces, third.Because = &in.ID, "misheard"
	_, err = b.RecordRepeatKit(t.Context(), surveyor, third)
	want(t, err, domain.Conflict, "replaces")

	got := must[practice.Measurings](t)(b.store.Measurings(t.Context(), b.ours.id, nil))
	if len(got.Kits) != 2 || got.Kits[0].Current() || !got.Kits[1].Current() || *got.Kits[1].Replaces != in.ID || got.Kits[0].ReplacedBecause != "the last one was left out" {
		t.Fatalf("kits are %+v", got.Kits)
	}
	if k := got.Kits[0]; k.Spots != 2 || k.Repeats != 2 || !slices.Equal(k.Hands[0].Tenths, []int32{120, 131, 305, practice.Null}) || k.RecordedBy.ID != surveyor.Member {
		t.Errorf("the first kit is %+v", k)
	}
	for _, table := range []string{"repeat_kits", "repeat_kit_readings", "repeat_kit_replacements", "cross_reading_sets", "cross_readings", "cross_reading_replacements"} {
		if value[bool](b, `select has_table_privilege('app', $1, 'update, delete')`, table) {
			t.Errorf("the service could change %s", table)
		}
	}
}

func TestARepeatKitRefusesWhatTellsNothing(t *testing.T) {
	t.Parallel()
	b := setup(t)
	instrument, scale := b.meter(b.ours, "Skerrow deep No. 2")
	other, otherScale := b.meter(b.ours, "Skerrow shallow No. 1")
	_, theirs := b.meter(b.theirs, "Marram deep")
	for name, c := range map[string]struct {
		change func(*practice.RecordRepeatKit)
		kind   domain.Kind
		field  string
		says   string
	}{
		"beyond the scale":           {func(k *practice.RecordRepeatKit) { k.Tenths[3] = 1001 }, domain.Invalid, "tenths[3]", "Spot 2, person 1, repeat 2 reads 100.1; the scale 0 to 100 runs from 0 to 100."},
		"at the end of the scale":    {func(k *practice.RecordRepeatKit) { k.Tenths[0] = 0 }, domain.Invalid, "tenths[0]", "runs from 0 to 100"},
		"slots missing":              {func(k *practice.RecordRepeatKit) { k.Tenths = k.Tenths[:3] }, domain.Invalid, "tenths", "make 4 slots; 3 came"},
		"one repeat":                 {func(k *practice.RecordRepeatKit) { k.Repeats = 1 }, domain.Invalid, "repeats", "2 to 10 times"},
		"one spot":                   {func(k *practice.RecordRepeatKit) { k.Spots = 1 }, domain.Invalid, "spots", "2 to 60"},
		"nobody":                     {func(k *practice.RecordRepeatKit) { k.Hands = nil }, domain.Invalid, "hands", "Name who read"},
		"a hand that read once":      {func(k *practice.RecordRepeatKit) { k.Tenths[1], k.Tenths[3] = practice.Null, practice.Null }, domain.Invalid, "tenths", "read no spot twice"},
		"a day to come":              {func(k *practice.RecordRepeatKit) { k.MadeOn = k.MadeOn.AddDate(0, 0, 9) }, domain.Invalid, "madeOn", "not come"},
		"a reason for nothing":       {func(k *practice.RecordRepeatKit) { k.Because = "misheard" }, domain.Invalid, "because", ""},
		"another instrument's scale": {func(k *practice.RecordRepeatKit) { k.Scale = otherScale }, domain.Invalid, "scale", "another instrument"},
		"another practice's scale":   {func(k *practice.RecordRepeatKit) { k.Instrument, k.Scale = other, theirs }, domain.NotFound, "", ""},
		"another practice's hand":    {func(k *practice.RecordRepeatKit) { k.Hands = []uuid.UUID{b.theirs.of[domain.Surveyor].Member} }, domain.NotFound, "", ""},
		"a replaced kit of nothing":  {func(k *practice.RecordRepeatKit) { k.Replaces, k.Because = ptr(newID()), "misheard" }, domain.NotFound, "", ""},
	} {
		in := b.kit(b.ours, instrument, scale, 120, 131, 305, 299)
		c.change(&in)
		_, err := b.RecordRepeatKit(t.Context(), b.ours.of[domain.Surveyor], in)
		t.Run(name, func(t *testing.T) {
			want(t, err, c.kind, c.field)
			var f *domain.Fault
			if errors.As(err, &f) && !strings.Contains(f.Text, c.says) {
				t.Errorf("it says %q, want %q in it", f.Text, c.says)
			}
		})
	}
	if n := value[int](b, `select count(*) from repeat_kits`); n != 0 {
		t.Errorf("%d kits were kept", n)
	}
}

func TestCrossReadingsAreKeptWhole(t *testing.T) {
	t.Parallel()
	b := setup(t)
	_, first := b.meter(b.ours, "Skerrow deep No. 2")
	_, second := b.meter(b.ours, "Skerrow shallow No. 1")
	set := func() practice.RecordCrossReadings {
		return practice.RecordCrossReadings{
			Mutation: newID(), ID: newID(), FirstScale: first, SecondScale: second, MadeOn: time.Date(2026, 4, 6, 0, 0, 0, 0, time.UTC),
			First: []int32{120, 200, 310}, Second: []int32{150, 260, 410}, EffectTenths: 50,
		}
	}
	in := set()
	thrice(t, func(ctx context.Context) (practice.Done, error) {
		return b.RecordCrossReadings(ctx, b.ours.of[domain.Office], in)
	})
	again := set()
	again.Replaces, again.Because, again.Second = &in.ID, "misheard", []int32{150, 260, 400}
	must[practice.Done](t)(b.RecordCrossReadings(t.Context(), b.ours.of[domain.Office], again))
	got := must[practice.Measurings](t)(b.store.Measurings(t.Context(), b.ours.id, nil))
	if len(got.Sets) != 2 || got.Sets[0].Current() || !slices.Equal(got.Sets[1].Second, []int32{150, 260, 400}) || got.Sets[1].EffectTenths != 50 {
		t.Fatalf("sets are %+v", got.Sets)
	}
	for name, c := range map[string]struct {
		change func(*practice.RecordCrossReadings)
		field  string
	}{
		"beyond the second scale":  {func(s *practice.RecordCrossReadings) { s.Second[1] = 1020 }, "second[1]"},
		"one read, one not":        {func(s *practice.RecordCrossReadings) { s.First[2] = practice.Null }, "first[2]"},
		"columns of unlike length": {func(s *practice.RecordCrossReadings) { s.First = s.First[:2] }, "second"},
		"one scale twice":          {func(s *practice.RecordCrossReadings) { s.SecondScale = first }, "secondScale"},
		"no change that matters":   {func(s *practice.RecordCrossReadings) { s.EffectTenths = 0 }, "effectTenths"},
		"no reason":                {func(s *practice.RecordCrossReadings) { s.Replaces = &in.ID }, "because"},
	} {
		s := set()
		c.change(&s)
		_, err := b.RecordCrossReadings(t.Context(), b.ours.of[domain.Surveyor], s)
		t.Run(name, func(t *testing.T) { want(t, err, domain.Invalid, c.field) })
	}
}
