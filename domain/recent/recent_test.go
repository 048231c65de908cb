package recent_test

import (
	"sync"
	"testing"

	"boottop.example/practice/domain/recent"
)

func TestMapKeepsTheLastOnesAndNoMore(t *testing.T) {
	t.Parallel()
	m := recent.Map[int, int]{Most: 3}
	for k := range 10 {
		m.Put(k, k*k)
		if v, there := m.Get(k); !there || v != k*k {
			t.Fatalf("%d is not kept: %d, %t", k, v, there)
		}
	}
	kept := 0
	for k := range 10 {
		if _, there := m.Get(k); there {
			kept++
		}
	}
	if kept != 3 {
		t.Errorf("%d values are kept, want 3", kept)
	}
}

func TestMapReplacesWithoutLosingAnother(t *testing.T) {
	t.Parallel()
	m := recent.Map[string, int]{Most: 2}
	m.Put("a", 1)
	m.Put("b", 2)
	m.Put("a", 3)
	if a, _ := m.Get("a"); a != 3 {
		t.Errorf("a is %d, want 3", a)
	}
	if _, there := m.Get("b"); !there {
		t.Error("b made room for a value that needed none")
	}
}

func TestMapThatKeepsNothing(t *testing.T) {
	t.Parallel()
	var none *recent.Map[int, int]
	var zero recent.Map[int, int]
	for _, m := range []*recent.Map[int, int]{none, &zero} {
		m.Put(1, 1)
		if _, there := m.Get(1); there {
			t.Error("a map without room kept a value")
		}
	}
}

func TestMapServesManyAtOnce(t *testing.T) {
	t.Parallel()
	m := recent.Map[int, int]{Most: 5}
	var all sync.WaitGroup
	for k := range 8 {
		all.Go(func() {
			for n := range 200 {
				m.Put(n%7, k)
				m.Get(n % 7)
			}
		})
	}
	all.Wait()
}
