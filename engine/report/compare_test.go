package report

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"backpitch/engine/finding"
)

func answer(rule, subject string, o finding.Outcome, limit string) finding.Finding {
	f := finding.Finding{Rule: rule, Title: "Title", Subject: subject, SubjectName: "drain " + subject, Outcome: o, Level: finding.Error,
		Section: "7", Basis: finding.Checked, Place: finding.Place{File: "d.json", Line: 3, Col: 5}}
	if limit != "" {
		f.Measured, f.Limit = &finding.Quantity{Text: "1/4 in/ft"}, &finding.Quantity{Text: limit}
	}
	return f
}

func under(id string, findings ...finding.Finding) finding.Review {
	return finding.Review{File: "d.json", Profile: finding.ProfileInfo{ID: id, Title: id, Edition: "1", Verify: "verify with " + id}, Findings: findings, Rules: 1}
}

func TestCompareSortsTheAnswers(t *testing.T) {
	c := Compare([]finding.Review{
		under("a", answer("x/both", "b1", finding.Fail, "1"), answer("x/differs", "b1", finding.Pass, "1/8 in/ft"), answer("x/open", "b1", finding.Open, ""),
			answer("x/lone", "b1", finding.Fail, "1"), answer("x/fine", "b1", finding.Pass, "1"), answer("x/lone_pass", "b1", finding.Pass, "1")),
		under("b", answer("x/both", "b1", finding.Fail, "1"), answer("x/differs", "b1", finding.Fail, "1/2 in/ft"), answer("x/open", "b1", finding.Fail, ""),
			answer("x/fine", "b1", finding.Pass, "1")),
	})
	got := ""
	for name, list := range map[string][]ComparedFinding{"": c.Disagreements} {
		for _, f := range list {
			got += name + f.Rule + " "
		}
	}
	if got != "x/differs x/open " {
		t.Errorf("disagreements are %s", got)
	}
	if len(c.OnlySome) != 1 || c.OnlySome[0].Rule != "x/lone" || len(c.Agreed) != 1 || c.Agreed[0].Rule != "x/both" || c.Passes != 2 {
		t.Errorf("only some %v, agreed %v, passes %d", c.OnlySome, c.Agreed, c.Passes)
	}
	if c.Unchecked() {
		t.Error("every review was carried out")
	}
}

// Where a profile could not be judged, nobody can say that it lacks the rule.
func TestCompareWithAFailure(t *testing.T) {
	broken := finding.Review{File: "d.json", Profile: finding.ProfileInfo{ID: "b"}, Failure: "there is no profile \"b\""}
	c := Compare([]finding.Review{under("a", answer("x/y", "b1", finding.Fail, "1")), broken})
	if len(c.Agreed) != 1 || !c.Unchecked() {
		t.Errorf("agreed %v", c.Agreed)
	}
	var text bytes.Buffer
	if err := WriteComparisons(&text, "text", []Comparison{c}, Options{}); err != nil || !strings.Contains(text.String(), `b could not check: there is no profile "b"`) {
		t.Errorf("%v:\n%s", err, text.String())
	}
}

func TestWriteComparisons(t *testing.T) {
	c := Compare([]finding.Review{under("a", answer("x/y", "b1", finding.Fail, "1/2 in/ft")), under("b", answer("x/y", "b1", finding.Pass, "1/8 in/ft"))})
	var text, doc bytes.Buffer
	if err := WriteComparisons(&text, "text", []Comparison{c}, Options{}); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"the profiles disagree (1)", "d.json:3:5: x/y drain b1: Title", "    a  error  1/4 in/ft against 1/2 in/ft  7 (checked)",
		"    b  pass   1/4 in/ft against 1/8 in/ft  7 (checked)", "2 profiles: they disagree on 1", "a: verify with a", Cautions[0]} {
		if !strings.Contains(text.String(), want) {
			t.Errorf("the text lacks %q:\n%s", want, text.String())
		}
	}
	if err := WriteComparisons(&doc, "json", []Comparison{c}, Options{}); err != nil {
		t.Fatal(err)
	}
	var back struct{ Comparisons []Comparison }
	if err := json.Unmarshal(doc.Bytes(), &back); err != nil || back.Comparisons[0].Disagreements[0].Answers[1].Outcome != finding.Pass {
		t.Errorf("%v: %s", err, doc.String())
	}
	if err := WriteComparisons(&doc, "sarif", nil, Options{}); err == nil {
		t.Error("sarif was written")
	}
}
