package main

import (
	"cmp"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"backpitch/engine"
	"backpitch/engine/finding"
	"backpitch/engine/profile"
	"backpitch/engine/report"
)

// explainFlags are the flags of review that explain one outcome.
func explainFlags() []cli.Flag {
	return []cli.Flag{&cli.StringFlag{Name: "explain", Usage: "with SUBJECT DESIGN: say why `RULE` gave its outcome for that subject; as text or json"}}
}

// explains reports whether one outcome is to be explained, wherever the flag
// stands.
func explains(c *cli.Context) bool {
	return c.IsSet("explain") || slices.ContainsFunc(c.Args().Slice(), func(arg string) bool {
		return strings.HasPrefix(strings.TrimLeft(arg, "-"), "explain") && strings.HasPrefix(arg, "-")
	})
}

const explainHint = "backpitch review --explain drain/too_flat wet-2 DESIGN"

// explain prints why a rule gave its outcome for one subject of one design.
// What it explains does not decide its exit code: 0 when it could, 2 when not.
func explain(c *cli.Context) error {
	names := c.Args().Slice()
	if len(names) != 2 {
		return usageError(explainHint, "--explain RULE is about one subject of one design, and %d names stand behind it", len(names))
	}
	write := map[string]func(io.Writer, *finding.Explanation, report.Options) error{
		"text": report.WriteExplanation, "json": report.WriteExplanationJSON}[c.String("format")]
	if write == nil {
		return usageError("the formats of --explain are text and json", "--explain does not go with format %q", c.String("format"))
	}
	for _, flag := range []string{"stream", "out-dir", "approvals", "baseline"} {
		if c.IsSet(flag) {
			return usageError(explainHint, "--explain and --%s do not go together", flag)
		}
	}
	if strings.Contains(c.String("profile"), ",") {
		return usageError("name one", "--explain is about one profile, not %s", c.String("profile"))
	}
	subject, file := subjectAndDesign(names)
	eng, err := openEngine(c)
	if err != nil {
		return err
	}
	w, err := workFile(c, eng, file)
	if err != nil {
		return err
	}
	found, err := findingOf(w, c.String("explain"), subject)
	if err != nil {
		return err
	}
	e, err := eng.Why(c.Context, w, found)
	if err != nil {
		return policyError(err)
	}
	return writeTo(c.String("output"), c.App.Writer, func(out io.Writer) error {
		return write(out, e, report.Options{Version: c.App.Version})
	})
}

// subjectAndDesign tells the two names apart: the design is the one that is a
// file.
func subjectAndDesign(names []string) (subject, file string) {
	isFile := func(name string) bool {
		info, err := os.Stat(name)
		return name == stdinName || err == nil && !info.IsDir()
	}
	if isFile(names[0]) && !isFile(names[1]) {
		return names[1], names[0]
	}
	return names[0], names[1]
}

// findingOf picks the finding, or says which there are.
func findingOf(w engine.Working, rule, subject string) (finding.Finding, error) {
	var of []finding.Finding
	rules := map[string]bool{}
	for _, f := range w.Review.Findings {
		rules[f.Rule] = true
		if f.Rule != rule {
			continue
		}
		if f.Subject == subject {
			return f, nil
		}
		of = append(of, f)
	}
	_, adopted := w.Profile.Adopts[rule]
	switch {
	case !adopted:
		hint := profile.DidYouMean(rule, w.Profile.Rules())
		if hint == "" {
			hint = "backpitch profile show " + w.Profile.ID + " lists what it adopts"
		}
		return finding.Finding{}, usageError(hint, "profile %s does not adopt a rule %q", w.Profile.ID, rule)
	case len(of) == 0:
		return finding.Finding{}, usageError("backpitch rule show "+rule+" says whom it is about", "%s is about nothing in this design", rule)
	}
	return finding.Finding{}, usageError(subjectsHint(of, subject), "%s is not about %q", rule, subject)
}

// mostSubjects is how many subjects a hint names.
const mostSubjects = 6

// subjectsHint names the subjects of a rule, what fails first.
func subjectsHint(of []finding.Finding, subject string) string {
	rank := map[finding.Outcome]int{finding.Fail: 0, finding.Open: 1, finding.PersonDecides: 2, finding.Pass: 3}
	var ids []string
	for _, f := range of {
		ids = append(ids, f.Subject)
	}
	if near := profile.DidYouMean(subject, ids); near != "" {
		return near
	}
	slices.SortStableFunc(of, func(a, b finding.Finding) int { return cmp.Compare(rank[a.Outcome], rank[b.Outcome]) })
	var shown []string
	for _, f := range of[:min(len(of), mostSubjects)] {
		shown = append(shown, fmt.Sprintf("%s (%s)", f.Subject, f.Outcome))
	}
	if more := len(of) - mostSubjects; more > 0 {
		shown = append(shown, fmt.Sprintf("and %d more", more))
	}
	return "it is about " + strings.Join(shown, ", ")
}
