package story

import (
	"github.com/google/uuid"

	"boottop.example/practice/domain/practice"
)

// house is the part of the story about what the practice is: who works there, with which instruments.
func house() []Step {
	return []Step{
		{Call: "EditPractice", Input: func(w *World) any {
			return practice.EditPractice{Mutation: newID(), Version: 1, Phone: ptr("555 0100")}
		}},
		{Call: "InviteMember", Input: func(w *World) any {
			return practice.InviteMember{Mutation: newID(), ID: w.new("invitation"), Email: "sigrid@tern.example", Name: "Sigrid Tern", Roles: []string{"trainee"}}
		}},
		{Call: "EditMember", Input: func(w *World) any {
			return practice.EditMember{Mutation: newID(), ID: w.Of("surveyor"), Version: 1, Qualification: ptr("MSc")}
		}},
		{Call: "CreateAPIKey", Input: func(w *World) any {
			return practice.CreateAPIKey{Mutation: newID(), ID: w.new("key"), Member: w.Of("surveyor"), Name: "weather"}
		}},
		{Call: "RevokeAPIKey", Input: func(w *World) any { return practice.RevokeAPIKey{Mutation: newID(), ID: w.Of("key")} }},

		{Call: "AddInstrument", Input: func(w *World) any {
			return practice.AddInstrument{Mutation: newID(), Instrument: practice.Instrument{ID: w.new("instrument"), Name: "Skerrow deep No. 2", Kind: "capacitance", Sensing: "deep"}}
		}},
		{Call: "EditInstrument", Input: func(w *World) any {
			return practice.EditInstrument{Mutation: newID(), ID: w.Of("instrument"), Version: 1, BatteryNote: ptr("9 V")}
		}},
		{Call: "AddScale", Input: func(w *World) any {
			return practice.AddScale{Mutation: newID(), Scale: practice.Scale{ID: w.new("scale"), Instrument: w.Of("instrument"), Name: "A", HighTenths: 1000, StepTenths: 10}}
		}},
		{Call: "AddScale", Input: func(w *World) any {
			return practice.AddScale{Mutation: newID(), Scale: practice.Scale{ID: w.new("second scale"), Instrument: w.Of("instrument"), Name: "B", HighTenths: 1000, StepTenths: 10}}
		}},
		{Call: "RecordRepeatKit", Input: func(w *World) any {
			return practice.RecordRepeatKit{
				Mutation: newID(), ID: w.new("kit"), Instrument: w.Of("instrument"), Scale: w.Of("scale"), MadeOn: day,
				Hands: []uuid.UUID{w.Of("surveyor")}, Spots: 2, Repeats: 2, Tenths: []int32{120, 130, 310, 290},
			}
		}},
		{Call: "RecordRepeatKit", Input: func(w *World) any {
			return practice.RecordRepeatKit{
				Mutation: newID(), ID: w.new("second kit"), Instrument: w.Of("instrument"), Scale: w.Of("scale"), MadeOn: day,
				Hands: []uuid.UUID{w.Of("surveyor")}, Spots: 2, Repeats: 2, Tenths: []int32{120, 130, 310, 300}, Replaces: w.ref("kit"), Because: "misheard",
			}
		}},
		{Call: "RecordCrossReadings", Input: func(w *World) any {
			return practice.RecordCrossReadings{
				Mutation: newID(), ID: w.new("cross-readings"), FirstScale: w.Of("scale"), SecondScale: w.Of("second scale"), MadeOn: day,
				First: []int32{120, 310}, Second: []int32{150, 400}, EffectTenths: 50,
			}
		}},
		{Call: "RecordCrossReadings", Input: func(w *World) any {
			return practice.RecordCrossReadings{
				Mutation: newID(), ID: w.new("second cross-readings"), FirstScale: w.Of("scale"), SecondScale: w.Of("second scale"), MadeOn: day,
				First: []int32{120, 310}, Second: []int32{150, 410}, EffectTenths: 50, Replaces: w.ref("cross-readings"), Because: "misheard",
			}
		}},
	}
}
