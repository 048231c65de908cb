package demo

import (
	"context"
	"errors"
	"strings"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

// allTheSame is why something that stands against a visit was let pass.
var allTheSame = map[string]string{
	practice.CheckLeave: "Comes back for it.", practice.CheckDistance: "The first boat is done by noon; the road is good.",
	practice.CheckWaiting: "The client wanted her read in this haul-out; the report says how soon it was.", practice.CheckTide: "The yard lifts her on the slip.",
	practice.CheckCompetence: "Goes along and is shown it.", practice.CheckInstrument: "The other one was away for its check.", practice.CheckAsked: "The yard said yes by telephone.",
	practice.CheckWeather: "She stands under cover by then.", practice.CheckWash: "Block and baseline are done again.",
}

// reasons are those for which a visit is planned though something stands against it.
func (a *afloat) reasons(ctx context.Context, in practice.PlanVisit) (list []practice.Override, err error) {
	fit, err := a.FitVisit(ctx, a.desk(), practice.FitVisit{Job: in.Job, Spell: in.Spell, Kind: in.Kind, From: in.From, To: in.To, TimeZone: in.TimeZone})
	if err != nil {
		return nil, err
	}
	soft := fit.Soft
	for _, s := range fit.Surveyors {
		if in.Lead != nil && s.Member.ID == *in.Lead {
			soft = append(soft, s.Soft...)
		}
	}
	said := map[string]bool{}
	for _, c := range soft {
		if !said[c.Code] {
			said[c.Code] = true
			list = append(list, practice.Override{Code: c.Code, Reason: allTheSame[c.Code]})
		}
	}
	return list, nil
}

// leaves are what refusals for want of leave speak of.
var leaves = map[string]string{
	"boarding and surveying": "board and survey", "lifting soles": "lift soles", "opening blisters": "open blisters", "drilling or coring": "drill or core", "lifting her": "lift",
}

// withLeave does something; where no leave is written down, the owner is asked on the spot.
func (a *afloat) withLeave(ctx context.Context, j *job, do func() error) error {
	err := do()
	for range len(leaves) {
		what := wanted(err)
		if what == "" {
			return err
		}
		on := a.now
		err = done(a.RecordPermission(ctx, a.desk(), practice.RecordPermission{Mutation: a.mut("leave on the spot", j.key, what), Permission: practice.Permission{
			ID: a.of("leave on the spot", j.key, what), JobID: a.of("job", j.key), What: what, GivenOn: &on, GivenByName: "the owner, on the spot",
		}}))
		if err != nil {
			return err
		}
		err = do()
	}
	return err
}

// wanted is the permission for want of which something was refused.
func wanted(err error) string {
	var f *domain.Fault
	if !errors.As(err, &f) || f.Field != "withoutLeave" && f.Field != "askedOnly" {
		return ""
	}
	for words, what := range leaves {
		if strings.Contains(f.Text, words) {
			return what
		}
	}
	return ""
}
