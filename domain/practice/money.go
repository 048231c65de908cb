package practice

import (
	"context"
	"fmt"
	"regexp"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// MoneySettings are how a practice asks for money. Amounts are whole minor units of the
// practice's currency. Tax, wording and what a foot must say are the practice's and the
// law's where it is; the service knows none of them.
type MoneySettings struct {
	TaxPermille            int32
	MileageMinor           int64 // for one unit of way
	MileageUnit            string
	AbortFeeMinor          int64
	PaymentDays            int32
	NumberPrefix           string // before year and number of an invoice
	Foot                   string // bank, tax number: what an invoice must carry
	EarlyStartWording      string
	EarlyStartJurisdiction string
	Version                int32 // 0: nothing was ever kept
}

// usualMoney stands until a practice keeps its own. Common practice, no source.
var usualMoney = MoneySettings{MileageUnit: "km", PaymentDays: 30, NumberPrefix: "INV-"}

// JobMoney is what a job's page says of money.
type JobMoney struct {
	Job              uuid.UUID
	Number           string
	VesselName       string
	PayerName        string
	PayerAddress     string
	Currency         string
	Quote            []QuoteLine // accepted or not, of the engagement that the job came of
	ReleaseOnPayment bool
	ReleasedBecause  string
	ReleasedAt       *time.Time
	ReleasedBy       string
	Held             bool // links to its reports open nothing now
	OwesMinor        int64
	EarlyStart       bool // asked for with the terms, by link
	TermsAcceptedAt  *time.Time
	TermsAcceptedBy  string
	EarlyStarts      []EarlyStart
	Invoices         []Invoice
	Settings         MoneySettings
}

// EarlyStart is a consumer's express request to begin before a right to withdraw has run
// out, in the words that were said.
type EarlyStart struct {
	ID           uuid.UUID
	JobID        uuid.UUID
	AskedOn      time.Time
	AskedBy      string
	How          string
	Wording      string
	Jurisdiction string
}

// Age is what is owed in one currency, by how long after the due day.
type Age struct {
	Currency  string
	Age       string
	Invoices  int32
	OwedMinor int64
}

// HeldJob is a job whose issued reports stay shut to links until it is paid.
type HeldJob struct {
	ID         uuid.UUID
	Number     string
	VesselName string
	ClientName string
	Currency   string
	OwesMinor  int64
	Reports    []string
}

// Books is a page of the practice's invoices with what is owed in all.
type Books struct {
	Invoices []Invoice
	Ages     []Age
	Held     []HeldJob
	Hidden   int32 // issued invoices of jobs that are not open to whoever asks
}

// Release is whether a job's reports wait for money.
type Release struct {
	OnPayment bool
	Because   string
	Held      bool
}

// MoneyReader reads invoices and what is owed.
type MoneyReader interface {
	MoneySettings(ctx context.Context, practice uuid.UUID) (MoneySettings, error)
	JobMoney(ctx context.Context, practice, job uuid.UUID, who Sees) (JobMoney, error)
	Invoice(ctx context.Context, practice, id uuid.UUID, who Sees) (Invoice, error)
	// InvoicesOfShare reads the issued invoices of a link's job, none where its holder is not the client.
	InvoicesOfShare(ctx context.Context, practice, share uuid.UUID) ([]Invoice, error)
	// Books lists those owed, the longest due first, or those in a state, the newest first;
	// one more than page.First where there are more.
	Books(ctx context.Context, practice uuid.UUID, show string, from time.Time, page Page, now time.Time, who Sees) (Books, error)
	// InvoicesBetween reads issued invoices by the order of issue, after one.
	InvoicesBetween(ctx context.Context, practice uuid.UUID, from, to, afterAt time.Time, after uuid.UUID, most int, who Sees) ([]Invoice, error)
}

// MoneyWriter writes invoices, payments and what waits for them.
type MoneyWriter interface {
	MoneySettings(ctx context.Context) (MoneySettings, error)
	KeepMoneySettings(ctx context.Context, s MoneySettings) error
	// JobMoney reads a job that the actor may see, without its invoices.
	JobMoney(ctx context.Context, job uuid.UUID, who Sees) (JobMoney, error)
	// Invoice reads an invoice and holds it until the transaction ends.
	Invoice(ctx context.Context, id uuid.UUID, who Sees) (Invoice, error)
	InsertInvoice(ctx context.Context, i Invoice, now time.Time) error
	UpdateInvoice(ctx context.Context, i Invoice) error
	DropInvoice(ctx context.Context, id uuid.UUID, version int32) error
	// NextInvoiceNumber takes the next number of a year; it goes back with the transaction.
	NextInvoiceNumber(ctx context.Context, year int) (int32, error)
	IssueInvoice(ctx context.Context, i Invoice, by *uuid.UUID) error
	InsertPayment(ctx context.Context, p Payment, by *uuid.UUID, now time.Time) error
	JobRelease(ctx context.Context, job uuid.UUID) (Release, error)
	// OpenLinksOfJob are the links to its issued reports whose holders were not told yet that they open.
	OpenLinksOfJob(ctx context.Context, job uuid.UUID, now time.Time) ([]OpenLink, error)
	ToldOpen(ctx context.Context, links []uuid.UUID, now time.Time) error
	HoldReports(ctx context.Context, job uuid.UUID, hold bool, because string, at *time.Time, by *uuid.UUID) error
	InsertEarlyStart(ctx context.Context, e EarlyStart, by *uuid.UUID, now time.Time) error
}

// MoneySettings reads how the practice asks for money.
func (s *Service) MoneySettings(ctx context.Context, a domain.Actor) (MoneySettings, error) {
	if err := domain.May(a, domain.ReadMoney); err != nil {
		return MoneySettings{}, err
	}
	return s.store.MoneySettings(ctx, a.Practice)
}

// Usual gives the settings kept, or those that stand until some are.
func (s *MoneySettings) Usual() MoneySettings {
	if s == nil {
		return usualMoney
	}
	return *s
}

// EditMoneySettings is a change to them; nil leaves a field as it is.
type EditMoneySettings struct {
	Mutation               uuid.UUID `json:"-"`
	Version                int32
	TaxPermille            *int32
	MileageMinor           *int64
	MileageUnit            *string
	AbortFeeMinor          *int64
	PaymentDays            *int32
	NumberPrefix           *string
	Foot                   *string
	EarlyStartWording      *string
	EarlyStartJurisdiction *string
}

// EditMoneySettings changes how the practice asks for money. Invoices that were issued
// stay as they were issued.
func (s *Service) EditMoneySettings(ctx context.Context, a domain.Actor, in EditMoneySettings) (Done, error) {
	return s.write(ctx, &a, domain.ManagePractice, "editMoneySettings", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		kept, err := tx.MoneySettings(ctx)
		if err != nil {
			return Done{}, err
		}
		if err := in.apply(&kept); err != nil {
			return Done{}, err
		}
		return touched(ref(domain.ThingPractice, a.Practice)), tx.KeepMoneySettings(ctx, kept)
	})
}

// plainPrefix is what may stand before an invoice's number.
var plainPrefix = regexp.MustCompile(`^[A-Za-z0-9/-]{0,12}$`)

func (in EditMoneySettings) apply(s *MoneySettings) error {
	s.Version = in.Version
	set(&s.TaxPermille, in.TaxPermille)
	set(&s.MileageMinor, in.MileageMinor)
	set(&s.MileageUnit, in.MileageUnit)
	set(&s.AbortFeeMinor, in.AbortFeeMinor)
	set(&s.PaymentDays, in.PaymentDays)
	set(&s.NumberPrefix, in.NumberPrefix)
	set(&s.Foot, in.Foot)
	set(&s.EarlyStartWording, in.EarlyStartWording)
	set(&s.EarlyStartJurisdiction, in.EarlyStartJurisdiction)
	switch {
	case s.TaxPermille < 0 || s.TaxPermille > 1000:
		return domain.Invalidf("taxPermille", "Tax lies between 0 and 1000 parts in a thousand.")
	case s.MileageMinor < 0 || s.MileageMinor > mostMinor:
		return domain.Invalidf("mileageMinor", "What a unit of way costs is 0 or more, in whole minor units.")
	case s.MileageUnit != "km" && s.MileageUnit != "mile":
		return domain.Invalidf("mileageUnit", "Way is counted by km or by mile.")
	case s.AbortFeeMinor < 0 || s.AbortFeeMinor > mostMinor:
		return domain.Invalidf("abortFeeMinor", "An abort fee is 0 or more, in whole minor units.")
	case s.PaymentDays < 0 || s.PaymentDays > 365:
		return domain.Invalidf("paymentDays", "Payment is due within 0 to 365 days.")
	case !plainPrefix.MatchString(s.NumberPrefix):
		return domain.Invalidf("numberPrefix", "Before the number stand up to 12 letters, digits, hyphens and strokes.")
	case len(s.Foot) > 2000 || len(s.EarlyStartWording) > 5000 || len(s.EarlyStartJurisdiction) > 200:
		return domain.Invalidf("foot", "A foot has at most 2,000 letters, the request to begin early 5,000 and its jurisdiction 200.")
	}
	return nil
}

// JobMoney reads what a job's page says of money, in one trip.
func (s *Service) JobMoney(ctx context.Context, a domain.Actor, job uuid.UUID) (JobMoney, error) {
	if err := domain.May(a, domain.ReadMoney); err != nil {
		return JobMoney{}, err
	}
	return s.store.JobMoney(ctx, a.Practice, job, sees(a))
}

// Books lists invoices: those owed, drafts, or all that were issued.
func (s *Service) Books(ctx context.Context, a domain.Actor, show string, page Page) (Books, error) {
	if err := domain.May(a, domain.ReadMoney); err != nil {
		return Books{}, err
	}
	if err := page.check(); err != nil {
		return Books{}, err
	}
	from, err := beginning(show)
	if err != nil {
		return Books{}, err
	}
	if page.AfterText == "" {
		page.AfterID = map[bool]uuid.UUID{true: uuid.Nil, false: uuid.Max}[show == "owed"]
	} else if from, err = time.Parse(time.RFC3339Nano, page.AfterText); err != nil {
		return Books{}, domain.Invalidf("after", "This is no cursor of this list. Take one from pageInfo.endCursor.")
	}
	return s.store.Books(ctx, a.Practice, show, from, page, s.instant(), sees(a))
}

// lastDay is after everything.
var lastDay = time.Date(9999, 12, 31, 0, 0, 0, 0, time.UTC)

// beginning is where the first page of a list starts.
func beginning(show string) (time.Time, error) {
	switch show {
	case "owed":
		return time.Date(1, 1, 1, 0, 0, 0, 0, time.UTC), nil
	case "draft", "issued":
		return lastDay, nil
	}
	return time.Time{}, domain.Invalidf("show", "Lists are of invoices owed, draft or issued.")
}

// Cursor is the text by which a list of invoices is ordered.
func (i Invoice) Cursor(show string) string {
	at := lastDay
	switch {
	case show == "owed" && i.DueOn != nil:
		at = *i.DueOn
	case show == "issued" && i.IssuedAt != nil:
		at = *i.IssuedAt
	}
	return at.Format(time.RFC3339Nano)
}

// HoldReports says whether links to a job's reports wait until the job is paid for.
type HoldReports struct {
	Mutation uuid.UUID `json:"-"`
	Job      uuid.UUID
	Hold     bool
	Because  string // why they open unpaid; owed where they were held
}

// HoldReports holds the links to a job's reports until it is paid for, or opens them for a
// reason that is kept with a name and a day. What members read is never held.
func (s *Service) HoldReports(ctx context.Context, a domain.Actor, in HoldReports) (Done, error) {
	return s.write(ctx, &a, domain.WriteMoney, "holdReports", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		j, err := tx.Job(ctx, in.Job, sees(a))
		if err != nil {
			return Done{}, err
		}
		done := touched(ref(domain.ThingJob, j.ID))
		if in.Hold {
			return done, tx.HoldReports(ctx, j.ID, true, "", nil, nil)
		}
		was, err := tx.JobRelease(ctx, j.ID)
		if err != nil {
			return Done{}, err
		}
		because := strings.TrimSpace(in.Because)
		switch {
		case !was.OnPayment || was.Because != "":
			return Done{}, domain.Conflictf("The reports of this job are not held.")
		case because == "" || len(because) > 500:
			return Done{}, domain.Invalidf("because", "Say in up to 500 letters why the reports open before they are paid for: it is kept with your name.")
		}
		now := s.instant()
		return done, s.opening(ctx, tx, j.ID, func() error { return tx.HoldReports(ctx, j.ID, false, because, &now, entered(a)) })
	})
}

// RecordEarlyStart is a request to begin early that came by another way than the terms' link.
type RecordEarlyStart struct {
	Mutation     uuid.UUID `json:"-"`
	ID           uuid.UUID
	Job          uuid.UUID
	AskedOn      time.Time
	AskedBy      string
	How          string
	Wording      string // empty: the practice's own
	Jurisdiction string // empty: the practice's own
}

// RecordEarlyStart keeps a consumer's express request to begin early, in the words that
// were said. Whether one is needed is the law's where the practice is.
func (s *Service) RecordEarlyStart(ctx context.Context, a domain.Actor, in RecordEarlyStart) (Done, error) {
	return s.write(ctx, &a, domain.Book, "recordEarlyStart", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.ID); err != nil {
			return Done{}, err
		}
		j, err := tx.Job(ctx, in.Job, sees(a))
		if err != nil {
			return Done{}, err
		}
		settings, err := tx.MoneySettings(ctx)
		if err != nil {
			return Done{}, err
		}
		e := EarlyStart{
			ID: in.ID, JobID: j.ID, AskedOn: in.AskedOn, AskedBy: strings.TrimSpace(in.AskedBy), How: strings.TrimSpace(in.How),
			Wording: either(strings.TrimSpace(in.Wording), settings.EarlyStartWording), Jurisdiction: either(strings.TrimSpace(in.Jurisdiction), settings.EarlyStartJurisdiction),
		}
		if err := oneLine("askedBy", e.AskedBy, 200); err != nil {
			return Done{}, err
		}
		switch {
		case e.AskedOn.IsZero():
			return Done{}, domain.Invalidf("askedOn", "Say on which day it was asked.")
		case e.Wording == "" || len(e.Wording) > 5000:
			return Done{}, domain.Invalidf("wording", "Keep the words that were said, in up to 5,000 letters; the practice’s own wording stands in its settings.")
		case len(e.How) > 200 || len(e.Jurisdiction) > 200:
			return Done{}, domain.Invalidf("how", "At most 200 letters fit here.")
		}
		return touched(ref(domain.ThingEarlyStart, e.ID), ref(domain.ThingJob, j.ID)), tx.InsertEarlyStart(ctx, e, entered(a), s.instant())
	})
}

// HeldWords tell the holder of a link why it opens nothing yet. Only whoever ordered the
// survey is told that money is owed.
func HeldWords(number, boat, practice string, toClient bool) error {
	if toClient {
		return domain.Forbiddenf("Report %s of %s is issued. %s opens it to this link once the survey is paid for; a payment opens it when the practice has noted it. Keep the link: it stays the same.", number, boat, practice)
	}
	return domain.Forbiddenf("Report %s of %s is issued, and %s has not yet opened it to this link. Keep the link, or ask the practice.", number, boat, practice)
}

func invoiceNumber(prefix string, year int, n int32) string {
	return fmt.Sprintf("%s%04d-%04d", prefix, year, n)
}
