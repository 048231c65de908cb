package demo

import (
	"crypto/sha256"
	"strings"
	"time"

	"github.com/google/uuid"
)

// seed is the scenario's: the same day of loading gives the same ids and readings.
const seed = "Port Skerrow"

// id makes a UUIDv7 of a moment and of what it names: the same however often it is made,
// so that loading twice changes nothing.
func id(at time.Time, names ...string) uuid.UUID {
	sum := sha256.Sum256([]byte(seed + "|" + strings.Join(names, "|")))
	u := uuid.UUID(sum[:16])
	ms := at.UnixMilli()
	for k := range 6 {
		u[k] = byte(ms >> (8 * (5 - k)))
	}
	u[6] = u[6]&0x0f | 0x70
	u[8] = u[8]&0x3f | 0x80
	return u
}

// moment reads the time that an id was made at.
func moment(u uuid.UUID) time.Time {
	var ms int64
	for k := range 6 {
		ms = ms<<8 | int64(u[k])
	}
	return time.UnixMilli(ms).UTC()
}

// number makes a seed for a generator.
func number(names ...string) uint64 {
	sum := sha256.Sum256([]byte(seed + "|" + strings.Join(names, "|")))
	var n uint64
	for _, b := range sum[:8] {
		n = n<<8 | uint64(b)
	}
	return n
}
