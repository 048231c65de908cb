package store

import (
	"slices"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/storetest"
)

func TestArraysAreReadAsTheDatabaseSendsThem(t *testing.T) {
	t.Parallel()
	db := storetest.New(t)
	conn := db.Connect(t, db.AppURL)
	bytesOf := func(sql string) (b pgtype.UndecodedBytes) {
		t.Helper()
		if err := conn.QueryRow(t.Context(), sql, pgx.QueryResultFormats{pgx.BinaryFormatCode}).Scan(&b); err != nil {
			t.Fatal(err)
		}
		return b
	}
	var ints []int32
	for sql, want := range map[string][]int32{
		`select '{}'::integer[]`:                          nil,
		`select '{7}'::integer[]`:                         {7},
		`select '{-1,NULL,2147483647}'::integer[]`:        {-1, practice.Null, 2147483647},
		`select '[5:7]={1,2,3}'::integer[]`:               {1, 2, 3},
		`select array_agg(x) from generate_series(1,3) x`: {1, 2, 3},
	} {
		ints = nil
		if err := array(bytesOf(sql), &ints, int4Of); err != nil || !slices.Equal(ints, want) {
			t.Errorf("%s: %v, %v", sql, ints, err)
		}
	}
	ints = nil
	if err := array(bytesOf(`select '{3,NULL,-32768}'::smallint[]`), &ints, int2Of); err != nil || !slices.Equal(ints, []int32{3, practice.Null, practice.Null}) {
		t.Errorf("smallints %v, %v", ints, err)
	}
	var texts []string
	if err := array(bytesOf(`select '{port,"",starboard}'::text[]`), &texts, sideOf); err != nil || !slices.Equal(texts, []string{"port", "", "starboard"}) {
		t.Errorf("texts %q, %v", texts, err)
	}
	for _, sql := range []string{`select '{{1,2},{3,4}}'::integer[]`, `select '{1}'::bigint[]`, `select '{starboard}'::text[]`} {
		if err := array(bytesOf(sql), &ints, int4Of); err == nil {
			t.Errorf("%s is taken for integers", sql)
		}
	}
}

// Whatever comes, nothing is read past its end.
func FuzzArray(f *testing.F) {
	f.Add([]byte{0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0, 23, 0, 0, 0, 2, 0, 0, 0, 1, 0, 0, 0, 4, 0, 0, 0, 9, 255, 255, 255, 255})
	f.Fuzz(func(t *testing.T, b []byte) {
		var ints []int32
		var texts []string
		_, _ = array(b, &ints, int4Of), array(b, &texts, textOf)
		if 4*len(ints) > len(b) || 4*len(texts) > len(b) {
			t.Errorf("%d integers, %d texts out of %d bytes", len(ints), len(texts), len(b))
		}
	})
}
