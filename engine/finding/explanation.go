package finding

// Explanation is why a rule gave its outcome for one subject.
type Explanation struct {
	File    string      `json:"file"`
	Profile ProfileInfo `json:"profile"`
	Finding Finding     `json:"finding"`

	Description string `json:"description"` // what the rule checks
	Rationale   string `json:"rationale"`   // what goes wrong otherwise
	RuleFile    string `json:"rule_file"`   // where it is written, below the policies

	Facts      []FactRead   `json:"facts"`
	Figures    []FigureRead `json:"figures"`
	Comparison string       `json:"comparison"`
	Formulas   []Formula    `json:"formulas"` // behind the facts, those they rest on first
	Changes    []string     `json:"changes"`  // what would change the outcome
}

// FactRead is a fact that the rule looked at.
type FactRead struct {
	Name    string `json:"name"`
	Value   string `json:"value,omitempty"` // in the profile's units
	Doc     string `json:"doc,omitempty"`
	Missing bool   `json:"missing,omitempty"` // the design does not show it
	Needed  bool   `json:"needed,omitempty"`  // without it the subject stays open
}

// FigureRead is what a table of the profile gave.
type FigureRead struct {
	Table   string `json:"table"`
	Title   string `json:"title,omitempty"`
	Key     string `json:"key,omitempty"`   // of the row; empty for a table of one figure
	Value   string `json:"value,omitempty"` // empty where the table has no row for the subject
	Section string `json:"section,omitempty"`
	Basis   Basis  `json:"basis,omitempty"`
	Source  string `json:"source,omitempty"`
	Note    string `json:"note,omitempty"`
	From    string `json:"from,omitempty"`  // the profile that states it
	Why     string `json:"why,omitempty"`   // why there is no row
	Limit   bool   `json:"limit,omitempty"` // it is the limit that was compared with
}

// Formula is a step of the calculation sheet that led to a fact.
type Formula struct {
	Fact        string   `json:"fact,omitempty"` // empty for a step on the way
	Title       string   `json:"title"`
	Expression  string   `json:"expression"`  // Q = V * A
	Substituted string   `json:"substituted"` // with the numbers put in
	Result      string   `json:"result"`      // with its unit
	Legend      []string `json:"legend"`      // V: mean velocity, ft/s
	Source      string   `json:"source,omitempty"`
	Basis       string   `json:"basis,omitempty"` // of the inputs
	Note        string   `json:"note,omitempty"`
}
