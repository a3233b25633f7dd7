package design

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"
)

// TestGrammar holds texts by the grammar of RFC 8259, named by its sections,
// and asks encoding/json too.
func TestGrammar(t *testing.T) {
	accepted := map[string][]string{
		"section 2, values":       {`{}`, `[]`, `""`, `0`, `true`, `false`, `null`},
		"section 2, blanks":       {" \t\n\r{ \t\n\r\"a\" \t\n\r: \t\n\r1 \t\n\r, \"b\" : [ 1 , 2 ] } \t\n\r"},
		"section 4, objects":      {`{"a":1}`, `{"a":{"b":{}},"c":[]}`, `{"":1}`},
		"section 5, arrays":       {`[1]`, `[1,"a",null,{},[]]`, `[[],[[]]]`},
		"section 6, numbers":      {`-0`, `0.5`, `-1.25`, `10`, `1e5`, `1E+5`, `1e-5`, `0e0`, `1.0e1`, `123456789`},
		"section 7, strings":      {`"é"`, `"日本"`, `"😀"`, `"\"\\\/\b\f\n\r\t"`, `"\u00e9\u00C9"`, `"\ud83d\ude00"`, "\"\u007f\"", `"\u0000"`},
		"section 8.2, one string": {`"\u0061"`},
	}
	refused := map[string][]string{
		"section 2, values":  {`True`, `nul`, `nulll`, `truefalse`, `NaN`, `Infinity`, `undefined`, `'a'`, `a`, `\`},
		"section 2, blanks":  {"\f{}", "\u00a0{}", "{}\v", "[1\u2028]"},
		"section 2, one":     {`{}{}`, `1 2`, `[]]`, `{}}`, `"a" "b"`, `1,`},
		"section 4, objects": {`{`, `}`, `{"a"}`, `{"a":}`, `{"a" 1}`, `{"a":1,}`, `{,}`, `{"a":1 "b":2}`, `{1:2}`, `{a:1}`, `{"a":1]`, `{"a"::1}`, `{"a":1,,"b":2}`},
		"section 5, arrays":  {`[`, `]`, `[1,]`, `[,]`, `[1 2]`, `[1}`, `[,1]`, `[1,,2]`, `[1:2]`},
		"section 6, numbers": {`-`, `+1`, `01`, `-01`, `.5`, `1.`, `1.e1`, `1e`, `1e+`, `0x10`, `1_000`, `--1`, `1.2.3`, `1e1.5`, `00`, `1-`},
		"section 7, strings": {`"`, `"a`, "\"\n\"", "\"\x1f\"", `"\a"`, `"\u12"`, `"\u12g4"`, `"\u+123"`, `"\`, `"\x41"`, `"\'"`},
		"comments":           {`{} // x`, `/* x */{}`, `# x`},
	}
	for section, list := range accepted {
		for _, in := range list {
			if _, ok := scan([]byte(in), DefaultLimits(), &faults{}); !ok || !json.Valid([]byte(in)) {
				t.Errorf("%s: %s is refused", section, in)
			}
		}
	}
	for section, list := range refused {
		for _, in := range list {
			f := &faults{}
			if _, ok := scan([]byte(in), DefaultLimits(), f); ok || json.Valid([]byte(in)) {
				t.Errorf("%s: %s is accepted", section, in)
			} else if len(f.problems()) != 1 {
				t.Errorf("%s: %s has %d problems", section, in, len(f.list))
			}
		}
	}
}

// TestWordsOfSyntax: what is told about usual slips.
func TestWordsOfSyntax(t *testing.T) {
	for in, want := range map[string]string{
		`{"a":1,}`:              "1:7 a comma stands before '}' | leave the comma out",
		`{"a":[1,2}`:            "1:10 '}' does not close a list that starts on line 1 | close it with \"]\" first",
		"{\"a\":1\n\"b\":2}":    "2:1 a comma is missing before '\"' |",
		`{"a" 1}`:               "1:6 a colon is missing before '1' | write \"key\": value",
		`{"a":}`:                "1:6 a value is missing before '}' |",
		`{"a":12 in}`:           "1:9 'i' follows a number | write a quantity as text, such as \"12 in\"",
		`{"a":1/4 in}`:          "1:7 '/' follows a number | write a quantity as text, such as \"12 in\"",
		`{"a":2%}`:              "1:7 '%' follows a number | write a quantity as text, such as \"12 in\"",
		`{"a":True}`:            "1:6 \"True\" is not a value | write true in lower case, without quotes",
		`{"a":NaN}`:             "1:6 \"NaN\" is not a number | leave the key out when the value is not known",
		`{"a":pvc}`:             "1:6 the text \"pvc\" has no quotes | write \"pvc\"",
		`{a:1}`:                 "1:2 the key \"a\" has no quotes | write \"a\"",
		`{'a':1}`:               "1:2 '\\'' is not possible here: a key in quotes is expected | write text in straight double quotes: \"text\"",
		`{“a”:1}`:               "1:2 '“' is not possible here: a key in quotes is expected | write text in straight double quotes: \"text\"",
		"{ // x\n}":             "1:3 '/' is not possible here: a key in quotes is expected | comments are not part of JSON; use a label",
		`{"a":+1}`:              "1:6 a number starts with a plus sign | leave the plus sign out",
		`{"a":.5}`:              "1:6 a number starts with a point | write 0 before the point",
		`{"a":05}`:              "1:6 a number starts with a needless 0 |",
		`{"a":5.}`:              "1:6 the number \"5.\" has no digit at its end |",
		"{\n\"a\":[":            "2:6 the file ends inside a list that starts on line 2 | close it with \"]\"",
		`{"a":"C:\pipes"}`:      "1:9 a backslash before 'p' is no escape | write \\\\ for a backslash",
		`{"a":"b` + "\n" + `"}`: "1:8 a text is not closed on its line | close it with \", or write \\n for a line break",
		`{"a":1}}`:              "1:8 '}' follows the end of the design | a file holds one design",
		`{,"a":1}`:              "1:2 a key is missing before the comma |",
		`{:1}`:                  "1:2 a key is missing before the colon |",
	} {
		f := &faults{}
		scan([]byte(in), DefaultLimits(), f)
		p := f.problems()[0]
		got := strconv.Itoa(p.Place.Line) + ":" + strconv.Itoa(p.Place.Col) + " " + strings.TrimSpace(p.Message+" | "+p.Hint)
		if got != want {
			t.Errorf("%s\ngot  %s\nwant %s", in, got, want)
		}
	}
}

// TestPositions compares every position with those of encoding/json: its
// Decoder says how many bytes it has read, lines and characters are counted
// by package bytes and utf8.
func TestPositions(t *testing.T) {
	strange := "\r\n{ \"\u00e9\\u00e9\" :\n\t[ 1 , -2.5e3,\n \"😀\\n\",[],[[{}]] ] ,\"a/b\":{\"~\":{\"\":null}}, \"日\" : true }\n"
	long := `{"a":[` + strings.Repeat(`{"b":[1,[2],{}]},`, 300) + `0]}`
	for _, src := range [][]byte{studio(t), []byte(strange), []byte(long), []byte(`7`), []byte("\n []")} {
		table, ok := scan(src, DefaultLimits(), &faults{})
		if !ok {
			t.Fatalf("%.40q is refused", src)
		}
		d := &Document{source: table}
		n := 0
		dec := json.NewDecoder(bytes.NewReader(src))
		dec.UseNumber()
		walkTokens(t, dec, src, "", func(pointer string, offset int) {
			n++
			before := src[:offset]
			wantLine := 1 + bytes.Count(before, []byte("\n"))
			wantCol := 1 + utf8.RuneCount(before[bytes.LastIndexByte(before, '\n')+1:])
			if line, col := d.PointerPosition(pointer); line != wantLine || col != wantCol {
				t.Errorf("%q is at %d:%d, want %d:%d", pointer, line, col, wantLine, wantCol)
			}
			at, found := table.resolve(pointer)
			if !found || table.pointer(at) != pointer {
				t.Errorf("pointer %q comes back as %q", pointer, table.pointer(at))
			}
		})
		if n != len(table.nodes) {
			t.Errorf("%d values, %d nodes", n, len(table.nodes))
		}
	}
}

// walkTokens calls f with the pointer and offset of each value.
func walkTokens(t *testing.T, dec *json.Decoder, src []byte, pointer string, f func(string, int)) {
	t.Helper()
	next := func() (json.Token, int) {
		start := int(dec.InputOffset())
		for start < len(src) && strings.IndexByte(" \t\r\n,:", src[start]) >= 0 {
			start++
		}
		tok, err := dec.Token()
		if err != nil && !errors.Is(err, io.EOF) {
			t.Fatal(err)
		}
		return tok, start
	}
	tok, start := next()
	f(pointer, start)
	switch tok {
	case json.Delim('{'):
		for dec.More() {
			key, _ := next()
			walkTokens(t, dec, src, pointer+"/"+strings.NewReplacer("~", "~0", "/", "~1").Replace(key.(string)), f)
		}
		next()
	case json.Delim('['):
		for i := 0; dec.More(); i++ {
			walkTokens(t, dec, src, pointer+"/"+strconv.Itoa(i), f)
		}
		next()
	}
}

func TestPointersThatLeadNowhere(t *testing.T) {
	d, _ := Read("d.json", []byte("{\"project\":{\"name\":\"x\"},\n\"building\":{},\n \"basins\": [{\"id\":\"a\"},\n  {\"id\":\"b\"}]}"), Limits{})
	for pointer, want := range map[string][2]int{
		"":                 {1, 1},
		"/basins":          {3, 12},
		"/basins/1":        {4, 3},
		"/basins/1/id":     {4, 9},
		"/basins/1/depth":  {4, 3}, // not stated: the basin
		"/basins/1/id/x":   {4, 9},
		"/basins/2":        {3, 12},
		"/basins/01":       {3, 12},
		"/basins/-1":       {3, 12},
		"/basins/-":        {3, 12},
		"/basins/99999999": {3, 12},
		"/pumps/0":         {1, 1},
		"basins":           {1, 1},
	} {
		if line, col := d.PointerPosition(pointer); line != want[0] || col != want[1] {
			t.Errorf("%q is at %d:%d, want %v", pointer, line, col, want)
		}
	}
	if line, col := new(Document).PointerPosition("/project"); line != 0 || col != 0 {
		t.Errorf("a document without a text has position %d:%d", line, col)
	}
}

// TestNearest: which choices are offered for a word.
func TestNearest(t *testing.T) {
	choices := []string{"size", "slope", "length", "invert_from", "invert_to"}
	for word, want := range map[string]string{
		"slop": "slope", "lenght": "length", "invert": "invert_from invert_to", "Size": "size", "x": "", "": "",
		"colour": "", "invert-form": "invert_from", strings.Repeat("size", 100): "",
	} {
		if got := strings.Join(nearest(word, choices), " "); got != want {
			t.Errorf("%q: %q, want %q", word, got, want)
		}
	}
}
