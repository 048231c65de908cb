package door

import (
	"errors"
	"io"
	"mime"
	"net/http"
	"strconv"
	"strings"

	"boottop.example/practice/graph/strict"
)

const (
	graphqlJSON = "application/graphql-response+json"
	plainJSON   = "application/json"
)

// request is what a well-formed body says.
type request struct {
	query      string
	hash       string // of a stored operation, hex
	operation  string
	variables  map[string]any
	extensions map[string]any
}

// accepts looks at method and headers: what is asked, in what, for what kind of answer.
// The kind is good for a refusal too.
func accepts(r *http.Request) (media string, refused *refusal) {
	media = mediaFor(r.Header.Values("Accept"))
	if r.Method != http.MethodPost {
		refused = broken(http.StatusMethodNotAllowed, "Operations are sent by POST.")
		refused.header = http.Header{"Allow": {http.MethodPost}}
		return orGraphQL(media), refused
	}
	if media == "" {
		return graphqlJSON, broken(http.StatusNotAcceptable, "Answers come as "+graphqlJSON+" or "+plainJSON+".")
	}
	kind, params, err := mime.ParseMediaType(r.Header.Get("Content-Type"))
	charset := params["charset"]
	if err != nil || kind != plainJSON || charset != "" && !strings.EqualFold(charset, "utf-8") {
		return media, broken(http.StatusUnsupportedMediaType, "Send the body as "+plainJSON+" in UTF-8.")
	}
	if coding := r.Header.Get("Content-Encoding"); coding != "" && !strings.EqualFold(coding, "identity") {
		return media, broken(http.StatusUnsupportedMediaType, "Send the body uncompressed.")
	}
	return media, nil
}

func orGraphQL(media string) string {
	if media == "" {
		return graphqlJSON
	}
	return media
}

// mediaFor picks the kind of answer: the caller's dearest of the two we have, the newer
// one where it does not mind; empty where it takes neither.
func mediaFor(accept []string) string {
	list := strings.TrimSpace(strings.Join(accept, ","))
	if list == "" {
		return graphqlJSON
	}
	newer, older := -1.0, -1.0
	exact := map[string]bool{}
	for part := range strings.SplitSeq(list, ",") {
		kind, params, err := mime.ParseMediaType(part)
		if err != nil {
			continue
		}
		q := 1.0
		if text, given := params["q"]; given {
			if q, err = strconv.ParseFloat(text, 64); err != nil || q != q {
				continue
			}
		}
		switch kind {
		case graphqlJSON:
			newer, exact[kind] = q, true
		case plainJSON:
			older, exact[kind] = q, true
		case "*/*", "application/*":
			if !exact[graphqlJSON] {
				newer = max(newer, q)
			}
			if !exact[plainJSON] {
				older = max(older, q)
			}
		}
	}
	switch {
	case newer > 0 && newer >= older:
		return graphqlJSON
	case older > 0:
		return plainJSON
	}
	return ""
}

// read takes the body, no more than its limit however it is sent, and what it says.
func read(w http.ResponseWriter, r *http.Request) (*request, *refusal) {
	body, err := io.ReadAll(http.MaxBytesReader(w, r.Body, bodyMost))
	var large *http.MaxBytesError
	switch {
	case errors.As(err, &large):
		return nil, broken(http.StatusRequestEntityTooLarge, "A request has at most 64 kB.")
	case err != nil:
		return nil, broken(http.StatusBadRequest, "The body could not be read.")
	}
	object, err := strict.Object(body, bodyLimits)
	if err != nil {
		var f *strict.Error
		if !errors.As(err, &f) {
			return nil, broken(http.StatusBadRequest, "The body could not be read.")
		}
		return nil, &refusal{status: http.StatusBadRequest, always: true, path: f.Path, errors: list(says("INVALID", "", f.Text))}
	}
	return understand(object)
}

// understand takes what a GraphQL request may hold; null is as good as left out, and other
// names are passed over, for there may be more of them one day.
func understand(object map[string]any) (*request, *refusal) {
	in := &request{}
	var id string
	for _, want := range []struct {
		name string
		ok   bool
	}{
		{"query", text(object["query"], &in.query)},
		{"operationName", text(object["operationName"], &in.operation)},
		{"documentId", text(object["documentId"], &id)},
		{"variables", mapping(object["variables"], &in.variables)},
		{"extensions", mapping(object["extensions"], &in.extensions)},
	} {
		if !want.ok {
			return nil, malformed(want.name, "This has the wrong kind of value.")
		}
	}
	if persisted, given := in.extensions["persistedQuery"]; given && id == "" {
		of, ok := persisted.(map[string]any)
		if !ok || !text(of["sha256Hash"], &id) || id == "" {
			return nil, malformed("extensions", "A stored operation is named by extensions.persistedQuery.sha256Hash.")
		}
	}
	in.hash = strings.TrimPrefix(id, "sha256:")
	if in.query == "" && in.hash == "" {
		return nil, malformed("query", "Send a document as query, or the name of a stored one.")
	}
	return in, nil
}

func text(v any, into *string) bool {
	if v == nil {
		return true
	}
	s, ok := v.(string)
	*into = s
	return ok
}

func mapping(v any, into *map[string]any) bool {
	if v == nil {
		return true
	}
	m, ok := v.(map[string]any)
	*into = m
	return ok
}
