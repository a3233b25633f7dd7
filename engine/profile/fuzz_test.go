package profile

import (
	"bytes"
	"encoding/json"
	"errors"
	"io/fs"
	"maps"
	"math/rand/v2"
	"os"
	"path"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
)

// FuzzLoad reads bytes as the profile.json of a code of its own or of a town
// that amends one. It loads the same twice or says what is wrong and where, and
// what it loads holds together.
func FuzzLoad(f *testing.F) {
	f.Add([]byte(modelJSON))
	f.Add([]byte(townJSON))
	for _, s := range []string{"", "{", "[]", "null", `{"id":"model","id":"model"}`, strings.Repeat("[", 40), `{"id":"town","amends":"town"}`,
		strings.Replace(modelJSON, `"adopts"`, `"verify"`, 1), strings.Replace(townJSON, `"tables"`, `"x"`, 1),
		strings.Replace(modelJSON, `"4 in": {`, `"DN 80": {`, 1), strings.Replace(townJSON, `"2 in": "1/2 in/ft"`, `"2 in": null`, 1)} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		id := "model"
		if bytes.Contains(data, []byte(`"town"`)) {
			id = "town"
		}
		d := &document{id: id, file: "x.json", data: data}
		if _, err := d.parse(); err == nil && !json.Valid(data) {
			t.Fatal("what encoding/json refuses was parsed")
		}
		fsys := policiesFS(map[string]string{profileFile(id): string(data)})
		p := loadTwice(t, fsys, id)
		if p == nil {
			return
		}
		if id == "town" && p.Amends == "model" {
			checkAmended(t, mustLoad(t, "model"), p, data)
		}
	})
}

// FuzzAmend changes a built-in profile at random and amends it at random: tables,
// rows, adoptions and fixtures dropped, exchanged, cited anew, or broken.
func FuzzAmend(f *testing.F) {
	known := inMemory(f, os.DirFS("../../policies"))
	ids, err := profileIDs(known)
	if err != nil {
		f.Fatal(err)
	}
	for i := range ids {
		f.Add(uint64(i), uint64(7*i), uint8(i), false)
		f.Add(uint64(100+i), uint64(3*i), uint8(i), true)
	}
	f.Fuzz(func(t *testing.T, a, b uint64, which uint8, alone bool) {
		base := ids[int(which)%len(ids)]
		r := rand.New(rand.NewPCG(a, b))
		files := maps.Clone(known)
		if alone {
			var doc map[string]any
			decode(t, known[profileFile(base)].Data, &doc)
			for range r.IntN(4) {
				disturb(r, doc)
			}
			doc["id"] = base
			files[profileFile(base)] = &fstest.MapFile{Data: encode(t, doc)}
			loadTwice(t, files, base)
			return
		}
		old, err := Load(files, base)
		if err != nil {
			t.Fatal(err)
		}
		patch := amendment(r, old)
		data := encode(t, patch)
		files[profileFile("fuzz")] = &fstest.MapFile{Data: data}
		if p := loadTwice(t, files, "fuzz"); p != nil {
			checkAmended(t, old, p, data)
		}
	})
}

// TestAmendmentsAtRandomLoad holds that FuzzAmend tries what loads, and what
// does not, often enough.
func TestAmendmentsAtRandomLoad(t *testing.T) {
	files := inMemory(t, os.DirFS("../../policies"))
	old, err := Load(files, "ipc-2021")
	if err != nil {
		t.Fatal(err)
	}
	const tries = 200
	loaded := 0
	for seed := range uint64(tries) {
		files[profileFile("fuzz")] = &fstest.MapFile{Data: encode(t, amendment(rand.New(rand.NewPCG(seed, 1)), old))}
		if p, err := Load(files, "fuzz"); err == nil && !cmp.Equal(p.Data(), old.Data()) {
			loaded++
		}
	}
	if loaded < tries/10 || loaded > tries*9/10 {
		t.Errorf("%d of %d amendments load", loaded, tries)
	}
}

// inMemory keeps of the policies what Load reads.
func inMemory(t testing.TB, fsys fs.FS) fstest.MapFS {
	t.Helper()
	out := fstest.MapFS{}
	err := fs.WalkDir(fsys, ".", func(name string, d fs.DirEntry, err error) error {
		switch {
		case err != nil || d.IsDir():
			return err
		case path.Ext(name) == ".rego":
			out[name] = &fstest.MapFile{}
		case path.Base(name) == "profile.json":
			data, err := fs.ReadFile(fsys, name)
			out[name] = &fstest.MapFile{Data: data}
			return err
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func encode(t *testing.T, doc any) []byte {
	t.Helper()
	data, err := json.MarshalIndent(doc, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func decode(t *testing.T, data []byte, doc any) {
	t.Helper()
	d := json.NewDecoder(bytes.NewReader(data))
	d.UseNumber()
	if err := d.Decode(doc); err != nil {
		t.Fatal(err)
	}
}

// scalars are values that fit somewhere, and values that fit nowhere.
var scalars = []any{nil, true, false, "", "1/4 in/ft", "3 in", "DN 80", "2.5 %", "no limit", "not permitted", "6 dfu", "3 du", "10 gpm", "-1 in", "1e9 in",
	"checked", "from memory", "from hearsay", "\u0000", "2 in | 1/4 in/ft", json.Number("3"), json.Number("-1"), json.Number("1e400"), json.Number("0.5"),
	[]any{}, []any{"wye", ""}, map[string]any{}, map[string]any{"value": "3 in"}, map[string]any{"rows": map[string]any{"3 in": nil}}, map[string]any{"is": nil}}

// disturb changes one value somewhere in a document.
func disturb(r *rand.Rand, doc map[string]any) {
	at := doc
	for {
		keys := slices.Sorted(maps.Keys(at))
		if len(keys) == 0 {
			at["value"] = scalars[r.IntN(len(scalars))]
			return
		}
		key := keys[r.IntN(len(keys))]
		if next, ok := at[key].(map[string]any); ok && r.IntN(8) > 0 {
			at = next
			continue
		}
		other := keys[r.IntN(len(keys))]
		switch r.IntN(5) {
		case 0:
			delete(at, key)
		case 1:
			at[other] = at[key]
		case 2:
			at[key], at[other] = at[other], at[key]
		case 3:
			at[key+" "] = at[key]
		default:
			at[key] = scalars[r.IntN(len(scalars))]
		}
		return
	}
}

// amendment draws one of a profile that loads.
func amendment(r *rand.Rand, old *Profile) map[string]any {
	cited := func(m map[string]any) map[string]any {
		if r.IntN(20) > 0 {
			m["basis"] = "checked"
		}
		if r.IntN(20) > 0 {
			m["source"] = "law"
		}
		m["section"] = "L-1"
		return m
	}
	tables, adopts, fixtures := map[string]any{}, map[string]any{}, map[string]any{}
	ids, rules := old.Tables(), old.Rules()
	for range 1 + r.IntN(5) {
		id := ids[r.IntN(len(ids))]
		t := old.Table(id)
		rows := t.Rows()
		row, other := rows[r.IntN(len(rows))], rows[r.IntN(len(rows))]
		name := strings.Join(row.Key, keySeparator)
		var value any
		switch v := other.Value.(type) {
		case int64:
			value = t.Text(other, old.Units)
			if t.Value == Number || bare(t.Value) {
				value = v
			}
		default:
			value = v
		}
		switch r.IntN(9) {
		case 0:
			tables[id] = nil
		case 1:
			tables[id] = cited(map[string]any{})
		case 2:
			if len(row.Key) == 0 {
				tables[id] = cited(map[string]any{"is": value})
			} else {
				tables[id] = cited(map[string]any{"rows": map[string]any{name: value}})
			}
		case 3:
			tables[id] = map[string]any{"rows": map[string]any{name: nil}}
		case 4:
			tables[id] = map[string]any{"rows": map[string]any{name: cited(map[string]any{"value": value})}}
		case 5:
			adopts[rules[r.IntN(len(rules))]] = nil
		case 6:
			adopts[rules[r.IntN(len(rules))]] = cited(map[string]any{"level": []any{"note", "warning", "error"}[r.IntN(3)]})
		case 7:
			if len(old.Fixtures) > 0 {
				fixtures[old.Fixtures[r.IntN(len(old.Fixtures))].Class] = []any{nil, cited(map[string]any{"load": "2 dfu"}), cited(map[string]any{"trap": "2 in"})}[r.IntN(3)]
			}
		case 8:
			tables["town.more"] = cited(map[string]any{"keys": []any{"size"}, "value": "length", "rows": map[string]any{"3 in": "10 ft", "DN 100": "3 m"}})
		}
	}
	doc := map[string]any{"id": "fuzz", "title": "Fuzz", "edition": "1", "authority": "The town", "verify": "verify with the town", "amends": old.ID,
		"sources": map[string]any{"law": map[string]any{"title": "The law"}}}
	for key, part := range map[string]map[string]any{"tables": tables, "adopts": adopts, "fixtures": fixtures} {
		if len(part) > 0 {
			doc[key] = part
		}
	}
	if r.IntN(4) == 0 {
		disturb(r, doc)
		doc["id"], doc["amends"] = "fuzz", old.ID
	}
	return doc
}

// loadTwice loads a profile and checks what comes out; nil for one that does
// not load.
func loadTwice(t *testing.T, fsys fs.FS, id string) *Profile {
	t.Helper()
	p, err := Load(fsys, id)
	again, err2 := Load(fsys, id)
	if (err == nil) != (err2 == nil) || err != nil && err.Error() != err2.Error() {
		t.Fatalf("loaded twice: %v, %v", err, err2)
	}
	if err != nil {
		if p != nil {
			t.Error("both a profile and an error")
		}
		checkErrors(t, err)
		return nil
	}
	if diff := cmp.Diff(p.Data(), again.Data()); diff != "" {
		t.Errorf("loaded twice (-first +second):\n%s", diff)
	}
	checkProfile(t, p)
	return p
}

// checkErrors wants words and a place of every error.
func checkErrors(t *testing.T, err error) {
	t.Helper()
	var list Errors
	if one, ok := err.(*Error); ok {
		list = Errors{one}
	} else if !errors.As(err, &list) || len(list) == 0 {
		t.Fatalf("error %T %v", err, err)
	}
	for _, e := range list {
		if e.Message == "" || !strings.HasSuffix(e.File, "/profile.json") || e.Line < 1 || e.Col < 1 || !utf8.ValidString(e.Error()) || !utf8.ValidString(e.Hint) {
			t.Errorf("error %+v", e)
		}
	}
}

// checkProfile holds a profile to itself.
func checkProfile(t *testing.T, p *Profile) {
	t.Helper()
	figures := len(p.Fixtures) + len(p.Groups) + len(p.Adopts)
	cited := func(what string, c Cite) {
		t.Helper()
		if _, ok := p.Sources[c.Source]; !ok || c.Basis == "" || !slices.Contains(p.Chain, c.From) {
			t.Errorf("%s is cited as %+v", what, c)
		}
	}
	for _, id := range p.Tables() {
		table := p.Table(id)
		figures += len(table.rows)
		if len(table.rows) == 0 || len(table.rows) != len(table.keys) {
			t.Errorf("table %s has %d rows and %d keys", id, len(table.rows), len(table.keys))
		}
		for i, e := range table.rows {
			cited(id, e.Cite)
			if text := table.Text(e, p.Units); text == "" && table.Value != Word || !utf8.ValidString(text) {
				t.Errorf("%s, row %d prints as %q", id, i, text)
			}
			checkLookups(t, table, table.keys[i])
		}
		at := any(p.Data())
		for part := range strings.SplitSeq(id, ".") {
			in, _ := at.(map[string]any)
			at = in[part]
		}
		if at == nil {
			t.Errorf("table %s is not in the data", id)
		} else if diff := cmp.Diff(table.root.data(), at); diff != "" {
			t.Errorf("%s differs in the data (-table +data):\n%s", id, diff)
		}
	}
	for rule, a := range p.Adopts {
		cited(rule, a.Cite)
	}
	for i, f := range p.Fixtures {
		cited(f.Class, f.Cite)
		if got, ok := p.Fixture(FixtureQuery{Kind: f.Kind, Use: f.Use, FlushType: f.FlushType, Emergency: f.Emergency, Flush: f.Flush, Flow: f.Flow, TrapDN: f.TrapAt}); !ok {
			t.Errorf("fixture %s does not fit itself", f.Class)
		} else if j := slices.IndexFunc(p.Fixtures, func(x Fixture) bool { return x.Class == got.Class }); j > i {
			t.Errorf("a fixture that %s fits is %s, which comes after it", f.Class, got.Class)
		}
	}
	for _, g := range p.Groups {
		cited(g.Class, g.Cite)
	}
	if got := p.Figures().Total(); got != figures {
		t.Errorf("%d figures by basis, %d in all", got, figures)
	}
	if _, err := json.Marshal(p.Data()); err != nil {
		t.Error(err)
	}
	for _, at := range p.Paths() {
		if len(p.At(at)) == 0 {
			t.Errorf("the profile has nothing to say at its own path %q", at)
		}
	}
}

// checkLookups asks for the key of a row and what stands beside it, and holds
// the answer against a search of all rows.
func checkLookups(t *testing.T, table *Table, key []any) {
	t.Helper()
	for _, how := range []byte{'a', 'b'} {
		for _, off := range []int64{-1000, -1, 0, 1, 1000} {
			asked := make([]Key, len(key))
			for i, part := range key {
				switch part := part.(type) {
				case string:
					asked[i] = ByWord(part)
				case int64:
					if sum := part + off; (sum > part) == (off > 0) {
						part = sum
					}
					asked[i] = Key{at: part, how: how}
				}
			}
			want := plainLookup(table, asked)
			got, ok := table.Lookup(asked...)
			if ok != (want >= 0) || ok && !cmp.Equal(got, table.rows[want]) {
				t.Errorf("%s: Lookup(%+v) = %+v, %v, want row %d", table.ID, asked, got, ok, want)
			}
		}
	}
}

// plainLookup narrows the rows down key by key; -1 where none is left. A limit
// is met by who misses it by a ten-thousandth and no more than ten units.
func plainLookup(table *Table, asked []Key) int {
	left := make([]int, len(table.keys))
	for i := range left {
		left[i] = i
	}
	for i, k := range asked {
		if k.how == 'w' {
			left = slices.DeleteFunc(left, func(row int) bool { return table.keys[row][i] != k.word })
			continue
		}
		at := func(row int) int64 { return table.keys[row][i].(int64) }
		slack := func(row int) int64 { return min(10, max(at(row), -at(row))/10000) }
		left = slices.DeleteFunc(left, func(row int) bool {
			if k.how == 'a' {
				return at(row) < k.at && k.at-at(row) > slack(row)
			}
			return at(row) > k.at && at(row)-k.at > slack(row)
		})
		if len(left) == 0 {
			return -1
		}
		best := slices.MinFunc(left, func(a, b int) int {
			if k.how == 'a' {
				return cmpNumbers(at(a), at(b))
			}
			return cmpNumbers(at(b), at(a))
		})
		to := at(best)
		left = slices.DeleteFunc(left, func(row int) bool { return at(row) != to })
	}
	if len(left) != 1 {
		return -1
	}
	return left[0]
}

func cmpNumbers(a, b int64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// checkAmended holds that an amendment changes what it names, and nothing else.
func checkAmended(t *testing.T, old, p *Profile, data []byte) {
	t.Helper()
	var patch struct {
		Tables   map[string]json.RawMessage `json:"tables"`
		Adopts   map[string]json.RawMessage `json:"adopts"`
		Fixtures json.RawMessage            `json:"fixtures"`
	}
	if err := json.Unmarshal(data, &patch); err != nil {
		t.Fatal(err)
	}
	for _, id := range old.Tables() {
		change, named := patch.Tables[id]
		switch {
		case !named:
			if diff := cmp.Diff(old.Table(id).Rows(), p.Table(id).Rows()); diff != "" {
				t.Errorf("table %s is not amended, and changes (-base +amended):\n%s", id, diff)
			}
		case string(change) == "null" && p.Table(id) != nil:
			t.Errorf("table %s is dropped, and stands", id)
		}
	}
	for id, a := range old.Adopts {
		change, named := patch.Adopts[id]
		got, adopted := p.Adopts[id]
		switch {
		case !named && got != a:
			t.Errorf("rule %s is not amended, and changes from %+v to %+v", id, a, got)
		case string(change) == "null" && adopted:
			t.Errorf("rule %s is dropped, and adopted", id)
		}
	}
	if patch.Fixtures == nil {
		if diff := cmp.Diff(old.Fixtures, p.Fixtures); diff != "" {
			t.Errorf("fixtures are not amended, and change (-base +amended):\n%s", diff)
		}
	}
	if !slices.Equal(p.Chain[1:], old.Chain) {
		t.Errorf("chain %v amends %v", p.Chain, old.Chain)
	}
	for _, id := range p.Tables() {
		for i, e := range p.Table(id).Rows() {
			if _, named := patch.Tables[id]; named && e.From == p.ID && e.Source == "" {
				t.Errorf("%s, row %d of the amendment has no source", id, i)
			}
		}
	}
}
