package proof

import (
	"flag"
	"io/fs"
	"os"
	"testing"

	"backpitch/engine/profile"
)

var (
	full   = flag.Bool("mutate", false, "try every mutant of the shipped policies, not a sample")
	listed = flag.Bool("report", false, "print the report")
)

func mustLoad(t *testing.T, fsys fs.FS, id string) *profile.Profile {
	t.Helper()
	p, err := profile.Load(fsys, id)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// The shipped profiles leave no figure unproved and no change unnoticed, save
// what policies/waivers.json lists. A run takes a sample of the mutants;
// -mutate takes them all.
func TestShippedPolicies(t *testing.T) {
	fsys := os.DirFS("../../policies")
	list, err := profile.List(fsys)
	if err != nil {
		t.Fatal(err)
	}
	o := Options{Policies: fsys, Mutate: true, Every: 40, Pinned: kept(t, fsys)}
	if *full {
		o.Every = 1
	}
	loaded := map[string]*profile.Profile{}
	for _, s := range list {
		o.Profiles = append(o.Profiles, s.ID)
		loaded[s.ID] = mustLoad(t, fsys, s.ID)
	}
	o.Cases = published(t, loaded)
	r, err := Run(t.Context(), o)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range r.Problems {
		t.Errorf("%s\n    hint: %s", p, p.Hint)
	}
	for _, n := range r.Notes {
		if n.Code == "waiver_unused" || n.Code == "not_adopted" {
			t.Errorf("%s", n)
		}
	}
	law := 0
	for _, c := range r.Profiles {
		law += c.Score.Law
		if c.Numeric == 0 || c.Proved != c.Numeric || c.Cases < 2*c.Boundary {
			t.Errorf("%+v", c)
		}
	}
	if law == 0 {
		t.Error("no case from published text noticed a changed figure")
	}
	if *listed {
		_ = WriteText(os.Stdout, r)
	}
}
