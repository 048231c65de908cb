package practice

import (
	"time"

	"github.com/google/uuid"
)

// PassCheck is a reading on a reference block with the pass it belongs to.
type PassCheck struct {
	Pass        uuid.UUID
	Scale       uuid.UUID
	Block       string
	Moment      string
	ValueTenths int32
	At          time.Time
}
