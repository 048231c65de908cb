package auth

import (
	"crypto/ed25519"
	"crypto/hkdf"
	"crypto/hmac"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/golang-jwt/jwt/v5"
	"github.com/google/uuid"

	"boottop.example/practice/domain/entry"
	"boottop.example/practice/graph/strict"
)

const (
	accessLasts = 9 * time.Minute // with clockSlack below the ten minutes promised
	clockSlack  = 5 * time.Second // between machines that share a key
	accessType  = "at+jwt"        // RFC 9068, section 2.1
	audience    = "boottop"
	tokenMost   = 1024 // bytes; ours have about 400
)

// Keys signs access tokens and derives refresh tokens. The seed never leaves it.
type Keys struct {
	issuer  string
	kid     string
	private ed25519.PrivateKey
	public  map[string]ed25519.PublicKey // by kid; the only keys that are ever asked
	renew   []byte
	parser  *jwt.Parser
}

// NewKeys takes Ed25519 seeds of 32 bytes: the first signs, all of them verify, so that a
// key can be replaced without signing anybody out.
func NewKeys(issuer string, now func() time.Time, seeds ...[]byte) (*Keys, error) {
	if len(seeds) == 0 {
		return nil, errors.New("signing key: none given")
	}
	k := &Keys{issuer: issuer, public: map[string]ed25519.PublicKey{}}
	for i, seed := range seeds {
		if len(seed) != ed25519.SeedSize {
			return nil, fmt.Errorf("signing key: a seed has %d bytes, this one %d", ed25519.SeedSize, len(seed))
		}
		if strings.Trim(string(seed), string(seed[:1])) == "" {
			return nil, errors.New("signing key: one byte repeated is no seed; make one with `head -c 32 /dev/urandom | base64`")
		}
		private := ed25519.NewKeyFromSeed(seed)
		public := private.Public().(ed25519.PublicKey)
		sum := sha256.Sum256(public)
		kid := hex.EncodeToString(sum[:8])
		k.public[kid] = public
		if i > 0 {
			continue
		}
		var err error
		k.kid, k.private = kid, private
		if k.renew, err = hkdf.Key(sha256.New, seed, nil, "boottop refresh 1", 32); err != nil {
			return nil, fmt.Errorf("signing key: %w", err)
		}
	}
	k.parser = jwt.NewParser(
		jwt.WithValidMethods([]string{jwt.SigningMethodEdDSA.Alg()}), jwt.WithStrictDecoding(), jwt.WithExpirationRequired(),
		jwt.WithIssuedAt(), jwt.WithIssuer(issuer), jwt.WithAudience(audience), jwt.WithLeeway(clockSlack), jwt.WithTimeFunc(now),
	)
	return k, nil
}

// access makes the token of a session.
func (k *Keys) access(session uuid.UUID, now time.Time) (string, error) {
	t := jwt.NewWithClaims(jwt.SigningMethodEdDSA, jwt.MapClaims{
		"iss": k.issuer, "aud": audience, "sub": session.String(), "iat": now.Unix(), "exp": now.Add(accessLasts).Unix(),
	})
	t.Header["typ"], t.Header["kid"] = accessType, k.kid
	return t.SignedString(k.private)
}

var errToken = errors.New("not an access token of ours")

// session reads an access token. Its shape is checked before the library sees it: exactly
// our header and our claims, each once and in its own case, because the library looks at
// neither typ nor crit, takes `EXP` for `exp`, and lets the last of two equal keys win.
func (k *Keys) session(token string) (uuid.UUID, error) {
	if len(token) > tokenMost || strings.Count(token, ".") != 2 {
		return uuid.Nil, errToken
	}
	parts := strings.Split(token, ".")
	header, err := segment(parts[0], "alg", "kid", "typ")
	if err != nil || header["alg"] != jwt.SigningMethodEdDSA.Alg() || header["typ"] != accessType {
		return uuid.Nil, errToken
	}
	kid, _ := header["kid"].(string)
	public, known := k.public[kid]
	if !known {
		return uuid.Nil, errToken
	}
	claims, err := segment(parts[1], "iss", "aud", "sub", "iat", "exp")
	if err != nil || claims["aud"] != audience { // a list, even of ours alone, is not ours
		return uuid.Nil, errToken
	}
	parsed, err := k.parser.Parse(token, func(*jwt.Token) (any, error) { return public, nil })
	if err != nil {
		return uuid.Nil, fmt.Errorf("%w: %w", errToken, err)
	}
	issued, err := parsed.Claims.GetIssuedAt()
	expires, err2 := parsed.Claims.GetExpirationTime()
	if err != nil || err2 != nil || issued == nil || expires.Sub(issued.Time) != accessLasts {
		return uuid.Nil, errToken
	}
	subject, _ := claims["sub"].(string)
	id, err := uuid.Parse(subject)
	if err != nil || id.String() != subject {
		return uuid.Nil, errToken
	}
	return id, nil
}

var url64 = base64.RawURLEncoding.Strict()

// segment decodes one part of a token that must have exactly these keys.
func segment(part string, keys ...string) (map[string]any, error) {
	raw, err := url64.DecodeString(part)
	if err != nil {
		return nil, errToken
	}
	object, err := strict.Object(raw, strict.Limits{Depth: 1, List: 1, Values: 16})
	if err != nil || len(object) != len(keys) {
		return nil, errToken
	}
	for _, key := range keys {
		if object[key] == nil {
			return nil, errToken
		}
	}
	return object, nil
}

// secret is what somebody outside holds: in a cookie, a link or a program's settings.
// The database knows its hash alone.
type secret string

func (s secret) hash() entry.Token { return sha256.Sum256([]byte(s)) }

// successor is the refresh token that follows one. It depends on nothing but the token
// and the key, so whoever lost the reply gets the same one again.
func (k *Keys) successor(s secret) secret {
	mac := hmac.New(sha256.New, k.renew)
	mac.Write([]byte(s))
	return secret(url64.EncodeToString(mac.Sum(nil)))
}
