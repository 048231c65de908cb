package up

import (
	"context"
	"crypto/ed25519"
	"crypto/rand"
	"encoding/base64"
	"errors"
	"fmt"
	"io/fs"
	"net/http"
	"os"
	"os/exec"
	"strings"
	"syscall"
	"time"

	"boottop.example/practice/deploy/local"
	"boottop.example/practice/deploy/local/child"
)

// buildPrograms builds the service, and what loads the demo, into the state folder.
func (r *Running) buildPrograms(ctx context.Context) (string, error) {
	if err := os.MkdirAll(r.path("bin"), 0o755); err != nil {
		return "", err
	}
	out, err := command(ctx, r.opt.Root, "go", "build", "-o", r.path("bin")+"/", "./cmd/practice", "./cmd/dev/loaddemo")
	if err != nil {
		return "", fmt.Errorf("go build: %w\n%s", err, out)
	}
	return "built", nil
}

// env is the environment of the service and its helpers, and nothing else of BOOTTOP_.
func (r *Running) env() ([]string, error) {
	key, err := r.signingKey()
	if err != nil {
		return nil, err
	}
	var env []string
	for _, e := range os.Environ() {
		if !strings.HasPrefix(e, "BOOTTOP_") || strings.HasPrefix(e, "BOOTTOP_LOG") {
			env = append(env, e)
		}
	}
	s := r.services
	for name, value := range map[string]string{
		"ADDR": r.port.addr, "METRICS_ADDR": fmt.Sprintf("127.0.0.1:%d", r.metrics), "PUBLIC_URL": r.port.url(),
		"DATABASE_URL": s.AppURL, "WORKER_DATABASE_URL": s.WorkerURL, "OWNER_DATABASE_URL": s.OwnerURL,
		"S3_ENDPOINT": s.Store.URL(), "S3_PUBLIC_URL": s.Store.URL(), "S3_BUCKET": local.Bucket, "S3_REGION": local.Region,
		"S3_KEY": s.Key, "S3_SECRET": s.Secret,
		"SIGNING_KEY": key, "MAIL_DIR": r.path("mail"), "DEV": "1",
	} {
		env = append(env, "BOOTTOP_"+name+"="+value)
	}
	return env, nil
}

// signingKey is made once, so that sessions outlive a restart.
func (r *Running) signingKey() (string, error) {
	text, err := os.ReadFile(r.path("signing.key"))
	if err == nil {
		return string(text), nil
	}
	if !errors.Is(err, fs.ErrNotExist) {
		return "", err
	}
	seed := make([]byte, ed25519.SeedSize)
	_, _ = rand.Read(seed) // never fails
	key := base64.StdEncoding.EncodeToString(seed)
	return key, os.WriteFile(r.path("signing.key"), []byte(key), 0o600)
}

// migrate brings the database to the present form.
func (r *Running) migrate(ctx context.Context) (string, error) {
	out, err := r.helper(ctx, "practice", "migrate")
	if err != nil {
		return "", fmt.Errorf("practice migrate: %w\n%s", err, out)
	}
	return "migrated", nil
}

// helper runs one of the programs to its end, with the service's environment.
func (r *Running) helper(ctx context.Context, name string, args ...string) ([]byte, error) {
	env, err := r.env()
	if err != nil {
		return nil, err
	}
	cmd := child.Tie(exec.CommandContext(ctx, r.path("bin", name), args...))
	cmd.Env, cmd.Dir = env, r.opt.Root
	return cmd.CombinedOutput()
}

// run starts the service and its worker and returns when the page answers.
func (r *Running) run(ctx context.Context) (string, error) {
	metrics, err := freePort("127.0.0.1")
	if err != nil {
		return "", err
	}
	defer metrics.release()
	if _, err := fmt.Sscanf(metrics.addr, "127.0.0.1:%d", &r.metrics); err != nil {
		return "", err
	}
	if r.serve, err = r.child("serve"); err != nil {
		return "", err
	}
	if r.work, err = r.child("work"); err != nil {
		return "", err
	}
	return "serving at " + r.port.addr, r.ready(ctx)
}

// child starts `practice NAME`, first ending one that a killed run left.
func (r *Running) child(name string) (*child.Proc, error) {
	pidFile := r.path(name + ".pid")
	if err := child.Clear(pidFile, syscall.SIGTERM, 15*time.Second); err != nil {
		return nil, err
	}
	env, err := r.env()
	if err != nil {
		return nil, err
	}
	if err := os.MkdirAll(r.path("log"), 0o755); err != nil {
		return nil, err
	}
	log, err := os.Create(r.path("log", name+".log"))
	if err != nil {
		return nil, err
	}
	defer log.Close()
	return child.Start(child.Spec{
		Path: r.path("bin", "practice"), Args: []string{name}, Env: env, Dir: r.opt.Root,
		Output: log, PidFile: pidFile, Stop: syscall.SIGTERM,
	})
}

// ready returns when the service says that it and its database are there.
func (r *Running) ready(ctx context.Context) error {
	ctx, cancel := context.WithTimeout(ctx, 2*time.Minute)
	defer cancel()
	for {
		request, err := http.NewRequestWithContext(ctx, http.MethodGet, r.port.url()+"/readyz", nil)
		if err != nil {
			return err
		}
		answer, err := http.DefaultClient.Do(request)
		if err == nil {
			_ = answer.Body.Close()
			if answer.StatusCode == http.StatusOK {
				return nil
			}
		}
		select {
		case <-r.serve.Done():
			return r.ended("serve")
		case <-r.work.Done():
			return r.ended("work")
		case <-ctx.Done():
			return fmt.Errorf("the service does not become ready: see %s", r.path("log", "serve.log"))
		case <-time.After(50 * time.Millisecond):
		}
	}
}

func (r *Running) ended(name string) error {
	text, _ := os.ReadFile(r.path("log", name+".log"))
	return fmt.Errorf("`practice %s` ended at once:\n%s", name, text)
}
