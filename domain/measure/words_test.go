package measure_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// source is one Go file below this folder.
type source struct {
	path, subject string
	file          *ast.File
}

func sources(t *testing.T) (all []source) {
	t.Helper()
	err := fs.WalkDir(os.DirFS("."), ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(path) != ".go" {
			return err
		}
		f, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ParseComments)
		all = append(all, source{path, filepath.Base(filepath.Dir(path)), f})
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func functions(f *ast.File) (all []*ast.FuncDecl) {
	for _, d := range f.Decls {
		if fn, ok := d.(*ast.FuncDecl); ok {
			all = append(all, fn)
		}
	}
	return all
}

func givesError(f *ast.FuncDecl) bool {
	if f.Type.Results == nil {
		return false
	}
	for _, r := range f.Type.Results.List {
		if id, ok := r.Type.(*ast.Ident); ok && id.Name == "error" {
			return true
		}
	}
	return false
}

// Every exported function says what it does, and if it can refuse, what it refuses.
func TestEveryExportedFunctionSaysWhatItRefuses(t *testing.T) {
	t.Parallel()
	n := 0
	for _, s := range sources(t) {
		if strings.HasSuffix(s.path, "_test.go") || strings.Contains(s.path, "internal") {
			continue
		}
		for _, f := range functions(s.file) {
			if !f.Name.IsExported() {
				continue
			}
			n++
			doc := f.Doc.Text()
			if doc == "" || givesError(f) && !strings.Contains(strings.ToLower(doc), "error") {
				t.Errorf("%s: %s says %q", s.path, f.Name.Name, doc)
			}
		}
	}
	if n < 150 {
		t.Errorf("only %d functions were found", n)
	}
}

// Every subject has an example whose output is checked, and every subject that can
// refuse has a fuzz target.
func TestEverySubjectHasAnExampleAndAFuzzTarget(t *testing.T) {
	t.Parallel()
	has := map[string]map[string]bool{}
	for _, s := range sources(t) {
		if s.subject == "." || s.subject == "internal" || s.subject == "check" || s.subject == "unit" {
			continue
		}
		if has[s.subject] == nil {
			has[s.subject] = map[string]bool{}
		}
		for _, f := range functions(s.file) {
			name := f.Name.Name
			has[s.subject]["fuzz"] = has[s.subject]["fuzz"] || strings.HasPrefix(name, "Fuzz")
			if strings.HasPrefix(name, "Example") {
				has[s.subject]["example"] = has[s.subject]["example"] || checksOutput(s.file, f)
			}
		}
	}
	if len(has) != 15 {
		t.Errorf("%d subjects, want the fifteen of the arithmetic", len(has))
	}
	for subject, what := range has {
		if !what["example"] || !what["fuzz"] {
			t.Errorf("%s: example with output %v, fuzz target %v", subject, what["example"], what["fuzz"])
		}
	}
}

// checksOutput tells whether an example ends in the comment that holds its output.
func checksOutput(file *ast.File, f *ast.FuncDecl) bool {
	for _, c := range file.Comments {
		if c.Pos() > f.Body.Lbrace && c.End() < f.Body.Rbrace && strings.HasPrefix(c.Text(), "Output:") {
			return true
		}
	}
	return false
}
