package graph

import (
	"boottop.example/practice/domain/finding"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/domain/report"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

func findingModel(f practice.Finding) model.Finding {
	facts, derived := f.Measurements()
	return model.Finding{
		ID: wire.New(wire.Finding, f.ID), Visit: wire.New(wire.Visit, f.VisitID), Element: wire.Maybe(wire.Element, f.ElementID), Form: f.Form, Kind: f.Kind,
		Sure: f.Sure, Text: f.Text, Places: orEmpty(f.Places), Side: sideModel(f.Side), Outline: wire.JSON(f.Outline), Measured: wire.JSON(f.Measured),
		Facts: each(facts, factModel), Derived: each(derived, factModel), OtherFace: wire.Maybe(wire.Finding, f.OtherFace),
		AgainOf: wire.Maybe(wire.Finding, f.AgainOf), LookAgain: f.LookAgain, CreatedAt: wire.At(f.CreatedAt), Version: f.Version,
	}
}

func factModel(f report.Fact) model.FindingFact { return model.FindingFact{Name: f.Name, Is: f.Is} }

func sideWord(s *model.Side) *string {
	if s == nil {
		return nil
	}
	word := string(*s)
	return &word
}

func formModel(f finding.Form) model.FindingForm {
	return model.FindingForm{
		Code: f.Code, Name: f.Name, Asks: f.Asks, Caution: f.Caution,
		Fields: each(f.Fields, func(d finding.Field) model.FindingField {
			return model.FindingField{
				Name: d.Name, Label: d.Label, Takes: string(d.Takes), Unit: d.Unit, Least: d.Least, Most: d.Most, Choices: orNone(d.Choices),
				Needed: d.Needed, Help: d.Help,
			}
		}),
	}
}

func againModel(a practice.AgainLine) model.AgainLine {
	return model.AgainLine{Finding: findingModel(a.Finding), Job: wire.New(wire.Job, a.JobID), At: wire.At(a.FromAt), TimeZone: a.TimeZone, Photos: a.Photos}
}

func windowModel(w practice.Window) model.Window {
	return model.Window{
		ID: wire.New(wire.Window, w.ID), Side: model.Side(w.Side), AlongMm: w.AlongMm, DownMm: w.DownMm, WidthMm: w.WidthMm, HeightMm: w.HeightMm,
		BaredTo: w.BaredTo, BlistersSeen: w.BlistersSeen, MadeGood: w.MadeGood,
	}
}
