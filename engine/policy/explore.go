package policy

import (
	"slices"
	"strings"

	"github.com/open-policy-agent/opa/v1/ast"

	"backpitch/engine/quantity"
)

// KeyFacts returns, for each key of a table as the rule reads it, the fact of
// the subject that it comes from: "" where the rule does not say so plainly.
// A word written in the rule itself comes as "=word".
func (u *Unit) KeyFacts(table string, keys int) []string {
	out := make([]string, keys)
	for _, r := range u.reads {
		if r.table != table {
			continue
		}
		for i, k := range r.keys {
			if i < keys && out[i] == "" {
				out[i] = k.fact
				if k.word != "" {
					out[i] = "=" + k.word
				}
			}
		}
	}
	return out
}

// Group is the group of facts that the rule's subjects come from, "" where it
// cannot be told.
func (u *Unit) Group() string { return u.group }

// FactUnit is the kind of a fact of the rule's subjects, "" for words, truth
// values and facts that are not theirs.
func (u *Unit) FactUnit(path string) quantity.Kind {
	if f := u.fields(); f != nil {
		if p := f.find(path); p != nil {
			return p.Unit
		}
	}
	return ""
}

// Reads reports whether the rule declares the table.
func (u *Unit) Reads(table string) bool {
	return slices.Contains(u.Tables, table) || slices.Contains(u.Optional, table)
}

// AlwaysAsks reports whether the rule leaves every subject to a person, so that
// nothing passes, fails or is open.
func (u *Unit) AlwaysAsks() bool {
	asks := true
	eachCall(u.parsed, func(terms []*ast.Term) {
		name := terms[0].Value.String()
		if strings.HasPrefix(name, "judge.") && name != "judge.person_decides" || strings.HasPrefix(name, "data.lib.judge.") && name != "data.lib.judge.person_decides" {
			asks = false
		}
	})
	return asks
}
