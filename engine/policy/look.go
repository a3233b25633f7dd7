package policy

import (
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"github.com/open-policy-agent/opa/v1/ast"

	"backpitch/engine/profile"
)

// Look is what a rule looks at, as its text says, without judging anything.
type Look struct {
	Group string   // of facts that its subjects come from, "" where it cannot be told
	Facts []string // of the subject, dotted, sorted; building.* and project.* too

	module *module
}

// LookAt reads one rule that the profile adopts.
func LookAt(fsys fs.FS, p *profile.Profile, id string) (*Look, error) {
	files, err := ruleFiles(fsys, p.Chain)
	if err != nil {
		return nil, err
	}
	i := slices.IndexFunc(files, func(f ruleFile) bool { return f.id == id })
	if i < 0 {
		return nil, &Error{Rule: id, Message: fmt.Sprintf("the rule %q does not exist", id)}
	}
	m, problems := readRule(fsys, files[i])
	if err := problems.sorted(); err != nil {
		return nil, err
	}
	return &Look{Group: m.group, Facts: m.facts(), module: m}, nil
}

// facts are what the rule needs and every fact of its subjects or of the
// building and the project that stands in its text.
func (m *module) facts() []string {
	out := slices.Clone(m.Needs)
	fields, root := m.fields(), factsSchema().root
	ast.WalkRefs(m.parsed, func(ref ast.Ref) bool {
		if len(ref) < 2 || hasPrefix(ref, "data") {
			return false
		}
		head, ok := ref[1].Value.(ast.String)
		if !ok {
			return false
		}
		name := string(head)
		if hasPrefix(ref, "input") {
			if name != "building" && name != "project" || len(ref) < 3 || root.Properties[name].find(word(ref[2].Value)) == nil {
				return false
			}
			out = append(out, name+"."+word(ref[2].Value))
			return false
		}
		if fields != nil && fields.Properties[name] != nil && name != "id" && !inside(out, name) {
			out = append(out, name)
		}
		return false
	})
	slices.Sort(out)
	return slices.Compact(out)
}

// inside reports whether a dotted need begins with a name that the rule walks
// through: levels of levels.alarm says nothing more.
func inside(list []string, name string) bool {
	return slices.ContainsFunc(list, func(s string) bool { return strings.HasPrefix(s, name+".") })
}

// Row returns the entry of a table that the rule finds for a subject with those
// facts; false where the table has none for it or the rule's text does not say
// plainly which.
func (l *Look) Row(t *profile.Table, fact func(string) (any, bool)) (profile.Entry, bool) {
	if l.module == nil {
		e, ok := t.Lookup()
		return e, ok
	}
	e, _ := l.module.lookup(t, fact)
	if e == nil {
		return profile.Entry{}, false
	}
	return *e, true
}
