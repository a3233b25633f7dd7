package report

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"backpitch/engine/finding"
)

// markdownBackcheck prints a backcheck for a letter or a pull request. What a
// design says is plain text in it: none of it becomes markup.
func markdownBackcheck(w io.Writer, b finding.Backcheck, o Options) error {
	out := bufio.NewWriter(w)
	fmt.Fprintf(out, "# Backcheck of %s\n\n", plainMarkdown(sideName(b.Later)))
	fmt.Fprintf(out, "- earlier: %s, %s\n", plainMarkdown(sideName(b.Earlier)), plainMarkdown(sideProfile(b.Earlier)))
	fmt.Fprintf(out, "- later: %s, %s\n", plainMarkdown(sideName(b.Later)), plainMarkdown(sideProfile(b.Later)))
	fmt.Fprintf(out, "- %s\n- %s\n", backcheckSum(b.Counts), elementSum(b.Elements))
	if len(b.Notices) > 0 {
		fmt.Fprint(out, "\n## Notices\n\n")
		for _, n := range b.Notices {
			fmt.Fprintf(out, "- %s: %s%s\n", plainMarkdown(Place(n.Place)), plainMarkdown(n.Message), plainMarkdown(hintText(n.Hint)))
		}
	}
	for _, g := range backcheckGroups(b, o) {
		if len(g.items) == 0 {
			continue
		}
		fmt.Fprintf(out, "\n## %s (%d)\n\n", strings.ToUpper(g.title[:1])+g.title[1:], len(g.items))
		if g.explain != "" {
			fmt.Fprintf(out, "%s\n\n", sentence(g.explain))
		}
		for n, i := range g.items {
			markdownItem(out, n+1, i)
		}
	}
	if lines := elementLines(b.Elements); len(lines) > 0 {
		fmt.Fprint(out, "\n## What changed in the design\n\n")
		for _, line := range lines {
			fmt.Fprintf(out, "- %s\n", plainMarkdown(line))
		}
	}
	fmt.Fprint(out, "\n## Cautions\n\n")
	for _, c := range append(nonEmpty(b.Later.Profile.Verify), Cautions...) {
		fmt.Fprintf(out, "- %s\n", plainMarkdown(c))
	}
	return out.Flush()
}

func markdownItem(out io.Writer, n int, i finding.Item) {
	a := shown(i)
	number := fmt.Sprintf("%d. ", n)
	fmt.Fprintf(out, "%s**%s** %s, %s: %s\n", number, itemWord(i), plainMarkdown(i.Rule), plainMarkdown(Place(a.Place)), plainMarkdown(a.Message))
	lines := history(i)
	if a.Outcome != finding.Pass {
		lines = append(lines, nonEmpty(answerExcuse(a), fmt.Sprintf("required: %s (%s)", i.Section, basisWords(i.Basis)))...)
		if i.Remedy != "" && a.Outcome != finding.PersonDecides {
			lines = append(lines, "to mend: "+i.Remedy)
		}
		lines = append(lines, i.Verify)
	}
	for _, line := range lines {
		fmt.Fprintf(out, "%s- %s\n", strings.Repeat(" ", len(number)), plainMarkdown(line))
	}
}

// plainMarkdown keeps a text from being read as markup: every ASCII
// punctuation mark that could begin any is escaped with a backslash (CommonMark
// 0.31, section 2.4), so are bare addresses; line ends become blanks.
var plainMarkdown = strings.NewReplacer(
	`\`, `\\`, "`", "\\`", "*", `\*`, "_", `\_`, "{", `\{`, "}", `\}`, "[", `\[`, "]", `\]`, "<", `\<`, ">", `\>`,
	"#", `\#`, "+", `\+`, "!", `\!`, "|", `\|`, "~", `\~`, "&", `\&`, "@", `\@`, "://", `:\/\/`, "www.", `www\.`, "\r\n", " ", "\n", " ", "\r", " ",
).Replace
