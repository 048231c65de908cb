package graph

import (
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

func photoModel(p practice.Photo) model.Photo {
	return model.Photo{
		ID: wire.New(wire.Photo, p.ID), Caption: p.Caption, State: p.State, RefusedBecause: p.RefusedBecause, TakenAt: wire.MaybeAt(p.TakenAt), Width: p.Width, Height: p.Height,
		Place: p.Place, View: orNothing(p.View), Thumb: orNothing(p.Thumb), Printed: p.Printed, Alt: p.Alt, Drawn: wire.JSON(p.Annotation), OnDevice: p.OnDevice,
		Version: p.Version,
	}
}

func photoModels(photos []practice.Photo) []model.Photo {
	out := make([]model.Photo, len(photos))
	for k, p := range photos {
		out[k] = photoModel(p)
	}
	return out
}

// orNothing answers null for a text that is not there.
func orNothing(s string) *string {
	if s == "" {
		return nil
	}
	return &s
}
