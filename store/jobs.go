package store

import (
	"context"
	"errors"
	"strconv"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

var _ = say(map[string]rule{
	"jobs_kind_known":                       {domain.Invalid, "kind", "This kind of job is not known here."},
	"jobs_stage_known":                      {domain.Invalid, "stage", "A job is at enquiry, quoted, booked, visiting, writing, in review, issued, closed or cancelled."},
	"jobs_cite_known":                       {domain.Invalid, "cite", "Its evidence is for this client only, for the vessel history without names, or may be told named."},
	"jobs_number_once":                      {domain.Conflict, "number", "Another job has this number already. Choose another, or leave it out and take the practice's next."},
	"jobs_pkey":                             {domain.Conflict, "id", "A job with this id is kept already."},
	"permissions_windows_range":             {domain.Invalid, "windows", "Say how many windows may be bared in all, 1 to 1000; leave it out where nobody said."},
	"permissions_windows_of_scraping":       {domain.Invalid, "windows", "Only leave to scrape counts windows."},
	"permissions_what_known":                {domain.Invalid, "what", "This permission is not one that the practice keeps."},
	"papers_kind_known":                     {domain.Invalid, "kind", "A paper is of tonnage, code, class, registration, or other."},
	"papers_title_given":                    {domain.Invalid, "title", "Say in at most 300 letters what paper it is."},
	"papers_issuer_given":                   {domain.Invalid, "issuedBy", "Say in at most 300 letters who issued it."},
	"papers_in_order":                       {domain.Invalid, "endsOn", "It ends before it was issued: one of the days is wrong."},
	"papers_upload_once":                    {domain.Conflict, "upload", "This file is kept as a paper already."},
	"papers_pkey":                           {domain.Conflict, "id", "A paper with this id is kept already."},
	"permissions_pkey":                      {domain.Conflict, "id", "A permission with this id is kept already."},
	"job_access_practice_id_member_id_fkey": {domain.NotFound, "member", "There is no such thing here, or it is not yours to see."},
})

// Job implements practice.JobReader: a job with all that its page shows, in one trip.
func (s *Store) Job(ctx context.Context, p, id uuid.UUID, now time.Time, who practice.Sees) (practice.JobPage, error) {
	var (
		line        *queries.GetJobLineRow
		row         *queries.GetJobRow
		access      []queries.AccessOfJobRow
		permissions []queries.PermissionsOfJobRow
		visits      []queries.GetVisitLineRow
		passes      []queries.PassesOfDayRow
		reports     []queries.ReportLinesOfJobRow
		came        *queries.EngagementsOfRow
		findings    []queries.FindingLinesOfJobRow
		papers      []queries.PapersOfJobRow
		windows     []queries.WindowsOfJobRow
		again       []queries.DueByRow
		unasked     []queries.ActsWithoutLeaveOfJobRow
		zone        []string
	)
	guest, self, member := whom(who)
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		one(b, &line, queries.GetJobLine, p, id, guest, self, member)
		one(b, &row, queries.GetJob, p, id)
		many(b, &access, queries.AccessOfJob, p, id)
		many(b, &permissions, queries.PermissionsOfJob, p, id)
		many(b, &visits, queries.VisitLinesOfJob, p, id)
		many(b, &passes, queries.PassLinesOfJob, p, id)
		many(b, &reports, queries.ReportLinesOfJob, p, id)
		one(b, &came, queries.EngagementsOf, p, (*uuid.UUID)(nil), &id, false, lastID, int32(1))
		many(b, &findings, queries.FindingLinesOfJob, p, id)
		many(b, &windows, queries.WindowsOfJob, p, id)
		many(b, &papers, queries.PapersOfJob, p, id)
		many(b, &again, queries.ReinspectionsOfJob, guest, self, member, now, p, id)
		many(b, &unasked, queries.ActsWithoutLeaveOfJob, p, id)
		column(b, &zone, queries.PracticeZone, p)
	})
	if err == nil && (line == nil || row == nil) {
		err = domain.ErrNotFound
	}
	if err != nil {
		return practice.JobPage{}, err
	}
	page := practice.JobPage{
		JobLine: jobLineFrom(*line), Scope: row.Scope, Cite: row.Cite, CiteAgreedOn: row.CiteAgreedOn, Restricted: row.Restricted, Version: row.Version,
		Access:      convert(access, func(r queries.AccessOfJobRow) practice.MemberLine { return practice.MemberLine(r) }),
		Permissions: convert(permissions, permissionFrom(id)),
		Visits:      visitLines(visits, passes), Reports: convert(reports, reportLineFrom),
	}
	page.Found = convert(findings, func(r queries.FindingLinesOfJobRow) practice.FoundLine { return practice.FoundLine(r) })
	page.Papers = convert(papers, func(r queries.PapersOfJobRow) practice.Paper {
		return practice.Paper{ID: r.ID, Kind: r.Kind, Title: r.Title, IssuedBy: r.IssuedBy, IssuedOn: r.IssuedOn, EndsOn: r.EndsOn, Number: r.Number, NotedAt: r.NotedAt, Key: r.Key, FileName: r.FileName}
	})
	page.Bared = convert(windows, func(r queries.WindowsOfJobRow) practice.Bared { return practice.Bared(r) })
	page.Reinspections = convert(again, reinspectionFrom)
	page.WithoutLeave, page.TimeZone = convert(unasked, actFrom(id)), zone[0]
	if came != nil {
		e, err := engagementFrom(*came)
		if err != nil {
			return page, err
		}
		page.Came = &e
	}
	return page, nil
}

func permissionFrom(job uuid.UUID) func(queries.PermissionsOfJobRow) practice.Permission {
	return func(r queries.PermissionsOfJobRow) practice.Permission {
		return practice.Permission{
			ID: r.ID, JobID: job, What: r.What, Extent: r.Extent, Windows: r.Windows, AskedOn: r.AskedOn, GivenOn: r.GivenOn, RefusedOn: r.RefusedOn,
			GivenByID: r.GivenByID, GivenByName: r.GivenBy, MakesGood: r.MakesGood, Note: r.Note, Version: r.Version,
		}
	}
}

// turnRow is queries.ListJobsRow, the job's part in one piece.
type turnRow struct {
	Turn                int32
	Act, Detail, Whom   string
	AskedOn, On, EndsAt *time.Time
	queries.GetJobLineRow
}

// Jobs implements practice.JobReader.
func (s *Store) Jobs(ctx context.Context, p uuid.UUID, filter practice.JobFilter, afterTurn int32, page practice.Page, now time.Time, who practice.Sees) ([]practice.JobTurn, error) {
	var rows []turnRow
	var zone []string
	guest, self, member := whom(who)
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		column(b, &zone, queries.PracticeZone, p)
		many(b, &rows, queries.ListJobs, p, afterTurn, page.AfterID, filter.Open, filter.Issued, filter.Mine, member, guest, self, int32(page.First+1))
	})
	if err == nil && len(zone) == 0 {
		err = domain.ErrNotFound
	}
	if err != nil {
		return nil, err
	}
	return convert(rows, func(r turnRow) practice.JobTurn {
		act := practice.Act{What: r.Act, Detail: r.Detail, Whom: r.Whom, Since: r.AskedOn, On: r.On, Ends: r.EndsAt}
		return practice.NewJobTurn(jobLineFrom(r.GetJobLineRow), r.Turn, act, now, zone[0])
	}), nil
}

// Job implements practice.JobWriter.
func (tx *inPractice) Job(ctx context.Context, id uuid.UUID, who practice.Sees) (practice.Job, error) {
	row, err := found(tx.q.JobToWrite(ctx, queries.JobToWriteParams{PracticeID: tx.practice, ID: id, Guest: who.Guest, Self: who.Self, Member: who.Member}))
	return practice.Job(row), fault("read job", err)
}

// LockJobNumbers implements practice.JobWriter.
func (tx *inPractice) LockJobNumbers(ctx context.Context, year int) (int32, error) {
	if err := tx.q.LockJobNumbers(ctx, tx.practice.String()); err != nil {
		return 0, fault("lock job numbers", err)
	}
	last, err := tx.q.LastJobNumber(ctx, queries.LastJobNumberParams{PracticeID: tx.practice, Year: strconv.Itoa(year)})
	return last, fault("read last job number", err)
}

// InsertJob implements practice.JobWriter.
func (tx *inPractice) InsertJob(ctx context.Context, j practice.AddJob, now time.Time) error {
	return fault("insert job", tx.q.InsertJob(ctx, queries.InsertJobParams{
		PracticeID: tx.practice, ID: j.ID, VesselID: j.Vessel, ClientID: j.Client, Number: j.Number, Kind: j.Kind, Scope: j.Scope, LeadID: j.Lead,
		Cite: j.Cite, CiteAgreedOn: j.CiteAgreedOn, Restricted: j.Restricted, DueOn: j.DueOn, StandsBetween: j.StandsBetween, Now: now,
	}))
}

// UpdateJob implements practice.JobWriter.
func (tx *inPractice) UpdateJob(ctx context.Context, j practice.Job) error {
	return fault("update job", changed(tx.q.UpdateJob(ctx, queries.UpdateJobParams{
		PracticeID: tx.practice, ID: j.ID, Version: j.Version, ClientID: j.ClientID, Scope: j.Scope, Stage: j.Stage, LeadID: j.LeadID, Cite: j.Cite,
		CiteAgreedOn: j.CiteAgreedOn, Restricted: j.Restricted, DueOn: j.DueOn, StandsBetween: j.StandsBetween,
	})))
}

// AllowJob implements practice.JobWriter.
func (tx *inPractice) AllowJob(ctx context.Context, job, member uuid.UUID) error {
	return fault("open job to member", tx.q.AllowJob(ctx, queries.AllowJobParams{PracticeID: tx.practice, JobID: job, MemberID: member}))
}

// ForbidJob implements practice.JobWriter.
func (tx *inPractice) ForbidJob(ctx context.Context, job, member uuid.UUID) error {
	return fault("close job to member", tx.q.ForbidJob(ctx, queries.ForbidJobParams{PracticeID: tx.practice, JobID: job, MemberID: member}))
}

// JobAccess implements practice.JobWriter.
func (tx *inPractice) JobAccess(ctx context.Context, job uuid.UUID) (int64, error) {
	n, err := tx.q.CountJobAccess(ctx, queries.CountJobAccessParams{PracticeID: tx.practice, JobID: job})
	return n, fault("count job access", err)
}

// Permission implements practice.PermissionWriter.
func (tx *inPractice) Permission(ctx context.Context, id uuid.UUID) (practice.Permission, bool, error) {
	row, err := tx.q.GetPermission(ctx, queries.GetPermissionParams{PracticeID: tx.practice, ID: id})
	if errors.Is(err, pgx.ErrNoRows) {
		return practice.Permission{}, false, nil
	}
	return practice.Permission(row), err == nil, fault("read permission", err)
}

// InsertPermission implements practice.PermissionWriter.
func (tx *inPractice) InsertPermission(ctx context.Context, p practice.Permission) error {
	return fault("insert permission", tx.q.InsertPermission(ctx, queries.InsertPermissionParams{
		PracticeID: tx.practice, ID: p.ID, JobID: p.JobID, What: p.What, Extent: p.Extent, Windows: p.Windows, AskedOn: p.AskedOn, GivenOn: p.GivenOn,
		RefusedOn: p.RefusedOn, GivenByID: p.GivenByID, GivenByName: p.GivenByName, MakesGood: p.MakesGood, Note: p.Note,
	}))
}

// UpdatePermission implements practice.PermissionWriter.
func (tx *inPractice) UpdatePermission(ctx context.Context, p practice.Permission) error {
	return fault("update permission", changed(tx.q.UpdatePermission(ctx, queries.UpdatePermissionParams{
		PracticeID: tx.practice, ID: p.ID, Version: p.Version, What: p.What, Extent: p.Extent, Windows: p.Windows, AskedOn: p.AskedOn, GivenOn: p.GivenOn,
		RefusedOn: p.RefusedOn, GivenByID: p.GivenByID, GivenByName: p.GivenByName, MakesGood: p.MakesGood, Note: p.Note,
	})))
}

// PermissionsOfJob implements practice.PermissionWriter.
func (tx *inPractice) PermissionsOfJob(ctx context.Context, job uuid.UUID) ([]practice.Permission, error) {
	rows, err := tx.q.PermissionsOfJob(ctx, queries.PermissionsOfJobParams{PracticeID: tx.practice, JobID: job})
	return convert(rows, permissionFrom(job)), fault("read permissions", err)
}

// InsertPaper implements practice.PaperWriter.
func (tx *inPractice) InsertPaper(ctx context.Context, in practice.AddPaper, by *uuid.UUID, now time.Time) error {
	return fault("insert paper", tx.q.InsertPaper(ctx, queries.InsertPaperParams{
		PracticeID: tx.practice, ID: in.ID, JobID: in.Job, UploadID: in.Upload, Kind: in.Kind, Title: in.Title, IssuedBy: in.IssuedBy, IssuedOn: in.IssuedOn,
		EndsOn: in.EndsOn, Number: in.Number, Now: now, NotedBy: by,
	}))
}

// PartyByName implements practice.PermissionWriter.
func (tx *inPractice) PartyByName(ctx context.Context, name string, vessel, job uuid.UUID) (*uuid.UUID, error) {
	id, err := tx.q.PartyByName(ctx, queries.PartyByNameParams{PracticeID: tx.practice, Name: name, VesselID: vessel, JobID: job})
	if errors.Is(err, pgx.ErrNoRows) {
		return nil, nil
	}
	return &id, fault("read party by name", err)
}

// RolesInJob implements practice.PermissionWriter.
func (tx *inPractice) RolesInJob(ctx context.Context, party, vessel, job uuid.UUID, on time.Time) ([]string, error) {
	roles, err := tx.q.RolesInJob(ctx, queries.RolesInJobParams{PracticeID: tx.practice, PartyID: party, VesselID: vessel, JobID: job, OnDay: on})
	return roles, fault("read party roles", err)
}
