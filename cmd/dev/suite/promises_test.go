package suite

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

var (
	promised = regexp.MustCompile(`(?m)^\| ([A-J]\d|\d[\d–, ]*) \| [^|]+ \| ([^|]+) \|$`)
	heldBy   = regexp.MustCompile("`([^`]+)`")
)

// TestPromisesNameWhatHoldsThem keeps deploy/PROMISES.md true as far as a test can: every promise
// and every bad input stands there once, and what it names is there.
func TestPromisesNameWhatHoldsThem(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile("../../../deploy/PROMISES.md")
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]int{}
	for _, row := range promised.FindAllStringSubmatch(string(text), -1) {
		for _, id := range strings.Split(row[1], ", ") {
			for _, one := range spread(t, id) {
				seen[one]++
			}
		}
		for _, named := range heldBy.FindAllStringSubmatch(row[2], -1) {
			if why := missing(named[1]); why != "" {
				t.Errorf("%s: %s", row[1], why)
			}
		}
	}
	for area, most := range map[string]int{"A": 4, "B": 9, "C": 4, "D": 8, "E": 4, "F": 3, "G": 4, "H": 2, "J": 2, "": 96} {
		for n := 1; n <= most; n++ {
			if id := area + strconv.Itoa(n); seen[id] != 1 {
				t.Errorf("%s stands there %d times", id, seen[id])
			}
			delete(seen, area+strconv.Itoa(n))
		}
	}
	for id := range seen {
		t.Errorf("nobody promised %s", id)
	}
}

// spread writes a range of numbers out.
func spread(t *testing.T, id string) (all []string) {
	t.Helper()
	first, last, isRange := strings.Cut(id, "–")
	if !isRange {
		return []string{id}
	}
	from, err := strconv.Atoi(first)
	to, err2 := strconv.Atoi(last)
	if err != nil || err2 != nil {
		t.Fatalf("%q is no range", id)
	}
	for n := from; n <= to; n++ {
		all = append(all, strconv.Itoa(n))
	}
	return all
}

// missing says what of a name is not there: a package and its test, a proof, a command of
// the service, or a file.
func missing(name string) string {
	where, what, two := strings.Cut(name, " ")
	switch {
	case !two:
		if _, err := os.Stat(filepath.Join("../../..", name)); err != nil {
			return "there is no file " + name
		}
		return ""
	case where == "practice":
		return none("../../../cmd/practice/*.go", fmt.Sprintf("func %s(", what), name)
	case where == "proof":
		return none("../../proof/*/*.go", fmt.Sprintf("Name:  %q", what), name)
	}
	return none("../../../"+where+"/*_test.go", fmt.Sprintf("func %s(", what), name)
}

func none(files, text, name string) string {
	list, _ := filepath.Glob(files)
	for _, file := range list {
		if b, err := os.ReadFile(file); err == nil && strings.Contains(string(b), text) {
			return ""
		}
	}
	return "there is no " + name
}
