package report

import (
	"cmp"
	"slices"
	"time"

	"backpitch/engine/finding"
)

// Row is what a roll-up says of one submission. Rows can be kept when the
// review itself is long gone.
type Row struct {
	File      string          `json:"file"`
	Project   finding.Project `json:"project"`
	Profile   string          `json:"profile,omitempty"`
	Worst     string          `json:"worst"`
	Counts    finding.Counts  `json:"counts"`
	Unchecked string          `json:"unchecked,omitempty"` // why it could not be checked
	Rules     []RuleCount     `json:"rules,omitempty"`     // rules that failed or are open
	Took      time.Duration   `json:"-"`
}

// RuleCount is how often one rule failed in one submission.
type RuleCount struct {
	Rule    string `json:"rule"`
	Title   string `json:"title"`
	Fail    int    `json:"fail,omitempty"`    // failures that nobody answers for
	Excused int    `json:"excused,omitempty"` // failures with an approval or in the baseline
	Open    int    `json:"open,omitempty"`
}

// NotChecked is the Worst of a submission that could not be judged. The others
// are the levels and outcomes, in this order: error, warning, note, open,
// review, pass. An excused failure needs a person, so it counts as review.
const NotChecked = "not checked"

// RowOf sums a review up.
func RowOf(e Entry) Row {
	row := Row{File: e.File, Project: e.Project, Profile: e.Profile.ID, Counts: e.Counts, Worst: worst(e.Review), Took: e.Took}
	switch {
	case e.Failure != "":
		row.Unchecked = e.Failure
	case len(e.Problems) > 0:
		p := e.Problems[0]
		row.Unchecked = Place(p.Place) + ": " + p.Message
	}
	index := map[string]int{}
	for _, f := range e.Findings {
		if f.Outcome != finding.Fail && f.Outcome != finding.Open {
			continue
		}
		i, ok := index[f.Rule]
		if !ok {
			i = len(row.Rules)
			index[f.Rule] = i
			row.Rules = append(row.Rules, RuleCount{Rule: f.Rule, Title: f.Title})
		}
		switch {
		case f.Outcome == finding.Open:
			row.Rules[i].Open++
		case f.Excused():
			row.Rules[i].Excused++
		default:
			row.Rules[i].Fail++
		}
	}
	return row
}

func worst(r finding.Review) string {
	c := r.Counts
	switch {
	case Unchecked(r):
		return NotChecked
	case c.Errors > 0:
		return string(finding.Error)
	case c.Warnings > 0:
		return string(finding.Warning)
	case c.Notes > 0:
		return string(finding.Note)
	case c.Open > 0:
		return string(finding.Open)
	case c.Review > 0, c.Fail > 0:
		return string(finding.PersonDecides)
	}
	return string(finding.Pass)
}

// A RuleSum is how often one rule failed in a batch.
type RuleSum struct {
	Rule        string `json:"rule"`
	Title       string `json:"title"`
	Submissions int    `json:"submissions"` // with a failure that nobody answers for
	Fail        int    `json:"fail"`
	Excused     int    `json:"excused"`
	Open        int    `json:"open"`
}

// tally adds rows up. What it holds grows with the rules, not with the rows.
type tally struct {
	submissions int
	unchecked   int
	counts      finding.Counts
	rules       map[string]*RuleSum
}

func (t *tally) add(row Row) {
	t.submissions++
	if row.Unchecked != "" {
		t.unchecked++
	}
	t.counts = t.counts.Add(row.Counts)
	if t.rules == nil {
		t.rules = map[string]*RuleSum{}
	}
	for _, r := range row.Rules {
		sum := t.rules[r.Rule]
		if sum == nil {
			sum = &RuleSum{Rule: r.Rule, Title: r.Title}
			t.rules[r.Rule] = sum
		}
		if r.Fail > 0 {
			sum.Submissions++
		}
		sum.Fail += r.Fail
		sum.Excused += r.Excused
		sum.Open += r.Open
	}
}

// commonest lists the rules, those first that fail in most submissions: the
// corrections a department asks for most often.
func (t *tally) commonest() []RuleSum {
	list := make([]RuleSum, 0, len(t.rules))
	for _, sum := range t.rules {
		list = append(list, *sum)
	}
	slices.SortFunc(list, func(a, b RuleSum) int {
		return cmp.Or(
			cmp.Compare(b.Submissions, a.Submissions), cmp.Compare(b.Fail, a.Fail),
			cmp.Compare(b.Excused, a.Excused), cmp.Compare(b.Open, a.Open), cmp.Compare(a.Rule, b.Rule))
	})
	return list
}
