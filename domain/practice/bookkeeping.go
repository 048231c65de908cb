package practice

import (
	"context"
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// exportPage is how many invoices of an export are read at a time.
const exportPage = 500

// exportHead names the columns of an export, one row a line of an invoice.
var exportHead = []string{
	"number", "kind", "dated", "due", "job", "boat", "payer", "currency", "line", "line kind", "text", "quantity", "unit", "price", "net", "tax rate %", "tax", "total",
	"credits", "invoice paid", "last paid",
}

// ExportInvoices writes the issued invoices dated within two days, a row a line, as CSV (RFC
// 4180). It is written as it is read, a few hundred at a time, so that ten years cost no
// more memory than a month.
func (s *Service) ExportInvoices(ctx context.Context, a domain.Actor, from, to time.Time, w io.Writer) error {
	if err := domain.May(a, domain.ReadMoney); err != nil {
		return err
	}
	if from.IsZero() || to.Before(from) {
		return domain.Invalidf("to", "Give the first day and the last; the period ends after it begins.")
	}
	out := csv.NewWriter(w)
	out.UseCRLF = true
	var after time.Time
	var last uuid.UUID
	for page := 0; ; page++ {
		list, err := s.store.InvoicesBetween(ctx, a.Practice, from, to, after, last, exportPage, sees(a))
		if err != nil {
			return err
		}
		if page == 0 { // not before the first page is there: a refusal can still be said
			_ = out.Write(exportHead)
		}
		for _, i := range list {
			for k, l := range i.Lines {
				_ = out.Write(exported(i, k, l))
			}
		}
		if out.Flush(); out.Error() != nil {
			return fmt.Errorf("write export: %w", out.Error())
		}
		if len(list) < exportPage {
			return nil
		}
		after, last = *list[len(list)-1].IssuedAt, list[len(list)-1].ID
	}
}

// exported is one line as a row. Texts are guarded; numbers stay numbers.
func exported(i Invoice, k int, l InvoiceLine) []string {
	sum := func(minor int64) string { return Decimal(minor, MinorDigits(i.Currency)) }
	return []string{
		guard(i.Number), i.Kind, dayText(i.Dated), dayText(i.DueOn), guard(i.JobNumber), guard(i.VesselName), guard(i.PayerName), i.Currency, strconv.Itoa(k + 1), l.Kind,
		guard(l.Text), Decimal(l.Hundredths, 2), guard(l.Unit), sum(l.PriceMinor), sum(l.NetMinor), Decimal(int64(l.TaxPermille), 1), sum(l.TaxMinor), sum(l.NetMinor + l.TaxMinor),
		guard(i.CreditsNumber), sum(i.PaidMinor), dayText(i.PaidOn),
	}
}

func dayText(t *time.Time) string {
	if t == nil {
		return ""
	}
	return t.Format(time.DateOnly)
}

// guard keeps a spreadsheet from taking a text for a formula: what begins like one gets an
// apostrophe in front. Promises, bad inputs 79.
func guard(text string) string {
	if text != "" && strings.ContainsRune("=+-@\t\r\n|", rune(text[0])) {
		return "'" + text
	}
	return text
}

// Decimal writes whole minor units as a decimal number, without grouping.
func Decimal(minor int64, digits int) string {
	sign := ""
	if minor < 0 {
		sign, minor = "-", -minor
	}
	text := strconv.FormatInt(minor, 10)
	if digits == 0 {
		return sign + text
	}
	if len(text) <= digits {
		text = strings.Repeat("0", digits+1-len(text)) + text
	}
	return sign + text[:len(text)-digits] + "." + text[len(text)-digits:]
}

// minorDigits are the currencies of ISO 4217 whose minor unit is no hundredth; from memory,
// and held against the figures of another library in web/src/model/bill.test.ts.
var minorDigits = map[string]int{
	"BIF": 0, "CLP": 0, "DJF": 0, "GNF": 0, "ISK": 0, "JPY": 0, "KMF": 0, "KRW": 0, "PYG": 0, "RWF": 0, "UGX": 0, "VND": 0, "VUV": 0, "XAF": 0, "XOF": 0, "XPF": 0,
	"BHD": 3, "JOD": 3, "KWD": 3, "LYD": 3, "OMR": 3, "TND": 3, "CLF": 4,
}

// MinorDigits is how many decimal places a currency's minor units make.
func MinorDigits(currency string) int {
	if n, other := minorDigits[currency]; other {
		return n
	}
	return 2
}
