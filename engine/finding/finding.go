// Package finding is the plain data a review yields: findings, problems, and
// their order and fingerprints. It computes nothing about pipes.
package finding

// Outcome is the one answer a rule gives for a subject.
type Outcome string

// The four outcomes. Open means not shown: a fact or a table entry is missing.
// Review means a person must look.
const (
	Pass          Outcome = "pass"
	Fail          Outcome = "fail"
	Open          Outcome = "open"
	PersonDecides Outcome = "review"
)

// Level is how serious a failure is.
type Level string

// Levels, most serious first.
const (
	Error   Level = "error"
	Warning Level = "warning"
	Note    Level = "note"
)

// Basis says how far a cited value can be trusted.
type Basis string

// Bases of a cited value.
const (
	Checked        Basis = "checked"         // seen in a published text
	FromMemory     Basis = "from memory"     // not yet seen in a published text
	CommonPractice Basis = "common practice" // a fact of the trade, no code text
)

// Place is where a finding or problem stands. Line and Col count from 1, 0
// where unknown; Pointer is an RFC 6901 JSON Pointer.
type Place struct {
	File    string `json:"file"`
	Line    int    `json:"line,omitempty"`
	Col     int    `json:"col,omitempty"`
	Pointer string `json:"pointer"`
}

// Quantity is a measured value or a limit: the whole number a rule compared,
// in the fixed unit of its kind, and the same for people in the profile's units.
type Quantity struct {
	Kind  string `json:"kind"`            // quantity kind, or "text"
	Fixed *int64 `json:"fixed,omitempty"` // absent for text
	Text  string `json:"text"`
}

// Range is how low and how high a measured value may be: rough or smooth pipe,
// a pump at either end of its tolerance.
type Range struct {
	Low  Quantity `json:"low"`
	High Quantity `json:"high"`
}

// Finding is one outcome of one rule for one subject.
type Finding struct {
	Rule        string    `json:"rule"`
	Title       string    `json:"title"`
	Level       Level     `json:"level"`
	Outcome     Outcome   `json:"outcome"`
	Subject     string    `json:"subject"`
	SubjectName string    `json:"subject_name"` // the subject as people say it: drain "b3"
	Place       Place     `json:"place"`
	Message     string    `json:"message"`
	Measured    *Quantity `json:"measured,omitempty"`
	Limit       *Quantity `json:"limit,omitempty"`
	Range       *Range    `json:"range,omitempty"`  // the ends of a measured value that is not exact
	Margin      *Quantity `json:"margin,omitempty"` // how far on the right (positive) or wrong side of the limit
	Section     string    `json:"section"`
	Basis       Basis     `json:"basis"`                 // of the adoption
	LimitBasis  Basis     `json:"limit_basis,omitempty"` // of the table row or value compared with, where one was used
	Source      string    `json:"source,omitempty"`
	Remedy      string    `json:"remedy,omitempty"`
	Verify      string    `json:"verify"`            // the "verify with local authority" note
	Missing     []string  `json:"missing,omitempty"` // for open: facts or table entries that are not there
	Fingerprint string    `json:"fingerprint"`

	// A failure that somebody answers for stays a failure, is shown with the
	// mark and does not count towards --fail-on.
	Approval *Approval `json:"approval,omitempty"`
	Baseline string    `json:"baseline,omitempty"` // the baseline file that has it: existing work that stays as it was
}

// Problem is why a document cannot be read, or how it contradicts itself.
type Problem struct {
	Place   Place  `json:"place"`
	Code    string `json:"code"` // stable word, such as unknown_key, duplicate_key, dangling_id, loop
	Message string `json:"message"`
	Hint    string `json:"hint,omitempty"`
}
