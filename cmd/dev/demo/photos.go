package demo

import (
	"bytes"
	"context"
	"crypto/sha256"
	"fmt"
	"io"
	"net/http"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

// photo draws a picture and takes it the way that every file takes: leave to put it,
// the put itself, its check, the pin. The copies are made at once.
func (a *afloat) photo(ctx context.Context, by domain.Actor, j *job, v *visit, p photo, drawn func() ([]byte, error)) error {
	if a.Objects == nil {
		return nil
	}
	picture, err := drawn()
	if err != nil {
		return err
	}
	upload, is := a.of("upload", p.key), a.of("photo", p.key)
	sum := sha256.Sum256(picture)
	grant, err := a.GrantUpload(ctx, by, practice.GrantUpload{
		Mutation: a.mut("grant", p.key), ID: upload, Purpose: "photo", ContentType: "image/jpeg", SizeBytes: int64(len(picture)), Sha256: sum[:], FileName: p.shows + ".jpg",
	})
	if err != nil {
		return err
	}
	if grant.URL != "" {
		if err := put(ctx, grant, picture); err != nil {
			return err
		}
	}
	if err := done(a.FinishUpload(ctx, by, practice.FinishUpload{Mutation: a.mut("finish", p.key), Upload: upload})); err != nil {
		return err
	}
	in := practice.AddPhoto{Mutation: a.mut("photo", p.key), ID: is, Upload: upload, Vessel: a.id, Visit: new(a.visitID(j, v)), Caption: p.caption, TakenAt: new(a.now.UTC())}
	if p.place != "" {
		if _, err := a.ordinal(p.place); err != nil {
			return err
		}
		in.Place = new(a.places[p.place])
	}
	if p.finding != "" {
		in.Finding = new(a.of("finding", p.finding))
	}
	if err := done(a.AddPhoto(ctx, by, in)); err != nil {
		return err
	}
	return a.MakePhoto(ctx, practice.PhotoJob{Practice: a.homes[a.house], Photo: is})
}

// put sends a file with just the headers that its grant names. One that an earlier load
// has put is left as it is.
func put(ctx context.Context, grant practice.Grant, b []byte) error {
	request, err := http.NewRequestWithContext(ctx, http.MethodPut, grant.URL, bytes.NewReader(b))
	if err != nil {
		return err
	}
	for name, value := range grant.Headers {
		request.Header.Set(name, value)
	}
	answer, err := http.DefaultClient.Do(request)
	if err != nil {
		return fmt.Errorf("put photo: %w", err)
	}
	defer answer.Body.Close()
	said, _ := io.ReadAll(io.LimitReader(answer.Body, 300))
	if answer.StatusCode/100 != 2 && answer.StatusCode != http.StatusPreconditionFailed {
		return fmt.Errorf("put photo: %s: %s", answer.Status, said)
	}
	return nil
}
