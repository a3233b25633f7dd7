package rulebook

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"backpitch/engine/finding"
)

// Example is a rule at work: a design that it objects to and one that it does
// not, as a review said.
type Example struct {
	Rule    string `json:"rule"`
	Profile string `json:"profile"`
	Design  string `json:"design"`          // the design both are made from, without folder and .json
	Fault   string `json:"fault,omitempty"` // planted for the failing case; empty where the design has it already
	Why     string `json:"why,omitempty"`   // what is wrong, in words
	Failing Case   `json:"failing"`
	Passing *Case  `json:"passing,omitempty"` // nil where no design passes: a person always decides
}

// Case is one design, cut down to what matters, and what the rule said of it.
type Case struct {
	Design  string          `json:"design"`
	Profile string          `json:"profile,omitempty"` // where it is not the example's
	Fault   string          `json:"fault,omitempty"`   // of a passing case: planted for something else
	Subject string          `json:"subject"`
	Outcome finding.Outcome `json:"outcome"`
	Says    string          `json:"says"`
	JSON    string          `json:"json"` // excerpt: … stands for what is left out
}

//go:embed examples.json
var shipped []byte

// Examples returns the examples of the rules that are shipped.
func Examples() ([]Example, error) {
	var list []Example
	if err := json.Unmarshal(shipped, &list); err != nil {
		return nil, fmt.Errorf("reading the examples: %w", err)
	}
	return list, nil
}

// mostParts is how many elements an excerpt shows.
const mostParts = 3

// difference is an excerpt of one side of two designs: the elements in which
// they differ, the subject's first.
func difference(sound, faulty []byte, subject string, ofFaulty bool) (string, error) {
	before, err := parseTree(sound)
	if err != nil {
		return "", err
	}
	after, err := parseTree(faulty)
	if err != nil {
		return "", err
	}
	type part struct{ id, text string }
	var parts []part
	for i, name := range after.names {
		x, y := before.get(name), after.members[i]
		b, a, differs := changed(x, y)
		if !differs {
			continue
		}
		side := b
		if ofFaulty {
			side = a
		}
		switch {
		case side == nil:
		case side.kind == '[':
			for _, e := range side.members {
				parts = append(parts, part{e.id(), e.lines("")})
			}
		default:
			parts = append(parts, part{name, fmt.Sprintf("%q: %s", name, side.lines(""))})
		}
	}
	slices.SortStableFunc(parts, func(p, q part) int {
		switch {
		case p.id == subject && q.id != subject:
			return -1
		case q.id == subject && p.id != subject:
			return 1
		}
		return 0
	})
	if len(parts) == 0 {
		return "(the element is not there)", nil
	}
	var texts []string
	for _, p := range parts[:min(len(parts), mostParts)] {
		texts = append(texts, p.text)
	}
	if more := len(parts) - mostParts; more > 0 {
		texts = append(texts, fmt.Sprintf("(and %d more elements)", more))
	}
	return strings.Join(texts, "\n"), nil
}

// element is an excerpt of a design as it is: the subject's element, or for the
// building and the project what the design says of them.
func element(design []byte, subject string) (string, error) {
	root, err := parseTree(design)
	if err != nil {
		return "", err
	}
	if v := root.get(subject); v != nil {
		return fmt.Sprintf("%q: %s", subject, v.lines("")), nil
	}
	// What a rule is about can be a part of an element: main-1/joint-2.
	for id := subject; id != ""; id = id[:max(0, strings.LastIndexByte(id, '/'))] {
		if e := find(root, id); e != nil {
			return brief(e).lines(""), nil
		}
	}
	return "", nil
}

// find looks for an element at any depth.
func find(t *tree, id string) *tree {
	if t.id() == id {
		return t
	}
	for _, m := range t.members {
		if e := find(m, id); e != nil {
			return e
		}
	}
	return nil
}
