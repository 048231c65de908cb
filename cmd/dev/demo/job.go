package demo

import (
	"time"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/domain/report"
)

// job is one survey of a boat.
type job struct {
	key         string
	kind        string
	scope       string
	client      string
	as          string // what the client is to her
	payer       string // who pays the survey; empty: nobody wrote it down
	lead        string
	cite        string
	restricted  bool
	guests      []string // let into this job
	opened      time.Time
	due         *time.Time
	between     string
	stages      []stage
	permissions []permission
	visits      []visit
	advice      []advice
	report      *paper
	drying      *dryingLog
	whole       *whole
}

// stage is a step of a job after it was booked.
type stage struct {
	at    time.Time
	stage string
}

// permission is asked, given or refused; by is a party, name somebody else.
type permission struct {
	what, extent          string
	asked, given, refused *time.Time
	by, name, good, note  string
}

// visit is one attendance.
type visit struct {
	key         string
	kind        string
	at          time.Time
	hours       float64
	lead        string
	spell       string
	follows     string
	why         string
	written     string // days ashore, of old reports
	note        string
	planned     bool // still to come
	cancelled   bool
	booked      time.Time // zero: with the job
	tank, bilge string    // levels as written with the conditions
	weather     bool      // conditions as the simulation has them
	passes      []pass
	findings    []finding
	windows     []window
	photos      []photo
	checks      []check
	words       []word
}

// pass is one going-over by one hand with one instrument.
type pass struct {
	key        string
	hand       string
	instrument string
	began      time.Time // a quarter of an hour into the visit
	surface    string
	dry        string
	wash       int16 // hours since; 0: not noted
	heatOff    int16 // hours since; 0: not heated
	rain       string
	battery    string
	note       string
	source     string // metered when empty
	hands      careful

	level      bool // nothing stands above the topsides any more: no baseline is looked for
	quoted     bool // context lost; instrument and hand as written
	instWords  string
	handWords  string
	only       []int             // rows read, by number; nil: all
	unread     map[string]string // "P5/4" → why
	void       map[string]string
	follow     []string
	corrected  map[string]string // "S7/2" → why; a slip of the pen is put right
	amended    map[string]string // the same, found after the report was issued
	amendedOn  time.Time
	until      int // stations read so far of an open pass; 0: all, and closed
	placements int // 3 when 0

	zero, gain, drift float64
}

// careful says how a hand works.
type careful uint8

const (
	withMarks careful = iota
	withoutMarks
)

// finding is something seen, heard, smelt or opened.
type finding struct {
	key, form, kind, sure, text string // of a form the kind is the form's own
	measured                    string
	again                       bool
	places                      []string
	side                        string
	outline                     [][2]int32
	of, face                    string // the finding looked at again; that of the other face
}

// check is one made to tell causes apart, and what came of it.
type check struct {
	key, outcome, note, finding string
	places                      []string
}

// word is what a surveyor says of a cause.
type word struct {
	key, by, cause, judges, reason string
	places                         []string
}

// window is a scrape window; a series of them is laid out along a row.
type window struct {
	side        string
	along, down int32
	width, high int32
	to, good    string
	blisters    int32
}

// photo is drawn by the program.
type photo struct {
	key, caption, shows, place, finding string
}

// advice is a recommendation with its story.
type advice struct {
	key                       string
	grade                     report.Grade
	about                     string // what the interval to the next look depends on
	sure                      string
	readings                  bool
	what, reason, consequence string
	who, byWords, closedBy    string
	by                        *time.Time
	steps                     []step
	shown                     []shown
	warned                    *practice.DangerTold // who was spoken to of a danger, an hour after the visit
}

// shown is evidence beside a recommendation.
type shown struct {
	at                time.Time
	by, kind, text    string
	visit, photo, job string // keys
}

// step is a state that a recommendation came to.
type step struct {
	at            time.Time
	state, reason string
	by            string
}

// paper is a report.
type paper struct {
	title, short, scope, limits string
	page                        string // A4 when empty
	drafted                     time.Time
	look                        *look
	issued                      time.Time // zero: still a draft
	signs                       string
	shares                      []share
	adds                        []added
	letter                      *letter
}

// added is what an addendum says.
type added struct {
	at   time.Time
	text string
}

// letter goes to an insurer or lender and says what was seen.
type letter struct {
	at                    time.Time
	to, reader, reference string
}

// look is a second look at a draft.
type look struct {
	by string
	at time.Time
}

// share is a link for a person, and when it was opened.
type share struct {
	key, party, name, email, purpose string
	at                               time.Time
	until                            time.Time
	opened                           []time.Time
	revoked                          time.Time
	says                             []said
}

// said is what a client answers to one of a report's recommendations, named by how it
// begins. Who answers keeps the reports in an account.
type said struct {
	at                     time.Time
	begins, answer, reason string
}
