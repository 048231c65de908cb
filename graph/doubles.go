package graph

import (
	"context"
	"strings"
	"time"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

// likelyDoubles reads the pairs that look like one.
func (r *Resolver) likelyDoubles(ctx context.Context) ([]model.LikelyDouble, error) {
	list, err := r.Practice.LikelyDoubles(ctx, auth.Actor(ctx))
	out, now := make([]model.LikelyDouble, len(list)), time.Now()
	for k, d := range list {
		out[k] = model.LikelyDouble{
			First: partyModel(practice.PartyPage{Party: d.First}, now), Second: partyModel(practice.PartyPage{Party: d.Second}, now), Because: d.Because,
		}
	}
	return out, err
}

// partyMerges reads a page of merges.
func (r *Resolver) partyMerges(ctx context.Context, first int32, after *string) (model.PartyMergeConnection, error) {
	page, err := pageOf(first, after)
	if err != nil {
		return model.PartyMergeConnection{}, err
	}
	list, err := r.Practice.PartyMerges(ctx, auth.Actor(ctx), page)
	if err != nil {
		return model.PartyMergeConnection{}, err
	}
	list, more := cut(list, page.First)
	c, end := model.PartyMergeConnection{Edges: make([]model.PartyMergeEdge, len(list))}, ""
	for k, m := range list {
		end = cursor(m.At.Format(time.RFC3339Nano), m.ID)
		c.Edges[k] = model.PartyMergeEdge{Cursor: end, Node: model.PartyMerge{
			ID: wire.New(wire.PartyMerge, m.ID), Kept: wire.New(wire.Party, m.KeptID), KeptName: m.KeptName, Lost: wire.New(wire.Party, m.LostID), LostName: m.LostName,
			Because: m.Because, At: wire.At(m.At), By: m.By, Followed: m.Followed, UndoneAt: wire.MaybeAt(m.UndoneAt), UndoneBy: m.UndoneBy, UndoneBecause: m.UndoneBecause,
			KeptIsGone: m.KeptIsGone,
		}}
	}
	c.PageInfo = pageInfo(more, end)
	return c, nil
}

func partySide(s practice.PartySide, now time.Time) model.PartySide {
	m := model.PartySide{Party: partyModel(s.PartyPage, now), Points: make([]model.PointsToParty, len(s.Points))}
	for k, p := range s.Points {
		m.Points[k] = model.PointsToParty{What: pointing(p.Place), Count: int32(p.Count)}
	}
	return m
}

// pointings says what points to a party, by table and column.
var pointings = map[string]string{
	"engagements.client_id": "enquiries", "jobs.client_id": "jobs as client", "parties.merged_into": "entries merged into it before",
	"party_roles.party_id": "parts in vessels and jobs", "permissions.given_by_id": "permissions given", "reinspections.recalled_party": "recall letters",
	"shares.party_id": "links to reports", "spells.yard_id": "times ashore", "yard_links.yard_id": "links of a yard", "yards.party_id": "a yard’s sheet",
}

// pointing names a place; one that is not listed yet is named by its table.
func pointing(place string) string {
	if said, known := pointings[place]; known {
		return said
	}
	table, _, _ := strings.Cut(place, ".")
	return strings.ReplaceAll(table, "_", " ")
}
