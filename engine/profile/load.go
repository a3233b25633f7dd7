package profile

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
)

// Load reads the profile of that id below the policies root, with everything
// it amends. Its error is [Errors] or [*Error].
func Load(fsys fs.FS, id string) (*Profile, error) {
	ids, err := profileIDs(fsys)
	if err != nil {
		return nil, err
	}
	docs, err := chain(fsys, id, ids)
	if err != nil {
		return nil, err
	}
	rules, err := ruleFiles(fsys, docs)
	if err != nil {
		return nil, err
	}
	merged, problems := amend(docs)
	if len(problems) > 0 {
		return nil, problems.sorted()
	}
	return build(docs, merged, rules)
}

// List summarises every profile, by id. Those that do not load are left out
// and named in the error.
func List(fsys fs.FS) ([]Summary, error) {
	ids, err := profileIDs(fsys)
	if err != nil {
		return nil, err
	}
	var out []Summary
	var broken []error
	for _, id := range ids {
		p, err := Load(fsys, id)
		if err != nil {
			broken = append(broken, err)
			continue
		}
		out = append(out, p.Summary())
	}
	return out, errors.Join(broken...)
}

func profileFile(id string) string { return path.Join("profiles", id, "profile.json") }

// profileIDs returns the folders below profiles that hold a profile.json.
func profileIDs(fsys fs.FS) ([]string, error) {
	entries, err := fs.ReadDir(fsys, "profiles")
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("reading profiles: %w", err)
	}
	var ids []string
	for _, e := range entries {
		if _, err := fs.Stat(fsys, profileFile(e.Name())); err == nil {
			ids = append(ids, e.Name())
		}
	}
	return ids, nil
}

// sourceDoc is a document with its parsed root.
type sourceDoc struct {
	*document
	root *node
}

// chain reads the profile and what it amends, the model last.
func chain(fsys fs.FS, id string, ids []string) ([]sourceDoc, error) {
	var docs []sourceDoc
	var asked *node // the "amends" that led here
	for {
		for i, d := range docs {
			if d.id == id {
				return nil, asked.errorf("", "the amendments run in a ring: %s", ring(docs[i:], id))
			}
		}
		if !slices.Contains(ids, id) {
			hint := DidYouMean(id, ids)
			if asked != nil {
				return nil, asked.errorf(hint, "profile %q amends %q, which does not exist", docs[len(docs)-1].id, id)
			}
			return nil, &Error{Message: fmt.Sprintf("there is no profile %q", id), Hint: hint}
		}
		d, err := read(fsys, id)
		if err != nil {
			return nil, err
		}
		docs = append(docs, d)
		if asked = d.root.get("amends"); asked == nil {
			return docs, nil
		}
		id = asked.text
	}
}

func ring(docs []sourceDoc, back string) string {
	var b strings.Builder
	for _, d := range docs {
		fmt.Fprintf(&b, "%s amends ", d.id)
	}
	return b.String() + back
}

// read parses one profile.json and checks it against the schema.
func read(fsys fs.FS, id string) (sourceDoc, error) {
	file := profileFile(id)
	data, err := fs.ReadFile(fsys, file)
	if err != nil {
		return sourceDoc{}, fmt.Errorf("reading a profile: %w", err)
	}
	d := &document{id: id, file: file, data: data}
	root, err := d.sound()
	if err != nil {
		return sourceDoc{}, err
	}
	if named := root.get("id"); named.text != id {
		return sourceDoc{}, named.errorf("", "the profile calls itself %q and stands in the folder %q", named.text, id)
	}
	return sourceDoc{d, root}, nil
}

// sound parses the document and holds it to the schema.
func (d *document) sound() (*node, error) {
	if d.known() {
		return (&quick{doc: d}).value(), nil
	}
	root, err := d.parse()
	if err != nil {
		return nil, err
	}
	if problems := checkSchema(d, root); len(problems) > 0 {
		return nil, problems.sorted()
	}
	return root, nil
}

// ruleFiles lists the ids of the rules that the profile can adopt: the shared
// ones and those of the profiles in its chain.
func ruleFiles(fsys fs.FS, docs []sourceDoc) ([]string, error) {
	roots := []string{"rules"}
	for _, d := range docs {
		roots = append(roots, path.Join("profiles", d.id, "rules"))
	}
	var ids []string
	for _, root := range roots {
		files, err := fs.Glob(fsys, root+"/*/*.rego")
		if err != nil {
			return nil, fmt.Errorf("listing rules: %w", err)
		}
		for _, f := range files {
			id := strings.TrimSuffix(strings.TrimPrefix(f, root+"/"), ".rego")
			if !strings.HasSuffix(id, "_test") {
				ids = append(ids, id)
			}
		}
	}
	slices.Sort(ids)
	return slices.Compact(ids), nil
}
