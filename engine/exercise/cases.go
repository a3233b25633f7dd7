package exercise

import (
	"context"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"slices"
	"strconv"
	"strings"

	"backpitch/engine"
	"backpitch/engine/finding"
	"backpitch/engine/plant"
	"backpitch/engine/quantity"
)

// Most cases of a kind from one design: enough to tell a right rule from a
// nearly right one.
const (
	mostEasy = 3
	mostHard = 4
)

// NewRuleKey makes the key of a rule that students are to write: cases from
// the designs, and from the designs with faults for that rule in them, each
// with what the project's own rule says.
func NewRuleKey(ctx context.Context, policies, faults fs.FS, rule, profileID string, designs []Submission) (*Key, error) {
	reviewer, err := openRule(ctx, policies, profileID, rule, nil)
	if err != nil {
		return nil, err
	}
	catalogue, err := plant.Load(faults)
	if err != nil {
		return nil, fmt.Errorf("the catalogue of faults: %w", err)
	}
	m := caseMaker{ctx: ctx, reviewer: reviewer, rule: rule, catalogue: catalogue, index: map[string]int{}}
	p := reviewer.Profile()
	m.task = &RuleTask{ID: rule, Section: p.Adopts[rule].Section, Designs: []CaseDesign{}, Cases: []Case{}}
	names := []string{}
	for _, d := range designs {
		if d.Reason != "" {
			return nil, fail("", "reading %s: %s", d.File, d.Reason)
		}
		if err := m.from(d); err != nil {
			return nil, err
		}
		names = append(names, d.File)
	}
	for _, kind := range []string{CasePass, CaseFail} {
		if !slices.ContainsFunc(m.task.Cases, func(c Case) bool { return c.Kind == kind }) {
			return nil, fail("name a design that has subjects of this rule", "these designs give no case in which %s is %s", rule, kind)
		}
	}
	key := &Key{
		Format: keyFormat, Made: Made{Design: strings.Join(names, ", ")}, Scheme: DefaultScheme(), Faults: []KeyFault{}, Undecided: []Ref{}, Rule: m.task,
		Profile: KeyProfile{ID: profileID, Title: p.Title, Edition: p.Edition, Authority: p.Authority, Units: "US", Verify: p.Verify},
	}
	if p.Units == quantity.SI {
		key.Profile.Units = "SI"
	}
	text, err := json.Marshal(m.task)
	if err != nil {
		return nil, err
	}
	key.Exercise, key.Made.Sound = Digest(text), Digest([]byte(key.Made.Design))
	return key, nil
}

// caseMaker collects cases.
type caseMaker struct {
	ctx       context.Context
	reviewer  *engine.Reviewer
	rule      string
	catalogue []plant.Fault
	task      *RuleTask
	index     map[string]int // of a design, by its text
}

// add takes a case in; the same subject in the same design is one case.
func (m *caseMaker) add(kind string, text []byte, subject string, outcome finding.Outcome) bool {
	i, ok := m.index[string(text)]
	if !ok {
		i = len(m.task.Designs)
		m.index[string(text)] = i
		m.task.Designs = append(m.task.Designs, CaseDesign{Name: "design " + strconv.Itoa(i+1), Text: string(text)})
	}
	for _, c := range m.task.Cases {
		if c.Design == i && c.Subject == subject {
			return false
		}
	}
	m.task.Cases = append(m.task.Cases, Case{Kind: kind, Design: i, Subject: subject, Outcome: outcome})
	return true
}

func (m *caseMaker) ask(text []byte) ruleAnswer {
	return askRule(m.ctx, m.reviewer, m.rule, CaseDesign{Name: "design", Text: string(text)})
}

// plant returns the design with a patch and what the rule says of it; false
// where it does not fit.
func (m *caseMaker) plant(sound []byte, patch []plant.Operation) ([]byte, ruleAnswer, bool) {
	text, err := (plant.Fault{Patch: patch}).Apply(sound)
	if err == nil {
		text, err = arrange(text)
	}
	if err != nil {
		return nil, ruleAnswer{}, false
	}
	a := m.ask(text)
	return text, a, a.broken == ""
}

func (m *caseMaker) from(d Submission) error {
	sound, err := arrange(d.Data)
	if err != nil {
		return fail("", "%s: %s", d.File, err)
	}
	base := m.ask(sound)
	if base.broken != "" {
		return fail("", "%s: %s", d.File, base.broken)
	}
	values, err := decoded(sound)
	if err != nil {
		return fail("", "%s: %s", d.File, err)
	}
	all := parts(values)
	m.plain(sound, base, all)
	failing := m.failing(sound, base, all)
	m.boundary(sound, failing)
	m.open(sound, base, all)
	return m.ctx.Err()
}

// plain adds subjects that pass, and elements that are no subject though their
// neighbours in the file are.
func (m *caseMaker) plain(sound []byte, base ruleAnswer, all map[string][]part) {
	n := 0
	for _, subject := range slices.Sorted(maps.Keys(base.outcomes)) {
		if n < mostEasy && base.outcomes[subject] == finding.Pass && m.add(CasePass, sound, subject, finding.Pass) {
			n++
		}
	}
	n = 0
	for _, list := range slices.Sorted(maps.Keys(all)) {
		if !slices.ContainsFunc(all[list], func(e part) bool { return base.outcomes[e.id] != "" }) {
			continue
		}
		for _, e := range all[list] {
			if n < mostEasy && base.outcomes[e.id] == "" && m.add(CaseNotSubject, sound, e.id, noSubject) {
				n++
			}
		}
	}
}

// broken is a design in which the rule fails, and how it was made so.
type broken struct {
	patch   []plant.Operation
	finding finding.Finding
}

// failing adds subjects that fail once a fault is planted.
func (m *caseMaker) failing(sound []byte, base ruleAnswer, all map[string][]part) []broken {
	var patches [][]plant.Operation
	for _, f := range m.catalogue {
		if f.Rule == m.rule && f.Outcome == plant.Fail {
			patches = append(patches, f.Patch)
		}
	}
	for _, r := range recipes {
		if r.rule != m.rule {
			continue
		}
		for _, e := range all[r.in] {
			if r.when(e) {
				patches = append(patches, r.edit(e))
			}
		}
	}
	var list []broken
	for _, patch := range patches {
		if len(list) == mostHard || len(patch) == 0 {
			continue
		}
		text, a, ok := m.plant(sound, patch)
		if !ok {
			continue
		}
		for _, subject := range slices.Sorted(maps.Keys(a.outcomes)) {
			if a.outcomes[subject] == finding.Fail && base.outcomes[subject] != finding.Fail && m.add(CaseFail, text, subject, finding.Fail) {
				list = append(list, broken{patch, a.findings[subject]})
				break
			}
		}
	}
	return list
}

// boundary puts the value that a fault changes exactly at the limit, and just
// beyond: the rule must tell them apart.
func (m *caseMaker) boundary(sound []byte, failing []broken) {
	for _, b := range failing {
		f := b.finding
		if f.Measured == nil || f.Limit == nil || f.Measured.Fixed == nil || f.Limit.Fixed == nil || f.Measured.Kind != f.Limit.Kind {
			continue
		}
		kind, limit := quantity.Kind(f.Limit.Kind), *f.Limit.Fixed
		step := max(limit/100, 1)
		if *f.Measured.Fixed < limit {
			step = -step
		}
		for i, op := range b.patch {
			var was string
			if json.Unmarshal(op.Value, &was) != nil {
				continue
			}
			if v, err := quantity.Parse(kind, was); err != nil || v.Fixed() != *f.Measured.Fixed {
				continue
			}
			m.at(sound, b, i, quantity.FromFixed(kind, limit).String(), finding.Pass)
			if kind != quantity.Size {
				m.at(sound, b, i, quantity.FromFixed(kind, limit+step).String(), finding.Fail)
			}
		}
	}
}

func (m *caseMaker) at(sound []byte, b broken, i int, value string, want finding.Outcome) {
	patch := slices.Clone(b.patch)
	text, err := json.Marshal(value)
	if err != nil {
		return
	}
	patch[i].Value = text
	planted, a, ok := m.plant(sound, patch)
	if ok && a.of(b.finding.Subject) == want {
		m.add(CaseBoundary, planted, b.finding.Subject, want)
	}
}

// open takes stated facts away, one at a time, until subjects are open.
func (m *caseMaker) open(sound []byte, base ruleAnswer, all map[string][]part) {
	n := 0
	for _, list := range slices.Sorted(maps.Keys(all)) {
		taken := map[string]bool{}
		for _, e := range all[list] {
			if base.outcomes[e.id] != finding.Pass {
				continue
			}
			for _, key := range leaves(e.values, "") {
				if n == mostEasy || taken[key] || key == "id" || key == "from" || key == "to" {
					continue
				}
				text, a, ok := m.plant(sound, e.drop(key))
				if ok && a.of(e.id) == finding.Open && m.add(CaseOpen, text, e.id, finding.Open) {
					taken[key] = true
					n++
				}
			}
		}
	}
}

func writeRulesCSV(w io.Writer, list []MarkedRule) error {
	out := csv.NewWriter(w)
	rows := [][]string{append(append([]string{"handed_in", "marks", "full"}, CaseKinds...), "note")}
	for _, m := range list {
		row := []string{cell(m.Name), strconv.Itoa(m.Marks), strconv.Itoa(m.Full)}
		for _, k := range m.Kinds {
			row = append(row, strconv.Itoa(k.Right))
		}
		rows = append(rows, append(row, cell(m.Problem)))
	}
	return out.WriteAll(rows)
}

// RuleSheet is what students are told who write a rule, in markdown.
func RuleSheet(k *Key, title, description string, needs, tables, cautions []string) string {
	var b strings.Builder
	p := page{markdown: true}
	fmt.Fprintf(&b, "# Write a rule: %s\n\n%s\n\n", p.safe(title), p.safe(description))
	fmt.Fprintf(&b, "It is section %s of %s, %s. Hand in `rules/%s.rego`, in package\n`rules.%s`, with METADATA as the other rules have it.\n\n", p.safe(k.Rule.Section), p.safe(k.Profile.Title), p.safe(k.Profile.Edition), k.Rule.ID, strings.ReplaceAll(k.Rule.ID, "/", "."))
	if len(needs) > 0 {
		fmt.Fprintf(&b, "- facts of the subject it needs: `%s`\n", strings.Join(needs, "`, `"))
	}
	if len(tables) > 0 {
		fmt.Fprintf(&b, "- tables of the profile it reads: `%s`\n", strings.Join(tables, "`, `"))
	}
	b.WriteString("- `backpitch schema facts` lists every fact, `data.lib.judge` every comparison\n")
	fmt.Fprintf(&b, "\nTo use a table of your own hand in a `profile.json` beside it that amends `%s`.\n", k.Profile.ID)
	b.WriteString(`
## Marks

The rule judges designs whose outcomes are known: subjects that pass, that fail,
that stand exactly at the limit or just beyond it, that lack a fact and so are
open, and elements that are no subject at all. Each that it judges rightly is a
mark. A rule that does not compile, or takes longer than five seconds, gets none.

`)
	fmt.Fprintf(&b, "%s\n\n## Cautions\n\n", p.safe(k.Profile.Verify))
	for _, c := range cautions {
		fmt.Fprintf(&b, "- %s\n", c)
	}
	return b.String()
}
