package store_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"boottop.example/practice/store/storetest"
)

// ofMerging are the tables that speak of the entries themselves, as they were.
var ofMerging = []string{"party_merges", "parties_apart"}

// Whatever points to a party, in any table there is or will be, follows a merge and comes
// back with its undoing. The pointers are read out of the catalogue here a second time, by
// the filler's query, and a table that no migration knows stands for those to come.
func TestAllThatPointsToAPartyFollows(t *testing.T) {
	t.Parallel()
	db := storetest.New(t)
	owner, app := db.Connect(t, db.OwnerURL), db.Connect(t, db.AppURL)
	if _, err := owner.Exec(t.Context(), `
		create table towers (practice_id uuid not null, id uuid not null, tows_id uuid, primary key (practice_id, id), foreign key (practice_id, tows_id) references parties (practice_id, id));
		call keep_apart('towers', 'select, insert, update')`, pgx.QueryExecModeSimpleProtocol); err != nil {
		t.Fatal(err)
	}
	list, next := tables(t, owner), 0
	p := fill(t, owner, list, &next)
	lost, kept := p.rows["parties"]["id"], p.spare["parties"]["id"]
	alias := p.fresh(t, list[slices.IndexFunc(list, func(x table) bool { return x.Name == "parties" })]).with(row{"merged_into": lost})
	if _, err := owner.Exec(t.Context(), alias.insert("parties")); err != nil {
		t.Fatal(err)
	}

	pointing := map[string]string{} // the count of rows that point to %s, by table and column
	for _, x := range list {
		for _, k := range x.Keys {
			if k.To != "parties" || slices.Contains(ofMerging, x.Name) {
				continue
			}
			if x.Name != "parties" && (len(x.primary()) != 2 || !slices.Contains(x.primary(), "practice_id")) {
				t.Errorf("%s has no key of one column beside the practice: follow_party cannot tell its rows apart", x.Name)
			}
			column := k.Columns[slices.Index(k.Targets, "id")]
			pointing[x.Name+"."+column] = fmt.Sprintf(`select count(*) from %s where practice_id = '%s' and %s = %%s`, x.Name, p.id, column)
		}
	}
	if len(pointing) < 11 || pointing["towers.tows_id"] == "" || pointing["parties.merged_into"] == "" {
		t.Fatalf("the catalogue names too little: %v", pointing)
	}
	count := func(sql, party string) int64 { return column[int64](t, owner, fmt.Sprintf(sql, party))[0] }
	pictures := func() (all []string) {
		for _, x := range list {
			if x.Name != "party_merge_rows" {
				all = append(all, column[string](t, owner, fmt.Sprintf(`select '%[1]s ' || to_jsonb(t)::text from %[1]s t order by 1`, x.Name))...)
			}
		}
		return all
	}
	merge := column[uuid.UUID](t, owner, fmt.Sprintf(`update party_merges set kept_id = %s where practice_id = $1 and lost_id = %s returning id`, kept, lost), p.id)[0]
	before := pictures()
	as := func(call string) {
		t.Helper()
		tx, err := app.Begin(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		for _, sql := range []string{`select set_config('app.practice', '` + p.id.String() + `', true)`, fmt.Sprintf(`select %s('%s', '%s', %s, %s)`, call, p.id, merge, lost, kept)} {
			if _, err := tx.Exec(t.Context(), sql); err != nil {
				t.Fatalf("%s: %v", call, err)
			}
		}
		if err := tx.Commit(t.Context()); err != nil {
			t.Fatal(err)
		}
	}
	as("follow_party")
	for place, sql := range pointing {
		if had, has := count(sql, lost), count(sql, kept); had != 0 || has == 0 {
			t.Errorf("%s: %d still point to the lost, %d to the kept", place, had, has)
		}
		if n := column[int64](t, owner, `select count(*) from party_merge_rows where practice_id = $1 and merge_id = $2 and place = $3`, p.id, merge, place)[0]; n == 0 {
			t.Errorf("%s followed and is not noted", place)
		}
	}
	as("unfollow_party")
	if after := pictures(); !slices.Equal(before, after) {
		for _, r := range after {
			if !slices.Contains(before, r) {
				t.Errorf("undone, this is not as it was: %s", r)
			}
		}
	}
}
