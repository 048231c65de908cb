package practice

import (
	"fmt"
	"slices"
	"time"
)

// Standing between a job and its next step: what is missing, computed from what is kept,
// each in words with what it stops.

// stands lists what stands between a job and its report, in the order in which it is needed.
func (j JobPage) stands(now time.Time) []Obstacle {
	if slices.Contains([]string{"issued", "closed", "cancelled"}, j.Stage) {
		return nil
	}
	if storedOnly[j.Kind] {
		if slices.ContainsFunc(j.Papers, func(p Paper) bool { return p.Kind == j.Kind }) {
			return nil
		}
		return []Obstacle{{"authorised", "A " + j.Kind + " document is an authorised person's: it is stored here and never made. It is not here yet.", "report"}}
	}
	var list []Obstacle
	lack := func(lacks bool, code, stops, format string, args ...any) {
		if lacks {
			list = append(list, Obstacle{code, fmt.Sprintf(format, args...), stops})
		}
	}
	lack(j.Client == nil, "client", "report", "No client is named.")
	lack(j.Lead == nil, "lead", "visit", "Nobody leads the job.")
	lack(j.TermsMissing, "terms", "visit", "The client has not accepted terms.")
	for _, what := range j.wanted() {
		code := "permission"
		if p := lastWord(j.Permissions, what); p != nil && p.RefusedOn != nil {
			code = "permission-refused"
		}
		why := stopped(j.Permissions, what)
		lack(why != "", code, stopsBy[what], "%s", why)
	}
	for _, x := range j.WithoutLeave {
		lack(x.Reason == "", "without-leave", "report", "%s Nobody has said why.", x.Text)
	}
	j.visitsMissing(now, lack)
	if seen := j.seen(); seen && !j.reported() {
		lack(true, "report", "report", "No report has been drafted.")
	}
	for _, r := range j.Reports {
		lack(r.State == "draft", "draft", "report", "The report is a draft.")
		lack(r.State == "in review", "second-look", "report", "The report waits for a second look.")
	}
	return list
}

// stopsBy says what a permission that is missing stops.
var stopsBy = map[string]string{
	"board and survey": "visit", "lift": "lift", "scrape": "scraping", "open blisters": "opening", "drill or core": "drilling", "mark the hull": "marking",
	"lift soles": "looking inside", "photograph": "photographs", "share the report": "sharing", "approach the previous surveyor": "talking to the previous surveyor",
}

// wanted are the permissions that every job of this kind needs, and whatever else was
// asked for.
func (j JobPage) wanted() []string {
	list := needed(j.Kind)
	if slices.ContainsFunc(j.Visits, func(v VisitLine) bool { return v.State == "done" }) {
		list = slices.DeleteFunc(list, func(what string) bool { return what == "lift" }) // she has been seen ashore
	}
	for _, p := range j.Permissions {
		if !slices.Contains(list, p.What) {
			list = append(list, p.What)
		}
	}
	return list
}

// needed are the permissions that every job of a kind needs.
func needed(kind string) []string {
	switch kind {
	case "expert witness", "repeat kit":
		return nil
	case "limited moisture", "pre-purchase", "warranty":
		return []string{"board and survey", "lift", "scrape"}
	}
	return []string{"board and survey"}
}

func (j JobPage) visitsMissing(now time.Time, lack func(bool, string, string, string, ...any)) {
	if len(needs[j.Kind]) == 0 {
		return
	}
	planned, overdue := false, false
	for _, v := range j.Visits {
		planned = planned || v.State != "cancelled"
		overdue = overdue || v.State == "planned" && v.To.Before(now)
	}
	lack(!planned, "visit", "report", "No visit is planned.")
	lack(overdue, "visit-past", "report", "A planned visit is past and nobody has said whether it was made.")
	for _, v := range j.Visits {
		lack(v.State == "planned" && v.To.After(now), "visit", "report", "%s on %s.", visitWords[v.Kind], clock(v.From, v.TimeZone))
	}
}

var visitWords = map[string]string{
	"wet look": "The wet look is", "meter visit": "The meter visit is", "repeat readings": "Repeat readings are", "inside": "The visit inside is",
	"completion": "The visit for completion is", "other": "A visit is",
}

// seen tells whether a visit of the job was made.
func (j JobPage) seen() bool {
	return slices.ContainsFunc(j.Visits, func(v VisitLine) bool { return v.State == "done" }) &&
		!slices.ContainsFunc(j.Visits, func(v VisitLine) bool { return v.State == "planned" })
}

// reported tells whether a report was begun that still counts.
func (j JobPage) reported() bool {
	return slices.ContainsFunc(j.Reports, func(r ReportLine) bool { return r.State != "withdrawn" })
}
