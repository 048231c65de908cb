package store_test

import (
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"boottop.example/practice/store/storetest"
)

// TestADumpByTheServicesRoleFailsAloud is promise G4: a role that row security binds gets no
// dump at all, and not one that is short of everybody's rows.
func TestADumpByTheServicesRoleFailsAloud(t *testing.T) {
	t.Parallel()
	program, err := exec.LookPath("pg_dump")
	if err != nil {
		found, _ := filepath.Glob("/usr/lib/postgresql/*/bin/pg_dump")
		if len(found) == 0 {
			t.Skip("there is no pg_dump on this machine")
		}
		program = found[len(found)-1]
	}
	service, _, _ := strings.Cut(storetest.New(t).AppURL, "&pool_") // which is no word of pg_dump's
	out, err := exec.CommandContext(t.Context(), program, "--schema=public", "-d", service).CombinedOutput()
	if err == nil || !strings.Contains(string(out), "permission denied") && !strings.Contains(string(out), "row-level security") {
		t.Errorf("the service's role dumped %d bytes: %v", len(out), err)
	}
	out, err = exec.CommandContext(t.Context(), program, "--data-only", "--table=public.vessels", "-d", service).CombinedOutput()
	if err == nil || !strings.Contains(string(out), "row-level security") {
		t.Errorf("of a table that it may read: %v\n%.500s", err, out)
	}
}
