// Package kill proves that nothing acknowledged is lost, and nothing is done twice, when the
// service is killed at any point while programs send: promise B1.
package kill

import (
	"bytes"
	"context"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	mathrand "math/rand/v2"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/cmd/proof/ground"
)

// Proof is promise B1, for programs that send again what was not answered.
var Proof = ground.Proof{
	Name:  "kill",
	Brief: "the service killed at any point while programs send: nothing acknowledged is lost, nothing is done twice",
	Run:   run,
}

const (
	writers = 4
	patient = time.Minute // for the service to be ready again
)

// Figures is what happened.
type Figures struct {
	Kills   int `json:"kills"`
	Acked   int `json:"acked"`
	Unknown int `json:"unknown"` // sendings without an answer
	Lost    int `json:"lost"`
	Doubled int `json:"doubled"`
}

type proof struct {
	Figures
	db      *ground.Database
	key     string
	program string
	address string
	house   uuid.UUID

	mu     sync.Mutex
	acked  map[uuid.UUID]bool
	failed error
}

func run(ctx context.Context, o ground.Options) (r ground.Report, err error) {
	err = ground.With(ctx, o, func(db *ground.Database) error {
		p := &proof{db: db, house: ground.NewID(), acked: map[uuid.UUID]bool{}}
		if err := p.run(ctx, o); err != nil {
			return err
		}
		p.claim(&r)
		return nil
	})
	return r, err
}

// run builds the service, kills it again and again while programs send, and counts.
func (p *proof) run(ctx context.Context, o ground.Options) error {
	dir, err := os.MkdirTemp("", "boottop-kill-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	p.program = filepath.Join(dir, "practice")
	o.Say("building the service")
	if out, err := exec.CommandContext(ctx, "go", "build", "-o", p.program, "./cmd/practice").CombinedOutput(); err != nil {
		return fmt.Errorf("build the service: %w\n%s", err, out)
	}
	if p.address, err = free(); err != nil {
		return err
	}
	if err := p.found(ctx); err != nil {
		return err
	}
	if err := p.kills(ctx, o, dir); err != nil {
		return err
	}
	return p.count(ctx)
}

func (p *proof) claim(r *ground.Report) {
	r.Figures = &p.Figures
	r.Notes = fmt.Sprintf("  %d kills, %d acknowledged, %d sendings without an answer\n", p.Kills, p.Acked, p.Unknown)
	r.Claim(p.Acked > 0 && p.Unknown > 0, "there was something under way when it was killed", "%d acknowledged, %d without an answer", p.Acked, p.Unknown)
	r.Claim(p.Lost == 0, "nothing acknowledged is lost", "%d lost of %d", p.Lost, p.Acked)
	r.Claim(p.Doubled == 0, "nothing sent again is done twice", "%d doubled", p.Doubled)
}

func free() (string, error) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return "", err
	}
	defer l.Close()
	return l.Addr().String(), nil
}

// found makes a practice with one member, and a key by which programs act for it.
func (p *proof) found(ctx context.Context) error {
	conn, err := pgx.Connect(ctx, p.db.AdminURL)
	if err != nil {
		return err
	}
	defer conn.Close(context.WithoutCancel(ctx))
	raw := make([]byte, 32)
	rand.Read(raw)
	p.key = "btk_" + base64.RawURLEncoding.EncodeToString(raw)
	sum := sha256.Sum256([]byte(p.key))
	account, member := ground.NewID(), ground.NewID()
	for _, do := range []struct {
		sql  string
		args []any
	}{
		{`select door.practice_create($1, 'A practice of the proofs', 'Etc/UTC', 'EUR', true, now())`, []any{p.house}},
		{`select door.account_create($1, 'proof@proof.example', 'none', now())`, []any{account}},
		{`insert into members (practice_id, id, account_id, name, roles) values ($1, $2, $3, 'A member', '{office}')`, []any{p.house, member, account}},
		{`insert into api_keys (practice_id, id, member_id, name, key_sha256, created_at) values ($1, $2, $3, 'proof', $4, now())`, []any{p.house, ground.NewID(), member, sum[:]}},
	} {
		if _, err := conn.Exec(ctx, do.sql, do.args...); err != nil {
			return err
		}
	}
	return nil
}

// kills has the service killed and started again while programs send.
func (p *proof) kills(ctx context.Context, o ground.Options, dir string) error {
	service, err := p.start(ctx, dir)
	if err != nil {
		return err
	}
	sending, enough := context.WithCancel(ctx)
	var all sync.WaitGroup
	for range writers {
		all.Go(func() {
			for sending.Err() == nil {
				p.send(ctx)
			}
		})
	}
	chance, most := mathrand.New(mathrand.NewPCG(o.Seed, 4)), o.Size(200, 4)
	for p.Kills < most && err == nil && ctx.Err() == nil {
		time.Sleep(time.Duration(20+chance.IntN(400)) * time.Millisecond)
		_ = service.Process.Kill()
		_ = service.Wait()
		p.Kills++
		service, err = p.start(ctx, dir)
	}
	enough()
	all.Wait()
	if service != nil {
		_ = service.Process.Kill()
		_ = service.Wait()
	}
	return errors.Join(err, p.failed, ctx.Err())
}

// start starts the service and returns when it is ready. The store of files is away, which
// keeps nobody from writing.
func (p *proof) start(ctx context.Context, dir string) (*exec.Cmd, error) {
	cmd := exec.CommandContext(ctx, p.program, "serve")
	cmd.Env = append(os.Environ(),
		"BOOTTOP_DATABASE_URL="+p.db.AppURL, "BOOTTOP_SIGNING_KEY="+base64.StdEncoding.EncodeToString([]byte("0123456789abcdef0123456789abcdef")),
		"BOOTTOP_PUBLIC_URL=http://"+p.address, "BOOTTOP_ADDR="+p.address, "BOOTTOP_MAIL_DIR="+dir, "BOOTTOP_LOG_LEVEL=error",
		"BOOTTOP_S3_ENDPOINT=127.0.0.1:9", "BOOTTOP_S3_BUCKET=none", "BOOTTOP_S3_REGION=us-east-1", "BOOTTOP_S3_KEY=none", "BOOTTOP_S3_SECRET=none")
	var said bytes.Buffer
	cmd.Stderr = &said
	if err := cmd.Start(); err != nil {
		return nil, err
	}
	for began := time.Now(); time.Since(began) < patient && ctx.Err() == nil; time.Sleep(10 * time.Millisecond) {
		res, err := http.Get("http://" + p.address + "/readyz")
		if err != nil {
			continue
		}
		_ = res.Body.Close()
		if res.StatusCode == http.StatusOK {
			return cmd, nil
		}
	}
	_ = cmd.Process.Kill()
	_ = cmd.Wait()
	return nil, fmt.Errorf("the service does not become ready:\n%s", said.String())
}

// send makes one change, and sends it again until it is answered.
func (p *proof) send(ctx context.Context) {
	id := ground.NewID()
	body, err := json.Marshal(map[string]any{
		"query": `mutation($input: AddPartyInput!) { addParty(input: $input) { party { id } } }`,
		"variables": map[string]any{"input": map[string]string{
			"mutation": "mut_" + ground.NewID().String(), "id": "pty_" + id.String(), "kind": "person", "name": "A. Person",
		}},
	})
	if err != nil {
		p.fail(err)
		return
	}
	for ctx.Err() == nil {
		switch done, err := p.post(ctx, body, id); {
		case err != nil:
			p.fail(err)
			return
		case done:
			p.mu.Lock()
			p.acked[id] = true
			p.Acked++
			p.mu.Unlock()
			return
		}
		p.mu.Lock()
		p.Unknown++
		p.mu.Unlock()
		time.Sleep(20 * time.Millisecond)
	}
}

// post tells whether a change was acknowledged; false where nobody knows.
func (p *proof) post(ctx context.Context, body []byte, id uuid.UUID) (done bool, err error) {
	ctx, cancel := context.WithTimeout(ctx, 10*time.Second)
	defer cancel()
	req, err := http.NewRequestWithContext(ctx, http.MethodPost, "http://"+p.address+"/graphql", bytes.NewReader(body))
	if err != nil {
		return false, err
	}
	req.Header.Set("Content-Type", "application/json")
	req.Header.Set("Authorization", "Bearer "+p.key)
	res, err := http.DefaultClient.Do(req)
	if err != nil {
		return false, nil //nolint:nilerr // it was killed meanwhile: what became of the change is not known
	}
	defer res.Body.Close()
	said, err := io.ReadAll(res.Body)
	switch {
	case err != nil || res.StatusCode >= http.StatusInternalServerError:
		return false, nil
	case res.StatusCode != http.StatusOK || !bytes.Contains(said, []byte(id.String())):
		return false, fmt.Errorf("a change that should go through: %d %s", res.StatusCode, said)
	}
	return true, nil
}

func (p *proof) fail(err error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.failed = errors.Join(p.failed, err)
}

// count looks for every change that was acknowledged, and for a line in the record of each.
func (p *proof) count(ctx context.Context) error {
	conn, err := pgx.Connect(ctx, p.db.AdminURL)
	if err != nil {
		return err
	}
	defer conn.Close(context.WithoutCancel(ctx))
	rows, err := conn.Query(ctx, `select id from parties where practice_id = $1 order by id`, p.house)
	if err != nil {
		return err
	}
	kept, err := pgx.CollectRows(rows, pgx.RowTo[uuid.UUID])
	if err != nil {
		return err
	}
	seen := map[uuid.UUID]bool{}
	for _, id := range kept {
		seen[id] = true
	}
	for id := range p.acked {
		if !seen[id] {
			p.Lost++
		}
	}
	var lines int
	if err := conn.QueryRow(ctx, `select count(*) from mutations where practice_id = $1`, p.house).Scan(&lines); err != nil {
		return err
	}
	p.Doubled = max(0, lines-len(kept))
	return nil
}
