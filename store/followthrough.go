package store

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

var _ = say(map[string]rule{
	"recommendation_evidence_pkey":        {domain.Conflict, "id", "Evidence with this id is kept already."},
	"recommendation_evidence_text_length": {domain.Invalid, "text", "Keep it to 2000 letters."},
	"danger_notices_pkey":                 {domain.Conflict, "id", "A notice with this id is kept already."},
	"danger_notices_stay_as_sent":         {domain.Conflict, "", "This notice was sent and stays as it was. Draft another."},
	"danger_told_role_known":              {domain.Invalid, "told", "Somebody is told as owner, client, yard, on board, harbour or other."},
	"danger_told_how_known":               {domain.Invalid, "told", "One speaks in person, by telephone or by radio."},
	"danger_told_name_length":             {domain.Invalid, "told", "Keep a name to 200 letters."},
	"seen_letters_pkey":                   {domain.Conflict, "id", "A letter with this id is kept already."},
	"seen_letters_addressed":              {domain.Invalid, "addressedTo", "Say to whom it goes, in up to 400 letters."},
	"seen_letters_reader_known":           {domain.Invalid, "reader", "A letter goes to an insurer or a lender."},
	"seen_letters_reference_length":       {domain.Invalid, "reference", "Keep the reference to 200 letters."},
})

// FollowThrough implements practice.FollowThroughReader.
func (s *Store) FollowThrough(ctx context.Context, p, vessel uuid.UUID, who practice.Sees) (practice.FollowThrough, error) {
	var (
		seen     *queries.GetVesselRow
		evidence []queries.EvidenceOfVesselRow
		dangers  []queries.DangerNoticesOfVesselRow
		told     []queries.DangerToldOfVesselRow
		letters  []queries.GetSeenLetterRow
	)
	guest, self, member := whom(who)
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		one(b, &seen, queries.GetVessel, p, vessel, guest, member)
		many(b, &evidence, queries.EvidenceOfVessel, p, vessel, guest, self, member)
		many(b, &dangers, queries.DangerNoticesOfVessel, p, vessel, guest, self, member)
		many(b, &told, queries.DangerToldOfVessel, p, vessel, guest, self, member)
		many(b, &letters, queries.SeenLettersOfVessel, p, vessel, guest, self, member)
	})
	if err == nil && seen == nil {
		err = domain.ErrNotFound
	}
	if err != nil {
		return practice.FollowThrough{}, err
	}
	toldOf := map[uuid.UUID][]practice.DangerTold{}
	for _, t := range told {
		toldOf[t.NoticeID] = append(toldOf[t.NoticeID], practice.DangerTold{Name: t.Name, Role: t.Role, SpokenAt: t.SpokenAt, How: t.How, Email: t.Email})
	}
	return practice.FollowThrough{
		Evidence: convert(evidence, func(r queries.EvidenceOfVesselRow) practice.ShownEvidence { return practice.ShownEvidence(r) }),
		Dangers: convert(dangers, func(r queries.DangerNoticesOfVesselRow) practice.DangerNotice {
			return practice.DangerNotice{
				ID: r.ID, RecommendationID: r.RecommendationID, JobID: r.JobID, Text: r.Text, DraftedBy: r.DraftedBy, DraftedAt: r.DraftedAt, SentBy: r.SentBy,
				SentAt: r.SentAt, Version: r.Version, Told: toldOf[r.ID],
			}
		}),
		Letters: convert(letters, func(r queries.GetSeenLetterRow) practice.SeenLetter { return practice.SeenLetter(r) }),
	}, nil
}

// SeenLetter implements practice.FollowThroughReader.
func (s *Store) SeenLetter(ctx context.Context, p, id uuid.UUID, who practice.Sees) (practice.SeenLetter, error) {
	var row *queries.GetSeenLetterRow
	guest, self, member := whom(who)
	if err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) { one(b, &row, queries.GetSeenLetter, p, id, guest, self, member) }); err != nil {
		return practice.SeenLetter{}, err
	}
	if row == nil {
		return practice.SeenLetter{}, domain.ErrNotFound
	}
	return practice.SeenLetter(*row), nil
}

// InsertEvidence implements practice.FollowThroughWriter.
func (tx *inPractice) InsertEvidence(ctx context.Context, e practice.ShownEvidence, by *uuid.UUID, now time.Time) error {
	return fault("insert evidence", tx.q.InsertEvidence(ctx, queries.InsertEvidenceParams{
		PracticeID: tx.practice, ID: e.ID, RecommendationID: e.RecommendationID, Kind: e.Kind, PhotoID: e.PhotoID, FindingID: e.FindingID, VisitID: e.VisitID,
		UploadID: e.UploadID, Text: e.Text, ToldOn: e.ToldOn, ByID: by, Now: now,
	}))
}

// PhotoVessel implements practice.FollowThroughWriter.
func (tx *inPractice) PhotoVessel(ctx context.Context, photo uuid.UUID, who practice.Sees) (uuid.UUID, error) {
	guest, self, member := whom(who)
	id, err := found(tx.q.PhotoVessel(ctx, queries.PhotoVesselParams{PracticeID: tx.practice, ID: photo, Guest: guest, Self: self, Member: member}))
	return id, fault("read photo", err)
}

// DangerFacts implements practice.FollowThroughWriter.
func (tx *inPractice) DangerFacts(ctx context.Context, recommendation uuid.UUID, who practice.Sees) (practice.DangerFacts, error) {
	guest, self, member := whom(who)
	row, err := found(tx.q.DangerFacts(ctx, queries.DangerFactsParams{PracticeID: tx.practice, ID: recommendation, Guest: guest, Self: self, Member: member}))
	return practice.DangerFacts(row), fault("read danger", err)
}

// InsertDangerNotice implements practice.FollowThroughWriter.
func (tx *inPractice) InsertDangerNotice(ctx context.Context, n practice.DangerNotice, by *uuid.UUID, now time.Time) error {
	return fault("insert notice", tx.q.InsertDangerNotice(ctx, queries.InsertDangerNoticeParams{
		PracticeID: tx.practice, ID: n.ID, RecommendationID: n.RecommendationID, JobID: n.JobID, Text: n.Text, ByID: by, Now: now,
	}))
}

// DangerNoticeToSend implements practice.FollowThroughWriter.
func (tx *inPractice) DangerNoticeToSend(ctx context.Context, id uuid.UUID, who practice.Sees) (practice.DangerNotice, error) {
	guest, self, member := whom(who)
	r, err := found(tx.q.LockDangerNotice(ctx, queries.LockDangerNoticeParams{PracticeID: tx.practice, ID: id, Guest: guest, Self: self, Member: member}))
	return practice.DangerNotice{ID: r.ID, RecommendationID: r.RecommendationID, JobID: r.JobID, Text: r.Text, SentAt: r.SentAt, Version: r.Version}, fault("read notice", err)
}

// SendDangerNotice implements practice.FollowThroughWriter.
func (tx *inPractice) SendDangerNotice(ctx context.Context, n practice.DangerNotice, by *uuid.UUID, now time.Time) error {
	if err := changed(tx.q.SendDangerNotice(ctx, queries.SendDangerNoticeParams{PracticeID: tx.practice, ID: n.ID, Version: n.Version, Text: n.Text, ByID: by, Now: now})); err != nil {
		return fault("send notice", err)
	}
	for k, t := range n.Told {
		err := tx.q.InsertDangerTold(ctx, queries.InsertDangerToldParams{
			PracticeID: tx.practice, NoticeID: n.ID, Position: int16(k + 1), Name: t.Name, Role: t.Role, SpokenAt: t.SpokenAt, How: t.How, Email: t.Email,
		})
		if err != nil {
			return fault("insert who was told", err)
		}
	}
	return nil
}

// LetterFacts implements practice.FollowThroughWriter.
func (tx *inPractice) LetterFacts(ctx context.Context, job uuid.UUID, who practice.Sees) (f practice.LetterFacts, err error) {
	guest, self, member := whom(who)
	head, err := found(tx.q.LetterFacts(ctx, queries.LetterFactsParams{PracticeID: tx.practice, JobID: job, Guest: guest, Self: self, Member: member}))
	if err != nil {
		return f, fault("read job", err)
	}
	recs, err := tx.q.RecommendationsToTell(ctx, queries.RecommendationsToTellParams{PracticeID: tx.practice, JobID: job, Guest: guest, Self: self, Member: member})
	if err != nil {
		return f, fault("read recommendations", err)
	}
	states, err := tx.q.StatesOfVessel(ctx, queries.StatesOfVesselParams{PracticeID: tx.practice, VesselID: head.VesselID, Guest: guest, Self: self, Member: member})
	if err != nil {
		return f, fault("read states", err)
	}
	evidence, err := tx.q.EvidenceOfVessel(ctx, queries.EvidenceOfVesselParams{PracticeID: tx.practice, VesselID: head.VesselID, Guest: guest, Self: self, Member: member})
	if err != nil {
		return f, fault("read evidence", err)
	}
	signer, err := found(tx.q.MemberName(ctx, queries.MemberNameParams{PracticeID: tx.practice, ID: member}))
	if err != nil {
		return f, fault("read member", err)
	}
	return practice.LetterFacts{
		VesselID: head.VesselID, VesselName: head.VesselName, HullNumberAsRead: head.HullNumberAsRead, PracticeName: head.PracticeName, Address: head.Address,
		Email: head.Email, Phone: head.Phone, TimeZone: head.TimeZone, Invented: head.Invented, Signer: signer.Name,
		Recommendations: convert(recs, func(r queries.RecommendationsToTellRow) practice.RecommendationToTell {
			return practice.RecommendationToTell(r)
		}),
		States:   convert(states, func(r queries.StatesOfVesselRow) practice.RecommendationState { return practice.RecommendationState(r) }),
		Evidence: convert(evidence, func(r queries.EvidenceOfVesselRow) practice.ShownEvidence { return practice.ShownEvidence(r) }),
	}, nil
}

// InsertSeenLetter implements practice.FollowThroughWriter.
func (tx *inPractice) InsertSeenLetter(ctx context.Context, l practice.SeenLetter, by *uuid.UUID, now time.Time) error {
	return fault("insert letter", tx.q.InsertSeenLetter(ctx, queries.InsertSeenLetterParams{
		PracticeID: tx.practice, ID: l.ID, VesselID: l.VesselID, JobID: l.JobID, AddressedTo: l.AddressedTo, Reader: l.Reader, Reference: l.Reference,
		Content: l.Content, LeftOut: l.LeftOut, Sha256: l.Sha256, ByID: by, Now: now,
	}))
}
