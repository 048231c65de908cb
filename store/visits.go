package store

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

var _ = say(map[string]rule{
	"visits_kind_known":       {domain.Invalid, "kind", "A visit is a wet look, a meter visit, repeat readings, inside, completion or other."},
	"visits_state_known":      {domain.Invalid, "state", "A visit is planned, done or cancelled."},
	"visits_end_after_start":  {domain.Invalid, "to", "The visit ends before it begins."},
	"visits_pkey":             {domain.Conflict, "id", "A visit with this id is kept already."},
	"visits_precision_known":  {domain.Invalid, "datePrecision", "A date is known to the instant, the day, the month or the year."},
	"visits_as_written_short": {domain.Invalid, "dateAsWritten", "What is written of the date takes up to 200 letters."},
	"visit_people_once":       {domain.Conflict, "lead", "Somebody who makes this visit has another one at that time. Choose another time, or somebody else."},
	"visit_instruments_once":  {domain.Conflict, "instruments", "An instrument of this visit is on another one at that time. Choose another time, or another instrument."},
	"visits_stay_in_spell":    {domain.Conflict, "from", "The visit lies outside her time ashore. Move the visit or the lift."},
})

// visitRead is a visit on its way, with its passes in full.
type visitRead struct {
	invited    []queries.InvitedToVisitRow
	line       *queries.GetVisitLineRow
	row        *queries.GetVisitRow
	job        *queries.GetJobLineRow
	spell      *queries.GetSpellRow
	conditions []queries.ConditionsOfVisitRow
	windows    []queries.WindowsOfVisitRow
	findings   []queries.FindingsOfVisitRow
	photos     []queries.GetPhotoRow
	marks      []queries.HullMarksOfVisitRow
	passes     passesRead
}

// passesRead is the passes of a visit, each with its plan and what was entered.
type passesRead struct {
	contexts []queries.GetPassContextRow
	plans    []queries.PlansOfVisitRow
	axis     *queries.AxisOfVesselRow
	grids    map[uuid.UUID]practice.Grid
	checks   []queries.BlockChecksOfVisitRow
	entries  []queries.EntriesOfVisitRow
	gaps     []queries.NotReachedOfVisitRow
}

// Visit implements practice.VisitReader: the visit and every part asked for, in one trip.
func (s *Store) Visit(ctx context.Context, p, id uuid.UUID, want practice.VisitParts, who practice.Sees) (practice.VisitPage, error) {
	var r visitRead
	guest, self, member := whom(who)
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		one(b, &r.line, queries.GetVisitLine, p, id, guest, self, member)
		one(b, &r.row, queries.GetVisit, p, id)
		one(b, &r.job, queries.JobLineOfVisit, p, id)
		if want.Spell {
			one(b, &r.spell, queries.SpellOfVisit, p, id)
		}
		if want.Conditions {
			many(b, &r.conditions, queries.ConditionsOfVisit, p, id)
		}
		if want.Windows {
			many(b, &r.windows, queries.WindowsOfVisit, p, id)
		}
		if want.Findings {
			many(b, &r.findings, queries.FindingsOfVisit, p, id)
		}
		if want.Photos {
			many(b, &r.photos, queries.PhotosOfVisit, p, id)
		}
		if want.Invited {
			many(b, &r.invited, queries.InvitedToVisit, p, id)
		}
		if want.Marks {
			many(b, &r.marks, queries.HullMarksOfVisit, p, id)
		}
		if want.Passes {
			r.passes.queue(b, p, id)
		}
	})
	if err == nil && (r.line == nil || r.row == nil || r.job == nil) {
		err = domain.ErrNotFound
	}
	if err != nil {
		return practice.VisitPage{}, err
	}
	return r.page(), nil
}

func (r visitRead) page() practice.VisitPage {
	page := practice.VisitPage{
		VisitLine: visitLineFrom(*r.line), Note: r.row.Note, Version: r.row.Version, Job: jobLineFrom(*r.job),
		Conditions: convert(r.conditions, conditionFrom),
		Windows:    convert(r.windows, func(w queries.WindowsOfVisitRow) practice.Window { return practice.Window(w) }),
		Findings:   convert(r.findings, findingFrom),
		Photos:     convert(r.photos, photoFrom), Passes: r.passes.pages(), Invited: convert(r.invited, invitedFrom),
		Marks: convert(r.marks, func(m queries.HullMarksOfVisitRow) practice.HullMarks { return practice.HullMarks(m) }),
	}
	if r.spell != nil {
		spell := spellFrom(*r.spell)
		page.Spell = &spell
	}
	return page
}

func (r *passesRead) queue(b *pgx.Batch, p, visit uuid.UUID) {
	many(b, &r.contexts, queries.PassContextsOfVisit, p, visit)
	many(b, &r.plans, queries.PlansOfVisit, p, visit)
	one(b, &r.axis, queries.AxisOfVisit, p, visit)
	many(b, &r.checks, queries.BlockChecksOfVisit, p, visit)
	many(b, &r.entries, queries.EntriesOfVisit, p, visit)
	many(b, &r.gaps, queries.NotReachedOfVisit, p, visit)
	r.grids = map[uuid.UUID]practice.Grid{}
	b.Queue(queries.GridsOfVisit, p, visit).Query(func(rows pgx.Rows) error {
		for rows.Next() {
			var pass uuid.UUID
			var taken, flags, dry, placed pgtype.UndecodedBytes
			if err := rows.Scan(&pass, &taken, &flags, &dry, &placed); err != nil {
				return err
			}
			grid, err := gridFrom(taken, flags, dry, placed)
			if err != nil {
				return err
			}
			r.grids[pass] = grid
		}
		return rows.Err()
	})
}

// pages puts each pass together from what the visit's queries brought.
func (r passesRead) pages() []practice.PassPage {
	if len(r.contexts) == 0 || r.axis == nil {
		return nil
	}
	axis := axisFrom(*r.axis)
	plans := make(map[uuid.UUID]practice.Plan, len(r.plans))
	for _, plan := range r.plans {
		plans[plan.ID] = practice.Plan(plan)
	}
	out := make([]practice.PassPage, len(r.contexts))
	at := make(map[uuid.UUID]*practice.PassPage, len(out))
	for k, c := range r.contexts {
		out[k] = practice.PassPage{Axis: axis, Plan: plans[c.PlanID]}
		out[k].PassContext, out[k].Grid = practice.PassContext(c), r.grids[c.ID]
		at[c.ID] = &out[k]
	}
	for _, c := range r.checks {
		at[c.PassID].BlockChecks = append(at[c.PassID].BlockChecks, practice.BlockCheck(c))
	}
	for _, e := range r.entries {
		at[e.PassID].Entries = append(at[e.PassID].Entries, practice.Entry{
			Ordinal: e.Ordinal, ID: e.ID, Value: e.Value, Placements: e.Placements, AsWritten: e.AsWritten, Surface: e.Surface,
		})
	}
	for _, g := range r.gaps {
		at[g.PassID].NotReached = append(at[g.PassID].NotReached, practice.NotReached{ID: g.ID, Ordinal: g.Ordinal, Reason: g.Reason})
	}
	return out
}

// Visits implements practice.VisitReader.
func (s *Store) Visits(ctx context.Context, p uuid.UUID, from, to time.Time, everyones bool, who practice.Sees) ([]practice.VisitLine, error) {
	var visits []queries.GetVisitLineRow
	var passes []queries.PassesOfDayRow
	guest, self, member := whom(who)
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		many(b, &visits, queries.ListVisits, p, to, from, everyones, member, guest, self)
		many(b, &passes, queries.PassesOfSpan, p, to, from)
	})
	return visitLines(visits, passes), err
}

// Visit implements practice.VisitWriter.
func (tx *inPractice) Visit(ctx context.Context, id uuid.UUID, who practice.Sees) (practice.Visit, error) {
	row, err := found(tx.q.VisitToWrite(ctx, queries.VisitToWriteParams{PracticeID: tx.practice, ID: id, Guest: who.Guest, Self: who.Self, Member: who.Member}))
	return practice.Visit{
		ID: row.ID, JobID: row.JobID, VesselID: row.VesselID, SpellID: row.SpellID, Kind: row.Kind, From: row.FromAt, To: row.ToAt,
		TimeZone: row.TimeZone, State: row.State, LeadID: row.LeadID, Note: row.Note, Version: row.Version,
	}, fault("read visit", err)
}

// InsertVisit implements practice.VisitWriter.
func (tx *inPractice) InsertVisit(ctx context.Context, v practice.PlanVisit) error {
	return fault("insert visit", tx.q.InsertVisit(ctx, queries.InsertVisitParams{
		PracticeID: tx.practice, ID: v.ID, JobID: v.Job, SpellID: v.Spell, Kind: v.Kind, FromAt: v.From, ToAt: v.To, TimeZone: v.TimeZone,
		LeadID: v.Lead, FollowsVisitID: v.Follows, FollowsReason: v.FollowsReason, DaysAshoreAsWritten: v.DaysAshoreAsWritten, Note: v.Note,
		DatePrecision: v.Precision(), DateAsWritten: v.DateAsWritten, State: v.State(),
	}))
}

// UpdateVisit implements practice.VisitWriter.
func (tx *inPractice) UpdateVisit(ctx context.Context, v practice.Visit) error {
	return fault("update visit", changed(tx.q.UpdateVisit(ctx, queries.UpdateVisitParams{
		PracticeID: tx.practice, ID: v.ID, Version: v.Version, SpellID: v.SpellID, FromAt: v.From, ToAt: v.To, State: v.State, LeadID: v.LeadID, Note: v.Note,
	})))
}

// BookVisit implements practice.VisitWriter. A visit called off holds nobody, and keeps
// who and what it had for when it is planned again.
func (tx *inPractice) BookVisit(ctx context.Context, v practice.Visit, k practice.Booked) error {
	b := &pgx.Batch{}
	if k.LeadBefore != nil && (v.LeadID == nil || *v.LeadID != *k.LeadBefore) {
		b.Queue(queries.ReleaseVisitPerson, tx.practice, v.ID, *k.LeadBefore)
	}
	if k.People != nil {
		b.Queue(queries.ReleaseVisitPeople, tx.practice, v.ID, k.People, v.LeadID)
	}
	if k.Instruments != nil {
		b.Queue(queries.ReleaseVisitInstruments, tx.practice, v.ID, k.Instruments)
	}
	b.Queue(queries.MoveVisitPeople, k.Now, tx.practice, v.ID)
	b.Queue(queries.MoveVisitInstruments, k.Now, tx.practice, v.ID)
	people := k.People
	if v.LeadID != nil {
		people = append(people[:len(people):len(people)], *v.LeadID)
	}
	b.Queue(queries.BookVisitPeople, k.Now, people, tx.practice, v.ID)
	b.Queue(queries.BookVisitInstruments, k.Now, k.Instruments, tx.practice, v.ID)
	return fault("book visit", tx.tx.SendBatch(ctx, b).Close())
}

// SpellVessel implements practice.VisitWriter.
func (tx *inPractice) SpellVessel(ctx context.Context, spell uuid.UUID) (uuid.UUID, error) {
	id, err := found(tx.q.SpellVessel(ctx, queries.SpellVesselParams{PracticeID: tx.practice, ID: spell}))
	return id, fault("read spell", err)
}
