package report

import (
	"fmt"
	"strings"

	"backpitch/engine/calcs"
	"backpitch/engine/finding"
	"backpitch/engine/report/drawing"
)

// Detail is what a letter to an applicant prints of a review beside its
// findings. Nil and empty members are left out.
type Detail struct {
	Sheet  *calcs.Sheet
	Riser  *drawing.RiserData
	Lines  []drawing.PumpedData
	Basins []drawing.BasinData
	Pumps  []drawing.PumpData
}

// LetterHead is what the one who sends a letter writes at its head.
type LetterHead struct {
	Date      string // printed as given: no clock is read
	Applicant string
	Reviewer  string
}

// letter is one review in the words of a letter, which markdown and html print.
// Every item has a number of its own, which runs on through the whole letter.
type letter struct {
	Nth     int    // letter of the document, from 1
	Prefix  string // of every anchor of the letter
	File    string
	Project finding.Project
	Profile finding.ProfileInfo
	Head    LetterHead

	Failure, Hint string
	Problems      []finding.Problem

	Judged   bool
	Opening  []string // paragraphs
	Counts   finding.Counts
	Topics   []topic
	Open     []item
	Decide   []item
	Approved []item
	Existing []item
	Site     []item
	Notices  []finding.Problem

	Loads  []calcs.Table // fixture units
	Pumped []calcs.Table // heads and levels
	Steps  []calcStep
	Gaps   []calcs.Gap
	Plates []plate

	Closing []string

	count int
	marks map[string][]drawing.Mark // by element
}

// topic is the items of one part of the work.
type topic struct {
	Title string
	Items []item
}

// item is one numbered entry.
type item struct {
	N      int
	Anchor string
	Tag    string // correction, warning, note
	Title  string
	Text   string // the sentence of what was found
	Spots  []*spot
	Terms  []term
	// Approval is who answers for it: "" where nobody does.
	Approval string
}

// term is a fact of an item under its name.
type term struct{ Name, Text string }

// spot is an element that an item is about.
type spot struct {
	Element string
	Name    string // drain "wet-2"
	Short   string // wet-2
	Line    string // line 48
	Links   []plateLink
}

// plateLink leads to the mark of an item on a drawing.
type plateLink struct {
	Anchor string
	Plate  int
}

// newLetter puts a review into words; n counts the letters of a document.
func newLetter(e Entry, n int, o Options) *letter {
	l := &letter{
		Nth: n, File: printable(e.File), Project: e.Project, Profile: e.Profile, Head: o.Letter,
		Failure: e.Failure, Hint: e.Hint, Problems: e.Problems, Counts: e.Counts, Notices: e.Notices,
		marks: map[string][]drawing.Mark{},
	}
	if n > 1 {
		l.Prefix = fmt.Sprintf("k%d-", n)
	}
	l.Judged = e.Failure == "" && len(e.Problems) == 0 && e.Rules > 0
	l.Closing = append(nonEmpty(e.Profile.Verify), Cautions...)
	if !l.Judged {
		return l
	}
	l.sort(e.Findings)
	l.opening()
	if e.Detail != nil {
		l.figures(e.Detail)
		l.draw(e.Detail)
	}
	return l
}

// sort numbers the findings in the order in which the letter prints them.
func (l *letter) sort(findings []finding.Finding) {
	var failed, open, decide, approved, existing, site []finding.Finding
	for _, f := range findings {
		switch {
		case f.Outcome == finding.Open:
			open = append(open, f)
		case f.Outcome == finding.PersonDecides && topicOf(f.Rule) == onSite:
			site = append(site, f)
		case f.Outcome == finding.PersonDecides:
			decide = append(decide, f)
		case f.Outcome != finding.Fail:
		case f.Approval != nil:
			approved = append(approved, f)
		case f.Baseline != "":
			existing = append(existing, f)
		default:
			failed = append(failed, f)
		}
	}
	for _, t := range byTopic(failed) {
		l.Topics = append(l.Topics, topic{topicTitle(t.word), l.items(t.findings)})
	}
	l.openItems(open)
	l.Decide, l.Approved, l.Existing, l.Site = l.items(decide), l.items(approved), l.items(existing), l.items(site)
}

// items are the entries of findings. The same fault at several elements is one
// entry with all its places, as one who checks drawings by hand would write it.
func (l *letter) items(findings []finding.Finding) []item {
	var order []string
	groups := map[string][]finding.Finding{}
	for _, f := range findings {
		key := sameFault(f)
		if groups[key] == nil {
			order = append(order, key)
		}
		groups[key] = append(groups[key], f)
	}
	var list []item
	for _, key := range order {
		list = append(list, l.item(groups[key]))
	}
	return list
}

// sameFault is equal for findings that differ by their element alone.
func sameFault(f finding.Finding) string {
	rest, ok := strings.CutPrefix(f.Message, f.SubjectName+" ")
	if !ok || f.Excused() || f.Outcome != finding.Fail {
		return f.Rule + "\n" + f.Subject
	}
	return strings.Join([]string{f.Rule, rest, partName(f), string(f.Level), figuresText(f)}, "\n")
}

// item is the entry of one fault.
func (l *letter) item(same []finding.Finding) item {
	f := same[0]
	i := l.number(item{Tag: tagOf(f), Title: f.Title, Text: sentence(f.Message), Approval: Excuse(f)})
	if f.Outcome == finding.PersonDecides && topicOf(f.Rule) == onSite {
		i.Text = sentence(strings.TrimPrefix(f.Message, f.SubjectName+": "))
	}
	if len(same) > 1 {
		i.Text = sentence(fmt.Sprintf("%d places: each%s", len(same), strings.TrimPrefix(f.Message, f.SubjectName)))
	}
	for _, one := range same {
		l.mark(&i, one)
	}
	if text := figuresText(f); text != "" {
		i.Terms = append(i.Terms, term{"Figures", text})
	}
	i.Terms = append(i.Terms, term{"Required by", required(f)})
	if f.Remedy != "" && f.Outcome == finding.Fail && !f.Excused() {
		i.Terms = append(i.Terms, term{"To satisfy it", f.Remedy})
	}
	return i
}

// figuresText is what was found and the limit, where that says more than the
// message: how exact the one is, and how far the other can be trusted.
func figuresText(f finding.Finding) string {
	if !figures(f) || f.LimitBasis == "" && f.Range == nil {
		return ""
	}
	text := "found " + f.Measured.Text
	if f.Range != nil {
		text += fmt.Sprintf(" (%s to %s)", f.Range.Low.Text, f.Range.High.Text)
	}
	text += ", limit " + f.Limit.Text
	if f.LimitBasis != "" {
		text += fmt.Sprintf(" (%s)", basisWords(f.LimitBasis))
	}
	return text
}

// number gives an item the next number.
func (l *letter) number(i item) item {
	l.count++
	i.N = l.count
	i.Anchor = fmt.Sprintf("%sfinding-%d", l.Prefix, i.N)
	return i
}

// mark adds the element of a finding to an item, and the item's number to the
// drawings.
func (l *letter) mark(i *item, f finding.Finding) {
	id := finding.ElementOf(f.Subject)
	for _, s := range i.Spots {
		if s.Element == id {
			return
		}
	}
	s := &spot{Element: id, Name: f.SubjectName, Short: id}
	if f.Place.Line > 0 {
		s.Line = fmt.Sprintf("line %d", f.Place.Line)
	}
	i.Spots = append(i.Spots, s)
	l.marks[id] = append(l.marks[id], drawing.Mark{
		Text: fmt.Sprint(i.N), Href: "#" + i.Anchor, Name: fmt.Sprintf("item %d: %s", i.N, i.Title),
	})
}

// required is the section, how far it can be trusted, and the note to verify it.
func required(f finding.Finding) string {
	section := f.Section
	switch {
	case section == string(finding.CommonPractice):
		section = "common practice of the trade, no section of the code"
	case f.Basis == finding.CommonPractice:
		section += " (common practice)"
	default:
		if section != "" && section[0] >= '0' && section[0] <= '9' {
			section = "section " + section
		}
		section += fmt.Sprintf(" (%s)", basisWords(f.Basis))
	}
	return strings.Join(nonEmpty(section, f.Verify), "; ")
}

// opening says what the letter is and what it found.
func (l *letter) opening() {
	c := l.Counts
	code := l.Profile.Title
	if l.Profile.Edition != "" && !strings.Contains(code, l.Profile.Edition) {
		code += ", " + l.Profile.Edition
	}
	first := fmt.Sprintf("This is what a pre-check of the drawing against the %s found.", code)
	if l.count > len(l.Site) {
		first += " Please answer each numbered item: change the drawing, or say why it should stand."
	}
	failed := c.Errors + c.Warnings + c.Notes
	var second []string
	if failed == 0 {
		second = append(second, "No rule of this profile was found to be broken.")
	} else {
		second = append(second, fmt.Sprintf("%s: %s.", are(failed, "point does not meet a rule", "points do not meet a rule"),
			listWords(counted(c.Errors, "correction"), counted(c.Warnings, "warning"), counted(c.Notes, "note"))))
	}
	if n := c.Open; n > 0 {
		second = append(second, fmt.Sprintf("%s be judged, because the drawing does not show enough.", are(n, "point could not", "points could not")))
	}
	if n := len(l.Decide); n > 0 {
		second = append(second, fmt.Sprintf("%s a reviewer to decide.", are(n, "item is for", "items are for")))
	}
	if n := len(l.Approved) + len(l.Existing); n > 0 {
		second = append(second, fmt.Sprintf("%s the code, and somebody answers for it; see below for who and on which condition.", are(n, "item does not meet", "items do not meet")))
	}
	if n := len(l.Site); n > 0 {
		second = append(second, fmt.Sprintf("%s be seen on site.", are(n, "thing can only", "things can only")))
	}
	second = append(second, fmt.Sprintf("%s met.", are(c.Pass, "point was", "points were")))
	l.Opening = []string{first, strings.Join(second, " ")}
	if fig := l.Profile.Figures; fig.Total() > 0 {
		l.Opening = append(l.Opening, fmt.Sprintf("The check rests on %d figures and citations: %d read in a published text, %d from memory, %d common practice of the trade. Each item says which. Please verify them with the local authority before you build on them.",
			fig.Total(), fig.Checked, fig.FromMemory, fig.CommonPractice))
	}
}
