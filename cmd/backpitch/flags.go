package main

import (
	"slices"
	"strings"

	"github.com/urfave/cli/v2"
)

// flagsFirst moves flags that stand after paths before them, as the flag
// package of the library reads them: `review house.json --format json`. What
// follows "--" stays as it is, and "-" is standard input, no flag.
func flagsFirst(app *cli.App, args []string) []string {
	commands, at := app.Commands, 1
	flags := app.Flags
	for at < len(args) {
		i := slices.IndexFunc(commands, func(c *cli.Command) bool { return c.HasName(args[at]) })
		if i < 0 {
			break
		}
		commands, flags = commands[i].Subcommands, commands[i].Flags
		at++
	}
	head, rest := args[:at], args[at:]
	var moved, paths []string
	for i := 0; i < len(rest); i++ {
		word := rest[i]
		if word == "--" {
			paths = append(paths, rest[i:]...)
			break
		}
		if word == "-" || !strings.HasPrefix(word, "-") {
			paths = append(paths, word)
			continue
		}
		moved = append(moved, word)
		if takesValue(flags, word) && i+1 < len(rest) {
			i++
			moved = append(moved, rest[i])
		}
	}
	return slices.Concat(head, moved, paths)
}

// takesValue says whether the next word is the value of a flag.
func takesValue(flags []cli.Flag, word string) bool {
	name := strings.TrimLeft(word, "-")
	if strings.Contains(name, "=") {
		return false
	}
	for _, f := range flags {
		if !slices.Contains(f.Names(), name) {
			continue
		}
		d, ok := f.(cli.DocGenerationFlag)
		return ok && d.TakesValue()
	}
	return false
}
