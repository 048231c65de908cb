package inference

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/cmd/proof/ground"
	"boottop.example/practice/domain"
	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/simulate"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store"
)

// world is one worker's way into the service.
type world struct {
	*practice.Service
	store *store.Store
	owner *pgx.Conn
	now   time.Time
}

func open(ctx context.Context, db *ground.Database) (*world, error) {
	s, err := store.Open(ctx, store.Config{URL: db.AppURL, MaxConns: 2})
	if err != nil {
		return nil, err
	}
	owner, err := pgx.Connect(ctx, db.OwnerURL)
	if err != nil {
		s.Close()
		return nil, err
	}
	w := &world{store: s, owner: owner, now: began}
	w.Service = practice.New(s, practice.WithClock(func() time.Time { return w.now }))
	return w, nil
}

func (w *world) close() {
	w.store.Close()
	_ = w.owner.Close(context.Background())
}

// boat is a hull of a practice of her own, so that what one practice measured of itself
// helps no other.
type boat struct {
	*world
	hand                                          domain.Actor
	vessel, element, plan, instrument, scale, job uuid.UUID
	shallow, shallowScale                         uuid.UUID
	places                                        []simulate.Place
}

// boat founds a practice with one surveyor and one instrument, and lays the hull out.
func (w *world) boat(ctx context.Context, h simulate.Hull) (*boat, error) {
	b := &boat{world: w, places: h.Places}
	for _, id := range []*uuid.UUID{&b.vessel, &b.element, &b.plan, &b.instrument, &b.scale, &b.job} {
		*id = ground.NewID()
	}
	w.now = began
	if err := b.practise(ctx); err != nil {
		return nil, err
	}
	for _, step := range []func(context.Context) error{b.instruments, b.hull, b.grid, b.booked} {
		if err := step(ctx); err != nil {
			return nil, err
		}
	}
	return b, nil
}

// booked opens the job that all visits belong to, with leave for whatever a check needs.
func (b *boat) booked(ctx context.Context) error {
	job := practice.AddJob{Mutation: ground.NewID(), ID: b.job, Vessel: b.vessel, Kind: "limited moisture", Lead: &b.hand.Member, Cite: "this client only"}
	if err := done(b.AddJob(ctx, b.hand, job)); err != nil {
		return err
	}
	given := b.now.AddDate(0, 0, -1)
	for _, what := range []string{"board and survey", "scrape", "open blisters", "drill or core", "lift soles"} {
		leave := practice.Permission{ID: ground.NewID(), JobID: b.job, What: what, GivenOn: &given, GivenByName: "the owner"}
		if err := done(b.RecordPermission(ctx, b.hand, practice.RecordPermission{Mutation: ground.NewID(), Permission: leave})); err != nil {
			return err
		}
	}
	return nil
}

func done(_ practice.Done, err error) error { return err }

func (b *boat) practise(ctx context.Context) error {
	home, member := ground.NewID(), ground.NewID()
	door := b.store.Door()
	if err := door.CreatePractice(ctx, home, "A practice of the proofs", "Etc/UTC", "EUR", true, b.now); err != nil {
		return err
	}
	account, err := door.CreateAccount(ctx, ground.NewID(), member.String()+"@proofs.example", "no password opens this", b.now)
	if err != nil {
		return err
	}
	_, err = b.owner.Exec(ctx, `insert into members (practice_id, id, account_id, name, email, roles) values ($1, $2, $3, 'A hand', '', '{principal,surveyor}')`, home, member, account)
	b.hand = domain.Actor{Practice: home, Member: member, Means: domain.BySession, Roles: []domain.Role{domain.Principal, domain.Surveyor}}
	return err
}

func (b *boat) instruments(ctx context.Context) error {
	return errors.Join(
		done(b.AddInstrument(ctx, b.hand, practice.AddInstrument{Mutation: ground.NewID(), Instrument: practice.Instrument{
			ID: b.instrument, Name: "Deep", Model: "Of the proofs", Serial: "1", Kind: "capacitance", Sensing: "deep",
		}})),
		done(b.AddScale(ctx, b.hand, practice.AddScale{Mutation: ground.NewID(), Scale: practice.Scale{
			ID: b.scale, Instrument: b.instrument, Name: "A", LowTenths: 0, HighTenths: 1000, StepTenths: 10,
		}})),
	)
}

func (b *boat) hull(ctx context.Context) error {
	bootTop := int32(40)
	return errors.Join(
		done(b.AddVessel(ctx, b.hand, practice.AddVessel{Mutation: ground.NewID(), Vessel: practice.Vessel{ID: b.vessel, Name: "A hull"}})),
		done(b.AddElement(ctx, b.hand, practice.AddElement{Mutation: ground.NewID(), Element: practice.Element{ID: b.element, VesselID: b.vessel, Kind: "hull", BootTopMm: &bootTop}})),
	)
}

var sides = map[simulate.Side]string{simulate.Port: "port", simulate.Starboard: "starboard", simulate.Centre: "centre"}

func (b *boat) grid(ctx context.Context) error {
	in := practice.AddPlaces{Mutation: ground.NewID(), Element: b.element, BesideOld: true}
	plan := practice.AddPlan{Mutation: ground.NewID(), ID: b.plan, Vessel: b.vessel}
	for k, p := range b.places {
		station, row := int32(p.Along/1000)+1, int32(p.Down/400)+1
		in.IDs, in.Sides = append(in.IDs, ground.NewID()), append(in.Sides, sides[p.Side])
		in.Labels = append(in.Labels, fmt.Sprintf("%d/%d", station, k))
		in.Along, in.Down = append(in.Along, int32(p.Along)), append(in.Down, int32(p.Down))
		in.Stations, in.Rows = append(in.Stations, station), append(in.Rows, row)
		plan.Places = append(plan.Places, int32(k+1))
		if p.Dry {
			plan.Dry = append(plan.Dry, int32(k+1))
		}
	}
	return errors.Join(done(b.AddPlaces(ctx, b.hand, in)), done(b.AddPlan(ctx, b.hand, plan)))
}

// enter writes a sheet as its surveyor would: a visit four weeks after a lift, or on the
// day of the pass before it, with all its context.
func (b *boat) enter(ctx context.Context, s simulate.Sheet) error {
	at := s.Pass.At
	visit, err := b.visit(ctx, at)
	if err != nil {
		return err
	}
	pass := ground.NewID()
	yes, wash := true, int16(600)
	in := practice.OpenPass{
		Mutation: ground.NewID(), ID: pass, Visit: visit, Element: b.element, Plan: b.plan, Hand: &b.hand.Member, Instrument: &b.instrument, Scale: &b.scale,
		Face: "outside", Surface: "antifouling", DrySurface: "bare gelcoat", HoursSinceWash: &wash, Rain: "none", SaltWiped: &yes, Source: "metered", BeganAt: at,
	}
	if err := done(b.OpenPass(ctx, b.hand, in)); err != nil {
		return err
	}
	if err := errors.Join(b.blocks(ctx, pass, s), b.read(ctx, pass, s)); err != nil {
		return err
	}
	return done(b.ClosePass(ctx, b.hand, practice.ClosePass{Mutation: ground.NewID(), ID: pass, Version: 1, At: at.Add(3 * time.Hour)}))
}

// visit plans one, on a spell of its own unless she is ashore at that time.
func (b *boat) visit(ctx context.Context, at time.Time) (uuid.UUID, error) {
	b.now = at.Add(4 * time.Hour)
	lift, launch := at.AddDate(0, 0, -28), at.AddDate(0, 0, 60)
	spell, visit := ground.NewID(), ground.NewID()
	var ashore []uuid.UUID
	rows, err := b.owner.Query(ctx, `select id from spells where practice_id = $1 and vessel_id = $2 and during @> $3::timestamptz`, b.hand.Practice, b.vessel, at)
	if err == nil {
		ashore, err = pgx.CollectRows(rows, pgx.RowTo[uuid.UUID])
	}
	if err != nil {
		return visit, err
	}
	if len(ashore) > 0 {
		spell = ashore[0]
	} else if err := done(b.AddSpell(ctx, b.hand, practice.AddSpell{
		Mutation: ground.NewID(), ID: spell, Vessel: b.vessel, TimeZone: "Etc/UTC", ActualLift: &lift, ActualLaunch: &launch, DatePrecision: "instant",
	})); err != nil {
		return visit, err
	}
	err = done(b.PlanVisit(ctx, b.hand, practice.PlanVisit{
		Mutation: ground.NewID(), ID: visit, Job: b.job, Spell: &spell, Kind: "meter visit", TimeZone: "Etc/UTC", From: at.Add(-time.Hour), To: at.Add(4 * time.Hour),
		Lead: &b.hand.Member,
	}))
	if err != nil {
		return visit, err
	}
	air, damp, skin := int16(180), int16(600), int16(180)
	return visit, done(b.RecordCondition(ctx, b.hand, practice.RecordCondition{Mutation: ground.NewID(), Condition: practice.Condition{
		ID: ground.NewID(), VisitID: visit, At: at, AirDecidegrees: &air, HumidityPermille: &damp, SkinPortDecidegrees: &skin, SkinStarboardDecidegrees: &skin,
	}}))
}

var moments = map[simulate.When]string{simulate.Before: "before", simulate.Midway: "midway", simulate.After: "after"}

func (b *boat) blocks(ctx context.Context, pass uuid.UUID, s simulate.Sheet) error {
	for _, x := range s.Blocks {
		for block, p := range map[string]simulate.Placement{"low": x.Low, "high": x.High} {
			check := practice.BlockCheck{ID: ground.NewID(), PassID: pass, Block: block, Moment: moments[x.When], ValueTenths: p.Tenths, At: s.Pass.At.Add(time.Duration(x.When) * time.Hour)}
			if err := done(b.RecordBlockCheck(ctx, b.hand, practice.RecordBlockCheck{Mutation: ground.NewID(), Check: check})); err != nil {
				return err
			}
		}
	}
	return nil
}

func (b *boat) read(ctx context.Context, pass uuid.UUID, s simulate.Sheet) error {
	in := practice.AddReadings{Mutation: ground.NewID(), Pass: pass}
	var gaps []int32
	var marks []uuid.UUID
	for k, r := range s.Read {
		v, ok := r.Median()
		if !ok {
			gaps, marks = append(gaps, int32(r.Place+1)), append(marks, ground.NewID())
			continue
		}
		in.IDs, in.Ordinals, in.Occasions = append(in.IDs, ground.NewID()), append(in.Ordinals, int32(r.Place+1)), append(in.Occasions, int32(r.Occasion))
		in.TakenAt = append(in.TakenAt, s.Pass.At.Add(time.Duration(k)*time.Minute))
		placements, written := taken(r, v)
		in.Placements, in.Written = append(in.Placements, placements), append(in.Written, written)
	}
	if err := done(b.AddReadings(ctx, b.hand, in)); err != nil || len(gaps) == 0 {
		return err
	}
	return done(b.MarkNotReached(ctx, b.hand, practice.MarkNotReached{Mutation: ground.NewID(), Pass: pass, IDs: marks, Ordinals: gaps, Reason: "prop pad"}))
}

// taken gives the placements, or the end of the scale that the median met.
func taken(r simulate.Reading, v measure.Value) ([]int16, string) {
	switch v.Limit {
	case measure.Above:
		return nil, ">"
	case measure.Below:
		return nil, "<"
	case measure.Range:
		return nil, fmt.Sprintf("%g-%g", v.Low.Units(), v.High.Units())
	}
	out := make([]int16, len(r.Placements))
	for k, p := range r.Placements {
		out[k] = int16(p.Tenths)
	}
	return out, ""
}

// gate reads the history and gives what is said of the newest pass beside the visit before it.
func (b *boat) gate(ctx context.Context) (*practice.Gate, error) {
	h, err := b.History(ctx, b.hand, b.vessel, nil)
	if err != nil {
		return nil, err
	}
	return h.Passes[len(h.Passes)-2].Gate, nil
}
