package rulebook

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"backpitch/engine/finding"
	"backpitch/engine/profile"
	"backpitch/engine/quantity"
)

// Table is one table of figures, the profiles that agree in one column.
type Table struct {
	ID      string
	Title   string
	Keys    []string // what its rows are looked up by; none for a single value
	Rows    []string // keys as the profiles write them
	Columns []Column
	Rules   []string // ids of the rules that read it, sorted
}

// Column is what one or several profiles say.
type Column struct {
	Profiles []string
	Section  string
	Basis    finding.Basis // of most of its values
	Source   string
	Cells    []Cell // one for each row
}

// Cell is one figure; empty where the profile has none.
type Cell struct {
	Key   string // as these profiles write it
	Text  string
	Basis finding.Basis // "" where it is the column's
	Note  string
}

// Size is how many figures the table prints.
func (t *Table) Size() int { return len(t.Rows) * len(t.Columns) }

// line is one row of one profile before the tables are put side by side.
type line struct {
	key   string // equal for "4 in" and "DN 100"
	shown string
	sort  []any
	entry profile.Cite
	text  string
}

// gatherTable puts a table of all profiles side by side; nil where none has it.
func gatherTable(id string, profiles []*profile.Profile) *Table {
	out := &Table{ID: id}
	var shown = map[string][]string{}
	var order []line
	for _, p := range profiles {
		lines, title, keys := linesOf(id, p)
		if lines == nil {
			continue
		}
		if out.Title == "" {
			out.Title, out.Keys = title, keys
		}
		for _, l := range lines {
			if _, known := shown[l.key]; !known {
				order = append(order, l)
			}
			if !slices.Contains(shown[l.key], l.shown) {
				shown[l.key] = append(shown[l.key], l.shown)
			}
		}
	}
	if len(order) == 0 {
		return nil
	}
	inOrder(order)
	at := map[string]int{}
	for i, l := range order {
		at[l.key] = i
		out.Rows = append(out.Rows, strings.Join(shown[l.key], " = "))
	}
	for _, p := range profiles {
		lines, _, _ := linesOf(id, p)
		if lines != nil {
			out.add(p, lines, at)
		}
	}
	return out
}

// add puts a profile's figures into a column of its own, or beside the profiles
// that say the same.
func (t *Table) add(p *profile.Profile, lines []line, at map[string]int) {
	sum := map[finding.Basis]int{}
	for _, l := range lines {
		sum[l.entry.Basis]++
	}
	c := Column{Profiles: []string{p.ID}, Cells: make([]Cell, len(t.Rows))}
	for _, l := range lines {
		if sum[l.entry.Basis] > sum[c.Basis] || c.Basis == "" {
			c.Basis = l.entry.Basis
		}
	}
	for _, l := range lines {
		cell := Cell{Key: l.shown, Text: l.text, Note: l.entry.Note}
		if l.entry.Basis != c.Basis {
			cell.Basis = l.entry.Basis
		} else if c.Section == "" {
			c.Section, c.Source = l.entry.Section, p.SourceTitle(l.entry.Source)
		}
		c.Cells[at[l.key]] = cell
	}
	for i := range t.Columns {
		if o := &t.Columns[i]; o.Section == c.Section && o.Basis == c.Basis && o.Source == c.Source && slices.Equal(o.Cells, c.Cells) {
			o.Profiles = append(o.Profiles, p.ID)
			return
		}
	}
	t.Columns = append(t.Columns, c)
}

// linesOf reads a table of a profile, the two columns of its fixture table too.
func linesOf(id string, p *profile.Profile) (lines []line, title string, keys []string) {
	if id == profile.FixtureLoad || id == profile.FixtureTrap {
		for i, f := range p.Fixtures {
			value, kind := f.Load, p.LoadKind()
			if id == profile.FixtureTrap {
				value, kind = f.Trap, quantity.Size
			}
			if value != nil {
				lines = append(lines, line{key: f.Class, shown: f.Class, sort: []any{int64(i)}, entry: f.Cite, text: quantity.FormatLimit(kind, *value, p.Units)})
			}
		}
		if id == profile.FixtureTrap {
			return lines, "Least trap of each class of fixture", []string{"class of fixture"}
		}
		return lines, "Load of each class of fixture", []string{"class of fixture"}
	}
	t := p.Table(id)
	if t == nil {
		return nil, "", nil
	}
	for _, k := range t.Keys {
		keys = append(keys, plain(string(k)))
	}
	for _, e := range t.Rows() {
		l := line{shown: plainWords(e.KeyText()), entry: e.Cite, text: plainWords(t.Text(e, p.Units))}
		if n, ok := e.Int(); ok && n == 0 && len(t.Keys) == 0 && t.Value != profile.Number {
			l.text = quantity.Format(t.Value, 0, p.Units) // a level of nothing, not a thing that is not permitted
		}
		for i, part := range e.Key {
			n, err := quantity.ParseLimit(t.Keys[i], part)
			if t.Keys[i] == profile.Word || err != nil {
				l.sort = append(l.sort, part)
			} else {
				l.sort = append(l.sort, n)
			}
		}
		l.key = fmt.Sprint(l.sort)
		lines = append(lines, l)
	}
	return lines, t.Title, keys
}

// inOrder sorts rows by their numbers; words stay as the profiles have them.
func inOrder(lines []line) {
	first := map[string]int64{} // of each word
	for i := range lines {
		for j, part := range lines[i].sort {
			word, ok := part.(string)
			if !ok {
				continue
			}
			if _, known := first[word]; !known {
				first[word] = int64(len(first))
			}
			lines[i].sort[j] = first[word]
		}
	}
	slices.SortStableFunc(lines, func(a, b line) int {
		for i := range min(len(a.sort), len(b.sort)) {
			if c := cmp.Compare(a.sort[i].(int64), b.sort[i].(int64)); c != 0 {
				return c
			}
		}
		return 0
	})
}

// plainWords writes schema words without their underscores.
func plainWords(text string) string { return strings.ReplaceAll(text, "_", " ") }
