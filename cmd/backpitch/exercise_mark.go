package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"backpitch/engine/exercise"
	"backpitch/engine/report"
	catalogue "backpitch/testdata/designs"
)

// markArgs reads what mark and mark-rules share.
func markArgs(c *cli.Context, usage string) (*exercise.Key, []string, error) {
	args := c.Args().Slice()
	if len(args) < 2 {
		return nil, nil, usageError(usage, "name a key and what was handed in")
	}
	if f := c.String("format"); !slices.Contains(exercise.Formats, f) {
		return nil, nil, usageError("the formats are "+strings.Join(exercise.Formats, ", "), "no format %q", f)
	}
	if dir := c.String("output"); dir != "" {
		if err := newFolder(dir); err != nil {
			return nil, nil, err
		}
	}
	key, err := openKey(c, args[0])
	return key, args[1:], err
}

func exerciseMark(c *cli.Context) error {
	key, names, err := markArgs(c, "backpitch exercise mark KEY ANSWERS…")
	if err != nil {
		return err
	}
	if key.Rule != nil {
		return usageError("use backpitch exercise mark-rules", "this key is for rules, not for answers")
	}
	var handedIn []exercise.Submission
	inputs, err := gatherDesigns(c, names)
	if err != nil {
		return err
	}
	for _, in := range inputs {
		s := exercise.Submission{File: in.name}
		data, err := in.read(c.Context, c.App.Reader, exercise.MostAnswerBytes)
		if err != nil {
			s.Reason = fileReason(err)
		}
		s.Data = data
		handedIn = append(handedIn, s)
	}
	class := exercise.MarkClass(key, handedIn)
	if err := writeMarks(c, class); err != nil {
		return err
	}
	return toldProblems(c, class)
}

// toldProblems prints why files could not be marked; exit 2 where there are.
func toldProblems(c *cli.Context, class exercise.Class) error {
	code := exitClean
	for _, s := range class.Students {
		if len(s.Problems) == 0 {
			continue
		}
		code = exitNotChecked
		const most = 5 // of one file
		fmt.Fprintln(c.App.ErrWriter, problemsText(s.Problems[:min(most, len(s.Problems))]))
	}
	if code != exitClean {
		return &exitError{code: code}
	}
	return nil
}

// writeMarks prints the class and, for people, each sheet; or writes a file
// for each into the folder of --output.
func writeMarks(c *cli.Context, class exercise.Class) error {
	format, dir := c.String("format"), c.String("output")
	if dir == "" {
		return writeTo("", c.App.Writer, func(w io.Writer) error {
			if format == "text" || format == "markdown" {
				for _, s := range class.Students {
					if err := s.Write(w, class.Key, format); err != nil {
						return err
					}
					fmt.Fprintln(w)
				}
			}
			return class.Write(w, format)
		})
	}
	var b bytes.Buffer
	if err := class.Write(&b, format); err != nil {
		return err
	}
	files := []namedFile{{"class" + exercise.Extension(format), b.Bytes()}}
	taken := map[string]int{"class": 1}
	for _, s := range class.Students {
		var sheet bytes.Buffer
		if err := s.Write(&sheet, class.Key, format); err != nil {
			return err
		}
		extension := exercise.Extension(format)
		if format == "csv" {
			extension = exercise.Extension("text")
		}
		files = append(files, namedFile{sheetName(s.File, taken) + extension, sheet.Bytes()})
	}
	if err := writeFolder(dir, files); err != nil {
		return err
	}
	fmt.Fprintf(c.App.Writer, "%s: %d sheets and %s\n", dir, len(class.Students), files[0].name)
	return nil
}

// sheetName is the name of the answer file, never what a student wrote in it;
// a second file of that name gets a number.
func sheetName(file string, taken map[string]int) string {
	name := strings.TrimSuffix(filepath.Base(file), filepath.Ext(file))
	if name == "" || name == "." {
		name = "answers"
	}
	fresh := name
	for taken[strings.ToLower(fresh)] > 0 {
		taken[strings.ToLower(name)]++
		fresh = fmt.Sprintf("%s-%d", name, taken[strings.ToLower(name)])
	}
	taken[strings.ToLower(fresh)]++
	return fresh
}

func exerciseNewRule(c *cli.Context) error {
	args := c.Args().Slice()
	if len(args) < 2 {
		return usageError("backpitch exercise new-rule drain/too_flat DESIGN…", "name a rule and one or more designs")
	}
	fsys, err := policiesFS(c)
	if err != nil {
		return err
	}
	eng, err := openEngine(c)
	if err != nil {
		return err
	}
	if err := newFolder(c.String("output")); err != nil {
		return err
	}
	var designs []exercise.Submission
	inputs, err := gatherDesigns(c, args[1:])
	if err != nil {
		return err
	}
	for _, in := range inputs {
		data, err := in.read(c.Context, c.App.Reader, int64(eng.Limits().Bytes))
		if err != nil {
			return readingError(in.name, err)
		}
		designs = append(designs, exercise.Submission{File: filepath.Base(in.name), Data: data})
	}
	key, err := exercise.NewRuleKey(c.Context, fsys, catalogue.Faults(), args[0], c.String("profile"), designs)
	if err != nil {
		return exerciseError(err)
	}
	secret, err := passphrase(c, true)
	if err != nil {
		return err
	}
	sealed, err := exercise.Seal(*key, secret)
	if err != nil {
		return exerciseError(err)
	}
	rules, err := eng.Rules(c.String("profile"))
	if err != nil {
		return policyError(err)
	}
	task := ""
	for _, r := range rules {
		if r.ID == args[0] {
			task = exercise.RuleSheet(key, r.Title, r.Description, r.Needs, r.Tables, report.Cautions)
		}
	}
	if err := writeFolder(c.String("output"), []namedFile{{exerciseTask, []byte(task)}, {exerciseKey, sealed}}); err != nil {
		return err
	}
	fmt.Fprintf(c.App.Writer, "%s: %s, %s with %d cases in %d designs\n", c.String("output"), exerciseTask, exerciseKey, len(key.Rule.Cases), len(key.Rule.Designs))
	return nil
}

func exerciseMarkRules(c *cli.Context) error {
	key, names, err := markArgs(c, "backpitch exercise mark-rules KEY RULES…")
	if err != nil {
		return err
	}
	if key.Rule == nil {
		return usageError("use backpitch exercise mark", "this key is for answers, not for rules")
	}
	fsys, err := policiesFS(c)
	if err != nil {
		return err
	}
	code := exitClean
	var list []exercise.MarkedRule
	for _, name := range names {
		m := exercise.MarkRule(c.Context, fsys, key, handedRule(c.Context, name, key.Rule.ID))
		if m.Problem != "" {
			code = exitNotChecked
		}
		list = append(list, m)
	}
	format := c.String("format")
	write := func(w io.Writer) error { return exercise.WriteRules(w, key, list, format) }
	if dir := c.String("output"); dir != "" {
		var b bytes.Buffer
		if err := write(&b); err != nil {
			return err
		}
		file := namedFile{"class" + exercise.Extension(format), b.Bytes()}
		if err := writeFolder(dir, []namedFile{file}); err != nil {
			return err
		}
		fmt.Fprintf(c.App.Writer, "%s: %s\n", dir, file.name)
	} else if err := writeTo("", c.App.Writer, write); err != nil {
		return err
	}
	if code != exitClean {
		return &exitError{code: code}
	}
	return nil
}

// mostRuleBytes is the size over which a handed-in rule is refused.
const mostRuleBytes = 256 << 10

// handedRule reads a .rego file, or a folder with the rule and, where a student
// has one, a profile.json.
func handedRule(ctx context.Context, name, rule string) exercise.HandedRule {
	h := exercise.HandedRule{Name: name}
	info, err := os.Stat(name)
	switch {
	case err != nil:
		h.Reason = "reading " + name + ": " + fileReason(err)
		return h
	case !info.IsDir():
		h.Rego, h.Reason = readHanded(ctx, name)
		return h
	}
	file, reason := ruleFile(os.DirFS(name), rule)
	if reason != "" {
		h.Reason = name + ": " + reason
		return h
	}
	if h.Rego, h.Reason = readHanded(ctx, filepath.Join(name, filepath.FromSlash(file))); h.Reason != "" {
		return h
	}
	own, _ := fs.Glob(os.DirFS(name), "profiles/*/profile.json")
	for _, p := range append([]string{"profile.json"}, own...) {
		if _, err := os.Stat(filepath.Join(name, filepath.FromSlash(p))); err == nil {
			h.Profile, h.Reason = readHanded(ctx, filepath.Join(name, filepath.FromSlash(p)))
			break
		}
	}
	return h
}

func readHanded(ctx context.Context, name string) ([]byte, string) {
	data, err := input{name: name}.read(ctx, nil, mostRuleBytes)
	if err != nil {
		return nil, "reading " + name + ": " + fileReason(err)
	}
	return data, ""
}

// ruleFile finds the rule in a folder: in its place, by its name, or the only
// one there.
func ruleFile(fsys fs.FS, rule string) (file, reason string) {
	var all []string
	err := fs.WalkDir(fsys, ".", func(name string, d fs.DirEntry, err error) error {
		const most = 1000
		if err == nil && !d.IsDir() && path.Ext(name) == ".rego" && !strings.HasSuffix(name, "_test.rego") && len(all) < most {
			all = append(all, name)
		}
		return err
	})
	if err != nil {
		return "", fileReason(err)
	}
	for _, end := range []string{"rules/" + rule + ".rego", rule + ".rego", path.Base(rule) + ".rego"} {
		for _, name := range all {
			if name == end || strings.HasSuffix(name, "/"+end) {
				return name, ""
			}
		}
	}
	if len(all) == 1 {
		return all[0], ""
	}
	return "", fmt.Sprintf("%d rules are handed in and none is %s.rego", len(all), rule)
}
