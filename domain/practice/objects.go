package practice

import (
	"context"
	"io"
	"time"
)

// Objects is the store of files: photos, imports, issued reports. A key is made by us;
// nothing from outside goes into one.
type Objects interface {
	// PresignPut gives leave to put one object of this type, size and hash, once, for a while.
	PresignPut(ctx context.Context, key, contentType string, size int64, sha256 []byte, lasts time.Duration) (url string, headers map[string]string, err error)
	// PresignGet gives leave to fetch one object under a name and type of our choosing.
	PresignGet(ctx context.Context, key, fileName, contentType string, lasts time.Duration) (url string, err error)
	// Stat tells an object's size; NotFound where there is none.
	Stat(ctx context.Context, key string) (size int64, err error)
	// Get reads an object of at most so many bytes.
	Get(ctx context.Context, key string, most int64) ([]byte, error)
	// Open streams an object from any place in it.
	Open(ctx context.Context, key string) (io.ReadSeekCloser, error)
	// Put keeps bytes at a key; the same bytes put again are no fault.
	Put(ctx context.Context, key, contentType string, b []byte) error
	// Remove takes an object away; one that is not there is no fault.
	Remove(ctx context.Context, key string) error
}
