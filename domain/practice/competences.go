package practice

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// jobKinds are the kinds of job that the practice does itself.
var jobKinds = []string{"pre-purchase", "insurance", "limited moisture", "damage", "repair supervision", "completion", "warranty", "valuation", "expert witness", "repeat kit"}

// Competence is a kind of job that a member does, and whose judgement that is.
type Competence struct {
	Kind     string
	JudgedOn *time.Time // nil: from before judgements were written down
	JudgedBy string
	Grounds  string
}

func (c Competence) sentence(kind string) string {
	by := ""
	if c.JudgedBy != "" {
		by = " by " + c.JudgedBy
	}
	return fmt.Sprintf("Judged competent for jobs of kind %s on %s%s.", kind, c.JudgedOn.Format("2 January 2006"), by)
}

// judged finds when and by whom a member was judged competent for a kind of job.
func (m DiaryMember) judged(kind string) (Competence, bool) {
	k := slices.Index(m.Kinds, kind)
	if k < 0 || m.JudgedOn[k].IsZero() {
		return Competence{}, false
	}
	return Competence{Kind: kind, JudgedOn: &m.JudgedOn[k], JudgedBy: m.JudgedBy[k]}, true
}

// Judgement is one judgement on a member and a kind of job; the newest of a kind counts.
type Judgement struct {
	ID        uuid.UUID
	MemberID  uuid.UUID
	Kind      string
	Competent bool
	JudgedOn  time.Time
	JudgedBy  string
	Grounds   string
	At        time.Time
}

// MemberCompetence is what a member does, and every judgement on it, newest first.
type MemberCompetence struct {
	Member     MemberLine
	Kinds      []Competence
	Judgements []Judgement
}

// CompetenceReader reads what members are competent for.
type CompetenceReader interface {
	// Competences lists the members who make visits, by name, with what each does.
	Competences(ctx context.Context, practice uuid.UUID) ([]MemberCompetence, error)
}

// CompetenceWriter writes what members are competent for.
type CompetenceWriter interface {
	CompetencesOf(ctx context.Context, member uuid.UUID) ([]string, error)
	SetCompetences(ctx context.Context, member uuid.UUID, kinds []string) error
	InsertJudgement(ctx context.Context, j Judgement, by *uuid.UUID) error
}

// Competences lists what each member is competent for, with the judgements it rests on.
func (s *Service) Competences(ctx context.Context, a domain.Actor) ([]MemberCompetence, error) {
	if err := domain.May(a, domain.ReadDiary); err != nil {
		return nil, err
	}
	return s.store.Competences(ctx, a.Practice)
}

// SetCompetences says which kinds of job a member does.
type SetCompetences struct {
	Mutation uuid.UUID `json:"-"`
	Member   uuid.UUID
	Kinds    []string   // none: nobody says
	JudgedOn *time.Time `json:",omitempty"` // nil: today
	JudgedBy *uuid.UUID `json:",omitempty"` // nil: whoever writes it down
	Grounds  string     `json:",omitempty"`
	Again    bool       `json:",omitempty"` // those that the member does already are judged anew too
}

// SetCompetences says which kinds of job a member does, who judged so, when and on what
// grounds. What changed is a judgement of its own; the older ones stay on record.
func (s *Service) SetCompetences(ctx context.Context, a domain.Actor, in SetCompetences) (Done, error) {
	return s.write(ctx, &a, domain.ManageMembers, "setCompetences", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		for _, k := range in.Kinds {
			if !slices.Contains(jobKinds, k) {
				return Done{}, domain.Invalidf("kinds", "The kinds of job are %s.", strings.Join(jobKinds, ", "))
			}
		}
		by, on, err := s.judge(ctx, tx, a, in)
		if err != nil {
			return Done{}, err
		}
		before, err := tx.CompetencesOf(ctx, in.Member)
		if err != nil {
			return Done{}, err
		}
		for _, kind := range jobKinds {
			does, did := slices.Contains(in.Kinds, kind), slices.Contains(before, kind)
			if does == did && (!does || !in.Again) {
				continue
			}
			j := Judgement{ID: derived("competence "+kind, in.Mutation), MemberID: in.Member, Kind: kind, Competent: does, JudgedOn: on, Grounds: strings.TrimSpace(in.Grounds), At: s.instant()}
			if err := tx.InsertJudgement(ctx, j, by); err != nil {
				return Done{}, err
			}
		}
		return touched(ref(domain.ThingMember, in.Member)), tx.SetCompetences(ctx, in.Member, in.Kinds)
	})
}

// judge says whose judgement it is, and of which day.
func (s *Service) judge(ctx context.Context, tx Tx, a domain.Actor, in SetCompetences) (by *uuid.UUID, on time.Time, err error) {
	if err := tx.MemberActive(ctx, in.Member); err != nil {
		return nil, on, err
	}
	if by = in.JudgedBy; by == nil {
		by = entered(a)
	} else if err := tx.MemberActive(ctx, *by); err != nil {
		return nil, on, err
	}
	if len(in.Grounds) > 500 {
		return nil, on, domain.Invalidf("grounds", "Keep the grounds to 500 letters.")
	}
	p, err := tx.Practice(ctx)
	if err != nil {
		return nil, on, err
	}
	today := day(s.instant().In(Zone(p.TimeZone)))
	if on = today; in.JudgedOn != nil {
		on = *in.JudgedOn
	}
	if on.After(today) {
		return nil, on, domain.Invalidf("judgedOn", "Nobody is judged on a day that is still to come.")
	}
	return by, on, nil
}
