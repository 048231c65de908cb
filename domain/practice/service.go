// Package practice holds the use cases of a practice of surveyors, one method each.
// A use case asks first whether the actor may, then does its work in one transaction
// whose last statement is its line in the record of changes.
package practice

import (
	"context"
	"errors"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/entry"
)

// Store is where a practice's rows are kept. Each area's reader stands beside its use cases.
type Store interface {
	// InPractice runs fn in one transaction that sees only p's rows and commits when fn returns nil.
	InPractice(ctx context.Context, p uuid.UUID, fn func(Tx) error) error
	RecordReader
	PracticeReader
	InstrumentReader
	RepeatKitReader
	VesselReader
	PassReader
	HistoryReader
	SpellReader
	JobReader
	TodayReader
	VisitReader
	ConditionReader
	FindingReader
	UploadReader
	PhotoReader
	RecommendationReader
	FollowThroughReader
	SurveyBookReader
	CauseReader
	ReinspectionReader
	FeedReader
	ReportReader
	WordingReader
	AddendumReader
	ReportHistoryReader
	MakingReader
	ShareReader
	ClientReader
	AuthenticReader
	MemberReader
	PartyReader
	DoubleReader
	DiaryReader
	DryingReader
	BriefReader
	EngagementReader
	TermsReader
	YardReader
	MoneyReader
	NoticeReader
	FiguresReader
	HoldReader
	RetentionReader
	PrivacyReader
	FigureReader
	CompetenceReader
}

// Tx is a transaction with a practice chosen. Each area's writer stands beside its use cases.
type Tx interface {
	Records
	Queue
	PracticeWriter
	InstrumentWriter
	RepeatKitWriter
	CrossReadingWriter
	VesselWriter
	PlaceWriter
	PassWriter
	ReadingWriter
	StandingWriter
	SpellWriter
	JobWriter
	PermissionWriter
	UnaskedWriter
	HullMarkWriter
	PaperWriter
	VisitWriter
	ConditionWriter
	FindingWriter
	UploadWriter
	PhotoWriter
	ImportWriter
	RecommendationWriter
	FollowThroughWriter
	SurveyBookWriter
	CauseWriter
	ReinspectionWriter
	FeedWriter
	ReportWriter
	ComposerWriter
	WordingWriter
	ReviewWriter
	ShareWriter
	ClientWriter
	AddendumWriter
	MemberWriter
	PartyWriter
	DoubleWriter
	BookingWriter
	CheckWriter
	LeaveWriter
	CompetenceWriter
	FigureWriter
	DeclineWriter
	MoveWriter
	DryingWriter
	EngagementWriter
	TermsWriter
	YardWriter
	MoneyWriter
	NoticeWriter
	HoldWriter
	RetentionWriter
	PrivacyWriter
	Post
}

// Queue takes jobs that commit with the transaction. Arguments are ids, never words.
type Queue interface {
	Enqueue(ctx context.Context, kind string, args any, at time.Time) error
}

// Post takes letters that are sent once the transaction has committed.
type Post interface {
	SendMail(ctx context.Context, l entry.Letter, now time.Time) error
}

// Service is the use cases over a store.
type Service struct {
	store     Store
	objects   Objects
	pictures  Pictures
	now       func() time.Time
	publicURL string // where people reach the service, without a slash at the end
	said      saidLately
}

// Option changes how a Service works.
type Option func(*Service)

// WithClock replaces the clock, for tests and for the demonstration's past.
func WithClock(now func() time.Time) Option { return func(s *Service) { s.now = now } }

// WithObjects gives the store of files; without it, what needs one is refused.
func WithObjects(o Objects) Option { return func(s *Service) { s.objects = o } }

// WithPublicURL says where people reach the service: links in letters begin with it.
func WithPublicURL(url string) Option {
	return func(s *Service) { s.publicURL = strings.TrimSuffix(url, "/") }
}

// New makes the use cases over a store.
func New(store Store, options ...Option) *Service {
	s := &Service{store: store, now: time.Now, said: newSaidLately()}
	for _, o := range options {
		o(s)
	}
	return s
}

// ErrAgain is what a store answers where nothing was kept and the same may go through
// at once: a serialization failure or a deadlock.
var ErrAgain = errors.New("the transaction lost a race")

// instant is the present to the microsecond, which is what the database keeps.
func (s *Service) instant() time.Time { return s.now().UTC().Truncate(time.Microsecond) }

// newID refuses what is no id of a new thing: wrong in kind, or not a UUIDv7.
func newID(field string, id uuid.UUID) error {
	if id == uuid.Nil || id.Version() != 7 {
		return domain.Invalidf(field, "A new thing needs an id of its own kind with a UUIDv7 in it.")
	}
	return nil
}
