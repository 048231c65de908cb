package store

import (
	"bytes"
	"context"
	"encoding/base64"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"time"

	"github.com/minio/minio-go/v7"
	"github.com/minio/minio-go/v7/pkg/credentials"

	"boottop.example/practice/domain"
)

// ObjectsConfig says where the store of files is: anything that speaks S3.
type ObjectsConfig struct {
	URL       string // http://host:port or https://host, as the service reaches it
	PublicURL string // as a browser reaches it; empty: the same
	Region    string
	Bucket    string
	Key       string
	Secret    string
}

// String hides the secret.
func (c ObjectsConfig) String() string { return c.URL + "/" + c.Bucket + " as " + c.Key }

// Objects is the store of files. It implements practice.Objects.
type Objects struct {
	bucket string
	inside *minio.Client // for our own calls
	public *minio.Client // signs what a browser calls
	http   *http.Client
}

// How long a call may take. A store that hangs must not hold a request or a job with it.
const (
	dialWithin   = 2 * time.Second
	answerWithin = 5 * time.Second
	smallWithin  = 10 * time.Second // stat
	largeWithin  = 60 * time.Second // up to 25 MB
	streamWithin = 10 * time.Minute // to a person with a slow line
)

// OpenObjects makes the store of files. It asks nobody: see Check.
func OpenObjects(c ObjectsConfig) (*Objects, error) {
	if c.Bucket == "" || c.Region == "" || c.Key == "" || c.Secret == "" {
		return nil, fmt.Errorf("object store: bucket, region, key and secret are needed")
	}
	transport := &http.Transport{
		DialContext:           (&net.Dialer{Timeout: dialWithin, KeepAlive: 30 * time.Second}).DialContext,
		TLSHandshakeTimeout:   dialWithin,
		ResponseHeaderTimeout: answerWithin,
		MaxIdleConnsPerHost:   16,
		IdleConnTimeout:       60 * time.Second,
		DisableCompression:    true,
	}
	o := &Objects{bucket: c.Bucket, http: &http.Client{Transport: transport, Timeout: smallWithin}}
	var err error
	if o.inside, err = client(c.URL, c, transport); err != nil {
		return nil, err
	}
	if o.public = o.inside; c.PublicURL != "" {
		o.public, err = client(c.PublicURL, c, transport)
	}
	return o, err
}

// client signs for one address. With the region given it signs without asking the store.
func client(address string, c ObjectsConfig, transport http.RoundTripper) (*minio.Client, error) {
	u, err := url.Parse(address)
	if err != nil || u.Host == "" || u.Scheme != "http" && u.Scheme != "https" || u.Path != "" && u.Path != "/" {
		return nil, fmt.Errorf("object store: %q is no address such as https://files.example", address)
	}
	m, err := minio.New(u.Host, &minio.Options{
		Creds: credentials.NewStaticV4(c.Key, c.Secret, ""), Secure: u.Scheme == "https", Region: c.Region, Transport: transport, MaxRetries: 3,
	})
	if err != nil {
		return nil, fmt.Errorf("object store: %w", err)
	}
	return m, nil
}

// PresignPut implements practice.Objects. Type, length, hash and "only if there is none
// yet" are signed: a PUT that differs in any is refused by the store.
func (o *Objects) PresignPut(ctx context.Context, key, contentType string, size int64, sha256 []byte, lasts time.Duration) (string, map[string]string, error) {
	return o.presignPut(ctx, o.public, key, contentType, size, sha256, lasts)
}

func (o *Objects) presignPut(ctx context.Context, m *minio.Client, key, contentType string, size int64, sha256 []byte, lasts time.Duration) (string, map[string]string, error) {
	send := map[string]string{
		"Content-Type":          contentType,
		"If-None-Match":         "*",
		"x-amz-checksum-sha256": base64.StdEncoding.EncodeToString(sha256),
	}
	signed := http.Header{"Content-Length": {strconv.FormatInt(size, 10)}} // every client sends it by itself
	for name, value := range send {
		signed.Set(name, value)
	}
	u, err := m.PresignHeader(ctx, http.MethodPut, o.bucket, key, lasts, nil, signed)
	if err != nil {
		return "", nil, away("sign upload", err)
	}
	return u.String(), send, nil
}

// PresignGet implements practice.Objects. Name and type are part of what is signed.
func (o *Objects) PresignGet(ctx context.Context, key, fileName, contentType string, lasts time.Duration) (string, error) {
	return o.presignGet(ctx, o.public, key, fileName, contentType, lasts)
}

func (o *Objects) presignGet(ctx context.Context, m *minio.Client, key, fileName, contentType string, lasts time.Duration) (string, error) {
	as := url.Values{"response-content-type": {contentType}, "response-cache-control": {"private, max-age=300"}}
	if fileName != "" {
		as.Set("response-content-disposition", Attachment(fileName))
	}
	u, err := m.PresignedGetObject(ctx, o.bucket, key, lasts, as)
	if err != nil {
		return "", away("sign download", err)
	}
	return u.String(), nil
}

// Attachment writes a Content-Disposition that has a file saved under a name from
// outside, whatever letters it holds: RFC 6266, with the plain form for old clients.
func Attachment(fileName string) string {
	plain := strings.Map(func(r rune) rune {
		if r < ' ' || r > '~' || strings.ContainsRune(`"\/%;`, r) {
			return '_'
		}
		return r
	}, fileName)
	return fmt.Sprintf(`attachment; filename="%s"; filename*=UTF-8''%s`, plain, strings.ReplaceAll(url.QueryEscape(fileName), "+", "%20"))
}

// Stat implements practice.Objects.
func (o *Objects) Stat(ctx context.Context, key string) (int64, error) {
	ctx, cancel := context.WithTimeout(ctx, smallWithin)
	defer cancel()
	info, err := o.inside.StatObject(ctx, o.bucket, key, minio.StatObjectOptions{})
	if err != nil {
		return 0, away("look at object", err)
	}
	return info.Size, nil
}

// Get implements practice.Objects.
func (o *Objects) Get(ctx context.Context, key string, most int64) ([]byte, error) {
	ctx, cancel := context.WithTimeout(ctx, largeWithin)
	defer cancel()
	body, err := o.inside.GetObject(ctx, o.bucket, key, minio.GetObjectOptions{})
	if err != nil {
		return nil, away("read object", err)
	}
	defer body.Close()
	b, err := io.ReadAll(io.LimitReader(body, most+1))
	if err != nil {
		return nil, away("read object", err)
	}
	if int64(len(b)) > most {
		return nil, domain.Conflictf("The file in the store is larger than what was granted.")
	}
	return b, nil
}

// Open implements practice.Objects. The object is there once this returns.
func (o *Objects) Open(ctx context.Context, key string) (io.ReadSeekCloser, error) {
	ctx, cancel := context.WithTimeout(ctx, streamWithin)
	body, err := o.inside.GetObject(ctx, o.bucket, key, minio.GetObjectOptions{})
	if err == nil {
		_, err = body.Stat()
	}
	if err != nil {
		cancel()
		return nil, away("open object", err)
	}
	return &stream{body, cancel}, nil
}

// stream is an object being read; its deadline ends with it.
type stream struct {
	*minio.Object
	cancel context.CancelFunc
}

func (s *stream) Close() error {
	defer s.cancel()
	return s.Object.Close()
}

// Put implements practice.Objects.
func (o *Objects) Put(ctx context.Context, key, contentType string, b []byte) error {
	ctx, cancel := context.WithTimeout(ctx, largeWithin)
	defer cancel()
	_, err := o.inside.PutObject(ctx, o.bucket, key, bytes.NewReader(b), int64(len(b)), minio.PutObjectOptions{ContentType: contentType, DisableMultipart: true})
	return away("keep object", err)
}

// Remove implements practice.Objects.
func (o *Objects) Remove(ctx context.Context, key string) error {
	ctx, cancel := context.WithTimeout(ctx, smallWithin)
	defer cancel()
	return away("remove object", o.inside.RemoveObject(ctx, o.bucket, key, minio.RemoveObjectOptions{}))
}

// away turns an error of the store of files into one that a person can act on.
func away(doing string, err error) error {
	if err == nil {
		return nil
	}
	if minio.ToErrorResponse(err).StatusCode == http.StatusNotFound || minio.ToErrorResponse(err).Code == minio.NoSuchKey {
		return fmt.Errorf("%s: %w", doing, domain.ErrNotFound)
	}
	return &domain.Fault{Kind: domain.Unavailable, Text: "The store for files does not answer just now. Please try again in a moment.", Err: fmt.Errorf("%s: %w", doing, err)}
}
