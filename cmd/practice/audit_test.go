package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// TestAudits is promise J1: graphql-http's audits of GraphQL over HTTP against the running
// service, 0 errors and no warning that is not listed with its reason.
func TestAudits(t *testing.T) {
	t.Parallel()
	dir, err := filepath.Abs("../../graph/audit")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(dir, "node_modules")); err != nil {
		t.Skip("run `npm ci` in graph/audit first; `go run ./cmd/dev test` does")
	}
	r := start(t)
	cmd := exec.CommandContext(t.Context(), "node", "audit.js")
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "BOOTTOP_URL=http://"+r.address, "BOOTTOP_API_KEY="+r.key)
	said, err := cmd.CombinedOutput()
	if err != nil || !strings.Contains(string(said), " 0 errors") {
		t.Errorf("%v\n%s", err, said)
	}
	t.Logf("%s", said)
}
