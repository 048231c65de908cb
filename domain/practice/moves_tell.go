package practice

import (
	"context"
	"fmt"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/entry"
)

// tell sends one letter to everybody whom a move concerns, but to whoever made it: the
// members whose visits moved and, where that was asked for, the clients and the yard. An
// address that is written to as one is not written to again as another.
func (s *Service) tell(ctx context.Context, tx Tx, a domain.Actor, sp Spell, m Move, undone bool) error {
	lines := map[uuid.UUID]MovedLine{}
	ids := []uuid.UUID{}
	for _, l := range m.Lines {
		if l.Visit != nil {
			lines[*l.Visit] = l
			ids = append(ids, *l.Visit)
		}
	}
	w := moveWriter{sp: sp, m: m, lines: lines, undone: undone}
	told := map[string]bool{}
	send := func(kind, to, body string) error {
		if told[strings.ToLower(to)] || to == "" {
			return nil
		}
		told[strings.ToLower(to)] = true
		return tx.SendMail(ctx, entry.Letter{Kind: kind, To: to, Subject: w.subject(), Body: body}, s.instant())
	}
	people, err := tx.Affected(ctx, ids)
	if err != nil {
		return err
	}
	for _, p := range people {
		if p.Member == a.Member {
			continue
		}
		if err := send("move", p.Email, w.toMember(p)); err != nil {
			return err
		}
	}
	if !m.TellsClient && !m.TellsYard {
		return nil
	}
	return s.tellOutside(ctx, tx, w, ids, send)
}

func (s *Service) tellOutside(ctx context.Context, tx Tx, w moveWriter, visits []uuid.UUID, send func(kind, to, body string) error) error {
	p, err := tx.Practice(ctx)
	if err != nil {
		return err
	}
	outside, err := tx.ToldOfMove(ctx, w.sp.ID, visits)
	if err != nil {
		return err
	}
	for _, o := range outside {
		kind, body := "move to client", w.toClient(o, p.Name)
		if o.IsYard {
			kind, body = "move to yard", w.toYard(o, p.Name)
		}
		if o.IsYard && !w.m.TellsYard || !o.IsYard && !w.m.TellsClient {
			continue
		}
		if err := send(kind, o.Email, body); err != nil {
			return err
		}
	}
	return nil
}

// moveWriter writes the letters of one move.
type moveWriter struct {
	sp     Spell
	m      Move
	lines  map[uuid.UUID]MovedLine
	undone bool
}

func (w moveWriter) subject() string {
	if w.undone {
		return fmt.Sprintf("Moved back: the %s of %s", w.m.What, w.sp.Vessel.Name)
	}
	return fmt.Sprintf("Moved: the %s of %s", w.m.What, w.sp.Vessel.Name)
}

// turned gives what a line leads to, and what it comes from.
func (w moveWriter) turned(l MovedLine) (now, was *time.Time) {
	if w.undone {
		return l.FromBefore, l.FromAfter
	}
	return l.FromAfter, l.FromBefore
}

// opening says what was moved, in a sentence.
func (w moveWriter) opening(b *strings.Builder, name string) {
	now, _ := w.turned(w.m.Lines[0])
	if now == nil { // a wash that was not planned before
		fmt.Fprintf(b, "%s,\n\nno %s of %s is planned any more", name, w.m.What, w.sp.Vessel.Name)
	} else {
		fmt.Fprintf(b, "%s,\n\nthe %s of %s is now planned for %s", name, w.m.What, w.sp.Vessel.Name, clock(*now, w.sp.TimeZone))
	}
	if w.sp.Yard != nil {
		fmt.Fprintf(b, " at %s", w.sp.Yard.Name)
	}
	b.WriteString(".\n")
}

// was says where it stood before.
func (w moveWriter) was(b *strings.Builder) {
	if _, was := w.turned(w.m.Lines[0]); was != nil {
		fmt.Fprintf(b, "It was planned for %s.\n", clock(*was, w.sp.TimeZone))
	}
}

func (w moveWriter) visits(b *strings.Builder, heading string, ids []uuid.UUID) {
	if len(ids) == 0 {
		return
	}
	b.WriteString(heading)
	for _, id := range ids {
		now, was := w.turned(w.lines[id])
		fmt.Fprintf(b, "- %s, was %s\n", clock(*now, w.sp.TimeZone), clock(*was, w.sp.TimeZone))
	}
}

func (w moveWriter) foot(b *strings.Builder) {
	fmt.Fprintf(b, "\nTimes are those of the yard (%s).\n", w.sp.TimeZone)
}

func (w moveWriter) toMember(p Affected) string {
	var b strings.Builder
	w.opening(&b, p.Name)
	if w.m.Reason != "" && !w.undone {
		fmt.Fprintf(&b, "Reason: %s\n", w.m.Reason)
	}
	w.visits(&b, "\nYour visits that moved with it:\n", p.Visits)
	w.foot(&b)
	return b.String()
}

// toClient says what moved of a client's own visits. The reason is the practice's own.
func (w moveWriter) toClient(o Outsider, practice string) string {
	var b strings.Builder
	w.opening(&b, o.Name)
	w.was(&b)
	w.visits(&b, "\nOur visits for you that moved with it:\n", o.Visits)
	w.foot(&b)
	fmt.Fprintf(&b, "\nPlease tell us if this does not suit you.\n\n%s\n", practice)
	return b.String()
}

// toYard asks a yard for the new times of its own slot: no client, no job, nobody's visit.
func (w moveWriter) toYard(o Outsider, practice string) string {
	var b strings.Builder
	w.opening(&b, o.Name)
	w.was(&b)
	if l := w.m.Lines[0]; w.m.What == MoveLift {
		if launch := l.launch(w.undone); launch != nil {
			fmt.Fprintf(&b, "Launch: %s.\n", clock(*launch, w.sp.TimeZone))
		}
	}
	for _, l := range w.m.Lines[1:] {
		if now, was := w.turned(l); l.What != "" {
			fmt.Fprintf(&b, "The %s: %s, was %s.\n", slotWords[l.What], clock(*now, w.sp.TimeZone), clock(*was, w.sp.TimeZone))
		}
	}
	w.foot(&b)
	fmt.Fprintf(&b, "\nPlease tell us if it cannot be so.\n\n%s\n", practice)
	return b.String()
}

// launch is the planned launch that a spell's line leads to.
func (l MovedLine) launch(undone bool) *time.Time {
	if undone {
		return l.ToBefore
	}
	return l.ToAfter
}
