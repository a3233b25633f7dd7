package schema

import (
	"encoding/json"
	"slices"
	"testing"
)

func TestEverySchemaCompiles(t *testing.T) {
	names := Names()
	if !slices.Contains(names, "design") {
		t.Fatalf("names %v lack design", names)
	}
	for _, name := range names {
		data, err := Raw(name)
		if err != nil || !json.Valid(data) {
			t.Errorf("%s: not JSON (%v)", name, err)
		}
		first, err := Compile(name)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if again, _ := Compile(name); again != first {
			t.Errorf("%s: compiled twice", name)
		}
	}
}

func TestUnknownNameIsRefused(t *testing.T) {
	for _, name := range []string{"", "dessign", "../go.mod", "schema.go"} {
		if _, err := Raw(name); err == nil {
			t.Errorf("Raw(%q) gave no error", name)
		}
		if _, err := Compile(name); err == nil {
			t.Errorf("Compile(%q) gave no error", name)
		}
	}
}

func TestReferencesAreNotFetched(t *testing.T) {
	for _, ref := range []string{"https://example.org/x.json", "file:///etc/hostname", "other.schema.json"} {
		if _, err := compile("x", []byte(`{"$ref":"`+ref+`"}`)); err == nil {
			t.Errorf("reference to %q was followed", ref)
		}
	}
}
