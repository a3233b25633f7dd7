package proof

import (
	"bytes"
	"encoding/json"
	"fmt"

	"backpitch/engine/finding"
)

// Published makes a case of facts, as JSON, with the outcome that a published
// text asks for. Such cases know nothing of the profile's figures, so what they
// notice is noticed by somebody else.
func Published(rule, subject, what string, want finding.Outcome, facts []byte) (Case, error) {
	dec := json.NewDecoder(bytes.NewReader(facts))
	dec.UseNumber()
	var tree any
	if err := dec.Decode(&tree); err != nil {
		return Case{}, fmt.Errorf("facts of %s: %w", what, err)
	}
	return Case{Rule: rule, Subject: subject, What: what, Want: want, facts: whole(tree)}, nil
}

// whole turns numbers into int64, which all facts are.
func whole(v any) any {
	switch v := v.(type) {
	case map[string]any:
		for k, x := range v {
			v[k] = whole(x)
		}
	case []any:
		for i, x := range v {
			v[i] = whole(x)
		}
	case json.Number:
		n, err := v.Int64()
		if err != nil {
			panic("proof: a fact is no whole number: " + v.String())
		}
		return n
	}
	return v
}
