package policies_test

import (
	"fmt"
	"slices"
	"testing"

	"backpitch/engine/policy"
	"backpitch/engine/profile"
)

// engineReads are the tables that facts are derived from.
var engineReads = []string{"drain.min_slope", "fixture.load_by_trap", "fixture.load_per_flow", "flow.curve_tank", "flow.curve_flush_valve"}

// A figure that no adopted rule and no fact reads changes nothing, and counts
// all the same among the figures that a profile says it has.
func TestEveryTableIsRead(t *testing.T) {
	var problems []string
	for _, id := range chainOfAll(t) {
		p, err := profile.Load(disk, id)
		if err != nil {
			t.Fatal(err)
		}
		prepared, err := policy.Prepare(t.Context(), disk, p)
		if err != nil {
			t.Fatal(err)
		}
		read := slices.Clone(engineReads)
		for _, rule := range prepared.Rules() {
			read = append(append(read, rule.Tables...), rule.Optional...)
		}
		for _, table := range p.Tables() {
			if !slices.Contains(read, table) {
				problems = append(problems, fmt.Sprintf("profile %s: nothing reads table %s", id, table))
			}
		}
	}
	report(t, problems)
}
