package bench

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"regexp"
	"strconv"
	"strings"

	"backpitch/engine"
	"backpitch/engine/policy"
	"backpitch/engine/profile"
)

// classID is the profile that a class works in: an amendment of the profile
// chosen.
const classID = "class-bench"

var (
	classFile   = path.Join("profiles", classID, "profile.json")
	packageLine = regexp.MustCompile(`(?m)^package[ \t]+rules\.([a-z][a-z0-9_]*)\.([a-z][a-z0-9_]*)[ \t]*(?:#.*)?\r?$`)
	placed      = regexp.MustCompile(`^(\S+?):(\d+):(\d+): (.*)$`)
)

// lay is what a class lays over a profile.
type lay struct{ base, rule, amendment string }

func (q Request) lay() lay {
	l := lay{rule: q.Rule, amendment: q.Amendment}
	if strings.TrimSpace(l.rule) == "" {
		l.rule = ""
	}
	if strings.TrimSpace(l.amendment) == "" {
		l.amendment = ""
	}
	if l.base = q.Profile; l.base == "" {
		l.base = ownProfile(q.Design)
	}
	return l
}

func (l lay) empty() bool { return l.rule == "" && l.amendment == "" }

// profile is what is judged under: the base itself where nothing amends it.
func (l lay) profile() string {
	if l.amendment == "" {
		return l.base
	}
	return classID
}

// ruleID is the id that the rule's package gives it, "" where it has none.
func (l lay) ruleID() string {
	if m := packageLine.FindStringSubmatch(l.rule); m != nil {
		return m[1] + "/" + m[2]
	}
	return ""
}

// Fault is what is wrong with a text of the class. In is "rule" or
// "amendment", "" for what stands in neither. Line and Col count from 1, 0
// where unknown.
type Fault struct {
	In      string `json:"in"`
	Line    int    `json:"line,omitempty"`
	Col     int    `json:"col,omitempty"`
	Message string `json:"message"`
	Hint    string `json:"hint,omitempty"`
}

// engineFor returns the engine that judges a request and the profile to judge
// under. The engine is nil where the class's texts cannot be laid over it.
func (b *Bench) engineFor(q Request) (*engine.Engine, string, []Fault) {
	l := q.lay()
	if l.empty() || l.base == "" {
		return b.plain, l.base, nil
	}
	if b.laid != l {
		b.laid, b.class = l, nil
		fsys, faults := b.over(l)
		if b.faults = faults; len(faults) == 0 {
			b.class = engine.New(engine.Options{Policies: fsys})
		}
	}
	return b.class, l.profile(), b.faults
}

// over lays the class's texts over the files of the profile.
func (b *Bench) over(l lay) (fs.FS, []Fault) {
	p, err := profile.Load(b.policies, l.base)
	if err != nil {
		return nil, b.faultsOf(err)
	}
	files, err := policy.Sources(b.policies, p, false)
	if err != nil {
		return nil, b.faultsOf(err)
	}
	if l.amendment != "" {
		text, fault := compose(l, p)
		if fault != nil {
			return nil, []Fault{*fault}
		}
		files[classFile] = text
	}
	if l.rule == "" {
		return files, nil
	}
	id := l.ruleID()
	if id == "" {
		return nil, []Fault{{In: "rule", Line: 1, Col: 1, Message: "the rule has no line that says its package",
			Hint: "write package rules.class.name below the METADATA; its id is then class/name"}}
	}
	files[b.place(files, p, id)] = []byte(l.rule)
	amended, err := profile.Load(files, l.profile())
	if err != nil {
		return nil, b.faultsOf(err)
	}
	if _, ok := amended.Adopts[id]; !ok {
		return nil, []Fault{{In: "amendment", Line: 1, Col: 1, Message: fmt.Sprintf("nothing adopts the rule %q, so it would judge nothing", id),
			Hint: fmt.Sprintf(`write { "adopts": { %q: { "section": "class 1", "basis": "common practice", "source": "class" } } }`, id)}}
	}
	return files, nil
}

// place is the file of a rule: where the profile has it, else with the class.
func (b *Bench) place(files policy.Files, p *profile.Profile, id string) string {
	roots := []string{"rules"}
	for _, link := range p.Chain {
		roots = append(roots, path.Join("profiles", link, "rules"))
	}
	for _, root := range roots {
		if f := path.Join(root, id) + ".rego"; files[f] != nil {
			return f
		}
	}
	return path.Join("profiles", classID, "rules", id) + ".rego"
}

// head is what a class's profile says of itself. The amendment goes on in the
// same line, so that its lines keep their numbers.
func head(l lay, p *profile.Profile) string {
	quoted := func(s string) string {
		text, err := json.Marshal(s)
		if err != nil {
			panic(err) // a string always encodes
		}
		return string(text)
	}
	return fmt.Sprintf(`{"id":%s,"title":%s,"edition":%s,"authority":%s,"verify":%s,"amends":%s,"sources":{"class":{"title":"Class use"}}`,
		quoted(classID), quoted(p.Title+", amended by the class"), quoted(p.Edition), quoted(p.Authority), quoted(p.Verify), quoted(l.base))
}

// compose writes the class's profile.
func compose(l lay, p *profile.Profile) ([]byte, *Fault) {
	h := head(l, p)
	blank := l.amendment[:len(l.amendment)-len(strings.TrimLeft(l.amendment, " \t\r\n"))]
	rest, ok := strings.CutPrefix(l.amendment[len(blank):], "{")
	switch {
	case !ok:
		return nil, &Fault{In: "amendment", Line: 1, Col: 1, Message: "the amendment is not an object", Hint: "begin with { and end with }"}
	case !strings.HasPrefix(strings.TrimLeft(rest, " \t\r\n"), "}"):
		h += ","
	}
	return []byte(blank + h + rest), nil
}

// faultsOf reads the places out of an error of the engine.
func (b *Bench) faultsOf(err error) []Fault {
	text := err.Error()
	var hinted interface{ HintText() string }
	if errors.As(err, &hinted) && hinted.HintText() != "" {
		text += "\n  hint: " + hinted.HintText()
	}
	var out []Fault
	for _, line := range strings.Split(text, "\n") {
		hint, isHint := strings.CutPrefix(strings.TrimSpace(line), "hint: ")
		m := placed.FindStringSubmatch(line)
		switch {
		case isHint && len(out) > 0:
			out[len(out)-1].Hint = hint
		case m != nil:
			out = append(out, b.fault(m))
		case len(out) > 0 && strings.TrimSpace(line) != "" && line != strings.TrimLeft(line, " \t"):
			// The line of source that OPA prints below its message stands in the
			// page already.
		case strings.TrimSpace(line) != "":
			out = append(out, Fault{Message: strings.TrimSpace(line)})
		}
	}
	for i := range out {
		out[i].Message = strings.TrimPrefix(out[i].Message, "rego_parse_error: ")
		if out[i].Hint == "" {
			out[i].Hint = plainHint(out[i].Message)
		}
	}
	return out
}

func (b *Bench) fault(m []string) Fault {
	f := Fault{Message: m[4]}
	f.Line, _ = strconv.Atoi(m[2])
	f.Col, _ = strconv.Atoi(m[3])
	id := b.laid.ruleID()
	switch {
	case id != "" && strings.HasSuffix(m[1], "rules/"+id+".rego"):
		f.In = "rule"
	case m[1] == classFile:
		f.In = "amendment"
		if first := strings.Count(b.laid.amendment[:max(0, strings.Index(b.laid.amendment, "{"))], "\n") + 1; f.Line == first {
			f.Col = 1 // the head stands in that line, too
		}
	default:
		f.Message = fmt.Sprintf("%s:%s:%s: %s", m[1], m[2], m[3], m[4])
		f.Line, f.Col = 0, 0
	}
	return f
}

// plainHints say in plain words what the commonest messages of OPA mean, for
// those that come without a hint of the engine's.
var plainHints = []struct {
	has  *regexp.Regexp
	hint string
}{
	{regexp.MustCompile(`^unexpected (eof|end)`), "the text ends too early: a bracket or a brace is open"},
	{regexp.MustCompile(`^unexpected .* token`), "here, or at the end of the line above, a bracket, a comma, a quotation mark or the word if is missing or too many"},
	{regexp.MustCompile(`var (\S+) is unsafe`), "the name gets no value: give it one with := or with some … in …"},
	{regexp.MustCompile(`assigned var .* unused`), "take the line out, or use the name; write _ where it does not matter"},
	{regexp.MustCompile(`invalid argument`), "this compares or computes with a value of the wrong kind, such as a word where a number is needed"},
	{regexp.MustCompile(`import .* unused`), "take the import out, or use it"},
	{regexp.MustCompile(`non-terminated string`), "a quotation mark is open"},
}

func plainHint(message string) string {
	for _, p := range plainHints {
		if p.has.MatchString(strings.ToLower(message)) {
			return p.hint
		}
	}
	return ""
}
