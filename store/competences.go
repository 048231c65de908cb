package store

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

var _ = say(map[string]rule{
	"competence_judgements_grounds_length": {domain.Invalid, "grounds", "Keep the grounds to 500 letters."},
})

// Competences implements practice.CompetenceReader.
func (s *Store) Competences(ctx context.Context, p uuid.UUID) ([]practice.MemberCompetence, error) {
	var (
		rows       []queries.CompetencesOfAllRow
		judgements []queries.JudgementsOfAllRow
	)
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		many(b, &rows, queries.CompetencesOfAll, p)
		many(b, &judgements, queries.JudgementsOfAll, p)
	})
	if err != nil {
		return nil, err
	}
	var list []practice.MemberCompetence
	at := map[uuid.UUID]int{}
	for _, r := range rows {
		k, known := at[r.MemberID]
		if !known {
			k = len(list)
			at[r.MemberID] = k
			list = append(list, practice.MemberCompetence{Member: practice.MemberLine{ID: r.MemberID, Name: r.Name, Roles: r.Roles, Active: true}})
		}
		if r.Kind != nil {
			list[k].Kinds = append(list[k].Kinds, competenceFrom(r))
		}
	}
	for _, j := range judgements {
		if k, known := at[j.MemberID]; known {
			list[k].Judgements = append(list[k].Judgements, practice.Judgement(j))
		}
	}
	return list, nil
}

// competenceFrom is a kind of job that somebody does; the zero day stands for none.
func competenceFrom(r queries.CompetencesOfAllRow) practice.Competence {
	c := practice.Competence{Kind: *r.Kind, JudgedBy: r.JudgedBy, Grounds: r.Grounds}
	if !r.JudgedOn.IsZero() {
		c.JudgedOn = &r.JudgedOn
	}
	return c
}

// CompetencesOf implements practice.CompetenceWriter.
func (tx *inPractice) CompetencesOf(ctx context.Context, member uuid.UUID) ([]string, error) {
	kinds, err := tx.q.CompetencesOf(ctx, queries.CompetencesOfParams{PracticeID: tx.practice, MemberID: member})
	return kinds, fault("read competences", err)
}

// SetCompetences implements practice.CompetenceWriter.
func (tx *inPractice) SetCompetences(ctx context.Context, member uuid.UUID, kinds []string) error {
	b := &pgx.Batch{}
	b.Queue(queries.ForgetCompetences, tx.practice, member)
	b.Queue(queries.InsertCompetences, kinds, tx.practice, member)
	return fault("set competences", tx.tx.SendBatch(ctx, b).Close())
}

// InsertJudgement implements practice.CompetenceWriter.
func (tx *inPractice) InsertJudgement(ctx context.Context, j practice.Judgement, by *uuid.UUID) error {
	return fault("insert judgement", tx.q.InsertJudgement(ctx, queries.InsertJudgementParams{
		PracticeID: tx.practice, ID: j.ID, MemberID: j.MemberID, Kind: j.Kind, Competent: j.Competent, JudgedOn: j.JudgedOn, JudgedBy: by, Grounds: j.Grounds, At: j.At,
	}))
}
