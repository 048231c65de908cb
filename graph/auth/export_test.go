package auth

import (
	"fmt"
	"strings"

	"golang.org/x/crypto/argon2"
)

// HashWith makes a hash with other costs than those of today.
func HashWith(password string, memory, passes uint32) string {
	salt := []byte("sixteen bytes ok")
	sum := argon2.IDKey(normal(password), salt, passes, memory, 1, hashBytes)
	return strings.Replace(phc(salt, sum), fmt.Sprintf("m=%d,t=%d", argonMemory, argonPasses), fmt.Sprintf("m=%d,t=%d", memory, passes), 1)
}
