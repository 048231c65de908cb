package graph

import (
	"context"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

func (r *Resolver) viewer(ctx context.Context) (*model.Viewer, error) {
	a := auth.Actor(ctx)
	p, m, err := r.Practice.Viewer(ctx, a)
	if err != nil {
		return nil, err
	}
	v := &model.Viewer{Practice: practiceModel(p), Member: memberLine(m)}
	for _, role := range a.Roles {
		v.Roles = append(v.Roles, model.Role(role))
	}
	for _, do := range domain.Actions() {
		if domain.May(a, do) == nil {
			v.May = append(v.May, string(do))
		}
	}
	return v, nil
}

func (r *Resolver) head(ctx context.Context, since int64) (*model.Head, error) {
	h, err := r.Practice.Head(ctx, auth.Actor(ctx), since)
	if err != nil {
		return nil, err
	}
	m := &model.Head{Epoch: int32(h.Epoch), Seq: int32(h.Seq)}
	if !h.Whole {
		return m, nil
	}
	m.Moved = make([]model.Moved, len(h.Moved))
	for k, x := range h.Moved {
		m.Moved[k] = model.Moved{Seq: int32(x.Seq), Operation: x.Operation, Touched: wire.IDColumn{}, At: wire.At(x.At)}
		for _, text := range x.Touched() {
			if id, err := wire.ParseID(text); err == nil {
				m.Moved[k].Touched = append(m.Moved[k].Touched, id)
			}
		}
	}
	return m, nil
}

var _ = reads(wire.Practice, func(r *Resolver, ctx context.Context, id uuid.UUID) (model.Practice, error) {
	p, err := r.Practice.Practice(ctx, auth.Actor(ctx))
	if err == nil && p.ID != id {
		err = domain.ErrNotFound
	}
	return practiceModel(p), err
})

func practiceModel(p practice.Practice) model.Practice {
	m := model.Practice{
		ID: wire.New(wire.Practice, p.ID), Name: p.Name, Address: p.Address, Email: p.Email, Phone: p.Phone, TimeZone: p.TimeZone,
		Currency: p.Currency, Units: p.Units, ReviewRequired: p.ReviewRequired, SelfCheckHours: p.SelfCheckHours, Invented: p.Invented, Version: p.Version,
	}
	for _, e := range p.ContrastEdges {
		m.ContrastEdges = append(m.ContrastEdges, int32(e))
	}
	return m
}

func edges(list []int32) []int16 {
	if list == nil {
		return nil
	}
	out := make([]int16, len(list))
	for k, x := range list {
		out[k] = int16(min(max(x, 0), 1<<14))
	}
	return out
}

func memberLine(m practice.MemberLine) model.MemberLine {
	line := model.MemberLine{ID: wire.New(wire.Member, m.ID), Name: m.Name, Active: m.Active}
	for _, role := range m.Roles {
		line.Roles = append(line.Roles, model.Role(role))
	}
	return line
}
