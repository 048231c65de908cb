package suite

import (
	"encoding/json"
	"errors"
	"io"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"boottop.example/practice/deploy/local"
)

const module = "boottop.example/practice/"

// inward says what each layer may import: of this project, and of others. Imports point
// inward, cmd to graph and store, both to domain; the first rule that fits is the one.
var inward = []struct {
	layer  string
	ours   []string // prefixes under the module path
	others []string // module prefixes; nil: any
}{
	{"domain/measure", []string{"domain/measure"}, []string{"gonum.org/v1/gonum"}},
	{"domain/report/render", []string{"domain"}, nil},
	{"domain", []string{"domain"}, []string{"github.com/google/uuid"}},
	{"store/storetest", []string{"store", "domain", "deploy", "migrations"}, nil},
	{"store", []string{"store", "domain"}, nil},
	{"graph", []string{"graph", "domain"}, nil},
	{"migrations", []string{"migrations"}, nil},
	{"web", []string{"web"}, nil},
	{"deploy", []string{"deploy"}, nil},
}

type goPackage struct {
	ImportPath string
	Imports    []string
}

func TestImportsPointInward(t *testing.T) {
	t.Parallel()
	root, err := local.FindRoot()
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, p := range list(t, root) {
		for _, rule := range inward {
			path, ours := strings.CutPrefix(p.ImportPath, module)
			if !ours || !under(path, rule.layer) {
				continue
			}
			seen++
			for _, name := range p.Imports {
				if !allowed(name, rule.ours, rule.others) {
					t.Errorf("%s imports %s, which is not for %s", p.ImportPath, name, rule.layer)
				}
			}
			break
		}
	}
	if seen < len(inward)-1 {
		t.Errorf("only %d packages were looked at", seen)
	}
}

func under(path, layer string) bool { return path == layer || strings.HasPrefix(path, layer+"/") }

func allowed(name string, ours, others []string) bool {
	if path, mine := strings.CutPrefix(name, module); mine {
		return slices.ContainsFunc(ours, func(layer string) bool { return under(path, layer) })
	}
	first, _, _ := strings.Cut(name, "/")
	if !strings.Contains(first, ".") { // the standard library
		return true
	}
	return others == nil || slices.ContainsFunc(others, func(m string) bool { return under(name, m) })
}

func list(t *testing.T, root string) []goPackage {
	t.Helper()
	cmd := exec.CommandContext(t.Context(), "go", "list", "-json=ImportPath,Imports", "./...")
	cmd.Dir = root
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	var all []goPackage
	for d := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p goPackage
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			return all
		} else if err != nil {
			t.Fatal(err)
		}
		all = append(all, p)
	}
}
