package exercise

import (
	"bytes"
	"cmp"
	"encoding/json"

	"backpitch/engine/design"
	"backpitch/engine/finding"
	"backpitch/engine/plant"
)

const keyFormat = "backpitch answer key 1"

// Key is what an instructor marks by; schema/answer-key.schema.json describes
// it. A key of an exercise has faults, one of a rule to be written has cases.
type Key struct {
	Format    string     `json:"format"`
	Exercise  string     `json:"exercise"` // Digest of the student's file
	Made      Made       `json:"made"`
	Profile   KeyProfile `json:"profile"`
	Scheme    Scheme     `json:"scheme"`
	Faults    []KeyFault `json:"faults"`
	Undecided []Ref      `json:"undecided"` // what a person must look at: neither right nor wrong
	Rule      *RuleTask  `json:"rule,omitempty"`
}

// Made says how the exercise was made, so that it can be made again.
type Made struct {
	Design  string   `json:"design"` // name of the sound design
	Sound   string   `json:"sound"`  // Digest of the sound design as arranged
	Seed    uint64   `json:"seed"`
	Faults  int      `json:"faults"`
	Missing int      `json:"missing"`
	Topics  []string `json:"topics,omitempty"`
}

// KeyProfile is the jurisdiction that the exercise is judged under.
type KeyProfile struct {
	ID        string `json:"id"`
	Title     string `json:"title"`
	Edition   string `json:"edition"`
	Authority string `json:"authority"`
	Units     string `json:"units"`
	Verify    string `json:"verify"`
}

// Scheme is the marks of an exercise. FalseAlarm is taken away for each; a
// sheet never falls below 0.
type Scheme struct {
	Found            int `json:"found"`       // the fault is named
	Section          int `json:"section"`     // with the right section
	Measured         int `json:"measured"`    // with what was found
	Limit            int `json:"limit"`       // with what is required
	Sum              int `json:"sum"`         // with the sum, where the value has to be worked out
	Missing          int `json:"missing"`     // with the fact that is not shown
	Sound            int `json:"sound"`       // a design without faults is called sound
	FalseAlarm       int `json:"false_alarm"` // taken away
	TolerancePercent int `json:"tolerance_percent"`
}

// DefaultScheme is the scheme of a key that nobody changed.
func DefaultScheme() Scheme {
	return Scheme{Found: 3, Section: 1, Measured: 1, Limit: 1, Sum: 1, Missing: 1, Sound: 3, FalseAlarm: 1, TolerancePercent: 2}
}

// KeyFault is one planted fault: what was done and what it causes, the finding
// it was planted for first. An answer that names any of them has found it.
type KeyFault struct {
	Number   int               `json:"number"`
	Outcome  finding.Outcome   `json:"outcome"`
	Why      string            `json:"why"`
	Sum      bool              `json:"sum,omitempty"` // the measured value has to be worked out
	Elements []string          `json:"elements"`      // it is about: an answer may name any of them
	Patch    []plant.Operation `json:"patch"`
	Findings []KeyFinding      `json:"findings"`
}

// KeyFinding is what a review says of the fault.
type KeyFinding struct {
	Outcome     finding.Outcome   `json:"outcome"`
	Rule        string            `json:"rule"`
	Title       string            `json:"title"`
	Subject     string            `json:"subject"`
	SubjectName string            `json:"subject_name"`
	Section     string            `json:"section"`
	Message     string            `json:"message"`
	Measured    *finding.Quantity `json:"measured,omitempty"`
	Limit       *finding.Quantity `json:"limit,omitempty"`
	Missing     []string          `json:"missing,omitempty"`
}

// Ref names one outcome.
type Ref struct {
	Rule    string `json:"rule"`
	Subject string `json:"subject"`
}

func (r Ref) compare(o Ref) int {
	return cmp.Or(cmp.Compare(r.Rule, o.Rule), cmp.Compare(r.Subject, o.Subject))
}

// Encode is the text of the key that is sealed.
func (k Key) Encode() ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	err := e.Encode(k)
	return b.Bytes(), err
}

// keyLimits let a key carry the designs of its cases.
var keyLimits = design.Limits{Bytes: 32 << 20, Text: 2 << 20, Fixed: true}

// ReadKey reads the text of an opened key.
func ReadKey(name string, data []byte) (*Key, []finding.Problem) {
	src, problems := design.ReadSource(name, "answer-key", "answer key", data, keyLimits)
	if src == nil {
		return nil, problems
	}
	var k Key
	if problems := src.Decode(&k); problems != nil {
		return nil, problems
	}
	return &k, nil
}
