package auth

import (
	"fmt"
	"strings"

	"github.com/google/uuid"
	"golang.org/x/crypto/argon2"

	"boottop.example/practice/domain/entry"
)

// HashWith makes a hash with other costs than those of today.
func HashWith(password string, memory, passes uint32) string {
	salt := []byte("sixteen bytes ok")
	sum := argon2.IDKey(normal(password), salt, passes, memory, 1, hashBytes)
	return strings.Replace(phc(salt, sum), fmt.Sprintf("m=%d,t=%d", argonMemory, argonPasses), fmt.Sprintf("m=%d,t=%d", memory, passes), 1)
}

// Session reads an access token.
func (k *Keys) Session(token string) (uuid.UUID, error) { return k.session(token) }

// Successor gives the refresh token that follows one.
func (k *Keys) Successor(token string) string { return string(k.successor(secret(token))) }

// TokenOf gives what the database keeps of a token.
func TokenOf(token string) entry.Token { return secret(token).hash() }

// NewKey makes an API key: its text for the one who asked, its hash for the database.
func NewKey() (text string, hash entry.Token) {
	s := newSecret(KeyPrefix)
	return string(s), s.hash()
}
