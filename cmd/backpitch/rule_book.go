package main

import (
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"backpitch/engine/rulebook"
)

func ruleBookCommand() *cli.Command {
	return &cli.Command{
		Name:  "book",
		Usage: "print the rule book: every rule with its reason, examples and limits by profile",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "format", Aliases: []string{"f"}, Value: "html", Usage: "`FORMAT`: html, markdown"},
			&cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "write to `FILE`, whole or not at all, or into a folder: index.html, or README.md and a document for each topic"},
			policiesFlag(),
		},
		Action: ruleBook,
	}
}

// document is one file of a book.
type document struct {
	name  string
	write func(io.Writer) error
}

func ruleBook(c *cli.Context) error {
	args := c.Args().Slice()
	if len(args) > 0 {
		return usageError("backpitch rule show "+args[0]+" prints one rule", "the book is of all rules, and %q is named", args[0])
	}
	format := c.String("format")
	if format != "html" && format != "markdown" {
		return usageError("the formats are html and markdown", "no format %q", format)
	}
	book, err := gatherBook(c)
	if err != nil {
		return err
	}
	whole := document{"index.html", func(w io.Writer) error { return rulebook.WriteHTML(w, book) }}
	if format == "markdown" {
		whole = document{"", func(w io.Writer) error { return rulebook.WriteMarkdown(w, book) }}
	}
	out := c.String("output")
	if !isFolder(out) && !strings.HasSuffix(out, "/") {
		return writeTo(out, c.App.Writer, whole.write)
	}
	if err := os.MkdirAll(out, 0o755); err != nil {
		return usageError("", "making the folder: %s", pathReason(err))
	}
	documents := []document{whole}
	if format == "markdown" {
		documents = topics(book)
	}
	for _, d := range documents {
		if err := writeTo(filepath.Join(out, d.name), nil, d.write); err != nil {
			return err
		}
	}
	return nil
}

// topics are the documents of a book of several.
func topics(book *rulebook.Book) []document {
	out := []document{{"README.md", func(w io.Writer) error { return rulebook.WriteContents(w, book) }}}
	for _, t := range book.Topics {
		out = append(out, document{t.Name + ".md", func(w io.Writer) error { return rulebook.WriteTopic(w, t) }})
	}
	return out
}
