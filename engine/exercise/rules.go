package exercise

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"io/fs"
	"path"
	"slices"
	"time"

	"backpitch/engine"
	"backpitch/engine/finding"
	"backpitch/engine/profile"
)

// RuleTask is a rule that students write, and the cases it is judged by.
type RuleTask struct {
	ID      string       `json:"id"` // the rule, and so its path and package
	Section string       `json:"section"`
	Designs []CaseDesign `json:"designs"`
	Cases   []Case       `json:"cases"`
}

// CaseDesign is a design that cases are judged in.
type CaseDesign struct {
	Name string `json:"name"`
	Text string `json:"text"`
}

// Kinds of cases, as rule tests have them.
const (
	CasePass       = "pass"
	CaseFail       = "fail"
	CaseBoundary   = "boundary" // exactly at the limit, or just beyond it
	CaseOpen       = "open"
	CaseNotSubject = "not_subject"
)

// CaseKinds are the kinds in the order of reports.
var CaseKinds = []string{CasePass, CaseFail, CaseBoundary, CaseOpen, CaseNotSubject}

// noSubject is the outcome of what a rule says nothing about.
const noSubject finding.Outcome = "none"

// Case is one subject in one design, and what a right rule says of it.
type Case struct {
	Kind    string          `json:"kind"`
	Design  int             `json:"design"` // index in Designs
	Subject string          `json:"subject"`
	Outcome finding.Outcome `json:"outcome"`
}

// HandedRule is a rule that a student hands in.
type HandedRule struct {
	Name    string // of the file or folder
	Rego    []byte
	Profile []byte // a profile that amends that of the key, or nil
	Reason  string // why it could not be read
}

// MarkedRule is the marks of a handed-in rule: one for each case.
type MarkedRule struct {
	Name     string     `json:"name"`
	Marks    int        `json:"marks"`
	Full     int        `json:"full"`
	Problem  string     `json:"problem,omitempty"` // why it could not be judged
	Hint     string     `json:"hint,omitempty"`
	Kinds    []KindMark `json:"kinds"`
	Mistakes []Mistake  `json:"mistakes"`
}

// KindMark is how many cases of a kind were judged rightly.
type KindMark struct {
	Kind  string `json:"kind"`
	Right int    `json:"right"`
	Of    int    `json:"of"`
}

// Mistake is a case that the rule judges wrongly.
type Mistake struct {
	Kind    string          `json:"kind"`
	Design  string          `json:"design"`
	Subject string          `json:"subject"`
	Want    finding.Outcome `json:"want"`
	Got     finding.Outcome `json:"got"`
	Why     string          `json:"why,omitempty"` // the rule broke
}

// judgeTime is how long a handed-in rule may take for one design.
const judgeTime = 5 * time.Second

// markingID is the profile that adopts nothing but the rule to be marked.
const markingID = "marking"

// MarkRule judges the cases of the key with a handed-in rule. What the rule may
// call and how long it may take is bounded; a rule that breaks gets no marks
// and the words of the error.
func MarkRule(ctx context.Context, policies fs.FS, k *Key, h HandedRule) MarkedRule {
	out := MarkedRule{Name: h.Name, Full: len(k.Rule.Cases), Mistakes: []Mistake{}}
	for _, kind := range CaseKinds {
		of := 0
		for _, c := range k.Rule.Cases {
			if c.Kind == kind {
				of++
			}
		}
		out.Kinds = append(out.Kinds, KindMark{Kind: kind, Of: of})
	}
	if h.Reason != "" {
		out.Problem = h.Reason
		return out
	}
	reviewer, err := openRule(ctx, policies, k.Profile.ID, k.Rule.ID, &h)
	if err != nil {
		out.Problem, out.Hint = explain(err)
		return out
	}
	answers := make([]ruleAnswer, len(k.Rule.Designs))
	for i, d := range k.Rule.Designs {
		answers[i] = askRule(ctx, reviewer, k.Rule.ID, d)
	}
	for _, c := range k.Rule.Cases {
		got := answers[c.Design].of(c.Subject)
		if got == c.Outcome && answers[c.Design].broken == "" {
			out.Marks++
			out.Kinds[slices.Index(CaseKinds, c.Kind)].Right++
			continue
		}
		out.Mistakes = append(out.Mistakes, Mistake{Kind: c.Kind, Design: k.Rule.Designs[c.Design].Name, Subject: c.Subject, Want: c.Outcome, Got: got, Why: answers[c.Design].broken})
	}
	return out
}

func explain(err error) (text, hint string) {
	if e, ok := err.(*Error); ok {
		return e.Message, e.Hint
	}
	text, hint = engine.Explain(err)
	if list, ok := err.(interface{ HintText() string }); ok && hint == "" {
		hint = list.HintText()
	}
	return text, hint
}

// ruleAnswer is what a rule says of each subject of a design.
type ruleAnswer struct {
	outcomes map[string]finding.Outcome
	findings map[string]finding.Finding
	broken   string
}

func (a ruleAnswer) of(subject string) finding.Outcome {
	if o, ok := a.outcomes[subject]; ok {
		return o
	}
	return noSubject
}

func askRule(ctx context.Context, r *engine.Reviewer, rule string, d CaseDesign) ruleAnswer {
	ctx, stop := context.WithTimeout(ctx, judgeTime)
	defer stop()
	review := r.Review(ctx, engine.Submission{Name: d.Name, Data: []byte(d.Text)})
	out := ruleAnswer{outcomes: map[string]finding.Outcome{}, findings: map[string]finding.Finding{}, broken: review.Failure}
	if len(review.Problems) > 0 {
		out.broken = review.Problems[0].Message
	}
	for _, f := range review.Findings {
		if f.Rule == rule {
			out.outcomes[f.Subject], out.findings[f.Subject] = f.Outcome, f
		}
	}
	return out
}

// openRule opens a profile that adopts one rule only: the handed-in one, or
// where none is handed in the project's own.
func openRule(ctx context.Context, policies fs.FS, profileID, rule string, h *HandedRule) (*engine.Reviewer, error) {
	over := map[string][]byte{}
	top := profileID
	if h != nil {
		over["rules/"+rule+".rego"] = h.Rego
		if h.Profile != nil {
			id, err := profileOf(policies, h.Profile)
			if err != nil {
				return nil, err
			}
			over["profiles/"+id+"/profile.json"] = h.Profile
			top = id
		}
	}
	fsys, err := laid(policies, over)
	if err != nil {
		return nil, err
	}
	p, err := profile.Load(fsys, top)
	if err != nil {
		return nil, err
	}
	if !slices.Contains(p.Chain, profileID) {
		return nil, fail(`write "amends": "`+profileID+`"`, "the profile %s does not amend %s, under which the rule is marked", top, profileID)
	}
	if _, adopted := p.Adopts[rule]; !adopted {
		return nil, fail("", "the profile %s does not adopt %s", top, rule)
	}
	adopts := map[string]any{}
	for id := range p.Adopts {
		if id != rule {
			adopts[id] = nil
		}
	}
	marking, err := json.Marshal(map[string]any{
		"id": markingID, "title": p.Title, "edition": p.Edition, "authority": p.Authority, "amends": top, "verify": p.Verify,
		"sources": map[string]any{}, "adopts": adopts,
	})
	if err != nil {
		return nil, err
	}
	over["profiles/"+markingID+"/profile.json"] = marking
	if fsys, err = laid(policies, over); err != nil {
		return nil, err
	}
	return engine.New(engine.Options{Policies: fsys}).Open(ctx, markingID)
}

// profileOf reads the id of a handed-in profile, which must be its own.
func profileOf(policies fs.FS, text []byte) (string, error) {
	var head struct {
		ID string `json:"id"`
	}
	if err := json.Unmarshal(text, &head); err != nil {
		return "", fail("", "profile.json is not JSON: %s", err)
	}
	if head.ID == "" || head.ID == markingID || !fs.ValidPath(head.ID) || path.Base(head.ID) != head.ID {
		return "", fail(`an id is a short word, such as "class-b"`, "profile.json has no id that can be used: %q", head.ID)
	}
	if _, err := fs.Stat(policies, "profiles/"+head.ID); err == nil {
		return "", fail("choose another id and amend that profile", "profile.json has the id of the built-in profile %s", head.ID)
	}
	return head.ID, nil
}

// laid is the policies with files laid over them. A rule that is laid over
// takes the place of every rule of that id, a jurisdiction's own included.
func laid(policies fs.FS, over map[string][]byte) (fs.FS, error) {
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	add := func(name string, data []byte) error {
		f, err := w.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Store})
		if err != nil {
			return err
		}
		_, err = f.Write(data)
		return err
	}
	err := fs.WalkDir(policies, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || hidden(name, over) {
			return err
		}
		data, err := fs.ReadFile(policies, name)
		if err != nil {
			return err
		}
		return add(name, data)
	})
	for name, data := range over {
		if err == nil {
			err = add(name, data)
		}
	}
	if err == nil {
		err = w.Close()
	}
	if err != nil {
		return nil, fmt.Errorf("reading the policies: %w", err)
	}
	return zip.NewReader(bytes.NewReader(b.Bytes()), int64(b.Len()))
}

func hidden(name string, over map[string][]byte) bool {
	if _, same := over[name]; same {
		return true
	}
	// profiles/<id>/rules/<topic>/<rule>.rego
	local, _ := path.Match("profiles/*/rules/*/*.rego", name)
	if !local {
		return false
	}
	rule := path.Join("rules", path.Base(path.Dir(name)), path.Base(name))
	_, same := over[rule]
	return same
}

// WriteRules prints the marks of handed-in rules.
func WriteRules(w io.Writer, k *Key, list []MarkedRule, format string) error {
	switch format {
	case "json":
		return encode(w, struct {
			Rule    string       `json:"rule"`
			Profile KeyProfile   `json:"profile"`
			Rules   []MarkedRule `json:"rules"`
		}{k.Rule.ID, k.Profile, list})
	case "csv":
		return writeRulesCSV(w, list)
	}
	p := page{markdown: format == "markdown"}
	p.title("Marks of rules: " + k.Rule.ID)
	p.line("%d cases in %d designs under %s; a mark for each that is judged rightly", len(k.Rule.Cases), len(k.Rule.Designs), k.Profile.ID)
	p.gap()
	head := append([]string{"handed in", "marks"}, CaseKinds...)
	var rows [][]string
	for _, m := range list {
		row := []string{m.Name, fmt.Sprintf("%d of %d", m.Marks, m.Full)}
		for _, kind := range m.Kinds {
			row = append(row, fmt.Sprintf("%d of %d", kind.Right, kind.Of))
		}
		rows = append(rows, row)
	}
	p.table(head, rows)
	for _, m := range list {
		m.mistakes(&p)
	}
	p.gap()
	p.line("%s", k.Profile.Verify)
	_, err := w.Write(p.b.Bytes())
	return err
}

func (m MarkedRule) mistakes(p *page) {
	switch {
	case m.Problem != "":
		p.gap()
		p.line("%s: not judged: %s", m.Name, m.Problem)
		if m.Hint != "" {
			p.line("    hint: %s", m.Hint)
		}
	case len(m.Mistakes) > 0:
		p.gap()
		p.line("%s judges wrongly", m.Name)
		p.gap()
		var rows [][]string
		for _, c := range m.Mistakes {
			rows = append(rows, []string{c.Kind, c.Design, c.Subject, string(c.Want), string(c.Got), c.Why})
		}
		p.table([]string{"case", "design", "subject", "right", "given", "note"}, rows)
	}
}
