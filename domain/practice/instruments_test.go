package practice_test

import (
	"testing"
	"time"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

func TestAnInstrumentIsChanged(t *testing.T) {
	t.Parallel()
	b := setup(t)
	office, id := b.ours.of[domain.Office], newID()
	bought := time.Date(2020, 3, 1, 0, 0, 0, 0, time.UTC)
	must[practice.Done](t)(b.AddInstrument(t.Context(), office, practice.AddInstrument{Mutation: newID(), Instrument: practice.Instrument{
		ID: id, Name: "Skerrow deep No. 2", Kind: "capacitance", BoughtOn: &bought,
	}}))
	version := int32(1)
	edit := func(in practice.EditInstrument) error {
		in.Mutation, in.ID, in.Version = newID(), id, version
		_, err := b.EditInstrument(t.Context(), office, in)
		if err == nil {
			version++
		}
		return err
	}
	now := func() practice.Instrument {
		return must[practice.Instrument](t)(b.Instrument(t.Context(), office, id, false))
	}

	want(t, edit(practice.EditInstrument{Name: ptr("  ")}), domain.Invalid)
	want(t, edit(practice.EditInstrument{Name: ptr("Skerrow deep No. 4 "), Serial: ptr("SK-0417"), BatteryNote: ptr("9 V, new in spring")}), domain.Internal)
	if i := now(); i.Name != "Skerrow deep No. 4" || i.Serial != "SK-0417" || i.BatteryNote != "9 V, new in spring" {
		t.Errorf("kept %+v", i)
	}
	early, late := bought.AddDate(0, 0, -1), bought.AddDate(5, 0, 0)
	want(t, edit(practice.EditInstrument{RetiredOn: &early}), domain.Invalid)
	want(t, edit(practice.EditInstrument{RetiredOn: &late, InUse: true}), domain.Invalid)
	want(t, edit(practice.EditInstrument{RetiredOn: &late}), domain.Internal)
	if i := now(); i.RetiredOn == nil || !i.RetiredOn.Equal(late) {
		t.Errorf("retired on %v, want %v", i.RetiredOn, late)
	}
	want(t, edit(practice.EditInstrument{BatteryNote: ptr("")}), domain.Internal)
	if i := now(); i.RetiredOn == nil || i.Serial != "SK-0417" {
		t.Errorf("another change moved more than its own: %+v", i)
	}
	want(t, edit(practice.EditInstrument{InUse: true}), domain.Internal)
	if i := now(); i.RetiredOn != nil {
		t.Errorf("still retired on %v", i.RetiredOn)
	}
}
