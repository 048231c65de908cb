package auth

import (
	"context"
	"crypto/rand"
	"crypto/subtle"
	"encoding/base64"
	"fmt"
	"strings"
	"unicode/utf8"

	"golang.org/x/crypto/argon2"
	"golang.org/x/text/unicode/norm"

	"boottop.example/practice/domain"
)

// The cost of a hash: 19 MiB, two passes, one lane, which OWASP's password storage cheat
// sheet gives for argon2id (from memory). A hash made with other costs still verifies and
// is made anew at the next sign-in.
const (
	argonMemory = 19 * 1024 // KiB
	argonPasses = 2
	argonLanes  = 1
	saltBytes   = 16
	hashBytes   = 32
)

// Passwords longer than this are refused before anything is computed from them.
const (
	passwordFewest = 12   // characters
	passwordMost   = 1024 // bytes
)

// hasher makes and checks password hashes, two at a time: each takes 19 MiB, so that a
// crowd of sign-ins would otherwise be an attack on memory.
type hasher struct {
	turns   chan struct{}
	waiting chan struct{}
	nobody  string // the hash checked where no account has the address, at the same cost
}

func newHasher() *hasher {
	h := &hasher{turns: make(chan struct{}, 2), waiting: make(chan struct{}, 64)}
	salt := make([]byte, saltBytes)
	h.nobody = phc(salt, argon2.IDKey([]byte(rand.Text()), salt, argonPasses, argonMemory, argonLanes, hashBytes))
	return h
}

// turn waits for one of the two places; where 64 wait already, or the caller has gone, it
// does not.
func (h *hasher) turn(ctx context.Context) (done func(), err error) {
	busy := &domain.Fault{Kind: domain.Unavailable, Text: "Many people are signing in at this moment. Please try again in a few seconds."}
	select {
	case h.waiting <- struct{}{}:
		defer func() { <-h.waiting }()
	default:
		return nil, busy
	}
	select {
	case h.turns <- struct{}{}:
		return func() { <-h.turns }, nil
	case <-ctx.Done():
		return nil, busy
	}
}

// make hashes a password that newPassword has let through.
func (h *hasher) make(ctx context.Context, password string) (string, error) {
	done, err := h.turn(ctx)
	if err != nil {
		return "", err
	}
	defer done()
	salt := make([]byte, saltBytes)
	rand.Read(salt) // never fails: crypto/rand ends the process instead
	return phc(salt, argon2.IDKey(normal(password), salt, argonPasses, argonMemory, argonLanes, hashBytes)), nil
}

// check tells whether a password is the one that was hashed, and whether the hash has
// other costs than those of today. An empty hash is nobody's: it costs the same and fails.
func (h *hasher) check(ctx context.Context, password, hash string) (right, outdated bool, err error) {
	if len(password) > passwordMost {
		return false, false, nil
	}
	nobody := hash == ""
	if nobody {
		hash = h.nobody
	}
	k, err := parsePHC(hash)
	if err != nil {
		return false, false, err
	}
	done, err := h.turn(ctx)
	if err != nil {
		return false, false, err
	}
	defer done()
	sum := argon2.IDKey(normal(password), k.salt, k.passes, k.memory, k.lanes, uint32(len(k.sum)))
	right = subtle.ConstantTimeCompare(sum, k.sum) == 1 && !nobody
	outdated = k.memory != argonMemory || k.passes != argonPasses || k.lanes != argonLanes || len(k.sum) != hashBytes
	return right, outdated, nil
}

// normal is the form that is hashed: NFC, so that an é is one password whichever way a
// keyboard composes it.
func normal(password string) []byte { return norm.NFC.Bytes([]byte(password)) }

// newPassword refuses what cannot become a password, and says why.
func newPassword(field, password string) error {
	switch {
	case len(password) > passwordMost:
		return domain.Invalidf(field, "A password has at most %d bytes.", passwordMost)
	case utf8.RuneCountInString(password) < passwordFewest:
		return domain.Invalidf(field, "A password has twelve characters or more; a few plain words do well.")
	case strings.Trim(password, firstLetter(password)) == "":
		return domain.Invalidf(field, "One character repeated is no password; a few plain words do well.")
	}
	return nil
}

func firstLetter(text string) string {
	_, size := utf8.DecodeRuneInString(text)
	return text[:size]
}

type argonHash struct {
	memory, passes uint32
	lanes          uint8
	salt, sum      []byte
}

var plain64 = base64.RawStdEncoding.Strict()

// phc writes the PHC string format: $argon2id$v=19$m=…,t=…,p=…$salt$hash.
func phc(salt, sum []byte) string {
	return fmt.Sprintf("$argon2id$v=%d$m=%d,t=%d,p=%d$%s$%s", argon2.Version, argonMemory, argonPasses, argonLanes,
		plain64.EncodeToString(salt), plain64.EncodeToString(sum))
}

// parsePHC reads it back, within costs that this service could have asked for.
func parsePHC(text string) (k argonHash, err error) {
	parts := strings.Split(text, "$")
	if len(parts) != 6 || parts[0] != "" || parts[1] != "argon2id" || parts[2] != fmt.Sprintf("v=%d", argon2.Version) {
		return k, fmt.Errorf("password hash: not an argon2id PHC string")
	}
	if _, err := fmt.Sscanf(parts[3], "m=%d,t=%d,p=%d", &k.memory, &k.passes, &k.lanes); err != nil {
		return k, fmt.Errorf("password hash: costs: %w", err)
	}
	if k.salt, err = plain64.DecodeString(parts[4]); err != nil {
		return k, fmt.Errorf("password hash: salt: %w", err)
	}
	if k.sum, err = plain64.DecodeString(parts[5]); err != nil {
		return k, fmt.Errorf("password hash: sum: %w", err)
	}
	if k.memory < 8 || k.memory > 1<<18 || k.passes < 1 || k.passes > 16 || k.lanes < 1 || k.lanes > 8 || len(k.salt) < 8 || len(k.sum) < 16 || len(k.sum) > 64 {
		return k, fmt.Errorf("password hash: costs out of bounds")
	}
	return k, nil
}

// Hash makes a password's hash outside of a request, for what sets up a practice by
// command: the demonstration, and the first principal.
func Hash(ctx context.Context, password string) (string, error) {
	if err := newPassword("password", password); err != nil {
		return "", err
	}
	return (&hasher{turns: make(chan struct{}, 1), waiting: make(chan struct{}, 1)}).make(ctx, password)
}
