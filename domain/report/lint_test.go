package report

import (
	"strings"
	"testing"
	"time"
)

// catalogue calls every sentence of the vocabulary with ordinary figures.
func catalogue() []Sentence {
	zone := []Zone{{About: "port 13", Places: 7, By: 13.8, Matches: "the water tank"}, {About: "starboard 9", Places: 1, By: -9, Around: "the heads inlet", Needs: "needs a further look"}}
	many := []Zone{{About: "port 3", Places: 11, By: 7.1, Around: "the rudder stock tube"}, {About: "starboard 2", Places: 5, By: 13.1, Around: "the rudder stock tube"}, {About: "starboard 8", Places: 1, By: 6.4}, {About: "port 5", Places: 1, By: 6.3}}
	why := []Reason{{1, "under a prop pad"}, {4, "behind the cradle"}}
	u := Units{}
	list := []Sentence{
		StoodAbove("14 October 2026", "21 days ashore", 11.1, "Skerrow deep No. 2"),
		NoBaselineToday("14 October 2026", "Skerrow deep No. 2", "4 dry places, at least 6 are needed"),
		AreasChanged(nil), AreasChanged(zone[:1]), AreasChanged(zone), AreasChanged(many), ChangeBasis("same instrument", 7.63, 124), ChangedAt(nil), ChangedAt(zone), ChangedAt(many),
		NotEnoughMeasured("October 2023"), UntoldLikewise(), TwoVisits(), WindowsSeen(0.14, 0, 21.4, "", false), WindowsSeen(0.14, 0, 21.4, "wet, in raking light", false), WindowsSeen(0.14, 0, 21.4, "wet, in raking light", true), WindowsSeen(0.14, 3, 0, "", false), NothingBared(), BaredUnknown(), StillToRead(48), Silent(1), Silent(68),
		NotReached(nil), NotReached(why), VoidPlaces(why), NotOpened([]string{"nothing behind linings"}), NotPermitted([]string{"drilling", "lifting the sole"}),
		SmallestFlaw(490, u), SmallestFlaw(80, u), SmallestFlaw(490, Units{Feet: true}), DryingReached("21 days", "11 °C", 0.5, 1.7, 0.64), DryingReached("240 days", "11 °C", 1.7, 5.5, 0.3), OrthoAtDays(21), FrozenSkin(u), ContextMissing([]string{"air", "days ashore"}),
	}
	for _, v := range []Verdict{Higher, Lower, NoChange, CannotTell} {
		list = append(list, AtLarge(v, "October 2023"))
	}
	for _, s := range []Standing{Unlike, Quoted, WetLook, Alike} {
		list = append(list, NotCompared("11 October 2017", s, "another instrument depth"))
	}
	list = append(list, kitCatalogue()...)
	list = append(list, SeenFromBoth(3), LetterTells("Kittiwake", "14 October 2026"))
	list = append(append(list, LetterCloses()...), ItemsLeft([]ItemLeft{{"Keel bolts", false, "not drawn"}, {"Rudder", true, "blade alone"}})...)
	step := StepInput{State: "seen done", On: "14 October 2026", By: "A. Dunlin"}
	list = append(list, Followed("seen done", step, &step))
	for _, state := range []string{"issued", "claimed done", "not seen", "declined", "closed"} {
		list = append(list, Followed(state, step, nil))
	}
	for _, kind := range []string{"photo", "invoice", "reinspection", "word"} {
		list = append(list, Shown(EvidenceInput{Kind: kind, Text: "the yard’s, no. 7", On: "14 October 2026"}))
		list = append(list, Shown(EvidenceInput{Kind: kind, On: "14 October 2026", Bears: "14 October 2026"}))
	}
	for _, c := range StandingCautions() {
		list = append(list, Say(Caution, c))
	}
	return list
}

func TestVocabulary(t *testing.T) {
	t.Parallel()
	for _, s := range catalogue() {
		text := s.Text()
		if w := Lint(text); len(w) > 0 {
			t.Errorf("our own sentence says too much (%s): %s", w[0].Found, text)
		}
		if s.Claim == "" {
			t.Errorf("no kind of claim: %s", text)
		}
		if !strings.HasSuffix(text, ".") || strings.Contains(text, "  ") || strings.Contains(text, "*") {
			t.Errorf("not a sentence: %q", text)
		}
	}
}

func TestLint(t *testing.T) {
	t.Parallel()
	for text, code := range map[string]string{
		"The hull reads 18 % throughout.":                     "percent",
		"Moisture content was 12 per cent.":                   "percent",
		"The underbody is dry.":                               "dry",
		"She has fully dried out.":                            "dry",
		"No worries, bone dry below.":                         "dry",
		"The laminate is free of osmosis.":                    "free of",
		"The hull is sound throughout.":                       "sound",
		"The moulding appears sound.":                         "sound",
		"A rising trend since 2023.":                          "trend",
		"The readings show osmosis.":                          "cause",
		"The hull has osmosis.":                               "cause",
		"The grid would detect flaws of half a metre.":        "detect",
		"She is seaworthy.":                                   "seaworthy",
		"We guarantee the repair.":                            "guarantee",
		"The surface is ready to coat.":                       "ready",
		"The cradle is safe.":                                 "safe",
		"She will be dry by March.":                           "forecast",
		"Readings fell by 4 scale units, that is 10 % lower.": "percent",
		"Air 74 % RH. The hull reads 18 % by the deep meter.": "percent",
	} {
		w := Lint(text)
		if len(w) == 0 {
			t.Errorf("passed: %s", text)
			continue
		}
		found := false
		for _, x := range w {
			found = found || x.Code == code
			if text[x.From:x.To] != x.Found || x.Why == "" || x.Instead == "" {
				t.Errorf("%s: %+v", text, x)
			}
		}
		if !found {
			t.Errorf("%s: %+v, want %s", text, w, code)
		}
	}
	for _, text := range []string{
		"11.1 units above this hull’s own dry baseline.", "Two visits give a difference, not a trend.", "Clear note under the hammer.",
		"11 °C, 74 % RH.", "The timber scale read 18 %.", "Looked over wet and dry.", "Dull note, dry glass at the edge.", "Let it dry and read again.",
		"Not a certificate of seaworthiness, class, safety or compliance, and no guarantee of what comes after.",
		"Whether this is osmosis cannot be told from readings.", "Five years of guarantee, end of the guarantee 2027.", "Do not enter: not safe.",
		"Delivered free of charge.", "Opened: greasy, pH 4, so this is hydrolysis of the skin.", "",
	} {
		if w := Lint(text); len(w) > 0 {
			t.Errorf("warned of %q (%s): %s", w[0].Found, w[0].Code, text)
		}
	}
}

func FuzzLint(f *testing.F) {
	f.Add("The hull is dry. 18 %")
	f.Fuzz(func(t *testing.T, text string) {
		for _, w := range Lint(text) {
			if text[w.From:w.To] != w.Found {
				t.Errorf("%+v", w)
			}
		}
	})
}

func FuzzDecode(f *testing.F) {
	b, err := Encode(small())
	if err != nil {
		f.Fatal(err)
	}
	f.Add(b)
	f.Fuzz(func(t *testing.T, b []byte) {
		r, err := Decode(b)
		if err != nil {
			return
		}
		once, err := Encode(r)
		if err != nil {
			return // e.g. a year beyond 9999
		}
		back, err := Decode(once)
		if err != nil {
			t.Fatal(err)
		}
		twice, err := Encode(back)
		if err != nil || string(once) != string(twice) {
			t.Errorf("not canonical: %v\n%s\n%s", err, once, twice)
		}
		_, _ = r.Check(), LintReport(r)
	})
}

func TestDaysAreThePracticesOwn(t *testing.T) {
	t.Parallel()
	late := time.Date(2026, 10, 14, 23, 30, 0, 0, time.UTC)
	if got := Day(late, time.FixedZone("east", 7200)); got != "15 October 2026" {
		t.Error(got)
	}
}
