package report

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"strings"
	"testing"

	"backpitch/engine/calcs"
	"backpitch/engine/finding"
	"backpitch/engine/report/drawing"
)

// TestLetterGoldens keeps a batch with a failure that somebody approved, one of
// existing work, a document that cannot be read and hostile text.
func TestLetterGoldens(t *testing.T) {
	for _, f := range []string{"markdown", "html"} {
		o := Options{Letter: LetterHead{Date: "2026-02-03", Applicant: "A & B", Reviewer: "<i>desk</i>"}}
		golden(t, "batch."+f, render(t, f, batch(), o))
	}
}

// drawn is an entry with a drawing and a schedule, for what needs them.
func drawn(names ...string) Entry {
	e := sample()[0]
	e.Project.Name = strings.Join(names, "")
	e.Detail = &Detail{
		Sheet: &calcs.Sheet{Tables: []calcs.Table{{About: "fixtures", Title: "Fixture schedule", Columns: []string{"fixture"}, Rows: [][]string{{"f1"}}}}},
		Riser: &drawing.RiserData{
			Frame: drawing.Frame{Title: "Riser " + strings.Join(names, "")},
			Nodes: []drawing.Node{{ID: "f1", Kind: drawing.Fixture, Fixture: "lavatory"}, {ID: "f2", Kind: drawing.Fixture, Fixture: "shower"},
				{ID: "j", Kind: drawing.Junction}, {ID: "out", Kind: drawing.Connection}},
			Pipes: []drawing.Pipe{{ID: "b1", Service: drawing.Drain, From: "f1", To: "j"}, {ID: "b2", Service: drawing.Drain, From: "f2", To: "j"},
				{ID: "b3", Service: drawing.Drain, From: "j", To: "out"}},
		},
	}
	return e
}

// TestItemsAndMarks: each item of a drawn element links to its mark, and the
// mark to the item.
func TestItemsAndMarks(t *testing.T) {
	page := string(render(t, "html", []Entry{drawn("House"), drawn("House")}, Options{}))
	for _, k := range []string{"", "k2-"} {
		for n, element := range []string{"b1", "b2"} {
			item, mark := fmt.Sprintf("%sfinding-%d", k, n+1), k+"d1-"+element
			for _, want := range []string{`id="` + item + `"`, `<a href="#` + item + `"`, `id="` + mark + `"`, `<a href="#` + mark + `"`} {
				if strings.Count(page, want) != 1 {
					t.Errorf("%d of %s", strings.Count(page, want), want)
				}
			}
		}
	}
}

var tag = regexp.MustCompile(`<[a-zA-Z!/][^>]*>`)

// TestHostileTextStaysText: what is an element in the page of a hostile design
// is one in that of a tame design, and in the same order. HTML, section 13.1.3:
// text must not contain "<"; bidirectional controls are those of UAX #9.
func TestHostileTextStaysText(t *testing.T) {
	hostile := "</title></style><script>alert(1)</script><img src=x onerror=alert(1)>\u202e\u2066]]>--><svg onload=x>\x00\"'`" + strings.Repeat("w", 3000)
	tame := "House"
	write := func(text string) []byte {
		e := drawn(text)
		e.File = text + ".json"
		for i := range e.Findings {
			f := &e.Findings[i]
			f.Message, f.Section, f.Remedy, f.Verify, f.Title = text, text, text, text, text
		}
		e.Findings[1].Missing = []string{text}
		e.Notices = []finding.Problem{{Message: text, Hint: text, Place: finding.Place{File: text}}}
		e.Profile.Title, e.Profile.Edition, e.Profile.Authority, e.Profile.Verify = text, "1", text, text
		e.Detail.Sheet.Tables[0].Rows[0][0], e.Detail.Sheet.Tables[0].Title = text, text
		e.Detail.Riser.Nodes[0].Label = text
		bad := Entry{Review: finding.Review{File: text, Failure: text, Hint: text, Problems: []finding.Problem{{Message: text}}}}
		return render(t, "html", []Entry{e, bad}, Options{Letter: LetterHead{Applicant: text, Reviewer: text}})
	}
	names := func(page []byte) string {
		var b strings.Builder
		drawing := false
		for _, x := range tag.FindAll(page, -1) {
			name, _, _ := strings.Cut(strings.Trim(string(x), "<>"), " ")
			if name == "svg" || name == "/svg" {
				drawing = name == "svg"
			}
			if !drawing { // a long label makes more lines in a drawing
				b.WriteString(name + "\n")
			}
		}
		return b.String()
	}
	page := write(hostile)
	if names(page) != names(write(tame)) {
		t.Error("hostile text changes the elements of the page")
	}
	for _, bad := range []string{"<script", "<img", "onerror=alert(1)>", "\u202e", "\u2066", "\x00"} {
		if bytes.Contains(page, []byte(bad)) {
			t.Errorf("the page contains %q", bad)
		}
	}
}

// TestCSSStringEndsWhereItShould. Source: CSS Syntax Module Level 3, section
// 4.3.7: an escape of one to six hexadecimal digits takes one blank with it.
func TestCSSStringEndsWhereItShould(t *testing.T) {
	for text, want := range map[string]string{
		`a b9`: `"a b9"`, `a"b`: `"a\000022 b"`, "</style>": `"\00003c \00002f style\00003e "`, "a\nb": `"a\00000a b"`, "é": `"\0000e9 "`, `\`: `"\00005c "`,
	} {
		if got := cssString(text); got != want {
			t.Errorf("cssString(%q) = %s, want %s", text, got, want)
		}
	}
}

// TestApprovedIsNoVerdict: without somebody who approved it the word does not
// occur, whatever came out.
func TestApprovedIsNoVerdict(t *testing.T) {
	clean := drawn("House")
	clean.Findings = clean.Findings[3:]
	clean.Counts = finding.Count(clean.Findings)
	for _, format := range []string{"markdown", "html"} {
		for _, e := range []Entry{drawn("House"), clean, sample()[1]} {
			if out := strings.ToLower(string(render(t, format, []Entry{e}, Options{}))); strings.Contains(out, "approve") {
				t.Errorf("%s says approved", format)
			}
		}
		marked := drawn("House")
		marked.Findings[0].Approval = &finding.Approval{GrantedBy: "the desk", Date: "2026-01-02", Reference: "A-1", Condition: "a cleanout stays"}
		out := string(render(t, format, []Entry{marked}, Options{}))
		for _, want := range []string{"pproved with conditions by the desk", "a cleanout stays"} {
			if !strings.Contains(out, want) {
				t.Errorf("%s does not say %q", format, want)
			}
		}
	}
}

// TestNoClock: without a date none is printed.
func TestNoClock(t *testing.T) {
	for _, format := range []string{"markdown", "html"} {
		out := string(render(t, format, []Entry{drawn("House")}, Options{}))
		if year := regexp.MustCompile(`\b20[2-9]\d-|Date`).FindString(out); year != "" {
			t.Errorf("%s prints %q", format, year)
		}
	}
}

// TestOpenGroups: elements of one kind that lack the same are one item, others
// are not, and what the profile lacks is told apart from what the drawing lacks.
func TestOpenGroups(t *testing.T) {
	open := func(rule, subject, name string, missing ...string) finding.Finding {
		return finding.Finding{Rule: rule, Title: "Title of " + rule, Outcome: finding.Open, Subject: subject, SubjectName: name, Missing: missing, Section: "1", Basis: finding.Checked,
			Place: finding.Place{Line: 3}}
	}
	l := newLetter(Entry{Review: finding.Review{Rules: 1, Findings: []finding.Finding{
		open("drain/a", "d1", `drain "d1"`, "slope"), open("drain/a", "d2", `drain "d2"`, "slope"), open("drain/a", "d3", `drain "d3"`, "slope", "material"),
		open("fixture/a", "f1", `fixture "f1"`, "trap type", "table x has no entry for y"), open("trap_arm/a", "f1", `trap arm of "f1"`, "length", "fall"),
	}}}, 1, Options{})
	var got []string
	for _, i := range l.Open {
		s := fmt.Sprintf("%d %s %d", i.N, i.Title, len(i.Spots))
		for _, t := range i.Terms {
			s += "|" + t.Name + ": " + t.Text
		}
		got = append(got, s)
	}
	want := []string{
		"1 Drains 2|For each show: its slope|To judge: title of drain/a (1, checked against published text)",
		`2 Drain "d3" 1|Please show: its slope, its material|To judge: title of drain/a (1, checked against published text)`,
		`3 Fixture "f1" 1|Please show: the type of trap; of the trap arm: its length|Then follows: the fall|Not in the profile: table x has no entry for y|` +
			"To judge: title of fixture/a (1, checked against published text); title of trap_arm/a (1, checked against published text)",
	}
	if fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// TestSameFaultIsOneItem: a fault at several elements is one item with all its
// places; one with other figures, or that somebody approved, stands alone.
func TestSameFaultIsOneItem(t *testing.T) {
	fail := func(subject, rest string) finding.Finding {
		name := fmt.Sprintf("drain %q", subject)
		return finding.Finding{Rule: "drain/a", Title: "A", Level: finding.Error, Outcome: finding.Fail, Subject: subject, SubjectName: name, Message: name + " " + rest}
	}
	list := []finding.Finding{fail("d1", "falls 1 %"), fail("d2", "falls 2 %"), fail("d3", "falls 1 %"), fail("d4", "falls 1 %"), fail("d5", "falls 1 %")}
	list[3].Approval = &finding.Approval{GrantedBy: "desk"}
	l := newLetter(Entry{Review: finding.Review{Rules: 1, Findings: list}}, 1, Options{})
	var got []string
	l.eachItem(func(i *item) {
		s := fmt.Sprintf("%d %s", i.N, i.Text)
		for _, x := range i.Spots {
			s += " " + x.Element
		}
		got = append(got, s)
	})
	want := `1 3 places: each falls 1 %. d1 d3 d5|2 Drain "d2" falls 2 %. d2|3 Drain "d4" falls 1 %. d4`
	if strings.Join(got, "|") != want {
		t.Errorf("got %s", strings.Join(got, "|"))
	}
}

// TestTopicsOfOthers: rules of somebody's own come last, under their own word.
func TestTopicsOfOthers(t *testing.T) {
	var words []string
	for _, g := range byTopic([]finding.Finding{{Rule: "own_words/x"}, {Rule: "vent/x"}, {Rule: "another/x"}, {Rule: "fixture/x"}}) {
		words = append(words, topicTitle(g.word))
	}
	if got := strings.Join(words, ", "); got != "Fixtures and traps, Vents, Another, Own words" {
		t.Error(got)
	}
}

type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, errors.New("full") }

// TestLettersReportFaults: a writer that fails is not taken for success.
func TestLettersReportFaults(t *testing.T) {
	for _, name := range []string{"markdown", "html"} {
		f, err := For(name)
		if err != nil {
			t.Fatal(err)
		}
		if err := Write(fullDisk{}, f, batch(), Options{}); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}
