package main

import (
	"fmt"
	"io/fs"
	"os"
	"path"
	"regexp"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"backpitch/engine/profile"
	"backpitch/engine/quantity"
)

func ruleNewCommand() *cli.Command {
	return &cli.Command{
		Name:      "new",
		Usage:     "make a rule with its tests that passes at once, ready to be written on",
		ArgsUsage: "topic/name",
		Flags:     newFlags(&cli.StringFlag{Name: "profile", Aliases: []string{"p"}, Usage: "make it a rule of profile `ID` alone, with its figure and adoption; else it is a shared one that a profile has yet to adopt"}),
		Action:    ruleNew,
	}
}

var ruleID = regexp.MustCompile(`^[a-z][a-z0-9_]*/[a-z][a-z0-9_]*$`)

// keywords cannot be part of a package in Rego.
var keywords = []string{"as", "contains", "default", "else", "every", "false", "if", "import", "in", "not", "null", "package", "some", "true", "with"}

// blank is a rule to be made.
type blank struct {
	ID, Topic, Name string
	Title           string
	Table           string // the id of the table that it reads
}

func ruleNew(c *cli.Context) error {
	args := c.Args().Slice()
	if len(args) != 1 {
		return usageError("backpitch rule new trench/too_deep --profile my-town", "name one rule")
	}
	b, err := newBlank(args[0])
	if err != nil {
		return err
	}
	w, err := openWorkplace(c)
	if err != nil {
		return err
	}
	if where := ruleFileOf(w.fsys, b.ID); where != "" {
		return usageError("take another name; backpitch rule show "+b.ID+" shows it", "there is a rule %q already, in %s", b.ID, where)
	}
	own := c.String("profile")
	if own == "" {
		return w.shared(c, b, b.files(""))
	}
	return w.local(c, b, own, b.files(own))
}

// files are the rule and its tests, of a profile or shared.
func (b blank) files(own string) []fresh {
	folder := path.Join("rules", b.Topic)
	if own != "" {
		folder = path.Join("profiles", own, folder)
	}
	return []fresh{
		{path.Join(folder, b.Name+".rego"), fill("rule.rego", b)},
		{path.Join(folder, b.Name+"_test.rego"), fill("rule_test.rego", b)},
	}
}

func newBlank(id string) (blank, error) {
	topic, name, _ := strings.Cut(id, "/")
	switch {
	case !ruleID.MatchString(id) || strings.HasSuffix(name, "_test"):
		return blank{}, usageError("write topic/name in lower case, digits and underscores, after the bad condition: trench/too_deep", "%q is no name for a rule", id)
	case slices.Contains(keywords, topic), slices.Contains(keywords, name):
		return blank{}, usageError("it is a word of the language that rules are written in", "%q cannot name a rule", id)
	}
	words := strings.ReplaceAll(topic+" "+name, "_", " ")
	return blank{ID: id, Topic: topic, Name: name, Title: strings.ToUpper(words[:1]) + words[1:], Table: topic + "." + name + "_limit"}, nil
}

// ruleFileOf finds a rule of that id, shared or of any profile; "" for none.
func ruleFileOf(fsys fs.FS, id string) string {
	for _, pattern := range []string{"rules/", "profiles/*/rules/"} {
		files, err := fs.Glob(fsys, pattern+id+".rego")
		if err == nil && len(files) > 0 {
			return files[0]
		}
	}
	return ""
}

// shared makes a rule that a profile has yet to adopt.
func (w workplace) shared(c *cli.Context, b blank, files []fresh) error {
	if err := w.create(files...); err != nil {
		return err
	}
	w.told(c, files, fmt.Sprintf("no profile adopts it yet; in profile.json, under \"tables\" and \"adopts\":\n    %q: %s,\n    %q: %s",
		b.Table, b.figure(quantity.US, "a key of sources"), b.ID, b.adoption("a key of sources")),
		"backpitch profile test ID"+policiesArgument(w.dir))
	return nil
}

// local makes a rule of one profile and puts its figure and adoption into it.
func (w workplace) local(c *cli.Context, b blank, own string, files []fresh) error {
	p, err := profile.Load(w.fsys, own)
	if err != nil {
		return policyError(err)
	}
	file := path.Join("profiles", own, "profile.json")
	if !w.has(file) {
		return usageError("backpitch profile new my-town --amends "+own+policiesArgument(w.dir)+"; then give --profile my-town",
			"profile %q is a built-in one and does not stand in %s", own, w.dir)
	}
	before, err := os.ReadFile(w.at(file))
	if err != nil {
		return usageError("", "reading %s: %s", w.at(file), fileReason(err))
	}
	source := unnamedSource(own)
	additions := []addition{
		{"tables", b.Table, b.figure(p.Units, source)},
		{"adopts", b.ID, b.adoption(source)},
	}
	if _, named := p.Sources[source]; !named {
		additions = append(additions, addition{"sources", source, `{ "title": "to be named: the text that the figures are from", "read": "nothing yet" }`})
	}
	after, err := insert(before, additions)
	if err != nil {
		return usageError("", "%s: %s", w.at(file), err)
	}
	if err := w.create(files...); err != nil {
		return err
	}
	if err := replaceFile(w.at(file), after); err != nil {
		for _, f := range files {
			os.Remove(w.at(f.path)) //nolint:errcheck // it was made a moment ago; the first error counts
		}
		return err
	}
	w.told(c, files, fmt.Sprintf("changed %s: adopts %s, with the figure %s; its section and source are to be filled in", w.at(file), b.ID, b.Table),
		"backpitch profile test "+own+policiesArgument(w.dir))
	return nil
}

// figure is the figure that the rule reads, a placeholder that says so.
func (b blank) figure(units quantity.System, source string) string {
	figure := "100 ft"
	if units == quantity.SI {
		figure = "30 m"
	}
	return fmt.Sprintf(`{ "title": "Greatest length of a branch drain", "value": "length", "is": %q, "section": "to be named", "basis": "from memory", "source": %q, "note": "placeholder: put the figure of the code here" }`, figure, source)
}

func (b blank) adoption(source string) string {
	return fmt.Sprintf(`{ "section": "to be named", "basis": "from memory", "source": %q }`, source)
}
