package practice_test

import (
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

var inLetter = regexp.MustCompile(`/([ty])/([A-Za-z0-9_-]{43})(?:(?s:.*)on that page: ([A-Z0-9-]+))?`)

// From a first call to a job: what is missing stops it in words, and the client's word is
// an act, not the opening of a link.
func TestAnEnquiryBecomesAJob(t *testing.T) {
	t.Parallel()
	b := setup(t)
	ctx, office := t.Context(), b.ours.of[domain.Office]
	done := must[practice.Done](t)
	id, terms := newID(), newID()
	_, err := b.AddEnquiry(ctx, office, practice.AddEnquiry{Mutation: newID(), ID: id})
	want(t, err, domain.Invalid, "askedBy")
	done(b.AddEnquiry(ctx, office, practice.AddEnquiry{Mutation: newID(), ID: id, AskedBy: "Ulla Knot", BoatAsWritten: "the white sloop", Kind: "pre-purchase", Scope: "hull and keel"}))
	codes := func() string {
		var list []string
		for _, m := range must[practice.Engagement](t)(b.Engagement(ctx, office, id)).Missing {
			list = append(list, m.Code)
		}
		return strings.Join(list, " ")
	}
	if got := codes(); got != "client vessel conflict quote terms" {
		t.Errorf("missing at first: %s", got)
	}
	version := func() int32 { return value[int32](b, `select version from engagements where id = $1`, id) }
	book := func() error {
		_, err := b.BookEngagement(ctx, office, practice.BookEngagement{Mutation: newID(), Engagement: id, Version: version(), Job: newID()})
		return err
	}
	err = book()
	want(t, err, domain.Conflict)
	if err != nil && !strings.Contains(err.Error(), "The boat is not known yet.") {
		t.Errorf("what is missing is not said: %v", err)
	}

	// She was surveyed for somebody else, her owner is a client, and a restricted job is not told of.
	vessel, buyer, earlier, owner := b.vessel(b.ours, "Kittiwake"), b.party(b.ours, "Ulla Knot"), b.party(b.ours, "Per Tern"), b.party(b.ours, "Ona Skua")
	b.exec(`update jobs set client_id = $2 where id = $1`, b.job(b.ours, vessel, false), earlier)
	b.exec(`update jobs set client_id = $2 where id = $1`, b.job(b.ours, vessel, true), owner)
	b.exec(`update jobs set client_id = $2 where id = $1`, b.job(b.ours, b.vessel(b.ours, "Gannet"), false), owner)
	b.exec(`insert into party_roles (practice_id, id, party_id, vessel_id, role) values ($1, $2, $3, $4, 'owner'), ($1, $5, $6, $4, 'buyer')`, b.ours.id, newID(), owner, vessel, newID(), buyer)
	done(b.EditEngagement(ctx, office, practice.EditEngagement{Mutation: newID(), ID: id, Version: version(), Client: &buyer, Vessel: &vessel}))
	found := must[[]practice.Interest](t)(b.ConflictCheck(ctx, office, id))
	var kinds []string
	for _, f := range found {
		kinds = append(kinds, f.Code)
		if strings.Contains(f.Text, "Ona Skua") && f.Code == "hidden-job" {
			t.Errorf("the restricted job is told of: %s", f.Text)
		}
	}
	if got := strings.Join(kinds, " "); len(found) != 4 || strings.Count(got, "other-client") != 1 || strings.Count(got, "hidden-job") != 1 || strings.Count(got, "party-is-client") != 1 || strings.Count(got, "asks-as-party") != 1 {
		t.Errorf("found %s: %+v", got, found)
	}
	decide := func(decision, note string) error {
		_, err := b.DecideConflict(ctx, office, practice.DecideConflict{Mutation: newID(), Engagement: id, Version: version(), Decision: decision, Note: note})
		return err
	}
	want(t, decide("go on", ""), domain.Invalid, "note")
	want(t, decide("perhaps", "x"), domain.Invalid, "decision")
	want(t, decide("go on", "Per Tern sold her in 2024; the owner was told."), domain.Internal)
	if e := must[practice.Engagement](t)(b.Engagement(ctx, office, id)); len(e.ConflictFound) != 4 || e.ConflictBy == nil || e.ConflictBy.ID != office.Member {
		t.Errorf("what was shown is not kept: %+v", e)
	}

	// The quote, to the minor unit: 3 x 333.33 at 23 % is 76.6659 of tax a line, 76.67 rounded.
	quote := func(lines ...practice.QuoteLine) error {
		_, err := b.SetQuote(ctx, office, practice.SetQuote{Mutation: newID(), Engagement: id, Version: version(), Currency: "EUR", Lines: lines})
		return err
	}
	want(t, quote(), domain.Invalid, "lines")
	want(t, quote(practice.QuoteLine{Text: "Survey", AmountMinor: -1}), domain.Invalid, "lines[0].amountMinor")
	want(t, quote(practice.QuoteLine{Text: "Survey", AmountMinor: 33333, TaxPermille: 230}, practice.QuoteLine{Text: "Report", AmountMinor: 33333, TaxPermille: 230}, practice.QuoteLine{Text: "Travel", AmountMinor: 33333, TaxPermille: 230}), domain.Internal)
	if net, tax := practice.Sums(must[practice.Engagement](t)(b.Engagement(ctx, office, id)).Quote); net != 99999 || tax != 3*7667 {
		t.Errorf("net %d, tax %d", net, tax)
	}

	_, err = b.WriteTerms(ctx, office, practice.WriteTerms{Mutation: newID(), ID: terms, Name: "2026-1", Body: "…"})
	want(t, err, domain.Forbidden)
	done(b.WriteTerms(ctx, b.ours.of[domain.Principal], practice.WriteTerms{Mutation: newID(), ID: terms, Name: "2026-1", Body: "What we look at, and what not."}))
	_, err = b.WriteTerms(ctx, b.ours.of[domain.Principal], practice.WriteTerms{Mutation: newID(), ID: newID(), Name: "2026-1", Body: "Otherwise."})
	want(t, err, domain.Conflict, "name")
	// A request to begin early is made in the practice's own words, or not by this page.
	offer := practice.OfferTerms{Mutation: newID(), ID: newID(), Engagement: id, Terms: terms, Name: "Ulla Knot", Email: "ulla@knot.example", Until: b.clock.now().AddDate(0, 0, 14)}
	bare := offer
	bare.Email = "first@knot.example"
	_, link, code, err := b.OfferTerms(ctx, office, bare)
	want(t, err, domain.Internal)
	_, err = b.AcceptTerms(ctx, link[len(publicURL+"/t/"):], practice.AcceptTerms{Mutation: newID(), Code: code, Name: "Ulla Knot", EarlyStart: true})
	want(t, err, domain.Invalid, "earlyStart")
	done(b.EditMoneySettings(ctx, b.ours.of[domain.Principal], practice.EditMoneySettings{Mutation: newID(), EarlyStartWording: ptr("Begin at once.")}))
	offer.Mutation, offer.ID = newID(), newID()
	_, link, code, err = b.OfferTerms(ctx, office, offer)
	want(t, err, domain.Internal)
	secret := inLetter.FindStringSubmatch(b.letter("ulla@knot.example"))
	if secret == nil || publicURL+"/t/"+secret[2] != link || secret[3] != code {
		t.Fatalf("the letter does not bring link and code: %v", secret)
	}
	for range 3 { // a mail scanner opens it as often as it likes
		if o := must[practice.TermsLink](t)(b.OpenTerms(ctx, secret[2])); o.AcceptedAt != nil || o.Offer.Scope != "hull and keel" || len(o.Offer.Lines) != 3 || o.Offer.TermsBody == "" {
			t.Errorf("opened: %+v", o)
		}
	}
	accept := func(mutation uuid.UUID, code string) error {
		_, err := b.AcceptTerms(ctx, secret[2], practice.AcceptTerms{Mutation: mutation, Code: code, Name: "Ulla Knot", EarlyStart: true})
		return err
	}
	want(t, accept(newID(), "AAAA-AAAA"), domain.Invalid, "code")
	want(t, accept(newID(), ""), domain.Invalid, "code")
	if got := codes(); got != "terms" {
		t.Errorf("missing before the client's word: %s", got)
	}
	same := newID()
	want(t, accept(same, " "+strings.ToLower(strings.ReplaceAll(code, "-", " "))), domain.Internal) // as people type
	want(t, accept(same, code), domain.Conflict)                                                    // other content under the same id
	want(t, accept(newID(), code), domain.Conflict)
	e := must[practice.Engagement](t)(b.Engagement(ctx, office, id))
	if e.TermsVersion != "2026-1" || e.TermsAcceptedBy != "Ulla Knot" || !e.EarlyStart || e.Stage != "accepted" || e.TermsAcceptedAt == nil || !e.TermsAcceptedAt.Equal(b.clock.now()) {
		t.Errorf("accepted: %+v", e)
	}
	want(t, quote(practice.QuoteLine{Text: "More", AmountMinor: 1}), domain.Conflict)
	want(t, book(), domain.Internal)
	want(t, book(), domain.Conflict)
	e = must[practice.Engagement](t)(b.Engagement(ctx, office, id))
	if e.Job == nil || len(e.Missing) != 0 {
		t.Fatalf("booked: %+v", e)
	}
	j := must[practice.JobPage](t)(b.Job(ctx, office, *e.Job))
	var stands []string
	for _, o := range j.Stands {
		stands = append(stands, o.Stops+": "+o.Text)
	}
	if j.Kind != "pre-purchase" || j.Came == nil || j.Came.TermsAcceptedAt == nil || strings.Join(stands, "|") != "visit: Nobody leads the job.|visit: Nobody has been asked yet for leave: boarding and surveying her.|lift: Nobody has been asked yet for leave: lifting her.|scraping: Nobody has been asked yet for leave: scraping coatings.|report: No visit is planned." {
		t.Errorf("between it and its report: %q", stands)
	}
}

func TestACodeIsNotGuessed(t *testing.T) {
	t.Parallel()
	b := setup(t)
	ctx, office := t.Context(), b.ours.of[domain.Office]
	id, terms, vessel, client := newID(), newID(), b.vessel(b.ours, "Kittiwake"), b.party(b.ours, "Ulla Knot")
	done := must[practice.Done](t)
	done(b.AddEnquiry(ctx, office, practice.AddEnquiry{Mutation: newID(), ID: id, Client: &client, Vessel: &vessel, Kind: "insurance"}))
	done(b.DecideConflict(ctx, office, practice.DecideConflict{Mutation: newID(), Engagement: id, Version: 1, Decision: "go on"}))
	done(b.SetQuote(ctx, office, practice.SetQuote{Mutation: newID(), Engagement: id, Version: 2, Lines: []practice.QuoteLine{{Text: "Survey", AmountMinor: 1}}}))
	done(b.WriteTerms(ctx, b.ours.of[domain.Principal], practice.WriteTerms{Mutation: newID(), ID: terms, Name: "1", Body: "x"}))
	offer := func() (token, code string) {
		_, link, code, err := b.OfferTerms(ctx, office, practice.OfferTerms{Mutation: newID(), ID: newID(), Engagement: id, Terms: terms, Name: "U", Email: "u@knot.example", Until: b.clock.now().AddDate(0, 0, 14)})
		want(t, err, domain.Internal)
		return link[strings.LastIndex(link, "/")+1:], code
	}
	accept := func(token, code string) error {
		_, err := b.AcceptTerms(ctx, token, practice.AcceptTerms{Mutation: newID(), Code: code, Name: "U"})
		return err
	}
	old, oldCode := offer()
	token, code := offer()
	want(t, accept(old, oldCode), domain.NotFound) // the newer offer ended it
	want(t, accept(token, oldCode), domain.Invalid, "code")
	for range 9 {
		want(t, accept(token, "WRONG"), domain.Invalid, "code")
	}
	want(t, accept(token, code), domain.Forbidden)
	for name, bad := range map[string]string{"cut": token[:42], "longer": token + "A", "another": strings.Repeat("A", 43), "none": ""} {
		if _, err := b.OpenTerms(ctx, bad); domain.KindOf(err) != domain.NotFound {
			t.Errorf("a token that is %s: %v", name, err)
		}
	}
	token, code = offer()
	b.clock.pass(15 * 24 * time.Hour)
	want(t, accept(token, code), domain.NotFound)
}

// A yard sees its slots by a link, and nothing else of the practice.
func TestAYardSeesItsSlots(t *testing.T) {
	t.Parallel()
	b := setup(t)
	ctx, office := t.Context(), b.ours.of[domain.Office]
	done := must[practice.Done](t)
	s := b.survey(b.ours, "Petrel")
	yard := value[uuid.UUID](b, `select yard_id from spells where id = $1`, s.spell)
	describe := func(change func(*practice.DescribeYard)) error {
		in := practice.DescribeYard{Mutation: newID(), Yard: yard, LiftHours: "8 to 16", Rules: "no work under slings", GateCode: "4711", KeyPlace: "blue box", TideWithinMinutes: 60}
		change(&in)
		_, err := b.DescribeYard(ctx, office, in)
		return err
	}
	want(t, describe(func(*practice.DescribeYard) {}), domain.Internal)
	want(t, describe(func(*practice.DescribeYard) {}), domain.Conflict) // somebody was first
	want(t, describe(func(y *practice.DescribeYard) { y.Version, y.LatitudeE6 = 1, ptr[int32](1) }), domain.Invalid, "longitudeE6")
	want(t, describe(func(y *practice.DescribeYard) {
		y.Version, y.LatitudeE6, y.LongitudeE6 = 1, ptr[int32](90_000_001), ptr[int32](0)
	}), domain.Invalid, "latitudeE6")
	want(t, describe(func(y *practice.DescribeYard) { y.Yard = b.party(b.ours, "Ines Skerry") }), domain.Invalid, "yard")
	wash := at(2)
	done(b.DescribeSlot(ctx, office, practice.DescribeSlot{Mutation: newID(), Spell: s.spell, WashAt: wash, Pays: "the owner", Told: "fin keel, 1.9 m; lift by the marks"}))
	_, err := b.DescribeSlot(ctx, office, practice.DescribeSlot{Mutation: newID(), Spell: s.spell, WashAt: ptr(wash.AddDate(0, -1, 0))})
	want(t, err, domain.Invalid, "washAt")
	y := must[practice.Yard](t)(b.Yard(ctx, office, yard, *at(1), *at(30)))
	if y.GateCode != "4711" || len(y.Slots) != 1 || y.Slots[0].Pays != "the owner" || y.Version != 1 {
		t.Errorf("%+v", y)
	}
	_, err = b.Yard(ctx, b.ours.of[domain.Guest], yard, *at(1), *at(30))
	want(t, err, domain.Forbidden)

	elsewhere := ashore(b.vessel(b.ours, "Gannet"), at(3), at(9))
	elsewhere.Yard = ptr(b.yard(b.ours, "Another yard"))
	done(b.AddSpell(ctx, office, elsewhere))
	over := ashore(b.vessel(b.ours, "Dunlin"), ptr(at(1).AddDate(-1, 0, 0)), ptr(at(9).AddDate(-1, 0, 0)))
	over.Yard = &yard
	done(b.AddSpell(ctx, office, over))
	share := practice.ShareYard{Mutation: newID(), ID: newID(), Yard: yard, Name: "Odo Rask", Email: "odo@rask.example", Until: b.clock.now().AddDate(0, 6, 0)}
	_, link, err := b.ShareYard(ctx, office, share)
	want(t, err, domain.Internal)
	token := link[strings.LastIndex(link, "/")+1:]
	if m := inLetter.FindStringSubmatch(b.letter("odo@rask.example")); m == nil || m[2] != token {
		t.Error("the letter does not bring the link")
	}
	slots := must[practice.YardSlots](t)(b.OpenYard(ctx, token))
	if len(slots.Slots) != 1 || slots.Slots[0].Boat != "Petrel" || !slots.Slots[0].Lifted || !strings.Contains(slots.Slots[0].Told, "lift by the marks") {
		t.Errorf("%+v", slots)
	}
	if n := value[int](b, `select openings from yard_links where id = $1`, share.ID); n != 1 {
		t.Errorf("opened %d times", n)
	}
	done(b.RevokeYardLink(ctx, office, practice.RevokeYardLink{Mutation: newID(), ID: share.ID}))
	_, err = b.OpenYard(ctx, token)
	want(t, err, domain.NotFound)
}

// An engagement that was declined, or that another client stands in for, is accepted by
// nobody, whatever link is still about.
func TestAnOfferEndsWithWhatItWasMadeFor(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		change func(b *bundle, office domain.Actor, id uuid.UUID) error
		link   domain.Kind // what its link opens then
	}{
		"declined for a conflict": {func(b *bundle, office domain.Actor, id uuid.UUID) error {
			_, err := b.DecideConflict(b.t.Context(), office, practice.DecideConflict{Mutation: newID(), Engagement: id, Version: 3, Decision: "decline", Note: "her owner is a client"})
			return err
		}, domain.NotFound},
		"for another client": {func(b *bundle, office domain.Actor, id uuid.UUID) error {
			other := b.party(b.ours, "Per Tern")
			_, err := b.EditEngagement(b.t.Context(), office, practice.EditEngagement{Mutation: newID(), ID: id, Version: 3, Client: &other})
			return err
		}, domain.NotFound},
		"closed beside its link": {func(b *bundle, _ domain.Actor, id uuid.UUID) error {
			b.exec(`update engagements set stage = 'closed' where id = $1`, id)
			return nil
		}, domain.Conflict},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			b := setup(t)
			ctx, office := t.Context(), b.ours.of[domain.Office]
			id, terms, vessel, client := newID(), newID(), b.vessel(b.ours, "Kittiwake"), b.party(b.ours, "Ulla Knot")
			done := must[practice.Done](t)
			done(b.AddEnquiry(ctx, office, practice.AddEnquiry{Mutation: newID(), ID: id, Client: &client, Vessel: &vessel, Kind: "insurance"}))
			done(b.DecideConflict(ctx, office, practice.DecideConflict{Mutation: newID(), Engagement: id, Version: 1, Decision: "go on"}))
			done(b.SetQuote(ctx, office, practice.SetQuote{Mutation: newID(), Engagement: id, Version: 2, Lines: []practice.QuoteLine{{Text: "Survey", AmountMinor: 1}}}))
			done(b.WriteTerms(ctx, b.ours.of[domain.Principal], practice.WriteTerms{Mutation: newID(), ID: terms, Name: "1", Body: "x"}))
			offer := practice.OfferTerms{Mutation: newID(), ID: newID(), Engagement: id, Terms: terms, Name: "U", Email: "u@knot.example", Until: b.clock.now().AddDate(0, 0, 14)}
			_, link, code, err := b.OfferTerms(ctx, office, offer)
			want(t, err, domain.Internal)
			want(t, c.change(b, office, id), domain.Internal)
			before := value[string](b, `select stage from engagements where id = $1`, id)
			_, err = b.AcceptTerms(ctx, link[strings.LastIndex(link, "/")+1:], practice.AcceptTerms{Mutation: newID(), Code: code, Name: "U"})
			want(t, err, c.link)
			if e := must[practice.Engagement](t)(b.Engagement(ctx, office, id)); e.Stage != before || e.TermsAcceptedAt != nil {
				t.Errorf("%s before, it became %s, accepted at %v", before, e.Stage, e.TermsAcceptedAt)
			}
			if before != "quoted" {
				offer.Mutation, offer.ID = newID(), newID()
				_, _, _, err = b.OfferTerms(ctx, office, offer)
				want(t, err, domain.Conflict)
			}
		})
	}
}

// A letter names the day on which its link ends by the practice's clock, which is the one
// that the day was chosen by: in New York a day that ends is another in Greenwich already.
func TestALetterNamesTheDayOfThePractice(t *testing.T) {
	t.Parallel()
	b, _, w := write(t)
	ctx, office := t.Context(), b.ours.of[domain.Office]
	b.exec(`update practices set time_zone = 'America/New_York' where practice_id = $1`, b.ours.id)
	ends := time.Date(2027, 5, 30, 23, 59, 0, 0, practice.Zone("America/New_York"))
	b.issued(w)
	_, _, err := b.ShareReport(ctx, office, practice.ShareReport{Mutation: newID(), ID: newID(), Report: w.report, Name: "A. Ferrant", Email: "report@post.example", Until: ends})
	want(t, err, domain.Internal)
	yard := value[uuid.UUID](b, `select yard_id from spells where id = $1`, w.spell)
	_, _, err = b.ShareYard(ctx, office, practice.ShareYard{Mutation: newID(), ID: newID(), Yard: yard, Name: "Odo Rask", Email: "yard@post.example", Until: ends})
	want(t, err, domain.Internal)
	id, terms, client, vessel := newID(), newID(), b.party(b.ours, "Ulla Knot"), b.vessel(b.ours, "Kittiwake")
	done := must[practice.Done](t)
	done(b.AddEnquiry(ctx, office, practice.AddEnquiry{Mutation: newID(), ID: id, Client: &client, Vessel: &vessel, Kind: "insurance"}))
	done(b.DecideConflict(ctx, office, practice.DecideConflict{Mutation: newID(), Engagement: id, Version: 1, Decision: "go on"}))
	done(b.SetQuote(ctx, office, practice.SetQuote{Mutation: newID(), Engagement: id, Version: 2, Lines: []practice.QuoteLine{{Text: "Survey", AmountMinor: 1}}}))
	done(b.WriteTerms(ctx, b.ours.of[domain.Principal], practice.WriteTerms{Mutation: newID(), ID: terms, Name: "1", Body: "x"}))
	_, _, _, err = b.OfferTerms(ctx, office, practice.OfferTerms{Mutation: newID(), ID: newID(), Engagement: id, Terms: terms, Name: "U", Email: "terms@post.example", Until: ends})
	want(t, err, domain.Internal)
	for _, to := range []string{"report", "yard", "terms"} {
		if letter := b.letter(to + "@post.example"); !strings.Contains(letter, "holds until 30 May 2027") {
			t.Errorf("the letter of the %s says\n%s", to, letter)
		}
	}
}
