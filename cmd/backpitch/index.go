package main

import (
	"fmt"
	"io"
	"strings"

	"backpitch/engine/proof"
)

// writeIndex prints the index of all rules in markdown, by topic, with the
// section that each profile cites.
func writeIndex(out io.Writer, all adoptions) {
	fmt.Fprintln(out, "# The rules")
	fmt.Fprintln(out)
	fmt.Fprintln(out, "Made from the rules' own METADATA and the profiles; `go test ./cmd/backpitch -update` rewrites it.")
	fmt.Fprintln(out, "`backpitch rule show ID` prints what a rule checks, why, an example and its limits by profile;")
	fmt.Fprintln(out, "`backpitch rule book` does so for all. [README.md](README.md) shows how to write one.")
	fmt.Fprintln(out, "A section in *italics* is from memory, a dash means the profile does not have the rule.")
	fmt.Fprintln(out, "Verify with local authority.")
	topic := ""
	for _, id := range all.ids() {
		name, rule, _ := strings.Cut(id, "/")
		if name != topic {
			topic = name
			fmt.Fprintf(out, "\n## %s\n\n| rule | what is wrong | level |", strings.ReplaceAll(topic, "_", " "))
			for _, p := range all.profiles {
				fmt.Fprintf(out, " %s |", p.ID)
			}
			fmt.Fprintf(out, "\n| --- | --- | --- |%s\n", strings.Repeat(" --- |", len(all.profiles)))
		}
		r := all.rules[id]
		fmt.Fprintf(out, "| `%s/%s` | %s | %s |", name, rule, r.Title, r.Level)
		for _, p := range all.profiles {
			a, ok := p.Adopts[id]
			switch {
			case !ok:
				fmt.Fprint(out, " - |")
			case a.Basis == "from memory":
				fmt.Fprintf(out, " *%s* |", a.Section)
			default:
				fmt.Fprintf(out, " %s |", a.Section)
			}
		}
		fmt.Fprintln(out)
	}
	fmt.Fprintln(out, "\n## Profiles")
	fmt.Fprintln(out, "\n| profile | title, edition | rules | figures checked against published text |\n| --- | --- | --- | --- |")
	for _, p := range all.profiles {
		fmt.Fprintf(out, "| `%s` | %s, %s | %d | %s |\n", p.ID, p.Title, p.Edition, len(p.Adopts), proof.Share(p.Figures()))
	}
}
