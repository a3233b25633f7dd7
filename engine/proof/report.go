package proof

import (
	"cmp"
	"io/fs"
	"slices"

	"backpitch/engine/profile"
)

// Options say what to test and how far.
type Options struct {
	Policies fs.FS
	Profiles []string // ids
	// Own reports whether a file of the policies is under test; nil is all. A
	// folder of one's own is tested without the policies it is laid over.
	Own    func(file string) bool
	Mutate bool
	Every  int // of the mutants take only each n-th; 0 and 1 are all
	// Pinned returns the figures of a profile as somebody has read and kept
	// them, false for none.
	Pinned func(id string) (string, bool)
	// Cases are further facts by profile with the outcome that published text
	// asks for.
	Cases map[string][]Case
}

// Report is everything that was found.
type Report struct {
	Problems []Problem  `json:"problems"` // what must be mended
	Notes    []Problem  `json:"notes"`    // what somebody should know
	Tests    Tests      `json:"tests"`
	Profiles []Coverage `json:"profiles"`
	Rules    *Score     `json:"rules,omitempty"` // mutants of the rules' text
}

// Problem is one thing found, with its place where it has one.
type Problem struct {
	Code    string `json:"code"` // stable word: test_failed, not_covered, not_proved …
	Profile string `json:"profile,omitempty"`
	Rule    string `json:"rule,omitempty"`
	File    string `json:"file,omitempty"`
	Line    int    `json:"line,omitempty"`
	Col     int    `json:"col,omitempty"`
	Message string `json:"message"`
	Hint    string `json:"hint,omitempty"`
}

// String is "file:line:col: message".
func (p Problem) String() string {
	e := profile.Error{File: p.File, Line: p.Line, Col: max(p.Col, 1), Message: p.Message}
	return e.Error()
}

// Tests counts Rego tests and the lines they run.
type Tests struct {
	Run    int `json:"run"`
	Failed int `json:"failed"`
	Files  int `json:"files"`   // of rules and helpers
	Whole  int `json:"covered"` // of them those whose every line a test runs
}

// Coverage is how far one profile is proved.
type Coverage struct {
	Profile   string `json:"profile"`
	Adoptions int    `json:"adoptions"`         // adopted rules
	Numeric   int    `json:"numeric_adoptions"` // of them those that compare a quantity
	Proved    int    `json:"numeric_proved"`    // of them those with every figure proved or waived
	Figures   int    `json:"figures"`           // rows that an adopted rule reads, once for each rule
	Boundary  int    `json:"boundary_proved"`   // numbers proved at the limit, beyond it and without the facts
	NoLimit   int    `json:"no_limit"`          // numbers that permit anything: proved at the limit alone
	Words     int    `json:"words_proved"`      // flags and lists, each change of which some facts notice
	Waived    int    `json:"waived"`
	Unproved  int    `json:"unproved"`
	Cases     int    `json:"cases"` // sets of facts judged
	Score     *Score `json:"changes,omitempty"`
}

// Score counts changes and who noticed them.
type Score struct {
	Changes  int `json:"changes"`
	Refused  int `json:"refused,omitempty"`   // no longer compile: not counted in Changes
	Tests    int `json:"by_tests"`            // a Rego test fails
	Verdict  int `json:"by_proof"`            // a case of the boundary proof is judged otherwise
	Law      int `json:"by_published_cases"`  // a case from published text is judged otherwise
	Pinned   int `json:"by_pinned_figures"`   // only the figures kept for reading differ
	Alike    int `json:"waived,omitempty"`    // listed, with a reason, as no change in what is said
	Unseen   int `json:"unnoticed,omitempty"` // nobody noticed
	Skipped  int `json:"skipped,omitempty"`   // left out of a sample
	OutOfAll int `json:"of,omitempty"`        // all there are
}

// Noticed is the share in percent, of those that are not waived.
func (s Score) Noticed() float64 {
	if n := s.Changes - s.Alike; n > 0 {
		return 100 * float64(n-s.Unseen) / float64(n)
	}
	return 100
}

func (s *Score) add(o Score) {
	s.Changes += o.Changes
	s.Refused += o.Refused
	s.Tests += o.Tests
	s.Verdict += o.Verdict
	s.Law += o.Law
	s.Pinned += o.Pinned
	s.Alike += o.Alike
	s.Unseen += o.Unseen
	s.Skipped += o.Skipped
	s.OutOfAll += o.OutOfAll
}

func sortProblems(list []Problem) []Problem {
	slices.SortStableFunc(list, func(a, b Problem) int {
		return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Profile, b.Profile),
			cmp.Compare(a.Rule, b.Rule), cmp.Compare(a.Code, b.Code), cmp.Compare(a.Message, b.Message))
	})
	return slices.Compact(list)
}
