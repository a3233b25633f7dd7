package report

import (
	"fmt"
	"slices"
	"strings"

	"backpitch/engine/finding"
)

// openGroup is what is not shown of elements of one kind that lack the same.
type openGroup struct {
	word     string   // fixture, drain
	key      string   // what is lacking, so that equal elements come together
	wants    []string // what to show
	follows  []string // what is computed from that
	unstated []string // what the profile has no entry for
	rules    []string // what waits for it
	findings []finding.Finding
}

// openItems groups what is not shown by element, and elements of a kind that
// lack the same into one item, so that a sketch gets a short list.
func (l *letter) openItems(open []finding.Finding) {
	var order []string
	elements := map[string][]finding.Finding{}
	for _, f := range open {
		id := finding.ElementOf(f.Subject)
		if elements[id] == nil {
			order = append(order, id)
		}
		elements[id] = append(elements[id], f)
	}
	var groups []*openGroup
	byKey := map[string]*openGroup{}
	for _, id := range order {
		g := l.openGroup(elements[id])
		if same := byKey[g.key]; same != nil {
			same.findings = append(same.findings, g.findings...)
			continue
		}
		byKey[g.key] = g
		groups = append(groups, g)
	}
	for _, g := range groups {
		l.Open = append(l.Open, l.openItem(g))
	}
}

// openGroup collects what one element lacks.
func (l *letter) openGroup(list []finding.Finding) *openGroup {
	g := &openGroup{findings: list}
	g.word = partName(list[0])
	parts := map[string]*openGroup{}
	var names []string
	for _, f := range list {
		name := partName(f)
		if parts[name] == nil {
			parts[name] = &openGroup{}
			names = append(names, name)
		}
		part := parts[name]
		for _, m := range f.Missing {
			part.miss(name, m)
		}
		g.rules = addWord(g.rules, fmt.Sprintf("%s (%s)", lowerTitle(f.Title), strings.Join(nonEmpty(f.Section, basisUnlessSame(f)), ", ")))
	}
	for _, name := range names {
		part := parts[name]
		prefix := ""
		if name != g.word && len(part.wants) > 0 {
			prefix = "of the " + name + ": "
		}
		if len(part.wants) > 0 {
			g.wants = append(g.wants, prefix+strings.Join(part.wants, ", "))
		}
		for _, w := range part.follows {
			g.follows = addWord(g.follows, w)
		}
		for _, w := range part.unstated {
			g.unstated = addWord(g.unstated, w)
		}
	}
	g.key = strings.Join([]string{g.word, strings.Join(g.wants, ";"), strings.Join(g.follows, ";"), strings.Join(g.unstated, ";"), strings.Join(g.rules, ";")}, "\n")
	if !strings.Contains(list[0].SubjectName, `"`) {
		g.key = list[0].Subject // the building and the project stand alone
	}
	return g
}

// miss sorts one missing thing into what a drawing shows, what is computed and
// what the profile itself lacks.
func (g *openGroup) miss(of, m string) {
	if of == "trap arm" && m == "diameter" {
		m = "size" // its diameter is asked for by its size
	}
	if words, ok := computedFacts[m]; ok {
		g.follows = addWord(g.follows, words)
		return
	}
	if strings.HasPrefix(m, "table ") {
		g.unstated = addWord(g.unstated, m)
		return
	}
	words, ok := factWords[m]
	if !ok {
		words = m
	}
	g.wants = addWord(g.wants, words)
}

func addWord(list []string, word string) []string {
	if slices.Contains(list, word) {
		return list
	}
	return append(list, word)
}

// partName is the subject without its id: trap arm for trap arm of "lavatory".
func partName(f finding.Finding) string {
	name, _, found := strings.Cut(f.SubjectName, ` "`)
	if !found {
		return name
	}
	return strings.TrimSuffix(name, " of")
}

func basisUnlessSame(f finding.Finding) string {
	if f.Section == string(f.Basis) {
		return ""
	}
	return basisWords(f.Basis)
}

// lowerTitle puts a title into a sentence.
func lowerTitle(s string) string {
	if len(s) > 1 && s[1] >= 'A' && s[1] <= 'Z' {
		return s
	}
	return strings.ToLower(s[:min(1, len(s))]) + s[min(1, len(s)):]
}

// openItem is the entry of elements that lack the same.
func (l *letter) openItem(g *openGroup) item {
	title := g.findings[0].SubjectName
	if first := finding.ElementOf(g.findings[0].Subject); slices.ContainsFunc(g.findings, func(f finding.Finding) bool { return finding.ElementOf(f.Subject) != first }) {
		title = plural(2, g.word)[2:]
	}
	i := l.number(item{Title: capital(title), Tag: "not shown"})
	for _, f := range g.findings {
		l.mark(&i, f)
	}
	if len(g.wants) > 0 {
		name := "Please show"
		if len(i.Spots) > 1 {
			name = "For each show"
		}
		i.Terms = append(i.Terms, term{name, strings.Join(g.wants, "; ")})
	}
	if len(g.follows) > 0 {
		name := "Then follows"
		if len(g.wants) == 0 {
			name = "Not computed"
		}
		i.Terms = append(i.Terms, term{name, strings.Join(g.follows, ", ")})
	}
	if len(g.unstated) > 0 {
		i.Terms = append(i.Terms, term{"Not in the profile", strings.Join(g.unstated, "; ")})
	}
	i.Terms = append(i.Terms, term{"To judge", strings.Join(g.rules, "; ")})
	return i
}
