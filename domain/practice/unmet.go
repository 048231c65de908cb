package practice

import (
	"fmt"
	"strings"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/report"
)

// Unmet is what still stands between a draft and its issue, and the thing at which it
// is put right.
type Unmet struct {
	Code  string
	Text  string
	Thing domain.Ref
}

// inTheWay lists what still stands between a draft and its issue.
func inTheWay(r Report, src Sources, built report.Report) []Unmet {
	var list []Unmet
	add := func(code, text string, at domain.Ref) { list = append(list, Unmet{code, text, at}) }
	self, job := ref(domain.ThingReport, r.ID), ref(domain.ThingJob, r.JobID)
	for _, p := range built.Check() {
		add(p.Where, p.What, whereRight(p.Where, built, r))
	}
	if len(built.InShort) == 0 && strings.TrimSpace(r.InShort) == "" {
		add("inShort", "Say in short what was found.", self)
	}
	for _, p := range src.History.Passes {
		if p.JobID == r.JobID && p.State == "open" {
			add("passes", "A pass of this job is still open. Close it first: what it says is frozen with the report.", ref(domain.ThingPass, p.ID))
			break
		}
	}
	if src.Facts.Kind == "valuation" && src.Valuation == nil {
		add("valuation", "A valuation without a value: write down the figure, its basis, its day and what it was held against.", job)
	}
	if n := nothingSaid(src); n > 0 {
		add("schedule", fmt.Sprintf("Of %s of the schedule nothing is said. Say of each whether it was examined, in part, or not and why.", report.Count(n, "item", "items")), job)
	}
	if src.PhotosToCome > 0 {
		add("photos", "A photo of this job is still being made ready. Wait a moment, or leave it out of the report.", job)
	}
	if n := src.PhotosNever; n > 0 {
		add("photos", fmt.Sprintf("Of %s of this job no picture could be made that can be printed. Send the same as JPEG, or leave out of the report what is kept as it came.", report.Count(n, "photo", "photos")), job)
	}
	list = append(list, gapsInTheWay(r, src)...)
	for _, c := range src.Comments {
		if c.ResolvedAt == nil {
			add("comment", fmt.Sprintf("Still open, said by %s: “%s”.", c.ByName, short(c.Text, 90)), ref(domain.ThingComment, c.ID))
		}
	}
	if src.Facts.ReviewRequired && r.SecondLookBy == nil {
		add("secondLook", "The practice asks for a second look before issue.", self)
	}
	return list
}

// gapsInTheWay tells of placeholders that nothing fills and of sections without a word.
func gapsInTheWay(r Report, src Sources) []Unmet {
	var list []Unmet
	for _, t := range filledTexts(r, src) {
		at := ref(domain.ThingReport, r.ID)
		if id, isSection := strings.CutPrefix(t.where, string(domain.ThingSection)+"_"); isSection {
			at = ref(domain.ThingSection, uuid.MustParse(id))
			if strings.TrimSpace(t.text) == "" {
				list = append(list, Unmet{"section", fmt.Sprintf("%s has no words yet. Write it, or leave it out.", t.title), at})
			}
		}
		for _, g := range t.gaps {
			text := fmt.Sprintf("%s: nothing is kept for {%s}. Fill it in where it belongs, or write the words yourself.", t.title, g.Name)
			if !g.Known {
				text = fmt.Sprintf("%s: there is no placeholder {%s}.", t.title, g.Name)
			}
			list = append(list, Unmet{"placeholder", text, at})
		}
	}
	return list
}

// whereRight names the thing at which a problem of the report is put right.
func whereRight(where string, built report.Report, r Report) domain.Ref {
	list, rest, _ := strings.Cut(where, "[")
	var k int
	_, _ = fmt.Sscanf(rest, "%d]", &k)
	switch {
	case list == "recommendations" && k < len(built.Recommendations):
		if id, err := uuid.Parse(strings.TrimPrefix(built.Recommendations[k].ID, string(domain.ThingRecommendation)+"_")); err == nil {
			return ref(domain.ThingRecommendation, id)
		}
	case list == "client.name" || list == "kind" || list == "findings":
		return ref(domain.ThingJob, r.JobID)
	case strings.HasPrefix(list, "practice"):
		return domain.Ref{Kind: domain.ThingPractice}
	case strings.HasPrefix(list, "vessel") || list == "plates" || list == "passes":
		return ref(domain.ThingVessel, r.VesselID)
	}
	return ref(domain.ThingReport, r.ID)
}

// short cuts a text for a line of a list.
func short(text string, most int) string {
	text = strings.Join(strings.Fields(text), " ")
	if r := []rune(text); len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return text
}
