package main

import (
	"errors"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"time"

	"github.com/urfave/cli/v2"

	"backpitch/engine/proof"
)

func profileTestCommand() *cli.Command {
	return &cli.Command{
		Name:      "test",
		Usage:     "test profiles and the rules they adopt: types, metadata, Rego tests, coverage, proofs at the limits",
		ArgsUsage: "[ID… or DIR] (all profiles; with --policies or DIR, those of that folder)",
		Description: "Exit 0: nothing to mend, 1: something is, 2: the policies cannot be used.\n" +
			"Figures kept for reading stand in profiles/ID/figures.txt: what profile show ID printed when somebody read it.",
		Flags: []cli.Flag{
			policiesFlag(),
			&cli.BoolFlag{Name: "mutate", Usage: "change each figure and each comparison in turn and name what nobody notices"},
			&cli.IntFlag{Name: "every", Value: 1, Usage: "with --mutate: try about one change in `N`"},
			&cli.StringFlag{Name: "format", Aliases: []string{"f"}, Value: "text", Usage: "report `FORMAT`: text, json"},
			&cli.BoolFlag{Name: "watch", Usage: "test again whenever a file of the folder changes, until interrupted"},
		},
		Action: profileTest,
	}
}

func profileTest(c *cli.Context) error {
	names := c.Args().Slice()
	if len(names) == 1 && isFolder(names[0]) {
		if c.IsSet("policies") {
			return usageError("", "name the folder once: %q or --policies", names[0])
		}
		if err := c.Set("policies", names[0]); err != nil {
			return usageError("", "%s", err)
		}
		names = nil
	}
	if f := c.String("format"); f != "text" && f != "json" {
		return usageError("the formats are text and json", "no format %q", f)
	}
	if c.Int("every") < 1 {
		return usageError("", "--every %d is no share", c.Int("every"))
	}
	if c.Bool("watch") {
		return watch(c, names)
	}
	return testOnce(c, names)
}

func isFolder(name string) bool {
	info, err := os.Stat(name)
	return err == nil && info.IsDir()
}

func testOnce(c *cli.Context, names []string) error {
	fsys, own, err := openPolicies(c)
	if err != nil {
		return err
	}
	if len(names) == 0 {
		if names, err = profilesUnderTest(fsys, own); err != nil {
			return err
		}
	}
	r, err := proof.Run(c.Context, proof.Options{Policies: fsys, Profiles: names, Own: own, Mutate: c.Bool("mutate"), Every: c.Int("every"),
		Pinned: func(id string) (string, bool) {
			data, err := fs.ReadFile(fsys, path.Join("profiles", id, "figures.txt"))
			return string(data), err == nil
		}})
	if err != nil {
		return policyError(err)
	}
	write := proof.WriteText
	if c.String("format") == "json" {
		write = proof.WriteJSON
	}
	if err := write(c.App.Writer, r); err != nil {
		return err
	}
	if len(r.Problems) > 0 {
		return &exitError{code: exitFindings}
	}
	return nil
}

// profilesUnderTest are the profiles that stand in the folder under test.
func profilesUnderTest(fsys fs.FS, own func(string) bool) ([]string, error) {
	files, err := fs.Glob(fsys, "profiles/*/profile.json")
	if err != nil {
		return nil, usageError("", "listing profiles: %s", err)
	}
	var ids []string
	for _, f := range files {
		if own == nil || own(f) {
			ids = append(ids, path.Base(path.Dir(f)))
		}
	}
	if len(ids) == 0 {
		return nil, usageError("a folder of policies has profiles/ID/profile.json; or name a profile that adopts its rules", "there is no profile to test")
	}
	return ids, nil
}

// openPolicies returns the policies, and with --policies what says whether a
// file stands in that folder.
func openPolicies(c *cli.Context) (fs.FS, func(string) bool, error) {
	fsys, err := policiesFS(c)
	if err != nil || c.String("policies") == "" {
		return fsys, nil, err
	}
	top := os.DirFS(c.String("policies"))
	return fsys, func(file string) bool {
		_, err := fs.Stat(top, file)
		return err == nil
	}, nil
}

// watch tests, and again after each change of a file, until the process is
// interrupted.
func watch(c *cli.Context, names []string) error {
	dir := c.String("policies")
	if dir == "" {
		return usageError("backpitch profile test DIR --watch", "--watch needs a folder of one's own")
	}
	var seen time.Time
	var count int
	for {
		latest, files := newest(dir)
		if latest.After(seen) || files != count {
			seen, count = latest, files
			err := testOnce(c, names)
			var exit *exitError
			if errors.As(err, &exit) && exit.text != "" {
				printError(c.App.ErrWriter, exit)
			} else if err != nil && exit == nil {
				return err
			}
		}
		select {
		case <-c.Context.Done():
			return nil
		case <-time.After(500 * time.Millisecond):
		}
	}
}

// newest is the latest change below dir, and how many files there are.
func newest(dir string) (latest time.Time, files int) {
	// A file that goes away while it is looked at is a change for next time.
	_ = filepath.WalkDir(dir, func(_ string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return nil
		}
		files++
		if info, err := d.Info(); err == nil && info.ModTime().After(latest) {
			latest = info.ModTime()
		}
		return nil
	})
	return latest, files
}
