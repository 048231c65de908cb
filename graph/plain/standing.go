package plain

import (
	"fmt"
	"net/http"
	"time"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/domain/report"
	"boottop.example/practice/domain/report/render"
	"boottop.example/practice/graph/answer"
)

// after is what came after an issued report.
type after struct {
	number, state, by   string
	issuedAt            time.Time
	replacedBy, because string
	addenda             []practice.Addendum
	invented            bool
}

// asIssued is the query by which the page of a report is asked for as it was issued,
// whatever came after it.
const asIssued = "as-issued"

// told says first what came after a report, where anything did, and tells whether it has
// answered. The page itself stays as it was issued, and is one link further.
func told(w http.ResponseWriter, r *http.Request, a after) bool {
	if a.state == "issued" || r.URL.Query().Has(asIssued) {
		return false
	}
	s := render.Standing{Title: "Report " + a.number, By: "issued " + report.Day(a.issuedAt, time.UTC), Invented: a.invented}
	if a.by != "" {
		s.By = a.by + ", " + s.By
	}
	switch {
	case a.replacedBy != "":
		s.Said = append(s.Said, "Report "+a.replacedBy+" has taken the place of this one.")
	case a.state == "withdrawn":
		s.Said = append(s.Said, "This report was withdrawn by the practice. Do not rely on it.")
	}
	if a.because != "" {
		s.Said = append(s.Said, a.because)
	}
	for _, x := range a.addenda {
		if x.State != "issued" || x.IssuedAt == nil {
			continue
		}
		s.Said = append(s.Said, fmt.Sprintf("Addendum %d, %s, adds to it and is read with it.", x.Number, report.Day(*x.IssuedAt, time.UTC)))
		if x.PageKey != nil {
			s.Ways = append(s.Ways, [2]string{fmt.Sprintf("Read addendum %d", x.Number), fmt.Sprintf("addenda/%d/page", x.Number)})
		}
	}
	s.Said = append(s.Said, "The report below stays as it was issued.")
	s.Ways = append(s.Ways, [2]string{"Read report " + a.number + " as it was issued", "report.html?" + asIssued})
	page, err := s.Page()
	if err != nil {
		answer.Fault(w, r, err)
		return true
	}
	pageHeaders(w.Header())
	_, _ = w.Write(page)
	return true
}
