package graph

import (
	"context"
	"time"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/domain/report"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

// outsider is the client of a request: by the link in its header, or signed in.
func outsider(ctx context.Context, code, key string) practice.Holder {
	return practice.Holder{Actor: auth.Actor(ctx), Link: auth.ShareToken(ctx), Code: code, Report: key}
}

var answerKinds = map[string]model.ClientAnswerKind{
	"agreed": model.ClientAnswerKindAgreed, "declined": model.ClientAnswerKindDeclined, "claimed done": model.ClientAnswerKindClaimedDone,
}

func answerOf(kind model.ClientAnswerKind) string {
	if kind == model.ClientAnswerKindClaimedDone {
		return "claimed done"
	}
	return string(kind)
}

// clientTasks are the recommendations as printed, each with what this client said to it.
func clientTasks(s practice.Shared, content report.Report) []model.ClientTask {
	tasks := make([]model.ClientTask, len(content.Recommendations))
	for k, r := range content.Recommendations {
		tasks[k] = model.ClientTask{
			Number: int32(k + 1), Grade: string(r.Grade), Sure: string(r.Sure), What: r.What, Reason: r.Because, ByOn: printedDay(r.By), ByAsWritten: r.By,
			Answers: []model.ClientAnswer{},
		}
		for _, a := range s.Answers {
			if string(domain.ThingRecommendation)+"_"+a.Recommendation.String() == r.ID {
				tasks[k].Answers = append(tasks[k].Answers, model.ClientAnswer{Answer: answerKinds[a.Answer], Reason: a.Reason, At: wire.At(a.At), Photo: a.Came.State, Sent: sent(a.Came), File: a.Came.File})
			}
		}
	}
	return tasks
}

// sent says what came with an answer.
func sent(c practice.Came) string {
	switch {
	case c.State == "":
		return ""
	case c.Invoice():
		return "invoice"
	}
	return "photo"
}

// printedDay reads a day as reports print one; nil where it is in other words.
func printedDay(by string) *wire.Date {
	at, err := time.Parse("2 Jan 2006", by)
	if err != nil {
		return nil
	}
	day := wire.Day(at)
	return &day
}

func clientMessages(list []practice.ClientMessage) []model.ClientMessage {
	out := make([]model.ClientMessage, len(list))
	for k, m := range list {
		out[k] = model.ClientMessage{Text: m.Text, At: wire.At(m.At)}
	}
	return out
}

func clientPermits(list []practice.ClientPermit) []model.ClientPermit {
	out := make([]model.ClientPermit, len(list))
	for k, p := range list {
		out[k] = model.ClientPermit{Number: int32(k + 1), Name: p.Name, Email: p.Email, Purpose: p.Purpose, GivenAt: wire.At(p.GivenAt), WithdrawnAt: wire.MaybeAt(p.WithdrawnAt)}
	}
	return out
}

// clientHome gathers an account's reports by boat, a boat of each practice by itself: one
// practice does not know what another has of the same hull.
func clientHome(h practice.ClientHome) *model.ClientHome {
	out := &model.ClientHome{Addresses: make([]model.ClientAddress, len(h.Grants)), Boats: []model.ClientKept{}}
	for k, g := range h.Grants {
		out.Addresses[k] = model.ClientAddress{Email: g.Email, PracticeName: g.PracticeName}
	}
	at := map[any]int{}
	for _, r := range h.Reports {
		k, there := at[r.VesselID]
		if !there {
			k = len(out.Boats)
			at[r.VesselID] = k
			out.Boats = append(out.Boats, model.ClientKept{Name: r.Content.Vessel.Name, Kind: boatKind(r.Content), PracticeName: r.PracticeName, Reports: []model.SharedReport{}})
		}
		out.Boats[k].Reports = append(out.Boats[k].Reports, SharedReport(r.Shared, r.Content))
	}
	return out
}

func clientWord(w practice.ClientWord) *model.ClientWord {
	out := &model.ClientWord{
		Answers: make([]model.ToldAnswer, len(w.Answers)), Messages: make([]model.ToldMessage, len(w.Messages)), Permits: make([]model.ToldPermit, len(w.Permits)),
	}
	for k, a := range w.Answers {
		out.Answers[k] = model.ToldAnswer{
			ID: wire.New(domain.ThingClientAnswer, a.ID), Recommendation: wire.New(wire.Recommendation, a.Recommendation), Job: wire.New(wire.Job, a.JobID), ReportNumber: a.Number,
			By: a.ByName, Answer: answerKinds[a.Answer], Reason: a.Reason, At: wire.At(a.At),
			PhotoState: a.Came.State, PhotoRefusedBecause: a.RefusedBecause, PhotoView: a.Came.File, PhotoThumb: a.Thumb, Sent: sent(a.Came), FileName: a.Came.Name,
		}
	}
	for k, m := range w.Messages {
		out.Messages[k] = model.ToldMessage{ID: wire.New(domain.ThingClientMessage, m.ID), Job: wire.New(wire.Job, m.JobID), ReportNumber: m.Number, By: m.ByName, Text: m.Text, At: wire.At(m.At)}
	}
	for k, p := range w.Permits {
		out.Permits[k] = model.ToldPermit{
			ID: wire.New(domain.ThingClientPermit, p.Teller.ID), Job: wire.New(wire.Job, p.JobID), ReportNumber: p.Number, By: p.ByName,
			Name: p.Name, Email: p.Email, Purpose: p.Purpose, GivenAt: wire.At(p.GivenAt), WithdrawnAt: wire.MaybeAt(p.WithdrawnAt),
		}
	}
	return out
}
