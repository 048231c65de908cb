package store

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/minio/minio-go/v7"

	"boottop.example/practice/domain"
)

// probe tries the store of files with objects of its own.
type probe struct {
	o       *Objects
	key     string
	body    []byte
	address string
	headers map[string]string
	broken  []string
}

// Check tries what uploads rest on, with an object of its own that it takes away again:
// a grant puts one object of just the granted type, size and bytes, once; nobody reads
// or lists unsigned; what is signed into a link cannot be changed. Stores differ here.
// It answers an Unavailable fault where the store does not answer at all.
func (o *Objects) Check(ctx context.Context) error {
	ctx, cancel := context.WithTimeout(ctx, largeWithin)
	defer cancel()
	p := &probe{o: o, key: "probe/" + uuid.NewString(), body: []byte("boottop asks what this store keeps")}
	defer func() {
		clean, cancel := context.WithTimeout(context.WithoutCancel(ctx), smallWithin)
		defer cancel()
		_ = o.inside.RemoveObject(clean, o.bucket, p.key, minio.RemoveObjectOptions{})
	}()
	for _, step := range []func(context.Context) error{p.grant, p.misuse, p.use, p.reading} {
		if err := step(ctx); err != nil {
			return away("check the store of files", err)
		}
	}
	if len(p.broken) > 0 {
		return fmt.Errorf("the store of files does not keep what uploads rest on: %s", strings.Join(p.broken, "; "))
	}
	return nil
}

func (p *probe) grant(ctx context.Context) (err error) {
	sum := sha256.Sum256(p.body)
	p.address, p.headers, err = p.o.presignPut(ctx, p.o.inside, p.key, "text/csv", int64(len(p.body)), sum[:], time.Minute)
	return err
}

// misuse tries what a grant must not allow.
func (p *probe) misuse(ctx context.Context) error {
	other := bytes.ToUpper(p.body)
	for _, m := range []struct {
		what string
		body []byte
		with map[string]string
	}{
		{"a PUT with another type is taken", p.body, map[string]string{"Content-Type": "text/html"}},
		{"a larger PUT is taken", append(bytes.Clone(p.body), '!'), nil},
		{"a PUT of other bytes is taken", other, nil},
		{"a PUT without its condition is taken", p.body, map[string]string{"If-None-Match": ""}},
	} {
		status, err := p.put(ctx, m.body, m.with)
		if err != nil {
			return err
		}
		if status < 400 {
			p.broken = append(p.broken, m.what)
		}
	}
	return nil
}

// use puts the object, and once more.
func (p *probe) use(ctx context.Context) error {
	first, err := p.put(ctx, p.body, nil)
	if err != nil {
		return err
	}
	if first != http.StatusOK && len(p.broken) == 0 {
		p.broken = append(p.broken, fmt.Sprintf("a PUT as granted answers %d", first))
	}
	second, err := p.put(ctx, p.body, nil)
	if err == nil && second != http.StatusPreconditionFailed {
		p.broken = append(p.broken, fmt.Sprintf("a second PUT answers %d, not 412", second))
	}
	return err
}

// reading tries who may read.
func (p *probe) reading(ctx context.Context) error {
	signed, err := p.o.presignGet(ctx, p.o.inside, p.key, "", "text/csv", time.Minute)
	if err != nil {
		return err
	}
	bare, _, _ := strings.Cut(signed, "?")
	for _, m := range []struct {
		what, address string
		allowed       bool
	}{
		{"a signed read is refused", signed, true},
		{"an unsigned read is answered", bare, false},
		{"an unsigned list is answered", strings.TrimSuffix(bare, p.key) + "?list-type=2", false},
		{"the type of a signed read can be changed", strings.Replace(signed, url.QueryEscape("text/csv"), url.QueryEscape("text/html"), 1), false},
	} {
		status, body, err := p.get(ctx, m.address)
		if err != nil {
			return err
		}
		if good := status == http.StatusOK; good != m.allowed || good && !bytes.Equal(body, p.body) {
			p.broken = append(p.broken, m.what)
		}
	}
	return nil
}

func (p *probe) put(ctx context.Context, body []byte, with map[string]string) (int, error) {
	req, err := http.NewRequestWithContext(ctx, http.MethodPut, p.address, bytes.NewReader(body))
	if err != nil {
		return 0, err
	}
	for name, value := range p.headers {
		req.Header.Set(name, value)
	}
	for name, value := range with {
		if value == "" {
			req.Header.Del(name)
		} else {
			req.Header.Set(name, value)
		}
	}
	status, _, err := p.send(req)
	return status, err
}

func (p *probe) get(ctx context.Context, address string) (int, []byte, error) {
	req, err := http.NewRequestWithContext(ctx, http.MethodGet, address, nil)
	if err != nil {
		return 0, nil, err
	}
	return p.send(req)
}

func (p *probe) send(req *http.Request) (int, []byte, error) {
	res, err := p.o.http.Do(req)
	if err != nil {
		var u *url.Error
		if errors.As(err, &u) {
			err = u.Err // without the signed address
		}
		return 0, nil, &domain.Fault{Kind: domain.Unavailable, Text: "The store for files does not answer.", Err: err}
	}
	defer res.Body.Close()
	body, err := io.ReadAll(io.LimitReader(res.Body, 1<<16))
	return res.StatusCode, body, err
}
