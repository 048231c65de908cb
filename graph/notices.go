package graph

import (
	"time"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

func noticesModel(n practice.Notices, first int) *model.NoticeConnection {
	list, more := cut(n.List, first)
	c, end := &model.NoticeConnection{Edges: make([]model.NoticeEdge, len(list)), Unseen: n.Unseen, Digest: n.Digest}, ""
	for k, one := range list {
		end = cursor(one.At.Format(time.RFC3339Nano), one.ID)
		c.Edges[k] = model.NoticeEdge{Cursor: end, Node: model.Notice{
			ID: wire.New(wire.Notice, one.ID), What: one.What, Text: one.Text(), By: one.By, At: wire.At(one.At), SeenAt: wire.MaybeAt(one.SeenAt),
			Job: wire.Maybe(wire.Job, one.Job), Visit: wire.Maybe(wire.Visit, one.Visit), Engagement: wire.Maybe(wire.Engagement, one.Engagement),
		}}
	}
	c.PageInfo = pageInfo(more, end)
	return c
}
