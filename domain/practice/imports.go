package practice

import (
	"context"
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"slices"
	"strconv"
	"time"

	"github.com/google/uuid"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice/sheet"
)

// Import is what a file of readings would bring to a pass.
type Import struct {
	Layout   string
	Readings []Reading // in the order of the file
	Known    int       // how many of them the pass holds already, from the same file
	Faults   []ImportFault
}

// ImportFault is what is wrong in one cell, by the file's own rows and columns from 1.
type ImportFault struct {
	Row, Column int
	Text        string
}

// ImportWriter writes imports.
type ImportWriter interface {
	// PassAxis reads the places of a vessel inside the transaction.
	PassAxis(ctx context.Context, pass uuid.UUID) (Axis, error)
	// PassEntries reads what stands in a pass's grid inside the transaction.
	PassEntries(ctx context.Context, pass uuid.UUID) ([]Entry, error)
	InsertImport(ctx context.Context, id, upload, pass uuid.UUID, kept int, now time.Time) error
}

// PreviewImport looks at an uploaded file of readings against a pass, without keeping
// anything.
func (s *Service) PreviewImport(ctx context.Context, a domain.Actor, upload, pass uuid.UUID) (Import, error) {
	if err := domain.May(a, domain.ReadPractice); err != nil {
		return Import{}, err
	}
	page, err := s.store.Pass(ctx, a.Practice, pass, sees(a))
	if err != nil {
		return Import{}, err
	}
	file, _, err := s.readFile(ctx, a, upload)
	if err != nil {
		return Import{}, err
	}
	return fit(file, page.PassContext, page.Axis, page.Entries), nil
}

// fileRead is a file of readings with the hash of its bytes.
type fileRead struct {
	sheet.File
	sum []byte
}

// readFile reads an uploaded file of readings.
func (s *Service) readFile(ctx context.Context, a domain.Actor, upload uuid.UUID) (fileRead, Upload, error) {
	if s.objects == nil {
		return fileRead{}, Upload{}, errNoObjects
	}
	u, err := s.ownUpload(ctx, a, upload)
	if err != nil {
		return fileRead{}, u, err
	}
	if err := finished(u, a, "readings"); err != nil {
		return fileRead{}, u, err
	}
	raw, err := s.objects.Get(ctx, u.Key, u.SizeBytes)
	if err != nil {
		return fileRead{}, u, err
	}
	return fileRead{sheet.Parse(raw), u.Sha256}, u, nil
}

// fit finds the places that a file speaks of and judges its readings against the pass's
// scale and against what the pass holds already.
func fit(file fileRead, pass PassContext, axis Axis, entries []Entry) Import {
	out := Import{Layout: string(file.Layout)}
	for _, f := range file.Faults {
		out.Faults = append(out.Faults, ImportFault(f))
	}
	names := namesOf(axis, pass.ElementID)
	held := make(map[int32]Entry, len(entries))
	for _, e := range entries {
		held[e.Ordinal] = e
	}
	for _, c := range file.Cells {
		r, why := fitCell(c, file.sum, pass, names)
		if e, there := held[r.Ordinal]; why == "" && there {
			switch {
			case e.ID == r.ID || slices.Equal(e.Placements, r.Placements) && e.AsWritten == r.AsWritten:
				out.Known++
				continue
			default:
				why = "This place has been read in this pass already, as " + twentiethsText(e.Value) + ". Correct or replace that reading, or import into a pass of its own."
			}
		}
		if why != "" {
			out.Faults = append(out.Faults, ImportFault{c.Row, c.Column, why})
			continue
		}
		out.Readings = append(out.Readings, r)
	}
	slices.SortStableFunc(out.Faults, func(a, b ImportFault) int {
		if a.Row != b.Row {
			return a.Row - b.Row
		}
		return a.Column - b.Column
	})
	return out
}

// placeName names a place as a file does.
type placeName struct {
	side, label  string
	station, row int32
}

// namesOf finds places by label, and by station and row; those on the pass's own
// element come before others of the same name.
func namesOf(axis Axis, element uuid.UUID) map[placeName]int32 {
	names := make(map[placeName]int32, 2*len(axis.IDs))
	put := func(name placeName, k int) {
		if _, taken := names[name]; !taken || axis.Elements[k] == element {
			names[name] = int32(k + 1)
		}
	}
	for k, side := range axis.Sides {
		put(placeName{side: side, label: axis.Labels[k]}, k)
		if st, row := axis.Stations.At(k), axis.Rows.At(k); st != Null && row != Null {
			put(placeName{side: side, station: st, row: row}, k)
		}
	}
	return names
}

// fitCell makes a reading of a cell; why is empty where it can be kept.
func fitCell(c sheet.Cell, sum []byte, pass PassContext, names map[placeName]int32) (r Reading, why string) {
	name := placeName{side: c.Side, label: c.Label}
	if c.Label == "" {
		name.station, name.row = int32(c.Station), int32(c.RowNo)
	}
	ordinal, known := names[name]
	if !known {
		if c.Label == "" {
			return r, fmt.Sprintf("The vessel has no place at station %d, row %d to %s.", c.Station, c.RowNo, c.Side)
		}
		return r, fmt.Sprintf("The vessel has no place %q to %s.", c.Label, c.Side)
	}
	if c.Surface != "" && !slices.Contains(surfaces, c.Surface) {
		return r, "The surface is bare gelcoat, antifouling, epoxy, scraped, laminate or paint."
	}
	r, err := newReading(pass, c.Placements, c.Written, "placements")
	if err != nil {
		return r, words(err)
	}
	r.ID, r.Ordinal, r.Occasion, r.TakenAt = importID(pass, sum, c), ordinal, 1, pass.BeganAt
	if c.Surface != pass.Surface {
		r.Surface = c.Surface
	}
	r.FollowUp = c.FollowUp
	return r, ""
}

var surfaces = []string{"bare gelcoat", "antifouling", "epoxy", "scraped", "laminate", "paint"}

// importID is the id of a reading from a file: the same however often the same file is
// brought to the same pass. A UUIDv7 of the time the pass began, the rest from a hash.
func importID(pass PassContext, sum []byte, c sheet.Cell) uuid.UUID {
	h := sha256.New()
	h.Write([]byte("boottop import|"))
	h.Write(pass.ID[:])
	h.Write(sum)
	_ = binary.Write(h, binary.BigEndian, [2]int32{int32(c.Row), int32(c.Column)}) // a hash takes everything
	id := uuid.UUID(h.Sum(nil)[:16])
	var at [8]byte
	binary.BigEndian.PutUint64(at[:], uint64(max(pass.BeganAt.UnixMilli(), 0)))
	copy(id[:6], at[2:])
	id[6] = id[6]&0x0f | 0x70
	id[8] = id[8]&0x3f | 0x80
	return id
}

// twentiethsText writes twentieths as scale units.
func twentiethsText(v int32) string { return strconv.FormatFloat(float64(v)/20, 'f', -1, 64) }

// ImportReadings keeps a file's readings.
type ImportReadings struct {
	Mutation uuid.UUID `json:"-"`
	ID       uuid.UUID // of the import
	Upload   uuid.UUID
	Pass     uuid.UUID
}

// ImportReadings keeps a previewed file's readings: all, or none where anything in it is
// wrong. The same file brought to the same pass again brings nothing new.
func (s *Service) ImportReadings(ctx context.Context, a domain.Actor, in ImportReadings) (Done, error) {
	if err := domain.May(a, domain.WriteVisit); err != nil {
		return Done{}, err
	}
	file, u, err := s.readFile(ctx, a, in.Upload) // outside the transaction: the store may be slow
	if err != nil {
		return Done{}, err
	}
	return s.write(ctx, &a, domain.WriteVisit, "importReadings", in.Mutation, in, func(ctx context.Context, tx Tx) (Done, error) {
		if err := newID("id", in.ID); err != nil {
			return Done{}, err
		}
		pass, err := openPass(ctx, tx, in.Pass, a)
		if err != nil {
			return Done{}, err
		}
		fitted, err := fitInside(ctx, tx, file, pass)
		if err != nil {
			return Done{}, err
		}
		done := touched(ref(domain.ThingPass, pass.ID), ref(domain.ThingVessel, pass.VesselID))
		if len(fitted.Readings) > 0 {
			if done, err = keepReadings(ctx, tx, a, pass, fitted.Readings, nil, s.instant()); err != nil {
				return Done{}, err
			}
		}
		return done, tx.InsertImport(ctx, in.ID, u.ID, pass.ID, done.Kept, s.instant())
	})
}

// fitInside fits a file to a pass that the transaction holds, and refuses it whole for
// whatever is wrong in it.
func fitInside(ctx context.Context, tx Tx, file fileRead, pass PassContext) (Import, error) {
	axis, err := tx.PassAxis(ctx, pass.ID)
	if err != nil {
		return Import{}, err
	}
	entries, err := tx.PassEntries(ctx, pass.ID)
	if err != nil {
		return Import{}, err
	}
	fitted := fit(file, pass, axis, entries)
	if n := len(fitted.Faults); n > 0 {
		f := fitted.Faults[0]
		return fitted, domain.Invalidf("upload", "Nothing was kept. Row %d, column %d: %s Faults in all: %d. The preview lists them.", f.Row, f.Column, f.Text, n)
	}
	return fitted, nil
}
