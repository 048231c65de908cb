package report

import "fmt"

func at(list string, i int) string { return fmt.Sprintf("%s[%d]", list, i) }

// Problem is something that stands in the way of issue, and where.
type Problem struct {
	Where string // field of the report, e.g. "recommendations[2]"
	What  string // a sentence for the surveyor
}

// Check lists what is wrong with the report as data: what an issue may not lack and
// what a draft may not carry. It is no judgement of what was found.
func (r Report) Check() []Problem {
	var out []Problem
	add := func(where, what string) { out = append(out, Problem{Where: where, What: what}) }
	need := func(where, value, what string) {
		if value == "" {
			add(where, what)
		}
	}
	need("vessel.name", r.Vessel.Name, "Name the boat, or say that she has no name.")
	need("practice.name", r.Practice.Name, "Name the practice that reports.")
	need("client.name", r.Client.Name, "Name the person the report is for.")
	need("kind", r.Kind, "Say what kind of survey this is.")
	if r.Issue.Draft {
		r.checkDraft(add)
	} else {
		r.checkIssued(add)
	}
	r.checkRecommendations(add)
	r.checkLinks(add)
	return out
}

func (r Report) checkDraft(add func(where, what string)) {
	if r.Issue.Number != "" {
		add("issue.number", "A draft has no number.")
	}
	if r.Signature != nil {
		add("signature", "A draft is not signed.")
	}
	if r.AuditHead != "" {
		add("auditHead", "A draft prints no audit head.")
	}
}

func (r Report) checkIssued(add func(where, what string)) {
	if r.Issue.Number == "" {
		add("issue.number", "An issued report has a number.")
	}
	if r.Issue.At.IsZero() || r.Issue.On == "" {
		add("issue.on", "An issued report says when it was issued.")
	}
	if r.Signature == nil || r.Signature.Name == "" {
		add("signature", "An issued report is signed.")
	}
	if len(r.InShort) == 0 {
		add("inShort", "Say in short what was found.")
	}
	if len(r.Limits) == 0 {
		add("limits", "Say what was not reached, not opened, not permitted.")
	}
}

func (r Report) checkRecommendations(add func(where, what string)) {
	for i, rec := range r.Recommendations {
		where := at("recommendations", i)
		switch {
		case rec.What == "":
			add(where, "Say what is to be done.")
		case !rec.Grade.Known():
			add(where, "Grade it: Stop and make safe, Before afloat, While ashore, Planned work, Watch, Look further or For the record.")
		case !rec.Sure.Known():
			add(where, "Say how sure: seen, indicated or suspected.")
		case rec.ReadingsAlone && !rec.Grade.FromReadings():
			add(where, "Readings alone carry Watch, Look further or For the record; this needs something seen, heard or opened.")
		case rec.ReadingsAlone && rec.Sure == Seen:
			add(where, "What rests on readings alone is indicated, not seen.")
		}
	}
}

// checkLinks finds what points at nothing: a plate without its pass, an unknown photo.
func (r Report) checkLinks(add func(where, what string)) {
	passes, changes, photos, hulls := map[string]bool{}, map[string]bool{}, map[string]bool{}, map[string]bool{}
	for _, p := range r.Passes {
		passes[p.ID] = true
	}
	for _, c := range r.Changes {
		changes[c.ID] = true
	}
	for _, p := range r.Photos {
		photos[p.ID] = true
	}
	for _, h := range r.Hulls {
		hulls[h.Element] = true
	}
	for i, p := range r.Plates {
		where := at("plates", i)
		if !hulls[p.Element] {
			add(where, "The hull of this plate is not described.")
		}
		if p.Mode != ModePlaces && !passes[p.Pass] {
			add(where, "The plate draws a pass that the report does not hold.")
		}
		if p.Mode == ModeChange && !changes[p.Against] {
			add(where, "The plate draws a change that the report does not hold.")
		}
	}
	for i, p := range r.Passes {
		if !hulls[p.Element] && len(p.Readings) > 0 {
			add(at("passes", i), "The hull of this pass is not described.")
		}
	}
	for i, f := range r.Findings {
		for _, id := range f.Photos {
			if !photos[id] {
				add(at("findings", i), "The finding shows a photo that the report does not hold.")
			}
		}
	}
}
