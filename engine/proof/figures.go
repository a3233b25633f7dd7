package proof

import (
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
	"text/tabwriter"

	"backpitch/engine/finding"
	"backpitch/engine/profile"
	"backpitch/engine/quantity"
)

// WriteFigures prints everything a profile says: what it adopts, each figure
// with its section and basis, and its sources. Every figure that can be changed
// stands in it to the last digit.
func WriteFigures(out io.Writer, p *profile.Profile) error {
	w := &printer{out: out}
	w.head(p)
	w.printf("\nrules adopted (%d)\n", len(p.Adopts))
	w.table(func(row func(cells ...string)) {
		for _, id := range p.Rules() {
			a := p.Adopts[id]
			level := ""
			if a.Level != "" {
				level = "as " + string(a.Level)
			}
			row(append([]string{"  " + id}, cited(p, level, a.Cite)...)...)
		}
	})
	w.printf("\nfixture loads (%d), the first row that fits counts\n", len(p.Fixtures))
	w.table(func(row func(cells ...string)) {
		for _, f := range p.Fixtures {
			row(append([]string{"  " + f.Class}, cited(p, f.Text(p), f.Cite)...)...)
		}
	})
	if len(p.Groups) > 0 {
		w.printf("\nbathroom groups (%d), the first row that fits counts\n", len(p.Groups))
		w.table(func(row func(cells ...string)) {
			for _, g := range p.Groups {
				row(append([]string{"  " + g.Class}, cited(p, g.Text(p), g.Cite)...)...)
			}
		})
	}
	w.printf("\ntables (%d)\n", len(p.Tables()))
	for _, id := range p.Tables() {
		t := p.Table(id)
		w.printf("  %s: %s\n", id, t.Title)
		w.table(func(row func(cells ...string)) {
			for _, e := range t.Rows() {
				row(append([]string{"    " + e.KeyText()}, cited(p, t.Text(e, p.Units), e.Cite)...)...)
			}
		})
	}
	w.printf("\nsources\n")
	for _, key := range slices.Sorted(maps.Keys(p.Sources)) {
		s := p.Sources[key]
		w.printf("  %s: %s\n", key, strings.Join(filled(s.Title, s.URL, s.Note), "; "))
	}
	return w.err
}

func (w *printer) head(p *profile.Profile) {
	w.printf("%s: %s, %s\n", p.ID, p.Title, p.Edition)
	w.printf("authority: %s\n", p.Authority)
	if p.Amends != "" {
		w.printf("amends: %s\n", strings.Join(p.Chain[1:], ", which amends "))
	}
	units := "US"
	if p.Units == quantity.SI {
		units = "SI"
	}
	w.printf("units: %s\n", units)
	w.printf("method: %s\n", methodText(p))
	w.printf("figures checked against published text: %s\n", Share(p.Figures()))
	w.printf("%s\n", p.Verify)
}

func methodText(p *profile.Profile) string {
	parts := []string{strings.ReplaceAll(p.Method.Load, "_", " ")}
	if p.Method.FlowCurve != "" {
		parts = append(parts, "flows by table "+p.Method.FlowCurve)
	}
	for _, word := range []string{p.Method.Friction, p.Method.Gravity} {
		if word != "" {
			parts = append(parts, strings.ReplaceAll(word, "_", "-"))
		}
	}
	for _, use := range slices.Sorted(maps.Keys(p.Method.K)) {
		parts = append(parts, "K of "+use+" use "+quantity.Format(quantity.Factor, p.Method.K[use], p.Units))
	}
	return strings.Join(parts, ", ")
}

// Share is how much of the figures is checked: "12 of 300 (4 %)".
func Share(f finding.FigureCounts) string {
	if f.Total() == 0 {
		return "none"
	}
	percent := f.Checked * 100 / f.Total()
	if f.Checked > 0 && percent == 0 {
		return fmt.Sprintf("%d of %d (under 1 %%)", f.Checked, f.Total())
	}
	return fmt.Sprintf("%d of %d (%d %%)", f.Checked, f.Total(), percent)
}

// cited is a value with its section, its basis and whose it is.
func cited(p *profile.Profile, value string, c profile.Cite) []string {
	from := ""
	if c.From != "" && c.From != p.ID {
		from = "from " + c.From
	}
	return []string{value, c.Section, string(c.Basis), from}
}

// printed is the line of the figure that a change is about, without what it is
// filled up with. Two profiles that print alike have the same line.
func printed(p *profile.Profile, c profile.Change) string {
	switch c.Table {
	case profile.FixtureLoad, profile.FixtureTrap:
		return p.Fixtures[c.Row].Text(p)
	case profile.GroupLoad:
		return p.Groups[c.Row].Text(p)
	case profile.MethodK:
		return methodText(p)
	}
	t := p.Table(c.Table)
	rows := t.Rows()
	if c.Row >= len(rows) {
		return ""
	}
	return rows[c.Row].KeyText() + ": " + t.Text(rows[c.Row], p.Units)
}

// printer keeps the first error of a writer.
type printer struct {
	out io.Writer
	err error
}

func (w *printer) printf(format string, args ...any) {
	if w.err == nil {
		_, w.err = fmt.Fprintf(w.out, format, args...)
	}
}

// table prints rows of cells in columns; empty cells at the end are left out.
func (w *printer) table(rows func(row func(cells ...string))) {
	tw := tabwriter.NewWriter(w.out, 0, 0, 2, ' ', 0)
	rows(func(cells ...string) {
		for len(cells) > 0 && cells[len(cells)-1] == "" {
			cells = cells[:len(cells)-1]
		}
		if w.err == nil {
			_, w.err = fmt.Fprintln(tw, strings.Join(cells, "\t"))
		}
	})
	if err := tw.Flush(); w.err == nil {
		w.err = err
	}
}

func filled(words ...string) []string {
	return slices.DeleteFunc(words, func(s string) bool { return s == "" })
}
