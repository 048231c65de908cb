package practice

import (
	"encoding/json"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain/report"
)

// scheduleInput lays the schedule out with what the job's visits found, once any of them
// said anything. An item that was retired since stands under the words it was examined
// under; one of which nothing is said was not examined.
func scheduleInput(src Sources) []report.Area {
	if len(src.Examinations) == 0 {
		return nil
	}
	newest := map[uuid.UUID]Examination{}
	for _, x := range src.Examinations {
		newest[x.ItemID] = x
	}
	var out []report.Area
	for _, area := range src.Schedule.Areas {
		a := report.Area{Name: area.Name}
		for _, item := range area.Items {
			x, said := newest[item.ID]
			delete(newest, item.ID)
			if !said {
				x = Examination{Name: item.Name, Examined: "not", Why: unsaid}
			}
			a.Items = append(a.Items, itemInput(x))
		}
		if len(a.Items) > 0 {
			out = append(out, a)
		}
	}
	return append(out, retired(src.Examinations, newest)...)
}

// unsaid is why an item of which nothing is said stands as not examined.
const unsaid = "nothing noted"

// retired are the examinations of items that the schedule has no more, by their area.
func retired(order []Examination, left map[uuid.UUID]Examination) (out []report.Area) {
	at := map[string]int{}
	for _, x := range order {
		if newest, there := left[x.ItemID]; !there || newest.ID != x.ID {
			continue
		}
		k, known := at[x.Area]
		if !known {
			k = len(out)
			at[x.Area], out = k, append(out, report.Area{Name: x.Area})
		}
		out[k].Items = append(out[k].Items, itemInput(x))
	}
	return out
}

// nothingSaid counts the items of a schedule under work of which no visit said anything.
func nothingSaid(src Sources) (n int) {
	for _, area := range scheduleInput(src) {
		for _, item := range area.Items {
			if item.Why == unsaid && item.Examined == report.NotExamined {
				n++
			}
		}
	}
	return n
}

func itemInput(x Examination) report.Item {
	out := report.Item{Name: x.Name, Examined: report.Examined, Why: x.Why, Condition: x.Condition, Note: x.Note}
	switch x.Examined {
	case "in part":
		out.Examined = report.InPart
	case "not":
		out.Examined = report.NotExamined
	}
	if x.FindingID != nil {
		out.Finding = "fnd_" + x.FindingID.String()
	}
	return out
}

func valuationInput(v *Valuation) *report.Valuation {
	if v == nil {
		return nil
	}
	out := &report.Valuation{Figure: report.Money(v.FigureMinor, v.Currency), Basis: v.Basis, On: report.Day(v.ValueOn, time.UTC)}
	for _, p := range paragraphs(v.Said) {
		out.Said = append(out.Said, report.Own(p))
	}
	var list []likeBoat
	if json.Unmarshal(v.Comparables, &list) == nil {
		for _, c := range list {
			out.Comparables = append(out.Comparables, report.Fact(c))
		}
	}
	return out
}
