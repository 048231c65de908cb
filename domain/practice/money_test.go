package practice_test

import (
	"bytes"
	"context"
	"encoding/csv"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"
	"pgregory.net/rapid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

// billed drafts an invoice of one line over so many minor units, with 23 % tax.
func (b *bundle) billed(job uuid.UUID, minor int64) uuid.UUID {
	b.t.Helper()
	id := newID()
	_, err := b.DraftInvoice(b.t.Context(), b.ours.of[domain.Office], practice.DraftInvoice{
		Mutation: newID(), ID: id, Job: job, Kind: "invoice", PayerName: "A. Ferrant",
		Lines: []practice.InvoiceLine{{Kind: "work", Text: "Survey", Hundredths: 100, PriceMinor: minor, TaxPermille: 230}},
	})
	want(b.t, err, domain.Internal)
	return id
}

func (b *bundle) invoiced(job uuid.UUID, minor int64) uuid.UUID {
	b.t.Helper()
	id := b.billed(job, minor)
	_, err := b.IssueInvoice(b.t.Context(), b.ours.of[domain.Office], practice.IssueInvoice{Mutation: newID(), ID: id, Version: 1})
	want(b.t, err, domain.Internal)
	return id
}

// Whatever is issued, credited, refused or sent twice, at once and in turn, the numbers of
// a year are 1, 2, 3 and so on, each once.
func TestInvoiceNumbersHaveNoGapsAndNoDoubles(t *testing.T) {
	t.Parallel()
	b := setup(t)
	office := b.ours.of[domain.Office]
	job := b.job(b.ours, b.vessel(b.ours, "Petrel"), false)
	made := 0
	rapid.Check(t, func(r *rapid.T) {
		n := rapid.IntRange(1, 6).Draw(r, "at once")
		bad := rapid.SliceOfN(rapid.Bool(), n, n).Draw(r, "refused")
		twice := rapid.SliceOfN(rapid.Bool(), n, n).Draw(r, "sent twice")
		var wait sync.WaitGroup
		for k := range n {
			in := practice.IssueInvoice{Mutation: newID(), ID: b.billed(job, 100), Version: 1}
			if bad[k] {
				in.Version = 7 // refused after the number was taken
			} else {
				made++
			}
			times := 1
			if twice[k] {
				times = 2
			}
			for range times {
				wait.Add(1)
				go func() {
					defer wait.Done()
					_, err := b.IssueInvoice(t.Context(), office, in)
					if kind := domain.KindOf(err); err != nil && (!bad[k] || kind != domain.Conflict) {
						t.Errorf("issue: %v", err)
					}
				}()
			}
		}
		wait.Wait()
		var numbers []string
		if err := b.owner.QueryRow(t.Context(), `select array_agg(number order by number) from invoices where practice_id = $1 and state = 'issued'`, b.ours.id).Scan(&numbers); err != nil {
			r.Fatal(err)
		}
		if len(numbers) != made {
			r.Fatalf("%d are issued, want %d", len(numbers), made)
		}
		for k, number := range numbers {
			if want := fmt.Sprintf("INV-2026-%04d", k+1); number != want {
				r.Fatalf("number %d is %s, want %s, in %v", k+1, number, want, numbers)
			}
		}
	})
}

func TestAnIssuedInvoiceIsNeverChanged(t *testing.T) {
	t.Parallel()
	b := setup(t)
	ctx, office := t.Context(), b.ours.of[domain.Office]
	id := b.invoiced(b.job(b.ours, b.vessel(b.ours, "Petrel"), false), 50000)
	_, err := b.EditInvoice(ctx, office, practice.EditInvoice{Mutation: newID(), ID: id, Version: 2, PayerName: ptr("somebody else")})
	want(t, err, domain.Conflict)
	_, err = b.DropInvoice(ctx, office, practice.DropInvoice{Mutation: newID(), ID: id, Version: 2})
	want(t, err, domain.Conflict)
	for _, change := range []string{"net_minor = 1", "payer_name = 'x'", "lines = '[]'", "printed = '{}'", "number = 'INV-1'", "state = 'dropped'"} {
		if _, err := b.owner.Exec(ctx, `update invoices set `+change+` where id = $1`, id); err == nil {
			t.Errorf("the database let %s through", change)
		}
	}
	i := must[practice.Invoice](t)(b.Invoice(ctx, office, id))
	if i.NetMinor != 50000 || i.TaxMinor != 11500 || i.OwedMinor != 61500 || i.DueOn.Sub(*i.Dated) != 30*24*time.Hour || i.Printed.PracticeName != "North quay surveys" {
		t.Errorf("it stands %+v", i)
	}
}

func TestACreditNoteTakesBackAndNoMore(t *testing.T) {
	t.Parallel()
	b := setup(t)
	ctx, office := t.Context(), b.ours.of[domain.Office]
	id := b.invoiced(b.job(b.ours, b.vessel(b.ours, "Petrel"), false), 12345) // tax 2839.35: rounded to 2839
	in := practice.CreditInvoice{Mutation: newID(), ID: newID(), Invoice: id, Note: "not made"}
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.CreditInvoice(ctx, office, in) })
	i, c := must[practice.Invoice](t)(b.Invoice(ctx, office, id)), must[practice.Invoice](t)(b.Invoice(ctx, office, in.ID))
	if i.OwedMinor != 0 || c.NetMinor != -12345 || c.TaxMinor != -2839 || c.Number != "INV-2026-0002" || c.CreditsNumber != i.Number {
		t.Errorf("the invoice owes %d; the note is %+v", i.OwedMinor, c)
	}
	in.Mutation, in.ID = newID(), newID()
	in.Lines = []practice.InvoiceLine{{Kind: "work", Text: "Survey", Hundredths: 100, PriceMinor: 1}}
	_, err := b.CreditInvoice(ctx, office, in)
	want(t, err, domain.Invalid, "lines")
}

func TestPaymentsArePutRightByTheirOpposite(t *testing.T) {
	t.Parallel()
	b := setup(t)
	ctx, office := t.Context(), b.ours.of[domain.Office]
	id := b.invoiced(b.job(b.ours, b.vessel(b.ours, "Petrel"), false), 10000)
	pay := func(minor int64) error {
		_, err := b.RecordPayment(ctx, office, practice.RecordPayment{Mutation: newID(), Payment: practice.Payment{ID: newID(), InvoiceID: id, AmountMinor: minor, PaidOn: b.clock.now(), How: "bank"}})
		return err
	}
	want(t, pay(-1), domain.Invalid, "amountMinor")
	want(t, pay(123000), domain.Internal) // a nought too many
	want(t, pay(-123000), domain.Internal)
	want(t, pay(12300), domain.Internal)
	i := must[practice.Invoice](t)(b.Invoice(ctx, office, id))
	if i.OwedMinor != 0 || len(i.Payments) != 3 {
		t.Errorf("it owes %d after %d payments", i.OwedMinor, len(i.Payments))
	}
	want(t, pay(0), domain.Invalid, "amountMinor")
}

func TestAHeldReportOpensOncePaidOrReleased(t *testing.T) {
	t.Parallel()
	b, _, w := write(t)
	b.issued(w)
	ctx, office := t.Context(), b.ours.of[domain.Office]
	_, link, err := b.ShareReport(ctx, office, practice.ShareReport{Mutation: newID(), ID: newID(), Report: w.report, Name: "A. Ferrant", Email: "ferrant@post.example", Until: b.clock.now().AddDate(0, 6, 0)})
	want(t, err, domain.Internal)
	token := link[strings.LastIndexByte(link, '/')+1:]
	opens := func(kind domain.Kind, when string) {
		t.Helper()
		shared, content, err := b.OpenShare(ctx, token, "page")
		if kind == domain.Internal {
			want(t, err, kind)
			return
		}
		want(t, err, kind)
		if len(shared.Content) > 0 || shared.PdfKey != "" || content.Vessel.Name != "" {
			t.Errorf("%s the link gives away %+v", when, shared)
		}
	}
	opens(domain.Internal, "")
	told := func(want int, when string) {
		t.Helper()
		if n := value[int](b, `select count(*)::int from mails where kind = 'report opened' and recipient = 'ferrant@post.example'`); n != want {
			t.Errorf("%s the holder of the link was told %d times that it opens, want %d", when, n, want)
		}
	}
	must[practice.Done](t)(b.HoldReports(ctx, office, practice.HoldReports{Mutation: newID(), Job: w.job, Hold: true}))
	opens(domain.Forbidden, "before anything was asked for")
	id := b.invoiced(w.job, 10000)
	opens(domain.Forbidden, "unpaid")
	if m := must[practice.JobMoney](t)(b.JobMoney(ctx, office, w.job)); !m.Held || m.OwesMinor != 12300 {
		t.Errorf("the office is told held %v, owed %d", m.Held, m.OwesMinor)
	}
	if books := must[practice.Books](t)(b.Books(ctx, office, "owed", practice.Page{First: 10})); len(books.Held) != 1 || books.Ages[0].OwedMinor != 12300 {
		t.Errorf("the list tells of %+v, %+v", books.Held, books.Ages)
	}
	credit := must[practice.Done](t)(b.CreditInvoice(ctx, office, practice.CreditInvoice{Mutation: newID(), ID: newID(), Invoice: id, Note: "the wrong boat"}))
	opens(domain.Forbidden, "taken back wholly, after "+credit.Touched[0])
	id = b.invoiced(w.job, 10000)
	pay := practice.RecordPayment{Mutation: newID(), Payment: practice.Payment{ID: newID(), InvoiceID: id, AmountMinor: 12300, PaidOn: b.clock.now()}}
	told(0, "still shut,")
	thrice(t, func(ctx context.Context) (practice.Done, error) { return b.RecordPayment(ctx, office, pay) })
	opens(domain.Internal, "")
	told(1, "paid,")
	if letter := b.letter("ferrant@post.example"); !strings.Contains(letter, "has opened report") || strings.Contains(letter, "paid") || strings.Contains(letter, token) {
		t.Errorf("the letter says %q", letter)
	}
	b.invoiced(w.job, 100)
	opens(domain.Forbidden, "with more to pay")
	_, err = b.HoldReports(ctx, office, practice.HoldReports{Mutation: newID(), Job: w.job})
	want(t, err, domain.Invalid, "because")
	must[practice.Done](t)(b.HoldReports(ctx, office, practice.HoldReports{Mutation: newID(), Job: w.job, Because: "paid by cheque, in the post"}))
	opens(domain.Internal, "")
	told(1, "shut and opened anew,")
	if m := must[practice.JobMoney](t)(b.JobMoney(ctx, office, w.job)); m.Held || m.ReleasedBy != "The office" || m.ReleasedBecause == "" {
		t.Errorf("released it stands %+v", m)
	}
}

func TestTheExportIsSafeInASpreadsheetAndWhole(t *testing.T) {
	t.Parallel()
	b := setup(t)
	ctx, office := t.Context(), b.ours.of[domain.Office]
	job := b.job(b.ours, b.vessel(b.ours, "=cmd|'/c calc'!A1"), false)
	id := newID()
	must[practice.Done](t)(b.DraftInvoice(ctx, office, practice.DraftInvoice{Mutation: newID(), ID: id, Job: job, Kind: "invoice", PayerName: "@sum(1)", Lines: []practice.InvoiceLine{
		{Kind: "work", Text: "Survey, \"whole\"", Hundredths: 100, PriceMinor: 50000, TaxPermille: 230},
		{Kind: "mileage", Text: "+44 km", Hundredths: 4450, Unit: "km", PriceMinor: 55},
		{Kind: "deposit taken off", Text: "-deposit", Hundredths: 100, PriceMinor: -10000, TaxPermille: 230},
	}}))
	must[practice.Done](t)(b.IssueInvoice(ctx, office, practice.IssueInvoice{Mutation: newID(), ID: id, Version: 1}))
	hidden := b.job(b.ours, b.vessel(b.ours, "Kittiwake"), true)
	b.exec(`insert into invoices (practice_id, id, job_id, kind, state, number, currency, dated, due_on, created_at, issued_at) values ($1, $2, $3, 'invoice', 'issued', 'INV-2026-0002', 'EUR', '2026-04-07', '2026-05-07', $4, $4)`,
		b.ours.id, newID(), hidden, b.clock.now())
	var out bytes.Buffer
	day := b.clock.now().Truncate(24 * time.Hour)
	want(t, b.ExportInvoices(ctx, office, day, day, &out), domain.Internal)
	rows, err := csv.NewReader(&out).ReadAll()
	if err != nil || len(rows) != 4 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	column := func(name string) (list []string) {
		k := slices.Index(rows[0], name)
		for _, row := range rows[1:] {
			list = append(list, row[k])
		}
		return list
	}
	for name, want := range map[string][]string{
		"boat": {"'=cmd|'/c calc'!A1", "'=cmd|'/c calc'!A1", "'=cmd|'/c calc'!A1"}, "payer": {"'@sum(1)", "'@sum(1)", "'@sum(1)"}, "text": {"Survey, \"whole\"", "'+44 km", "'-deposit"},
		"net": {"500.00", "24.48", "-100.00"}, "tax": {"115.00", "0.00", "-23.00"}, "quantity": {"1.00", "44.50", "1.00"}, "tax rate %": {"23.0", "0.0", "23.0"},
	} {
		if got := column(name); !slices.Equal(got, want) {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
	if books := must[practice.Books](t)(b.Books(ctx, office, "issued", practice.Page{First: 10})); books.Hidden != 1 || len(books.Invoices) != 1 {
		t.Errorf("%d hidden, %d listed", books.Hidden, len(books.Invoices))
	}
}

func TestDecimal(t *testing.T) {
	t.Parallel()
	for want, c := range map[string]struct {
		minor  int64
		digits int
	}{"0.05": {5, 2}, "-0.05": {-5, 2}, "500": {500, 0}, "-12.345": {-12345, 3}, "1.00": {100, 2}} {
		if got := practice.Decimal(c.minor, c.digits); got != want {
			t.Errorf("%d with %d digits: %s, want %s", c.minor, c.digits, got, want)
		}
	}
}

// Whoever pays gets the invoice by the link to the report, while it is shut too; nobody
// else who holds a link is told that there is one.
func TestAnInvoiceIsOnPaperForWhoeverPays(t *testing.T) {
	t.Parallel()
	b, _, _ := withFiles(t)
	d := b.deliver("Petrel", "A. Ferrant", "ferrant@post.example")
	ctx, office := t.Context(), b.ours.of[domain.Office]
	must[practice.Done](t)(b.HoldReports(ctx, office, practice.HoldReports{Mutation: newID(), Job: d.job, Hold: true}))
	id, draft := b.invoiced(d.job, 10000), b.billed(d.job, 500)
	pdf, number, err := b.InvoicePDF(ctx, office, id, "A4")
	want(t, err, domain.Internal)
	if !bytes.HasPrefix(pdf, []byte("%PDF-1.7")) || number == "" {
		t.Errorf("invoice %q begins with %q", number, pdf[:min(8, len(pdf))])
	}
	_, _, err = b.InvoicePDF(ctx, office, draft, "A4")
	want(t, err, domain.NotFound)
	_, _, err = b.InvoicePDF(ctx, b.ours.of[domain.Trainee], id, "A4")
	want(t, err, domain.Forbidden)

	holder := practice.Holder{Link: d.token}
	list := must[[]practice.Invoice](t)(b.SharedInvoices(ctx, holder))
	if len(list) != 1 || list[0].Number != number || list[0].OwedMinor != 12300 {
		t.Errorf("the client is told of %+v", list)
	}
	must[practice.Done](t)(b.RecordPayment(ctx, office, practice.RecordPayment{Mutation: newID(), Payment: practice.Payment{ID: newID(), InvoiceID: id, AmountMinor: 2300, PaidOn: b.clock.now()}}))
	again := must[[]byte](t)(b.SharedInvoicePDF(ctx, holder, number, "A4"))
	if !bytes.Equal(again, pdf) {
		t.Error("the client’s invoice is other bytes than the practice’s, or a payment changed it")
	}
	if letter := must[[]byte](t)(b.SharedInvoicePDF(ctx, holder, number, "Letter")); bytes.Equal(letter, pdf) {
		t.Error("on another sheet it is the same")
	}
	_, err = b.SharedInvoicePDF(ctx, holder, "INV-1900-0001", "A4")
	want(t, err, domain.NotFound)

	other := newID()
	b.allow(d)
	_, link, err := b.ShareReport(ctx, office, practice.ShareReport{Mutation: newID(), ID: other, Report: d.report, Name: "Skerrow Mutual", Email: "desk@mutual.example", Until: b.clock.now().AddDate(0, 6, 0)})
	want(t, err, domain.Internal)
	insurer := practice.Holder{Link: link[strings.LastIndexByte(link, '/')+1:]}
	if list := must[[]practice.Invoice](t)(b.SharedInvoices(ctx, insurer)); len(list) != 0 {
		t.Errorf("the insurer is told of %+v", list)
	}
	_, err = b.SharedInvoicePDF(ctx, insurer, number, "A4")
	want(t, err, domain.NotFound)
}
