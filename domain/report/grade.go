package report

// Grade is how urgent a recommendation is. The words are the trade's.
type Grade string

// The grades, most urgent first.
const (
	StopAndMakeSafe Grade = "stop"
	BeforeAfloat    Grade = "afloat"
	WhileAshore     Grade = "ashore"
	PlannedWork     Grade = "planned"
	Watch           Grade = "watch"
	LookFurther     Grade = "further"
	ForTheRecord    Grade = "record"
)

var gradeWords = map[Grade]string{
	StopAndMakeSafe: "Stop and make safe",
	BeforeAfloat:    "Before afloat",
	WhileAshore:     "While ashore",
	PlannedWork:     "Planned work",
	Watch:           "Watch",
	LookFurther:     "Look further",
	ForTheRecord:    "For the record",
}

// Grades lists them, most urgent first.
func Grades() []Grade {
	return []Grade{StopAndMakeSafe, BeforeAfloat, WhileAshore, PlannedWork, LookFurther, Watch, ForTheRecord}
}

// Words says the grade as it is printed; an unknown grade is printed as it is.
func (g Grade) Words() string {
	if w, ok := gradeWords[g]; ok {
		return w
	}
	return string(g)
}

// GradeOf finds a grade by its code or by its words; false where there is none.
func GradeOf(text string) (Grade, bool) {
	for g, words := range gradeWords {
		if text == string(g) || text == words {
			return g, true
		}
	}
	return "", false
}

// Known tells whether g is one of the seven.
func (g Grade) Known() bool { _, ok := gradeWords[g]; return ok }

// FromReadings tells whether readings alone may carry this grade: electrical
// evidence yields Watch, Look further or For the record and nothing above.
func (g Grade) FromReadings() bool {
	return g == Watch || g == LookFurther || g == ForTheRecord
}

// Sure is how sure a finding or a recommendation is, apart from how urgent.
type Sure string

// How sure.
const (
	Seen      Sure = "seen"
	Indicated Sure = "indicated"
	Suspected Sure = "suspected"
)

// Known tells whether s is one of the three.
func (s Sure) Known() bool { return s == Seen || s == Indicated || s == Suspected }

// Standing is how far an earlier pass may be compared with today's.
type Standing string

// The standings; WetLook for a visit without a meter.
const (
	Today   Standing = "today"
	Same    Standing = "same"
	Alike   Standing = "alike"
	Unlike  Standing = "unlike"
	Quoted  Standing = "quoted"
	WetLook Standing = "look"
)

var standingWords = map[Standing]string{
	Today: "today", Same: "same", Alike: "alike", Unlike: "unlike", Quoted: "quoted", WetLook: "wet look",
}

// Words says the standing as it is printed.
func (s Standing) Words() string {
	if w, ok := standingWords[s]; ok {
		return w
	}
	return string(s)
}

// Verdict is what can be said of one place, zone or hull between two visits.
type Verdict string

// The verdicts.
const (
	Higher     Verdict = "up"
	Lower      Verdict = "down"
	NoChange   Verdict = "none"
	CannotTell Verdict = "untold"
)

var verdictWords = map[Verdict]string{
	Higher: "changed, higher", Lower: "changed, lower", NoChange: "no change shown", CannotTell: "cannot tell",
}

// Words says the verdict as it is printed.
func (v Verdict) Words() string {
	if w, ok := verdictWords[v]; ok {
		return w
	}
	return string(v)
}
