package store

import (
	"context"
	"fmt"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype"
)

// idCodec moves ids as the 16 bytes they are. The driver knows uuid.UUID only as a type
// that scans and gives texts, and writes and parses a text for every id of every row.
type idCodec struct{ pgtype.UUIDCodec }

// PlanScan implements pgtype.Codec.
func (c idCodec) PlanScan(m *pgtype.Map, oid uint32, format int16, target any) pgtype.ScanPlan {
	if _, ok := target.(*uuid.UUID); ok && format == pgtype.BinaryFormatCode {
		return scanID{}
	}
	return c.UUIDCodec.PlanScan(m, oid, format, target)
}

// PlanEncode implements pgtype.Codec.
func (c idCodec) PlanEncode(m *pgtype.Map, oid uint32, format int16, value any) pgtype.EncodePlan {
	if _, ok := value.(uuid.UUID); ok && format == pgtype.BinaryFormatCode {
		return encodeID{}
	}
	return c.UUIDCodec.PlanEncode(m, oid, format, value)
}

type scanID struct{}

func (scanID) Scan(src []byte, dst any) error {
	id := dst.(*uuid.UUID)
	switch len(src) {
	case 16:
		copy(id[:], src)
	case 0: // null, as uuid.UUID itself takes it
		*id = uuid.Nil
	default:
		return fmt.Errorf("an id of %d bytes", len(src))
	}
	return nil
}

type encodeID struct{}

func (encodeID) Encode(value any, buf []byte) ([]byte, error) {
	id := value.(uuid.UUID)
	return append(buf, id[:]...), nil
}

// knowIDs tells a new connection how ids travel.
func knowIDs(_ context.Context, c *pgx.Conn) error {
	id := &pgtype.Type{Name: "uuid", OID: pgtype.UUIDOID, Codec: idCodec{}}
	c.TypeMap().RegisterType(id)
	c.TypeMap().RegisterType(&pgtype.Type{Name: "_uuid", OID: pgtype.UUIDArrayOID, Codec: &pgtype.ArrayCodec{ElementType: id}})
	return nil
}
