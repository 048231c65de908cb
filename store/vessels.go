package store

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/queries"
)

var _ = say(map[string]rule{
	"vessels_name_length":              {domain.Invalid, "name", "A name has 1 to 200 letters."},
	"vessels_moulded_year_plausible":   {domain.Invalid, "mouldedYear", "The moulding year lies between 1900 and 2200."},
	"vessels_water_known":              {domain.Invalid, "water", "The water is salt, brackish or fresh, or left empty."},
	"vessels_underbody_area_plausible": {domain.Invalid, "underbodyAreaM2", "The underbody's area is given in square metres, above zero."},
	"elements_kind_known":              {domain.Invalid, "kind", "An element is a hull, keel, rudder, deck, transom, bulkhead or other."},
	"layers_kind_known":                {domain.Invalid, "kind", "A layer is construction, coating or behind."},
	"layers_side_known":                {domain.Invalid, "side", "The side is port, starboard or centre; both where it is left out."},
	"events_kind_known":                {domain.Invalid, "kind", "An event is built, grounding, repair, treatment, collision, refit or other. Lifts and launches are ashore spells."},
	"events_in_order":                  {domain.Invalid, "to", "The last possible day comes after the first."},
})

// Vessel implements practice.VesselReader: the vessel and every part asked for, in one trip.
func (s *Store) Vessel(ctx context.Context, p, id uuid.UUID, want practice.VesselParts, who practice.Sees) (practice.VesselPage, error) {
	var (
		page   practice.VesselPage
		row    *queries.GetVesselRow
		elems  []queries.ElementsOfVesselRow
		datums []queries.DatumsOfVesselRow
		layers []queries.LayersOfVesselRow
		plans  []queries.PlansOfVesselRow
		events []queries.EventsOfVesselRow
		people []queries.GetPartyRoleRow
		advice []queries.RecommendationsOfVesselRow
		states []queries.StatesOfVesselRow
		again  []queries.DueByRow
		spells []queries.GetSpellRow
		jobs   []queries.GetJobLineRow
		issued []queries.ReportLinesOfJobRow
		photos []queries.GetPhotoRow
	)
	guest, self, member := whom(who)
	history := historyInto(&page.History, p, id, who)
	history.beside, history.light, history.evidence.cache = true, !want.Gate, &s.measured
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		one(b, &row, queries.GetVessel, p, id, guest, member)
		if want.FormerNames {
			column(b, &page.FormerNames, queries.FormerNames, p, id)
		}
		if want.Elements {
			many(b, &elems, queries.ElementsOfVessel, p, id)
			many(b, &datums, queries.DatumsOfVessel, p, id)
			many(b, &layers, queries.LayersOfVessel, p, id)
		}
		if want.Plans {
			many(b, &plans, queries.PlansOfVessel, p, id)
		}
		if want.Events {
			many(b, &events, queries.EventsOfVessel, p, id)
		}
		if want.People {
			many(b, &people, queries.PeopleOfVessel, p, id, guest, self, member)
		}
		if want.Spells {
			many(b, &spells, queries.SpellsOfVessel, p, id)
		}
		if want.Jobs {
			many(b, &jobs, queries.JobLinesOfVessel, p, id, guest, self, member)
		}
		if want.Reports {
			many(b, &issued, queries.ReportLinesOfVessel, p, id, guest, self, member)
		}
		if want.Photos {
			many(b, &photos, queries.PhotosOfVessel, p, id, guest, self, member)
		}
		if want.Recommendations {
			many(b, &advice, queries.RecommendationsOfVessel, p, id, guest, self, member)
			many(b, &states, queries.StatesOfVessel, p, id, guest, self, member)
		}
		if want.Reinspections {
			many(b, &again, queries.ReinspectionsOfVessel, guest, self, member, want.Now, p, id)
		}
		if want.History {
			history.queue(b)
		}
	})
	if err != nil {
		return page, err
	}
	if row == nil {
		return practice.VesselPage{}, domain.ErrNotFound
	}
	page.Vessel = practice.Vessel(*row)
	page.Elements = convert(elems, func(r queries.ElementsOfVesselRow) practice.Element { return practice.Element(r) })
	page.Datums = convert(datums, datumFrom)
	page.Layers = convert(layers, func(r queries.LayersOfVesselRow) practice.Layer { return practice.Layer(r) })
	page.Plans = convert(plans, func(r queries.PlansOfVesselRow) practice.Plan { return practice.Plan(r) })
	page.Events = convert(events, func(r queries.EventsOfVesselRow) practice.Event { return practice.Event(r) })
	page.People = convert(people, partyRoleFrom)
	page.Spells, page.Jobs = convert(spells, spellFrom), convert(jobs, jobLineFrom)
	page.Reports, page.Photos = convert(issued, reportLineFrom), convert(photos, photoFrom)
	page.Recommendations = convert(advice, func(r queries.RecommendationsOfVesselRow) practice.Recommendation { return practice.Recommendation(r) })
	page.States = convert(states, func(r queries.StatesOfVesselRow) practice.RecommendationState { return practice.RecommendationState(r) })
	page.Reinspections = convert(again, reinspectionFrom)
	if want.History {
		if err = s.catchUp(ctx, history); err == nil {
			err = history.finish()
		}
	}
	return page, err
}

// ElementPage implements practice.VesselReader.
func (s *Store) ElementPage(ctx context.Context, p, id uuid.UUID, who practice.Sees) (practice.Element, []practice.Datum, []practice.Layer, error) {
	var row *queries.GetElementRow
	var datums []queries.DatumsOfElementRow
	var layers []queries.LayersOfElementRow
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		one(b, &row, queries.GetElement, p, id, who.Guest, who.Member)
		many(b, &datums, queries.DatumsOfElement, p, id)
		many(b, &layers, queries.LayersOfElement, p, id)
	})
	if err == nil && row == nil {
		err = domain.ErrNotFound
	}
	if err != nil {
		return practice.Element{}, nil, nil, err
	}
	return practice.Element(*row),
		convert(datums, func(r queries.DatumsOfElementRow) practice.Datum { return datumFrom(queries.DatumsOfVesselRow(r)) }),
		convert(layers, func(r queries.LayersOfElementRow) practice.Layer { return practice.Layer(r) }), nil
}

// Vessels implements practice.VesselReader.
func (s *Store) Vessels(ctx context.Context, p uuid.UUID, search string, page practice.Page, who practice.Sees) ([]practice.VesselLine, error) {
	var rows []queries.GetVesselLineRow
	err := s.ReadInPractice(ctx, p, func(b *pgx.Batch) {
		if search == "" {
			many(b, &rows, queries.ListVessels, p, page.AfterText, page.AfterID, who.Guest, who.Member, int32(page.First+1))
		} else {
			many(b, &rows, queries.SearchVessels, p, search, squeezed(search), who.Guest, who.Member, page.AfterText, page.AfterID, int32(page.First+1))
		}
	})
	return convert(rows, vesselLineFrom), err
}

// squeezed keeps letters and digits, lower case, as the function of that name does; a
// search of fewer than three says nothing about a number.
func squeezed(text string) string {
	out := make([]rune, 0, len(text))
	for _, r := range text {
		switch {
		case r >= 'A' && r <= 'Z':
			out = append(out, r-'A'+'a')
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			out = append(out, r)
		}
	}
	if len(out) < 3 {
		return ""
	}
	return string(out)
}

// InsertVessel implements practice.VesselWriter.
func (tx *inPractice) InsertVessel(ctx context.Context, v practice.Vessel, now time.Time) error {
	return fault("insert vessel", tx.q.InsertVessel(ctx, queries.InsertVesselParams{
		PracticeID: tx.practice, ID: v.ID, Name: v.Name, Kind: v.Kind, Builder: v.Builder, Model: v.Model, YardNumber: v.YardNumber,
		MouldedYear: v.MouldedYear, HullNumberAsRead: v.HullNumberAsRead, HullNumberWhere: v.HullNumberWhere, HullNumberAltered: v.HullNumberAltered,
		Registry: v.Registry, OfficialNumber: v.OfficialNumber, SailNumber: v.SailNumber, LoaMm: v.LoaMm, HullLengthMm: v.HullLengthMm,
		LwlMm: v.LwlMm, BeamMm: v.BeamMm, DraughtMm: v.DraughtMm, DisplacementKg: v.DisplacementKg, UnderbodyAreaM2: v.UnderbodyAreaM2,
		Water: v.Water, MonthsAfloat: v.MonthsAfloat, Notes: v.Notes, Now: now,
	}))
}

// Vessel implements practice.VesselWriter.
func (tx *inPractice) Vessel(ctx context.Context, id uuid.UUID) (practice.Vessel, error) {
	row, err := found(tx.q.GetVessel(ctx, queries.GetVesselParams{PracticeID: tx.practice, ID: id}))
	return practice.Vessel(row), fault("read vessel", err)
}

// UpdateVessel implements practice.VesselWriter.
func (tx *inPractice) UpdateVessel(ctx context.Context, v practice.Vessel) error {
	return fault("update vessel", changed(tx.q.UpdateVessel(ctx, queries.UpdateVesselParams{
		PracticeID: tx.practice, ID: v.ID, Version: v.Version, Name: v.Name, Kind: v.Kind, Builder: v.Builder, Model: v.Model, YardNumber: v.YardNumber,
		MouldedYear: v.MouldedYear, HullNumberAsRead: v.HullNumberAsRead, HullNumberWhere: v.HullNumberWhere, HullNumberAltered: v.HullNumberAltered,
		Registry: v.Registry, OfficialNumber: v.OfficialNumber, SailNumber: v.SailNumber, LoaMm: v.LoaMm, HullLengthMm: v.HullLengthMm,
		LwlMm: v.LwlMm, BeamMm: v.BeamMm, DraughtMm: v.DraughtMm, DisplacementKg: v.DisplacementKg, UnderbodyAreaM2: v.UnderbodyAreaM2,
		Water: v.Water, MonthsAfloat: v.MonthsAfloat, Notes: v.Notes,
	})))
}

// InsertVesselName implements practice.VesselWriter.
func (tx *inPractice) InsertVesselName(ctx context.Context, id, vessel uuid.UUID, kind, name string) error {
	return fault("insert vessel name", tx.q.InsertVesselName(ctx, queries.InsertVesselNameParams{
		PracticeID: tx.practice, ID: id, VesselID: vessel, Kind: kind, Name: name,
	}))
}

// InsertElement implements practice.VesselWriter.
func (tx *inPractice) InsertElement(ctx context.Context, e practice.Element) error {
	return fault("insert element", tx.q.InsertElement(ctx, queries.InsertElementParams{
		PracticeID: tx.practice, ID: e.ID, VesselID: e.VesselID, Kind: e.Kind, Name: e.Name, Figure: e.Figure, BootTopMm: e.BootTopMm,
	}))
}

// Element implements practice.VesselWriter.
func (tx *inPractice) Element(ctx context.Context, id uuid.UUID) (practice.Element, error) {
	row, err := found(tx.q.GetElement(ctx, queries.GetElementParams{PracticeID: tx.practice, ID: id}))
	return practice.Element(row), fault("read element", err)
}

// UpdateElement implements practice.VesselWriter.
func (tx *inPractice) UpdateElement(ctx context.Context, e practice.Element) error {
	return fault("update element", changed(tx.q.UpdateElement(ctx, queries.UpdateElementParams{
		PracticeID: tx.practice, ID: e.ID, Version: e.Version, Name: e.Name, Figure: e.Figure, BootTopMm: e.BootTopMm,
	})))
}

// InsertDatum implements practice.VesselWriter.
func (tx *inPractice) InsertDatum(ctx context.Context, d practice.Datum) error {
	return fault("insert datum", tx.q.InsertDatum(ctx, queries.InsertDatumParams{
		PracticeID: tx.practice, ID: d.ID, ElementID: d.ElementID, Mark: d.Mark, OffsetMm: d.OffsetMm, Note: d.Note, ValidFrom: d.ValidFrom,
	}))
}

// InsertLayer implements practice.VesselWriter.
func (tx *inPractice) InsertLayer(ctx context.Context, l practice.Layer) error {
	return fault("insert layer", tx.q.InsertLayer(ctx, queries.InsertLayerParams{
		PracticeID: tx.practice, ID: l.ID, ElementID: l.ElementID, Kind: l.Kind, What: l.What, Side: l.Side, Outline: l.Outline, Detail: l.Detail,
		HowKnown: l.HowKnown, ValidFrom: l.ValidFrom, ValidTo: l.ValidTo,
	}))
}

// EndLayer implements practice.VesselWriter.
func (tx *inPractice) EndLayer(ctx context.Context, id uuid.UUID, version int32, on time.Time) (uuid.UUID, error) {
	element, err := found(tx.q.EndLayer(ctx, queries.EndLayerParams{PracticeID: tx.practice, ID: id, Version: version, Ends: on}))
	return element, fault("end layer", err)
}

// InsertEvent implements practice.VesselWriter.
func (tx *inPractice) InsertEvent(ctx context.Context, vessel uuid.UUID, e practice.Event) error {
	return fault("insert event", tx.q.InsertEvent(ctx, queries.InsertEventParams{
		PracticeID: tx.practice, ID: e.ID, VesselID: vessel, Kind: e.Kind, What: e.What, FromOn: e.FromOn, ToOn: e.ToOn, AsWritten: e.AsWritten, Source: e.Source,
	}))
}

func datumFrom(r queries.DatumsOfVesselRow) practice.Datum {
	return practice.Datum{
		ID: r.ID, ElementID: r.ElementID, DatumVersion: r.DatumVersion, Mark: r.Mark, OffsetMm: r.OffsetToPaintedWaterlineMm, Note: r.Note, ValidFrom: r.ValidFrom,
	}
}

// vesselLineFrom is for every query whose columns are those of a vessel line.
func vesselLineFrom(r queries.GetVesselLineRow) practice.VesselLine { return practice.VesselLine(r) }

// convert turns rows into what the practice calls them.
func convert[From, To any](rows []From, as func(From) To) []To {
	out := make([]To, len(rows))
	for k, r := range rows {
		out[k] = as(r)
	}
	return out
}
