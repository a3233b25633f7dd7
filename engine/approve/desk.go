package approve

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"

	"backpitch/engine/design"
	"backpitch/engine/finding"
)

// Desk marks reviews with the reviewer's own files. It is safe for many
// goroutines.
type Desk struct {
	Approvals *Approvals // nil where there are none
	AsOf      string     // the day on which approvals must hold; "" where none expires
	Baseline  *Baseline  // nil where there is none
	Several   bool       // more than one design is reviewed

	once      sync.Once
	approvals map[string][]approval // by project
	entries   map[string][]entry    // by project

	mu    sync.Mutex
	files map[string][]string // designs of the run, by project
}

// index sorts approvals and entries by project, so that a long baseline costs
// each of many designs nothing.
func (d *Desk) index() {
	d.approvals, d.entries, d.files = map[string][]approval{}, map[string][]entry{}, map[string][]string{}
	if d.Approvals != nil {
		for _, a := range d.Approvals.list {
			d.approvals[a.project] = append(d.approvals[a.project], a)
		}
	}
	if d.Baseline != nil {
		for _, e := range d.Baseline.entries {
			d.entries[e.Project] = append(d.entries[e.Project], e)
		}
	}
}

// Check reports what of the files cannot be used for this run: with several
// designs, an approval or entry that names no project could excuse a failure of
// a design that nobody had in mind.
func (d *Desk) Check() []finding.Problem {
	if !d.Several {
		return nil
	}
	var list []finding.Problem
	refuse := func(place finding.Place, what string) {
		list = append(list, finding.Problem{Place: place, Code: "no_project", Message: what + " names no project, and several designs are reviewed",
			Hint: `add "project": the reference of the project or, where the design has none, its name`})
	}
	if d.Approvals != nil {
		for _, a := range d.Approvals.list {
			if a.project == "" {
				refuse(a.mark.Place, a.what())
			}
		}
	}
	if d.Baseline != nil {
		for _, e := range d.Baseline.entries {
			if e.Project == "" {
				refuse(e.place, e.what())
			}
		}
	}
	return list
}

// Mark returns the review with marks on the failures that somebody answers
// for, its counts, and notices about what in the files did not fit. The review
// given is left as it was.
func (d *Desk) Mark(r finding.Review) finding.Review {
	d.once.Do(d.index)
	d.mu.Lock()
	d.files[r.Project.Key()] = append(d.files[r.Project.Key()], r.File)
	d.mu.Unlock()
	if r.Rules == 0 {
		return r // it was not judged
	}
	m := marking{Review: r, byKey: map[[2]string]int{}, asOf: d.AsOf}
	m.Findings = slices.Clone(r.Findings)
	m.Notices = nil
	for i, f := range m.Findings {
		if d.Approvals != nil {
			m.Findings[i].Approval = nil // a saved review may carry older marks
		}
		if d.Baseline != nil {
			m.Findings[i].Baseline = ""
		}
		m.byKey[[2]string{f.Rule, f.Subject}] = i
	}
	key := r.Project.Key()
	meant := slices.Concat(d.approvals[""], d.approvals[key])
	for _, a := range meant {
		m.approve(a)
	}
	for _, a := range meant {
		m.tell(a)
	}
	if kept := slices.Concat(d.entries[""], d.entries[key]); len(kept) > 0 {
		m.digests = map[string]string{}
		for _, e := range r.Elements {
			m.digests[e.ID] = e.Digest()
		}
		for _, e := range kept {
			m.keep(d.Baseline.name, e)
		}
	}
	finding.SortProblems(m.Notices)
	m.Counts = finding.Count(m.Findings)
	return m.Review
}

// Rest reports, after the last review, what was meant for no design of the run
// and what was meant for more than one, in the order of the files.
func (d *Desk) Rest() []finding.Problem {
	d.once.Do(d.index)
	d.mu.Lock()
	defer d.mu.Unlock()
	var list []finding.Problem
	if d.Approvals != nil {
		for _, a := range d.Approvals.list {
			files := slices.Sorted(slices.Values(d.files[a.project]))
			switch {
			case a.project == "":
			case len(files) == 0:
				list = append(list, finding.Problem{Place: a.mark.Place, Code: "other_project",
					Message: fmt.Sprintf("%s is for project %q, which no design of this run has", a.what(), a.project)})
			case len(files) > 1:
				list = append(list, finding.Problem{Place: a.mark.Place, Code: "shared_project",
					Message: fmt.Sprintf("%s is for project %q, and %d designs of this run have it: %s", a.what(), a.project, len(files), some(files)),
					Hint:    "look whether it was granted for each of them"})
			}
		}
	}
	return append(list, d.restOfBaseline()...)
}

// restOfBaseline is one problem of each kind: a baseline may hold the projects
// of a whole town.
func (d *Desk) restOfBaseline() []finding.Problem {
	if d.Baseline == nil {
		return nil
	}
	var none, several []string
	for project := range d.entries {
		switch n := len(d.files[project]); {
		case project == "":
		case n == 0:
			none = append(none, strconv.Quote(project))
		case n > 1:
			several = append(several, strconv.Quote(project))
		}
	}
	var list []finding.Problem
	tell := func(code, what, hint string, projects []string) {
		if len(projects) > 0 {
			slices.Sort(projects)
			list = append(list, finding.Problem{Place: finding.Place{File: d.Baseline.name}, Code: code, Message: what + some(projects), Hint: hint})
		}
	}
	tell("other_project", "the baseline has projects that no design of this run has: ", "", none)
	tell("shared_project", "the baseline has projects that several designs of this run have: ", "look whether each of them is existing work", several)
	return list
}

// some lists the first of many names.
func some(names []string) string {
	const most = 5
	if len(names) <= most {
		return strings.Join(names, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:most], ", "), len(names)-most)
}

// marking is one review being marked.
type marking struct {
	finding.Review
	byKey   map[[2]string]int
	asOf    string
	digests map[string]string
}

func (m *marking) notice(place finding.Place, code, message, hint string) {
	m.Notices = append(m.Notices, finding.Problem{Place: place, Code: code, Message: message, Hint: hint})
}

// holds says whether an approval is in force on the day.
func (m *marking) holds(a approval) bool {
	return m.asOf == "" || a.mark.Date <= m.asOf && (a.mark.Expires == "" || m.asOf <= a.mark.Expires)
}

// approve marks the failure that an approval is for; of several that hold, the
// latest counts.
func (m *marking) approve(a approval) {
	i, ok := m.byKey[[2]string{a.rule, a.subject}]
	if !ok || m.Findings[i].Outcome != finding.Fail || !m.holds(a) {
		return
	}
	if f := &m.Findings[i]; f.Approval == nil || f.Approval.Date <= a.mark.Date {
		mark := a.mark
		f.Approval = &mark
	}
}

// tell reports an approval that marks nothing.
func (m *marking) tell(a approval) {
	i, ok := m.byKey[[2]string{a.rule, a.subject}]
	if !ok {
		m.notice(a.mark.Place, "approval_unmatched", a.what()+" matches nothing that was judged", m.nearest(a))
		return
	}
	f := m.Findings[i]
	so := "the failure counts"
	if f.Approval != nil {
		so = f.Approval.Reference + " holds instead"
	}
	switch {
	case f.Outcome == finding.Pass:
		m.notice(a.mark.Place, "approval_not_needed", fmt.Sprintf("%s is no longer needed: %s", a.what(), f.Message), "")
	case f.Outcome != finding.Fail:
		m.notice(a.mark.Place, "approval_not_taken", fmt.Sprintf("%s is not taken: %s", a.what(), f.Message), "an approval is for a failure")
	case m.holds(a):
	case m.asOf < a.mark.Date:
		m.notice(a.mark.Place, "approval_not_yet", fmt.Sprintf("%s is granted on %s, after %s: %s", a.what(), a.mark.Date, m.asOf, so), "")
	default:
		m.notice(a.mark.Place, "approval_expired", fmt.Sprintf("%s expired on %s, before %s: %s", a.what(), a.mark.Expires, m.asOf, so), "")
	}
}

// nearest guesses what an approval that matches nothing was meant for.
func (m *marking) nearest(a approval) string {
	rules, subjects := map[string]bool{}, map[string]bool{}
	for _, f := range m.Findings {
		rules[f.Rule] = true
		if f.Rule == a.rule {
			subjects[f.Subject] = true
		}
	}
	if rules[a.rule] {
		return design.DidYouMean(a.subject, sorted(subjects))
	}
	return design.DidYouMean(a.rule, sorted(rules))
}

func sorted(set map[string]bool) []string {
	list := make([]string, 0, len(set))
	for s := range set {
		list = append(list, s)
	}
	slices.Sort(list)
	return list
}

// keep marks a failure that the baseline has, while the work is as it was.
func (m *marking) keep(name string, e entry) {
	i, ok := m.byKey[[2]string{e.Rule, e.Subject}]
	if !ok || m.Findings[i].Outcome != finding.Fail {
		m.notice(e.place, "baseline_not_needed", fmt.Sprintf("the baseline no longer needs %s: %s", e.what(), m.answer(i, ok)), "")
		return
	}
	f := &m.Findings[i]
	now, known := m.digests[finding.ElementOf(f.Subject)]
	switch {
	case e.Measured != "" && e.Measured != measured(*f):
		m.notice(e.place, "baseline_changed", fmt.Sprintf("%s is in the baseline with %s, now it is %s: the failure counts",
			e.what(), value(e.Measured), value(measured(*f))), "")
	case e.Element != "" && known && e.Element != now:
		m.notice(e.place, "baseline_changed", e.what()+" is in the baseline, but the element has changed: the failure counts", "")
	case f.Approval == nil:
		f.Baseline = name
	}
}

func (m *marking) answer(i int, ok bool) string {
	if !ok {
		return "it is not judged"
	}
	return m.Findings[i].Message
}

func value(text string) string {
	if text == "" {
		return "no value"
	}
	return text
}
