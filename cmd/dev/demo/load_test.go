package demo_test

import (
	"context"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"

	"boottop.example/practice/cmd/dev/demo"
	"boottop.example/practice/store"
	"boottop.example/practice/store/storetest"
)

// bundle is a database of the test's own with the scenario in it.
type bundle struct {
	t      *testing.T
	config demo.Config
	result demo.Result
	owner  *pgx.Conn
}

func load(t *testing.T) *bundle {
	t.Helper()
	db, bucket := storetest.New(t), storetest.S3(t)
	s, err := store.Open(t.Context(), store.Config{URL: db.AppURL, MaxConns: 2})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(s.Close)
	objects, err := store.OpenObjects(store.ObjectsConfig{URL: bucket.URL(), Bucket: bucket.Name, Region: bucket.Region, Key: bucket.Key, Secret: bucket.Secret})
	if err != nil {
		t.Fatal(err)
	}
	b := &bundle{t: t, config: demo.Config{Store: s, Objects: objects, PublicURL: "https://boottop.example"}, owner: db.Connect(t, db.OwnerURL)}
	b.result = b.again()
	return b
}

func (b *bundle) again() demo.Result {
	b.t.Helper()
	began := time.Now()
	r, err := demo.Load(context.Background(), b.config)
	if err != nil {
		b.t.Fatal(err)
	}
	b.t.Logf("loaded in %.1f s", time.Since(began).Seconds())
	return r
}

func TestLoads(t *testing.T) {
	t.Parallel()
	b := load(t)
	b.again()
}
