// Package recent keeps what was worked out lately, a bounded number of values, for many
// goroutines at once.
package recent

import "sync"

// Map keeps up to a number of values by key. The zero Map keeps none. What is put in is
// shared from then on and must not be written to.
type Map[K comparable, V any] struct {
	Most int // values kept at a time

	mu sync.Mutex
	of map[K]V
}

// Get gives the value of a key; there is false where none is kept. A nil Map keeps nothing.
func (m *Map[K, V]) Get(key K) (value V, there bool) {
	if m == nil {
		return value, false
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	value, there = m.of[key]
	return value, there
}

// Put keeps a value in the place of the one before it under its key, or of any other
// where the map is full: which one matters little where all are of the last moments.
func (m *Map[K, V]) Put(key K, value V) {
	if m == nil || m.Most < 1 {
		return
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	if _, there := m.of[key]; !there && len(m.of) >= m.Most {
		for other := range m.of {
			delete(m.of, other)
			break
		}
	}
	if m.of == nil {
		m.of = make(map[K]V, m.Most)
	}
	m.of[key] = value
}
