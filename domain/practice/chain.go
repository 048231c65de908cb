package practice

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"time"

	"github.com/google/uuid"
)

// Link is one line of the record of changes as it is kept, with its place in the chain.
type Link struct {
	ID        uuid.UUID
	Actor     *uuid.UUID
	ActorKind string
	Operation string
	Input     []byte
	Result    string
	Seq       int64
	At        time.Time
	Chain     []byte
}

// Anchor is the head of the record at an earlier time, known from elsewhere: an issued
// report holds one and prints it.
type Anchor struct {
	Seq   int64
	Chain []byte
	From  string // where it is known from, for people
}

// ChainReader reads the record of changes for whoever looks whether it was tampered with.
type ChainReader interface {
	// Chain hands each line to fn in the order of seq, as all stood at one moment, and
	// tells the head of that moment and the heads that issued reports hold.
	Chain(ctx context.Context, practice uuid.UUID, fn func(Link) error) (Head, []Anchor, error)
}

// seal gives the chain hash of a line after the one before: the canonical bytes, version
// 1, are the previous chain, then the fields joined by '|', the instant in whole
// microseconds. The database's record_mutation makes the same.
func (l Link) seal(before []byte, practice uuid.UUID) []byte {
	actor := "-"
	if l.Actor != nil {
		actor = l.Actor.String()
	}
	h := sha256.New()
	h.Write(before)
	fmt.Fprintf(h, "1|%s|%s|%s|%s|%s|%s|%s|%d|%d", practice, l.ID, actor, l.ActorKind, l.Operation, hex.EncodeToString(l.Input), l.Result, l.Seq, l.At.UnixMicro())
	return h.Sum(nil)
}

// Verified is what a look through a practice's record found.
type Verified struct {
	Lines  int64
	Head   Head
	Breaks []string // what does not fit, in words; empty where nothing was tampered with
}

// mostBreaks is how many breaks are told; after the first, the rest says little.
const mostBreaks = 20

// VerifyChain recomputes a practice's record of changes and tells what does not fit: a
// line changed, taken out, put in or moved, a head that is not the last line's, an anchor
// that the chain does not pass through. A record rewritten whole, or cut at its end
// together with the head, shows only against an anchor.
func VerifyChain(ctx context.Context, r ChainReader, practice uuid.UUID, known []Anchor) (Verified, error) {
	v := verifier{practice: practice, chain: sha256.New().Sum(nil), at: map[int64][]byte{}}
	head, anchors, err := r.Chain(ctx, practice, v.line)
	if err != nil {
		return v.found, err
	}
	v.found.Head = head
	v.end(head, append(anchors, known...))
	return v.found, nil
}

type verifier struct {
	practice uuid.UUID
	found    Verified
	seq      int64
	chain    []byte
	at       map[int64][]byte // the chain at each seq, recomputed
}

func (v *verifier) broken(format string, args ...any) {
	if len(v.found.Breaks) < mostBreaks {
		v.found.Breaks = append(v.found.Breaks, fmt.Sprintf(format, args...))
	}
}

// line checks one line against those before it. After a break it goes on from the hash
// that is kept, so that a later break shows too.
func (v *verifier) line(l Link) error {
	v.found.Lines++
	switch {
	case l.Seq == v.seq+1:
	case l.Seq <= v.seq:
		v.broken("change %d stands twice", l.Seq)
	default:
		v.broken("changes %d to %d are missing", v.seq+1, l.Seq-1)
	}
	if sealed := l.seal(v.chain, v.practice); string(sealed) != string(l.Chain) {
		v.broken("change %d (%s of %s) is not what was sealed after change %d", l.Seq, l.Operation, l.At.Format(time.RFC3339), v.seq)
	}
	v.seq, v.chain = l.Seq, l.Chain
	v.at[l.Seq] = l.Chain
	return nil
}

func (v *verifier) end(head Head, anchors []Anchor) {
	switch {
	case head.Seq > v.seq:
		v.broken("the head stands at change %d, the last line is %d: the end was cut off", head.Seq, v.seq)
	case head.Seq < v.seq:
		v.broken("the head stands at change %d, but there are lines up to %d: they were put in past it", head.Seq, v.seq)
	case string(head.Chain) != string(v.chain):
		v.broken("the head does not carry the hash of the last line")
	}
	for _, a := range anchors {
		switch chain, there := v.at[a.Seq]; {
		case a.Seq == 0:
		case !there:
			v.broken("%s names change %d, which is not there", a.From, a.Seq)
		case string(chain) != string(a.Chain):
			v.broken("%s names another hash at change %d: what came before was rewritten", a.From, a.Seq)
		}
	}
}
