package demo

import (
	"context"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain/practice"
)

// fees by kind of survey, before tax, in whole minor units; made up.
var fees = map[string]int64{
	"pre-purchase": 620_00, "insurance": 480_00, "limited moisture": 390_00, "completion": 340_00, "repair supervision": 540_00, "warranty": 420_00, "damage": 560_00,
}

// unpaidJobs are jobs whose invoice nobody has paid, by their key; of the heldJobs the links
// to the report wait.
var (
	unpaidJobs = []string{"season 0", "season 1", "ember 2"}
	heldJobs   = []string{"ember 2"}
)

// billedDays is for how many days back jobs were invoiced here; what is older was written
// in a book of paper.
const billedDays = 1500

// bill asks for money: with the report, or, where a boat of the season is not done yet, for
// a deposit. What is old enough was paid.
func (a *afloat) bill(j *job) {
	at, kind := a.billedAt(j)
	fee := fees[j.kind]
	if a.house != "ebbstone" || j.restricted || fee == 0 || j.client == "" || at.Before(a.on(-billedDays, "00:00")) || at.After(a.today) {
		return
	}
	is := a.of("invoice", j.key)
	lines := []practice.InvoiceLine{{Kind: "work", Text: strings.ToUpper(j.kind[:1]) + j.kind[1:] + " survey, " + a.vessel.Name, Hundredths: 100, PriceMinor: fee, TaxPermille: 230}}
	if kind == "deposit" {
		lines = []practice.InvoiceLine{{Kind: "work", Text: "Deposit, a third of the survey", Hundredths: 100, PriceMinor: fee / 3, TaxPermille: 230}}
	} else {
		lines = append(lines, practice.InvoiceLine{Kind: "mileage", Text: "Way to the yard and back", Hundredths: 3800, Unit: "km", PriceMinor: 45, TaxPermille: 230})
	}
	a.at(at, kind+" of "+j.key, func(ctx context.Context) error {
		return done(a.DraftInvoice(ctx, a.desk(), practice.DraftInvoice{Mutation: a.mut("bill", j.key), ID: is, Job: a.of("job", j.key), Kind: kind, Lines: lines}))
	})
	if slices.Contains(heldJobs, j.key) {
		a.at(a.on(-25, "10:10"), "links held", func(ctx context.Context) error {
			return done(a.HoldReports(ctx, a.desk(), practice.HoldReports{Mutation: a.mut("hold", j.key), Job: a.of("job", j.key), Hold: true}))
		})
	}
	if j.key == "season 3" { // still on the desk
		return
	}
	a.at(at.Add(10*time.Minute), kind+" issued", func(ctx context.Context) error {
		return done(a.IssueInvoice(ctx, a.desk(), practice.IssueInvoice{Mutation: a.mut("bill issued", j.key), ID: is, Version: 1}))
	})
	if paid := at.AddDate(0, 0, 9+len(j.key)); !slices.Contains(unpaidJobs, j.key) && paid.Before(a.today) {
		a.at(paid, "payment", func(ctx context.Context) error { return a.pay(ctx, j, is) })
	}
}

// billedAt is when a job is asked to be paid for, and as what.
func (a *afloat) billedAt(j *job) (time.Time, string) {
	if j.report != nil && !j.report.issued.IsZero() {
		return j.report.issued.Add(50 * time.Minute), "invoice"
	}
	if j.report == nil && len(j.key) > 6 && j.key[:6] == "season" {
		return j.opened.Add(3 * time.Hour), "deposit"
	}
	return time.Time{}, ""
}

func (a *afloat) pay(ctx context.Context, j *job, invoice uuid.UUID) error {
	i, err := a.Invoice(ctx, a.desk(), invoice)
	if err != nil {
		return err
	}
	return done(a.RecordPayment(ctx, a.desk(), practice.RecordPayment{Mutation: a.mut("paid", j.key), Payment: practice.Payment{
		ID: a.of("paid", j.key), InvoiceID: invoice, AmountMinor: i.OwedMinor, PaidOn: *a.dayOf(a.now), How: "bank transfer",
	}}))
}

// billing is how the first practice asks for money, and what its people have read of what
// they were told: all but the last days.
func (l *loader) billing(b *book) {
	at := l.on(-billedDays, "09:00")
	b.at(at, "how money is asked for", func(ctx context.Context) error {
		return done(l.EditMoneySettings(ctx, l.head("ebbstone"), practice.EditMoneySettings{
			Mutation: mutation(at, "money"), TaxPermille: new(int32(230)), MileageMinor: new(int64(45)), AbortFeeMinor: new(int64(90_00)), NumberPrefix: new("EB-"),
			Foot:              new("Ebbstone Bank, account 000 555 0199. Tax number made up. An invented practice: nobody owes anything."),
			EarlyStartWording: new("I ask you expressly to begin before the time in which I may withdraw is over, and know that I must pay for what was done until then."),
		}))
	})
	read := l.on(-11, "18:00")
	for _, p := range members {
		if p.house != "ebbstone" || p.gone > 0 {
			continue
		}
		b.at(read, p.name+" has read what changed", func(ctx context.Context) error { return l.readAll(ctx, read, p.key) })
	}
}

// readAll marks everything that a member was told until now as seen.
func (l *loader) readAll(ctx context.Context, at time.Time, key string) error {
	for {
		told, err := l.Notices(ctx, l.as(key), practice.Page{First: 200})
		if err != nil || told.Unseen == 0 {
			return err
		}
		in := practice.SeeNotices{}
		for _, n := range told.List {
			if n.SeenAt == nil {
				in.Notices = append(in.Notices, n.ID)
			}
		}
		if len(in.Notices) == 0 { // what is left is older than a page
			return nil
		}
		in.Notices = in.Notices[:min(len(in.Notices), 200)]
		in.Mutation = mutation(at, "read", in.Notices[0].String())
		if err := done(l.SeeNotices(ctx, l.as(key), in)); err != nil {
			return err
		}
	}
}
