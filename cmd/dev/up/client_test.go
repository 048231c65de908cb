package up

import (
	"os"
	"path/filepath"
	"testing"
)

func TestTheClientIsBuiltAgainOnlyWhenWhatItIsBuiltFromChanges(t *testing.T) {
	t.Parallel()
	web := t.TempDir()
	write := func(name, text string) string {
		t.Helper()
		path := filepath.Join(web, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		print, err := digest(web)
		if err != nil {
			t.Fatal(err)
		}
		return print
	}
	first := write("src/main.tsx", "1")
	for name, changes := range map[string]bool{
		"src/ui/Hull.tsx":       true,
		"index.html":            true,
		"public/theme.js":       true,
		"src/model/fit.test.ts": false,
		"tests/browser/a.ts":    false,
		"node_modules/x/y.js":   false,
		"dist/app/index.html":   false,
		"embed.go":              false,
	} {
		next := write(name, "2")
		if (next != first) != changes {
			t.Errorf("%s: a change asks for a build: %v, want %v", name, next != first, changes)
		}
		first = next
	}
}
