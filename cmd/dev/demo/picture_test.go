package demo

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
)

func TestPicturesAreTheSameEachTime(t *testing.T) {
	t.Parallel()
	for shows := range scenes {
		first, err := draw(shows, "a")
		if err != nil {
			t.Fatal(err)
		}
		again, err := draw(shows, "a")
		if err != nil || !bytes.Equal(first, again) {
			t.Errorf("%s: drawn twice, it differs (%v)", shows, err)
		}
		if other, _ := draw(shows, "b"); bytes.Equal(first, other) {
			t.Errorf("%s: two photos are the same", shows)
		}
		if dir := os.Getenv("DEMO_PICTURES"); dir != "" {
			if err := os.WriteFile(filepath.Join(dir, shows+".jpg"), first, 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	if _, err := draw("nothing known", "a"); err == nil {
		t.Error("an unknown scene was drawn")
	}
}
