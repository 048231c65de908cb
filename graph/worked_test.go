package graph_test

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"testing"
	"time"
)

// The worked examples of the trade notes, each asked for where a surveyor meets it:
// how deep drying has reached, how many visits a course takes, what a grid and windows
// meet, counts of blisters, and what two depths see. Figures as printed there.
func TestTheTradesWorkedExamplesAreServed(t *testing.T) {
	t.Parallel()
	s := setup(t)
	dense := s.workedHull(150, []int{0, 12}, []int{0, 20}, []int{20, 1}, []int{35, 1}, []int{40, 1}, []int{61, 1})
	middle := s.workedHull(300, []int{5, 1}, []int{12, 1}, []int{15, 1})
	coarse := s.workedHull(1000, []int{10, 1}, []int{22, 1})
	t.Run("how deep drying has reached: section 3", dense.servesDryingDepths)
	t.Run("how many visits: section 6", dense.servesVisits)
	t.Run("what two depths see: section 3", dense.servesDepthPairs)
	t.Run("what grid and windows meet: section 6", func(t *testing.T) {
		var want struct {
			Square []struct {
				Spacing int     `json:"spacing_mm"`
				Flaw    float64 `json:"flaw_mm"`
				Chance  float64
			} `json:"square_grid"`
		}
		workedFile(t, "coverage.json", &want)
		of := map[int]workedHull{150: dense, 300: middle, 1000: coarse}
		for _, c := range want.Square {
			unseen := of[c.Spacing].notSeen(t, 0, 0)
			got := math.NaN()
			for k := 0; dig(unseen, "meets", k) != nil; k++ {
				if dig(unseen, "meets", k, "flawMm") == c.Flaw {
					got = number(dig(unseen, "meets", k, "chance"))
				}
			}
			printed(t, fmt.Sprintf("a grid of %d mm and a flaw of %g mm", c.Spacing, c.Flaw), got, c.Chance, 2)
			for field, want := range map[string]float64{"smallestMm": 1.12, "certainMm": 1.41} { // to the whole millimetre above
				if got := number(dig(unseen, field)) / float64(c.Spacing); !(math.Abs(got-want) <= 0.005+1/float64(c.Spacing)) {
					t.Errorf("a grid of %d mm, %s: %.4f of it, want %g", c.Spacing, field, got, want)
				}
			}
		}
	})
	t.Run("counts of blisters: section 6", func(t *testing.T) {
		for k, bound := range []float64{25, 15} { // none seen in 12 windows of 100 × 100 mm, and in 20
			printed(t, "the bound behind a count of zero", number(dig(dense.notSeen(t, k, k), "boundPerM2")), bound, 0)
		}
		for _, c := range []struct {
			hull         workedHull
			first, later int // visits
			p            float64
		}{{middle, 0, 1, 0.14}, {middle, 0, 2, 0.04}, {coarse, 0, 1, 0.05}, {dense, 2, 3, 0.06}, {dense, 4, 5, 0.05}} {
			beside := dig(c.hull.notSeen(t, c.first, c.later), "beside")
			printed(t, fmt.Sprintf("%v beside %v blisters in equal areas", c.first, dig(beside, "blisters")), number(dig(beside, "p")), c.p, 2)
		}
		if b := dig(dense.notSeen(t, 0, 1), "beside"); b != nil {
			t.Errorf("none beside none is compared: %v", b)
		}
	})
}

// workedHull is a boat with sixteen places on a square grid and visits with windows.
type workedHull struct {
	*service
	vessel, job string
	passes      []string
}

// workedHull lays places out every so many millimetres and makes a visit for each pair of
// blisters counted in all and windows of 100 × 100 mm opened.
func (s *service) workedHull(every int, visits ...[]int) workedHull {
	s.t.Helper()
	h := workedHull{service: s, vessel: id("vsl"), job: id("job")}
	element, plan := id("elm"), id("pln")
	s.change("addVessel vessel{id}", map[string]any{"id": h.vessel, "name": fmt.Sprint("Hull ", every)})
	s.change("addElement element{id}", map[string]any{"id": element, "vessel": h.vessel, "kind": "hull", "bootTopMm": 100})
	var ids, labels, sides []string
	var along, down, ordinals []int
	for k := range 16 {
		ids, labels, sides = append(ids, id("plc")), append(labels, fmt.Sprintf("%d/%d", k/4+1, k%4+1)), append(sides, "port")
		along, down, ordinals = append(along, every*(k/4+1)), append(down, every*(k%4+1)), append(ordinals, k+1)
	}
	s.change("addPlaces ordinals", map[string]any{"element": element, "ids": ids, "labels": labels, "sides": sides, "along": along, "down": down})
	s.change("addPlan plan{id}", map[string]any{"id": plan, "vessel": h.vessel, "places": ordinals, "dry": []int{}})
	s.change("addJob job{id}", map[string]any{"id": h.job, "vessel": h.vessel, "kind": "limited moisture"})
	s.change("recordPermission job{id}", map[string]any{"id": id("prm"), "job": h.job, "what": "scrape", "askedOn": "2020-05-01", "givenOn": "2020-05-02", "givenByName": "Wynn Harrow"})
	for k, v := range visits {
		visit, pass := id("vis"), id("pas")
		at := time.Date(2020+k, 5, 4, 9, 0, 0, 0, time.UTC)
		s.change("planVisit visit{id}", map[string]any{"id": visit, "job": h.job, "kind": "meter visit", "from": at, "to": at.Add(time.Hour), "timeZone": "Etc/UTC"})
		s.change("openPass pass{id}", map[string]any{
			"id": pass, "visit": visit, "element": element, "plan": plan, "instrumentAsWritten": "a deep one", "source": "typed from paper", "quoted": true, "beganAt": at,
		})
		var readings []string
		var placements [][]int
		var taken []int64
		for range ordinals {
			readings, placements, taken = append(readings, id("rdg")), append(placements, []int{200}), append(taken, at.Unix())
		}
		s.change("addReadings seq", map[string]any{"pass": pass, "ids": readings, "places": ordinals, "placements": placements, "takenAt": taken})
		for n := range v[1] {
			blisters := 0
			if n == 0 {
				blisters = v[0]
			}
			s.change("recordWindow window{id}", map[string]any{
				"id": id("win"), "visit": visit, "element": element, "side": "port", "alongMm": 200 * (n + 1), "downMm": 300, "widthMm": 100, "heightMm": 100, "blistersSeen": blisters,
			})
		}
		h.passes = append(h.passes, pass)
	}
	return h
}

// notSeen asks what a pass did not see, held against another.
func (h workedHull) notSeen(t *testing.T, pass, held int) any {
	t.Helper()
	got := h.send(`query($v:ID!,$p:ID){vessel(id:$v){history(against:$p){passes{id notSeen{smallestMm certainMm meets{flawMm chance} boundPerM2 beside{blisters areaM2 p}}}}}}`,
		map[string]any{"v": h.vessel, "p": h.passes[held]})
	for k := 0; dig(got, "vessel", "history", "passes", k) != nil; k++ {
		if p := dig(got, "vessel", "history", "passes", k); dig(p, "id") == h.passes[pass] {
			return dig(p, "notSeen")
		}
	}
	t.Fatalf("the pass is not in %v", got)
	return nil
}

func (h workedHull) servesDryingDepths(t *testing.T) {
	var want struct {
		Days []float64
		Rows []struct {
			D  float64 `json:"d_m2_per_s"`
			Mm []float64
		}
		Lose struct {
			Rows []struct {
				Mm, Half float64
				Nine     float64 `json:"nine_tenths"`
			}
		} `json:"time_to_lose"`
	}
	workedFile(t, "drying-depth.json", &want)
	reached := dig(h.send(`query($j:ID!){drying(job:$j){reached{temperature tag days rows{diffusivity depths} lose{wallMm half nineTenths}}}}`, map[string]any{"j": h.job}), "drying", "reached", 0)
	if dig(reached, "temperature") != 20.0 || dig(reached, "tag") == "" {
		t.Errorf("the table is of %v °C, marked %q", dig(reached, "temperature"), dig(reached, "tag"))
	}
	for k, row := range want.Rows {
		if d := number(dig(reached, "rows", k, "diffusivity")); math.Abs(d/row.D-1) > 1e-9 {
			t.Errorf("row %d is of %g m²/s, want %g", k, d, row.D)
		}
		for i, mm := range row.Mm {
			if days := number(dig(reached, "days", i)); math.Abs(days-want.Days[i]) > 1e-9 {
				t.Errorf("column %d is of %g days, want %g", i, days, want.Days[i])
			}
			decimals := 2
			if mm >= 0.7 && mm != 0.74 && mm != 0.84 || mm == 0.1 { // as printed
				decimals = 1
			}
			printed(t, fmt.Sprintf("D %g after %g days", row.D, want.Days[i]), number(dig(reached, "rows", k, "depths", i)), mm, decimals)
		}
	}
	for k, row := range want.Lose.Rows {
		if mm := dig(reached, "lose", k, "wallMm"); mm != row.Mm {
			t.Errorf("wall %d is of %v mm, want %g", k, mm, row.Mm)
		}
		printed(t, fmt.Sprintf("%g mm to lose half", row.Mm), number(dig(reached, "lose", k, "half")), row.Half, 0)
		printed(t, fmt.Sprintf("%g mm to lose nine tenths", row.Mm), number(dig(reached, "lose", k, "nineTenths")), row.Nine, 0)
	}
}

func (h workedHull) servesVisits(t *testing.T) {
	var want struct {
		Rows []struct {
			Visits int
			Change float64
			LeastP *float64 `json:"least_p"`
		}
	}
	workedFile(t, "visits.json", &want)
	over := dig(h.send(`query($j:ID!){brief(job:$j){overVisits{visitDeviation tag rows{visits shown planned leastP}}}}`, map[string]any{"j": h.job}), "brief", "overVisits")
	if dig(over, "visitDeviation") != nil || dig(over, "tag") == "" {
		t.Errorf("nothing was measured, and the table has %v; it is marked %q", dig(over, "visitDeviation"), dig(over, "tag"))
	}
	for k, row := range want.Rows {
		got := dig(over, "rows", k)
		if dig(got, "visits") != float64(row.Visits) || !(number(dig(got, "planned")) > number(dig(got, "shown"))) {
			t.Errorf("row %d: %v", k, got)
		}
		printed(t, fmt.Sprintf("%d visits", row.Visits), number(dig(got, "shown")), row.Change, 1)
		if row.LeastP != nil {
			printed(t, fmt.Sprintf("least p of %d visits", row.Visits), number(dig(got, "leastP")), *row.LeastP, 2+k%2+k/2) // 0.33, 0.083, 0.017
		}
	}
}

func (h workedHull) servesDepthPairs(t *testing.T) {
	got := h.send(`query($v:ID!){causes(vessel:$v){depthTable{days shallow middle deep mean} depthTableAfterRain{days shallow middle deep}}}`, map[string]any{"v": h.vessel})
	for k, want := range [][4]float64{{0, 0.58, 0.66, 0.72}, {1, 0.47, 0.59, 0.68}, {7, 0.40, 0.55, 0.64}} {
		row := dig(got, "causes", "depthTableAfterRain", k)
		if dig(row, "days") != want[0] {
			t.Errorf("row %d after rain is of %v days, want %g", k, dig(row, "days"), want[0])
		}
		for i, field := range []string{"shallow", "middle", "deep"} {
			if x := number(dig(row, field)) / 1000; !(math.Abs(x-want[i+1]) <= 0.0101) { // a step of the table
				t.Errorf("%s, %g days after rain: %.3f, want %.2f", field, want[0], x, want[i+1])
			}
		}
	}
	for k, want := range [][5]float64{{0, 1, 1, 1, 1}, {1, 0.85, 0.92, 0.94, 0.97}, {7, 0.68, 0.80, 0.86, 0.91}, {21, 0.53, 0.68, 0.77, 0.85}, {60, 0.39, 0.54, 0.64, 0.74}, {240, 0.22, 0.33, 0.40, 0.49}} {
		row := dig(got, "causes", "depthTable", k)
		if dig(row, "days") != want[0] {
			t.Errorf("row %d is of %v days, want %g", k, dig(row, "days"), want[0])
		}
		for i, field := range []string{"shallow", "middle", "deep", "mean"} {
			if x := number(dig(row, field)) / 1000; math.Abs(x-want[i+1]) > 0.0101 { // a step of the table
				t.Errorf("%s after %g days: %.3f, want %.2f", field, want[0], x, want[i+1])
			}
		}
	}
}

// workedFile reads figures as printed in the trade notes.
func workedFile(t *testing.T, name string, into any) {
	t.Helper()
	raw, err := os.ReadFile("../testdata/measure/" + name)
	if err == nil {
		err = json.Unmarshal(raw, into)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// number is NaN for what is none.
func number(v any) float64 {
	if x, is := v.(float64); is {
		return x
	}
	return math.NaN()
}

// printed holds a figure to one printed with so many decimals.
func printed(t *testing.T, what string, got, want float64, decimals int) {
	t.Helper()
	if !(math.Abs(got-want) <= 0.5001*math.Pow10(-decimals)) {
		t.Errorf("%s: %.4f, want %.*f", what, got, decimals, want)
	}
}
