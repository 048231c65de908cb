package report

import (
	"regexp"
	"slices"
	"strings"
)

// Warning is a phrase that says more than a survey can carry. The service never
// writes one; in the surveyor's own text it warns and leaves the text alone.
type Warning struct {
	Code    string // "percent", "dry", …
	From    int    // byte offsets of the phrase in the text
	To      int
	Found   string
	Why     string
	Instead string // what could be said
}

type rule struct {
	code         string
	find         *regexp.Regexp
	allow        *regexp.Regexp // a match that covers the phrase clears it
	unless       *regexp.Regexp // found in the same sentence clears it
	why, instead string
}

func re(s string) *regexp.Regexp { return regexp.MustCompile(`(?i)` + s) }

// rules are the patterns that claim more than readings carry, with what is allowed of
// them. Words of the trade such as "dry baseline" pass.
var rules = []rule{
	{
		code: "percent", find: re(`\d[\s\x{a0}\x{202f}]*(%|per ?cent\b)|\bmoisture contents?\b`),
		unless:  re(`\bRH\b|humidity|\btimber|\bwood\b|\bplywood\b|\bpins?\b|\bconfidence\b|\bchance\b`),
		why:     "A reading of glass fibre is no share of water; per cent belongs to air and to timber scales.",
		instead: "so many scale units above this hull’s own dry baseline",
	},
	{
		code: "dry", find: re(`\b(bone[- ])?dry\b|\b(fully|completely|now) dried\b|\bdried out\b`),
		allow:   re(`\bdry[- ](baselines?|places?|topsides|rows?|references?|scatter|glass|fibres?|films?|docks?|docking|storage|land|weather|days?|voids?|disbonds?|rot|suits?|stores?)\b|\bown dry\b|\b(wet|damp)( and|,| or|/) ?dry\b|\bdry (and|or) wet\b|\b(to|will|would|may|must|not|then|and|let it) dry\b|\bsurface (is|was) dry\b|\bbare,? dry\b`),
		why:     "No meter tells that a hull is dry.",
		instead: "stood within the scatter of this hull’s own dry baseline",
	},
	{
		code: "free of", find: re(`\bfree (of|from)\b`), allow: re(`\bfree (of|from) charge\b`),
		why: "Nobody looked everywhere.", instead: "none seen in what was looked at",
	},
	{
		code: "sound", find: re(`\bsound throughout\b|\bstructurally sound\b|\b(in|of) sound (condition|order)\b|\b(is|are|was|were|be|appears?|appeared|seems?|looks?|hull|laminate)( \w+)? sound(ly)?\b`),
		allow:   re(`\b(is|was) (a|the|no) sound\b`),
		why:     "Sounding is heard where it was tapped and nowhere else.",
		instead: "clear note where tapped",
	},
	{
		code: "trend", find: re(`\btrend(s|ing)?\b`), allow: re(`\b(not a|no|never a|nor a) trend\b|\btrend (cannot|could not|needs)\b`),
		why: "Two visits give a difference; a course needs five.", instead: "higher than in October 2023",
	},
	{
		code: "cause", find: re(`\b(has|have|had|got|suffers? from|suffering from|shows?|showed|proves?|means?|meant|confirms?|confirmed|due to|caused by|is|are) (\w+ )?(osmosis|hydrolysis)\b|\bosmotic\b`),
		allow:   re(`\b(no|not|nor|neither|never|cannot|whether)\b[^.]{0,40}(osmosis|hydrolysis|osmotic)\b`),
		unless:  re(`\bopened\b|\bpH\b|\bcore plug\b|\blaborator(y|ies)\b`),
		why:     "Readings alone name no cause; only something opened or sampled confirms one.",
		instead: "points towards, with what would tell",
	},
	{
		code: "detect", find: re(`\bdetect(s|ed|ion|ing)?\b`),
		why: "A grid meets a flaw or passes it by.", instead: "meets nine times in ten",
	},
	{
		code: "seaworthy", find: re(`\b(un)?seaworth(y|iness)\b`), allow: re(`\b(not a certificate of|no opinion on|not of) seaworthiness\b`),
		why: "A survey is an opinion on the condition on the day.", instead: "what was seen, and what to do before she goes afloat",
	},
	{
		code: "guarantee", find: re(`\bguarantee(s|d)?\b|\bwarrant(s|ed)\b`), allow: re(`\b(no|not a|without) guarantee\b|\bguarantee (period|terms?|ends?|ended|runs?|given|of the)\b|\b(end of|under|the|years? of|months? of) (the )?guarantee\b`),
		why: "Nobody can promise what comes after.", instead: "leave it out",
	},
	{
		code: "ready", find: re(`\bready (to|for) (be )?(coat(ed|ing)?|paint(ed|ing)?|launch(ed|ing)?)\b`),
		why: "Whoever coats decides.", instead: "coating gates met on the day",
	},
	{
		code: "safe", find: re(`\b(is|are|was|were|now|made) safe\b|\bsafe to\b`), allow: re(`\bsays that a place is safe\b|\bnot safe\b|\b(stop and make|until made) safe\b`),
		why: "No report says that a place is safe.", instead: "what was seen, and who must look before work begins",
	},
	{
		code: "forecast", find: re(`\b(will|should) be dry\b|\bwill (have )?dr(y|ied) (by|in|within)\b`),
		why: "Drying is a band of time, never a date.", instead: "between so many and so many weeks, if the air stays as it is",
	},
}

var sentenceEnd = regexp.MustCompile(`[.!?]\s|\n`)

// Lint lists the phrases in a text that say more than a survey can carry, in order.
func Lint(text string) []Warning {
	var out []Warning
	for _, r := range rules {
		var allowed [][]int
		if r.allow != nil {
			allowed = r.allow.FindAllStringIndex(text, -1)
		}
		for _, m := range r.find.FindAllStringIndex(text, -1) {
			covered := slices.ContainsFunc(allowed, func(a []int) bool { return a[0] < m[1] && m[0] < a[1] })
			if covered || r.unless != nil && r.unless.MatchString(around(text, m)) {
				continue
			}
			out = append(out, Warning{Code: r.code, From: m[0], To: m[1], Found: text[m[0]:m[1]], Why: r.why, Instead: r.instead})
		}
	}
	slices.SortStableFunc(out, func(a, b Warning) int { return a.From - b.From })
	return out
}

// around gives the sentence that holds a match.
func around(text string, m []int) string {
	from, to := 0, len(text)
	for _, e := range sentenceEnd.FindAllStringIndex(text, -1) {
		if e[1] <= m[0] {
			from = e[1]
		}
		if e[0] >= m[1] {
			to = e[0]
			break
		}
	}
	return text[from:to]
}

// LintReport runs Lint over everything that is free text, with where it stands.
func LintReport(r Report) map[string][]Warning {
	out := map[string][]Warning{}
	see := func(where string, text ...string) {
		if w := Lint(strings.Join(text, "\n")); len(w) > 0 {
			out[where] = append(out[where], w...)
		}
	}
	see("scope", Join(r.Scope))
	see("inShort", Join(r.InShort))
	see("limits", Join(r.Limits))
	for i, rec := range r.Recommendations {
		see(at("recommendations", i), rec.What, rec.Because, rec.ClosedBy)
	}
	for i, f := range r.Findings {
		see(at("findings", i), f.Title, Join(f.Text))
	}
	for i, p := range r.Photos {
		see(at("photos", i), p.Caption)
	}
	for i, s := range r.Sections {
		see(at("sections", i), s.Title, strings.Join(s.Text, "\n"))
	}
	for i, a := range r.Schedule {
		for _, it := range a.Items {
			see(at("schedule", i), it.Condition, it.Note)
		}
	}
	return out
}
