// Package backcheck compares the reviews of two submissions of one design.
//
// What enters: two finding.Review values, judged or saved. What leaves: a
// finding.Backcheck: what is corrected, outstanding, new or no longer judged. It
// reads no design and judges nothing: a finding is corrected only when the rule
// was judged again and is met.
package backcheck

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"backpitch/engine/finding"
)

// key is what a finding of both reviews is known by: the rule, and the subject
// as the later review calls it.
type key struct{ rule, subject string }

// Compare says what became of the findings of the earlier review.
func Compare(earlier, later finding.Review) finding.Backcheck {
	c := &comparison{
		m: match(partsOf(earlier), partsOf(later)), sameUnits: earlier.Profile.Units == later.Profile.Units,
		then: map[key]finding.Finding{}, now: map[key]finding.Finding{}, rulesNow: map[string]bool{}, rulesThen: map[string]bool{},
	}
	b := finding.Backcheck{Earlier: sideOf(earlier), Later: sideOf(later), Items: []finding.Item{}, Elements: c.m.changes(), Notices: notices(earlier, later)}
	for _, f := range earlier.Findings {
		c.then[key{f.Rule, c.subjectNow(f.Subject)}] = f
		c.rulesThen[f.Rule] = true
	}
	for _, f := range later.Findings {
		c.now[key{f.Rule, f.Subject}] = f
		c.rulesNow[f.Rule] = true
	}
	for _, f := range later.Findings {
		k := key{f.Rule, f.Subject}
		then, was := c.then[k]
		if item, ok := c.item(k, then, was, f, true); ok {
			b.Items = append(b.Items, item)
		} else if was && then.Outcome == finding.Pass {
			b.Counts.Met++
		}
	}
	for _, f := range earlier.Findings {
		k := key{f.Rule, c.subjectNow(f.Subject)}
		if _, is := c.now[k]; is {
			continue
		}
		if item, ok := c.item(k, f, true, finding.Finding{}, false); ok {
			b.Items = append(b.Items, item)
		}
	}
	order(b.Items)
	count(&b)
	return b
}

type comparison struct {
	m                   *matching
	sameUnits           bool
	then, now           map[key]finding.Finding
	rulesThen, rulesNow map[string]bool
	newIDs              *strings.Replacer // in texts; made when first needed
}

// subjectNow is a subject of the earlier review as the later one calls it:
// "b3/bend-1" is "b7/bend-1" where b3 is now b7.
func (c *comparison) subjectNow(subject string) string {
	element := finding.ElementOf(subject)
	return c.m.now(element) + strings.TrimPrefix(subject, element)
}

func raised(f finding.Finding) bool { return f.Outcome != finding.Pass }

// item makes the item of a finding; ok is false where it was raised in neither.
func (c *comparison) item(k key, then finding.Finding, was bool, now finding.Finding, is bool) (item finding.Item, ok bool) {
	status := finding.Outstanding
	raisedThen, raisedNow := was && raised(then), is && raised(now)
	switch {
	case raisedThen && raisedNow:
	case raisedNow:
		status = finding.New
	case raisedThen && is:
		status = finding.Corrected
	case raisedThen:
		status = finding.Dropped
	default:
		return item, false
	}
	f := now
	if !is {
		f = then
	}
	item = finding.Item{
		Status: status, Part: c.m.part(finding.ElementOf(k.subject)),
		Rule: f.Rule, Title: f.Title, Subject: f.Subject, SubjectName: f.SubjectName, Section: f.Section, Basis: f.Basis,
		Verify: f.Verify, Fingerprint: f.Fingerprint,
	}
	if raisedNow {
		item.Remedy = f.Remedy
	}
	if was {
		item.Earlier = answer(then)
		if is && then.Subject != now.Subject {
			item.EarlierSubject = then.Subject
		}
	}
	if is {
		item.Later = answer(now)
	}
	item.Changed = status == finding.Outstanding && c.changed(then, now)
	item.Why = c.why(item, was)
	return item, true
}

// why says in what way a finding is new, or is not judged any more.
func (c *comparison) why(i finding.Item, was bool) string {
	switch i.Status {
	case finding.New:
		switch {
		case was:
			return "was met"
		case i.Part == finding.Added:
			return "element added"
		case !c.rulesThen[i.Rule]:
			return "rule judged nothing before"
		}
		return "rule did not apply before"
	case finding.Dropped:
		switch {
		case i.Part == finding.Removed:
			return "element removed"
		case !c.rulesNow[i.Rule]:
			return "rule judges nothing now"
		}
		return "rule no longer applies"
	}
	return ""
}

// changed says whether an outstanding finding has another answer. Ids that
// have changed make no other answer.
func (c *comparison) changed(a, b finding.Finding) bool {
	if a.Outcome != b.Outcome || a.Level != b.Level || !slices.Equal(a.Missing, b.Missing) {
		return true
	}
	if a.Measured != nil || b.Measured != nil {
		return !c.equal(a.Measured, b.Measured) || !c.equal(a.Limit, b.Limit)
	}
	return c.sameUnits && c.inNewIDs(a.Message, a.Subject, b.Subject) != b.Message
}

func (c *comparison) equal(a, b *finding.Quantity) bool {
	switch {
	case a == nil || b == nil:
		return a == b
	case a.Fixed != nil && b.Fixed != nil:
		return a.Kind == b.Kind && *a.Fixed == *b.Fixed
	}
	return c.inNewIDs(a.Text, "", "") == b.Text
}

// inNewIDs puts the later ids into a text of the earlier review.
func (c *comparison) inNewIDs(text, subject, subjectNow string) string {
	if subject != subjectNow && strings.Contains(subject, "/") {
		text = strings.ReplaceAll(text, strconv.Quote(subject), strconv.Quote(subjectNow))
	}
	if c.newIDs == nil {
		var pairs []string
		for _, id := range c.m.earlier.ids() {
			if now := c.m.now(id); now != id {
				pairs = append(pairs, strconv.Quote(id), strconv.Quote(now))
			}
		}
		c.newIDs = strings.NewReplacer(pairs...)
	}
	return c.newIDs.Replace(text)
}

func answer(f finding.Finding) *finding.Answer {
	return &finding.Answer{Outcome: f.Outcome, Level: f.Level, Message: f.Message, Measured: f.Measured, Limit: f.Limit,
		Missing: f.Missing, Place: f.Place, Approval: f.Approval, Baseline: f.Baseline}
}

func sideOf(r finding.Review) finding.Side {
	return finding.Side{File: r.File, Project: r.Project, Profile: r.Profile, Rules: r.Rules, Subjects: r.Subjects, Counts: r.Counts}
}

var rank = map[finding.Status]int{finding.Outstanding: 0, finding.New: 1, finding.Corrected: 2, finding.Dropped: 3}

// order sorts items by status, then by the place in the later submission or,
// where they are not in it, in the earlier one.
func order(items []finding.Item) {
	at := func(i finding.Item) finding.Place {
		if i.Later != nil {
			return i.Later.Place
		}
		return i.Earlier.Place
	}
	slices.SortStableFunc(items, func(a, b finding.Item) int {
		p, q := at(a), at(b)
		return cmp.Or(cmp.Compare(rank[a.Status], rank[b.Status]), cmp.Compare(p.Line, q.Line), cmp.Compare(p.Col, q.Col),
			cmp.Compare(a.Rule, b.Rule), cmp.Compare(a.Subject, b.Subject))
	})
}

func count(b *finding.Backcheck) {
	for _, i := range b.Items {
		switch i.Status {
		case finding.Outstanding:
			b.Counts.Outstanding++
			if i.Changed {
				b.Counts.ChangedAnswers++
			}
		case finding.New:
			b.Counts.New++
			if i.Part == finding.Unchanged {
				b.Counts.NewOnUnchanged++
			}
		case finding.Corrected:
			b.Counts.Corrected++
		case finding.Dropped:
			b.Counts.Dropped++
		}
	}
}

// notices say why the two reviews may not be about the same.
func notices(earlier, later finding.Review) []finding.Problem {
	list := []finding.Problem{}
	add := func(file, code, hint, format string, args ...any) {
		list = append(list, finding.Problem{Place: finding.Place{File: file}, Code: code, Message: fmt.Sprintf(format, args...), Hint: hint})
	}
	if a, b := earlier.Project.Key(), later.Project.Key(); a != b {
		add(later.File, "other_project", "", "this is project %q, the earlier submission is project %q", b, a)
	}
	a, b := earlier.Profile, later.Profile
	if a.ID != b.ID || a.Edition != b.Edition {
		add(later.File, "other_profile", "give --profile, or save the review again", "this was judged under %s (%s), the earlier submission under %s (%s): some findings differ for that reason alone",
			b.ID, b.Edition, a.ID, a.Edition)
	}
	for _, r := range []finding.Review{earlier, later} {
		if len(r.Elements) == 0 {
			add(r.File, "no_elements", "save the review again, or name the design itself", "this review was saved without its elements: what is unchanged cannot be told")
		}
	}
	return append(list, slices.Clone(later.Notices)...)
}
