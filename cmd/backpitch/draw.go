package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"backpitch/engine"
	"backpitch/engine/drafting"
	"backpitch/engine/report/drawing"
)

func drawCommand() *cli.Command {
	return &cli.Command{
		Name:      "draw",
		Usage:     "draw the pump chart, the basin section or the riser diagram as SVG",
		ArgsUsage: "DESIGN (a file, or - for standard input)",
		Flags: append([]cli.Flag{
			&cli.StringFlag{Name: "what", Aliases: []string{"w"}, Value: "riser", Usage: "`DRAWING` to make: pump, basin, riser"},
			&cli.StringFlag{Name: "profile", Aliases: []string{"p"}, Usage: "compute under profile `ID`; the design's own where this is not given"},
			&cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "write to `FILE`, or into a folder one file for each pump or basin"},
			policiesFlag(),
		}, judgeFlags()...),
		Action: draw,
	}
}

// plate is one drawing with the name of the element it shows.
type plate struct {
	id  string
	svg []byte
}

func draw(c *cli.Context) error {
	what := c.String("what")
	if what != "pump" && what != "basin" && what != "riser" {
		return usageError("choose pump, basin or riser", "--what %q is no drawing", what)
	}
	w, err := workOne(c)
	if err != nil {
		return err
	}
	plates := platesOf(w, what)
	if len(plates) == 0 {
		return usageError("", "%s: there is no %s to draw: %s", w.Review.File, what, whyNone(what))
	}
	out := c.String("output")
	if info, err := os.Stat(out); err == nil && info.IsDir() {
		return writePlates(out, what, plates)
	}
	if len(plates) > 1 {
		return usageError("name a folder with --output", "%s: there are %d drawings of kind %s, which do not fit into one file", w.Review.File, len(plates), what)
	}
	return writeTo(out, c.App.Writer, func(f io.Writer) error {
		_, err := f.Write(plates[0].svg)
		return err
	})
}

func whyNone(what string) string {
	if what == "pump" {
		return "a chart needs a pump curve, and of its line the bores, lengths and levels"
	}
	return "the design has none"
}

func platesOf(w engine.Working, what string) []plate {
	s := drafting.Source{Design: w.Design, Facts: w.Facts, Record: w.Record, Findings: w.Review.Findings, Units: w.Units}
	var out []plate
	switch what {
	case "pump":
		for _, d := range drafting.Pumps(s) {
			out = append(out, plate{d.ID, drawing.PumpChart(d)})
		}
	case "basin":
		for _, d := range drafting.Basins(s) {
			out = append(out, plate{d.ID, drawing.BasinSection(d)})
		}
	case "riser":
		out = append(out, plate{"", drawing.Riser(drafting.Riser(s))})
	}
	return out
}

// writePlates writes each drawing into a file of its own, whole or not at all.
func writePlates(dir, what string, plates []plate) error {
	for _, p := range plates {
		name := what
		if p.id != "" {
			name += "-" + fileName(p.id)
		}
		path := filepath.Join(dir, name+".svg")
		if err := writeTo(path, nil, func(f io.Writer) error { _, err := f.Write(p.svg); return err }); err != nil {
			return err
		}
	}
	return nil
}

// fileName keeps an element id from leaving its folder; different ids give
// different names.
func fileName(id string) string {
	var b strings.Builder
	for _, r := range id {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9', r == '-':
			b.WriteRune(r)
		default: // upper case too: some file systems do not tell it from lower case
			fmt.Fprintf(&b, "_%x_", r)
		}
	}
	return b.String()
}
