package door_test

import (
	"compress/gzip"
	"context"
	"fmt"
	"io"
	"net/http"
	"slices"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/99designs/gqlgen/graphql"
	"github.com/vektah/gqlparser/v2/gqlerror"

	"boottop.example/practice/domain"
	"boottop.example/practice/graph/door"
)

func quote(s string) string { return door.Quote(s) }

// marker stands in what is sent and must stand in no answer and no log line.
const marker = "hunter2"

func deepFragments(levels int) string {
	var d strings.Builder
	d.WriteString("query " + marker + "{...f0}")
	for i := range levels {
		fmt.Fprintf(&d, " fragment f%d on Query{...f%d ...f%d}", i, i+1, i+1)
	}
	fmt.Fprintf(&d, " fragment f%d on Query{viewer{roles}}", levels)
	return d.String()
}

func repeat(n int, each func(int) string) string {
	var d strings.Builder
	for i := range n {
		d.WriteString(each(i) + " ")
	}
	return d.String()
}

// TestDocumentsRefused sends every document that the door must not let in: every one is
// refused before any resolver, with one short answer that holds nothing of it.
func TestDocumentsRefused(t *testing.T) {
	t.Parallel()
	b := setup(t)
	same := func(name string) func(int) string { return func(int) string { return name } }
	for _, c := range []struct {
		name, document string
		status         int
		says           string
	}{
		{"15 fragments spread twice, 24 deep", deepFragments(24), 400, "4000 fields once its fragments are followed"},
		{"15 the same, 39 deep", deepFragments(39), 400, "4000 fields once"},
		{"16 nested 30 deep", "{" + strings.Repeat("node(id:\"x\"){...on Vessel{jobs{", 10) + "id" + strings.Repeat("}}}", 10) + "}", 400, "15 levels"},
		{"16 nested 5,000 deep", strings.Repeat("{a", 5000) + strings.Repeat("}", 5000), 400, "nested too deep"},
		{"16 nested 1,400 deep", strings.Repeat("{a", 1400), 400, "nested too deep"},
		{"16 lists nested 1,400 deep", "{a(b:" + strings.Repeat("[", 1400) + "}", 400, "nested too deep"},
		{"17 10,000 equal fields", "{" + repeat(10_000, same("id")) + "}", 400, "3000 tokens"},
		{"17 400 equal fields", "{viewer{" + repeat(400, same("roles")) + "}}", 400, "same field at most 4 times"},
		{"17 600 different places", "{" + repeat(60, func(i int) string { return "viewer{" + repeat(10, same("roles")) + "}" }) + "}", 400, "500 fields"},
		{"17 300 equal fields in inline fragments", "{" + repeat(300, same("...{__typename}")) + "}", 400, "same field at most 4 times"},
		{"18 2,900 directives", "{viewer " + repeat(900, same("@skip(if:true)")) + "{roles}}", 400, "3000 tokens"},
		{"18 300 directives", "{viewer " + repeat(300, same("@include(if:true)")) + "{roles}}", 400, "40 directives"},
		{"18 unknown directives", "{viewer " + repeat(30, same("@"+marker)) + "{roles}}", 422, "A directive is not known"},
		{"19 500 aliases", "{" + repeat(400, func(i int) string { return fmt.Sprintf("a%d:__typename", i) }) + "}", 400, "60 aliases"},
		{"20 100 aliases of a mutation", "mutation{" + repeat(55, func(i int) string { return fmt.Sprintf("a%d:voidReading(input:{}){reading{id}}", i) }) + "}", 400, "8 mutations"},
		{"21 many __schema", "{" + repeat(50, func(i int) string { return fmt.Sprintf("a%d:__schema{types{fields{args{name type{name}}}}}", i) }) + "}", 400, "the whole schema once"},
		{"21 the fields of the types of the fields", "{__schema{types{fields{type{fields{type{name}}}}}}}", 400, "none of its lists inside"},
		{"21 the same through a fragment", `{__type(name:"Query"){...T}} fragment T on __Type{possibleTypes{...F}} fragment F on __Type{fields{type{interfaces{possibleTypes{name}}}}}`, 400, "none of its lists inside"},
		{"21 the same by two names", `{a:__type(name:"Query"){name} __schema{t:types{fields{a:args{type{inputFields{type{i:inputFields{name}}}}}}}}}`, 400, "none of its lists inside"},
		{"23 a misspelt field", "{" + marker + "}", 422, "A field is asked for that its type does not have."},
		{"23 a misspelt argument", "{node(" + marker + ":1){id}}", 422, "An argument"},
		{"23 a misspelt type", "query($x:" + marker + "){node(id:$x){id}}", 422, "type"},
		{"23 a misspelt enum", "mutation{inviteMember(input:{roles:[" + marker + "]}){invitation{id}}}", 422, "not of the kind"},
		{"23 a leaf with parts", "{viewer{roles{" + marker + "}}}", 422, "A field with parts must say which"},
		{"36 two operations, no name", "query A{__typename} query " + marker + "{__typename}", 422, "several operations"},
		{"37 a fragment that uses itself", "{...A} fragment A on Query{...B} fragment B on Query{...A}", 422, "A fragment uses itself."},
		{"37 a fragment that uses itself at once", "{...A} fragment A on Query{viewer{roles} ...A}", 422, "A fragment uses itself."},
		{"38 first -1", "{vessels(first:-1){edges{node{id}}}}", 422, "between 1 and 200"},
		{"38 first 0", "{vessels(first:0){edges{node{id}}}}", 422, "between 1 and 200"},
		{"38 first 201", "{vessels(first:201){edges{node{id}}}}", 422, "between 1 and 200"},
		{"38 first 2,000,000,000", "{vessels(first:2000000000){edges{node{id}}}}", 422, "between 1 and 200"},
		{"38 first beyond 64 bits", "{vessels(first:99999999999999999999){edges{node{id}}}}", 422, ""},
		{"40 1e999 where an Int is", "{head(since:1e999){seq}}", 422, "not of the kind"},
		{"41 a zero character in a literal", `{node(id:"` + `\u0000` + marker + `"){id}}`, 400, "control characters"},
		{"42 the direction of writing turned", "{node(id:\"\u202e" + marker + "\"){id}}", 400, "control characters"},
		{"an undefined variable", "{node(id:$" + marker + "){id}}", 422, "does not define"},
		{"a cost through nested pages", "{vessels(first:200){edges{node{jobs{id vessel{id} number}}}} b:vessels(first:200){edges{node{reports{id number title state}}}} parties(first:200){edges{node{jobs{number title state kind} roles{id kind}}}}" + " jobs(first:200){edges{node{reports{id} visits{passes{id state}}}}}}", 422, ""},
		{"no operation", "fragment A on Query{__typename}", 400, "no operation"},
		{"only white", " ", 400, ""},
		{"broken syntax", "{" + marker, 400, "syntax error"},
		{"a broken string", `{node(id:"` + marker, 400, "syntax error"},
		{"a subscription", "subscription{" + marker + "}", 422, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			r := b.ask(c.document)
			if r.status != c.status || !strings.Contains(r.body, c.says) {
				t.Errorf("got %d %s, want %d with %q", r.status, r.body, c.status, c.says)
			}
			if strings.Contains(r.body, marker) {
				t.Errorf("the answer repeats what was sent: %s", r.body)
			}
			if len(r.body) > 1024 || strings.Contains(r.body, `"data"`) {
				t.Errorf("%d bytes: %.2000s", len(r.body), r.body)
			}
			if strings.Contains(r.body, "Did you mean") {
				t.Errorf("suggests: %s", r.body)
			}
		})
	}
	t.Cleanup(func() {
		if n := b.reached.Load(); n > 0 {
			t.Errorf("the resolvers were reached %d times", n)
		}
	})
}

// TestVariablesRefused is 38 to 43 with variables.
func TestVariablesRefused(t *testing.T) {
	t.Parallel()
	b := setup(t)
	const pages = `query($first:Int!){vessels(first:$first){edges{node{id}}}}`
	const write = `mutation($input:InviteMemberInput!){inviteMember(input:$input){invitation{id}}}`
	ok := `"mutation":"mut_1","id":"inv_1","email":"a@b.example","roles":["office"]`
	for _, c := range []struct{ name, document, variables, says string }{
		{"38 a page of no length", pages, `{"first":0}`, `"field":"first"`},
		{"38 a page beyond the limit", pages, `{"first":2000000000}`, `between 1 and 200`},
		{"39 beyond 32 bits", pages, `{"first":2147483648}`, `between 1 and 200`},
		{"39 beyond 64 bits", pages, `{"first":9223372036854775808}`, `"field":"first"`},
		{"40 a fraction", pages, `{"first":1.5}`, `"field":"first"`},
		{"40 1e999", pages, `{"first":1e999}`, `"field":"first"`},
		{"a text", pages, `{"first":"` + marker + `"}`, `"field":"first"`},
		{"left out", pages, `{}`, `This is needed and was left out.`},
		{"null", pages, `{"first":null}`, `"field":"first"`},
		{"43 an unknown field of an input", write, `{"input":{` + ok + `,"name":"x","` + marker + `":1}}`, `An input holds a field that is not known here.`},
		{"a field left out", write, `{"input":{` + ok + `}}`, `"field":"name"`},
		{"a field of another kind", write, `{"input":{` + ok + `,"name":["` + marker + `"]}}`, `"field":"name"`},
		{"an enum that is none", write, `{"input":{"mutation":"m","id":"i","email":"e","name":"n","roles":["office","` + marker + `"]}}`, `"field":"roles[1]"`},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			r := b.send(program, `{"query":`+quote(c.document)+`,"variables":`+c.variables+`}`)
			if r.status != http.StatusUnprocessableEntity || !strings.Contains(r.body, c.says) || strings.Contains(r.body, marker) {
				t.Errorf("got %d %s, want 422 with %q", r.status, r.body, c.says)
			}
		})
	}
	t.Run("43 an unknown variable is ignored", func(t *testing.T) {
		r := setup(t).send(program, `{"query":`+quote(pages)+`,"variables":{"first":1,"`+marker+`":2}}`)
		if r.status != http.StatusOK {
			t.Errorf("got %d %s", r.status, r.body)
		}
	})
}

// TestBodiesRefused is 24 to 29, 33, 35 and 42: what is no GraphQL request at all.
func TestBodiesRefused(t *testing.T) {
	t.Parallel()
	b := setup(t)
	var packed strings.Builder
	z := gzip.NewWriter(&packed)
	_, _ = io.WriteString(z, `{"query":"{__typename}"}`)
	_ = z.Close()
	wide := "\ufeff"
	for _, u := range utf16.Encode([]rune(`{"query":"{__typename}"}`)) {
		wide += string([]byte{byte(u >> 8), byte(u)})
	}
	header := func(name, value string) func(*http.Request) {
		return func(r *http.Request) { r.Header.Set(name, value) }
	}
	chunked := func(r *http.Request) { r.ContentLength = -1; r.TransferEncoding = []string{"chunked"} }
	large := `{"query":"{__typename}","variables":{"x":"` + strings.Repeat("x", door.BodyMost) + `"}}`
	for _, c := range []struct {
		name, body string
		change     func(*http.Request)
		status     int
		says       string
	}{
		{"24 70 kB", large, nil, 413, "at most 64 kB"},
		{"24 70 kB in chunks", large, chunked, 413, "at most 64 kB"},
		{"25 bad JSON with a password", `{"query":"{__typename}","variables":{"password":"` + marker + `"`, nil, 400, "not well-formed JSON"},
		{"26 a batch", `[{"query":"{__typename}"},{"query":"{__typename}"}]`, nil, 400, "one JSON object"},
		{"27 two values", `{"query":"{__typename}"}{"query":"{__typename}"}`, nil, 400, "nothing after it"},
		{"28 the key query twice", `{"query":"{__typename}","query":"{viewer{roles}}"}`, nil, 400, "same key twice"},
		{"28 a key of a variable twice", `{"query":"{__typename}","variables":{"a":{"b":1,"b":2}}}`, nil, 400, "same key twice"},
		{"28 the same key, one of them escaped", `{"query":"{__typename}","qu\u0065ry":"{viewer{roles}}"}`, nil, 400, "same key twice"},
		{"29 null", `null`, nil, 400, "one JSON object"},
		{"29 nothing", ``, nil, 400, "one JSON object"},
		{"29 an empty object", `{}`, nil, 400, "Send a document"},
		{"29 query is a number", `{"query":1}`, nil, 400, `"field":"query"`},
		{"29 variables are a list", `{"query":"{__typename}","variables":[7]}`, nil, 400, `"field":"variables"`},
		{"29 extensions are a text", `{"query":"{__typename}","extensions":"` + marker + `"}`, nil, 400, `"field":"extensions"`},
		{"29 operationName is a list", `{"query":"{__typename}","operationName":["a"]}`, nil, 400, `"field":"operationName"`},
		{"31 text/plain", `{"query":"{__typename}"}`, header("Content-Type", "text/plain"), 415, "application/json"},
		{"31 no content type", `{"query":"{__typename}"}`, func(r *http.Request) { r.Header.Del("Content-Type") }, 415, "application/json"},
		{"32 multipart", `--b`, header("Content-Type", "multipart/form-data; boundary=b"), 415, "application/json"},
		{"33 a form", `query={__typename}`, header("Content-Type", "application/x-www-form-urlencoded"), 415, "application/json"},
		{"33 a document alone", `{__typename}`, header("Content-Type", "application/graphql"), 415, "application/json"},
		{"35 gzip", packed.String(), header("Content-Encoding", "gzip"), 415, "uncompressed"},
		{"35 gzip, not said", packed.String(), nil, 400, "not UTF-8"},
		{"35 UTF-16", wide, nil, 400, ""},
		{"35 UTF-16, said", wide, header("Content-Type", "application/json; charset=utf-16"), 415, "UTF-8"},
		{"41 a zero character", `{"query":"{__typename}","variables":{"input":{"name":"` + marker + `\u0000"}}}`, nil, 400, `"field":"name"`},
		{"42 half of a surrogate pair", `{"query":"{__typename}","variables":{"input":{"name":"\ud800` + marker + `"}}}`, nil, 400, `surrogate pair`},
		{"42 two first halves", `{"query":"{__typename}","variables":{"a":"\ud800\ud800"}}`, nil, 400, `surrogate pair`},
		{"42 the direction turned", `{"query":"{__typename}","variables":{"` + marker + `":"\u202e"}}`, nil, 400, `direction`},
		{"a list too long", `{"query":"{__typename}","variables":{"a":[` + strings.Repeat("1,", 1000) + `1]}}`, nil, 400, `more than 1000 elements`},
		{"too many values", `{"query":"{__typename}","variables":{"a":[` + strings.TrimSuffix(strings.Repeat("["+strings.TrimSuffix(strings.Repeat("1,", 999), ",")+"],", 13), ",") + `]}}`, nil, 400, `more than 12000 values`},
		{"nested too deep", `{"query":"{__typename}","variables":{"a":` + strings.Repeat("[", 5000) + strings.Repeat("]", 5000) + `}}`, nil, 400, `nested more than 12 deep`},
		{"an invalid byte", "{\"query\":\"{__typename}\",\"variables\":{\"a\":\"\xff\"}}", nil, 400, "not UTF-8"},
		{"a comma too many", `{"query":"{__typename}",}`, nil, 400, "not well-formed"},
		{"a leading zero", `{"query":"{__typename}","variables":{"a":01}}`, nil, 400, "not well-formed"},
		{"NaN", `{"query":"{__typename}","variables":{"a":NaN}}`, nil, 400, "not well-formed"},
		{"a comment", `{"query":"{__typename}"/**/}`, nil, 400, "not well-formed"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			change := []func(*http.Request){}
			if c.change != nil {
				change = append(change, c.change)
			}
			for _, media := range []string{"application/graphql-response+json", "application/json"} {
				r := b.send(program, c.body, append(change, header("Accept", media))...)
				if r.status != c.status || !strings.Contains(r.body, c.says) || strings.Contains(r.body, marker) {
					t.Errorf("%s: got %d %s, want %d with %q", media, r.status, r.body, c.status, c.says)
				}
				if got := r.header.Get("Content-Type"); got != media+"; charset=utf-8" {
					t.Errorf("answered as %s", got)
				}
			}
		})
	}
	t.Cleanup(func() {
		if n := b.reached.Load(); n > 0 {
			t.Errorf("the resolvers were reached %d times", n)
		}
	})
}

// TestMethodsAndMedia is 30, 31 and 34.
func TestMethodsAndMedia(t *testing.T) {
	t.Parallel()
	b := setup(t)
	for _, method := range []string{"GET", "HEAD", "PUT", "PATCH", "DELETE", "OPTIONS", "QUERY"} {
		r := b.send(program, "", func(r *http.Request) { r.Method = method; r.URL.RawQuery = "query=mutation{a}" })
		if r.status != http.StatusMethodNotAllowed || r.header.Get("Allow") != "POST" {
			t.Errorf("%s: %d, Allow %q", method, r.status, r.header.Get("Allow"))
		}
	}
	const newer, older = "application/graphql-response+json", "application/json"
	for accept, want := range map[string]string{
		"": newer, newer: newer, older: older, "*/*": newer, "application/*": newer,
		"application/json, */*": newer, "application/json, */*;q=0.5": older, older + ", " + newer: newer,
		newer + ";q=0.5, " + older: older, newer + ";q=0, */*": older,
		"application/graphql-response+json, application/graphql+json, application/json, text/event-stream, multipart/mixed": newer,
		"text/html": "", "text/html, image/*": "", "*/*;q=0": "", "application/xml;q=1": "", "nonsense": "",
	} {
		r := b.send(program, `{"query":"{__typename}"}`, func(r *http.Request) {
			if accept != "" {
				r.Header.Set("Accept", accept)
			}
		})
		status := http.StatusOK
		if want == "" {
			status, want = http.StatusNotAcceptable, newer
		}
		if r.status != status || r.header.Get("Content-Type") != want+"; charset=utf-8" {
			t.Errorf("Accept %q: %d as %s, want %d as %s", accept, r.status, r.header.Get("Content-Type"), status, want)
		}
	}
}

// TestStatus holds each outcome against the status that GraphQL over HTTP, September 2026,
// recommends for each of the two kinds of answer.
func TestStatus(t *testing.T) {
	t.Parallel()
	fails := func(kind domain.Kind) gqlerror.List {
		return gqlerror.List{{Message: "x", Extensions: map[string]any{"code": kind.Code()}}}
	}
	for _, c := range []struct {
		name         string
		answer       *graphql.Response
		newer, older int
		body         string
	}{
		{"data", &graphql.Response{Data: []byte(`{"a":1}`)}, 200, 200, `{"data":{"a":1}}`},
		{"part of the data", &graphql.Response{Data: []byte(`{"a":null}`), Errors: fails(domain.NotFound)}, 294, 200, `{"errors":[{"message":"x","extensions":{"code":"NOT_FOUND"}}],"data":{"a":null}}`},
		{"nothing, conflict", &graphql.Response{Data: []byte(`null`), Errors: fails(domain.Conflict)}, 294, 200, `{"errors":[{"message":"x","extensions":{"code":"CONFLICT"}}],"data":null}`},
		{"nothing, nobody signed in", &graphql.Response{Data: []byte(`null`), Errors: fails(domain.Unauthenticated)}, 401, 200, `{"errors":[{"message":"x","extensions":{"code":"UNAUTHENTICATED"}}],"data":null}`},
		{"nothing, our fault", &graphql.Response{Data: []byte(`null`), Errors: fails(domain.Internal)}, 500, 200, `{"errors":[{"message":"x","extensions":{"code":"INTERNAL"}}],"data":null}`},
		{"nothing, busy", &graphql.Response{Data: []byte(`null`), Errors: fails(domain.Unavailable)}, 503, 200, `{"errors":[{"message":"x","extensions":{"code":"UNAVAILABLE"}}],"data":null}`},
	} {
		b := setup(t)
		b.answer = func(context.Context) *graphql.Response { return c.answer }
		for media, want := range map[string]int{"application/graphql-response+json": c.newer, "application/json": c.older} {
			r := b.send(program, `{"query":"{viewer{roles}}"}`, func(r *http.Request) { r.Header.Set("Accept", media) })
			if r.status != want || r.body != c.body || r.header.Get("Cache-Control") != "no-store" {
				t.Errorf("%s as %s: %d %s, want %d %s", c.name, media, r.status, r.body, want, c.body)
			}
		}
	}
	b := setup(t)
	for document, status := range map[string]int{"{": 400, "{nothing}": 422, "query A{__typename} query B{__typename}": 422} {
		for media, want := range map[string]int{"application/graphql-response+json": status, "application/json": 200} {
			r := b.send(program, `{"query":`+quote(document)+`}`, func(r *http.Request) { r.Header.Set("Accept", media) })
			if r.status != want {
				t.Errorf("%s as %s: %d %s, want %d", document, media, r.status, r.body, want)
			}
		}
	}
}

// TestStoredOperations is 45 and 22: who may send what.
func TestStoredOperations(t *testing.T) {
	t.Parallel()
	const free = "{viewer{roles}}"
	hash := door.HashOf(stored)
	apq := func(h string) string {
		return `{"extensions":{"persistedQuery":{"version":1,"sha256Hash":` + quote(h) + `}}}`
	}
	for _, c := range []struct {
		name   string
		as     domain.Actor
		open   bool
		body   string
		status int
		says   string
	}{
		{"a page, by hash", browser, false, apq(hash), 200, ""},
		{"a page, by hash as the manifest writes it", browser, false, apq("sha256:" + hash), 200, ""},
		{"a page, by documentId", browser, false, `{"documentId":"sha256:` + hash + `"}`, 200, ""},
		{"a page, by hash and text", browser, false, `{"query":` + quote(stored) + `,` + apq(hash)[1:], 200, ""},
		{"a page, by the text alone", browser, false, `{"query":` + quote(stored) + `}`, 200, ""},
		{"a page, another text under a known hash", browser, false, `{"query":` + quote(free) + `,` + apq(hash)[1:], 400, "not that of the document"},
		{"a page, an unknown hash", browser, false, apq(door.HashOf(free)), 400, "PERSISTED_QUERY_NOT_FOUND"},
		{"a page, an unknown hash with its text", browser, false, `{"query":` + quote(free) + `,` + apq(door.HashOf(free))[1:], 400, "Only the stored operations"},
		{"and the hash is not kept for the next", browser, false, apq(door.HashOf(free)), 400, "PERSISTED_QUERY_NOT_FOUND"},
		{"a page, free text", browser, false, `{"query":` + quote(free) + `}`, 400, "Only the stored operations"},
		{"a stranger, free text", nobody, false, `{"query":` + quote(free) + `}`, 400, "Only the stored operations"},
		{"a stranger, the health check", nobody, false, `{"query":"{__typename}"}`, 200, ""},
		{"a stranger, introspection", nobody, false, `{"query":"{__schema{queryType{name}}}"}`, 400, "Only the stored operations"},
		{"a program, free text", program, false, `{"query":` + quote(free) + `}`, 200, ""},
		{"a program, introspection", program, false, `{"query":"{__schema{queryType{name}}}"}`, 200, ""},
		{"a program, an unknown hash", program, false, apq(door.HashOf(free)), 400, "PERSISTED_QUERY_NOT_FOUND"},
		{"in development, free text from a page", browser, true, `{"query":` + quote(free) + `}`, 200, ""},
		{"in development, introspection by a stranger", nobody, true, `{"query":"{__type(name:\"Vessel\"){name}}"}`, 200, ""},
		{"a version without a hash", browser, false, `{"extensions":{"persistedQuery":{"version":1}}}`, 400, "persistedQuery.sha256Hash"},
		{"a hash that is a list", browser, false, `{"extensions":{"persistedQuery":["` + marker + `"]}}`, 400, "persistedQuery.sha256Hash"},
	} {
		b := setup(t, func(cf *door.Config) { cf.Open = c.open })
		r := b.send(c.as, c.body)
		if r.status != c.status || !strings.Contains(r.body, c.says) || strings.Contains(r.body, marker) {
			t.Errorf("%s: %d %s, want %d with %q", c.name, r.status, r.body, c.status, c.says)
		}
		if reached := b.reached.Load() == 1; reached != (c.status == 200) {
			t.Errorf("%s: resolvers reached: %v", c.name, reached)
		}
	}
	t.Run("22 a stored operation with introspection is no way round", func(t *testing.T) {
		const asks = "query Schema{__schema{queryType{name}}}"
		b := setup(t, func(c *door.Config) { c.Stored = [][]byte{manifest(asks)} })
		r := b.send(browser, apq(door.HashOf(asks)))
		if r.status != 422 || !strings.Contains(r.body, "Introspection is disabled.") {
			t.Errorf("got %d %s", r.status, r.body)
		}
	})
	t.Run("an operation that no longer fits, or whose name is not its hash, is left out", func(t *testing.T) {
		d, err := door.New(door.Config{Schema: &resolvers{}, Present: present, Stored: [][]byte{
			manifest("{gone}"), []byte(`{"sha256:00":"{__typename}"}`),
		}})
		if err != nil {
			t.Fatal(err)
		}
		left := d.Leftover()
		slices.Sort(left)
		if len(left) != 2 || left[0] != "sha256:00" {
			t.Errorf("left out %v", left)
		}
	})
}
