package report

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"slices"
	"strconv"
	"testing"
)

// junitSchema is what junit-10.xsd of the Jenkins xUnit plugin (MIT) permits,
// written down from it: of each element its children and attributes, required
// attributes first. `.ci/validate` checks real reports against the XSD itself.
var junitSchema = map[string]struct {
	children           []string
	required, optional []string
	text               bool
}{
	"testsuites": {children: []string{"testsuite"}, optional: []string{"name", "time", "tests", "failures", "errors"}},
	"testsuite": {children: []string{"testsuite", "properties", "testcase", "system-out", "system-err"}, required: []string{"name", "tests", "failures", "errors"},
		optional: []string{"group", "time", "skipped", "timestamp", "hostname", "id", "package", "file", "log", "url"}},
	"properties": {children: []string{"property"}},
	"property":   {required: []string{"name", "value"}},
	"testcase": {children: []string{"skipped", "error", "failure", "rerunFailure", "rerunError", "flakyFailure", "flakyError", "system-out", "system-err"},
		required: []string{"name"}, optional: []string{"time", "classname", "group"}},
	"failure": {optional: []string{"type", "message"}, text: true},
	"error":   {optional: []string{"type", "message"}, text: true},
	"skipped": {optional: []string{"type", "message"}, text: true},
}

// checkJUnit returns the first breach of the schema, or counts the cases.
func checkJUnit(data []byte) (cases map[string]int, err error) {
	cases = map[string]int{}
	dec := xml.NewDecoder(bytes.NewReader(data))
	var open []string
	for {
		token, err := dec.Token()
		if errors.Is(err, io.EOF) {
			return cases, nil
		}
		if err != nil {
			return nil, err
		}
		switch t := token.(type) {
		case xml.StartElement:
			name := t.Name.Local
			rule, ok := junitSchema[name]
			if !ok {
				return nil, errors.New("unknown element " + name)
			}
			if len(open) > 0 && !slices.Contains(junitSchema[open[len(open)-1]].children, name) {
				return nil, errors.New(name + " in " + open[len(open)-1])
			}
			var has []string
			for _, a := range t.Attr {
				has = append(has, a.Name.Local)
				if !slices.Contains(rule.required, a.Name.Local) && !slices.Contains(rule.optional, a.Name.Local) {
					return nil, errors.New("attribute " + a.Name.Local + " of " + name)
				}
			}
			for _, r := range rule.required {
				if !slices.Contains(has, r) {
					return nil, errors.New(name + " without " + r)
				}
			}
			cases[name]++
			open = append(open, name)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			if len(bytes.TrimSpace(t)) > 0 && !junitSchema[open[len(open)-1]].text {
				return nil, errors.New("text in " + open[len(open)-1])
			}
		}
	}
}

// Source: junit-10.xsd of the Jenkins xUnit plugin.
func TestJUnitFollowsItsSchema(t *testing.T) {
	out := render(t, "junit", batch(), Options{Times: true})
	n, err := checkJUnit(out)
	if err != nil {
		t.Fatal(err)
	}
	if n["testsuite"] != 4 || n["testcase"] != 2+1+1+1 {
		t.Errorf("%v; want a suite for each of 4 submissions and a case for each rule or unreadable document", n)
	}
	for _, broken := range [][2]string{{"testcase", "testcases"}, {` errors="`, ` faults="`}, {"<testsuites ", "<testsuites>text<testsuites "}} {
		if _, err := checkJUnit(bytes.Replace(out, []byte(broken[0]), []byte(broken[1]), 1)); err == nil {
			t.Errorf("the check accepts %q", broken[1])
		}
	}
}

// TestJUnitCountsAddUp holds that a suite's sums are those of its cases, and
// that only what passes is a bare case.
func TestJUnitCountsAddUp(t *testing.T) {
	var report struct {
		Suites []struct {
			Name     string `xml:"name,attr"`
			Tests    string `xml:"tests,attr"`
			Failures int    `xml:"failures,attr"`
			Errors   int    `xml:"errors,attr"`
			Skipped  int    `xml:"skipped,attr"`
			Cases    []struct {
				Name    string `xml:"name,attr"`
				Failure []struct {
					Text string `xml:",chardata"`
				} `xml:"failure"`
				Error   []struct{} `xml:"error"`
				Skipped []struct {
					Type string `xml:"type,attr"`
				} `xml:"skipped"`
			} `xml:"testcase"`
		} `xml:"testsuite"`
	}
	list := batch()
	open := list[0]
	open.File, open.Findings = "open.json", open.Findings[1:2]
	pass := list[0]
	pass.File, pass.Findings = "pass.json", pass.Findings[3:]
	excused := list[3]
	excused.File, excused.Findings = "excused.json", excused.Findings[:2]
	if err := xml.Unmarshal(render(t, "junit", append(list, open, pass, excused), Options{}), &report); err != nil {
		t.Fatal(err)
	}
	for _, s := range report.Suites {
		failures, faults, skipped := 0, 0, 0
		for _, c := range s.Cases {
			failures += len(c.Failure)
			faults += len(c.Error)
			skipped += len(c.Skipped)
			if len(c.Failure)+len(c.Error)+len(c.Skipped) > 1 {
				t.Errorf("%s %s has two outcomes", s.Name, c.Name)
			}
		}
		if s.Tests != strconv.Itoa(len(s.Cases)) || s.Failures != failures || s.Errors != faults || s.Skipped != skipped {
			t.Errorf("%s: the sums %+v are not those of its cases", s.Name, s)
		}
		bare := len(s.Cases) - failures - faults - skipped
		if want := map[string]int{"pass.json": 1}[s.Name]; bare != want {
			t.Errorf("%s: %d cases pass, want %d: open, review and excused must not look like it", s.Name, bare, want)
		}
	}
}
