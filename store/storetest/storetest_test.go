package storetest_test

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5/pgxpool"
	"github.com/minio/minio-go/v7"

	"boottop.example/practice/migrations"
	"boottop.example/practice/store/storetest"
)

func TestEachTestHasADatabaseOfItsOwn(t *testing.T) {
	t.Parallel()
	one, other := storetest.New(t), storetest.New(t)
	owner := one.Connect(t, one.OwnerURL)
	if _, err := owner.Exec(t.Context(), `create table only_here (word text)`); err != nil {
		t.Fatal(err)
	}
	var there bool
	err := other.Connect(t, other.OwnerURL).QueryRow(t.Context(), `select to_regclass('only_here') is not null`).Scan(&there)
	if err != nil || there {
		t.Errorf("the other database has the table too: %v", err)
	}
}

func TestEveryMigrationIsApplied(t *testing.T) {
	t.Parallel()
	db := storetest.New(t)
	var version int
	err := db.Connect(t, db.OwnerURL).QueryRow(t.Context(), `select max(version_id) from goose_db_version`).Scan(&version)
	if err != nil || version != migrations.Version {
		t.Errorf("the database is at version %d, want %d: %v", version, migrations.Version, err)
	}
}

func TestEachAddressLogsInAsItsRole(t *testing.T) {
	t.Parallel()
	db := storetest.New(t)
	for role, url := range map[string]string{"owner": db.OwnerURL, "app": db.AppURL, "worker": db.WorkerURL} {
		var user string
		if err := db.Connect(t, url).QueryRow(t.Context(), `select current_user`).Scan(&user); err != nil || user != role {
			t.Errorf("%s logs in as %q: %v", role, user, err)
		}
	}
}

func TestTheServiceMayNotMakeThingsInTheDatabase(t *testing.T) {
	t.Parallel()
	db := storetest.New(t)
	_, err := db.Connect(t, db.AppURL).Exec(t.Context(), `create temporary table x (y int)`)
	if err == nil || !strings.Contains(err.Error(), "42501") {
		t.Errorf("got %v, want insufficient privilege", err)
	}
}

func TestOneConnectionIsAskedForInTheAddress(t *testing.T) {
	t.Setenv("BOOTTOP_TEST_POOL", "1")
	db := storetest.New(t)
	config, err := pgxpool.ParseConfig(db.AppURL)
	if err != nil || config.MaxConns != 1 {
		t.Fatalf("the address allows %d connections, want 1: %v", config.MaxConns, err)
	}
}

func TestAnObjectIsAFileOfTheBucket(t *testing.T) {
	t.Parallel()
	b := storetest.S3(t)
	_, err := b.Client().PutObject(t.Context(), b.Name, "hull/port.txt", strings.NewReader("23"), 2, minio.PutObjectOptions{})
	if err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(filepath.Join(b.Files, "hull", "port.txt"))
	if err != nil || string(text) != "23" {
		t.Errorf("the file holds %q: %v", text, err)
	}
}

func TestAForgottenConnectionDoesNotKeepTheDatabase(t *testing.T) {
	t.Parallel()
	var name string
	t.Run("forgets", func(t *testing.T) {
		db := storetest.New(t)
		if db.AdminURL == "" {
			t.Skip("needs a superuser: TEST_ADMIN_DATABASE_URL")
		}
		name = db.Name
		pool, err := pgxpool.New(t.Context(), db.AppURL)
		if err != nil {
			t.Fatal(err)
		}
		if err := pool.Ping(context.Background()); err != nil {
			t.Fatal(err)
		}
	})
	db := storetest.New(t)
	var there bool
	err := db.Connect(t, db.OwnerURL).QueryRow(t.Context(), `select exists (select from pg_database where datname = $1)`, name).Scan(&there)
	if err != nil || there {
		t.Errorf("the database is still there: %v", err)
	}
}

func BenchmarkNew(b *testing.B) {
	for b.Loop() {
		storetest.New(b)
	}
}
