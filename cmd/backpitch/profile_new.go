package main

import (
	"path"
	"path/filepath"
	"regexp"
	"strings"

	"github.com/urfave/cli/v2"

	"backpitch/engine/profile"
)

func profileNewCommand() *cli.Command {
	return &cli.Command{
		Name:      "new",
		Usage:     "make a profile that amends another, ready to be written on",
		ArgsUsage: "ID --amends BASE",
		Flags:     newFlags(&cli.StringFlag{Name: "amends", Usage: "the profile `BASE` that it changes"}),
		Action:    profileNew,
	}
}

var profileID = regexp.MustCompile(`^[a-z0-9][a-z0-9.-]*$`)

func profileNew(c *cli.Context) error {
	args := c.Args().Slice()
	if len(args) != 1 {
		return usageError("backpitch profile new my-town --amends ipc-2021", "name one profile")
	}
	id, base := args[0], c.String("amends")
	if !profileID.MatchString(id) {
		return usageError("lower case letters, digits, dots and hyphens: my-town", "%q is no name for a profile", id)
	}
	w, err := openWorkplace(c)
	if err != nil {
		return err
	}
	known, err := profile.List(w.fsys)
	if err != nil {
		return policyError(err)
	}
	var ids []string
	for _, p := range known {
		ids = append(ids, p.ID)
	}
	if _, taken := indexOf(ids, id); taken {
		return usageError("take another name; backpitch profile list shows those that there are", "there is a profile %q already", id)
	}
	if base == "" {
		return usageError("add --amends ipc-2021, or another; backpitch profile list shows them", "it is not said which profile %q amends", id)
	}
	if _, exists := indexOf(ids, base); !exists {
		return usageError(profile.DidYouMean(base, ids), "there is no profile %q to amend", base)
	}
	example, err := exampleRule(w, id)
	if err != nil {
		return err
	}
	p, err := profile.Load(w.fsys, base)
	if err != nil {
		return policyError(err)
	}
	source := unnamedSource(id)
	files := []fresh{
		{path.Join("profiles", id, "profile.json"), fill("profile.json", map[string]any{"ID": id, "Base": base, "Title": id + ": amendments to " + base,
			"Source": source, "Rule": example, "Figure": example.figure(p.Units, source), "Adoption": example.adoption(source)})},
		{path.Join("profiles", id, "README.md"), fill("profile.md", map[string]any{"ID": id, "Base": base, "Source": source, "Rule": example})},
	}
	files = append(files, example.files(id)...)
	if err := w.create(files...); err != nil {
		return err
	}
	w.told(c, files, "", "backpitch profile test "+id+policiesArgument(w.dir))
	return nil
}

// exampleRule is the rule that a new profile begins with: one that changes
// nothing is refused. No other profile has a rule of that name.
func exampleRule(w workplace, id string) (blank, error) {
	name := "example/branch_too_long"
	if ruleFileOf(w.fsys, name) != "" {
		name += "_in_" + strings.NewReplacer(".", "_", "-", "_").Replace(id)
	}
	return newBlank(name)
}

// unnamedSource is the key of the source that is still to be named. Two
// profiles may not use one key for two texts.
func unnamedSource(id string) string { return id + "-to-be-named" }

// policiesArgument repeats --policies where it is not the folder one is in.
func policiesArgument(dir string) string {
	if filepath.Clean(dir) == "." {
		return " --policies ."
	}
	return " --policies " + dir
}
