package practice_test

import (
	"slices"
	"testing"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

func TestVesselsAreFoundByEveryNameAndNumber(t *testing.T) {
	t.Parallel()
	b := setup(t)
	office := b.ours.of[domain.Office]
	add := func(v practice.Vessel, former ...string) practice.Vessel {
		v.ID = newID()
		_, err := b.AddVessel(t.Context(), office, practice.AddVessel{Mutation: newID(), Vessel: v, FormerNames: former})
		want(t, err, domain.Internal)
		return v
	}
	kittiwake := add(practice.Vessel{Name: "Kittiwake", HullNumberAsRead: "IE-XYZ 12345 D404", SailNumber: "IRL 4711"}, "Sea Pie", "Tystie")
	add(practice.Vessel{Name: "Fulmar", OfficialNumber: "731 204"})
	_, err := b.AddVessel(t.Context(), b.theirs.of[domain.Office], practice.AddVessel{Mutation: newID(), Vessel: practice.Vessel{ID: newID(), Name: "Kittiwake of theirs"}})
	want(t, err, domain.Internal)
	open, secret := b.job(b.ours, kittiwake.ID, false), b.job(b.ours, kittiwake.ID, true)
	b.exec(`update jobs set number = '2026-041' where id = $1`, open)
	b.exec(`update jobs set number = '2026-666' where id = $1`, secret)
	for _, c := range []struct {
		search string
		want   []string // name, and what she was found as
	}{
		{"", []string{"Fulmar as ", "Kittiwake as "}},
		{" kitti", []string{"Kittiwake as "}},
		{"tystie", []string{"Kittiwake as Tystie"}},
		{"ie xyz12345", []string{"Kittiwake as "}},
		{"irl-4711", []string{"Kittiwake as "}},
		{"731204", []string{"Fulmar as "}},
		{"2026-041", []string{"Kittiwake as job 2026-041"}},
		{"2026-666", nil}, // a restricted job is not given away by its number
		{"12", nil},       // two digits say nothing about a hull number
		{"%", nil},
	} {
		list := must[[]practice.VesselLine](t)(b.Vessels(t.Context(), office, c.search, practice.Page{First: 10}))
		var got []string
		for _, v := range list {
			got = append(got, v.Name+" as "+v.FoundAs)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%q finds %q, want %q", c.search, got, c.want)
		}
	}
}
