package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"backpitch/engine/design"
	"backpitch/engine/exercise"
	"backpitch/engine/limit"
	"backpitch/engine/report"
	catalogue "backpitch/testdata/designs"
)

// Files of an exercise.
const (
	exerciseDesign  = "design.json"
	exerciseAnswers = "answers.json"
	exerciseTask    = "task.md"
	exerciseKey     = "key.age"
)

func exerciseCommand() *cli.Command {
	passphrase := &cli.StringFlag{Name: "passphrase-file", Usage: "`FILE` whose first line is the passphrase; else " + passphraseEnv + " or a prompt"}
	output := &cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "new `DIR` for the files"}
	format := &cli.StringFlag{Name: "format", Aliases: []string{"f"}, Value: "text", Usage: "`FORMAT`: " + strings.Join(exercise.Formats, ", ")}
	profileFlag := &cli.StringFlag{Name: "profile", Aliases: []string{"p"}, Usage: "judge under profile `ID`; the design's own where this is not given"}
	return &cli.Command{
		Name:  "exercise",
		Usage: "exercises for a class: plant faults, mark what is handed in",
		Subcommands: []*cli.Command{
			{
				Name: "new", Usage: "plant faults in a sound design and seal the answer key", ArgsUsage: "DESIGN",
				Description: "Writes the student's file, an empty answer sheet, a task sheet and the sealed key.\n" +
					"The same design, seed and wishes plant the same faults.",
				Flags: append([]cli.Flag{
					&cli.IntFlag{Name: "faults", Value: 3, Usage: "plant `N` faults; 0 leaves the design sound"},
					&cli.IntFlag{Name: "shown-missing", Usage: "take `M` facts away, so that the right answer is \"not shown\""},
					&cli.Uint64Flag{Name: "seed", Usage: "`S` chooses the faults: the same seed, the same faults"},
					&cli.StringFlag{Name: "topics", Usage: "only faults of these `TOPICS`: drain,vent,…"},
					profileFlag, output, passphrase, policiesFlag(),
				}, judgeFlags()...),
				Action: exerciseNew,
			},
			{
				Name: "open", Usage: "print a sealed key", ArgsUsage: "KEY",
				Flags:  []cli.Flag{passphrase, &cli.StringFlag{Name: "design", Usage: "check that the key belongs to the student's `FILE`"}, limitFlag(limit.Bytes)},
				Action: exerciseOpen,
			},
			{
				Name: "mark", Usage: "mark a class by a key", ArgsUsage: "KEY ANSWERS… (files, folders, globs)",
				Description: "Exit 0: every file was marked, 2: one or more could not be; they get no marks, the others theirs.",
				Flags:       []cli.Flag{passphrase, output, format, limitFlag(limit.Designs)},
				Action:      exerciseMark,
			},
			{
				Name: "new-rule", Usage: "make the key for a rule that students write", ArgsUsage: "RULE DESIGN…",
				Description: "Writes a task sheet and a sealed key of cases: subjects that pass, fail, stand at the\n" +
					"limit, are open or are none, in the designs and in designs with faults planted.",
				Flags:  append([]cli.Flag{&cli.StringFlag{Name: "profile", Aliases: []string{"p"}, Value: "ipc-2021", Usage: "mark under profile `ID`"}, output, passphrase, policiesFlag(), limitFlag(limit.Designs)}, judgeFlags()...),
				Action: exerciseNewRule,
			},
			{
				Name: "mark-rules", Usage: "mark rules that students wrote, by the designs they judge rightly", ArgsUsage: "KEY RULES… (.rego files or folders)",
				Description: "A handed-in rule may call little and takes five seconds a design at most. Exit 2 where one could not be judged.",
				Flags:       []cli.Flag{passphrase, output, format, policiesFlag()},
				Action:      exerciseMarkRules,
			},
		},
	}
}

// exerciseError is the exit of a command that an exercise stops.
func exerciseError(err error) error {
	if e, ok := errors.AsType[*exercise.Error](err); ok {
		return &exitError{code: exitNotChecked, text: e.Message, hint: e.Hint}
	}
	return policyError(err)
}

func exerciseNew(c *cli.Context) error {
	args := c.Args().Slice()
	if len(args) != 1 {
		return usageError("backpitch exercise new DESIGN --faults 3 --seed 7 --output DIR", "name one sound design")
	}
	eng, err := openEngine(c)
	if err != nil {
		return err
	}
	data, err := readDesign(c, eng.Limits(), args[0])
	if err != nil {
		return err
	}
	if err := newFolder(c.String("output")); err != nil {
		return err
	}
	survey, err := exercise.NewSurvey(c.Context, eng, catalogue.Faults(), filepath.Base(args[0]), data, c.String("profile"))
	if err != nil {
		return exerciseError(err)
	}
	order := exercise.Order{Faults: c.Int("faults"), Missing: c.Int("shown-missing"), Seed: c.Uint64("seed")}
	for topic := range strings.SplitSeq(c.String("topics"), ",") {
		if topic = strings.TrimSpace(topic); topic != "" {
			order.Topics = append(order.Topics, topic)
		}
	}
	made, err := survey.Make(c.Context, order)
	if err != nil {
		return exerciseError(err)
	}
	secret, err := passphrase(c, true)
	if err != nil {
		return err
	}
	files, err := exerciseFiles(made, survey.Topics(), secret)
	if err != nil {
		return exerciseError(err)
	}
	if err := writeFolder(c.String("output"), files); err != nil {
		return err
	}
	fmt.Fprintf(c.App.Writer, "%s: %s\n", c.String("output"), strings.Join(fileNames(files), ", "))
	fmt.Fprintf(c.App.Writer, "give the class all but %s; exercise %s\n", exerciseKey, made.Key.Exercise)
	return nil
}

func readDesign(c *cli.Context, limits design.Limits, name string) ([]byte, error) {
	data, err := input{name: name}.read(c.Context, nil, int64(limits.Bytes))
	if err != nil {
		return nil, readingError(name, err)
	}
	return data, nil
}

type namedFile struct {
	name string
	data []byte
}

func fileNames(files []namedFile) []string {
	var names []string
	for _, f := range files {
		names = append(names, f.name)
	}
	return names
}

// exerciseFiles are the four files of an exercise.
func exerciseFiles(made *exercise.Exercise, topics []string, secret string) ([]namedFile, error) {
	sealed, err := exercise.Seal(made.Key, secret)
	if err != nil {
		return nil, err
	}
	var head struct{ Project struct{ Name string } }
	if err := json.Unmarshal(made.Design, &head); err != nil {
		return nil, err
	}
	sheet, err := json.MarshalIndent(exercise.Sheet(&made.Key), "", "  ")
	if err != nil {
		return nil, err
	}
	return []namedFile{
		{exerciseDesign, made.Design},
		{exerciseAnswers, append(sheet, '\n')},
		{exerciseTask, []byte(exercise.TaskSheet(&made.Key, head.Project.Name, topics, report.Cautions))},
		{exerciseKey, sealed},
	}, nil
}

func exerciseOpen(c *cli.Context) error {
	args := c.Args().Slice()
	if len(args) != 1 {
		return usageError("backpitch exercise open KEY", "name one key")
	}
	key, err := openKey(c, args[0])
	if err != nil {
		return err
	}
	if file := c.String("design"); file != "" {
		limits, err := limitsOf(c)
		if err != nil {
			return err
		}
		data, err := readDesign(c, limits, file)
		if err != nil {
			return err
		}
		if exercise.Digest(data) != key.Exercise {
			return &exitError{code: exitNotChecked, text: fmt.Sprintf("%s does not belong to %s", args[0], file), hint: "the student's file was changed, or it is another exercise"}
		}
	}
	text, err := key.Encode()
	if err != nil {
		return err
	}
	return writeTo("", c.App.Writer, func(w io.Writer) error {
		_, err := w.Write(text)
		return err
	})
}

// openKey reads and opens a sealed key.
func openKey(c *cli.Context, name string) (*exercise.Key, error) {
	const most = 64 << 20
	sealed, err := input{name: name}.read(c.Context, nil, most)
	if err != nil {
		return nil, fixedError(name, err)
	}
	secret, err := passphrase(c, false)
	if err != nil {
		return nil, err
	}
	key, err := exercise.Open(name, sealed, secret)
	if err != nil {
		return nil, exerciseError(err)
	}
	return key, nil
}

// newFolder refuses a folder that is not new: what is in it would be lost.
func newFolder(dir string) error {
	if dir == "" {
		return usageError("", "--output DIR is not given")
	}
	switch entries, err := os.ReadDir(dir); {
	case err == nil && len(entries) > 0:
		return usageError("name a new folder: a key that is overwritten is lost", "%s is not empty", dir)
	case err != nil && !errors.Is(err, os.ErrNotExist):
		return usageError("", "writing %s: %s", dir, fileReason(err))
	}
	return nil
}

// writeFolder writes all files or none: into a folder beside, which takes the
// name when every file is on disk.
func writeFolder(dir string, files []namedFile) (err error) {
	fault := func(err error) error { return usageError("", "writing %s: %s", dir, fileReason(err)) }
	clean := filepath.Clean(dir)
	temp, err := os.MkdirTemp(filepath.Dir(clean), "."+filepath.Base(clean)+".*")
	if err != nil {
		return fault(err)
	}
	unfinished.add(temp)
	defer unfinished.drop(temp)
	defer os.RemoveAll(temp)
	for _, f := range files {
		err := writeWhole(filepath.Join(temp, f.name), func(w io.Writer) error {
			_, err := io.Copy(w, bytes.NewReader(f.data))
			return err
		})
		if err != nil {
			return fault(err)
		}
	}
	if err := os.Chmod(temp, 0o755); err != nil {
		return fault(err)
	}
	os.Remove(clean) // where it is there, it is empty
	if err := os.Rename(temp, clean); err != nil {
		return fault(err)
	}
	return nil
}
