package practice

import (
	"context"
	"crypto/sha256"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// keyPrefix begins every API key, so that one that leaks can be found by search.
const keyPrefix = "btk_"

// APIKey is a key by which a program acts for a member.
type APIKey struct {
	ID         uuid.UUID
	Name       string
	Member     MemberLine
	CreatedAt  time.Time
	RevokedAt  *time.Time
	LastUsedOn *time.Time // a day, by UTC; nil: never, as far as is noted
}

// APIKeys lists the practice's API keys, newest first.
func (s *Service) APIKeys(ctx context.Context, a domain.Actor) ([]APIKey, error) {
	if err := domain.May(a, domain.ManageKeys); err != nil {
		return nil, err
	}
	return s.store.APIKeys(ctx, a.Practice)
}

// APIKey reads one API key; its text is not kept.
func (s *Service) APIKey(ctx context.Context, a domain.Actor, id uuid.UUID) (APIKey, error) {
	if err := domain.May(a, domain.ManageKeys); err != nil {
		return APIKey{}, err
	}
	return s.store.APIKey(ctx, a.Practice, id)
}

// CreateAPIKey is a new API key for a member.
type CreateAPIKey struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
	Member   uuid.UUID
	Name     string
}

// CreateAPIKey makes an API key. Its text is answered this once: only its hash is kept,
// and the same mutation sent again answers an empty text.
func (s *Service) CreateAPIKey(ctx context.Context, a domain.Actor, in CreateAPIKey) (done Done, text string, err error) {
	token, err := newToken()
	if err != nil {
		return Done{}, "", err
	}
	text = keyPrefix + token
	done, err = s.write(ctx, &a, domain.ManageKeys, "createApiKey", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.ID); err != nil {
			return Done{}, err
		}
		k := APIKey{ID: in.ID, Name: strings.TrimSpace(in.Name), Member: MemberLine{ID: in.Member}, CreatedAt: s.instant()}
		if err := oneLine("name", k.Name, 100); err != nil {
			return Done{}, err
		}
		m, err := tx.Member(ctx, in.Member)
		if err != nil {
			return Done{}, err
		}
		if m.LeftAt != nil {
			return Done{}, domain.Invalidf("member", "This member has left the practice; nobody acts for him or her.")
		}
		return touched(ref(domain.ThingAPIKey, k.ID)), tx.InsertAPIKey(ctx, k, sha256.Sum256([]byte(text)))
	})
	if err != nil || done.Again {
		return done, "", err
	}
	return done, text, nil
}

// RevokeAPIKey ends an API key.
type RevokeAPIKey struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
}

// RevokeAPIKey ends an API key. One that was ended before keeps its day.
func (s *Service) RevokeAPIKey(ctx context.Context, a domain.Actor, in RevokeAPIKey) (Done, error) {
	return s.write(ctx, &a, domain.ManageKeys, "revokeApiKey", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		return touched(ref(domain.ThingAPIKey, in.ID)), tx.RevokeAPIKey(ctx, in.ID, s.instant())
	})
}
