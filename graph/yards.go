package graph

import (
	"time"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

func yardModel(y practice.Yard) model.Yard {
	m := model.Yard{
		Yard: partyLine(y.PartyLine), Phone: y.Phone, Email: y.Email, Address: y.Address, TimeZone: y.TimeZone, LiftHours: y.LiftHours, Rules: y.Rules, KeyPlace: y.KeyPlace,
		GateCode: y.GateCode, LatitudeE6: y.LatitudeE6, LongitudeE6: y.LongitudeE6, TidePlace: y.TidePlace, TideWithinMinutes: y.TideWithinMinutes, Version: y.Version,
		Slots: lines(y.Slots, time.Time{}, func(s practice.DiarySpell, _ time.Time) model.BoardSpell { return boardSpell(s) }),
		Tides: tideModels(y.Tides), Weather: weatherModels(y.Weather), Links: make([]model.YardLink, len(y.Links)),
	}
	for k, l := range y.Links {
		m.Links[k] = model.YardLink{
			ID: wire.New(wire.YardLink, l.ID), Name: l.Name, Email: l.Email, CreatedAt: wire.At(l.CreatedAt), Until: wire.At(l.Until), RevokedAt: wire.MaybeAt(l.RevokedAt),
			Openings: l.Openings, LastOpenedAt: wire.MaybeAt(l.LastOpenedAt),
		}
	}
	return m
}

func yardSlotsModel(y practice.YardSlots) model.YardSlots {
	m := model.YardSlots{PracticeName: y.PracticeName, Invented: y.Invented, YardName: y.YardName, ForName: y.ForName, OpenUntil: wire.At(y.Until), Slots: make([]model.YardSlot, len(y.Slots))}
	for k, s := range y.Slots {
		m.Slots[k] = model.YardSlot{
			Boat: s.Boat, BoatKind: s.BoatKind, LoaMm: s.LoaMm, TimeZone: s.TimeZone, Lift: wire.MaybeAt(s.Lift), Launch: wire.MaybeAt(s.Launch), Lifted: s.Lifted,
			Launched: s.Launched, AskedOnly: s.AskedOnly, Held: s.Held, UnderCover: s.UnderCover, WashAt: wire.MaybeAt(s.WashAt), ChockAt: wire.MaybeAt(s.ChockAt),
			ShiftAt: wire.MaybeAt(s.ShiftAt), Told: s.Told,
		}
	}
	return m
}
