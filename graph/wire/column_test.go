package wire

import (
	"bytes"
	"encoding/json"
	"io"
	"slices"
	"strings"
	"testing"

	"github.com/google/uuid"
)

// apart hides the buffer behind a writer, as compression does.
type apart struct{ io.Writer }

func TestColumnsWriteTheSameIntoABufferAndAStream(t *testing.T) {
	t.Parallel()
	texts := TextColumn{"13/3", "", `a "quoted" \ one`, "<b>&", "Ærø", "\x01", "tab\t", strings.Repeat("x", 300)}
	for name, c := range map[string]interface{ MarshalGQL(io.Writer) }{
		"numbers": Column{1, Null, -20, 1 << 30}, "lists": Columns{{1, 2}, nil, {}}, "texts": texts,
		"ids": IDColumn{{Place, uuid.UUID{1}}, {}}, "none": Column{},
	} {
		var into, through bytes.Buffer
		into.WriteString("before")
		through.WriteString("before")
		c.MarshalGQL(&into)
		c.MarshalGQL(apart{&through})
		if into.String() != through.String() {
			t.Errorf("%s: %s in a buffer, %s in a stream", name, into.String(), through.String())
		}
		if text := into.Bytes()[len("before"):]; !json.Valid(text) {
			t.Errorf("%s: no JSON: %s", name, text)
		}
	}
}

func TestTextColumnSaysWhatItHolds(t *testing.T) {
	t.Parallel()
	said := TextColumn{"13/3", "", `a "quoted" \ one`, "<b>&", "Ærø", "\x01\t\n", "\x7f"}
	var b bytes.Buffer
	said.MarshalGQL(&b)
	var list []any
	if err := json.Unmarshal(b.Bytes(), &list); err != nil {
		t.Fatal(err)
	}
	var read TextColumn
	if err := read.UnmarshalGQL(list); err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(read, said) {
		t.Errorf("%q came back as %q", said, read)
	}
}
