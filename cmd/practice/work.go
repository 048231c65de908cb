package main

import (
	"context"
	"errors"
	"log/slog"
	"os"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store"
	"boottop.example/practice/store/post"
)

// jobsAtOnce keeps a small machine's second core for callers.
const jobsAtOnce = 4

// work does the jobs. Several may run beside each other and beside any number of serve.
func work(ctx context.Context, args, environ []string) error {
	s, err := load("work", args, environ, append(needsStores, "BOOTTOP_WORKER_DATABASE_URL", "BOOTTOP_PUBLIC_URL")...)
	if err != nil {
		return err
	}
	send, err := s.sender()
	if err != nil {
		return err
	}
	s.logTo(os.Stderr)
	slog.Info("starting", s.report()...)
	db, err := store.Open(ctx, store.Config{URL: string(s.Database), MaxConns: s.MaxConns})
	if err != nil {
		return err
	}
	defer db.Close()
	uses, err := s.practice(db)
	if err != nil {
		return err
	}
	err = store.Work(ctx, string(s.WorkerDatabase), jobsAtOnce, map[string]store.Handler{
		store.MailJob:               store.HandlerOf(func(ctx context.Context, job store.MailArgs) error { return db.Deliver(ctx, job, send) }),
		practice.JobMakeReport:      store.HandlerOf(uses.MakeReport),
		practice.JobMakeAddendum:    store.HandlerOf(uses.MakeAddendum),
		practice.JobMakePhoto:       store.HandlerOf(uses.MakePhoto),
		practice.JobSweepUpload:     store.HandlerOf(uses.SweepUpload),
		practice.JobRecall:          store.HandlerOf(uses.RecallByItself),
		practice.JobDigest:          store.HandlerOf(uses.SendDigests),
		practice.JobMakeClientPhoto: store.HandlerOf(uses.MakeClientPhoto),
		practice.JobEraseObjects:    store.HandlerOf(uses.EraseObjects),
	})
	slog.Info("stopped")
	return err
}

// sender is where letters go.
func (s *settings) sender() (post.Sender, error) {
	switch {
	case s.MailDir != "":
		return post.Folder(s.MailDir, s.MailFrom)
	case s.SMTP != "":
		return post.SMTP(string(s.SMTP), s.MailFrom)
	}
	return nil, errors.New("practice work cannot start:\nBOOTTOP_SMTP_URL (or BOOTTOP_MAIL_DIR, for development) is needed")
}
