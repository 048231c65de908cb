// Package demo fills a database with an invented harbour: two practices, their people and
// boats, and ten years of what was read on them. Everything is written through the use
// cases of domain/practice, at the clock of the day it happens on, so that the record of
// changes tells the years in their order. The same day of loading gives the same scenario;
// loading twice changes nothing.
package demo

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store"
	"boottop.example/practice/store/picture"
)

// Config is what a load works with.
type Config struct {
	Store     *store.Store
	Objects   practice.Objects // nil: reports are frozen and not made, photos left out
	PublicURL string
	Now       time.Time         // whose day is the scenario's today; zero: the present
	Progress  func(text string) // what is being done; nil: nobody listens
}

// Result is what a person needs to use the scenario.
type Result struct {
	APIKey  string // of the first practice's principal; empty where an earlier load gave it out
	SignIns []SignIn
	Client  SignIn // keeps the reports of two boats in an account
}

// SignIn is one invented member who can sign in.
type SignIn struct {
	Practice string
	Role     string
	Email    string
	Password string
}

// harbourZone is the zone that the invented harbour borrows.
const harbourZone = "Europe/Dublin"

// Load writes the scenario. Every change has an id of its own that is the same each time,
// so a load that was cut short is finished by the next.
func Load(ctx context.Context, config Config) (Result, error) {
	l, err := begin(ctx, config)
	if err != nil {
		return Result{}, err
	}
	l.introduce()
	people := make(chan error, 1) // hashing passwords takes as long as simulating hulls
	go func() { people <- l.people(ctx) }()
	book, err := l.story()
	if err := errors.Join(<-people, err); err != nil {
		return Result{}, fmt.Errorf("demo: %w", err)
	}
	if err := l.run(ctx, book); err != nil {
		return Result{}, err
	}
	return l.result(ctx)
}

// loader writes for one scenario. Its clock is set to the moment of each act.
type loader struct {
	Config
	calendar
	*practice.Service
	door     store.Door
	now      time.Time
	homes    map[string]uuid.UUID    // practices by key
	actors   map[string]domain.Actor // members by key
	parties  map[string]uuid.UUID
	versions map[uuid.UUID]int32
}

func begin(ctx context.Context, config Config) (*loader, error) {
	zone, err := time.LoadLocation(harbourZone)
	if err != nil {
		return nil, fmt.Errorf("demo: %w", err)
	}
	l := &loader{
		Config: config, door: config.Store.Door(), homes: map[string]uuid.UUID{}, actors: map[string]domain.Actor{},
		parties: map[string]uuid.UUID{}, versions: map[uuid.UUID]int32{},
	}
	if l.Progress == nil {
		l.Progress = func(string) {}
	}
	if l.Config.Now.IsZero() {
		l.Config.Now = time.Now()
	}
	l.calendar = newCalendar(l.Config.Now, zone)
	if first, there, err := l.earlier(ctx); err != nil {
		return nil, err
	} else if there {
		l.calendar = first
	}
	options := []practice.Option{practice.WithClock(func() time.Time { return l.now }), practice.WithPublicURL(config.PublicURL)}
	if config.Objects != nil {
		options = append(options, practice.WithObjects(config.Objects), practice.WithPictures(picture.Maker{}))
	}
	l.Service = practice.New(config.Store, options...)
	return l, nil
}

// earlier finds the today of a load before this one: the practice's id was made a fixed
// number of days before it.
func (l *loader) earlier(ctx context.Context) (calendar, bool, error) {
	account, err := l.door.AccountByEmail(ctx, members[0].email)
	if domain.KindOf(err) == domain.NotFound {
		return calendar{}, false, nil
	}
	if err != nil {
		return calendar{}, false, fmt.Errorf("demo: %w", err)
	}
	list, err := l.door.Memberships(ctx, account.ID)
	if err != nil || len(list) == 0 {
		return calendar{}, false, err
	}
	founded := moment(list[0].Practice).In(l.zone)
	return newCalendar(founded.AddDate(0, 0, foundedDays), l.zone), true, nil
}
