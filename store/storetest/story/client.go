package story

import (
	"context"
	"fmt"
	"regexp"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

// linkLetter finds the link to a report in the letter that brought it.
var linkLetter = regexp.MustCompile(`/s/([A-Za-z0-9_-]{43})`)

// link is the secret of the newest link to a report.
func (w *World) link() string {
	w.T.Helper()
	var body string
	err := w.Owner.QueryRow(w.T.Context(), `select body from mails where practice_id = $1 and kind = 'share' order by created_at desc, id desc limit 1`, w.Practice).Scan(&body)
	if err != nil {
		w.T.Fatal(err)
	}
	return linkLetter.FindStringSubmatch(body)[1]
}

// Said is one thing that a client does; done again it is the same.
type Said struct {
	Name string
	Say  func(context.Context) error
}

// Hear lists everything that a client does with a report that was shared, in order: by
// the link first, then from an account.
func (w *World) Hear() []Said {
	w.T.Helper()
	const picture = "\xff\xd8\xff"
	account, upload := newID(), newID()
	if _, err := w.Owner.Exec(w.T.Context(), `insert into accounts (id, email, password_hash, created_at) values ($1, $2, '', now())`, account, account.String()+"@dunlin.example"); err != nil {
		w.T.Fatal(err)
	}
	code, grant, write, answer, permit, withdraw := newID(), newID(), newID(), newID(), newID(), newID()
	s, client := w.Service, domain.Actor{Account: account, Means: domain.ByAccount, Roles: []domain.Role{domain.Client}}
	kept := func(ctx context.Context) (practice.Holder, error) {
		home, err := s.ClientHome(ctx, practice.Holder{Actor: client})
		if err != nil || len(home.Reports) == 0 {
			return practice.Holder{}, fmt.Errorf("the account opens %d reports: %w", len(home.Reports), err)
		}
		return practice.Holder{Actor: client, Report: home.Reports[0].Key}, nil
	}
	from := func(say func(context.Context, practice.Holder) error) func(context.Context) error {
		return func(ctx context.Context) error {
			who, err := kept(ctx)
			if err != nil {
				return err
			}
			return say(ctx, who)
		}
	}
	return []Said{
		{"a code is sent", func(ctx context.Context) error {
			_, _, err := s.SendShareCode(ctx, practice.Holder{Link: w.link()}, code)
			return err
		}},
		{"the reports are kept", func(ctx context.Context) error { return s.GrantClient(ctx, w.link(), account) }},
		{"a photo is granted", from(func(ctx context.Context, who practice.Holder) error {
			_, err := s.GrantClientPhoto(ctx, who, practice.GrantUpload{Mutation: grant, ID: upload, ContentType: "image/jpeg", SizeBytes: 3, Sha256: sumOf(picture)})
			return err
		})},
		{"a task is answered", from(func(ctx context.Context, who practice.Holder) error {
			w.store(upload, "image/jpeg", picture)
			_, _, err := s.AnswerTask(ctx, who, practice.AnswerTask{Mutation: answer, Task: 1, Answer: "claimed done", Photo: &upload})
			return err
		})},
		{"a message is written", from(func(ctx context.Context, who practice.Holder) error {
			_, _, err := s.WriteToPractice(ctx, who, practice.WriteToPractice{Mutation: write, Text: "May she go in on Friday?"})
			return err
		})},
		{"leave is given", from(func(ctx context.Context, who practice.Holder) error {
			_, _, err := s.PermitSharing(ctx, who, practice.PermitSharing{Mutation: permit, Name: "Skerrow Mutual", Email: "desk@mutual.example"})
			return err
		})},
		{"leave is taken back", from(func(ctx context.Context, who practice.Holder) error {
			_, _, err := s.WithdrawSharing(ctx, who, practice.WithdrawSharing{Mutation: withdraw, Number: 1})
			return err
		})},
	}
}

// hear has the client do all of it.
func (w *World) hear() {
	w.T.Helper()
	for _, said := range w.Hear() {
		if err := said.Say(w.T.Context()); err != nil {
			w.T.Fatalf("%s: %v", said.Name, err)
		}
	}
}
