package profile

import "testing"

// The examples of RFC 7396, appendix A, all fifteen.
func TestMergeRFC7396AppendixA(t *testing.T) {
	for _, tt := range []struct{ original, patch, want string }{
		{`{"a":"b"}`, `{"a":"c"}`, `{"a":"c"}`},
		{`{"a":"b"}`, `{"b":"c"}`, `{"a":"b","b":"c"}`},
		{`{"a":"b"}`, `{"a":null}`, `{}`},
		{`{"a":"b","b":"c"}`, `{"a":null}`, `{"b":"c"}`},
		{`{"a":["b"]}`, `{"a":"c"}`, `{"a":"c"}`},
		{`{"a":"c"}`, `{"a":["b"]}`, `{"a":["b"]}`},
		{`{"a":{"b":"c"}}`, `{"a":{"b":"d","c":null}}`, `{"a":{"b":"d"}}`},
		{`{"a":[{"b":"c"}]}`, `{"a":[1]}`, `{"a":[1]}`},
		{`["a","b"]`, `["c","d"]`, `["c","d"]`},
		{`{"a":"b"}`, `["c"]`, `["c"]`},
		{`{"a":"foo"}`, `null`, `null`},
		{`{"a":"foo"}`, `"bar"`, `"bar"`},
		{`{"e":null}`, `{"a":1}`, `{"e":null,"a":1}`},
		{`[1,2]`, `{"a":"b","c":null}`, `{"a":"b"}`},
		{`{}`, `{"a":{"bb":{"ccc":null}}}`, `{"a":{"bb":{}}}`},
	} {
		got, want := merge(mustParse(t, tt.original), mustParse(t, tt.patch)), mustParse(t, tt.want)
		if !same(got, want) {
			t.Errorf("merge(%s, %s) is not %s", tt.original, tt.patch, tt.want)
		}
	}
}

func TestSameTellsValuesApart(t *testing.T) {
	values := []string{`1`, `"1"`, `true`, `false`, `null`, `[]`, `{}`, `[1]`, `{"a":1}`, `{"a":2}`, `{"b":1}`, `{"a":1,"b":1}`}
	for i, a := range values {
		for j, b := range values {
			if got := same(mustParse(t, a), mustParse(t, b)); got != (i == j) {
				t.Errorf("same(%s, %s) = %v", a, b, got)
			}
		}
	}
	if !same(mustParse(t, `{"a":1,"b":2}`), mustParse(t, `{"b":2,"a":1}`)) {
		t.Error("the order of members makes two objects differ")
	}
}

func TestMergeKeepsOrderAndOrigin(t *testing.T) {
	base := &document{id: "base", file: "base", data: []byte(`{"x":{"b":1,"a":{"v":1},"c":1}}`)}
	patch := &document{id: "patch", file: "patch", data: []byte(`{"x":{"d":1,"a":{"v":2},"b":null}}`)}
	b, err := base.parse()
	if err != nil {
		t.Fatal(err)
	}
	p, err := patch.parse()
	if err != nil {
		t.Fatal(err)
	}
	x := merge(b, p).get("x")
	got := ""
	for _, m := range x.members {
		got += m.name + "=" + m.node.doc.id + " "
	}
	if want := "a=patch c=base d=patch "; got != want {
		t.Errorf("merged members are %q, want %q", got, want)
	}
}

func mustParse(t *testing.T, s string) *node {
	t.Helper()
	n, err := (&document{id: "t", file: "t.json", data: []byte(s)}).parse()
	if err != nil {
		t.Fatalf("parse(%s): %v", s, err)
	}
	return n
}

func TestParseRefuses(t *testing.T) {
	deep := ""
	for range 40 {
		deep += `[`
	}
	for _, tt := range []struct{ in, want string }{
		{`{"a":1,"a":2}`, `t.json:1:8: "a" stands here twice`},
		{"{\n  \"a\": 1,\n}", `t.json:3:1: not JSON: invalid character '}' looking for beginning of object key string`},
		{`{"a":`, `t.json:1:6: the file ends in the middle of a value`},
		{``, `t.json:1:1: the file ends in the middle of a value`},
		{`{} {}`, `t.json:1:4: there is more text after the profile`},
		{deep, `t.json:1:18: values are nested more than 16 deep`},
		{`{"a":tru}`, `t.json:1:6: not JSON: invalid character '}' in literal true (expecting 'e')`},
		{`{"a":01}`, `t.json:1:7: not JSON: invalid character '1' after object key:value pair`},
	} {
		_, err := (&document{id: "t", file: "t.json", data: []byte(tt.in)}).parse()
		if err == nil || err.Error() != tt.want {
			t.Errorf("parse(%q) = %v, want %s", tt.in, err, tt.want)
		}
	}
}
