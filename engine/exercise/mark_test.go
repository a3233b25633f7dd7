package exercise

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"
	"testing"
	"unicode"

	"github.com/google/go-cmp/cmp"

	"backpitch/engine/finding"
	"backpitch/engine/plant"
)

func fixed(n int64) *int64 { return &n }

// classKey is a key with one fault of each sort, written by hand.
func classKey() *Key {
	return &Key{
		Format: keyFormat, Exercise: "0123456789abcdef0123456789abcdef", Made: Made{Design: "house.json"}, Scheme: DefaultScheme(),
		Undecided: []Ref{{Rule: "field/bedding_not_seen", Subject: "project"}},
		Faults: []KeyFault{
			{Number: 1, Outcome: finding.Fail, Elements: []string{"wet-2"}, Patch: []plant.Operation{}, Findings: []KeyFinding{{
				Outcome: finding.Fail, Rule: "drain/too_flat", Title: "Horizontal drain too flat", Subject: "wet-2", SubjectName: `drain "wet-2"`, Section: "704.1",
				Message:  `drain "wet-2" falls 1/8 in/ft; 1/4 in/ft or more is required for its size`,
				Measured: &finding.Quantity{Kind: "slope", Fixed: fixed(10417), Text: "1/8 in/ft"}, Limit: &finding.Quantity{Kind: "slope", Fixed: fixed(20833), Text: "1/4 in/ft"}}}},
			{Number: 2, Outcome: finding.Fail, Sum: true, Elements: []string{"main-1"}, Findings: []KeyFinding{
				{Outcome: finding.Fail, Rule: "drain/overloaded", Title: "Drain overloaded", Subject: "main-1", SubjectName: `drain "main-1"`, Section: "Table 710.1(2)",
					Message:  `drain "main-1" carries 6 dfu; at most 4 dfu`,
					Measured: &finding.Quantity{Kind: "load", Fixed: fixed(6000), Text: "6 dfu"}, Limit: &finding.Quantity{Kind: "load", Fixed: fixed(4000), Text: "4 dfu"}},
				{Outcome: finding.Fail, Rule: "drain/reduces_in_flow", Title: "Drain reduces in flow", Subject: "main-1", SubjectName: `drain "main-1"`, Section: "704.2", Message: "it reduces",
					Measured: &finding.Quantity{Kind: "size", Fixed: fixed(40), Text: "1-1/2 in"}, Limit: &finding.Quantity{Kind: "size", Fixed: fixed(50), Text: "2 in"}}}},
			{Number: 3, Outcome: finding.Open, Why: "trap seal is not stated", Elements: []string{"sink"}, Findings: []KeyFinding{{
				Outcome: finding.Open, Rule: "fixture/trap_seal_out_of_range", Title: "Trap seal out of range", Subject: "sink", SubjectName: `fixture "sink"`, Section: "1002.4", Message: "cannot be judged", Missing: []string{"trap seal"}}}},
			{Number: 4, Outcome: finding.Fail, Elements: []string{"basin"}, Findings: []KeyFinding{{
				Outcome: finding.Fail, Rule: "basin/not_gas_tight", Title: "Basin cover not gas-tight", Subject: "basin", SubjectName: `basin "basin"`, Section: "712.3.2", Message: `the cover of basin "basin" lets gas through`,
				Measured: &finding.Quantity{Kind: "flag", Text: "no"}, Limit: &finding.Quantity{Kind: "flag", Text: "yes"}}}},
		},
	}
}

// TestMark marks one answer at a time; the marks are counted by hand from the
// scheme of the key: 3 found, 1 section, 1 found, 1 required, 1 sum, 1 missing.
func TestMark(t *testing.T) {
	flat := Answer{Subject: "wet-2", Rule: "drain/too_flat", Outcome: finding.Fail, Section: "704.1", Found: "1/8 in/ft", Required: "1/4 in/ft"}
	with := func(a Answer, change func(*Answer)) Answer { change(&a); return a }
	load := Answer{Subject: "main-1", Rule: "overloaded", Outcome: finding.Fail, Section: "table 710.1(2)", Found: "6 dfu", Required: "4 dfu", Sum: "3+1+2=6 dfu"}
	seal := Answer{Subject: "sink", Rule: "trap seal", Outcome: finding.Open, Section: "§ 1002.4", Missing: "the depth of the seal"}
	for _, c := range []struct {
		name   string
		answer Answer
		marks  int
		became string
	}{
		{"all of it", flat, 6, Right},
		{"in other units", with(flat, func(a *Answer) { a.Found, a.Required = "1.04 %", "1:48" }), 6, Right},
		{"in words", with(flat, func(a *Answer) { a.Rule = "the slope is not enough"; a.Subject = `drain "wet-2"` }), 6, Right},
		{"the topic", with(flat, func(a *Answer) { a.Rule = "Drain" }), 6, Right},
		{"another value found", with(flat, func(a *Answer) { a.Found = "1/16 in/ft" }), 5, Right},
		{"found and required the wrong way round", with(flat, func(a *Answer) { a.Found, a.Required = a.Required, a.Found }), 4, Right},
		{"the sign left out", with(flat, func(a *Answer) { a.Found = "-1/8 in/ft" }), 5, Right},
		{"bare numbers", with(flat, func(a *Answer) { a.Found, a.Required = "0.125", "0.25" }), 4, Right},
		{"another section", with(flat, func(a *Answer) { a.Section = "704" }), 5, Right},
		{"only found", Answer{Subject: "WET-2", Rule: "too flat", Outcome: finding.Fail}, 3, Right},
		{"another element", with(flat, func(a *Answer) { a.Subject = "wet-1" }), -1, FalseAlarm},
		{"another rule", with(flat, func(a *Answer) { a.Rule = "drain/too_steep" }), -1, FalseAlarm},
		{"other words", with(flat, func(a *Answer) { a.Rule = "the cover is shallow" }), -1, FalseAlarm},
		{"another outcome", with(flat, func(a *Answer) { a.Outcome = finding.Open }), -1, FalseAlarm},
		{"with the sum", load, 7, Right},
		{"without the sum", with(load, func(a *Answer) { a.Sum = "" }), 6, Right},
		{"a sum that is wrong", with(load, func(a *Answer) { a.Sum = "3+1+1=6 dfu" }), 6, Right},
		{"a sum of something else", with(load, func(a *Answer) { a.Sum = "4+4=8 dfu" }), 6, Right},
		{"a consequence", Answer{Subject: "main-1", Rule: "drain/reduces_in_flow", Outcome: finding.Fail, Section: "704.2", Found: "1-1/2 in", Required: "2 in"}, 6, Right},
		{"a size nearly right", Answer{Subject: "main-1", Rule: "drain/reduces_in_flow", Outcome: finding.Fail, Found: "1-1/4 in", Required: "2 in"}, 4, Right},
		{"not shown", seal, 5, Right},
		{"not shown, and not what", with(seal, func(a *Answer) { a.Missing = "the colour" }), 4, Right},
		{"what is simply so", Answer{Subject: "basin", Rule: "cover", Outcome: finding.Fail, Section: "712.3.2", Found: "gas gets through the cover"}, 4, Right},
		{"what a person must look at", Answer{Subject: "project", Rule: "field/bedding_not_seen", Outcome: finding.Fail}, 0, Undecided},
		{"nothing", Answer{Outcome: finding.Fail}, -1, FalseAlarm},
	} {
		t.Run(c.name, func(t *testing.T) {
			k := classKey()
			m := Mark(k, "x.json", &Answers{Answers: []Answer{c.answer}})
			if got := m.Answers[0]; got.Marks != c.marks || got.Became != c.became {
				t.Errorf("%d marks, %s, %v; want %d, %s", got.Marks, got.Became, got.Remarks, c.marks, c.became)
			}
			if m.Marks != max(0, c.marks) || m.Full != 6+7+5+4 {
				t.Errorf("sheet: %d of %d", m.Marks, m.Full)
			}
		})
	}
}

// TestGuessing holds that naming everything does not pay, and that a fault is
// marked by its first answer.
func TestGuessing(t *testing.T) {
	k := classKey()
	var a Answers
	for _, subject := range []string{"wet-1", "wet-2", "wet-2", "wet-3", "wet-4", "wet-5"} {
		a.Answers = append(a.Answers, Answer{Subject: subject, Rule: "drain/too_flat", Outcome: finding.Fail})
	}
	m := Mark(k, "x.json", &a)
	if m.Marks != 0 || m.Alarms != 4 || m.Answers[2].Became != Again || m.Answers[2].Marks != 0 {
		t.Errorf("%d marks, %d false alarms, the second answer to one fault became %q", m.Marks, m.Alarms, m.Answers[2].Became)
	}
}

func TestSoundDesignIsMarked(t *testing.T) {
	k := classKey()
	k.Faults = nil
	for _, c := range []struct {
		name  string
		a     Answers
		marks int
	}{
		{"called sound", Answers{Sound: true}, 3},
		{"left empty", Answers{}, 0},
		{"a false alarm", Answers{Answers: []Answer{{Subject: "a", Rule: "b", Outcome: finding.Fail}}}, 0},
	} {
		if m := Mark(k, "x.json", &c.a); m.Marks != c.marks || m.Full != 3 {
			t.Errorf("%s: %d of %d, want %d of 3", c.name, m.Marks, m.Full, c.marks)
		}
	}
}

// TestClass holds that files that cannot be marked get nothing and keep no
// other from its marks, and that marking is the same each time.
func TestClass(t *testing.T) {
	k := classKey()
	good := `{"exercise":"` + k.Exercise + `","student":"=cmd|'x'!A1","answers":[{"subject":"wet-2","rule":"drain/too_flat","outcome":"fail"}]}`
	handedIn := []Submission{
		{File: "good.json", Data: []byte(good)},
		{File: "gone.json", Reason: "no such file or directory"},
		{File: "binary.json", Data: []byte{0, 1, 255}},
		{File: "deep.json", Data: []byte(strings.Repeat(`{"answers":`, 10_000))},
		{File: "large.json", Data: bytes.Repeat([]byte(" "), MostAnswerBytes+1)},
		{File: "other.json", Data: []byte(strings.Replace(good, k.Exercise, strings.Repeat("f", 32), 1))},
		{File: "twice.json", Data: []byte(strings.Replace(good, `{`, `{"answers":[],`, 1))},
		{File: "both.json", Data: []byte(strings.Replace(good, `{`, `{"sound":true,`, 1))},
		{File: "word.json", Data: []byte(strings.Replace(good, `"fail"`, `"pass"`, 1))},
		{File: "key.json", Data: []byte(strings.Replace(good, `"rule"`, `"rul"`, 1))},
		{File: "control.json", Data: []byte(strings.Replace(good, `=cmd`, `\u001b[2J`, 1))},
		{File: "last.json", Data: []byte(strings.Replace(good, `=cmd|'x'!A1`, `a|b <b>*`, 1))},
	}
	class := MarkClass(k, handedIn)
	var got []string
	for _, s := range class.Students {
		got = append(got, fmt.Sprintf("%s %d %t", s.File, s.Marks, len(s.Problems) > 0))
	}
	want := []string{"good.json 3 false"}
	for _, s := range handedIn[1:11] {
		want = append(want, s.File+" 0 true")
	}
	want = append(want, "last.json 3 false")
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("-want +got:\n%s", diff)
	}
	if missed := class.Missed(); missed[0].Missed != 2 || missed[0].Of != 2 || missed[3].Number != 1 || missed[3].Missed != 0 {
		t.Errorf("missed %+v; want fault 1 missed by none of the two and last", missed)
	}
	for _, format := range Formats {
		var a, b bytes.Buffer
		if err := class.Write(&a, format); err != nil {
			t.Fatal(err)
		}
		if err := MarkClass(k, handedIn).Write(&b, format); err != nil || a.String() != b.String() || a.Len() == 0 {
			t.Errorf("%s: the same class is printed in two ways (%v)", format, err)
		}
		switch text := a.String(); {
		case strings.Contains(text, "\x1b"):
			t.Errorf("%s: a control sign of a student is printed", format)
		case format == "csv" && !strings.Contains(text, "\n'=cmd"):
			t.Errorf("csv: a student's formula is left one:\n%s", text)
		case format == "markdown" && (strings.Contains(text, "<b>") || !strings.Contains(text, `a\|b`)):
			t.Errorf("markdown: a student's markup is left:\n%s", text)
		case format == "json" && !json.Valid(a.Bytes()):
			t.Error("json: it is none")
		}
	}
}

func TestSections(t *testing.T) {
	for _, c := range []struct {
		answer, section string
		same            bool
	}{
		{"704.1", "704.1", true}, {"Section 704.1.", "704.1", true}, {"§704.1", "704.1", true}, {"Table 710.1 (2)", "Table 710.1(2)", true},
		{"704.1", "704.1, Table 704.1", true}, {"905.4", "905.4; 905.5", true}, {"P3005.4.2", "p3005.4.2", true}, {"Common practice", "common practice", true},
		{"704", "704.1", false}, {"704.10", "704.1", false}, {"", "704.1", false}, {"section", "704.1", false},
	} {
		if got := sameSection(c.answer, c.section); got != c.same {
			t.Errorf("%q and %q: %t", c.answer, c.section, got)
		}
	}
}

func FuzzReadAnswers(f *testing.F) {
	f.Add([]byte(`{"exercise":"0123456789abcdef0123456789abcdef","answers":[{"subject":"wet-2","rule":"fall too flat","outcome":"fail","section":"704.1","found":"1/8 in/ft","required":"1/4 in/ft","sum":"1+1=2 in"}]}`))
	f.Add([]byte(`{"exercise":"0123456789abcdef0123456789abcdef","sound":true,"answers":[]}`))
	f.Add([]byte(`{"answers":[{"subject":1e999}]}`))
	f.Add([]byte("\xff\xfe{"))
	f.Fuzz(func(t *testing.T, data []byte) {
		k := classKey()
		class := MarkClass(k, []Submission{{File: "x.json", Data: data}})
		s := class.Students[0]
		if s.Marks < 0 || s.Marks > s.Full || len(s.Problems) > 0 && s.Marks != 0 {
			t.Errorf("%d of %d marks with %d problems", s.Marks, s.Full, len(s.Problems))
		}
		for _, format := range Formats {
			var b bytes.Buffer
			if err := class.Write(&b, format); err != nil {
				t.Error(err)
			}
			if err := s.Write(&b, k, format); err != nil {
				t.Error(err)
			}
			control := func(r rune) bool {
				// JSON is for programs, and its texts may hold DEL and what follows it.
				return unicode.IsControl(r) && r != '\n' && !(format == "json" && r >= 0x7f)
			}
			if at := strings.IndexFunc(b.String(), control); at >= 0 {
				t.Errorf("%s prints a control sign: %q", format, b.String()[at:])
			}
		}
	})
}
