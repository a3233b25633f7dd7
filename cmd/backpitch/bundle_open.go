package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"time"

	"github.com/urfave/cli/v2"

	"backpitch/engine"
	"backpitch/engine/bundle"
)

// What rules may take for one design, where no flag says otherwise. Sound ones
// take some milliseconds, and some seconds for the largest design that is read.
const (
	strangersTime   = 10 * time.Second // rules of --bundle and --policies
	ownTime         = 2 * time.Minute  // the built-in ones
	strangersMemory = 512              // MB
)

// childCommand is the first argument of a process that judges for another one.
const childCommand = "judge-apart"

// guardFlags say where the rules come from and what they may take.
func guardFlags() []cli.Flag {
	return []cli.Flag{
		&cli.StringFlag{Name: "bundle", Usage: "judge under the profile packed in `FILE`, and no other rules"},
		&cli.StringFlag{Name: "verify-key", Usage: "with --bundle: refuse it unless the public key in `FILE` fits its signature"},
		&cli.DurationFlag{Name: "max-time", Usage: "stop rules after `TIME` for one design (default: 10s for --bundle and --policies, 2m for the built-in ones)"},
		&cli.Int64Flag{Name: "max-memory", Value: strangersMemory, Usage: "stop rules of --bundle and --policies that need more than `MB` of memory; each of --jobs has as much"},
		&cli.BoolFlag{Name: "trust-policies", Usage: "judge by --bundle or --policies in this process, without a bound of memory"},
	}
}

// strangers says that the rules are not the built-in ones.
func strangers(c *cli.Context) bool { return c.String("policies") != "" || c.String("bundle") != "" }

// maxTime is how long the rules of one design may take.
func maxTime(c *cli.Context) time.Duration {
	switch {
	case c.IsSet("max-time"):
		return c.Duration("max-time")
	case strangers(c):
		return strangersTime
	}
	return ownTime
}

// reviewTime is when the review of one design is given up, whatever it is that
// does not end: beyond the time of the rules, and of finding the one at fault.
func reviewTime(c *cli.Context) time.Duration {
	return max(2*maxTime(c)+30*time.Second, ownTime)
}

func guardOf(c *cli.Context) (engine.Guard, error) {
	g := engine.Guard{Time: maxTime(c)}
	if g.Time <= 0 {
		return g, usageError("write 10s or 1m", "--max-time must be more than nothing, not %s", g.Time)
	}
	if !strangers(c) || c.Bool("trust-policies") {
		return g, nil
	}
	memory := int64(strangersMemory)
	if c.IsSet("max-memory") {
		memory = c.Int64("max-memory")
	}
	if memory < 64 || memory > 1<<20 {
		return g, usageError("", "--max-memory must be from 64 to 1048576 MB, not %d", memory)
	}
	g.Memory, g.Child = memory<<20, childProcess
	return g, nil
}

// childProcess is this program once more, with nothing of its environment.
func childProcess() (*exec.Cmd, error) {
	program, err := os.Executable()
	if err != nil {
		return nil, err
	}
	cmd := exec.Command(program)
	cmd.Args = []string{"backpitch", childCommand}
	cmd.Env = []string{"GOTRACEBACK=none"}
	return cmd, nil
}

// bundleFS opens the bundle of --bundle and has the command judge under its
// profile.
func bundleFS(c *cli.Context) (fs.FS, error) {
	if c.String("policies") != "" {
		return nil, usageError("a bundle holds all that its profile needs", "--bundle and --policies do not go together")
	}
	var key []byte
	if file := c.String("verify-key"); file != "" {
		var err error
		if key, err = readKey(file); err != nil {
			return nil, err
		}
	}
	b, _, err := readBundle(c.String("bundle"), key)
	if err != nil {
		return nil, err
	}
	if id := c.String("profile"); id != "" && id != b.Profile {
		return nil, usageError("leave --profile out", "%s holds the profile %q, not %q", c.String("bundle"), b.Profile, id)
	}
	if err := c.Set("profile", b.Profile); err != nil {
		return nil, err
	}
	if b.Signed && !b.Verified {
		fmt.Fprintf(c.App.ErrWriter, "backpitch: %s is signed, and the signature was not checked: no --verify-key\n", c.String("bundle"))
	}
	return b.FS(), nil
}

// agrees opens the profile of a bundle apart and checks that the bundle tells
// OPA's own tools the same of its rules.
func agrees(ctx context.Context, b *bundle.Bundle) error {
	eng := engine.New(engine.Options{Policies: b.FS(), Guard: engine.Guard{Time: strangersTime, Memory: strangersMemory << 20, Child: childProcess}})
	rules, err := eng.Rules(b.Profile)
	if err != nil {
		return err
	}
	p, err := eng.Profile(b.Profile)
	if err != nil {
		return err
	}
	return errors.Join(b.Agrees(p, rules), eng.Close())
}
