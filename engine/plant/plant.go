// Package plant plants known faults into design documents.
//
// What enters: a fault, which is a JSON Patch (RFC 6902) with the finding it
// causes, and the bytes of a design. What leaves: the design with the fault in
// it, laid out as before, so that every line that the fault does not touch
// keeps its text. Tests plant a fault to see that its rule fires, and
// exercises to see that a reader finds it.
//
// A path may name an element by its id where RFC 6902 wants an index:
// /pipes/@wet-2/slope is the slope of the element of pipes whose id is wet-2.
//
// It refuses a fault whose file is not named after its rule, a patch that names
// an element or value that is not there, and a patch that changes nothing. It
// does not judge whether the patched document is a design that can be read.
package plant

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"
)

// Outcomes that a fault may cause.
const (
	Fail   = "fail"
	Open   = "open"
	Review = "review"
)

// Fault is one known fault and what a review must say of it.
type Fault struct {
	Name string `json:"-"` // path of its file below the catalogue, without .json

	Rule    string `json:"rule"`    // the rule that catches it
	Subject string `json:"subject"` // whom the rule is about
	Profile string `json:"profile"` // the profile under which it is one
	Outcome string `json:"outcome"` // fail, open or review
	Why     string `json:"why"`     // what is wrong, in words

	// Base names the sound design it is planted in; empty for the usual one.
	Base string `json:"base,omitempty"`
	// Missing are the facts that an open outcome names.
	Missing []string `json:"missing,omitempty"`
	// Also are further failures that the same fault causes, each "rule subject".
	Also []string `json:"also,omitempty"`
	// AlsoOpen are further subjects that it leaves open, each "rule subject".
	AlsoOpen []string `json:"also_open,omitempty"`
	// AlsoReview are further subjects that it leaves to a person.
	AlsoReview []string `json:"also_review,omitempty"`

	Patch []Operation `json:"patch"`
}

// Operation is one step of a JSON Patch. Path and From may name elements by id.
type Operation struct {
	Op    string          `json:"op"` // add, remove, replace, move, copy or test
	Path  string          `json:"path"`
	From  string          `json:"from,omitempty"`
	Value json.RawMessage `json:"value,omitempty"`
}

// Error says what is wrong with a fault, and what may help.
type Error struct {
	Fault     string // its Name
	Line, Col int    // in its file, from 1; 0 where the fault is not one of reading
	Message   string
	Hint      string
}

// Error puts the hint on an indented line of its own.
func (e *Error) Error() string {
	text := e.Fault + ".json"
	if e.Line > 0 {
		text += fmt.Sprintf(":%d:%d", e.Line, e.Col)
	}
	text += ": " + e.Message
	if e.Hint != "" {
		text += "\n    hint: " + e.Hint
	}
	return text
}

// Load reads every <topic>/<rule>.json and <topic>/<rule>-<variant>.json of a
// catalogue, in order of name. Faults that cannot be read do not keep the
// others from being read: the error joins one Error for each.
func Load(fsys fs.FS) ([]Fault, error) {
	var faults []Fault
	var wrong []error
	err := fs.WalkDir(fsys, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() || path.Ext(p) != ".json" {
			return nil
		}
		data, err := fs.ReadFile(fsys, p)
		if err != nil {
			return err
		}
		f, err := read(strings.TrimSuffix(p, ".json"), data)
		if err != nil {
			wrong = append(wrong, err)
			return nil
		}
		faults = append(faults, f)
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("reading the faults: %w", err)
	}
	slices.SortFunc(faults, func(a, b Fault) int { return strings.Compare(a.Name, b.Name) })
	return faults, errors.Join(wrong...)
}

// read decodes and checks one fault.
func read(name string, data []byte) (Fault, error) {
	f := Fault{Name: name}
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(&f); err != nil {
		wrong := &Error{Fault: name, Message: strings.TrimPrefix(err.Error(), "json: ")}
		wrong.Line, wrong.Col = place(data, err)
		return f, wrong
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return f, &Error{Fault: name, Message: "text after the fault", Hint: "one file holds one fault"}
	}
	return f, f.check()
}

// place is where a text could not be read, zeros where the error does not say.
func place(data []byte, err error) (line, col int) {
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	var offset int64
	switch {
	case errors.As(err, &syntax):
		offset = syntax.Offset
	case errors.As(err, &kind):
		offset = kind.Offset
	default:
		return 0, 0
	}
	read := data[:min(max(offset-1, 0), int64(len(data)))]
	return bytes.Count(read, []byte("\n")) + 1, len(read) - bytes.LastIndexByte(read, '\n')
}

// check holds a fault to what the package comment says.
func (f *Fault) check() error {
	fault := func(hint, format string, args ...any) error {
		return &Error{Fault: f.Name, Message: fmt.Sprintf(format, args...), Hint: hint}
	}
	for _, field := range []struct{ name, value string }{
		{"rule", f.Rule}, {"subject", f.Subject}, {"profile", f.Profile}, {"why", f.Why},
	} {
		if strings.TrimSpace(field.value) == "" {
			return fault("", "%q is not stated", field.name)
		}
	}
	if variant, ok := strings.CutPrefix(f.Name, f.Rule); !ok || variant != "" && (variant[0] != '-' || strings.Contains(variant, "/")) {
		return fault(fmt.Sprintf("%s.json or %s-<variant>.json", f.Rule, f.Rule), "the file is not named after its rule %q", f.Rule)
	}
	switch f.Outcome {
	case Fail, Review:
		if len(f.Missing) > 0 {
			return fault("", "only an open outcome has missing facts")
		}
	case Open:
		if len(f.Missing) == 0 {
			return fault("name the facts that the finding lists", "an open outcome misses a fact and none is named")
		}
	default:
		return fault("use fail, open or review", "no such outcome: %q", f.Outcome)
	}
	if len(f.Patch) == 0 {
		return fault("", "the patch is empty")
	}
	for _, list := range [][]string{f.Also, f.AlsoOpen, f.AlsoReview} {
		for _, also := range list {
			if rule, subject, ok := strings.Cut(also, " "); !ok || rule == "" || subject == "" || strings.Contains(subject, " ") {
				return fault("", "%q is not a rule and a subject with one space between them", also)
			}
		}
	}
	return nil
}
