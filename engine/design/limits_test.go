package design

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"
	"testing"
)

// counted walks a document with the library's own reader of JSON.
func counted(t *testing.T, text string) (values, depth int) {
	t.Helper()
	dec := json.NewDecoder(bytes.NewReader([]byte(text)))
	open, expectKey := []bool{}, false // of each that is open: is it an object
	for {
		token, err := dec.Token()
		if err != nil {
			return values, depth
		}
		inObject := len(open) > 0 && open[len(open)-1]
		switch d, isDelim := token.(json.Delim); {
		case isDelim && (d == '}' || d == ']'):
			open = open[:len(open)-1]
			expectKey = len(open) > 0 && open[len(open)-1]
		case inObject && expectKey:
			expectKey = false
		default:
			values++
			if isDelim {
				open = append(open, d == '{')
				depth = max(depth, len(open))
			}
			expectKey = isDelim && d == '{' || !isDelim && inObject
		}
	}
}

// TestFoundIsWhatThereIs holds that a message says how many values a document
// has and how deep it is, whatever stands in it, and wherever the limit is hit.
func TestFoundIsWhatThereIs(t *testing.T) {
	for _, text := range []string{
		`{"a\"b":["x\\",{"c":1e5,"d":[true,null,-0.1]},"\u0022, [1,2]"],"e" : {"f":"{[,:"}, "g":[[[[ ]]]]}`,
		`[[1,[2,[3,[]]]], "a:b", {"k" : "v" , "l":[ ]}]`,
		`{"":"","x":{"":{"":{}}}}`, least,
	} {
		values, depth := counted(t, text)
		for most := 1; most < values; most++ {
			_, problems := Read("d.json", []byte(text), Limits{Values: most})
			if want := fmt.Sprintf("the file has %d values; max-values is %d", values, most); len(problems) != 1 || problems[0].Message != want {
				t.Fatalf("%s: %v, want %s", text, problems, want)
			}
		}
		for most := 1; most < depth; most++ {
			_, problems := Read("d.json", []byte(text), Limits{Depth: most})
			if want := fmt.Sprintf("objects and lists are nested %d deep; max-depth is %d", depth, most); len(problems) != 1 || problems[0].Message != want {
				t.Fatalf("%s: %v, want %s", text, problems, want)
			}
		}
		for _, p := range append(problemsOf(text, Limits{Values: values}), problemsOf(text, Limits{Depth: depth})...) {
			if strings.HasPrefix(p, "max_") {
				t.Errorf("%s: at the limit: %s", text, p)
			}
		}
	}
}

func problemsOf(text string, limits Limits) (codes []string) {
	_, problems := Read("d.json", []byte(text), limits)
	for _, p := range problems {
		codes = append(codes, p.Code)
	}
	return codes
}

// TestLimitsWithoutFlag holds that no message names a flag that is not there.
func TestLimitsWithoutFlag(t *testing.T) {
	for fixed, want := range map[bool]string{true: "no flag raises this limit", false: "--max-digits raises the limit"} {
		_, problems := ReadSource("a.json", "answers", "answer file", []byte(`{"exercise":123}`), Limits{Digits: 2, Fixed: fixed})
		if len(problems) != 1 || problems[0].Hint != want || problems[0].Message != "the number has 3 digits; max-digits is 2" {
			t.Errorf("fixed %v: %v", fixed, problems)
		}
	}
}

// TestLongTexts measures texts by their bytes as written.
func TestLongTexts(t *testing.T) {
	for text, want := range map[string]int{`{"k":"12345\"78"}`: 9, `{"k":"ééééé"}`: 10, `{"k":"12345678`: 8} {
		_, problems := Read("d.json", []byte(text), Limits{Text: 7})
		if len(problems) != 1 || problems[0].Message != fmt.Sprintf("the text has %d bytes; max-text is 7", want) {
			t.Errorf("%s: %v", text, problems)
		}
	}
}
