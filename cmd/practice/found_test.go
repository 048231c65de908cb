package main

import (
	"strings"
	"testing"

	"boottop.example/practice/store/storetest"
)

func TestFoundInvitesTheFirstPrincipal(t *testing.T) {
	t.Parallel()
	db := storetest.New(t)
	environ := []string{"BOOTTOP_DATABASE_URL=" + db.AppURL, "BOOTTOP_PUBLIC_URL=https://boottop.example"}
	err := found(t.Context(), []string{"-name", "North quay surveys", "-person=I. Varrow", "-email", "varrow@north.example"}, environ)
	if err != nil {
		t.Fatal(err)
	}
	var letter string
	if err := db.Connect(t, db.OwnerURL).QueryRow(t.Context(), `select body from mails where recipient = 'varrow@north.example'`).Scan(&letter); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(letter, "https://boottop.example/invitation/") {
		t.Errorf("the letter says %q", letter)
	}
	if err := found(t.Context(), []string{"-name", "North quay surveys", "-email", "varrow@north.example"}, environ); err == nil {
		t.Error("a practice was founded with nobody")
	}
}
