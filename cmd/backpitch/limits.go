package main

import (
	"fmt"
	"strings"
	"time"

	"github.com/urfave/cli/v2"

	"backpitch/engine/design"
	"backpitch/engine/limit"
)

// designLimits bound what is read of one design; every command that reads
// designs has their flags.
var designLimits = []limit.Limit{limit.Bytes, limit.Depth, limit.Values, limit.Elements, limit.Digits, limit.Text, limit.Problems}

// designFlags are the flags of a command that reads a design and judges
// nothing.
func designFlags() []cli.Flag {
	var flags []cli.Flag
	for _, l := range designLimits {
		flags = append(flags, limitFlag(l))
	}
	return flags
}

// judgeFlags are the flags of a command that reads designs and judges them.
func judgeFlags() []cli.Flag {
	return append(designFlags(),
		&cli.DurationFlag{Name: limit.Time.Name, Usage: "at most `TIME` for the rules of one design", DefaultText: plain(limit.Time.Said)},
		limitFlag(limit.Memory))
}

func limitFlag(l limit.Limit) cli.Flag {
	return &cli.IntFlag{Name: l.Name, Value: l.Default, Usage: "at most `N` " + plain(l.Bounds), DefaultText: plain(l.Said)}
}

// plain takes the quotes of markdown away, which mark values in a help text.
func plain(text string) string { return strings.ReplaceAll(text, "`", "") }

// flagValue is the value of a limit's flag, or its default where the flag is
// not given or the command has none.
func flagValue(c *cli.Context, l limit.Limit) (int, error) {
	if !c.IsSet(l.Name) {
		return l.Default, nil
	}
	n := c.Int(l.Name)
	if err := l.Check(n); err != nil {
		return 0, usageError("", "%s", err)
	}
	return n, nil
}

// limitsOf are the limits of a design, as the flags have them.
func limitsOf(c *cli.Context) (l design.Limits, err error) {
	for i, to := range []*int{&l.Bytes, &l.Depth, &l.Values, &l.Elements, &l.Digits, &l.Text, &l.Problems} {
		if *to, err = flagValue(c, designLimits[i]); err != nil {
			return l, err
		}
	}
	return l, nil
}

// maxTime is how long the rules of one design may take.
func maxTime(c *cli.Context) (time.Duration, error) {
	switch {
	case c.IsSet(limit.Time.Name):
		d := c.Duration(limit.Time.Name)
		if d < time.Duration(limit.Time.Least) || d > time.Duration(limit.Time.Most) {
			return 0, usageError("write 10s or 1m", "--%s must be from %s to %s, not %s", limit.Time.Name, time.Duration(limit.Time.Least), time.Duration(limit.Time.Most), d)
		}
		return d, nil
	case strangers(c):
		return limit.StrangersTime, nil
	}
	return limit.OwnTime, nil
}

// maxMemory is what rules that are not trusted may take, in bytes.
func maxMemory(c *cli.Context) (int64, error) {
	mb, err := flagValue(c, limit.Memory)
	return int64(mb) << 20, err
}

// tooLarge says that a file is over a limit of bytes; found is 0 where nobody
// knows how many it has.
type tooLarge struct{ found, allowed int64 }

func (e *tooLarge) Error() string {
	if e.found == 0 {
		return limit.Bytes.Hit(fmt.Sprintf("the file has more than %d bytes", e.allowed), int(e.allowed))
	}
	return limit.Bytes.Hit(fmt.Sprintf("the file has %d bytes", e.found), int(e.allowed))
}

// leftOut is the end of a run whose report is cut short.
func leftOut(n int, most int) error {
	found := fmt.Sprintf("%d findings are left out of the report", n)
	if n == 1 {
		found = "1 finding is left out of the report"
	}
	return &exitError{code: exitNotChecked, text: limit.Results.Hit(found, most), hint: limit.Results.Hint()}
}
