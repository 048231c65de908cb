package report

import (
	"bytes"
	"encoding/json"
	"errors"
	"reflect"
	"strings"
	"testing"
	"time"
)

func small() Report {
	at := time.Date(2026, 10, 20, 9, 30, 5, 999, time.FixedZone("here", 3600))
	return Report{
		Issue: Issue{Number: "2026-117", On: "20 October 2026", At: at}, GeneratedAt: at,
		Practice: Practice{Name: "Ebbstone Practice", Place: "Port Skerrow"},
		Client:   Client{Name: "A. Ferrant", As: "owner"},
		Vessel:   Vessel{Name: "Tamsel <&>"},
		Kind:     "Limited survey, moisture of the underbody",
		InShort:  []Sentence{Say(Measured, "stood *11.1 scale units* above")},
		Limits:   []Sentence{Say(NotLooked, "Not reached: 4 places under prop pads.")},
		Hulls:    []Hull{{Element: "hull", Shape: json.RawMessage(`{"lwl": 8.60, "aft": 0.95}`), Rows: []int{-250, 150}}},
		Passes: []Pass{{ID: "pas_1", On: "14 October 2026", Element: "hull", Readings: []Reading{
			{Place: "P1/1", At: Spot{Port, 500, 150}, Station: 1, Row: 1, Value: "23.1", Figure: "23", Step: 2},
		}}},
		Signature: &Signature{Name: "I. Varrow", As: "surveyor"},
	}
}

func TestSnapshot(t *testing.T) {
	t.Parallel()
	b, err := Encode(small())
	if err != nil {
		t.Fatal(err)
	}
	t.Run("what was frozen comes back, and freezes to the same bytes", func(t *testing.T) {
		t.Parallel()
		r, err := Decode(b)
		if err != nil {
			t.Fatal(err)
		}
		again, err := Encode(r)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(b, again) {
			t.Errorf("bytes differ:\n%s\n%s", b, again)
		}
		third, _ := Decode(again)
		if !reflect.DeepEqual(r, third) {
			t.Error("the report differs after a second round")
		}
	})
	t.Run("spacing, key order and zone of the input do not show", func(t *testing.T) {
		t.Parallel()
		r := small()
		r.Hulls[0].Shape = json.RawMessage(`{"aft":0.95,"lwl":8.60}`)
		r.Issue.At = r.Issue.At.UTC()
		if same, _ := Encode(r); !bytes.Equal(b, same) {
			t.Errorf("want equal bytes:\n%s\n%s", b, same)
		}
		if !bytes.Contains(b, []byte(`"lwl":8.60`)) || !bytes.Contains(b, []byte("Tamsel <&>")) {
			t.Errorf("numbers and letters are kept as they stood: %s", b)
		}
	})
	t.Run("another format, an unknown field and trailing words are refused", func(t *testing.T) {
		t.Parallel()
		if _, err := Decode([]byte(strings.Replace(string(b), `"format":1`, `"format":2`, 1))); !errors.Is(err, ErrFormat) {
			t.Errorf("format 2: %v", err)
		}
		for _, bad := range []string{strings.Replace(string(b), `"format":1`, `"format":1,"more":1`, 1), string(b) + "{}", "", "[]"} {
			if _, err := Decode([]byte(bad)); err == nil {
				t.Errorf("read %.40q", bad)
			}
		}
	})
}

func TestCheck(t *testing.T) {
	t.Parallel()
	if p := small().Check(); len(p) != 0 {
		t.Errorf("a whole report has problems: %v", p)
	}
	for name, c := range map[string]struct {
		spoil func(*Report)
		where string
	}{
		"a draft with a number":            {func(r *Report) { r.Issue.Draft = true }, "issue.number"},
		"a draft with a signature":         {func(r *Report) { r.Issue = Issue{Draft: true} }, "signature"},
		"an issue without limits":          {func(r *Report) { r.Limits = nil }, "limits"},
		"an issue without a name under it": {func(r *Report) { r.Signature = nil }, "signature"},
		"readings alone, graded before afloat": {func(r *Report) {
			r.Recommendations = []Recommendation{{Grade: BeforeAfloat, What: "x", Sure: Indicated, ReadingsAlone: true}}
		}, "recommendations[0]"},
		"readings alone, called seen": {func(r *Report) {
			r.Recommendations = []Recommendation{{Grade: Watch, What: "x", Sure: Seen, ReadingsAlone: true}}
		}, "recommendations[0]"},
		"a plate of no pass":        {func(r *Report) { r.Plates = []Plate{{Pass: "pas_2"}} }, "plates[0]"},
		"a photo that is not there": {func(r *Report) { r.Findings = []Finding{{Photos: []string{"pho_9"}}} }, "findings[0]"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := small()
			c.spoil(&r)
			for _, p := range r.Check() {
				if p.Where == c.where {
					return
				}
			}
			t.Errorf("not found at %s: %v", c.where, r.Check())
		})
	}
}

func TestStandingCautionsArePrintedWhateverElse(t *testing.T) {
	t.Parallel()
	r := Report{Cautions: []string{StandingCautions()[0], "One of our own."}}
	if got := len(r.AllCautions()); got != len(StandingCautions())+1 {
		t.Errorf("%d cautions: %v", got, r.AllCautions())
	}
}
