package demo

import (
	"context"
	"fmt"
	"math"
	"time"

	"boottop.example/practice/domain/practice"
)

// autumn is what the diary knows beside boats and visits: yards, high waters, who is away,
// what each does, the practice's terms, and who has asked for a survey.
func (l *loader) autumn(b *book) {
	at := l.founded().Add(2 * time.Hour)
	l.schedules(b)
	b.at(at, "what is known of the yards", func(ctx context.Context) error { return l.describeYards(ctx, at) })
	b.at(at, "what each does", func(ctx context.Context) error { return l.competences(ctx, at) })
	terms := l.on(-400, "11:00")
	b.at(terms, "the practice's terms", func(ctx context.Context) error {
		return done(l.WriteTerms(ctx, l.head("ebbstone"), practice.WriteTerms{
			Mutation: mutation(terms, "terms"), ID: id(terms, "terms"), Name: "Third wording",
			Body: "We look at what can be seen and reached on the day, and say what could not be. Nothing is opened without leave. The report is for you alone until you say otherwise in writing.\n\nAn invented practice: a demonstration.",
		}))
	})
	l.wordings(b)
	tides := l.on(-30, "09:10")
	b.at(tides, "high waters at Port Skerrow", func(ctx context.Context) error { return l.tides(ctx, tides) })
	l.weather(b)
	away := l.on(-12, "09:20")
	for k, leave := range []struct {
		who, reason string
		from, to    int
	}{{"quillan", "a week inland", 13, 20}, {"maddern", "a course on sounding", 6, 8}, {"trainee", "examinations", 3, 5}} {
		b.at(away, leave.who+" is away", func(ctx context.Context) error {
			return done(l.AddLeave(ctx, l.as("office"), practice.AddLeave{Mutation: mutation(away, "leave", fmt.Sprint(k)), Leave: practice.Leave{
				ID: id(away, "leave", fmt.Sprint(k)), MemberID: l.as(leave.who).Member, From: l.on(leave.from, "00:00"), To: l.on(leave.to, "00:00"), Reason: leave.reason,
			}}))
		})
	}
	l.enquiries(b)
}

// wordings are the sections that the practice proposes for a new report, in its own words.
func (l *loader) wordings(b *book) {
	at := l.on(-21, "10:00")
	for k, w := range []practice.KeepWording{
		{Title: "How she lay", Body: "{vessel} was looked at on {date}, as she lay."},
		{Title: "What readings are", Kinds: []string{"limited moisture", "pre-purchase", "insurance"}, Body: "A reading is a number on the instrument’s own scale. It is set beside this hull’s own dry places of the same day, and beside nothing else."},
		{Title: "What was not asked", Kinds: []string{"limited moisture"}, Body: "Engine, rig, electrics and gas were not part of this survey and were not looked at."},
	} {
		b.at(at, "wording: "+w.Title, func(ctx context.Context) error {
			w.Mutation, w.ID, w.Position = mutation(at, "wording", w.Title), id(at, "wording", w.Title), int32(k+1)
			return done(l.KeepWording(ctx, l.head("ebbstone"), w))
		})
	}
}

// degrees puts the invented harbour on a chart, out at sea where no harbour is.
func degrees(d float64) *int32 {
	e6 := int32(math.Round(d * 1e6))
	return &e6
}

func (l *loader) describeYards(ctx context.Context, at time.Time) error {
	for _, y := range []practice.DescribeYard{
		{Yard: *l.party("tarrow"), LiftHours: "Monday to Thursday, 7 to 17", Rules: "Nobody under a boat in the slings. Props are moved by the yard alone.", KeyPlace: "Hook in the hoist shed", GateCode: "2607", LatitudeE6: degrees(51.9012), LongitudeE6: degrees(-11.402), TidePlace: "Port Skerrow", TideWithinMinutes: 120},
		{Yard: *l.party("hallow"), LiftHours: "Every working day, 8 to 16", Rules: "Shed heat off the night before, on request by noon.", KeyPlace: "Office, top drawer", GateCode: "4410", LatitudeE6: degrees(52.087), LongitudeE6: degrees(-11.261), TideWithinMinutes: 120},
	} {
		y.Mutation = mutation(at, "yard", y.GateCode)
		if err := done(l.DescribeYard(ctx, l.as("office"), y)); err != nil {
			return err
		}
	}
	return nil
}

func (l *loader) competences(ctx context.Context, at time.Time) error {
	for _, m := range []struct {
		who   string
		kinds []string
	}{
		{"maddern", []string{"pre-purchase", "insurance", "limited moisture", "repair supervision", "completion", "warranty", "damage"}},
		{"quillan", []string{"pre-purchase", "insurance", "limited moisture", "valuation", "warranty"}},
	} {
		err := done(l.SetCompetences(ctx, l.head("ebbstone"), practice.SetCompetences{Mutation: mutation(at, "competences", m.who), Member: l.as(m.who).Member, Kinds: m.kinds}))
		if err != nil {
			return err
		}
	}
	return nil
}

// tides makes up two months of high waters: 12 h 25 min apart, higher and lower by the
// fortnight. The harbour is invented and so are they.
func (l *loader) tides(ctx context.Context, at time.Time) error {
	in := practice.AddTides{Mutation: mutation(at, "tides"), Place: "Port Skerrow", Source: "made up for the demonstration"}
	for t := l.on(-30, "03:40"); t.Before(l.on(60, "00:00")); t = t.Add(12*time.Hour + 25*time.Minute) {
		days := t.Sub(l.today).Hours() / 24
		in.Times = append(in.Times, t)
		in.HeightsMm = append(in.HeightsMm, int32(4100+600*math.Cos(2*math.Pi*days/14.77)))
	}
	return done(l.AddTides(ctx, l.as("office"), in))
}

// weather is what two yards wrote down each morning of three weeks. The rain fell long
// enough ago that no visit which is still to come waits for it.
func (l *loader) weather(b *book) {
	for k, w := range []struct {
		days           int
		rain, air, wet int16 // mm, tenths of a degree, parts in a thousand
	}{
		{-24, 9, 82, 930},
		{-23, 14, 91, 950},
		{-22, 2, 78, 900},
		{-20, 0, 64, 840},
		{-18, 0, 52, 810},
		{-16, 6, 88, 920},
		{-15, 11, 95, 940},
		{-14, 1, 71, 880},
		{-12, 0, 49, 800},
		{-10, 0, 43, 790},
		{-8, 0, 57, 820},
		{-6, 0, 61, 830},
		{-4, 0, 38, 780},
		{-2, 0, 46, 800},
		{-1, 0, 54, 815},
	} {
		at := l.on(w.days, "08:40")
		for n, y := range []struct{ place, source string }{{"Tarrow Slip", "the yard’s rain gauge, read at eight"}, {"Hallow Quay", "the shed’s gauge and a glass at its door"}} {
			rain, air, wet := w.rain, w.air+int16(4*n), w.wet-int16(15*n) // the quay lies in the lee
			b.at(at, "weather at "+y.place, func(ctx context.Context) error {
				name := fmt.Sprint(k, n)
				return done(l.RecordWeather(ctx, l.as("office"), practice.RecordWeather{
					Mutation: mutation(at, "weather", name), ID: id(at, "weather", name), Place: y.place, At: l.on(w.days, "08:00"),
					RainMm: &rain, AirDecidegrees: &air, HumidityPermille: &wet, Source: y.source,
				}))
			})
		}
	}
}

// enquiries are those who asked of late: one just now, one quoted, one looked at.
func (l *loader) enquiries(b *book) {
	for k, e := range []struct {
		days  int
		in    practice.AddEnquiry
		quote []practice.QuoteLine
	}{
		{-1, practice.AddEnquiry{AskedBy: "A caller, by telephone", Contact: "+00 20 5550 291", BoatAsWritten: "ten-metre sloop, blue, on the hard at Tarrow", AskedBecause: "Wants to buy her before the winter.", Kind: "pre-purchase"}, nil},
		{-4, practice.AddEnquiry{Client: l.party("oake"), BoatAsWritten: "the motor boat beside his own", AskedBecause: "His insurer asks for a survey by spring.", Kind: "insurance", Scope: "Condition for the underwriter."}, []practice.QuoteLine{{Text: "Survey ashore, half a day", AmountMinor: 42000, TaxPermille: 230}, {Text: "Report", AmountMinor: 18000, TaxPermille: 230}}},
		{-9, practice.AddEnquiry{Client: l.party("harrack"), BoatAsWritten: "her old ketch, somewhere up the coast", AskedBecause: "Blisters seen at the last scrub.", Kind: "limited moisture", Scope: "Underbody only."}, []practice.QuoteLine{{Text: "Two visits, wet and dry", AmountMinor: 55000, TaxPermille: 230}}},
	} {
		at, name := l.on(e.days, "10:40"), fmt.Sprint(k)
		b.at(at, "an enquiry", func(ctx context.Context) error {
			e.in.Mutation, e.in.ID = mutation(at, "enquiry", name), id(at, "enquiry", name)
			if err := done(l.AddEnquiry(ctx, l.as("office"), e.in)); err != nil || e.quote == nil {
				return err
			}
			return done(l.SetQuote(ctx, l.as("office"), practice.SetQuote{Mutation: mutation(at, "quote", name), Engagement: e.in.ID, Version: 1, Lines: e.quote}))
		})
	}
}
