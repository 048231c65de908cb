// Package storetest gives each test a database of its own, on a real server, with every
// migration applied, and each test that asks a bucket of its own.
//
//	db := storetest.New(t)
//	s, err := store.Open(t.Context(), store.Config{URL: db.AppURL})
//
// The database is a copy of a template that is made once for each state of the
// migrations. A test that fails keeps its database and logs the address.
//
// The server is the one of TEST_DATABASE_URL, or else one that deploy/local starts and
// all test programs of the clone share; it ends when nobody has used it for a while.
package storetest

import (
	"context"
	"crypto/rand"
	"fmt"
	"net/url"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"
)

// DB is a database of one test's own. Its URLs log in as the roles of deploy/roles.sql;
// those of the service carry pool_max_conns=1 where BOOTTOP_TEST_POOL=1 asks for it.
type DB struct {
	Name      string
	OwnerURL  string
	AppURL    string
	WorkerURL string
	// AdminURL logs in as a superuser, to see and break what no role of ours may. Empty
	// where TEST_DATABASE_URL names a server and TEST_ADMIN_DATABASE_URL does not.
	AdminURL string
}

// New makes the database. It goes with the test, unless the test fails.
func New(t testing.TB) *DB {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), 2*time.Minute)
	defer cancel()
	at, err := database(ctx)
	if err != nil {
		t.Fatalf("a database for the test: %v", err)
	}
	template, err := at.template(ctx)
	if err != nil {
		t.Fatalf("a migrated database for the test: %v", err)
	}
	name := fmt.Sprintf("t_%d_%s", time.Now().Unix(), strings.ToLower(rand.Text()[:10]))
	if err := at.clone(ctx, template, name); err != nil {
		t.Fatalf("copy the migrated database: %v", err)
	}
	db := &DB{Name: name, OwnerURL: in(at.Owner, name), AppURL: service(at.App, name), WorkerURL: service(at.Worker, name), AdminURL: in(at.Admin, name)}
	t.Cleanup(func() {
		if t.Failed() {
			t.Logf("the test's database is kept for a day: psql %q", db.OwnerURL)
			return
		}
		if err := at.drop(name); err != nil {
			t.Errorf("remove the test's database: %v", err)
		}
	})
	return db
}

// Connect opens one connection to any of the URLs, for a test that looks at rows itself.
func (db *DB) Connect(t testing.TB, address string) *pgx.Conn {
	t.Helper()
	config, err := pgxpool.ParseConfig(address) // pgx alone does not know pool_max_conns
	if err != nil {
		t.Fatal(err)
	}
	conn, err := pgx.ConnectConfig(t.Context(), config.ConnConfig)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = conn.Close(context.Background()) })
	return conn
}

// OneConnection says whether the suite runs with one connection for each process, as
// promise D2 asks. A test that is about the size of the pool skips itself then.
func OneConnection() bool { return os.Getenv("BOOTTOP_TEST_POOL") == "1" }

func service(address, name string) string {
	address = in(address, name)
	if OneConnection() {
		address += "&pool_max_conns=1"
	}
	return address
}

// in is the same address with another database.
func in(address, name string) string {
	if address == "" {
		return ""
	}
	u, err := url.Parse(address)
	if err != nil {
		panic(err) // checked by database()
	}
	u.Path = "/" + name
	if u.RawQuery == "" {
		u.RawQuery = "sslmode=prefer"
	}
	return u.String()
}

// as is the same address with another role and the same password.
func as(address, role string) string {
	u, err := url.Parse(address)
	if err != nil {
		panic(err) // checked by database()
	}
	password, _ := u.User.Password()
	u.User = url.UserPassword(role, password)
	return u.String()
}
