package practice

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// toMove reads the time ashore that a move is about, once the move itself can be kept.
func toMove(ctx context.Context, tx Tx, id, spell uuid.UUID, lines []AcceptedLine, reason string) (Spell, error) {
	if err := newID("id", id); err != nil {
		return Spell{}, err
	}
	if len(lines) > mostLines || len(reason) > 500 {
		return Spell{}, domain.Invalidf("lines", "A move carries at most %d visits, and its reason at most 500 letters.", mostLines)
	}
	return tx.Spell(ctx, spell)
}

// ApplyMove moves a planned lift and, with it, the lines that were accepted.
type ApplyMove struct {
	Mutation  uuid.UUID `json:"-"`
	ID        uuid.UUID // of the move
	Spell     uuid.UUID
	Version   int32 // of the spell
	NewLift   time.Time
	NewLaunch *time.Time
	Reason    string
	Lines     []AcceptedLine

	Slot       []AcceptedSlot `json:",omitempty"`
	TellClient bool           `json:",omitempty"` // one letter to each client whose visits are planned there
	TellYard   bool           `json:",omitempty"`
}

// AcceptedSlot is a wash, chocking or move within the yard that goes along.
type AcceptedSlot struct {
	What string
	At   time.Time
}

// AcceptedLine is a visit that goes along; what is not named stays where it is.
type AcceptedLine struct {
	Visit   uuid.UUID
	Version int32
	From    time.Time
	To      time.Time
}

// mostLines is how many visits one move may carry.
const mostLines = 100

// ApplyMove moves a planned lift with the accepted visits as one change. What is left
// where it is must still lie in the time ashore. Everybody whose visits moved gets one letter.
func (s *Service) ApplyMove(ctx context.Context, a domain.Actor, in ApplyMove) (Done, error) {
	return s.write(ctx, &a, domain.Book, "applyMove", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		sp, err := toMove(ctx, tx, in.ID, in.Spell, in.Lines, in.Reason)
		if err != nil {
			return Done{}, err
		}
		if sp.ActualLift != nil || sp.CancelledAt != nil {
			return Done{}, domain.Conflictf("Only a lift that is still planned can be moved.")
		}
		m := Move{ID: in.ID, SpellID: sp.ID, What: MoveLift, Reason: strings.TrimSpace(in.Reason), MadeAt: s.instant(), TellsClient: in.TellClient, TellsYard: in.TellYard}
		m.Lines = []MovedLine{{FromBefore: sp.PlannedLift, ToBefore: sp.PlannedLaunch, FromAfter: &in.NewLift, ToAfter: in.NewLaunch, VersionAfter: in.Version + 1}}
		sp.Version, sp.PlannedLift, sp.PlannedLaunch = in.Version, &in.NewLift, in.NewLaunch
		if err := checkSpell(sp.PlannedLift, sp.PlannedLaunch, nil, nil); err != nil {
			return Done{}, err
		}
		if err := rewrite(ctx, tx, sp); err != nil {
			return Done{}, err
		}
		slot, err := moveSlot(ctx, tx, sp, in.Slot)
		if err != nil {
			return Done{}, err
		}
		visits, err := s.carryAll(ctx, tx, a, sp.ID, in.Lines)
		if err != nil {
			return Done{}, err
		}
		m.Lines = append(append(m.Lines, slot...), visits...)
		if err := keepsVisits(ctx, tx, sp.ID, sees(a)); err != nil {
			return Done{}, err
		}
		return s.keepMove(ctx, tx, a, sp, m)
	})
}

// keepMove writes a move down, so that it can be taken back, and tells whom it concerns.
func (s *Service) keepMove(ctx context.Context, tx Tx, a domain.Actor, sp Spell, m Move) (Done, error) {
	if err := tx.InsertMove(ctx, m, entered(a)); err != nil {
		return Done{}, err
	}
	if err := s.moveExplained(ctx, tx, a, sp, m); err != nil {
		return Done{}, err
	}
	return m.tells(moveDone(m, sp)), s.tell(ctx, tx, a, sp, m, false)
}

// byTheLift are the checks that a visit which stays where it is may owe to a lift or a wash
// that moved.
var byTheLift = map[string]bool{CheckWaiting: true, CheckTide: true, CheckWash: true}

// moveExplained lets what stands against the visits of a move pass with the move's reason,
// and refuses a move that brings such and has none. The reason holds as long as the move.
func (s *Service) moveExplained(ctx context.Context, tx Tx, a domain.Actor, sp Spell, m Move) error {
	d, err := tx.Diary(ctx, DiarySpan{From: first(sp.ActualLift, sp.PlannedLift).Add(-aroundVisit), To: first(sp.ActualLift, sp.PlannedLift).Add(longest), Vessel: &sp.Vessel.ID}, sees(a))
	if err != nil {
		return err
	}
	x := d.index()
	for _, v := range d.Visits {
		if v.SpellID == nil || *v.SpellID != sp.ID || v.State != "planned" || !v.Open || !v.To.After(m.MadeAt) {
			continue
		}
		carried := m.carries(v.ID)
		for _, c := range x.checks(v) {
			if c.Passed != "" || !carried && !byTheLift[c.Code] {
				continue
			}
			if m.Reason == "" {
				return &domain.Fault{Kind: domain.Conflict, Field: "reason", Text: fmt.Sprintf("Against the %s of %s stands: %s Say why it is moved all the same: the reason is kept with it and with your name. Or give another time.", v.Kind, clock(v.From, v.TimeZone), c.Text)}
			}
			if err := tx.OverrideCheck(ctx, v.ID, Override{Code: c.Code, Reason: m.Reason}, entered(a), &m.ID, m.MadeAt); err != nil {
				return err
			}
		}
	}
	return nil
}

func (m Move) carries(visit uuid.UUID) bool {
	return slices.ContainsFunc(m.Lines, func(l MovedLine) bool { return l.Visit != nil && *l.Visit == visit })
}

// slotWords name what a yard does beside lift and launch.
var slotWords = map[string]string{"wash": "wash", "chock": "chocking", "shift": "move within the yard"}

// at is one time of a slot, to be read and set.
func (d *DescribeSlot) at(what string) **time.Time {
	switch what {
	case "wash":
		return &d.WashAt
	case "chock":
		return &d.ChockAt
	}
	return &d.ShiftAt
}

// moveSlot moves what the yard does beside lift and launch; what is left where it is must
// still lie in the time ashore.
func moveSlot(ctx context.Context, tx Tx, sp Spell, accepted []AcceptedSlot) (lines []MovedLine, err error) {
	slot, err := tx.Slot(ctx, sp.ID)
	if err != nil {
		return nil, err
	}
	for _, x := range accepted {
		at := slot.at(x.What)
		if slotWords[x.What] == "" || *at == nil || slices.ContainsFunc(lines, func(l MovedLine) bool { return l.What == x.What }) {
			return nil, domain.Invalidf("slot", "A move carries a wash, a chocking and a move within the yard that are planned, each once.")
		}
		before, after := **at, x.At
		lines = append(lines, MovedLine{What: x.What, FromBefore: &before, FromAfter: &after})
		*at = &after
	}
	if err := slot.within(sp); err != nil {
		return nil, err
	}
	if len(lines) == 0 {
		return nil, nil
	}
	return lines, tx.SetSlot(ctx, slot)
}

// tells is that every visit of a move stands elsewhere; its people hear of it once.
func (m Move) tells(done Done) Done {
	for _, l := range m.Lines {
		if l.Visit != nil {
			done = done.tell(telling{What: toldMoved, Visit: l.Visit})
		}
	}
	return done
}

func moveDone(m Move, sp Spell) Done {
	things := []domain.Ref{ref(domain.ThingMove, m.ID), ref(domain.ThingSpell, sp.ID), ref(domain.ThingVessel, sp.Vessel.ID)}
	for _, l := range m.Lines {
		if l.Visit != nil {
			things = append(things, ref(domain.ThingVisit, *l.Visit))
		}
	}
	return touched(things...)
}

// carryAll moves visits of a spell together: all let go first, so that one may take the
// hours that another leaves.
func (s *Service) carryAll(ctx context.Context, tx Tx, a domain.Actor, spell uuid.UUID, accepted []AcceptedLine) ([]MovedLine, error) {
	visits := make([]Visit, len(accepted))
	ids := make([]uuid.UUID, len(accepted))
	for k, l := range accepted {
		v, err := tx.Visit(ctx, l.Visit, sees(a))
		if err != nil {
			return nil, err
		}
		if v.SpellID == nil || *v.SpellID != spell || v.State != "planned" || slices.Contains(ids, v.ID) {
			return nil, domain.Invalidf("lines", "A move carries the planned visits of its own time ashore, each once.")
		}
		if err := checkTimes(l.From, l.To); err != nil {
			return nil, err
		}
		visits[k], ids[k] = v, v.ID
	}
	if err := tx.FreeVisits(ctx, ids); err != nil {
		return nil, err
	}
	moved := make([]MovedLine, len(accepted))
	for k, l := range accepted {
		v := visits[k]
		moved[k] = MovedLine{Visit: &ids[k], FromBefore: &visits[k].From, ToBefore: &visits[k].To, FromAfter: &accepted[k].From, ToAfter: &accepted[k].To, VersionAfter: l.Version + 1}
		v.Version, v.From, v.To = l.Version, l.From, l.To
		if err := tx.UpdateVisit(ctx, v); err != nil {
			return nil, err
		}
	}
	for k, l := range accepted {
		v := visits[k]
		v.From, v.To = l.From, l.To
		if err := s.book(ctx, tx, v, Booked{}, sees(a)); err != nil {
			return nil, err
		}
	}
	return moved, nil
}

// UndoMove takes a move back.
type UndoMove struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID
}

// UndoMove puts the lift and every visit that went along back where they were. What was
// touched since the move stands in its way, and is named.
func (s *Service) UndoMove(ctx context.Context, a domain.Actor, in UndoMove) (Done, error) {
	return s.write(ctx, &a, domain.Book, "undoMove", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		m, err := tx.Move(ctx, in.ID)
		if err != nil {
			return Done{}, err
		}
		if m.UndoneAt != nil {
			return Done{}, domain.Conflictf("This move was taken back already.")
		}
		sp, err := tx.Spell(ctx, m.SpellID)
		if err != nil {
			return Done{}, err
		}
		if err := s.takeBack(ctx, tx, a, m, sp); err != nil {
			return Done{}, err
		}
		if err := tx.UndoMove(ctx, m.ID, s.instant()); err != nil {
			return Done{}, err
		}
		return m.tells(moveDone(m, sp)), s.tell(ctx, tx, a, sp, m, true)
	})
}

// takeBack puts the spell, the slot and the visits of a move back where they were.
func (s *Service) takeBack(ctx context.Context, tx Tx, a domain.Actor, m Move, sp Spell) error {
	slot, err := tx.Slot(ctx, sp.ID)
	if err != nil {
		return err
	}
	var back []AcceptedLine
	slotMoved := false
	for _, l := range m.Lines {
		switch {
		case l.Visit != nil:
			v, err := tx.Visit(ctx, *l.Visit, sees(a))
			if err != nil {
				return err
			}
			if v.Version != l.VersionAfter {
				return domain.Conflictf("The visit of %s was changed after the move: it cannot be taken back as a whole. Move it again instead.", clock(v.From, v.TimeZone))
			}
			back = append(back, AcceptedLine{Visit: v.ID, Version: v.Version, From: *l.FromBefore, To: *l.ToBefore})
		case l.What != "":
			at := slot.at(l.What)
			if *at == nil || !(*at).Equal(*l.FromAfter) {
				return domain.Conflictf("The %s was changed after the move: it cannot be taken back as a whole. Move it again instead.", slotWords[l.What])
			}
			*at, slotMoved = l.FromBefore, true
		default:
			if err := takeBackSpell(ctx, tx, sp, l); err != nil {
				return err
			}
			sp.PlannedLift, sp.PlannedLaunch = l.FromBefore, l.ToBefore
		}
	}
	if err := slot.within(sp); err != nil {
		return domain.Conflictf("%s Move it again instead.", err)
	}
	if slotMoved {
		if err := tx.SetSlot(ctx, slot); err != nil {
			return err
		}
	}
	if _, err := s.carryAll(ctx, tx, a, sp.ID, back); err != nil {
		return err
	}
	return keepsVisits(ctx, tx, sp.ID, sees(a))
}

func takeBackSpell(ctx context.Context, tx Tx, sp Spell, l MovedLine) error {
	if sp.Version != l.VersionAfter {
		return domain.Conflictf("The time ashore was changed after the move: it cannot be taken back as a whole. Move it again instead.")
	}
	if err := standsApart(ctx, tx, sp.Vessel.ID, sp.ID, *first(l.FromBefore, sp.ActualLift), l.ToBefore); err != nil {
		return err
	}
	return tx.TakeBackSpell(ctx, sp.ID, sp.Version, l.FromBefore, l.ToBefore)
}
