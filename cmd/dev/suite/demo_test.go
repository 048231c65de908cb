package suite

import (
	"strings"
	"testing"
)

func TestAuditsAreJudgedByTheListOfWarnings(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, status string
		listed       bool
		want         count
	}{
		{"what holds passes", "ok", false, count{passed: 1}},
		{"a MAY is no fault", "notice", false, count{passed: 1}},
		{"a listed SHOULD passes", "warn", true, count{passed: 1}},
		{"an unlisted SHOULD fails", "warn", false, count{failed: 1}},
		{"a MUST fails", "error", false, count{failed: 1}},
		{"a MUST fails though it is listed", "error", true, count{failed: 1}},
		{"a listed one that no longer warns fails", "ok", true, count{failed: 1}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			expected := map[string]string{}
			if c.listed {
				expected["A1"] = "why"
			}
			got, failures := judge([]audit{{ID: "A1", Name: "name", Status: c.status, Reason: "reason"}}, expected)
			if got != c.want {
				t.Errorf("got %+v, want %+v", got, c.want)
			}
			if got.failed > 0 && !strings.Contains(failures, "A1") {
				t.Errorf("%q does not name it", failures)
			}
		})
	}
	t.Run("a listed one that is no longer asked fails", func(t *testing.T) {
		t.Parallel()
		if got, _ := judge(nil, map[string]string{"B2": "why"}); got != (count{failed: 1}) {
			t.Errorf("got %+v", got)
		}
	})
}
