package graph

import (
	"context"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/graph/model"
	"boottop.example/practice/graph/wire"
)

func (r *Resolver) surveyBook(ctx context.Context, job uuid.UUID) (model.SurveyBook, error) {
	b, err := r.Practice.SurveyBook(ctx, auth.Actor(ctx), job)
	if err != nil {
		return model.SurveyBook{}, err
	}
	m := model.SurveyBook{
		Job: jobLine(b.Job, time.Now()), Schedule: scheduleModel(b.Schedule), Examinations: each(b.Examinations, examinationModel), Notes: each(b.Notes, attendanceModel),
	}
	if v := b.Valuation; v != nil {
		m.Valuation = &model.Valuation{
			FigureMinor: int32(v.FigureMinor), Currency: v.Currency, Basis: v.Basis, On: wire.Day(v.ValueOn), Said: v.Said, Comparables: wire.JSON(v.Comparables),
			By: v.ByName, At: wire.At(v.At), Version: v.Version,
		}
	}
	return m, nil
}

func scheduleModel(s practice.Schedule) model.Schedule {
	return model.Schedule{Version: s.Version, Areas: each(s.Areas, func(a practice.ScheduleArea) model.ScheduleArea {
		return model.ScheduleArea{ID: wire.New(wire.ScheduleArea, a.ID), Name: a.Name, Items: each(a.Items, func(i practice.ScheduleItem) model.ScheduleItem {
			return model.ScheduleItem{ID: wire.New(wire.ScheduleItem, i.ID), Name: i.Name}
		})}
	})}
}

func examinationModel(x practice.Examination) model.Examination {
	return model.Examination{
		ID: wire.New(wire.Examination, x.ID), Visit: wire.New(wire.Visit, x.VisitID), Item: wire.New(wire.ScheduleItem, x.ItemID), Area: x.Area, Name: x.Name,
		Examined: x.Examined, Why: x.Why, Condition: x.Condition, Note: x.Note, Finding: wire.Maybe(wire.Finding, x.FindingID), Photo: wire.Maybe(wire.Photo, x.PhotoID),
		By: x.ByName, At: wire.At(x.At), Version: x.Version,
	}
}

func attendanceModel(n practice.AttendanceNote) model.AttendanceNote {
	return model.AttendanceNote{
		ID: wire.New(wire.AttendanceNote, n.ID), Visit: wire.Maybe(wire.Visit, n.VisitID), Kind: n.Kind, At: wire.At(n.At), WithWhom: n.WithWhom, Text: n.Text,
		By: n.ByName, WrittenAt: wire.At(n.WrittenAt), StruckAt: wire.MaybeAt(n.StruckAt), StruckReason: n.StruckReason, PreviousSurveyor: n.PreviousSurveyor,
	}
}
