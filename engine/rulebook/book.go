package rulebook

import (
	"cmp"
	"slices"
	"strings"

	"backpitch/engine/finding"
	"backpitch/engine/profile"
)

// Book is every rule, by topic.
type Book struct {
	Profiles []ProfileLine
	Topics   []Topic
	Tables   []*Table // that any rule reads, sorted by id
}

// ProfileLine is a profile in the book's list.
type ProfileLine struct {
	ID, Title, Edition, Authority, Amends, Verify string
	Rules                                         int
	Figures                                       finding.FigureCounts
}

// Topic is the rules whose ids begin alike.
type Topic struct {
	Name    string // trap_arm
	Entries []*Entry
}

// Title is the topic in words.
func (t Topic) Title() string { return strings.ReplaceAll(t.Name, "_", " ") }

// Entry is one rule.
type Entry struct {
	profile.Rule
	Adoptions []Adoption // in the order of the profiles
	Without   []string   // profiles that do not have the rule
	Tables    []*Table
	Related   []Related
	Example   *Example // nil where there is none
}

// Adoption is what one or several profiles cite for the rule in the same words.
type Adoption struct {
	Profiles []string
	Section  string
	Basis    finding.Basis
	Source   string // title
	URL      string
	Note     string
	Level    finding.Level
}

// Related is another rule and what the two have in common.
type Related struct {
	ID, Title, Why string
}

// Gather makes the book from profiles, the rules that they adopt by id, and
// the examples.
func Gather(profiles []*profile.Profile, rules map[string]profile.Rule, examples []Example) *Book {
	b := &Book{}
	for _, p := range profiles {
		b.Profiles = append(b.Profiles, ProfileLine{p.ID, p.Title, p.Edition, p.Authority, p.Amends, p.Verify, len(p.Adopts), p.Figures()})
	}
	tables := map[string]*Table{}
	entries := map[string]*Entry{}
	for id, r := range rules {
		e := &Entry{Rule: r}
		for _, p := range profiles {
			e.adopt(p)
		}
		for _, name := range slices.Concat(r.Tables, r.Optional) {
			if _, known := tables[name]; !known {
				tables[name] = gatherTable(name, profiles)
			}
			if t := tables[name]; t != nil {
				e.Tables = append(e.Tables, t)
				t.Rules = append(t.Rules, id)
			}
		}
		entries[id] = e
	}
	for i := range examples {
		if e := entries[examples[i].Rule]; e != nil {
			e.Example = &examples[i]
		}
	}
	relate(entries)
	for _, t := range tables {
		if t != nil {
			slices.Sort(t.Rules)
			b.Tables = append(b.Tables, t)
		}
	}
	slices.SortFunc(b.Tables, func(x, y *Table) int { return cmp.Compare(x.ID, y.ID) })
	b.sort(entries)
	return b
}

// sort puts the entries under their topics.
func (b *Book) sort(entries map[string]*Entry) {
	byTopic := map[string][]*Entry{}
	for id, e := range entries {
		topic, _, _ := strings.Cut(id, "/")
		byTopic[topic] = append(byTopic[topic], e)
	}
	for name, list := range byTopic {
		slices.SortFunc(list, func(x, y *Entry) int { return cmp.Compare(x.ID, y.ID) })
		b.Topics = append(b.Topics, Topic{name, list})
	}
	slices.SortFunc(b.Topics, func(x, y Topic) int { return cmp.Compare(x.Name, y.Name) })
}

// Find returns the entry of a rule, nil where there is none.
func (b *Book) Find(id string) *Entry {
	for _, t := range b.Topics {
		for _, e := range t.Entries {
			if e.ID == id {
				return e
			}
		}
	}
	return nil
}

// IDs returns the ids of all rules, sorted.
func (b *Book) IDs() []string {
	var ids []string
	for _, t := range b.Topics {
		for _, e := range t.Entries {
			ids = append(ids, e.ID)
		}
	}
	return ids
}

// adopt adds what a profile cites, to an adoption that says the same if there
// is one.
func (e *Entry) adopt(p *profile.Profile) {
	a, ok := p.Adopts[e.ID]
	if !ok {
		e.Without = append(e.Without, p.ID)
		return
	}
	new := Adoption{Section: a.Section, Basis: a.Basis, Source: p.SourceTitle(a.Source), URL: p.Sources[a.Source].URL, Note: a.Note, Level: cmp.Or(a.Level, e.Level)}
	for i := range e.Adoptions {
		old := &e.Adoptions[i]
		if old.Section == new.Section && old.Basis == new.Basis && old.Source == new.Source && old.Level == new.Level && old.Note == new.Note {
			old.Profiles = append(old.Profiles, p.ID)
			return
		}
	}
	new.Profiles = []string{p.ID}
	e.Adoptions = append(e.Adoptions, new)
}

// Name is the last part of the id, in words.
func (e *Entry) Name() string {
	_, name, _ := strings.Cut(e.ID, "/")
	return strings.ReplaceAll(name, "_", " ")
}
