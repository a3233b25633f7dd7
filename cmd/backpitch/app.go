package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"runtime/debug"
	"strings"

	"github.com/urfave/cli/v2"

	"backpitch/engine"
	"backpitch/policies"
)

// interruptedWord begins what an interrupted run says.
const interruptedWord = "interrupted"

// Exit codes. In a batch the highest wins.
const (
	exitClean      = 0 // nothing at or above --fail-on
	exitFindings   = 1
	exitNotChecked = 2 // usage, unreadable or invalid input, broken policy, limit hit
)

// exitError carries an exit code out of a command; its text may be empty when
// the report has said everything.
type exitError struct {
	code int
	text string
	hint string
}

func (e *exitError) Error() string { return e.text }

func usageError(hint, format string, args ...any) error {
	return &exitError{code: exitNotChecked, text: fmt.Sprintf(format, args...), hint: hint}
}

// run is the program: everything but the process's own exit.
func run(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	if isChild(args) {
		return engine.Serve(stdin, stdout)
	}
	out := &stdoutWriter{w: stdout}
	app := newApp(stdin, out, stderr)
	err := app.RunContext(ctx, flagsFirst(app, args))
	var exit *exitError
	if !errors.As(err, &exit) && out.err != nil {
		err = stdoutError(out.err) // whatever a command made of it
	}
	if err == nil {
		return exitClean
	}
	if !errors.As(err, &exit) {
		exit = &exitError{code: exitNotChecked, text: err.Error()}
	}
	if ctx.Err() != nil && exit.code == exitNotChecked && !strings.HasPrefix(exit.text, interruptedWord) {
		exit = &exitError{code: exitNotChecked, text: interruptedWord}
	}
	printError(stderr, exit)
	return exit.code
}

// isChild reports whether the process judges for another one.
func isChild(args []string) bool { return len(args) == 2 && args[1] == childCommand }

// printError prints what went wrong and what to do, where there is anything to
// say.
func printError(out io.Writer, e *exitError) {
	if e.text != "" {
		fmt.Fprintf(out, "backpitch: %s\n", e.text)
	}
	if e.hint != "" {
		fmt.Fprintf(out, "    hint: %s\n", e.hint)
	}
}

func newApp(stdin io.Reader, stdout, stderr io.Writer) *cli.App {
	app := &cli.App{
		Name:    "backpitch",
		Usage:   "check a drainage design before anything is dug or buried",
		Version: version(),
		Description: "Reads a design of drain, waste, vent and pumped piping, computes what it implies,\n" +
			"judges it under a jurisdiction profile and prints what to correct. A pre-check:\n" +
			"the local code and the authority having jurisdiction govern.",
		Reader: stdin, Writer: stdout, ErrWriter: stderr,
		HideHelpCommand: true,
		Suggest:         true,
		Commands: []*cli.Command{
			reviewCommand(), calcsCommand(), drawCommand(), profileCommand(), ruleCommand(), schemaCommand(), factsCommand(),
			backcheckCommand(), exerciseCommand(), benchCommand(),
		},
		// The default handler exits the process; run returns the code instead.
		ExitErrHandler: func(*cli.Context, error) {},
		OnUsageError: func(_ *cli.Context, err error, _ bool) error {
			return usageError("see backpitch --help", "%s", err)
		},
		CommandNotFound: func(c *cli.Context, name string) {},
		Action: func(c *cli.Context) error {
			if c.Args().Present() {
				return usageError("the commands are "+strings.Join(commandNames(c.App), ", "), "no command %q", c.Args().First())
			}
			return cli.ShowAppHelp(c)
		},
	}
	for _, c := range app.Commands {
		setUsageErrors(c)
	}
	return app
}

func setUsageErrors(c *cli.Command) {
	c.OnUsageError = func(ctx *cli.Context, err error, _ bool) error {
		return usageError("see backpitch "+c.Name+" --help", "%s", err)
	}
	for _, sub := range c.Subcommands {
		setUsageErrors(sub)
	}
}

func commandNames(a *cli.App) []string {
	var names []string
	for _, c := range a.Commands {
		names = append(names, c.Name)
	}
	return names
}

// version comes from the build, so that the same source prints the same bytes.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok || info.Main.Version == "" {
		return "(devel)"
	}
	return info.Main.Version
}

func policiesFlag() cli.Flag {
	return &cli.StringFlag{Name: "policies", Usage: "folder with further `DIR`/rules and DIR/profiles, laid over the built-in ones"}
}

// openEngine makes the engine over the built-in policies and the folder of
// --policies, if one is given.
func openEngine(c *cli.Context) (*engine.Engine, error) {
	fsys, err := policiesFS(c)
	if err != nil {
		return nil, err
	}
	guard, err := guardOf(c)
	if err != nil {
		return nil, err
	}
	limits, err := limitsOf(c)
	if err != nil {
		return nil, err
	}
	return engine.New(engine.Options{Policies: fsys, Limits: limits, Guard: guard}), nil
}

func policiesFS(c *cli.Context) (fs.FS, error) {
	if c.String("bundle") != "" {
		return bundleFS(c)
	}
	if c.String("verify-key") != "" {
		return nil, usageError("give --bundle FILE, too", "--verify-key is for a bundle")
	}
	base := policies.FS()
	dir := c.String("policies")
	if dir == "" {
		return base, nil
	}
	info, err := os.Stat(dir)
	if err != nil {
		return nil, usageError("", "reading policies: %s", pathReason(err))
	}
	if !info.IsDir() {
		return nil, usageError("name the folder that holds rules and profiles", "%q is not a folder", dir)
	}
	return overlay{top: bounded{os.DirFS(dir)}, base: base}, nil
}

// pathReason renders a file error as "path: reason", without the system call.
func pathReason(err error) string {
	var p *fs.PathError
	if errors.As(err, &p) {
		return fmt.Sprintf("%s: %s", p.Path, p.Err)
	}
	return err.Error()
}
