package design

import (
	"encoding/json"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestValuesAreTheElementsAsWritten: each element once, its text the JSON that
// stands at its place.
func TestValuesAreTheElementsAsWritten(t *testing.T) {
	d, problems := Read("d.json", studio(t), Limits{})
	if d == nil {
		t.Fatal(problems)
	}
	seen := map[string]bool{}
	d.Values(func(e Element, text []byte) {
		if seen[e.ID] {
			t.Errorf("%s comes twice", e.ID)
		}
		seen[e.ID] = true
		var got struct{ ID string }
		if err := json.Unmarshal(text, &got); err != nil || (got.ID != e.ID && e.ID != "project" && e.ID != "building") {
			t.Errorf("%s: %s (%v)", e.ID, text, err)
		}
		if n, ok := d.source.resolve(e.Position.Pointer); !ok || d.source.literal(n) != string(text) {
			t.Errorf("%s: its text is not what stands at %s", e.ID, e.Position.Pointer)
		}
	})
	if want := len(d.index) + 2; len(seen) != want || !seen["project"] || !seen["building"] {
		t.Errorf("%d elements, want %d", len(seen), want)
	}
}

func TestHasKeyLooksAtTheTopOnly(t *testing.T) {
	got := map[string]bool{}
	for _, in := range []string{`{"reviews":[]}`, `{"a":1,"rev\u0069ews":2}`, `{"a":{"reviews":1}}`, `["reviews"]`, `"reviews"`, ``, `{"reviews":1,`, `{"reviews"`, "\xff\xfe"} {
		got[in] = HasKey([]byte(in), "reviews", Limits{})
	}
	want := map[string]bool{`{"reviews":[]}`: true, `{"a":1,"rev\u0069ews":2}`: true, `{"a":{"reviews":1}}`: false, `["reviews"]`: false, `"reviews"`: false, ``: false,
		`{"reviews":1,`: true, `{"reviews"`: false, "\xff\xfe": false}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}
