package profile

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"
)

// Comparison sets profiles side by side. Cells stand in the order of Profiles.
type Comparison struct {
	Profiles []string        `json:"profiles"`
	Rules    []ComparedRule  `json:"rules"`  // those that differ first
	Tables   []ComparedTable `json:"tables"` // those with a row that differs
}

// ComparedRule is one rule under each profile.
type ComparedRule struct {
	Rule    string     `json:"rule"`
	Title   string     `json:"title"`
	Differs bool       `json:"differs"` // in adoption, level or limit
	Cells   []RuleCell `json:"cells"`
}

// RuleCell is a rule as one profile has it; zero where it does not.
type RuleCell struct {
	Adopted bool     `json:"adopted"`
	Level   string   `json:"level,omitempty"`
	Section string   `json:"section,omitempty"`
	Basis   string   `json:"basis,omitempty"`
	Limits  []string `json:"limits,omitempty"` // of its tables without keys, and how many rows the others have
}

// ComparedTable is a table with the rows that differ.
type ComparedTable struct {
	Table string        `json:"table"`
	Title string        `json:"title"`
	Rows  []ComparedRow `json:"rows"`
}

// ComparedRow is one row under each profile.
type ComparedRow struct {
	Key   string    `json:"key"`
	Cells []RowCell `json:"cells"`
	parts []any     // for the order
}

// RowCell is a figure as one profile has it; zero where it does not.
type RowCell struct {
	Value   string `json:"value,omitempty"`
	Section string `json:"section,omitempty"`
	Basis   string `json:"basis,omitempty"`
}

// Compare sets the profiles side by side. The catalogue says which tables a
// rule reads.
func Compare(profiles []*Profile, catalogue map[string]Rule) Comparison {
	c := Comparison{Rules: []ComparedRule{}, Tables: []ComparedTable{}}
	rules, tables := map[string]bool{}, map[string]bool{}
	for _, p := range profiles {
		c.Profiles = append(c.Profiles, p.ID)
		for _, id := range p.Rules() {
			rules[id] = true
		}
		for _, id := range p.Tables() {
			tables[id] = true
		}
	}
	for _, id := range slices.Sorted(maps.Keys(rules)) {
		c.Rules = append(c.Rules, compareRule(profiles, catalogue[id], id))
	}
	slices.SortStableFunc(c.Rules, func(a, b ComparedRule) int {
		switch {
		case a.Differs == b.Differs:
			return 0
		case a.Differs:
			return -1
		}
		return 1
	})
	for _, id := range slices.Sorted(maps.Keys(tables)) {
		if t := compareTable(profiles, id); len(t.Rows) > 0 {
			c.Tables = append(c.Tables, t)
		}
	}
	return c
}

func compareRule(profiles []*Profile, r Rule, id string) ComparedRule {
	out := ComparedRule{Rule: id, Title: r.Title}
	for i, p := range profiles {
		cell := RuleCell{}
		if a, ok := p.Adopts[id]; ok {
			cell = RuleCell{Adopted: true, Level: string(cmp.Or(a.Level, r.Level)), Section: a.Section, Basis: string(a.Basis)}
			for _, table := range slices.Concat(r.Tables, r.Optional) {
				cell.Limits = append(cell.Limits, p.limit(table)...)
			}
		}
		out.Cells = append(out.Cells, cell)
		first := out.Cells[0]
		if i > 0 && (first.Adopted != cell.Adopted || first.Level != cell.Level) {
			out.Differs = true
		}
		for _, table := range slices.Concat(r.Tables, r.Optional) {
			if i > 0 && cell.Adopted && first.Adopted && !sameTable(profiles[0], p, table) {
				out.Differs = true
			}
		}
	}
	return out
}

// limit is the one value of a table, or how many rows it has.
func (p *Profile) limit(id string) []string {
	t := p.tables[id]
	switch {
	case t == nil:
		return nil
	case len(t.Keys) == 0:
		return []string{t.Text(t.rows[0], p.Units)}
	case len(t.rows) == 1:
		return []string{t.rows[0].KeyText() + ": " + t.Text(t.rows[0], p.Units)}
	}
	return []string{fmt.Sprintf("%s (%d rows)", id, len(t.rows))}
}

func sameTable(a, b *Profile, id string) bool {
	if id == FixtureTrap || id == FixtureLoad {
		return fmt.Sprint(a.data["fixture"]) == fmt.Sprint(b.data["fixture"])
	}
	x, y := a.tables[id], b.tables[id]
	if x == nil || y == nil {
		return x == y
	}
	return fmt.Sprint(x.root.data()) == fmt.Sprint(y.root.data())
}

func compareTable(profiles []*Profile, id string) ComparedTable {
	out := ComparedTable{Table: id, Rows: []ComparedRow{}}
	rows := map[string]*ComparedRow{}
	var order []*ComparedRow
	values := map[string][]string{}
	for i, p := range profiles {
		t := p.tables[id]
		if t == nil {
			continue
		}
		out.Title = cmp.Or(out.Title, t.Title)
		for k, e := range t.rows {
			name := fmt.Sprint(t.keys[k])
			row := rows[name]
			if row == nil {
				row = &ComparedRow{Key: e.KeyText(), Cells: make([]RowCell, len(profiles)), parts: t.keys[k]}
				rows[name] = row
				values[name] = make([]string, len(profiles))
				order = append(order, row)
			}
			row.Cells[i] = RowCell{Value: t.Text(e, p.Units), Section: e.Section, Basis: string(e.Basis)}
			values[name][i] = fmt.Sprintf("%v", e.Value)
		}
	}
	for _, row := range order {
		all := values[fmt.Sprint(row.parts)]
		if slices.ContainsFunc(all, func(v string) bool { return v != all[0] }) {
			out.Rows = append(out.Rows, *row)
		}
	}
	slices.SortStableFunc(out.Rows, func(a, b ComparedRow) int { return compareKeys(a.parts, b.parts) })
	return out
}

// compareKeys sorts sizes by their number, other numbers by size, words by
// letter.
func compareKeys(a, b []any) int {
	for i := range min(len(a), len(b)) {
		x, xNumber := a[i].(int64)
		y, yNumber := b[i].(int64)
		if xNumber && yNumber {
			if x != y {
				return cmp.Compare(x, y)
			}
			continue
		}
		v, w := fmt.Sprint(a[i]), fmt.Sprint(b[i])
		if strings.HasPrefix(v, "DN ") && strings.HasPrefix(w, "DN ") && len(v) != len(w) {
			return cmp.Compare(len(v), len(w))
		}
		if v != w {
			return cmp.Compare(v, w)
		}
	}
	return 0
}
