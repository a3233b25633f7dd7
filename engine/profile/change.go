package profile

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"backpitch/engine/quantity"
)

// Columns of the fixture table and other figures that are no table, as a
// Change names them.
const (
	FixtureLoad = "fixture.load"
	FixtureTrap = "fixture.trap_min"
	GroupLoad   = "bathroom_group"
	MethodK     = "method.k"
)

// Change makes one figure of a profile another, to see who notices.
type Change struct {
	Table string // a table id, or one of the columns above
	Row   int    // of Table.Rows, Profile.Fixtures, Profile.Groups, or the sorted uses of K
	Key   int    // the part of the row's key that changes, -1 for the value
	To    any    // the new value or key part; nil drops the row
	Words string // what changes: "2 in: 1/4 in/ft becomes 0.273 in/ft"
	From  string // the profile that states the figure
}

// Changes lists every single change: each number one step up and down, each
// size to its neighbours, each flag turned, each list without one of its words,
// each word another, each ordered key one step up and down, each row dropped.
func (p *Profile) Changes() []Change {
	var out []Change
	for _, id := range p.Tables() {
		t := p.tables[id]
		for i, e := range t.rows {
			out = append(out, t.changes(i, e, p.Units)...)
		}
	}
	for i, f := range p.Fixtures {
		out = append(out, p.loadChanges(FixtureLoad, i, f.Class, f.Load, p.LoadKind(), f.From)...)
		out = append(out, p.loadChanges(FixtureTrap, i, f.Class, f.Trap, quantity.Size, f.From)...)
	}
	for i, g := range p.Groups {
		out = append(out, p.loadChanges(GroupLoad, i, g.Class, &g.Load, p.LoadKind(), g.From)...)
	}
	for i, use := range p.uses() {
		k := p.Method.K[use]
		out = append(out, p.loadChanges(MethodK, i, use, &k, quantity.Factor, p.Method.From)...)
	}
	return out
}

func (p *Profile) uses() []string { return slices.Sorted(maps.Keys(p.Method.K)) }

func (p *Profile) loadChanges(column string, row int, name string, v *int64, kind quantity.Kind, from string) []Change {
	if v == nil {
		return nil
	}
	var out []Change
	for _, to := range neighbours(kind, *v, p.Units) {
		out = append(out, Change{column, row, -1, to, becomes(name, kind, *v, to, p.Units), from})
	}
	return out
}

func becomes(row string, kind quantity.Kind, from, to any, units quantity.System) string {
	text := valueText(kind, from, units) + " becomes " + valueText(kind, to, units)
	if row == "" {
		return text
	}
	return row + ": " + text
}

func (t *Table) changes(i int, e Entry, units quantity.System) []Change {
	var out []Change
	add := func(key int, to any, words string) {
		out = append(out, Change{t.ID, i, key, to, words, e.From})
	}
	row := e.KeyText()
	switch v := e.Value.(type) {
	case int64:
		for _, to := range neighbours(t.Value, v, units) {
			add(-1, to, becomes(row, t.Value, v, to, units))
		}
	case bool:
		add(-1, !v, becomes(row, Flag, v, !v, units))
	case string:
		add(-1, "another_word", becomes(row, Word, v, "another_word", units))
	case []string:
		for j, word := range v {
			add(-1, slices.Delete(slices.Clone(v), j, j+1), strings.TrimPrefix(row+": "+word+" is dropped", ": "))
		}
		if len(v) == 0 {
			add(-1, []string{"another_word"}, strings.TrimPrefix(row+": another_word is added", ": "))
		}
	}
	for k, kind := range t.Keys {
		if at, ok := t.keys[i][k].(int64); ok {
			for _, to := range neighbours(kind, at, units) {
				add(k, to, "key "+becomes(row, kind, at, to, units))
			}
		}
	}
	if len(t.rows) > 1 {
		add(-1, nil, row+" is dropped")
	}
	return out
}

// Changed returns a copy of the profile with one figure changed. The copy is
// for judging and printing only; its counts are those of the profile.
func (p *Profile) Changed(c Change) *Profile {
	out := *p
	number, _ := c.To.(int64)
	switch c.Table {
	case FixtureLoad, FixtureTrap:
		out.Fixtures = slices.Clone(p.Fixtures)
		if c.Table == FixtureLoad {
			out.Fixtures[c.Row].Load = &number
		} else {
			out.Fixtures[c.Row].Trap = &number
		}
	case GroupLoad:
		out.Groups = slices.Clone(p.Groups)
		out.Groups[c.Row].Load = number
		return &out
	case MethodK:
		out.Method.K = maps.Clone(p.Method.K)
		out.Method.K[p.uses()[c.Row]] = number
		return &out
	default:
		out.tables = maps.Clone(p.tables)
		out.tables[c.Table] = p.tables[c.Table].changed(c)
		out.data = replaced(p.data, strings.Split(c.Table, "."), out.tables[c.Table].root.data())
		return &out
	}
	data, clash := out.layOut()
	if clash != "" {
		panic("profile: " + clash)
	}
	out.data = data
	return &out
}

// replaced returns the tree with another value at a path; what is not on it is
// shared.
func replaced(tree map[string]any, path []string, value any) map[string]any {
	out := maps.Clone(tree)
	if len(path) > 1 {
		below, _ := tree[path[0]].(map[string]any)
		value = replaced(below, path[1:], value)
	}
	out[path[0]] = value
	return out
}

// changed rebuilds the table with one row changed or left out.
func (t *Table) changed(c Change) *Table {
	out := &Table{ID: t.ID, Title: t.Title, Keys: t.Keys, Value: t.Value, root: &level{}}
	for i, e := range t.rows {
		key := t.keys[i]
		if i == c.Row {
			switch {
			case c.Key >= 0:
				key, e.Key = slices.Clone(key), slices.Clone(e.Key)
				key[c.Key] = c.To
				e.Key[c.Key] = c.keyText(t.Keys[c.Key])
			case c.To == nil:
				continue
			default:
				e.Value = c.To
			}
		}
		out.add(key, e)
	}
	return out
}

func (c Change) keyText(kind quantity.Kind) string { return valueText(kind, c.To, quantity.US) }

// KeyParts returns the parts of a row's key as rules read them: a size key or
// another word as string, an ordered key as int64.
func (t *Table) KeyParts(row int) []any {
	if t == nil || row >= len(t.keys) {
		return nil
	}
	return slices.Clone(t.keys[row])
}

// Rewritten returns the change to a figure that is as unlike it as can be, to
// find out whose verdicts rest on it.
func (p *Profile) Rewritten(table string, row int) Change {
	c := Change{Table: table, Row: row, Key: -1}
	switch table {
	case FixtureLoad, FixtureTrap, GroupLoad, MethodK:
		c.To = int64(7919)
		return c
	}
	switch v := p.tables[table].rows[row].Value.(type) {
	case int64:
		c.To = v/2 + 7919
		if v == c.To {
			c.To = v + 1
		}
	case bool:
		c.To = !v
	case string:
		c.To = "another_word"
	case []string:
		c.To = []string{"another_word"}
	}
	return c
}

// steps are the smallest differences that people write, in fixed units; what a
// figure is changed by must be more than lib.judge forgives.
var steps = map[quantity.System]map[quantity.Kind]int64{
	quantity.US: {quantity.Length: 397, quantity.Slope: 1302, quantity.Flow: 6, quantity.Volume: 379, quantity.Velocity: 3, quantity.Weight: 454},
	quantity.SI: {quantity.Length: 1000, quantity.Slope: 1000, quantity.Flow: 10, quantity.Volume: 100, quantity.Velocity: 10, quantity.Weight: 100},
}

var commonSteps = map[quantity.Kind]int64{quantity.Duration: 1000, quantity.Load: 500, quantity.DischargeUnit: 100,
	quantity.Ratio: 10000, quantity.Factor: 100, quantity.Angle: 1000}

// Step is the smallest difference of a kind that people write, and at least one
// unit more than lib.judge forgives at that limit.
func Step(kind quantity.Kind, limit int64, units quantity.System) int64 {
	step := max(1, steps[units][kind], commonSteps[kind])
	return max(step, Beyond(limit))
}

// Beyond is the least number by which a value misses the limit when lib.judge
// no longer forgives it.
func Beyond(limit int64) int64 {
	beyond := int64(1)
	for within(beyond, limit) {
		beyond++
	}
	return beyond
}

// neighbours are the values next to v: listed sizes, or one step down and up;
// "no limit" becomes a large limit and "not permitted" a small one.
func neighbours(kind quantity.Kind, v int64, units quantity.System) []any {
	if kind == quantity.Size {
		var out []any
		if below, ok := NextSize(v, -1); ok {
			out = append(out, below)
		}
		if above, ok := NextSize(v, 1); ok {
			out = append(out, above)
		}
		return out
	}
	step := Step(kind, v, units)
	switch {
	case v == quantity.Unlimited:
		return []any{int64(1) << 40}
	case v == 0:
		return []any{step}
	case v < 0 || v > step:
		return []any{v - step, v + step}
	}
	return []any{int64(0), v + step}
}

// NextSize is the listed size before (-1) or after (1) a DN number.
func NextSize(dn int64, way int) (int64, bool) {
	sizes := quantity.Sizes()
	if way < 0 {
		slices.Reverse(sizes)
	}
	for _, s := range sizes {
		if way < 0 && s.DN < dn || way > 0 && s.DN > dn {
			return s.DN, true
		}
	}
	return 0, false
}

// String is "drain.min_slope: 2 in: 1/4 in/ft becomes …".
func (c Change) String() string { return fmt.Sprintf("%s: %s", c.Table, c.Words) }

// ChangesOf lists the changes of one row.
func (p *Profile) ChangesOf(table string, row int) []Change {
	if t := p.tables[table]; t != nil {
		return t.changes(row, t.rows[row], p.Units)
	}
	return slices.DeleteFunc(p.Changes(), func(c Change) bool { return c.Table != table || c.Row != row })
}
