package render

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
	"time"

	"boottop.example/practice/domain/report/render/internal/matterhorn"
)

// bills are invoices as they come: one with every kind of line, a credit note, one over
// three pages in a currency without minor units, and one in letters of other alphabets.
func bills() map[string]Invoice {
	day := time.Date(2026, 10, 14, 0, 0, 0, 0, time.UTC)
	due := day.AddDate(0, 0, 30)
	plain := Invoice{
		Kind: "invoice", Number: "INV-2026-0007", Dated: day, DueOn: &due, Practice: "Ebbstone Practice", Address: "4 Salt Stair\nPort Skerrow", Reach: "+00 20 5550 100\noffice@ebbstone.example",
		Payer: "A. Ferrant", PayerAt: "2 Limpet Row\nPort Skerrow", Boat: "Tamsel", Job: "2026-117", Currency: "EUR", Digits: 2, Foot: "Account 000 0000 00, bank of the harbour\nTax number 00 000 000", Invented: true, At: day.Add(9 * time.Hour),
		Lines: []InvoiceLine{
			{Text: "Survey of the underbody, two visits, with readings by two instruments and a report", Quantity: "1", PriceMinor: 123450, TaxPermille: 230, NetMinor: 123450, TaxMinor: 28394},
			{Text: "Mileage", Quantity: "84.5 km", PriceMinor: 45, TaxPermille: 230, NetMinor: 3803, TaxMinor: 875},
			{Text: "Lift, paid for the owner", Quantity: "1", PriceMinor: 21000, TaxPermille: 0, NetMinor: 21000, TaxMinor: 0},
			{Text: "Reading of an old report", Quantity: "1.5 h", PriceMinor: 8000, TaxPermille: 135, NetMinor: 12000, TaxMinor: 1620},
			{Text: "Deposit INV-2026-0003, taken off", Quantity: "1", PriceMinor: -50000, TaxPermille: 230, NetMinor: -50000, TaxMinor: -11500},
		},
		Note: "With thanks. The report stays shut to links until this is paid.",
	}
	credit := plain
	credit.Kind, credit.Number, credit.Credits, credit.DueOn, credit.Note = "credit note", "INV-2026-0008", "INV-2026-0007", nil, "The second visit was not needed."
	credit.Lines = []InvoiceLine{{Text: "Second visit", Quantity: "1", PriceMinor: -30000, TaxPermille: 230, NetMinor: -30000, TaxMinor: -6900}}
	long := plain
	long.Number, long.Currency, long.Digits, long.Lines = "INV-2026-0009", "JPY", 0, nil
	for k := range 70 {
		long.Lines = append(long.Lines, InvoiceLine{Text: fmt.Sprintf("Visit %d of a drying hull, with the air and the floor that it sets", k+1), Quantity: "1", PriceMinor: 12500, TaxPermille: 100, NetMinor: 12500, TaxMinor: 1250})
	}
	other := plain
	other.Number, other.Payer, other.PayerAt, other.Boat = "INV-2026-0010", "Żółw Łódź Łukasz Ærø-Ñandú", "Σκάφος 7, Πειραιάς", "Čajka & Ščur"
	return map[string]Invoice{"invoice": plain, "invoice-credit": credit, "invoice-long": long, "invoice-letters": other}
}

func makeBill(t *testing.T, i Invoice, p Paper) []byte {
	t.Helper()
	b, err := InvoicePDF(i, Options{Paper: p})
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func TestInvoicesAreTaggedAndAlwaysTheSame(t *testing.T) {
	t.Parallel()
	for name, i := range bills() {
		for _, p := range []Paper{A4, Letter} {
			t.Run(name+"-"+string(p), func(t *testing.T) {
				t.Parallel()
				pdf := makeBill(t, i, p)
				faults, err := matterhorn.Check(pdf)
				if err != nil {
					t.Fatal(err)
				}
				for _, f := range faults {
					t.Error(f)
				}
				if !bytes.Equal(pdf, makeBill(t, i, p)) {
					t.Error("set twice, the bytes differ")
				}
				if out := run(t, "qpdf", "--check", onDisk(t, pdf)); !strings.Contains(out, "No syntax or stream encoding errors") {
					t.Error(out)
				}
			})
		}
	}
}

func TestInvoicesSayWhatTheyMustInOrder(t *testing.T) {
	t.Parallel()
	for name, want := range map[string][]string{
		// 1234.50 + 38.03 + 210.00 + 120.00 − 500.00 = 1102.53 before tax; 23 % of 772.53 is 177.69
		// (line by line: 283.94 + 8.75 − 115.00), 13.5 % of 120.00 is 16.20; by hand.
		"invoice": {
			"Invoice INV-2026-0007", "Ebbstone Practice", "4 Salt Stair", "A. Ferrant", "2 Limpet Row", "14 October 2026", "13 November 2026", "Tamsel", "2026-117",
			"Survey of the underbody", "1,234.50", "23 %", "84.5 km", "0 %", "13.5 %", "−500.00", "Before tax", "1,102.53", "23 % of 772.53", "177.69", "0 % of 210.00", "0.00", "13.5 % of 120.00", "16.20", "To pay", "1,296.42",
			"With thanks.", "Account 000", "Tax number", "An invented practice",
		},
		"invoice-credit": {"Credit note INV-2026-0008", "takes back", "INV-2026-0007", "Second visit", "−300.00", "23 % of −300.00", "−69.00", "Taken back", "−369.00", "not needed"},
		"invoice-long":   {"Visit 1 of", "Visit 70 of", "875,000", "10 % of 875,000", "87,500", "962,500"},
	} {
		text := run(t, "pdftotext", "-raw", onDisk(t, makeBill(t, bills()[name], A4)), "-")
		at := 0
		for _, w := range want {
			k := strings.Index(text[at:], w)
			if k < 0 {
				t.Fatalf("%s: %q does not follow in\n%s", name, w, text)
			}
			at += k
		}
	}
	if out := run(t, "pdffonts", onDisk(t, makeBill(t, bills()["invoice-letters"], A4))); strings.Contains(out, " no ") && !strings.Contains(out, "yes yes") {
		t.Errorf("fonts are not embedded:\n%s", out)
	}
}

// Amounts of every currency stand as its minor units say.
func TestMinorUnitsAreWrittenOut(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		minor  int64
		digits int
		want   string
	}{
		{0, 2, "0.00"}, {5, 2, "0.05"}, {-5, 2, "−0.05"}, {100, 2, "1.00"}, {123456789, 2, "1,234,567.89"}, {-100000, 0, "−100,000"}, {1234, 3, "1.234"}, {999, 0, "999"}, {1000, 0, "1,000"},
	} {
		if got := (Invoice{Digits: c.digits}).sum(c.minor); got != c.want {
			t.Errorf("%d with %d digits: %s, want %s", c.minor, c.digits, got, c.want)
		}
	}
}

func TestPicturesOfInvoices(t *testing.T) {
	t.Parallel()
	tool(t, "pdftoppm")
	for _, name := range []string{"invoice", "invoice-credit", "invoice-long"} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			pdf := makeBill(t, bills()[name], A4)
			goldenPicture(t, name, pictures(t, pdf, false))
			goldenPicture(t, name+".grey", pictures(t, pdf, true))
		})
	}
}
