package practice

import (
	"sync"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
)

// gatedKey names what may be said of a vessel's passes: as of a number of the practice's
// record, held against a pass, for what one reader sees. Every write moves the number, so
// that nothing said of an earlier state is ever taken for the present one.
type gatedKey struct {
	practice, vessel, held uuid.UUID
	seq                    int64
	passes                 int  // that the reader sees: restricted jobs only grow them
	reader                 Sees // whose they are
}

// gated is what was worked out of a history, to be shared and never written to.
type gated struct {
	gates   []*Gate
	notSeen []NotSeen
	ahead   *Outlook
	course  *Course
}

// gatedCache keeps what was said lately.
type gatedCache struct {
	mu sync.Mutex
	of map[gatedKey]gated
}

// mostGated bounds the cache: about a hundred kilobytes each.
const mostGated = 100

// gated fills all that is computed of a history, from what was worked out before where the
// record of changes has not moved since.
func (s *Service) gated(a domain.Actor, h *History, vessel uuid.UUID, against *uuid.UUID) error {
	if err := h.stand(against); err != nil || len(h.Passes) == 0 {
		return err
	}
	key := gatedKey{practice: a.Practice, vessel: vessel, held: h.Passes[h.held].ID, seq: h.Seq, passes: len(h.Passes), reader: sees(a)}
	s.said.mu.Lock()
	g, there := s.said.of[key]
	s.said.mu.Unlock()
	if there {
		g.into(h)
		return nil
	}
	h.say()
	s.said.put(key, gatedOf(h))
	return nil
}

func (c *gatedCache) put(key gatedKey, g gated) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if len(c.of) >= mostGated {
		for other := range c.of { // any one of them makes room
			delete(c.of, other)
			break
		}
	}
	if c.of == nil {
		c.of = map[gatedKey]gated{}
	}
	c.of[key] = g
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
