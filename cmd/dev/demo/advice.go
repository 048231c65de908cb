package demo

import (
	"context"
	"fmt"
	"strings"
	"time"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph/auth"
)

// advise tells a recommendation: written with its report, then every step of its story.
func (a *afloat) advise(j *job, r advice) {
	is := a.of("advice", r.key)
	at := j.opened.Add(time.Hour)
	if n := len(j.visits); n > 0 {
		at = j.visits[n-1].ends().Add(40 * time.Minute)
	}
	if j.report != nil {
		at = j.report.drafted.Add(10 * time.Minute)
	}
	a.at(at, "recommendation "+r.key, func(ctx context.Context) error {
		return done(a.AddRecommendation(ctx, a.as(j.lead), practice.AddRecommendation{Mutation: a.mut("advice", r.key), Recommendation: practice.Recommendation{
			ID: is, JobID: a.of("job", j.key), Grade: string(r.grade), Sure: r.sure, ReadingsOnly: r.readings, What: r.what, Reason: r.reason, Consequence: r.consequence,
			WhoActs: r.who, ByOn: r.by, ByAsWritten: r.byWords, ClosedBy: r.closedBy, About: r.about,
		}}))
	})
	if r.warned != nil {
		a.warn(j, r, at.Add(20*time.Minute), *r.warned)
	}
	for k, e := range r.shown {
		a.at(e.at, r.key+" shown by "+e.kind, func(ctx context.Context) error {
			in := practice.ShownEvidence{ID: id(e.at, a.key, "evidence", r.key, fmt.Sprint(k)), RecommendationID: is, Kind: e.kind, Text: e.text}
			if e.visit != "" {
				in.VisitID = new(a.of("visit", e.job, e.visit))
			}
			if e.photo != "" {
				in.PhotoID = new(a.of("photo", e.photo))
			}
			if e.kind == "invoice" {
				in.ToldOn = a.dayOf(e.at)
			}
			return done(a.AddEvidence(ctx, a.as(e.by), practice.AddEvidence{Mutation: a.mut("evidence", r.key, fmt.Sprint(k)), Evidence: in}))
		})
	}
	for k, s := range r.steps {
		a.at(s.at, r.key+" "+s.state, func(ctx context.Context) error {
			return done(a.SetRecommendationState(ctx, a.as(s.by), practice.SetRecommendationState{
				Mutation: a.mut("step", r.key, fmt.Sprint(k)), ID: id(s.at, a.key, "step", r.key, fmt.Sprint(k)), Recommendation: is, State: s.state, Reason: s.reason,
			}))
		})
	}
}

// paper tells a report: drafted, put into words, looked through, issued, made, shared.
func (a *afloat) paper(j *job, p *paper) {
	is := a.of("report", j.key)
	signer := a.as(p.signs)
	a.at(p.drafted, "draft", func(ctx context.Context) error {
		return done(a.DraftReport(ctx, signer, practice.DraftReport{Mutation: a.mut("draft", j.key), ID: is, Job: a.of("job", j.key), Title: p.title, Paper: either(p.page, "A4")}))
	})
	words := a.version(is)
	a.at(p.drafted.Add(20*time.Minute), "words of the report", func(ctx context.Context) error {
		in := practice.EditReport{Mutation: a.mut("words", j.key), ID: is, Version: words, InShort: &p.short}
		if p.scope != "" {
			in.Scope = &p.scope
		}
		if p.limits != "" {
			in.Limits = &p.limits
		}
		return done(a.EditReport(ctx, signer, in))
	})
	a.secondLook(j, p)
	if p.issued.IsZero() {
		return
	}
	last := a.version(is)
	a.at(p.issued, "issue", func(ctx context.Context) error {
		if err := done(a.IssueReport(ctx, signer, practice.IssueReport{Mutation: a.mut("issue", j.key), ID: is, Version: last})); err != nil {
			return err
		}
		if a.Objects == nil {
			return nil
		}
		return a.MakeReport(ctx, practice.ReportJob{Practice: a.homes[a.house], Report: is})
	})
	for _, s := range p.shares {
		a.share(j, s, signer)
	}
	for k, x := range p.adds {
		a.add(j, fmt.Sprint(k+1), x, signer)
	}
	if l := p.letter; l != nil {
		a.at(l.at, "letter to "+l.to, func(ctx context.Context) error {
			return done(a.WriteSeenLetter(ctx, signer, practice.WriteSeenLetter{
				Mutation: a.mut("letter", j.key), ID: id(l.at, a.key, "letter", j.key), Job: a.of("job", j.key), AddressedTo: l.to, Reader: l.reader, Reference: l.reference,
			}))
		})
	}
}

// add tells an addendum: written, issued, made.
func (a *afloat) add(j *job, number string, x added, signer domain.Actor) {
	a.at(x.at, "addendum "+number, func(ctx context.Context) error {
		is := id(x.at, a.key, "addendum", j.key, number)
		if err := done(a.WriteAddendum(ctx, signer, practice.WriteAddendum{Mutation: a.mut("add", j.key, number), ID: is, Report: a.of("report", j.key), Text: x.text})); err != nil {
			return err
		}
		if err := done(a.IssueAddendum(ctx, signer, practice.IssueAddendum{Mutation: a.mut("added", j.key, number), ID: is, Version: 1})); err != nil || a.Objects == nil {
			return err
		}
		return a.MakeAddendum(ctx, practice.AddendumJob{Practice: a.homes[a.house], Addendum: is})
	})
}

// secondLook is somebody else's where there is somebody; a practice of one looks itself.
func (a *afloat) secondLook(j *job, p *paper) {
	by, at := "", p.issued.Add(-time.Hour)
	switch {
	case p.look != nil:
		by, at = p.look.by, p.look.at
	case p.issued.IsZero():
		return
	case a.house == "marram":
		by = p.signs
	case p.signs == "varrow":
		by = "maddern"
	default:
		by = "varrow"
	}
	is := a.of("report", j.key)
	version := a.version(is)
	a.at(at, "second look", func(ctx context.Context) error {
		return done(a.TakeSecondLook(ctx, a.as(by), practice.TakeSecondLook{Mutation: a.mut("look", j.key), ID: is, Version: version}))
	})
}

// share makes a link and opens it as often as the person did.
func (a *afloat) share(j *job, s share, by domain.Actor) {
	if a.Objects == nil {
		return
	}
	a.at(s.at, "share with "+s.name, func(ctx context.Context) error {
		made, link, err := a.ShareReport(ctx, by, practice.ShareReport{
			Mutation: a.mut("share", s.key), ID: a.of("share", s.key), Report: a.of("report", j.key), Party: a.party(s.party), Name: s.name, Email: s.email, Purpose: s.purpose, Until: s.until.UTC(),
		})
		if err != nil || made.Again {
			return err
		}
		if err := a.keep(ctx, s, link); err != nil {
			return err
		}
		return a.open(ctx, s, link)
	})
	for _, say := range s.says {
		a.at(say.at, s.name+" answers", func(ctx context.Context) error { return a.answer(ctx, s, say) })
	}
	if !s.revoked.IsZero() {
		a.at(s.revoked, "link of "+s.name+" ended", func(ctx context.Context) error {
			return done(a.RevokeShare(ctx, by, practice.RevokeShare{Mutation: a.mut("revoke", s.key), ID: a.of("share", s.key)}))
		})
	}
}

// open follows the link of a share. The secret is known only now, so the clock runs ahead
// to each opening.
func (a *afloat) open(ctx context.Context, s share, link string) error {
	token := link[len(link)-secretLength:]
	for k, at := range s.opened {
		a.now = at
		what := "page"
		if k == 1 {
			what = "pdf"
		}
		if _, _, err := a.OpenShare(ctx, token, what); err != nil {
			return err
		}
	}
	return nil
}

// clientPassword is that of the one client who keeps reports in an account.
const clientPassword = "two boats and a dinghy"

// keep has a client who answers keep the reports in an account.
func (a *afloat) keep(ctx context.Context, s share, link string) error {
	if len(s.says) == 0 {
		return nil
	}
	hash, err := auth.Hash(ctx, clientPassword)
	if err != nil {
		return err
	}
	account, err := a.door.CreateAccount(ctx, id(a.now, "account", s.email), s.email, hash, a.now)
	if err != nil {
		return err
	}
	return a.GrantClient(ctx, link[len(link)-secretLength:], account)
}

// answer answers from the account what the report asks.
func (a *afloat) answer(ctx context.Context, s share, say said) error {
	account, err := a.door.AccountByEmail(ctx, s.email)
	if err != nil {
		return err
	}
	who := practice.Holder{Actor: domain.Actor{Account: account.ID, Means: domain.ByAccount, Roles: []domain.Role{domain.Client}}}
	home, err := a.ClientHome(ctx, who)
	if err != nil {
		return err
	}
	for _, r := range home.Reports {
		for k, task := range r.Content.Recommendations {
			if r.ID != a.of("share", s.key) || !strings.HasPrefix(task.What, say.begins) {
				continue
			}
			who.Report = r.Key
			_, _, err := a.AnswerTask(ctx, who, practice.AnswerTask{Mutation: a.mut("answer", s.key+say.begins), Task: int32(k + 1), Answer: say.answer, Reason: say.reason})
			return err
		}
	}
	return fmt.Errorf("%s is asked nothing that begins %q", s.name, say.begins)
}

// secretLength is how many letters of a link are its secret.
const secretLength = 43
