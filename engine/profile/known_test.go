package profile

import (
	"flag"
	"io/fs"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"backpitch/schema"
)

var update = flag.Bool("update", false, "write known.txt anew")

// known.txt names the profiles that stand here, and each of them keeps to the
// schema.
func TestKnownProfilesAreUpToDate(t *testing.T) {
	raw, err := schema.Raw("profile")
	if err != nil {
		t.Fatal(err)
	}
	sound := map[string]bool{}
	for _, d := range ownProfiles(t) {
		root, err := d.parse()
		if err != nil {
			t.Fatal(err)
		}
		if problems := checkSchema(d, root); len(problems) > 0 {
			t.Fatal(problems)
		}
		sound[digest(d.data)] = true
	}
	want := strings.Join(append([]string{digest(raw)}, slices.Sorted(maps.Keys(sound))...), "\n") + "\n"
	if *update {
		if err := os.WriteFile("known.txt", []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if knownDigests != want {
		t.Error("known.txt is not of the profiles that stand here: go test ./engine/profile -run UpToDate -update")
	}
}

func TestQuickReadsWhatTheDecoderReads(t *testing.T) {
	docs := ownProfiles(t)
	odd := &document{data: []byte("\ufeff{\"a\\\"\\u00b0b\": [ -1.5e+3 , {}, [] ,null,true,false, \"\\\\\" ] }")[3:]}
	for _, d := range append(docs, odd) {
		want, err := d.parse()
		if err != nil {
			t.Fatal(err)
		}
		if got := (&quick{doc: d}).value(); !identical(got, want) {
			t.Errorf("%s: the quick parser reads something else", d.file)
		}
	}
}

func TestChangedProfileIsNotKnown(t *testing.T) {
	for _, d := range ownProfiles(t) {
		changed := &document{id: d.id, file: d.file, data: append(slices.Clone(d.data), '\n')}
		if changed.known() {
			t.Errorf("%s with one more line end is taken for what was checked", d.file)
		}
	}
}

func ownProfiles(t *testing.T) []*document {
	t.Helper()
	fsys := os.DirFS("../../policies")
	ids, err := profileIDs(fsys)
	if err != nil {
		t.Fatal(err)
	}
	var docs []*document
	for _, id := range ids {
		data, err := fs.ReadFile(fsys, profileFile(id))
		if err != nil {
			t.Fatal(err)
		}
		docs = append(docs, &document{id: id, file: profileFile(id), data: data})
	}
	return docs
}

// identical compares everything, order and places too.
func identical(a, b *node) bool {
	return a.kind == b.kind && a.text == b.text && a.flag == b.flag && a.doc == b.doc && a.off == b.off &&
		slices.EqualFunc(a.items, b.items, identical) &&
		slices.EqualFunc(a.members, b.members, func(x, y member) bool { return x.name == y.name && identical(x.node, y.node) })
}
