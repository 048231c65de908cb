package storetest

import (
	"context"
	"crypto/rand"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/minio/minio-go/v7"
	"github.com/minio/minio-go/v7/pkg/credentials"

	"boottop.example/practice/deploy/local"
)

// Bucket is a bucket of one test's own in a real object store.
type Bucket struct {
	Endpoint string // "host:port", plain HTTP
	Region   string
	Name     string
	Key      string
	Secret   string
	// Files is the folder in which each object is a file of its name, for a test that
	// damages one behind the store's back.
	Files string

	client *minio.Client
}

// URL is the store's address.
func (b *Bucket) URL() string { return "http://" + b.Endpoint }

// Client is a client of the store with all rights.
func (b *Bucket) Client() *minio.Client { return b.client }

// S3 makes the bucket. It goes with the test.
func S3(t testing.TB) *Bucket {
	t.Helper()
	at, err := objects()
	if err != nil {
		t.Fatalf("an object store for the test: %v", err)
	}
	client, err := minio.New(at.Endpoint, &minio.Options{Creds: credentials.NewStaticV4(at.Key, at.Secret, ""), Region: local.Region})
	if err != nil {
		t.Fatal(err)
	}
	name := "t-" + strings.ToLower(rand.Text())
	b := &Bucket{Endpoint: at.Endpoint, Region: local.Region, Name: name, Key: at.Key, Secret: at.Secret, Files: filepath.Join(at.Files, name), client: client}
	if err := client.MakeBucket(t.Context(), name, minio.MakeBucketOptions{}); err != nil {
		t.Fatalf("make a bucket for the test: %v", err)
	}
	t.Cleanup(func() {
		if err := b.remove(); err != nil {
			t.Errorf("remove the test's bucket: %v", err)
		}
	})
	return b
}

func (b *Bucket) remove() error {
	ctx, cancel := context.WithTimeout(context.Background(), 30*time.Second)
	defer cancel()
	all := b.client.ListObjects(ctx, b.Name, minio.ListObjectsOptions{Recursive: true})
	for failed := range b.client.RemoveObjects(ctx, b.Name, all, minio.RemoveObjectsOptions{}) {
		return failed.Err
	}
	return b.client.RemoveBucket(ctx, b.Name)
}
