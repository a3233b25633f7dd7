package main

import (
	"strings"

	"github.com/urfave/cli/v2"

	"backpitch/schema"
)

func schemaCommand() *cli.Command {
	return &cli.Command{
		Name:      "schema",
		Usage:     "print a JSON Schema, for editors",
		ArgsUsage: "NAME (" + strings.Join(schema.Names(), ", ") + ")",
		Action: func(c *cli.Context) error {
			if c.NArg() != 1 {
				return usageError("backpitch schema NAME; the names are "+strings.Join(schema.Names(), ", "), "name one schema")
			}
			text, err := schema.Raw(c.Args().First())
			if err != nil {
				return usageError("the names are "+strings.Join(schema.Names(), ", "), "no schema %q", c.Args().First())
			}
			_, err = c.App.Writer.Write(text)
			return err
		},
	}
}
