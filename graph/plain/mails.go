package plain

import (
	"cmp"
	"errors"
	"html/template"
	"io"
	"io/fs"
	"log/slog"
	"mime"
	"mime/quotedprintable"
	"net/http"
	"net/mail"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"boottop.example/practice/graph/answer"
)

// Mail is a letter as a developer reads it.
type Mail struct {
	File    string    `json:"file"`
	To      string    `json:"to"`
	Subject string    `json:"subject"`
	At      time.Time `json:"at"`
	Body    string    `json:"body"`
}

// mailsMost is how many are listed, newest first.
const mailsMost = 100

// Mails is GET /dev/mails: the letters that were written to a folder instead of being
// sent (*.eml), as a page, or as JSON for whoever asks for that. For development alone.
func Mails(folder string) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		list, err := readMails(folder)
		if err != nil {
			answer.Fault(w, r, err)
			return
		}
		if strings.Contains(r.Header.Get("Accept"), "application/json") {
			answer.JSON(w, http.StatusOK, map[string][]Mail{"mails": list})
			return
		}
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		w.Header().Set("Cache-Control", "no-store")
		if err := mailsPage.Execute(w, list); err != nil {
			slog.WarnContext(r.Context(), "mails not shown", "error", err)
		}
	})
}

func readMails(folder string) ([]Mail, error) {
	files, err := filepath.Glob(filepath.Join(folder, "*.eml"))
	if err != nil {
		return nil, err
	}
	list := []Mail{}
	for _, name := range files {
		m, err := readMail(name)
		if errors.Is(err, fs.ErrNotExist) { // taken away meanwhile
			continue
		}
		if err != nil {
			m = Mail{Subject: "This letter cannot be read", Body: err.Error()}
		}
		m.File = filepath.Base(name)
		list = append(list, m)
	}
	slices.SortFunc(list, func(a, b Mail) int { return cmp.Or(b.At.Compare(a.At), cmp.Compare(b.File, a.File)) })
	return list[:min(len(list), mailsMost)], nil
}

func readMail(name string) (Mail, error) {
	file, err := os.Open(name)
	if err != nil {
		return Mail{}, err
	}
	defer file.Close()
	message, err := mail.ReadMessage(file)
	if err != nil {
		return Mail{}, err
	}
	body := message.Body
	if strings.EqualFold(message.Header.Get("Content-Transfer-Encoding"), "quoted-printable") {
		body = quotedprintable.NewReader(body)
	}
	text, err := io.ReadAll(io.LimitReader(body, 1<<20))
	if err != nil {
		return Mail{}, err
	}
	at, err := message.Header.Date()
	if info, statErr := file.Stat(); err != nil && statErr == nil {
		at = info.ModTime()
	}
	subject, err := new(mime.WordDecoder).DecodeHeader(message.Header.Get("Subject"))
	if err != nil {
		subject = message.Header.Get("Subject")
	}
	return Mail{To: message.Header.Get("To"), Subject: subject, At: at.UTC(), Body: strings.ReplaceAll(string(text), "\r\n", "\n")}, nil
}

// lines splits a letter so that the page can make links of the addresses in it.
func lines(body string) []string { return strings.Split(body, "\n") }

func isLink(line string) bool {
	return strings.HasPrefix(line, "http://") || strings.HasPrefix(line, "https://")
}

var mailsPage = template.Must(template.New("mails").Funcs(template.FuncMap{"lines": lines, "isLink": isLink}).Parse(`<!doctype html>
<html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>Letters not sent</title>
<link rel="stylesheet" href="/dev/page.css">
<main><h1>Letters not sent</h1>
<p>On this machine a letter goes to a folder instead of out. Newest first.</p>
{{range .}}<article><h2>{{.Subject}}</h2><p class="note">to {{.To}}, {{.At.Format "2006-01-02 15:04:05"}} UTC, {{.File}}</p>
<pre>{{range lines .Body}}{{if isLink .}}<a href="{{.}}">{{.}}</a>{{else}}{{.}}{{end}}
{{end}}</pre></article>
{{else}}<p>None yet.</p>{{end}}</main></html>
`))
