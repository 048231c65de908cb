package where

import (
	"fmt"
	"math/bits"
	"math/rand/v2"
	"slices"

	"boottop.example/practice/domain/measure"
)

// ClusterSettings say what counts as a cluster.
type ClusterSettings struct {
	Cut          float64 // z from which a place can belong to one
	Least        int     // places it needs to be reported
	Permutations int     // whole fields shuffled
	Seed         uint64
	Low          bool // look for low places instead of high ones
}

// ClusterDefaults: at least three places (trade notes); the cut and the number of
// permutations are this project's own, no source.
func ClusterDefaults(seed uint64) ClusterSettings {
	return ClusterSettings{Cut: 2, Least: 3, Permutations: 999, Seed: seed}
}

// Cluster is a group of touching places beyond the cut.
type Cluster struct {
	Places []int   // ascending
	Mass   float64 // sum over its places of how far z lies beyond the cut
	Peak   int     // the place with the largest z
	P      float64 // chance of so heavy a heaviest cluster anywhere, were places shuffled
}

// Clusters is the result of a search.
type Clusters struct {
	Found        []Cluster // heaviest first
	Beyond       int       // places beyond the cut, in clusters or not
	Permutations int
	Notes        []measure.Note
	Assumes      []string
}

// Find looks for clusters and tests each by its mass against whole fields shuffled over
// the places: Bullmore and others 1999, IEEE Trans. Med. Imaging 18, 32-42; Nichols and
// Holmes 2002, Human Brain Mapping 15, 1-25. The largest mass of each shuffled field
// counts, so that the chance of any false cluster on a hull is P, whatever the number of
// places.
//
//	g  neighbours
//	z  of each place, rows and regions taken out ([TakeOut])
//
// Shuffling takes places for exchangeable. Where neighbours go together all over the hull
// the note "patchy" says that they are not.
//
// The same seed gives the same P. Its own error is about √(P(1−P)/Permutations).
//
// Errors: lengths that differ, z not finite, settings out of range.
func Find(g *Graph, z []float64, s ClusterSettings) (Clusters, error) {
	if err := checkFind(g, z, s); err != nil {
		return Clusters{}, err
	}
	f := newFinder(g, z, s)
	out := Clusters{Permutations: s.Permutations, Beyond: len(f.excess), Assumes: []string{"without a cause behind it, any place could have had any of the values"}}
	out.Found = f.observed()
	if len(out.Found) > 0 {
		f.test(out.Found, s)
	}
	if patchy(g, z, out.Found) {
		out.Notes = append(out.Notes, measure.Note{Code: "patchy", Text: "Neighbours go together all over this hull, away from the clusters too: patches are part of her, and a cluster is no sign of a cause by itself."})
	}
	if n := g.lonely(); n > 0 {
		out.Notes = append(out.Notes, measure.Note{Code: "lonely-places", Text: fmt.Sprintf("%d of %d places have no neighbour within reach and can belong to no cluster.", n, g.Len())})
	}
	if len(f.excess) > g.Len()/4 {
		out.Notes = append(out.Notes, measure.Note{Code: "many-beyond", Text: fmt.Sprintf("%d of %d places lie beyond the cut: clusters run into one another. A higher cut tells more.", len(f.excess), g.Len())})
	}
	return out, nil
}

// patchy tells whether the chance of a cluster rests on sand: it takes values for shuffled
// freely, and where layup or thickness wander over metres they never are. Asked of Moran's
// I at 5 %, with the clusters and what touches them set to nothing.
func patchy(g *Graph, z []float64, found []Cluster) bool {
	if len(found) == 0 || found[0].P > 0.05 {
		return false
	}
	rest := slices.Clone(z)
	for _, c := range found {
		for _, i := range c.Places {
			rest[i] = 0
			for _, j := range g.Neighbours(i) {
				rest[j] = 0
			}
		}
	}
	a, err := Moran(g, rest, Shares)
	return err == nil && a.I > a.Expected && a.P < 0.05
}

func checkFind(g *Graph, z []float64, s ClusterSettings) error {
	if g == nil || g.Len() == 0 {
		return measure.ErrEmpty
	}
	if err := checkLength("z", len(z), g.Len()); err != nil {
		return err
	}
	if err := measure.Finite("z", z...); err != nil {
		return err
	}
	if err := measure.Positive("Cut", s.Cut); err != nil {
		return err
	}
	if s.Least < 1 {
		return &measure.ArgumentError{Argument: "Least", Why: "must be at least 1"}
	}
	if s.Permutations < 1 || s.Permutations > 1_000_000 {
		return &measure.ArgumentError{Argument: "Permutations", Why: "must lie between 1 and a million"}
	}
	return nil
}

// finder looks for components among marked places in storage that is used again. A
// place is marked when stamp[place] is the present field's number, so nothing has to be
// cleared between fields.
type finder struct {
	g      *Graph
	least  int
	marked []int32   // places beyond the cut
	excess []float64 // how far, in the order of marked
	order  []int32   // all places, shuffled as far as needed
	stamp  []uint32
	rank   []int32 // index into excess of a marked place
	now    uint32
	stack  []int32
}

func newFinder(g *Graph, z []float64, s ClusterSettings) *finder {
	n := g.Len()
	f := &finder{g: g, least: s.Least, order: make([]int32, n), stamp: make([]uint32, n), rank: make([]int32, n), now: 1}
	for i, v := range z {
		f.order[i] = int32(i)
		if s.Low {
			v = -v
		}
		if v > s.Cut {
			f.mark(int32(i), len(f.excess))
			f.marked = append(f.marked, int32(i))
			f.excess = append(f.excess, v-s.Cut)
		}
	}
	f.stack = make([]int32, 0, len(f.marked))
	return f
}

func (f *finder) mark(place int32, rank int) {
	f.stamp[place] = f.now
	f.rank[place] = int32(rank)
}

// flood takes the component of place off the marks and gives its mass and size; visit,
// if any, sees each place.
func (f *finder) flood(place int32, visit func(int32)) (mass float64, size int) {
	f.stamp[place] = 0
	f.stack = append(f.stack[:0], place)
	for len(f.stack) > 0 {
		p := f.stack[len(f.stack)-1]
		f.stack = f.stack[:len(f.stack)-1]
		mass += f.excess[f.rank[p]]
		size++
		if visit != nil {
			visit(p)
		}
		for _, q := range f.g.to[f.g.start[p]:f.g.start[p+1]] {
			if f.stamp[q] == f.now {
				f.stamp[q] = 0
				f.stack = append(f.stack, q)
			}
		}
	}
	return mass, size
}

// observed gives the clusters of the field as it is, heaviest first.
func (f *finder) observed() []Cluster {
	var found []Cluster
	for _, p := range f.marked {
		if f.stamp[p] != f.now {
			continue
		}
		var c Cluster
		peak := -1.0
		mass, size := f.flood(p, func(q int32) {
			c.Places = append(c.Places, int(q))
			if e := f.excess[f.rank[q]]; e > peak || e == peak && int(q) < c.Peak {
				peak, c.Peak = e, int(q)
			}
		})
		if size >= f.least {
			c.Mass = mass
			slices.Sort(c.Places)
			found = append(found, c)
		}
	}
	slices.SortStableFunc(found, func(a, b Cluster) int {
		switch {
		case a.Mass > b.Mass:
			return -1
		case a.Mass < b.Mass:
			return 1
		}
		return a.Places[0] - b.Places[0]
	})
	return found
}

// test fills in P: one more than the shuffled fields whose heaviest cluster is as heavy,
// over one more than all, the field itself being one of them (Phipson and Smyth 2010).
func (f *finder) test(found []Cluster, s ClusterSettings) {
	heavier := make([]int, len(found))
	rng := rand.NewPCG(s.Seed, 0x9e3779b97f4a7c15)
	for range s.Permutations {
		m := f.heaviest(rng)
		for i, c := range found {
			if m >= c.Mass*(1-1e-12) { // sums in another order
				heavier[i]++
			}
		}
	}
	for i := range found {
		found[i].P = float64(heavier[i]+1) / float64(s.Permutations+1)
	}
}

// heaviest shuffles the field and gives its largest mass. Values below the cut do not
// matter, so only the places of those beyond it are drawn: the first steps of a
// Fisher-Yates shuffle.
func (f *finder) heaviest(rng *rand.PCG) float64 {
	f.now++
	n := len(f.order)
	for k := range f.excess {
		j := k + below(rng, n-k)
		f.order[k], f.order[j] = f.order[j], f.order[k]
		f.mark(f.order[k], k)
	}
	best := 0.0
	for _, p := range f.order[:len(f.excess)] {
		if f.stamp[p] != f.now {
			continue
		}
		if m, size := f.flood(p, nil); size >= f.least && m > best {
			best = m
		}
	}
	return best
}

// below draws from 0 to n−1. The bias of one multiplication is below n/2⁶⁴.
func below(rng *rand.PCG, n int) int {
	hi, _ := bits.Mul64(rng.Uint64(), uint64(n))
	return int(hi)
}
