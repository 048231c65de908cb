package story

import (
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain/practice"
)

// boats is the part of the story about boats, their haul-outs and the jobs on them.
func boats() []Step {
	return []Step{
		{Call: "AddParty", Input: func(w *World) any {
			return practice.AddParty{Mutation: newID(), Party: practice.Party{ID: w.new("party"), Name: "Skerrow Boatyard", Kind: "organisation", Email: "office@skerrow.example", IsYard: true}}
		}},
		{Call: "EditParty", Input: func(w *World) any {
			return practice.EditParty{Mutation: newID(), ID: w.Of("party"), Version: 1, Phone: ptr("555 0101")}
		}},

		{Call: "AddVessel", Input: func(w *World) any {
			return practice.AddVessel{Mutation: newID(), Vessel: practice.Vessel{ID: w.new("vessel"), Name: "Kittiwake"}}
		}},
		{Call: "EditVessel", Input: func(w *World) any {
			return practice.EditVessel{Mutation: newID(), ID: w.Of("vessel"), Version: 1, Kind: ptr("sloop")}
		}},
		{Call: "AddElement", Input: func(w *World) any {
			return practice.AddElement{Mutation: newID(), Element: practice.Element{ID: w.new("element"), VesselID: w.Of("vessel"), Kind: "hull", BootTopMm: ptr(int32(100)), Figure: sloop()}}
		}},
		{Call: "EditElement", Input: func(w *World) any {
			return practice.EditElement{Mutation: newID(), ID: w.Of("element"), Version: 1, Name: ptr("hull")}
		}},
		{Call: "AddDatum", Input: func(w *World) any {
			return practice.AddDatum{Mutation: newID(), Datum: practice.Datum{ID: w.new("datum"), ElementID: w.Of("element"), Mark: "stern post"}}
		}},
		{Call: "AddLayer", Input: func(w *World) any {
			return practice.AddLayer{Mutation: newID(), Layer: practice.Layer{ID: w.new("layer"), ElementID: w.Of("element"), Kind: "behind", What: "water tank"}}
		}},
		{Call: "EndLayer", Input: func(w *World) any {
			return practice.EndLayer{Mutation: newID(), ID: w.Of("layer"), Version: 1, On: day}
		}},
		{Call: "AddEvent", Input: func(w *World) any {
			return practice.AddEvent{Mutation: newID(), Vessel: w.Of("vessel"), Event: practice.Event{ID: w.new("event"), Kind: "repair", What: "rudder stock", FromOn: day, ToOn: day}}
		}},
		{Call: "AddPlaces", Input: func(w *World) any {
			return practice.AddPlaces{
				Mutation: newID(), Element: w.Of("element"), IDs: []uuid.UUID{w.new("place"), w.new("second place"), w.new("third place")}, Labels: []string{"13/3", "13/1", "13/4"},
				Sides: []string{"port", "port", "port"}, Along: []int32{6500, 6500, 6500}, Down: []int32{900, -400, 1400},
			}
		}},
		{Call: "AddPlan", Input: func(w *World) any {
			return practice.AddPlan{Mutation: newID(), ID: w.new("plan"), Vessel: w.Of("vessel"), Places: []int32{2, 1, 3}, Dry: []int32{2}}
		}},

		{Call: "AddSpell", Input: func(w *World) any {
			return practice.AddSpell{Mutation: newID(), ID: w.new("spell"), Vessel: w.Of("vessel"), Yard: w.ref("party"), TimeZone: "Europe/Dublin", ActualLift: ptr(noon.AddDate(0, 0, -20)), DatePrecision: "instant"}
		}},
		{Call: "EditSpell", Input: func(w *World) any {
			return practice.EditSpell{Mutation: newID(), ID: w.Of("spell"), Version: 1, Yard: w.ref("party"), WashedAt: ptr(noon.AddDate(0, 0, -19))}
		}},
		{Call: "AddJob", Input: func(w *World) any {
			return practice.AddJob{Mutation: newID(), ID: w.new("job"), Vessel: w.Of("vessel"), Client: w.ref("party"), Lead: w.ref("surveyor"), Kind: "limited moisture", Cite: "this client only"}
		}},
		{Call: "EditJob", Input: func(w *World) any {
			return practice.EditJob{Mutation: newID(), ID: w.Of("job"), Version: 1, Client: w.ref("party"), Lead: w.ref("surveyor"), Scope: ptr("underbody")}
		}},
		{Call: "GiveAccess", Input: func(w *World) any {
			return practice.GiveAccess{Mutation: newID(), Job: w.Of("job"), Member: w.Of("guest"), Allowed: true}
		}},
		{Call: "RecordPermission", Input: func(w *World) any {
			return practice.RecordPermission{Mutation: newID(), Permission: practice.Permission{ID: w.new("permission"), JobID: w.Of("job"), What: "photograph", AskedOn: &day}}
		}},
		{Call: "RecordPermission", Input: func(w *World) any {
			return practice.RecordPermission{Mutation: newID(), Version: 1, Permission: practice.Permission{ID: w.Of("permission"), JobID: w.Of("job"), What: "photograph", GivenOn: &day, GivenByID: w.ref("party")}}
		}},
		{Call: "RecordPermission", Input: func(w *World) any {
			return practice.RecordPermission{Mutation: newID(), Permission: practice.Permission{ID: w.new("scraping"), JobID: w.Of("job"), What: "scrape", Extent: "100 by 100 mm", Windows: ptr(int32(6)), GivenOn: &day, GivenByName: "Ada Skerry", MakesGood: "the yard"}}
		}},
		{Call: "RecordPermissions", Input: func(w *World) any {
			return practice.RecordPermissions{Mutation: newID(), Permissions: []practice.Permission{
				{ID: w.new("approach"), JobID: w.Of("job"), What: "approach the previous surveyor", AskedOn: &day},
				{ID: w.new("drilling"), JobID: w.Of("job"), What: "drill or core", AskedOn: &day},
			}}
		}},
		{Call: "AddPartyRole", Input: func(w *World) any {
			return practice.AddPartyRole{Mutation: newID(), ID: w.new("role"), Party: w.Of("party"), Vessel: w.Of("vessel"), Job: w.ref("job"), Role: "yard"}
		}},
		{Call: "PlanVisit", Input: func(w *World) any {
			return practice.PlanVisit{Mutation: newID(), ID: w.new("visit"), Job: w.Of("job"), Spell: w.ref("spell"), Kind: "meter visit", From: noon, To: noon.Add(3 * time.Hour), TimeZone: "Europe/Dublin", Lead: w.ref("surveyor"), Instruments: []uuid.UUID{w.Of("instrument")}}
		}},
		{Call: "PlanVisit", Input: func(w *World) any {
			return practice.PlanVisit{Mutation: newID(), ID: w.new("next visit"), Job: w.Of("job"), Kind: "repeat readings", From: noon.AddDate(0, 0, 40), To: noon.AddDate(0, 0, 40).Add(time.Hour), TimeZone: "Europe/Dublin", Follows: w.ref("visit")}
		}},
		{Call: "EditVisit", Input: func(w *World) any {
			return practice.EditVisit{Mutation: newID(), ID: w.Of("visit"), Version: 1, Spell: w.ref("spell"), Lead: w.ref("surveyor"), State: ptr("done"), People: &[]uuid.UUID{w.Of("guest")}, Instruments: &[]uuid.UUID{w.Of("instrument")}}
		}},
	}
}
