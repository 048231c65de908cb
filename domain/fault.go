// Package domain holds the words that every part of the service shares: who acts,
// what each may do, and what an error says to a person.
package domain

import (
	"errors"
	"fmt"
)

// Kind sorts faults by what the caller can do about them. The zero kind is
// Internal, so that what nobody classified stays in the log.
type Kind uint8

// The kinds of fault.
const (
	Internal        Kind = iota // ours; the caller learns a number to quote, nothing else
	Invalid                     // the input can be put right
	Unauthenticated             // nobody is signed in, or no longer
	Forbidden                   // somebody is, who may not do this
	NotFound                    // not there, or hidden: the same answer
	Conflict                    // somebody else was first, or the same id came with other content
	Unavailable                 // for the moment; worth trying again
)

var codes = [...]string{"INTERNAL", "INVALID", "UNAUTHENTICATED", "FORBIDDEN", "NOT_FOUND", "CONFLICT", "UNAVAILABLE"}

// Code gives the kind as answers carry it.
func (k Kind) Code() string { return codes[k] }

// Fault is an error for a person: a sentence, and the input field it speaks of.
type Fault struct {
	Kind  Kind
	Field string // path into the input, e.g. "placements[2]"; empty where it is about the whole
	Text  string // says what is wrong and what to do
	Err   error  // what lies behind it, for the log
}

func (f *Fault) Error() string {
	if f.Err != nil {
		return fmt.Sprintf("%s: %s: %v", f.Kind.Code(), f.Text, f.Err)
	}
	return f.Kind.Code() + ": " + f.Text
}

func (f *Fault) Unwrap() error { return f.Err }

// Invalidf says what is wrong with a field and what to do.
func Invalidf(field, format string, args ...any) error {
	return &Fault{Kind: Invalid, Field: field, Text: fmt.Sprintf(format, args...)}
}

// Forbiddenf says who may do what was asked.
func Forbiddenf(format string, args ...any) error {
	return &Fault{Kind: Forbidden, Text: fmt.Sprintf(format, args...)}
}

// Conflictf says what came first.
func Conflictf(format string, args ...any) error {
	return &Fault{Kind: Conflict, Text: fmt.Sprintf(format, args...)}
}

// ErrNotFound is the one answer for what is not there and for what is hidden.
var ErrNotFound error = &Fault{Kind: NotFound, Text: "There is no such thing here, or it is not yours to see."}

// ErrUnauthenticated is the one answer to whoever has not signed in.
var ErrUnauthenticated error = &Fault{Kind: Unauthenticated, Text: "Please sign in."}

// KindOf finds the kind of an error that may be wrapped; Internal where it is no Fault.
func KindOf(err error) Kind {
	var f *Fault
	if errors.As(err, &f) {
		return f.Kind
	}
	return Internal
}
