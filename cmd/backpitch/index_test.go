package main

import (
	"path/filepath"
	"strings"
	"testing"

	"backpitch/engine"
	"backpitch/policies"
)

// TestRuleIndexIsFresh fails when policies/RULES.md no longer says what the
// rules and profiles say.
func TestRuleIndexIsFresh(t *testing.T) {
	all, err := gatherAdoptions(engine.New(engine.Options{Policies: policies.FS()}))
	if err != nil {
		t.Fatal(err)
	}
	var index strings.Builder
	writeIndex(&index, all)
	golden(t, filepath.Join(root, "policies", "RULES.md"), index.String())
}
