package finding

// Review is everything one submission yielded under one profile, as plain data
// that any report can print.
type Review struct {
	File     string      `json:"file"`
	Project  Project     `json:"project"`
	Profile  ProfileInfo `json:"profile"`
	Problems []Problem   `json:"problems"`
	Findings []Finding   `json:"findings"` // every outcome, passes included, sorted
	Rules    int         `json:"rules"`    // rules that were judged
	Subjects int         `json:"subjects"` // distinct subjects that were judged
	Counts   Counts      `json:"counts"`
	// Notices are about the reviewer's own files, approvals and baseline, never
	// about the design.
	Notices []Problem `json:"notices,omitempty"`
	// Elements are the parts of the design as submitted, so that a later
	// submission can be compared with this review alone.
	Elements []Element `json:"elements,omitempty"`
	// Failure is why the review could not be carried out at all (a broken
	// policy, a profile that does not exist, a limit hit); empty otherwise.
	Failure string `json:"failure,omitempty"`
	Hint    string `json:"hint,omitempty"`
}

// Project repeats how the submission calls itself.
type Project struct {
	Name      string `json:"name"`
	Reference string `json:"reference,omitempty"`
	Revision  string `json:"revision,omitempty"`
}

// ProfileInfo says what was judged against and how much of it is checked.
type ProfileInfo struct {
	ID        string       `json:"id"`
	Title     string       `json:"title"`
	Edition   string       `json:"edition"`
	Authority string       `json:"authority"`
	Amends    string       `json:"amends,omitempty"`
	Units     string       `json:"units"`  // US or SI
	Verify    string       `json:"verify"` // what to verify with whom
	Figures   FigureCounts `json:"figures"`
}

// FigureCounts counts a profile's table values and adoptions by basis.
type FigureCounts struct {
	Checked        int `json:"checked"`
	FromMemory     int `json:"from_memory"`
	CommonPractice int `json:"common_practice"`
}

// Total is the number of cited figures.
func (c FigureCounts) Total() int { return c.Checked + c.FromMemory + c.CommonPractice }

// Counts counts findings by outcome, and failures by level. A failure with an
// approval or in the baseline is in Fail but in no level, so Fail is always the
// sum of Errors, Warnings, Notes, Approved and Baseline.
type Counts struct {
	Pass     int `json:"pass"`
	Fail     int `json:"fail"`
	Open     int `json:"open"`
	Review   int `json:"review"`
	Errors   int `json:"errors"`
	Warnings int `json:"warnings"`
	Notes    int `json:"notes"`
	Approved int `json:"approved,omitempty"` // failures somebody has approved
	Baseline int `json:"baseline,omitempty"` // failures of existing work
}
