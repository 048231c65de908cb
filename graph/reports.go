package graph

import (
	"context"
	"encoding/json"
	"fmt"
	"regexp"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/domain/report"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

var _ = reads(wire.Report, (*Resolver).report)

func (r *Resolver) report(ctx context.Context, id uuid.UUID) (model.Report, error) {
	page, job, err := r.Practice.ReportWithJob(ctx, auth.Actor(ctx), id)
	if err != nil {
		return model.Report{}, err
	}
	return reportModel(page, job, time.Now()), nil
}

func reportModel(p practice.ReportPage, job practice.JobLine, now time.Time) model.Report {
	m := model.Report{
		ID: wire.New(wire.Report, p.ID), Title: p.Title, State: p.State, Job: jobLine(job, now), InShort: p.InShort, Scope: p.Scope, Limits: p.Limits,
		Paper: p.Paper, SignedBy: named(p.SignedBy, p.Members), SecondLookBy: named(p.SecondLookBy, p.Members), SecondLookAt: wire.MaybeAt(p.SecondLookAt),
		IssuedAt: wire.MaybeAt(p.IssuedAt), PDFSha256: hash(p.PdfSha256), PageSha256: hash(p.PageSha256), PDFPages: p.PdfPages,
		Content: wire.JSON(p.Content), InTheWay: unmetModels(p.InTheWay), LeftOut: int32(p.LeftOut), Shares: make([]model.Share, len(p.Shares)),
		Addenda: make([]model.Addendum, len(p.Addenda)), Version: p.Version,
	}
	if p.Number != "" {
		m.Number = &p.Number
	}
	if p.ReplacedBy != nil {
		by := wire.New(wire.Report, *p.ReplacedBy)
		m.ReplacedBy = &by
	}
	m.PDFBytes = small(p.PdfBytes)
	endedModel(&m, p)
	composedModel(&m, p)
	for k, s := range p.Shares {
		m.Shares[k] = model.Share{
			ID: wire.New(wire.Share, s.ID), Name: s.Name, Email: s.Email, Purpose: s.Purpose, AsksCode: s.AsksCode, CreatedAt: wire.At(s.CreatedAt), Until: wire.At(s.Until),
			RevokedAt: wire.MaybeAt(s.RevokedAt), Openings: s.Openings, LastOpenedAt: lastOpened(s.Openings, s.LastOpenedAt),
		}
	}
	for k, a := range p.Addenda {
		m.Addenda[k] = model.Addendum{
			ID: wire.New(wire.Addendum, a.ID), Number: a.Number, RequiredBecause: a.RequiredBecause, Text: a.Text, State: a.State, IssuedAt: wire.MaybeAt(a.IssuedAt),
			PDFSha256: hash(a.PdfSha256), PDFBytes: small(a.PdfBytes), PDFPages: a.PdfPages, PageSha256: hash(a.PageSha256), Version: a.Version,
		}
	}
	return m
}

// endedModel says what took a report's place or took it back, and whose place it took.
func endedModel(m *model.Report, p practice.ReportPage) {
	m.EndedBecause, m.EndedAt = p.EndedBecause, wire.MaybeAt(p.EndedAt)
	if p.ReplacedByNumber != "" {
		m.ReplacedByNumber = &p.ReplacedByNumber
	}
	if p.EndedByName != "" {
		m.EndedByName = &p.EndedByName
	}
	m.Replaces, m.CouldReplace = []model.NumberedReport{}, []model.NumberedReport{}
	for _, k := range p.Kin {
		line := model.NumberedReport{ID: wire.New(wire.Report, k.ID), Number: k.Number, Title: k.Title, State: k.State, IssuedAt: wire.MaybeAt(k.IssuedAt)}
		if k.ReplacedBy != nil && *k.ReplacedBy == p.ID {
			m.Replaces = append(m.Replaces, line)
		} else if k.State == "issued" || k.State == "amended" {
			m.CouldReplace = append(m.CouldReplace, line)
		}
	}
}

func (r *Resolver) reportHistory(ctx context.Context, id uuid.UUID) (model.ReportHistory, error) {
	h, err := r.Practice.ReportHistory(ctx, auth.Actor(ctx), id)
	if err != nil {
		return model.ReportHistory{}, err
	}
	m := model.ReportHistory{
		ID: wire.New(wire.Report, h.ID), Title: h.Title, State: h.State, Job: wire.New(wire.Job, h.JobID), JobNumber: h.JobNumber, Vessel: wire.New(wire.Vessel, h.VesselID),
		VesselName: h.VesselName, ClientName: h.ClientName, Events: make([]model.ReportEvent, len(h.Events)), Older: h.Older,
	}
	if h.Number != "" {
		m.Number = &h.Number
	}
	for k, e := range h.Events {
		m.Events[k] = reportEventModel(e)
	}
	return m, nil
}

func reportEventModel(e practice.ReportEvent) model.ReportEvent {
	m := model.ReportEvent{
		At: wire.At(e.At), Kind: e.Kind, By: e.By, Title: e.Title, Text: e.Text, About: e.About, Hashes: make([]model.FileHash, len(e.Hashes)), Changes: changeModels(e.Changes),
	}
	if e.Report != nil {
		id := wire.New(wire.Report, *e.Report)
		m.Report = &id
	}
	for k, f := range e.Hashes {
		m.Hashes[k] = model.FileHash{Name: f.Name, Sha256: f.SHA256}
	}
	return m
}

// named is a member of whom the report keeps the name alone.
func named(id *uuid.UUID, names map[uuid.UUID]string) *model.MemberLine {
	if id == nil {
		return nil
	}
	return &model.MemberLine{ID: wire.New(wire.Member, *id), Name: names[*id], Roles: []model.Role{}, Active: true}
}

// small is a count of bytes as the contract carries it.
func small(n *int64) *int32 {
	if n == nil {
		return nil
	}
	x := int32(*n)
	return &x
}

func hash(b []byte) wire.Sha256 {
	if len(b) == 0 {
		return nil
	}
	return b
}

func lastOpened(openings int32, at time.Time) *wire.Time {
	if openings == 0 {
		return nil
	}
	t := wire.At(at)
	return &t
}

// outside reads what the link in this request opens.
func (r *Resolver) outside(ctx context.Context) (*model.Outside, error) {
	token := auth.ShareToken(ctx)
	if token == "" {
		return nil, nil
	}
	shared, content, err := r.Practice.OpenShare(ctx, token, "")
	if err != nil {
		return nil, err
	}
	return &model.Outside{Report: SharedReport(shared, content)}, nil
}

// SharedReport is an issued report as the person named on a link may read it; the plain
// share route answers the same.
func SharedReport(s practice.Shared, content report.Report) model.SharedReport {
	m := model.SharedReport{
		Number: s.Number, Key: s.Key, Title: content.Kind, State: s.State, IssuedOn: wire.Day(s.IssuedAt), PracticeName: s.PracticeName, ForName: s.Name,
		Purpose: s.Purpose, OpenUntil: wire.At(s.Until), Boat: model.ClientBoat{Name: content.Vessel.Name, Kind: boatKind(content), OtherReports: orNone(s.OtherReports)},
		EndedBecause: s.EndedBecause, EndedAt: wire.MaybeAt(s.EndedAt),
		Tasks: clientTasks(s, content), Content: numbered(s.Content), PDFBytes: int32(s.PdfBytes), PDFPages: s.PdfPages, PDFSha256: s.PdfSha256,
		Openings: s.Openings, LastOpenedAt: lastOpened(s.Openings, s.LastOpenedAt), Addenda: []model.SharedAddendum{}, Invented: s.Invented,
		Photos: int32(len(content.Photos)), Yours: s.OfClient, Messages: clientMessages(s.Messages), Permits: clientPermits(s.Permits),
	}
	if s.ReplacedBy != "" {
		m.ReplacedByNumber = &s.ReplacedBy
	}
	for _, a := range s.Addenda {
		if a.IssuedAt != nil {
			m.Addenda = append(m.Addenda, model.SharedAddendum{Number: a.Number, IssuedAt: wire.At(*a.IssuedAt), Text: a.Text, PDFBytes: small(a.PdfBytes), Page: a.PageKey != nil})
		}
	}
	return m
}

// thing is the id of one of the practice's things, as it stands in frozen content.
var thing = regexp.MustCompile(`"[a-z]{3}_[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}"`)

// numbered is frozen content with numbers in place of ids: what belongs together still
// does, and nothing of the practice's own is named outside.
func numbered(content json.RawMessage) wire.JSON {
	numbers := map[string][]byte{}
	return thing.ReplaceAllFunc(content, func(id []byte) []byte {
		if numbers[string(id)] == nil {
			numbers[string(id)] = fmt.Appendf(nil, `"n%d"`, len(numbers)+1)
		}
		return numbers[string(id)]
	})
}

func boatKind(content report.Report) string {
	for _, f := range content.Boat {
		if f.Name == "vessel" {
			return f.Is
		}
	}
	return ""
}

func orNone[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}
