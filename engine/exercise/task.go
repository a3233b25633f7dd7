package exercise

import (
	"fmt"
	"strings"
)

// TaskSheet is what students are told, in markdown. It does not say how many
// faults there are.
func TaskSheet(k *Key, project string, topics, cautions []string) string {
	var b strings.Builder
	p := page{markdown: true}
	fmt.Fprintf(&b, "# Plan check: %s\n\n", p.safe(project))
	fmt.Fprintf(&b, "Check the design in `design.json` under %s, %s (profile `%s`, %s).\n", p.safe(k.Profile.Title), p.safe(k.Profile.Edition), k.Profile.ID, p.safe(k.Profile.Authority))
	b.WriteString(`It may break rules of the code, it may leave out facts without which a rule
cannot be judged, and it may be sound.

## What to hand in

Fill in ` + "`answers.json`" + `, one entry under "answers" for each fault:

| key | what to write |
| --- | --- |
| ` + "`subject`" + ` | the id of the element, as the design has it |
| ` + "`rule`" + ` | what is wrong: a rule id, or a few words such as "fall too flat" |
| ` + "`outcome`" + ` | ` + "`fail`" + ` for a broken rule, ` + "`open`" + ` where the drawing does not show what the rule needs |
| ` + "`section`" + ` | the section that is broken |
| ` + "`found`" + ` | what the design has, with its unit |
| ` + "`required`" + ` | what the code requires, with its unit |
| ` + "`missing`" + ` | of an open one: the fact that is not shown |
| ` + "`sum`" + ` | where a value has to be worked out: the sum |

An example from another drawing:

` + "```json" + `
{ "subject": "branch-9", "rule": "load too high", "outcome": "fail", "section": "1.2.3", "found": "9 dfu", "required": "6 dfu", "sum": "4 + 3 + 2 = 9 dfu" }
` + "```" + `

Write sums with + - * / = and brackets, fractions as 1-1/2 without blanks, and
units that work out ("12 ft * 1/4 in/ft = 3 in") or only the unit of the result.
One fault is one entry, even where it breaks several rules: name any of them.
Where you find no fault at all write ` + "`\"sound\": true`" + ` and leave "answers" empty.

## Marks

| for | marks |
| --- | --- |
`)
	s := k.Scheme
	for _, row := range []struct {
		what  string
		marks int
	}{
		{"a fault found: element, what is wrong and outcome", s.Found},
		{"its section", s.Section},
		{"the value found", s.Measured},
		{"the value required", s.Limit},
		{"a sum that is right, where the value has to be worked out", s.Sum},
		{"the fact that is not shown", s.Missing},
		{"a sound design called sound", s.Sound},
		{"each false alarm", -s.FalseAlarm},
	} {
		fmt.Fprintf(&b, "| %s | %d |\n", row.what, row.marks)
	}
	fmt.Fprintf(&b, "\nNo sheet falls below 0. Values count within %d %%, sizes and counts exactly, in any unit.\n", s.TolerancePercent)
	if len(topics) > 0 {
		fmt.Fprintf(&b, "The rules of this profile are about: %s.\n", strings.ReplaceAll(strings.Join(topics, ", "), "_", " "))
	}
	fmt.Fprintf(&b, "\n%s\n\n## Cautions\n\nThe drawing has been made wrong on purpose, or may have been: nothing is built by it.\n\n", p.safe(k.Profile.Verify))
	for _, c := range cautions {
		fmt.Fprintf(&b, "- %s\n", c)
	}
	return b.String()
}
