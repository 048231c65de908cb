package store_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store"
	"boottop.example/practice/store/storetest"
)

// ledger is a practice with a record of changes, and an owner who may tamper with it.
type ledger struct {
	store *store.Store
	owner *pgx.Conn
	id    uuid.UUID
}

func setupLedger(t testing.TB, changes int) *ledger {
	t.Helper()
	db := storetest.New(t)
	s, err := store.Open(t.Context(), store.Config{URL: db.AppURL})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(s.Close)
	l := &ledger{store: s, owner: db.Connect(t, db.OwnerURL), id: uuid.Must(uuid.NewV7())}
	if err := s.Door().CreatePractice(t.Context(), l.id, "North quay surveys", "Etc/UTC", "EUR", true, time.Now()); err != nil {
		t.Fatal(err)
	}
	l.write(t, changes)
	return l
}

// write makes changes through a use case, as the service itself.
func (l *ledger) write(t testing.TB, changes int) {
	t.Helper()
	service := practice.New(l.store)
	for k := range changes {
		_, err := service.AddInstrument(t.Context(), domain.Service(l.id), practice.AddInstrument{
			Mutation: uuid.Must(uuid.NewV7()), Instrument: practice.Instrument{ID: uuid.Must(uuid.NewV7()), Name: fmt.Sprintf("Deep No. %d", k), Kind: "capacitance"},
		})
		if err != nil {
			t.Fatal(err)
		}
	}
}

func (l *ledger) verify(t testing.TB, known ...practice.Anchor) practice.Verified {
	t.Helper()
	v, err := practice.VerifyChain(t.Context(), l.store, l.id, known)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func (l *ledger) exec(t testing.TB, sql string, args ...any) int64 {
	t.Helper()
	tag, err := l.owner.Exec(t.Context(), sql, args...)
	if err != nil {
		t.Fatalf("%v in %s", err, sql)
	}
	return tag.RowsAffected()
}

func TestARecordThatNobodyTouchedIsUnbroken(t *testing.T) {
	t.Parallel()
	l := setupLedger(t, 12)
	if v := l.verify(t); v.Lines != 12 || v.Head.Seq != 12 || len(v.Breaks) > 0 {
		t.Errorf("%+v", v)
	}
	empty := setupLedger(t, 0)
	if v := empty.verify(t); v.Lines != 0 || len(v.Breaks) > 0 {
		t.Errorf("an empty record: %+v", v)
	}
	// What else the sealed bytes may hold: a member, and words with separators in them.
	l.exec(t, `select record_mutation($1, $2, $3, 'member', 'a|b', '\x01', '{"touched":["vsl_ü|2"]}', timestamptz '2026-04-07 09:30:00.123456+00')`, l.id, uuid.New(), uuid.New())
	if v := l.verify(t); v.Lines != 13 || len(v.Breaks) > 0 {
		t.Errorf("%+v", v)
	}
}

// tampering is one way to change a record behind the service's back; each picks its
// lines by chance out of n.
var tampering = []struct {
	name string
	do   func(testing.TB, *ledger, *rand.Rand, int)
}{
	{"change", func(t testing.TB, l *ledger, r *rand.Rand, n int) {
		set := []string{
			`actor = gen_random_uuid()`, `actor_kind = 'member'`, `operation = operation || 's'`, `input_sha256 = '\x00'`, `result = result || ' '`,
			`at = at + interval '1 microsecond'`, `chain = sha256(chain)`, `id = gen_random_uuid()`,
		}
		l.exec(t, `update mutations set `+set[r.IntN(len(set))]+` where practice_id = $1 and seq = $2`, l.id, 1+r.IntN(n))
	}},
	{"delete", func(t testing.TB, l *ledger, r *rand.Rand, n int) {
		l.exec(t, `delete from mutations where practice_id = $1 and seq = $2`, l.id, 1+r.IntN(n))
	}},
	{"delete and close the gap", func(t testing.TB, l *ledger, r *rand.Rand, n int) {
		at := 1 + r.IntN(n-1)
		l.exec(t, `delete from mutations where practice_id = $1 and seq = $2`, l.id, at)
		for seq := at + 1; seq <= n; seq++ {
			l.exec(t, `update mutations set seq = seq - 1 where practice_id = $1 and seq = $2`, l.id, seq)
		}
		l.exec(t, `update heads set seq = seq - 1 where practice_id = $1`, l.id)
	}},
	{"swap", func(t testing.TB, l *ledger, r *rand.Rand, n int) {
		a := 1 + r.IntN(n)
		b := 1 + (a+r.IntN(n-1))%n
		l.exec(t, `update mutations set seq = -1 where practice_id = $1 and seq = $2`, l.id, a)
		l.exec(t, `update mutations set seq = $2 where practice_id = $1 and seq = $3`, l.id, a, b)
		l.exec(t, `update mutations set seq = $2 where practice_id = $1 and seq = -1`, l.id, b)
	}},
	{"insert past the head", func(t testing.TB, l *ledger, _ *rand.Rand, n int) {
		l.exec(t, `insert into mutations select practice_id, gen_random_uuid(), actor, actor_kind, operation, input_sha256, result, $2, at, chain from mutations where practice_id = $1 and seq = $3`, l.id, n+1, n)
	}},
	{"insert between", func(t testing.TB, l *ledger, r *rand.Rand, n int) {
		at := 1 + r.IntN(n)
		for seq := n; seq >= at; seq-- {
			l.exec(t, `update mutations set seq = seq + 1 where practice_id = $1 and seq = $2`, l.id, seq)
		}
		l.exec(t, `insert into mutations select practice_id, gen_random_uuid(), actor, actor_kind, operation, input_sha256, result, $2, at, chain from mutations where practice_id = $1 and seq = $3`, l.id, at, at+1)
		l.exec(t, `update heads set seq = seq + 1 where practice_id = $1`, l.id)
	}},
	{"cut the tail", func(t testing.TB, l *ledger, r *rand.Rand, n int) {
		l.exec(t, `delete from mutations where practice_id = $1 and seq > $2`, l.id, r.IntN(n))
	}},
	{"put the head back", func(t testing.TB, l *ledger, r *rand.Rand, n int) {
		l.exec(t, `update heads set seq = m.seq, chain = m.chain from mutations m where heads.practice_id = $1 and m.practice_id = $1 and m.seq = $2`, l.id, 1+r.IntN(n-1))
	}},
	{"change the head", func(t testing.TB, l *ledger, _ *rand.Rand, _ int) {
		l.exec(t, `update heads set chain = sha256(chain) where practice_id = $1`, l.id)
	}},
}

func TestTamperingIsFound(t *testing.T) {
	t.Parallel()
	const lines, rounds = 9, 60
	l := setupLedger(t, lines)
	seed := rand.Uint64()
	r := rand.New(rand.NewPCG(seed, 2))
	before := l.verify(t)
	l.exec(t, `create temporary table kept_mutations as select * from mutations where practice_id = $1`, l.id)
	l.exec(t, `create temporary table kept_heads as select * from heads where practice_id = $1`, l.id)
	for k := range rounds {
		way := tampering[k%len(tampering)]
		way.do(t, l, r, lines)
		if v := l.verify(t); len(v.Breaks) == 0 {
			t.Errorf("seed %d, round %d: %s is not found", seed, k, way.name)
		}
		// As it was, for the next round.
		l.exec(t, `delete from mutations where practice_id = $1`, l.id)
		l.exec(t, `insert into mutations select * from kept_mutations`)
		l.exec(t, `update heads set seq = k.seq, chain = k.chain from kept_heads k where heads.practice_id = k.practice_id`)
		if v := l.verify(t); len(v.Breaks) > 0 {
			t.Fatalf("round %d was not taken back: %v", k, v.Breaks)
		}
	}
	if v := l.verify(t); !slices.Equal(v.Head.Chain, before.Head.Chain) {
		t.Error("the head is not what it was")
	}
}

// A record that was rewritten whole, or cut with its head, is sound in itself: only a head
// known from elsewhere shows it. A report that was issued holds one.
func TestARewrittenRecordShowsAgainstAnAnchor(t *testing.T) {
	t.Parallel()
	for name, rewrite := range map[string]string{
		"rewritten whole": `update mutations set operation = 'nothing' where practice_id = $1 and seq = 2`,
		"cut":             `delete from mutations where practice_id = $1 and seq > 4`,
	} {
		l := setupLedger(t, 6)
		known := l.verify(t).Head
		l.exec(t, rewrite, l.id)
		l.reseal(t)
		if v := l.verify(t); len(v.Breaks) > 0 {
			t.Fatalf("%s, it should be sound in itself: %v", name, v.Breaks)
		}
		if v := l.verify(t, practice.Anchor{Seq: known.Seq, Chain: known.Chain, From: "the head given"}); len(v.Breaks) == 0 {
			t.Errorf("%s: the known head does not show it", name)
		}
		l.report(t, known)
		if v := l.verify(t); len(v.Breaks) != 1 || !strings.HasPrefix(v.Breaks[0], "report 2026-017 names") {
			t.Errorf("%s: the report does not show it: %v", name, v.Breaks)
		}
	}
}

// reseal gives every line and the head the chain they would have had.
func (l *ledger) reseal(t testing.TB) {
	t.Helper()
	l.exec(t, `create temporary table again as select * from mutations where practice_id = $1 order by seq`, l.id)
	l.exec(t, `delete from mutations where practice_id = $1`, l.id)
	l.exec(t, `update heads set seq = 0, chain = sha256('') where practice_id = $1`, l.id)
	l.exec(t, `do $$ declare m again; begin for m in select * from again order by seq loop
		perform record_mutation(m.practice_id, m.id, m.actor, m.actor_kind, m.operation, m.input_sha256, m.result, m.at); end loop; end $$`)
}

// report writes an issued report that holds a head, as the owner.
func (l *ledger) report(t testing.TB, h practice.Head) {
	t.Helper()
	vessel, job, report := uuid.New(), uuid.New(), uuid.New()
	l.exec(t, `insert into vessels (practice_id, id, name, created_at) values ($1, $2, 'Petrel', now())`, l.id, vessel)
	l.exec(t, `insert into jobs (practice_id, id, vessel_id, number, kind, created_at) values ($1, $2, $3, '2026-001', 'limited moisture', now())`, l.id, job, vessel)
	l.exec(t, `insert into reports (practice_id, id, job_id, state, number, created_at) values ($1, $2, $3, 'issued', '2026-017', now())`, l.id, report, job)
	l.exec(t, `insert into report_snapshots (practice_id, report_id, content, sha256, audit_seq, audit_chain, at) values ($1, $2, '{}', sha256('{}'), $3, $4, now())`, l.id, report, h.Seq, h.Chain)
}

func TestTheRecordIsVerifiedWhileOthersWrite(t *testing.T) {
	t.Parallel()
	l := setupLedger(t, 3)
	done := make(chan struct{})
	go func() {
		defer close(done)
		l.write(t, 40)
	}()
	for {
		if v := l.verify(t); len(v.Breaks) > 0 {
			t.Fatalf("%+v", v)
		}
		select {
		case <-done:
			if v := l.verify(t); v.Lines != 43 || len(v.Breaks) > 0 {
				t.Errorf("%+v", v)
			}
			return
		default:
		}
	}
}
