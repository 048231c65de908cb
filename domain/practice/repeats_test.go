package practice_test

import (
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/storetest/story"
)

// state is a digest of every row that a practice has, but for the job queue.
func (w *world) state() string {
	w.t.Helper()
	tables := value[[]string](w.bundle, `select array_agg(c.relname::text order by c.relname) from pg_class c join pg_attribute a on a.attrelid = c.oid and a.attname = 'practice_id'
		where c.relnamespace = 'public'::regnamespace and c.relkind = 'r' and c.relname <> 'report_makings'`) // figures of a job under way
	parts := make([]string, len(tables))
	for k, name := range tables {
		parts[k] = fmt.Sprintf("select '%[1]s' as t, count(*) as n, coalesce(sum(hashtextextended(x::text, 0)::numeric), 0) as h from %[1]s x where practice_id = $1", name)
	}
	return value[string](w.bundle, `select string_agg(t || ' ' || n || ' ' || h, E'\n' order by t) from (`+strings.Join(parts, " union all ")+`) s`, w.Practice)
}

// differs names the tables in which two states differ.
func differs(a, b string) (tables []string) {
	was := map[string]bool{}
	for line := range strings.Lines(a) {
		was[strings.TrimSpace(line)] = true
	}
	for line := range strings.Lines(b) {
		if !was[strings.TrimSpace(line)] {
			tables = append(tables, strings.Fields(line)[0])
		}
	}
	return tables
}

// otherContent gives a copy of an input in which one thing is another.
func otherContent(in any) any {
	v := reflect.New(reflect.TypeOf(in)).Elem()
	v.Set(reflect.ValueOf(in))
	if !alter(v) {
		panic(fmt.Sprintf("nothing in %T can be altered", in))
	}
	return v.Interface()
}

// alter changes the first thing it finds that is hashed; what others share it copies first.
func alter(v reflect.Value) bool {
	switch v.Kind() {
	case reflect.Struct:
		if at, is := v.Interface().(time.Time); is {
			v.Set(reflect.ValueOf(at.Add(time.Second)))
			return true
		}
		for k := range v.NumField() {
			if v.Type().Field(k).Tag.Get("json") != "-" && alter(v.Field(k)) {
				return true
			}
		}
		return false
	case reflect.Array: // an id
		v.Set(reflect.ValueOf(newID()))
	case reflect.String:
		v.SetString(v.String() + "x")
	case reflect.Bool:
		v.SetBool(!v.Bool())
	case reflect.Int, reflect.Int16, reflect.Int32, reflect.Int64:
		v.SetInt(v.Int() + 1)
	case reflect.Pointer:
		if v.IsNil() {
			return false
		}
		p := reflect.New(v.Type().Elem())
		p.Elem().Set(v.Elem())
		v.Set(p)
		return alter(p.Elem())
	case reflect.Slice:
		if v.Len() == 0 {
			return false
		}
		c := reflect.MakeSlice(v.Type(), v.Len(), v.Len())
		reflect.Copy(c, v)
		v.Set(c)
		return alter(c.Index(0))
	default:
		return false
	}
	return true
}

// Every change there is, sent up to five times by up to eight devices at once, of which
// some hear no answer: its effect is there once, every answer is the same, and the same
// change with other content is refused (promise B7).
func TestEveryChangeHasItsEffectOnce(t *testing.T) {
	t.Parallel()
	w, _ := worlds(t)
	cases := map[string]useCase{}
	for _, u := range w.useCases() {
		cases[u.name] = u
	}
	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	chance := rand.New(rand.NewPCG(seed, 7))
	sent := map[string]bool{}
	for _, s := range story.Steps() {
		in := s.Input(w.World)
		sent[s.Call] = true
		before := value[int64](w.bundle, `select seq from heads where practice_id = $1`, w.Practice)
		w.flood(cases[s.Call], in, chance)
		w.Take(t.Context(), s, in) // whoever heard nothing asks again
		after := value[int64](w.bundle, `select seq from heads where practice_id = $1`, w.Practice)
		if after != before+1 && !slices.Contains([]string{"IssueReport", "IssueAddendum", "OfferTerms", "ShareReport"}, s.Call) { // whose jobs write too, and whom the client answers
			t.Errorf("seed %d: %s moved the record by %d", seed, s.Call, after-before)
		}
		once := w.state()
		for range 1 + chance.IntN(4) {
			if _, err := cases[s.Call].call(t.Context(), w.Actor, in); err != nil {
				t.Errorf("seed %d: %s sent again: %v", seed, s.Call, err)
			}
		}
		_, err := cases[s.Call].call(t.Context(), w.Actor, otherContent(in))
		if domain.KindOf(err) != domain.Conflict && (s.Call != "FinishUpload" || err == nil) { // which looks for the file first
			t.Errorf("%s with other content under the same id: %v, want a conflict", s.Call, err)
		}
		if d := differs(once, w.state()); len(d) > 0 {
			t.Errorf("seed %d: sending %s again changed %v", seed, s.Call, d)
		}
	}
	for name := range cases {
		if _, isWrite := cases[name].input(); isWrite && !sent[name] {
			t.Errorf("%s is not in the story", name)
		}
	}
}

// flood sends a change from eight devices at once; some hang up on the way.
func (w *world) flood(u useCase, in any, chance *rand.Rand) {
	w.t.Helper()
	var mu sync.Mutex
	answers := map[string]int{}
	var all sync.WaitGroup
	for range 8 {
		hangUp := time.Duration(chance.IntN(30)) * time.Millisecond
		if chance.IntN(2) == 0 {
			hangUp = time.Minute
		}
		all.Go(func() {
			ctx, cancel := context.WithTimeout(w.t.Context(), hangUp)
			defer cancel()
			results, err := u.call(ctx, w.Actor, in)
			switch {
			case err == nil:
				mu.Lock()
				answers[answered(results)]++
				mu.Unlock()
			case ctx.Err() == nil && domain.KindOf(err) != domain.Unavailable:
				w.t.Errorf("%s among eight: %v", u.name, err)
			}
		})
	}
	all.Wait()
	if len(answers) > 1 {
		w.t.Errorf("%s answers differently: %v", u.name, answers)
	}
}

// answered is what an answer says of the change; a link or a key is told once, and a
// grant is made out anew.
func answered(results []any) string {
	for _, r := range results {
		if done, is := r.(practice.Done); is {
			done.Again = false
			text, _ := json.Marshal(struct {
				practice.Done
				Seq int64
			}{done, done.Seq})
			return string(text)
		}
	}
	return ""
}

// A change is known for ever: ninety days later it is still answered, not done.
func TestAChangeIsStillKnownAfterNinetyDays(t *testing.T) {
	t.Parallel()
	b, hand, pass, _ := readable(t)
	in := batch(pass, map[int32]int16{1: 120})
	first := must[practice.Done](t)(b.AddReadings(t.Context(), hand, in))
	b.clock.pass(90 * 24 * time.Hour)
	again := must[practice.Done](t)(b.AddReadings(t.Context(), hand, in))
	if !again.Again || again.Seq != first.Seq || b.kept(pass) != 1 {
		t.Errorf("%+v, then %+v, %d rows", first, again, b.kept(pass))
	}
}

// What one practice did under an id, another may do under the same one.
func TestAnIdOfAChangeBelongsToItsPractice(t *testing.T) {
	t.Parallel()
	b := setup(t)
	id := newID()
	for _, h := range []house{b.ours, b.theirs} {
		done := must[practice.Done](t)(b.AddInstrument(t.Context(), h.of[domain.Office], practice.AddInstrument{
			Mutation: id, Instrument: practice.Instrument{ID: uuid.Must(uuid.NewV7()), Name: "Deep", Kind: "capacitance"},
		}))
		if done.Again || done.Seq != 1 {
			t.Errorf("%+v", done)
		}
	}
}
