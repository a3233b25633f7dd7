package finding

// Status is what became of a finding between two submissions.
type Status string

// What can become of a finding. Only a finding that is met now is corrected;
// one that is no longer judged is dropped, which proves nothing.
const (
	Outstanding Status = "outstanding" // raised then and now
	New         Status = "new"         // raised now only
	Corrected   Status = "corrected"   // raised then, met now
	Dropped     Status = "dropped"     // raised then, not judged now
)

// Part says what became of the element that a finding is about.
type Part string

// What can become of an element.
const (
	Unchanged   Part = "unchanged"
	Altered     Part = "changed"
	Added       Part = "added"
	Removed     Part = "removed"
	UnknownPart Part = "unknown" // a review saved without its elements
)

// Answer is a finding as one of the two reviews has it.
type Answer struct {
	Outcome  Outcome   `json:"outcome"`
	Level    Level     `json:"level"`
	Message  string    `json:"message"`
	Measured *Quantity `json:"measured,omitempty"`
	Limit    *Quantity `json:"limit,omitempty"`
	Missing  []string  `json:"missing,omitempty"`
	Place    Place     `json:"place"`
	Approval *Approval `json:"approval,omitempty"`
	Baseline string    `json:"baseline,omitempty"`
}

// Item is one finding that was raised in one of the two reviews or in both.
type Item struct {
	Status  Status `json:"status"`
	Why     string `json:"why,omitempty"`  // of new and dropped: in what way
	Changed bool   `json:"changed_answer"` // outstanding, but with another answer
	Part    Part   `json:"part"`

	Rule           string  `json:"rule"`
	Title          string  `json:"title"`
	Subject        string  `json:"subject"`
	SubjectName    string  `json:"subject_name"`
	EarlierSubject string  `json:"earlier_subject,omitempty"` // where its id has changed
	Section        string  `json:"section"`
	Basis          Basis   `json:"basis"`
	Remedy         string  `json:"remedy,omitempty"`
	Verify         string  `json:"verify"`
	Fingerprint    string  `json:"fingerprint"`
	Earlier        *Answer `json:"earlier,omitempty"` // absent where it was not judged
	Later          *Answer `json:"later,omitempty"`
}

// Side is one of the two submissions.
type Side struct {
	File     string      `json:"file"`
	Project  Project     `json:"project"`
	Profile  ProfileInfo `json:"profile"`
	Rules    int         `json:"rules"`
	Subjects int         `json:"subjects"`
	Counts   Counts      `json:"counts"`
}

// ElementChanges is what became of the parts of the design.
type ElementChanges struct {
	Unchanged int             `json:"unchanged"`
	Changed   []ElementChange `json:"changed"`
	Renamed   []ElementRename `json:"renamed"`
	Added     []ElementName   `json:"added"`
	Removed   []ElementName   `json:"removed"`
}

// ElementName names an element.
type ElementName struct {
	ID   string `json:"id"`
	Kind string `json:"kind"`
}

// ElementRename is an element that was found again under another id.
type ElementRename struct {
	Earlier string `json:"earlier"`
	Later   string `json:"later"`
	Kind    string `json:"kind"`
}

// ElementChange is an element whose own values have changed.
type ElementChange struct {
	ElementName
	Keys []KeyChange `json:"keys"`
}

// KeyChange is one value of an element then and now, as JSON; empty where the
// element did not or does not state it.
type KeyChange struct {
	Key     string `json:"key"`
	Earlier string `json:"earlier"`
	Later   string `json:"later"`
}

// BackcheckCounts counts the items.
type BackcheckCounts struct {
	Outstanding    int `json:"outstanding"`
	New            int `json:"new"`
	Corrected      int `json:"corrected"`
	Dropped        int `json:"dropped"`
	ChangedAnswers int `json:"changed_answers"`  // of the outstanding
	NewOnUnchanged int `json:"new_on_unchanged"` // of the new
	Met            int `json:"met"`              // met then and now
}

// Backcheck is what became of the findings of an earlier submission.
type Backcheck struct {
	Earlier  Side            `json:"earlier"`
	Later    Side            `json:"later"`
	Items    []Item          `json:"items"` // sorted by status, place, rule and subject
	Elements ElementChanges  `json:"elements"`
	Counts   BackcheckCounts `json:"counts"`
	// Notices say why the two reviews may not be about the same.
	Notices []Problem `json:"notices"`
}
