package history

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"net"
	"net/http"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5/pgxpool"

	"boottop.example/practice/cmd/proof/ground"
	"boottop.example/practice/cmd/proof/plain"
	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/graph"
	"boottop.example/practice/graph/auth"
	"boottop.example/practice/graph/wire"
	"boottop.example/practice/store"
)

// side is one of the servers that are held beside each other.
type side struct {
	name string
	addr string
	body func(vessel uuid.UUID) []byte // what asks for a vessel's history
	stop func()
}

// conns is how many connections each side has: as many as the callers can use.
const conns = 8

// serveOurs puts the service's own handler on loopback, as a signed-in surveyor sees it.
func serveOurs(ctx context.Context, f ground.Fleet, config store.Config) (*side, error) {
	return serveDocument(ctx, "columns", ours, f, config)
}

// serveDocument answers one stored document.
func serveDocument(ctx context.Context, name, document string, f ground.Fleet, config store.Config) (*side, error) {
	db, err := store.Open(ctx, config)
	if err != nil {
		return nil, err
	}
	sum := sha256.Sum256([]byte(document))
	id := "sha256:" + hex.EncodeToString(sum[:])
	manifest, err := json.Marshal(map[string]string{id: document})
	if err != nil {
		return nil, err
	}
	endpoint, err := graph.Serve(&graph.Resolver{Practice: practice.New(db)}, false, manifest)
	if err != nil {
		return nil, err
	}
	if left := endpoint.Leftover(); len(left) > 0 {
		return nil, fmt.Errorf("the schema no longer takes the document of this proof: %v", left)
	}
	actor := domain.Actor{Practice: f.Practice, Member: f.Member, Means: domain.BySession, Roles: []domain.Role{domain.Surveyor}}
	as := http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		endpoint.ServeHTTP(w, r.WithContext(auth.WithActor(r.Context(), actor)))
	})
	return serve(name, as, db.Close, func(vessel uuid.UUID) []byte {
		return []byte(`{"documentId":"` + id + `","variables":{"id":"` + wire.New(wire.Vessel, vessel).String() + `"}}`)
	})
}

// servePlain puts the list of reading objects on loopback.
func servePlain(ctx context.Context, f ground.Fleet, url string) (*side, error) {
	config, err := pgxpool.ParseConfig(url)
	if err != nil {
		return nil, err
	}
	config.MaxConns = conns
	pool, err := pgxpool.NewWithConfig(ctx, config)
	if err != nil {
		return nil, err
	}
	document, err := json.Marshal(objects)
	if err != nil {
		return nil, err
	}
	return serve("objects", plain.Handler(&plain.Resolver{Pool: pool, Practice: f.Practice}), pool.Close, func(vessel uuid.UUID) []byte {
		return []byte(`{"query":` + string(document) + `,"variables":{"id":"` + vessel.String() + `"}}`)
	})
}

func serve(name string, h http.Handler, done func(), body func(uuid.UUID) []byte) (*side, error) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return nil, err
	}
	server := &http.Server{Handler: h} //nolint:gosec // loopback, and nobody but this program
	go func() { _ = server.Serve(l) }()
	return &side{name: name, addr: l.Addr().String(), body: body, stop: func() { _ = server.Close(); done() }}, nil
}
