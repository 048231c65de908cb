package practice

import (
	"sync"
	"time"
)

var zones sync.Map // *time.Location by name; there are some hundreds in all

// Zone finds a time zone by its IANA name; UTC where this machine knows none of that
// name. What was found stays in memory: from disk it takes longer than all else that is
// computed for a pass.
func Zone(name string) *time.Location {
	if known, there := zones.Load(name); there {
		return known.(*time.Location)
	}
	zone, err := time.LoadLocation(name)
	if err != nil {
		return time.UTC
	}
	zones.Store(name, zone)
	return zone
}
