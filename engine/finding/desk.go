package finding

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"strings"
)

// Approval is who answers for a failure, and on which condition. It comes from
// the reviewer's own file; a design cannot excuse itself.
type Approval struct {
	GrantedBy string `json:"granted_by"`
	Reference string `json:"reference"`
	Date      string `json:"date"`
	Expires   string `json:"expires,omitempty"` // the last day on which it holds
	Condition string `json:"condition,omitempty"`
	Reason    string `json:"reason"`
	Place     Place  `json:"place"` // in the approvals file
}

// Element is a part of a design as it was submitted.
type Element struct {
	ID    string          `json:"id"`
	Kind  string          `json:"kind"`  // for people: "fixture", "vent", "check valve"
	Value json.RawMessage `json:"value"` // the element as the design writes it
}

// Excused says that somebody answers for the failure: it has an approval or is
// existing work of the baseline.
func (f Finding) Excused() bool { return f.Approval != nil || f.Baseline != "" }

// Fingerprint is the same for one rule and subject whatever the file is called
// and wherever the line is: 16 bytes of a SHA-256 in hexadecimal.
func Fingerprint(rule, subject string) string {
	sum := sha256.Sum256([]byte("backpitch/1\n" + rule + "\n" + subject))
	return hex.EncodeToString(sum[:16])
}

// Count counts findings.
func Count(list []Finding) Counts {
	var c Counts
	for _, f := range list {
		switch f.Outcome {
		case Pass:
			c.Pass++
		case Open:
			c.Open++
		case PersonDecides:
			c.Review++
		case Fail:
			c.Fail++
			switch {
			case f.Approval != nil:
				c.Approved++
			case f.Baseline != "":
				c.Baseline++
			case f.Level == Error:
				c.Errors++
			case f.Level == Warning:
				c.Warnings++
			default:
				c.Notes++
			}
		}
	}
	return c
}

// Add returns the sums of both.
func (c Counts) Add(d Counts) Counts {
	c.Pass += d.Pass
	c.Fail += d.Fail
	c.Open += d.Open
	c.Review += d.Review
	c.Errors += d.Errors
	c.Warnings += d.Warnings
	c.Notes += d.Notes
	c.Approved += d.Approved
	c.Baseline += d.Baseline
	return c
}

// Key is what approvals and baselines know a project by: its reference or,
// where it has none, its name.
func (p Project) Key() string {
	if p.Reference != "" {
		return p.Reference
	}
	return p.Name
}

// Canonical is the element with its keys in order and without blanks, so that
// two ways to write the same element are equal.
func (e Element) Canonical() string {
	var v any
	if err := json.Unmarshal(e.Value, &v); err != nil {
		return string(e.Value) // it was not read from a document
	}
	text, err := json.Marshal(v)
	if err != nil {
		return string(e.Value)
	}
	return string(text)
}

// Digest is the SHA-256 of the canonical element in hexadecimal.
func (e Element) Digest() string {
	sum := sha256.Sum256([]byte(e.Canonical()))
	return hex.EncodeToString(sum[:])
}

// ElementOf is the id of the element that a subject is or is part of:
// "b3/bend-1" is part of "b3".
func ElementOf(subject string) string {
	id, _, _ := strings.Cut(subject, "/")
	return id
}
