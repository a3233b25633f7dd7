package profile

import (
	"maps"
	"slices"

	"backpitch/engine/finding"
	"backpitch/engine/quantity"
)

// Profile is one jurisdiction, amendments merged. It never changes after Load
// and may be read by many goroutines.
type Profile struct {
	ID        string
	Title     string
	Edition   string
	Authority string
	Units     quantity.System
	Verify    string   // the note printed with each finding
	Amends    string   // the profile it amends, "" for none
	Chain     []string // ID, then what it amends, down to the model

	Sources  map[string]Source
	Method   Method
	Adopts   map[string]Adoption // by rule id
	Fixtures []Fixture           // in the order in which they are tried
	Groups   []Group             // bathroom groups, in the order in which they are tried

	tables map[string]*Table
	data   map[string]any
	counts finding.FigureCounts
}

// Source is a text that figures were taken from.
type Source struct {
	Title string
	URL   string
	Note  string
	Read  string // what of it was read
	From  string // the profile that names it
}

// Cite says where a figure comes from and how far it can be trusted.
type Cite struct {
	Section string
	Basis   finding.Basis
	Source  string // key of Profile.Sources
	Note    string
	From    string // id of the profile that states the figure: ID or one it amends
}

// Adoption is the decision to apply a rule.
type Adoption struct {
	Cite
	Level finding.Level // "" leaves it to the rule
}

// Method says how a profile turns loads into flows.
type Method struct {
	Load      string // fixture_units or discharge_units
	FlowCurve string // table id, "" for none
	Friction  string // hazen_williams or darcy_weisbach: friction of pumped lines; "" for hazen_williams
	Gravity   string // manning or colebrook_white: part-full drains; "" follows the loads
	// K has the frequency factors by use, in thousandths.
	K map[string]int64
	Cite
}

// Summary is a profile in a list.
type Summary struct {
	ID, Title, Edition, Authority string
	Units                         quantity.System
	Amends                        string
	Rules                         int // adopted
	Figures                       finding.FigureCounts
}

// Summary returns what a list shows of the profile.
func (p *Profile) Summary() Summary {
	return Summary{ID: p.ID, Title: p.Title, Edition: p.Edition, Authority: p.Authority, Units: p.Units,
		Amends: p.Amends, Rules: len(p.Adopts), Figures: p.counts}
}

// Figures counts table rows, fixture rows, groups and adoptions by basis.
func (p *Profile) Figures() finding.FigureCounts { return p.counts }

// Rules returns the ids of the adopted rules, sorted.
func (p *Profile) Rules() []string { return slices.Sorted(maps.Keys(p.Adopts)) }

// Tables returns the ids of the tables, sorted.
func (p *Profile) Tables() []string { return slices.Sorted(maps.Keys(p.tables)) }

// Table returns a table, nil where the profile has none of that id; a nil
// table has no entries.
func (p *Profile) Table(id string) *Table { return p.tables[id] }

// Data returns what rules read as data.profile: maps, slices, words, truth
// values and int64. It is shared: do not change it.
func (p *Profile) Data() map[string]any { return p.data }

// SourceTitle returns the title of a source, or its key where it has none.
func (p *Profile) SourceTitle(key string) string {
	if s, ok := p.Sources[key]; ok && s.Title != "" {
		return s.Title
	}
	return key
}

func count(c *finding.FigureCounts, b finding.Basis) {
	switch b {
	case finding.Checked:
		c.Checked++
	case finding.FromMemory:
		c.FromMemory++
	case finding.CommonPractice:
		c.CommonPractice++
	}
}

// Rule is an entry of the catalogue: what a rule's METADATA says.
type Rule struct {
	ID          string // topic/name
	Title       string
	Description string
	Level       finding.Level // unless the adoption says otherwise
	Subject     string        // the word for its subject: drain
	Quantity    quantity.Kind // of measured and limit, "" for words
	Message     string        // with placeholders: {subject}, {measured}, {fact:name} …
	Remedy      string
	Rationale   string
	Needs       []string // facts without which a subject stays open
	Tables      []string // tables without whose entry a subject stays open
	Optional    []string // tables it reads where they exist
	Status      string   // stable or preview
	NoBoundary  bool     // it has a quantity but no boundary to test
	File        string
	Local       string // the profile whose own rule it is, "" for a shared one
}
