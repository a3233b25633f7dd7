package report

import (
	"fmt"
	"io"
	"sort"
	"strings"

	"backpitch/engine/finding"
)

// BackcheckSchema is the $schema value of a backcheck in JSON.
const BackcheckSchema = "backcheck.schema.json"

var backcheckFormats = map[string]func(io.Writer, finding.Backcheck, Options) error{
	"text":     textBackcheck,
	"json":     jsonBackcheck,
	"markdown": markdownBackcheck,
}

// BackcheckFormats lists the formats of a backcheck, sorted.
func BackcheckFormats() []string {
	names := make([]string, 0, len(backcheckFormats))
	for name := range backcheckFormats {
		names = append(names, name)
	}
	sort.Strings(names)
	return names
}

// Backcheck returns the writer of a backcheck in a format.
func Backcheck(format string) (func(io.Writer, finding.Backcheck, Options) error, error) {
	if write, ok := backcheckFormats[format]; ok {
		return write, nil
	}
	return nil, fmt.Errorf("no format %q for a backcheck: choose one of %s", format, strings.Join(BackcheckFormats(), ", "))
}

func jsonBackcheck(w io.Writer, b finding.Backcheck, o Options) error {
	e := newEncoder(w)
	e.value("", struct {
		Schema    string            `json:"$schema"`
		Tool      jsonTool          `json:"tool"`
		Backcheck finding.Backcheck `json:"backcheck"`
		Cautions  []string          `json:"cautions"`
	}{BackcheckSchema, jsonTool{Name: "backpitch", Version: o.Version}, b, Cautions})
	e.raw("\n")
	return e.flush()
}

// backcheckGroup is the items of one status, in the words for people.
type backcheckGroup struct {
	status  finding.Status
	title   string
	explain string
	items   []finding.Item
}

// backcheckGroups sorts the items that are to be shown; what a person must look
// at comes last in its group.
func backcheckGroups(b finding.Backcheck, o Options) []backcheckGroup {
	groups := []backcheckGroup{
		{status: finding.Outstanding, title: "outstanding", explain: withSome(b.Counts.ChangedAnswers, "with another answer")},
		{status: finding.New, title: "new", explain: withSome(b.Counts.NewOnUnchanged, "on parts that did not change")},
		{status: finding.Corrected, title: "corrected"},
		{status: finding.Dropped, title: "no longer judged", explain: "nobody has seen that these are mended"},
	}
	for g := range groups {
		for _, persons := range []bool{false, true} {
			for _, i := range b.Items {
				if i.Status == groups[g].status && (shown(i).Outcome == finding.PersonDecides) == persons && (i.Status == finding.Corrected || o.Show[shown(i).Outcome]) {
					groups[g].items = append(groups[g].items, i)
				}
			}
		}
	}
	return groups
}

func withSome(n int, what string) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprintf("%d %s", n, what)
}

// shown is the answer an item is shown with: that of now where there is one.
func shown(i finding.Item) *finding.Answer {
	if i.Later != nil {
		return i.Later
	}
	return i.Earlier
}

// answerWord is the level of a failure, else the outcome.
func answerWord(a *finding.Answer) string {
	if a.Outcome == finding.Fail {
		return string(a.Level)
	}
	return string(a.Outcome)
}

// itemWord is the word an item is shown with.
func itemWord(i finding.Item) string {
	if i.Status == finding.Corrected {
		return string(i.Status)
	}
	return answerWord(shown(i))
}

// history is what an item was and how that has changed, line by line.
func history(i finding.Item) []string {
	var list []string
	if i.EarlierSubject != "" {
		list = append(list, fmt.Sprintf("the id was %q", i.EarlierSubject))
	}
	switch {
	case i.Status == finding.New && i.Part == finding.Unchanged:
		list = append(list, i.Why+"; the part itself did not change")
	case i.Why != "":
		list = append(list, i.Why)
	}
	if i.Earlier != nil && (i.Changed || i.Status != finding.Outstanding) && i.Later != nil {
		list = append(list, fmt.Sprintf("earlier: %s (%s)", said(i.Earlier), Place(i.Earlier.Place)))
	}
	if i.Status == finding.Outstanding && i.Changed {
		list = append(list, "another answer than before: "+answerChange(i.Earlier, i.Later))
	} else if i.Status == finding.Outstanding && i.Part == finding.Altered && shown(i).Outcome != finding.PersonDecides {
		list = append(list, "the part was changed, the answer is the same")
	}
	return list
}

func said(a *finding.Answer) string { return answerWord(a) + ", " + a.Message }

// answerChange puts the two answers of an outstanding item side by side.
func answerChange(then, now *finding.Answer) string {
	return answerShort(then) + ", now " + answerShort(now)
}

func answerShort(a *finding.Answer) string {
	text := answerWord(a)
	if a.Measured != nil {
		text += " with " + a.Measured.Text
	}
	if len(a.Missing) > 0 {
		text += ", missing " + strings.Join(a.Missing, "; ")
	}
	return text
}

// answerExcuse is why the failure of an answer does not count; "" where it counts.
func answerExcuse(a *finding.Answer) string {
	return Excuse(finding.Finding{Approval: a.Approval, Baseline: a.Baseline})
}

// elementLines says which parts of the design have changed, a part a line.
func elementLines(c finding.ElementChanges) []string {
	var list []string
	for _, r := range c.Renamed {
		list = append(list, fmt.Sprintf("%s %q was %q", r.Kind, r.Later, r.Earlier))
	}
	for _, e := range c.Changed {
		var keys []string
		for _, k := range e.Keys {
			keys = append(keys, fmt.Sprintf("%s was %s, now %s", k.Key, jsonShort(k.Earlier), jsonShort(k.Later)))
		}
		list = append(list, fmt.Sprintf("%s %q changed: %s", e.Kind, e.ID, strings.Join(keys, "; ")))
	}
	for _, e := range c.Added {
		list = append(list, fmt.Sprintf("%s %q added", e.Kind, e.ID))
	}
	for _, e := range c.Removed {
		list = append(list, fmt.Sprintf("%s %q removed", e.Kind, e.ID))
	}
	return list
}

// jsonShort shortens a JSON text for people.
func jsonShort(text string) string {
	const most = 60
	if text == "" {
		return "not stated"
	}
	if runes := []rune(text); len(runes) > most {
		return string(runes[:most]) + "…"
	}
	return text
}

func elementSum(c finding.ElementChanges) string {
	return fmt.Sprintf("parts of the design: %d unchanged, %d changed, %d added, %d removed, %d with another id",
		c.Unchanged, len(c.Changed), len(c.Added), len(c.Removed), len(c.Renamed))
}

func backcheckSum(c finding.BackcheckCounts) string {
	with := func(n int, what string) string {
		if n == 0 {
			return ""
		}
		return fmt.Sprintf(" (%d %s)", n, what)
	}
	return fmt.Sprintf("%d outstanding%s, %d new%s, %d corrected, %d no longer judged, %d met then and now",
		c.Outstanding, with(c.ChangedAnswers, "with another answer"), c.New, with(c.NewOnUnchanged, "on parts that did not change"),
		c.Corrected, c.Dropped, c.Met)
}

func sideName(s finding.Side) string {
	name := s.File
	if s.Project.Name != "" {
		name += ": " + strings.Join(nonEmpty(s.Project.Name, s.Project.Reference, s.Project.Revision), ", ")
	}
	return name
}

func sideProfile(s finding.Side) string {
	return fmt.Sprintf("judged under %s (%s, %s)", s.Profile.ID, s.Profile.Title, s.Profile.Edition)
}
