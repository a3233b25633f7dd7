package design

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf16"

	"github.com/google/go-cmp/cmp"

	"backpitch/engine/finding"
	"backpitch/engine/limit"
)

// least is the shortest design.
const least = `{"project":{"name":"x"},"building":{}}`

func studio(t testing.TB) []byte {
	t.Helper()
	data, err := os.ReadFile("testdata/studio.json")
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// place writes where a problem is, and its code: "3:14 unknown_key /pipes/0/slop".
func place(p finding.Problem) string {
	return strings.TrimSpace(fmt.Sprintf("%d:%d %s %s", p.Place.Line, p.Place.Col, p.Code, p.Place.Pointer))
}

func places(problems []finding.Problem) []string {
	var out []string
	for _, p := range problems {
		out = append(out, place(p))
	}
	return out
}

func TestStudioIsRead(t *testing.T) {
	d, problems := Read("studio.json", studio(t), Limits{})
	if d == nil || len(problems) > 0 {
		t.Fatalf("problems: %v", problems)
	}
	if got := d.Pipes[0].InvertFrom.Nanometres(); got != -2_603_500_000 { // -(8*12+6.5) in of 25.4 mm
		t.Errorf("invert_from is %d nm", got)
	}
	if got := *d.Pumps[0].MaxStarts; got != 15 {
		t.Errorf("max_starts_per_hour is %v", got)
	}
	if *d.Fixtures[0].Storey != 0 || !*d.Building.Existing || *d.Building.FlushValves {
		t.Error("a whole number or a flag was not read")
	}
	if !d.Pipes[1].Length.IsZero() {
		t.Error("a length that is not stated has a value")
	}
	if got := d.Pipes[0].Devices[0].Position; got != (Position{Line: 30, Col: 18, Pointer: "/pipes/0/devices/0"}) {
		t.Errorf("device stands at %+v", got)
	}
	if got := d.Pipes[0].Bends[1].Position; got != (Position{Line: 28, Col: 90, Pointer: "/pipes/0/bends/1"}) {
		t.Errorf("bend stands at %+v", got)
	}
	// The sample states every key, so whatever stays zero was not decoded.
	unread := map[string]bool{}
	fieldsLeftZero(reflect.ValueOf(*d), "", unread)
	for path, zero := range unread {
		if zero {
			t.Errorf("%s was read nowhere", path)
		}
	}
}

// fieldsLeftZero notes for every field of every struct whether it is zero in
// all values of that struct.
func fieldsLeftZero(v reflect.Value, path string, zero map[string]bool) {
	switch {
	case v.Kind() == reflect.Pointer && !v.IsNil():
		fieldsLeftZero(v.Elem(), path, zero)
	case v.Kind() == reflect.Slice:
		for i := range v.Len() {
			fieldsLeftZero(v.Index(i), path, zero)
		}
	case v.Kind() == reflect.Struct && quantityKinds[v.Type()] == nil:
		for i := range v.NumField() {
			f := v.Type().Field(i)
			if !f.IsExported() {
				continue
			}
			name := v.Type().Name() + "." + f.Name
			isZero := v.Field(i).IsZero()
			if was, seen := zero[name]; !seen || was {
				zero[name] = isZero
			}
			fieldsLeftZero(v.Field(i), name, zero)
		}
	}
}

func inUTF16(s string, order binary.ByteOrder, mark bool) []byte {
	units := utf16.Encode([]rune(s))
	if mark {
		units = append([]uint16{0xFEFF}, units...)
	}
	out := make([]byte, 2*len(units))
	for i, u := range units {
		order.PutUint16(out[2*i:], u)
	}
	return out
}

func inUTF32(s string, order binary.ByteOrder, mark bool) []byte {
	runes := []rune(s)
	if mark {
		runes = append([]rune{0xFEFF}, runes...)
	}
	out := make([]byte, 4*len(runes))
	for i, r := range runes {
		order.PutUint32(out[4*i:], uint32(r))
	}
	return out
}

// TestUnreadableFiles: encodings by RFC 8259 section 8.1, syntax by sections 2
// to 7.
func TestUnreadableFiles(t *testing.T) {
	be, le := binary.BigEndian, binary.LittleEndian
	for _, c := range []struct {
		name, in, want string
	}{
		{"empty", "", "1:1 empty_file"},
		{"blank", " \r\n\t\n", "1:1 empty_file"},
		{"mark and blank", "\xEF\xBB\xBF \n", "1:1 byte_order_mark,1:1 empty_file"},
		{"UTF-8 mark", "\xEF\xBB\xBF" + least, "1:1 byte_order_mark"},
		{"UTF-8 mark and more", "\xEF\xBB\xBF{\"project\":{\"name\":\"x\"},\n\"bilding\":{}}", "1:1 byte_order_mark,1:1 missing_key,2:1 unknown_key /bilding"},
		{"UTF-16 LE, mark", string(inUTF16(least, le, true)), "1:1 wrong_encoding"},
		{"UTF-16 BE, mark", string(inUTF16(least, be, true)), "1:1 wrong_encoding"},
		{"UTF-16 LE", string(inUTF16(least, le, false)), "1:1 wrong_encoding"},
		{"UTF-16 BE", string(inUTF16(least, be, false)), "1:1 wrong_encoding"},
		{"UTF-32 LE, mark", string(inUTF32(least, le, true)), "1:1 wrong_encoding"},
		{"UTF-32 BE, mark", string(inUTF32(least, be, true)), "1:1 wrong_encoding"},
		{"UTF-32 LE", string(inUTF32(least, le, false)), "1:1 wrong_encoding"},
		{"UTF-32 BE", string(inUTF32(least, be, false)), "1:1 wrong_encoding"},
		{"NUL bytes alone", "\x00\x00\x00\x00\x00", "1:1 control_character"},
		{"NUL byte between", "{\n \x00}", "2:2 control_character"},
		{"NUL byte in text", "{\"a\":\"x\x00\"}", "1:8 control_character"},
		{"Latin-1", "{\"project\":{\"name\":\"caf\xE9\"}}", "1:24 bad_utf8 /project"},
		{"bad UTF-8 between", "{\xFF}", "1:2 bad_utf8"},
		{"overlong UTF-8", "{\"\xC0\xAF\":1}", "1:3 bad_utf8"},
		{"surrogate in UTF-8", "{\"\xED\xA0\x80\":1}", "1:3 bad_utf8"},
		{"line break in text", "{\"a\":\"x\ny\"}", "1:8 control_character"},
		{"tab in text", "{\"a\":\"\t\"}", "1:7 control_character"},
		{"cut off", "{\"project\":\n{\"name\":", "2:9 unexpected_end /project"},
		{"cut off in text", "{\"project", "1:2 unexpected_end"},
		{"cut off in escape", `{"a\`, "1:2 unexpected_end"},
		{"trailing value", least + "\n{}", "2:1 trailing_data"},
		{"trailing word", least + " x", "1:40 trailing_data"},
		{"trailing comma", "{\"a\":[1,2 , ]}", "1:11 bad_json /a"},
		{"column counts characters", "{\"é😀\":x}", "1:7 bad_json"},
		{"bad escape", `{"a":"\x"}`, "1:7 bad_escape"},
		{"half a character", `{"a":"\ud83d"}`, "1:7 bad_escape"},
		{"half a character, second", `{"a":"\ude00"}`, "1:7 bad_escape"},
		{"number out of range", `{"a":1e400}`, "1:6 out_of_range"},
		{"array", "[" + least + "]", "1:1 wrong_type"},
		{"text", ` "x"`, "1:2 wrong_type"},
		{"null", `null`, "1:1 wrong_type"},
	} {
		t.Run(c.name, func(t *testing.T) {
			d, problems := Read("d.json", []byte(c.in), Limits{})
			if d != nil {
				t.Error("a Document was given")
			}
			if got := strings.Join(places(problems), ","); got != c.want {
				t.Errorf("got  %s\nwant %s\n%v", got, c.want, problems)
			}
			for _, p := range problems {
				if p.Message == "" || p.Place.File != "d.json" {
					t.Errorf("problem without message or file: %+v", p)
				}
			}
		})
	}
}

func TestDuplicateKeys(t *testing.T) {
	for _, c := range []struct{ name, in, want string }{
		{"plain", `{"project":{"name":"x"},"building":{},"project":{"name":"y"}}`, "1:39 duplicate_key /project"},
		{"escaped", `{"project":{"name":"x","n\u0061me":"y"},"building":{}}`, "1:24 duplicate_key /project/n\u0061me"},
		{"both escaped", `{"project":{"n\u0061me":"x","\u006eame":"y"},"building":{}}`, "1:29 duplicate_key /project/name"},
		{"thrice", "{\"project\":{\"name\":\"x\",\n\"name\":\"x\",\n\"name\":\"x\"},\"building\":{}}", "2:1 duplicate_key /project/name,3:1 duplicate_key /project/name"},
		{"apart", `{"project":{"name":"x"},"building":{"use":"public"},"pumps":[{"id":"a","basin":"s"},{"id":"b","basin":"s"}],"basins":[{"id":"s"}]}`, ""},
	} {
		d, problems := Read("d.json", []byte(c.in), Limits{})
		if got := strings.Join(places(problems), ","); got != c.want {
			t.Errorf("%s: got %s, want %s", c.name, got, c.want)
		}
		if (d != nil) != (c.want == "") {
			t.Errorf("%s: document %v", c.name, d)
		}
	}
	// Many keys take another way.
	var b strings.Builder
	b.WriteString(`{"project":{"name":"x"},"building":{`)
	for i := range 200 {
		fmt.Fprintf(&b, "\"k%d\":1,\n", i)
	}
	b.WriteString(`"k\u0037":2}}`)
	_, problems := Read("d.json", []byte(b.String()), Limits{})
	last := problems[len(problems)-1]
	if last.Code != "max_problems" {
		t.Errorf("last problem is %v", last)
	}
	f := &faults{}
	if scan([]byte(b.String()), DefaultLimits(), f); len(f.list) != 1 || f.list[0].line != 201 {
		t.Errorf("duplicates among many keys: %v", f.list)
	}
}

// TestHostileFiles: each is refused with one clear problem, and soon.
func TestHostileFiles(t *testing.T) {
	deep := strings.Repeat(`[`, 100_000) + strings.Repeat(`]`, 100_000)
	for _, c := range []struct{ name, in, want string }{
		{"50 MB", `{"datum":"` + strings.Repeat("x", 50<<20) + `"}`, "1:1 max_bytes"},
		{"nested 100,000 deep", deep, "1:65 max_depth" + strings.Repeat("/0", 63)},
		{"objects 100,000 deep", strings.Repeat(`{"a":`, 100_000), "1:321 max_depth" + strings.Repeat("/a", 63)},
		{"million digits", `{"k":1` + strings.Repeat("0", 1_000_000) + `}`, "1:6 max_digits"},
		{"million digits behind the point", `{"k":0.` + strings.Repeat("1", 1_000_000) + `}`, "1:6 max_digits"},
		{"million digits of exponent", `{"k":1e` + strings.Repeat("1", 1_000_000) + `}`, "1:6 max_digits"},
		{"million values", `{"k":[` + strings.Repeat("1,", 1_000_000) + `1]}`, "1:1000003 max_values/k"},
		{"million bytes of text", `{"k":"` + strings.Repeat("é", 500_000) + `"}`, "1:6 max_text"},
		{"million bytes of key", `{"` + strings.Repeat("k", 1_000_000) + `":1}`, "1:2 max_text"},
	} {
		start := time.Now()
		d, problems := Read("d.json", []byte(c.in), Limits{})
		if took := time.Since(start); took > slower*2*time.Second {
			t.Errorf("%s took %v", c.name, took)
		}
		if got := strings.ReplaceAll(strings.Join(places(problems), ","), " /", "/"); d != nil || got != c.want {
			t.Errorf("%s: got %.200s, want %.200s", c.name, got, c.want)
		}
	}
}

// TestManyFaultsTakeLinearTime reads files of a few megabytes in which
// everything is wrong.
func TestManyFaultsTakeLinearTime(t *testing.T) {
	head, many := `{"project":{"name":"x"},"building":{},`, 100_000
	var keys, twice bytes.Buffer
	for i := range many {
		fmt.Fprintf(&keys, `"slope%d":1,`, i)
		fmt.Fprintf(&twice, `"k":%d,`, i)
	}
	ids := strings.Repeat(`{"id":"a","kind":"sink"},`, many)
	for name, in := range map[string]string{
		"unknown keys":   head + keys.String() + `"z":1}`,
		"duplicate keys": head + twice.String() + `"k":1}`,
		"wrong types":    head + `"pipes":[` + strings.Repeat("1,", many) + `1]}`,
		"quantities":     head + `"pipes":[` + strings.Repeat(`{"id":"a","service":"vent","from":"a","to":"b","size":"x"},`, many/4) + `1]}`,
		"one id":         head + `"fixtures":[` + ids[:len(ids)-1] + `]}`,
		"dangling":       head + `"bathroom_groups":[{"id":"g","fixtures":[` + strings.Repeat(`"q",`, many) + `"q"]}]}`,
	} {
		start := time.Now()
		_, problems := Read("d.json", []byte(in), Limits{Elements: 2 * many})
		if took := time.Since(start); took > slower*10*time.Second {
			t.Errorf("%s took %v", name, took)
		}
		if len(problems) != limit.Problems.Default+1 {
			t.Errorf("%s: %d problems", name, len(problems))
		}
	}
}

func TestLargeDesignIsRead(t *testing.T) {
	var b strings.Builder
	b.WriteString(`{"project":{"name":"x"},"building":{},"pipes":[`)
	for i := range 5000 {
		if i > 0 {
			b.WriteByte(',')
		}
		fmt.Fprintf(&b, `{"id":"p%d","service":"drain","from":"j%d","to":"j%d","size":"3 in","material":"pvc_dwv","length":"6 ft","slope":"1/4 in/ft",
"lie":"horizontal","role":"branch","buried":true,"cover":"12 in","bends":[{"kind":"long_sweep","at":"1 ft"}],"joints":[{"kind":"solvent_cement"}],
"devices":[{"id":"d%d","kind":"cleanout","size":"3 in","accessible":true,"at":"1 ft"}]}`, i, i, i+1, i)
	}
	b.WriteString(`]}`)
	d, problems := Read("d.json", []byte(b.String()), Limits{})
	if d == nil || len(problems) > 0 {
		t.Fatalf("problems: %v", problems)
	}
	if e, ok := d.Find("d4999"); !ok || e.Position.Line != 2*5000+1 || e.Position.Pointer != "/pipes/4999/devices/0" {
		t.Errorf("found %+v", e)
	}
}

func TestLimitsCanBeChanged(t *testing.T) {
	for _, c := range []struct {
		limits Limits
		want   string
	}{
		{Limits{Bytes: 10}, "max_bytes"},
		{Limits{Depth: 1}, "max_depth"},
		{Limits{Values: 3}, "max_values"},
		{Limits{Digits: 2}, "max_digits"},
		{Limits{Text: 7}, "max_text"},
		{Limits{Elements: 1}, "max_elements"},
	} {
		_, problems := Read("d.json", []byte(`{"project":{"name":"x"},"building":{"storeys":123},"junctions":[{"id":"a"},{"id":"b"}]}`), c.limits)
		if len(problems) != 1 || problems[0].Code != c.want {
			t.Errorf("%+v: %v", c.limits, problems)
		}
	}
	exact := Limits{Bytes: len(least), Depth: 2, Values: 4, Digits: 1, Text: 8}
	if d, problems := Read("d.json", []byte(least), exact); d == nil {
		t.Errorf("at its limits: %v", problems)
	}
}

func TestProblemsAreSortedAndCounted(t *testing.T) {
	faulty := func(n int) []byte {
		var b strings.Builder
		b.WriteString("{\"project\":{\"name\":\"x\"},\"building\":{},\"pumps\":[\n")
		for i := range n {
			fmt.Fprintf(&b, "{\"id\":\"p%d\",\"basin\":\"s\",\"outlet\":2},\n", i)
		}
		b.WriteString("{\"id\":\"p\",\"basin\":\"s\"}]}")
		return []byte(b.String())
	}
	for n, want := range map[int]string{150: "50 more problems are not listed; max-problems is 100", 101: "1 more problem is not listed; max-problems is 100", 100: ""} {
		d, problems := Read("d.json", faulty(n), Limits{})
		if d != nil {
			t.Error("a Document was given")
		}
		told := problems[:100]
		for i, p := range told {
			if p.Place.Line != i+2 || p.Code != "bare_number" {
				t.Fatalf("problem %d is %s", i, place(p))
			}
		}
		switch {
		case want == "" && len(problems) != 100:
			t.Errorf("%d faults gave %d problems", n, len(problems))
		case want != "" && (len(problems) != 101 || problems[100].Code != "max_problems" || problems[100].Message != want):
			t.Errorf("%d faults end with %v", n, problems[len(problems)-1])
		}
	}
	var all [][]finding.Problem
	for range 5 { // maps inside must not show
		_, problems := Read("d.json", bytes.ReplaceAll(studio(t), []byte(`"size": "`), []byte(`"sise": "x`)), Limits{})
		all = append(all, problems)
	}
	for _, other := range all[1:] {
		if diff := cmp.Diff(all[0], other); diff != "" {
			t.Errorf("problems differ between readings:\n%s", diff)
		}
	}
	if !slices.IsSortedFunc(all[0], func(a, b finding.Problem) int { return a.Place.Line - b.Place.Line }) {
		t.Error("problems are not sorted by line")
	}
}
