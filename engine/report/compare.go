package report

import (
	"bufio"
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"

	"github.com/fatih/color"

	"backpitch/engine/finding"
)

// Comparison is one design under several profiles: the answers that differ
// first, the gravest first.
type Comparison struct {
	File     string                `json:"file"`
	Project  finding.Project       `json:"project"`
	Profiles []finding.ProfileInfo `json:"profiles"`
	Reviews  []ComparedReview      `json:"reviews"` // in the order of Profiles
	// Disagreements are the rules and subjects that profiles answer
	// differently.
	Disagreements []ComparedFinding `json:"disagreements"`
	// OnlySome are failures, open and review findings of rules that not every
	// profile has, where those that have them agree.
	OnlySome []ComparedFinding `json:"only_some"`
	// Agreed are findings other than passes on which every profile agrees.
	Agreed []ComparedFinding `json:"agreed"`
	Passes int               `json:"passes"` // rules and subjects that pass wherever they are judged
}

// ComparedReview is the sum of one review, or why there is none.
type ComparedReview struct {
	Counts   finding.Counts    `json:"counts"`
	Problems []finding.Problem `json:"problems,omitempty"`
	Failure  string            `json:"failure,omitempty"`
	Hint     string            `json:"hint,omitempty"`
}

// ComparedFinding is one rule for one subject under each profile.
type ComparedFinding struct {
	Rule        string        `json:"rule"`
	Title       string        `json:"title"`
	Subject     string        `json:"subject"`
	SubjectName string        `json:"subject_name"`
	Place       finding.Place `json:"place"`
	Answers     []Answer      `json:"answers"` // in the order of Profiles
	rank        int
}

// Answer is what one profile says; an empty Outcome is that of a profile
// without the rule.
type Answer struct {
	Outcome  finding.Outcome `json:"outcome,omitempty"`
	Level    finding.Level   `json:"level,omitempty"`
	Measured string          `json:"measured,omitempty"`
	Limit    string          `json:"limit,omitempty"`
	Section  string          `json:"section,omitempty"`
	Basis    finding.Basis   `json:"basis,omitempty"`
	Message  string          `json:"message,omitempty"`
}

// Compare sets the reviews of one design side by side. They are of one file,
// each under its own profile.
func Compare(reviews []finding.Review) Comparison {
	c := Comparison{Disagreements: []ComparedFinding{}, OnlySome: []ComparedFinding{}, Agreed: []ComparedFinding{}}
	rows := map[[2]string]*ComparedFinding{}
	var order []*ComparedFinding
	for i, r := range reviews {
		c.File, c.Project = r.File, r.Project
		c.Profiles = append(c.Profiles, r.Profile)
		c.Reviews = append(c.Reviews, ComparedReview{r.Counts, r.Problems, r.Failure, r.Hint})
		for _, f := range r.Findings {
			key := [2]string{f.Rule, f.Subject}
			row := rows[key]
			if row == nil {
				row = &ComparedFinding{Rule: f.Rule, Title: f.Title, Subject: f.Subject, SubjectName: f.SubjectName, Place: f.Place,
					Answers: make([]Answer, len(reviews))}
				rows[key] = row
				order = append(order, row)
			}
			row.Answers[i] = answerOf(f)
		}
	}
	for _, row := range order {
		c.sort(row)
	}
	for _, list := range [][]ComparedFinding{c.Disagreements, c.OnlySome, c.Agreed} {
		slices.SortStableFunc(list, func(a, b ComparedFinding) int {
			return cmp.Or(cmp.Compare(a.rank, b.rank), cmp.Compare(a.Place.Line, b.Place.Line), cmp.Compare(a.Place.Col, b.Place.Col),
				cmp.Compare(a.Rule, b.Rule), cmp.Compare(a.Subject, b.Subject))
		})
	}
	return c
}

func answerOf(f finding.Finding) Answer {
	a := Answer{Outcome: f.Outcome, Section: f.Section, Basis: f.Basis, Message: f.Message}
	if f.Outcome == finding.Fail {
		a.Level = f.Level
	}
	if f.Measured != nil {
		a.Measured = f.Measured.Text
	}
	if f.Limit != nil {
		a.Limit = f.Limit.Text
	}
	return a
}

// sort puts a row where it belongs. A profile whose review could not be carried
// out has no answer, and nothing is said of it.
func (c *Comparison) sort(row *ComparedFinding) {
	seen := map[finding.Outcome]bool{}
	everywhere := true
	for i, a := range row.Answers {
		switch {
		case a.Outcome != "":
			seen[a.Outcome] = true
		case c.Reviews[i].Failure == "" && len(c.Reviews[i].Problems) == 0:
			everywhere = false
		}
	}
	row.rank = rankOf(seen)
	switch {
	case len(seen) > 1:
		c.Disagreements = append(c.Disagreements, *row)
	case seen[finding.Pass]:
		c.Passes++
	case everywhere:
		c.Agreed = append(c.Agreed, *row)
	default:
		c.OnlySome = append(c.OnlySome, *row)
	}
}

// rankOf puts what one profile fails and another passes before all else.
func rankOf(seen map[finding.Outcome]bool) int {
	switch {
	case seen[finding.Fail] && seen[finding.Pass]:
		return 0
	case seen[finding.Fail]:
		return 1
	case seen[finding.Pass]:
		return 2
	}
	return 3
}

// Unchecked reports whether a review could not be carried out.
func (c Comparison) Unchecked() bool {
	return slices.ContainsFunc(c.Reviews, func(r ComparedReview) bool { return r.Failure != "" || len(r.Problems) > 0 })
}

// WriteComparisons prints comparisons, one for each design, as text or json.
func WriteComparisons(w io.Writer, format string, list []Comparison, o Options) error {
	switch format {
	case "text":
		t := &textReport{w: bufio.NewWriter(w), o: o}
		for i, c := range list {
			if i > 0 {
				fmt.Fprintln(t.w)
			}
			t.comparison(c)
		}
		t.cautions()
		return t.w.Flush()
	case "json":
		enc := json.NewEncoder(w)
		enc.SetEscapeHTML(false)
		enc.SetIndent("", "  ")
		return enc.Encode(struct {
			Comparisons []Comparison `json:"comparisons"`
			Cautions    []string     `json:"cautions"`
		}{list, Cautions})
	}
	return fmt.Errorf("several profiles are compared as text or json, not %s", format)
}

func (t *textReport) comparison(c Comparison) {
	bold := t.paint(color.Bold)
	name := printable(c.File)
	if c.Project.Name != "" {
		name += ": " + strings.Join(nonEmpty(c.Project.Name, c.Project.Reference, c.Project.Revision), ", ")
	}
	fmt.Fprintln(t.w, bold(name))
	for i, p := range c.Profiles {
		r := c.Reviews[i]
		switch {
		case r.Failure != "":
			fmt.Fprintf(t.w, "%s could not check: %s\n", p.ID, r.Failure)
			t.hint(r.Hint)
		case len(r.Problems) > 0:
			fmt.Fprintf(t.w, "%s could not check: %s in the document\n", p.ID, plural(len(r.Problems), "problem"))
			for _, x := range r.Problems {
				fmt.Fprintf(t.w, "%s: %s\n", Place(x.Place), x.Message)
				t.hint(x.Hint)
			}
		default:
			fmt.Fprintf(t.w, "%s (%s, %s): %d fail, %d open, %d review, %d pass\n", p.ID, p.Title, p.Edition,
				r.Counts.Fail, r.Counts.Open, r.Counts.Review, r.Counts.Pass)
		}
	}
	t.compared(c, "the profiles disagree", color.FgRed, c.Disagreements)
	t.compared(c, "only some profiles have the rule", color.FgYellow, c.OnlySome)
	t.compared(c, "all agree", color.FgCyan, c.Agreed)
	fmt.Fprintf(t.w, "\n%s: they disagree on %d, only some have the rule for %d, all agree on %d; %d pass wherever they are judged\n",
		plural(len(c.Profiles), "profile"), len(c.Disagreements), len(c.OnlySome), len(c.Agreed), c.Passes)
	for _, p := range c.Profiles {
		if p.Verify != "" {
			fmt.Fprintf(t.w, "%s: %s\n", p.ID, p.Verify)
		}
	}
}

func (t *textReport) compared(c Comparison, title string, paint color.Attribute, list []ComparedFinding) {
	if len(list) == 0 {
		return
	}
	fmt.Fprintf(t.w, "\n%s\n", t.paint(paint, color.Bold)(fmt.Sprintf("%s (%d)", title, len(list))))
	for _, f := range list {
		fmt.Fprintf(t.w, "\n%s: %s %s: %s\n", Place(f.Place), t.paint(color.Bold)(f.Rule), f.SubjectName, f.Title)
		w := tabwriter.NewWriter(t.w, 0, 0, 2, ' ', 0)
		for i, a := range f.Answers {
			fmt.Fprintf(w, "    %s\t%s\n", c.Profiles[i].ID, strings.Join(a.cells(), "\t"))
		}
		w.Flush()
	}
}

// cells are the outcome, what it was found by, and the citation.
func (a Answer) cells() []string {
	if a.Outcome == "" {
		return []string{"-"}
	}
	word := string(a.Outcome)
	if a.Level != "" {
		word = string(a.Level)
	}
	figures := ""
	if a.Measured != "" && a.Limit != "" && a.Limit != "none" {
		figures = a.Measured + " against " + a.Limit
	}
	return []string{word, figures, fmt.Sprintf("%s (%s)", a.Section, a.Basis)}
}
