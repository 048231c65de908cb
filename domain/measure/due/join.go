package due

import (
	"cmp"
	"slices"
)

// join finds the fewest visits that meet every window: taking the window that ends
// first, a visit on its last day meets every window that has begun by then, and no
// visit meets more of those still open (the greedy rule for stabbing intervals). The
// visit's own span is what its windows have in common.
func join(windows []Window) []Visit {
	slices.SortStableFunc(windows, func(a, b Window) int {
		return cmp.Or(a.Latest.Compare(b.Latest), a.Earliest.Compare(b.Earliest), cmp.Compare(a.Code, b.Code), cmp.Compare(a.Finding, b.Finding))
	})
	var visits []Visit
	done := make([]bool, len(windows))
	for i, first := range windows {
		if done[i] {
			continue
		}
		v := Visit{Earliest: first.Earliest, Latest: first.Latest}
		for j := i; j < len(windows); j++ {
			if w := windows[j]; !done[j] && !w.Earliest.After(first.Latest) {
				done[j] = true
				v.Earliest = later(v.Earliest, w.Earliest)
				v.Windows = append(v.Windows, w)
			}
		}
		visits = append(visits, v)
	}
	return visits
}
