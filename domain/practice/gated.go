package practice

import (
	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/measure/baseline"
	"boottop.example/practice/domain/recent"
)

// saidKey names what may be said of a vessel's passes: as of a number of the practice's
// record, for what one reader sees, held against a pass. Every write moves the number, so
// that nothing said of an earlier state is ever taken for the present one.
type saidKey struct {
	practice, vessel uuid.UUID
	held             uuid.UUID // Nil for what a pass is by itself
	seq              int64
	passes           int  // that the reader sees: restricted jobs only grow them
	reader           Sees // whose they are
}

// saidLately keeps what was worked out of histories: about a hundred kilobytes each.
type saidLately struct {
	weighed recent.Map[saidKey, weighed]
	gated   recent.Map[saidKey, gated]
}

const mostSaid = 100

func newSaidLately() saidLately {
	return saidLately{weighed: recent.Map[saidKey, weighed]{Most: mostSaid}, gated: recent.Map[saidKey, gated]{Most: mostSaid}}
}

// weighed is what the passes of a history are by themselves, to be shared and never
// written to.
type weighed struct {
	components []Components
	mirrors    Column
	passes     []weighedPass
}

type weighedPass struct {
	baseline                   baseline.Baseline
	contrasts                  Column
	missing, lost, lostContext []Warning
}

// stood fills baselines, contrasts and standings of a history, from what was weighed
// before where the record of changes has not moved since.
func (s *Service) stood(a domain.Actor, h *History, vessel uuid.UUID, against *uuid.UUID) error {
	if err := h.hold(against); err != nil {
		return err
	}
	key := saidKey{practice: a.Practice, vessel: vessel, seq: h.Seq, passes: len(h.Passes), reader: sees(a)}
	if w, there := s.said.weighed.Get(key); there {
		w.into(h)
	} else {
		h.weigh()
		s.said.weighed.Put(key, weighedOf(h))
	}
	h.beside()
	return nil
}

func weighedOf(h *History) weighed {
	h.Axis.mirrors = h.Axis.Mirrors()
	w := weighed{h.Components, h.Axis.mirrors, make([]weighedPass, len(h.Passes))}
	for k, p := range h.Passes {
		w.passes[k] = weighedPass{p.Baseline, p.Contrasts, p.Missing, p.Lost, p.LostContext}
	}
	return w
}

func (w weighed) into(h *History) {
	h.Components, h.Axis.mirrors = w.components, w.mirrors
	for k, of := range w.passes {
		p := &h.Passes[k]
		p.Baseline, p.Contrasts, p.Missing, p.Lost, p.LostContext = of.baseline, of.contrasts, of.missing, of.lost, of.lostContext
	}
}

// gated is what was worked out of a history held against a pass, to be shared and never
// written to.
type gated struct {
	gates   []*Gate
	notSeen []NotSeen
	ahead   *Outlook
	course  *Course
}

// gated fills all that is computed of a history, from what was worked out before where the
// record of changes has not moved since.
func (s *Service) gated(a domain.Actor, h *History, vessel uuid.UUID, against *uuid.UUID) error {
	if err := s.stood(a, h, vessel, against); err != nil || len(h.Passes) == 0 {
		return err
	}
	key := saidKey{practice: a.Practice, vessel: vessel, held: h.Passes[h.held].ID, seq: h.Seq, passes: len(h.Passes), reader: sees(a)}
	if g, there := s.said.gated.Get(key); there {
		g.into(h)
		return nil
	}
	h.say()
	s.said.gated.Put(key, gatedOf(h))
	return nil
}

func gatedOf(h *History) gated {
	g := gated{ahead: h.Ahead, course: h.Course}
	for _, p := range h.Passes {
		g.gates, g.notSeen = append(g.gates, p.Gate), append(g.notSeen, p.NotSeen)
	}
	return g
}

func (g gated) into(h *History) {
	h.Ahead, h.Course = g.ahead, g.course
	for k := range h.Passes {
		h.Passes[k].Gate, h.Passes[k].NotSeen = g.gates[k], g.notSeen[k]
	}
}
