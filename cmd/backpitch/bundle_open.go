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
	"backpitch/engine/limit"
)

// childCommand is the first argument of a process that judges for another one.
const childCommand = "judge-apart"

// guardFlags say where the rules come from and whether they are trusted.
func guardFlags() []cli.Flag {
	return []cli.Flag{
		&cli.StringFlag{Name: "bundle", Usage: "judge under the profile packed in `FILE`, and no other rules"},
		&cli.StringFlag{Name: "verify-key", Usage: "with --bundle: refuse it unless the public key in `FILE` fits its signature"},
		&cli.BoolFlag{Name: "trust-policies", Usage: "judge by --bundle or --policies in this process, without a bound of memory"},
	}
}

// strangers says that the rules are not the built-in ones.
func strangers(c *cli.Context) bool { return c.String("policies") != "" || c.String("bundle") != "" }

// reviewTime is when the review of one design is given up, whatever it is that
// does not end: beyond the time of the rules, and of finding the one at fault.
func reviewTime(rules time.Duration) time.Duration {
	return max(2*rules+30*time.Second, limit.OwnTime)
}

func guardOf(c *cli.Context) (engine.Guard, error) {
	var g engine.Guard
	var err error
	if g.Time, err = maxTime(c); err != nil {
		return g, err
	}
	memory, err := maxMemory(c)
	if err != nil || !strangers(c) || c.Bool("trust-policies") {
		return g, err
	}
	g.Memory, g.Child = memory, childProcess
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
		if key, err = readKey(c, file); err != nil {
			return nil, err
		}
	}
	b, _, err := readBundle(c, c.String("bundle"), key)
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
	eng := engine.New(engine.Options{Policies: b.FS(), Guard: engine.Guard{Time: limit.StrangersTime, Memory: int64(limit.Memory.Default) << 20, Child: childProcess}})
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
