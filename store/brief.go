package store

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

// Brief implements practice.BriefReader.
func (s *Store) Brief(ctx context.Context, p, job uuid.UUID, who practice.Sees) (practice.Brief, error) {
	var (
		b           practice.Brief
		line        *queries.GetJobLineRow
		events      []queries.EventsOfVesselRow
		permissions []queries.PermissionsOfJobRow
		visits      []queries.GetVisitLineRow
		plan        *queries.BriefPlanRow
		findings    []queries.BriefFindingsRow
		recommended []queries.BriefRecommendationsRow
	)
	guest, self, member := whom(who)
	history := historyInto(&b.History, p, job, who)
	err := s.ReadInPractice(ctx, p, func(batch *pgx.Batch) {
		one(batch, &line, queries.GetJobLine, p, job, guest, self, member)
		many(batch, &permissions, queries.PermissionsOfJob, p, job)
		many(batch, &visits, queries.VisitLinesOfJob, p, job)
		one(batch, &plan, queries.BriefPlan, p, job)
		many(batch, &findings, queries.BriefFindings, p, job, guest, self, member)
		many(batch, &recommended, queries.BriefRecommendations, p, job, guest, self, member)
		ofJobsVessel(batch, func(batch *pgx.Batch) {
			many(batch, &events, queries.EventsOfVessel, p, job)
			history.queue(batch)
		})
	})
	if err == nil && line == nil {
		err = domain.ErrNotFound
	}
	if err == nil {
		err = history.finish()
	}
	if err != nil {
		return practice.Brief{}, err
	}
	b.Job, b.Visits = jobLineFrom(*line), visitLines(visits, nil)
	b.Permissions = convert(permissions, permissionFrom(job))
	b.Events = convert(events, func(e queries.EventsOfVesselRow) practice.Event { return practice.Event(e) })
	b.Findings = convert(findings, func(f queries.BriefFindingsRow) practice.BriefFinding { return practice.BriefFinding(f) })
	b.Recommended = convert(recommended, func(r queries.BriefRecommendationsRow) practice.BriefRecommendation {
		return practice.BriefRecommendation(r)
	})
	if plan != nil {
		of := practice.BriefPlan(*plan)
		b.Plan = &of
	}
	return b, nil
}
