package main

import (
	"strings"
	"testing"

	"github.com/google/uuid"

	"boottop.example/practice/domain/practice"
)

func TestScrubTellsByItsExit(t *testing.T) {
	t.Parallel()
	var out strings.Builder
	if err := tellScrubbed(&out, 2, 7, nil); err != nil || !strings.Contains(out.String(), "2 practices, 7 files: 0 are missing or altered") {
		t.Errorf("%v, %s", err, out.String())
	}
	lost := practice.Unsound{KeptObject: practice.KeptObject{What: "report PDF", ID: uuid.Nil, Key: "a/b"}, Wrong: "missing"}
	if err := tellScrubbed(&out, 2, 7, []practice.Unsound{lost}); err == nil || !strings.Contains(out.String(), "missing: report PDF of 00000000-0000-0000-0000-000000000000, under the key a/b") {
		t.Errorf("%v, %s", err, out.String())
	}
}
