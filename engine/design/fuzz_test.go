package design

import (
	"encoding/json"
	"slices"
	"testing"
	"unicode/utf8"
)

// FuzzRead: no input breaks Read; what it accepts is JSON for encoding/json
// too, and what it refuses though it is JSON, it refuses for a stated reason.
func FuzzRead(f *testing.F) {
	f.Add(studio(f))
	for _, s := range []string{least, "", "[]", `{"a":1,"a":2}`, "\xEF\xBB\xBF{}", "\xFF\xFE{\x00", `{"a":"\ud83d\ude00"}`,
		`{"project":{"name":"x"},"building":{"storeys":1e0}}`, `[1e999,-0.0,"\u0000"]`, "{\n\"é\": [1,2,]}",
		`{"project":{"name":"x"},"building":{},"pipes":[{"id":"a","service":"drain","from":"b","to":"c","size":3,"slope":"-1/4 in/ft"}]}`} {
		f.Add([]byte(s))
	}
	stricter := map[string]bool{"bad_utf8": true, "bad_escape": true, "out_of_range": true, "max_digits": true, "max_text": true,
		"max_depth": true, "max_values": true}
	f.Fuzz(func(t *testing.T, data []byte) {
		d, problems := Read("d.json", data, Limits{})
		if d == nil && len(problems) == 0 {
			t.Fatal("neither a Document nor a problem")
		}
		for _, p := range problems {
			if p.Code == "max_problems" {
				continue
			}
			if p.Code == "" || p.Message == "" || p.Place.Line < 1 || p.Place.Col < 1 || !utf8.ValidString(p.Message) || !utf8.ValidString(p.Hint) || !utf8.ValidString(p.Place.Pointer) {
				t.Fatalf("problem %+v", p)
			}
		}
		if d != nil {
			if !json.Valid(data) {
				t.Fatal("what encoding/json refuses was read")
			}
			for _, id := range []string{"project", "building"} {
				if e, ok := d.Find(id); !ok || e.Position.Line < 1 {
					t.Fatalf("%s stands at %+v", id, e)
				}
			}
		}
		bad := &faults{}
		table, ok := scan(data, DefaultLimits(), bad)
		if valid := json.Valid(data); ok && !valid {
			t.Fatal("what encoding/json refuses was scanned")
		} else if !ok && valid && !slices.ContainsFunc(bad.list, func(f fault) bool { return stricter[f.code] }) {
			t.Fatalf("JSON was refused with %+v", bad.list)
		}
		if ok && len(table.nodes) > 0 {
			for n := range table.nodes {
				if len(bad.list) > 0 || len(table.nodes) > 1000 {
					break
				}
				if at, found := table.resolve(table.pointer(int32(n))); !found || at != int32(n) {
					t.Fatalf("node %d has the pointer %q of node %d", n, table.pointer(int32(n)), at)
				}
			}
		}
	})
}

// BenchmarkRead reads a design of about 20 KB.
func BenchmarkRead(b *testing.B) {
	data := twentyKB(b)
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		if d, problems := Read("d.json", data, Limits{}); d == nil {
			b.Fatal(problems)
		}
	}
}

// twentyKB repeats the lists of the sample with other ids.
func twentyKB(b *testing.B) []byte {
	var whole map[string]any
	if err := json.Unmarshal(studio(b), &whole); err != nil {
		b.Fatal(err)
	}
	for _, key := range []string{"fixtures", "junctions", "pipes", "terminals", "basins", "connections"} {
		list := whole[key].([]any)
		var out []any
		for _, suffix := range []string{"", "-2", "-3", "-4"} {
			for _, x := range list {
				var again any
				text, _ := json.Marshal(x)
				_ = json.Unmarshal(text, &again)
				renamed(again, suffix)
				out = append(out, again)
			}
		}
		whole[key] = out
	}
	data, err := json.MarshalIndent(whole, "", " ")
	if err != nil {
		b.Fatal(err)
	}
	return data
}

func renamed(x any, suffix string) {
	switch x := x.(type) {
	case map[string]any:
		for k, v := range x {
			if s, ok := v.(string); ok && k == "id" {
				x[k] = s + suffix
			}
			renamed(v, suffix)
		}
	case []any:
		for _, v := range x {
			renamed(v, suffix)
		}
	}
}
