package post_test

import (
	"bytes"
	"context"
	"io"
	"net"
	"net/mail"
	"strings"
	"testing"
	"time"

	"github.com/emersion/go-smtp"
	"github.com/google/uuid"

	"boottop.example/practice/domain/entry"
	"boottop.example/practice/store/post"
)

// server keeps what it is sent; it takes no letter for nobody@.
type server struct{ got [][]byte }

func (s *server) NewSession(*smtp.Conn) (smtp.Session, error) { return &session{s}, nil }

type session struct{ s *server }

func (*session) Reset()                               {}
func (*session) Logout() error                        { return nil }
func (*session) Mail(string, *smtp.MailOptions) error { return nil }
func (*session) Rcpt(to string, _ *smtp.RcptOptions) error {
	if strings.HasPrefix(to, "nobody@") {
		return &smtp.SMTPError{Code: 550, EnhancedCode: smtp.EnhancedCode{5, 1, 1}, Message: "no mailbox " + to}
	}
	return nil
}

func (s *session) Data(r io.Reader) error {
	text, err := io.ReadAll(r)
	s.s.got = append(s.s.got, text)
	return err
}

func TestSMTP(t *testing.T) {
	t.Parallel()
	at, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	kept := &server{}
	s := smtp.NewServer(kept)
	t.Cleanup(func() { _ = s.Close() })
	go func() { _ = s.Serve(at) }()
	send, err := post.SMTP("smtp://"+at.Addr().String(), "North quay <post@practice.example>")
	if err != nil {
		t.Fatal(err)
	}
	id, written := uuid.Must(uuid.NewV7()), time.Date(2026, 11, 20, 9, 30, 0, 0, time.UTC)
	l := entry.Letter{To: "ines@north.example", Subject: "Über den Bericht", Body: "Ein Gruß.\n.\nEnde\n"}
	for range 2 {
		if err := send(t.Context(), id, l, written); err != nil {
			t.Fatal(err)
		}
	}
	if len(kept.got) != 2 || !bytes.Equal(kept.got[0], kept.got[1]) {
		t.Fatalf("sent again, the letter is another one:\n%s", bytes.Join(kept.got, []byte("\n---\n")))
	}
	m, err := mail.ReadMessage(bytes.NewReader(kept.got[0]))
	if err != nil {
		t.Fatal(err)
	}
	if got, want := m.Header.Get("Message-ID"), "<"+id.String()+"@practice.example>"; got != want {
		t.Errorf("Message-ID %s, want %s", got, want)
	}
	if at, err := m.Header.Date(); err != nil || !at.Equal(written) {
		t.Errorf("Date %v, %v", at, err)
	}
	t.Run("a letter that can be ended says so twice, as RFC 8058 asks", func(t *testing.T) {
		l := l
		l.Unsubscribe = "https://practice.example/unsubscribe/secret"
		if err := send(t.Context(), id, l, written); err != nil {
			t.Fatal(err)
		}
		m, err := mail.ReadMessage(bytes.NewReader(kept.got[len(kept.got)-1]))
		if err != nil {
			t.Fatal(err)
		}
		if got := m.Header.Get("List-Unsubscribe"); got != "<"+l.Unsubscribe+">" {
			t.Errorf("List-Unsubscribe %q", got)
		}
		if got := m.Header.Get("List-Unsubscribe-Post"); got != "List-Unsubscribe=One-Click" {
			t.Errorf("List-Unsubscribe-Post %q", got)
		}
	})
	t.Run("what is in a letter makes no header of its own", func(t *testing.T) {
		before := len(kept.got)
		for _, evil := range []string{"a\r\nBcc: all@evil.example", "a\nBcc: all@evil.example", "a\r\n\r\nBcc: all@evil.example\r\n", "a\rBcc: all@evil.example", "a\u2028Bcc: all@evil.example", strings.Repeat("ä", 200) + "\r\nBcc: all@evil.example"} {
			l := entry.Letter{To: "ines@north.example", Subject: evil, Body: evil + "\r\n.\r\nRCPT TO:<all@evil.example>\r\n"}
			if err := send(t.Context(), id, l, written); err != nil {
				t.Errorf("%q: %v", evil, err)
				continue
			}
			m, err := mail.ReadMessage(bytes.NewReader(kept.got[len(kept.got)-1]))
			if err != nil {
				t.Fatal(err)
			}
			if m.Header.Get("Bcc") != "" || len(m.Header["To"]) != 1 || strings.Contains(m.Header.Get("To"), "evil") {
				t.Errorf("%q: the headers are %v", evil, m.Header)
			}
		}
		if sent := len(kept.got) - before; sent != 6 {
			t.Errorf("6 letters are %d", sent)
		}
		for _, evil := range []string{"ines@north.example\r\nBcc: all@evil.example", "ines@north.example, all@evil.example", "<ines@north.example> all@evil.example"} {
			if err := send(t.Context(), id, entry.Letter{To: evil, Subject: "x", Body: "x"}, written); err == nil {
				t.Errorf("a letter went to %q", evil)
			}
		}
	})
	t.Run("a refusal does not repeat the address", func(t *testing.T) {
		l.To = "nobody@north.example"
		err := send(t.Context(), id, l, written)
		if err == nil || strings.Contains(err.Error(), "north.example") || !strings.Contains(err.Error(), "550") {
			t.Errorf("got %v", err)
		}
	})
	t.Run("beyond this machine a letter goes by TLS or not at all", func(t *testing.T) {
		ctx, cancel := context.WithTimeout(t.Context(), 3*time.Second)
		defer cancel()
		_, port, _ := net.SplitHostPort(at.Addr().String())
		outside, err := post.SMTP("smtp://localhost.:"+port, "post@practice.example")
		if err != nil {
			t.Fatal(err)
		}
		if err := outside(ctx, id, entry.Letter{To: "a@b.example", Subject: "x", Body: "x"}, written); err == nil {
			t.Error("sent in the clear")
		}
	})
}
