package store_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/uuid"

	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store"
)

// impersonal lists the tables in which nothing of a party is looked for, and why.
var impersonal = map[string]string{
	"practices": "the practice itself", "heads": "hashes", "mutations": "ids only",
	"members": "staff", "invitations": "staff", "api_keys": "staff", "devices": "staff", "sessions": "staff", "leaves": "staff", "competences": "staff",
	"calendar_feeds": "staff", "notices": "staff, ids only", "notice_settings": "staff", "digests": "staff",
	"instruments": "tools", "scales": "tools", "repeat_kits": "tools", "repeat_kit_readings": "tools", "repeat_kit_replacements": "tools", "cross_reading_sets": "tools", "cross_readings": "tools",
	"cross_reading_replacements": "tools", "standing_overrides": "tools",
	"vessels": "the hull", "vessel_names": "the hull", "elements": "the hull", "datums": "the hull", "places": "the hull", "plans": "the hull", "plan_places": "the hull", "layers": "the hull",
	"events": "the hull", "passes": "the hull", "block_checks": "the hull", "readings": "the hull", "not_reached": "the hull", "sweeps": "the hull", "pass_grids": "the hull", "imports": "the hull",
	"findings": "the hull", "finding_places": "the hull", "windows": "the hull", "photos": "the hull", "notes": "the hull", "conditions": "the hull", "cause_judgements": "the hull", "cause_checks": "the hull",
	"gate_signatures": "the hull, signed by staff", "gate_rules": "the practice's rules", "guarantees": "the hull", "recommendations": "the hull", "recommendation_evidence": "the hull",
	"drying_courses": "the hull", "washes": "the hull", "rebounds": "the hull", "rebound_readings": "the hull", "sheet_tests": "the hull", "item_examinations": "the hull", "valuations": "the hull",
	"schedules": "the practice's rules", "schedule_areas": "the practice's rules", "schedule_items": "the practice's rules", "templates": "the practice's rules", "wordings": "the practice's rules",
	"wording_versions": "the practice's rules", "terms": "the practice's rules", "reinspection_settings": "the practice's rules", "money_settings": "the practice's rules", "retention": "the practice's rules",
	"job_access": "staff", "visit_people": "staff", "visit_instruments": "tools", "visit_overrides": "staff", "moves": "staff", "move_lines": "staff", "slots": "the yard's diary",
	"tides": "the place", "weather_records": "the place", "papers": "the hull's documents, issued by others",
	"report_issues": "hashes and keys of an issued report", "addenda": "words of an issued report", "addendum_issues": "words of an issued report", "report_passes": "ids only", "report_counters": "numbers", "report_makings": "figures of a job",
	"report_sections": "words of a report", "report_drafts": "words of a report", "draft_comments": "words of a report, by staff",
	"acts_without_leave": "the hull, by staff", "hull_marks": "the hull", "competence_judgements": "staff", "practice_figures": "the practice's rules", "declined_visits": "staff",
	"party_merge_rows": "ids only", "money_lines": "sums", "payments": "sums", "invoice_counters": "numbers", "danger_notices": "the hull; who was told stands in danger_told",
}

// No table that refers to people can be forgotten: each is in the list of what is exported
// and erased, or somebody has said why it need not be.
func TestEveryTableIsExportedOrHasAReasonNotToBe(t *testing.T) {
	t.Parallel()
	p := setupProbes(t)
	traced := store.TraceTables()
	var there []string
	for _, x := range p.tables {
		there = append(there, x.Name)
		_, said := impersonal[x.Name]
		switch is := slices.Contains(traced, x.Name); {
		case is == said:
			t.Errorf("%s: say in store/traces.go what of a person it holds, or here why it holds nothing (traced %v, said %v)", x.Name, is, said)
		case !is && slices.ContainsFunc(x.Keys, func(k foreignKey) bool { return k.To == "parties" }):
			t.Errorf("%s refers to people and is not exported", x.Name)
		}
	}
	for _, name := range append(traced, slices.Collect(func(yield func(string) bool) {
		for name := range impersonal {
			if !yield(name) {
				return
			}
		}
	})...) {
		if !slices.Contains(there, name) {
			t.Errorf("%s is no table", name)
		}
	}
}

// What is exported holds a row of every such table, and nothing of another person of the
// practice or of the same person in another practice.
func TestAnExportHoldsEveryTableAndNobodyElse(t *testing.T) {
	t.Parallel()
	p := setupProbes(t)
	s, err := store.Open(t.Context(), store.Config{URL: p.db.AppURL})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(s.Close)
	other := uuid.Must(uuid.NewV7())
	for _, of := range []filled{p.ours, p.theirs} {
		p.about(of)
	}
	for _, sql := range []string{
		`insert into parties (practice_id, id, kind, name, email, created_at) values ($1, $2, 'person', 'Nan Sanderling', 'nan@sanderling.example', now())`,
		`insert into mails (practice_id, id, kind, recipient, subject, body, created_at) select $1, gen_random_uuid(), 'x', 'nan@sanderling.example', 'Nan', 'Nan', now() where $2::uuid is not null`,
		`insert into shares (practice_id, id, report_id, party_id, name, email, token_sha256, created_at, until)
			select $1, gen_random_uuid(), id, $2, 'Nan Sanderling', 'nan@sanderling.example', '\x02', now(), now() from reports where practice_id = $1 limit 1`,
		`insert into engagements (practice_id, id, client_id, asked_on, asked_by, created_at) values ($1, gen_random_uuid(), $2, now(), 'Nan Sanderling', now())`,
	} {
		if _, err := p.owner.Exec(t.Context(), sql, p.ours.id, other); err != nil {
			t.Fatal(err)
		}
	}
	read := func(practiceID, party uuid.UUID) (tables map[string]int, text string) {
		tables = map[string]int{}
		var b strings.Builder
		if _, err := s.PersonRows(t.Context(), practiceID, party, func(r practice.KeptRow) error {
			tables[r.Table]++
			b.Write(r.Row)
			return nil
		}); err != nil {
			t.Fatal(err)
		}
		return tables, b.String()
	}
	party := uuid.MustParse(strings.Trim(p.ours.rows["parties"]["id"], "'"))
	tables, text := read(p.ours.id, party)
	for _, name := range store.TraceTables() {
		if tables[name] == 0 {
			t.Errorf("the export holds nothing of %s", name)
		}
	}
	for _, word := range []string{"sanderling", "Nan", other.String(), p.theirs.id.String(), "token_sha256", "object_key"} {
		if strings.Contains(text, word) {
			t.Errorf("the export holds %q", word)
		}
	}
	for _, x := range p.tables {
		if id, has := p.theirs.rows[x.Name]["id"]; has && strings.Contains(text, strings.Trim(id, "'")) {
			t.Errorf("the export holds a row of %s of another practice", x.Name)
		}
	}
	if none, _ := read(p.theirs.id, party); len(none) > 0 {
		t.Errorf("another practice reads %v of this person", none)
	}
	hers, text := read(p.ours.id, other)
	if hers["parties"] != 1 || hers["mails"] != 1 || hers["shares"] != 1 || hers["engagements"] != 1 || len(hers) != 4 {
		t.Errorf("of the other person the export holds %v", hers)
	}
	if strings.Contains(text, "turnstone") {
		t.Error("the other person's export holds the first")
	}
}

// about makes the rows that the filler made speak of its party.
func (p *probes) about(of filled) {
	p.Helper()
	for _, sql := range []string{
		`update parties set kind = 'person', name = 'Wil Turnstone', email = 'wil@turnstone.example' where practice_id = $1 and id = ` + of.rows["parties"]["id"],
		`update mails set recipient = 'Wil@turnstone.example' where practice_id = $1`,
		`update client_grants set email = 'wil@turnstone.example' where practice_id = $1`,
		`update visit_invitations set email = 'wil@turnstone.example' where practice_id = $1`,
		`update yard_links set email = 'wil@turnstone.example' where practice_id = $1`,
		`update attendance_notes set with_whom = 'Wil Turnstone, by telephone' where practice_id = $1`,
		`update danger_told set name = 'Wil Turnstone' where practice_id = $1`,
		`update seen_letters set addressed_to = 'Wil Turnstone, Pier Mutual' where practice_id = $1`,
		`update early_starts set asked_by = 'Wil Turnstone' where practice_id = $1`,
		`update recommendation_states set by_name = 'wil turnstone' where practice_id = $1`,
		`update visits set note = 'asked Wil Turnstone for the key' where practice_id = $1`,
	} {
		if _, err := p.owner.Exec(p.Context(), sql, of.id); err != nil {
			p.Fatalf("%v in %s", err, sql)
		}
	}
}
