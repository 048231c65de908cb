package local

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"time"

	"github.com/minio/minio-go/v7"
	"github.com/minio/minio-go/v7/pkg/credentials"

	"boottop.example/practice/deploy/local/child"
)

// Bucket is the name of the service's bucket.
const Bucket = "boottop"

// Region is what requests to the local store are signed for.
const Region = "us-east-1"

const gateway = "github.com/versity/versitygw/cmd/versitygw"

// Store is an object store that speaks S3, with one bucket, kept as plain files.
type Store struct {
	Endpoint string // "127.0.0.1:PORT", plain HTTP
	Key      string
	Secret   string
	Files    string // folder that holds the bucket: an object is a file of its name

	opt  Options
	kept keptStore
	proc *child.Proc
	log  string
}

// keptStore is remembered from one start to the next.
type keptStore struct {
	Port        int
	Key, Secret string
	// Sidecar: the file system keeps no attributes, so they go into files of their own.
	Sidecar bool
}

// URL is the store's address.
func (s *Store) URL() string { return "http://" + s.Endpoint }

// StartStore starts the object store alone. The caller sees to it that nobody else
// starts one in o.Dir; Start does.
func StartStore(ctx context.Context, o Options) (*Store, error) {
	dir, err := filepath.Abs(o.Dir)
	if err != nil {
		return nil, err
	}
	s := &Store{opt: o, Files: filepath.Join(dir, "objects"), log: filepath.Join(dir, "log", "store.log")}
	if err := s.start(ctx); err != nil {
		return nil, fmt.Errorf("start the object store: %w", err)
	}
	return s, nil
}

func (s *Store) start(ctx context.Context) error {
	if err := os.MkdirAll(s.Files, 0o700); err != nil {
		return err
	}
	if err := load(s.stateFile(), &s.kept); err != nil {
		return err
	}
	if s.kept.Key == "" {
		s.kept = keptStore{Key: secret(), Secret: secret(), Sidecar: !keepsAttributes(s.Files)}
	}
	if err := s.clear(); err != nil {
		return err
	}
	return s.Run(ctx)
}

// clear ends what a killed run left.
func (s *Store) clear() error {
	return child.Clear(s.pidFile(), syscall.SIGTERM, 5*time.Second)
}

func (s *Store) stateFile() string { return filepath.Join(s.opt.Dir, "store.json") }
func (s *Store) pidFile() string   { return filepath.Join(s.opt.Dir, "store.pid") }

// Run starts the store again after Stop, on the same port and files.
func (s *Store) Run(ctx context.Context) error {
	program, err := Tool(ctx, s.opt, gateway)
	if err != nil {
		return err
	}
	for range 3 { // another program may take the port between the look and the start
		if s.kept.Port, err = keepPort(s.kept.Port); err != nil {
			return err
		}
		if err := save(s.stateFile(), s.kept); err != nil {
			return err
		}
		if err = s.run(ctx, program); err == nil || ctx.Err() != nil || !strings.Contains(tail(s.log), "address already in use") {
			return err
		}
		s.kept.Port = 0
	}
	return err
}

func (s *Store) run(ctx context.Context, program string) error {
	log, err := openLog(s.log)
	if err != nil {
		return err
	}
	defer log.Close()
	s.Endpoint, s.Key, s.Secret = "127.0.0.1:"+strconv.Itoa(s.kept.Port), s.kept.Key, s.kept.Secret
	// The page uploads straight to the store from the service's own address.
	args := []string{"--port", s.Endpoint, "--region", Region, "--quiet", "--cors-allow-origin", "*", "posix"}
	if s.kept.Sidecar {
		side := filepath.Join(filepath.Dir(s.Files), "attributes")
		if err := os.MkdirAll(side, 0o700); err != nil {
			return err
		}
		args = append(args, "--sidecar", side)
	}
	s.proc, err = child.Start(child.Spec{
		Path: program, Args: append(args, s.Files), Dir: "/", Output: log, PidFile: s.pidFile(), Stop: syscall.SIGTERM,
		Env: append(plainEnv(), "ROOT_ACCESS_KEY="+s.Key, "ROOT_SECRET_KEY="+s.Secret),
	})
	if err != nil {
		return err
	}
	if err := s.wait(ctx); err != nil {
		_ = s.proc.Stop(patience)
		return err
	}
	return nil
}

// wait returns once the bucket is there, which shows that the store answers and takes
// our keys.
func (s *Store) wait(ctx context.Context) error {
	ctx, cancel := context.WithTimeout(ctx, patience)
	defer cancel()
	client, err := s.Client()
	if err != nil {
		return err
	}
	for {
		err := client.MakeBucket(ctx, Bucket, minio.MakeBucketOptions{})
		if code := minio.ToErrorResponse(err).Code; err == nil || code == minio.BucketAlreadyOwnedByYou || code == minio.BucketAlreadyExists {
			return nil
		}
		select {
		case <-s.proc.Done():
			return fmt.Errorf("it ended at once, its log %s ends with:\n%s", s.log, tail(s.log))
		case <-ctx.Done():
			return fmt.Errorf("it does not answer: %w", err)
		case <-time.After(25 * time.Millisecond):
		}
	}
}

// Client is a client of the store with all rights.
func (s *Store) Client() (*minio.Client, error) {
	return minio.New(s.Endpoint, &minio.Options{
		Creds: credentials.NewStaticV4(s.Key, s.Secret, ""), Region: Region, MaxRetries: 1,
	})
}

// Stop ends the store. Objects stay.
func (s *Store) Stop() error {
	if s.proc == nil {
		return nil
	}
	err := s.proc.Stop(patience)
	s.proc = nil
	return err
}

// keepsAttributes says whether the file system of dir keeps extended attributes, in
// which the store writes content types and digests.
func keepsAttributes(dir string) bool {
	f, err := os.CreateTemp(dir, "probe-*")
	if err != nil {
		return false
	}
	defer os.Remove(f.Name())
	defer f.Close()
	return setAttribute(f.Name()) == nil
}
