package rulebook_test

import (
	"encoding/xml"
	"io"
	"regexp"
	"strings"
	"testing"

	"backpitch/engine/profile"
	"backpitch/engine/rulebook"
)

func wholeBook(t *testing.T) *rulebook.Book {
	t.Helper()
	profiles := allProfiles(t)
	rules := map[string]profile.Rule{}
	for _, p := range profiles {
		list, err := shipped().Rules(p.ID)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range list {
			rules[r.ID] = r
		}
	}
	examples, err := rulebook.Examples()
	if err != nil {
		t.Fatal(err)
	}
	return rulebook.Gather(profiles, rules, examples)
}

func page(t *testing.T) string {
	t.Helper()
	var b strings.Builder
	if err := rulebook.WriteHTML(&b, wholeBook(t)); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// TestEveryFigureIsInTheBook holds that what the profiles state and a rule reads
// stands in the book, under the profile that states it.
func TestEveryFigureIsInTheBook(t *testing.T) {
	book := wholeBook(t)
	for _, p := range allProfiles(t) {
		for _, id := range p.Rules() {
			entry := book.Find(id)
			if entry == nil {
				t.Fatalf("the book has no rule %s", id)
			}
			cited := false
			for _, a := range entry.Adoptions {
				for _, name := range a.Profiles {
					cited = cited || name == p.ID && a.Section == p.Adopts[id].Section && a.Basis == p.Adopts[id].Basis
				}
			}
			if !cited {
				t.Errorf("%s: the book does not cite %s of %s", id, p.Adopts[id].Section, p.ID)
			}
			for _, table := range entry.Tables {
				figures(t, p, table)
			}
		}
	}
}

func figures(t *testing.T, p *profile.Profile, table *rulebook.Table) {
	t.Helper()
	rows := len(p.Table(table.ID).Rows())
	if rows == 0 {
		return
	}
	for _, c := range table.Columns {
		for _, name := range c.Profiles {
			if name != p.ID {
				continue
			}
			shown := 0
			for _, cell := range c.Cells {
				if cell.Text != "" {
					shown++
				}
			}
			if shown != rows {
				t.Errorf("%s of %s: the book shows %d figures of %d", table.ID, p.ID, shown, rows)
			}
			return
		}
	}
	t.Errorf("the book has no column of %s in %s", p.ID, table.ID)
}

// TestPageStandsAlone holds that the page asks a network for nothing, runs no
// script, that every link within it leads somewhere and no id stands twice.
func TestPageStandsAlone(t *testing.T) {
	text := page(t)
	for _, pattern := range []string{`<script`, `<link`, `<img`, `<iframe`, `@import`, `url\(`, ` on[a-z]+=`, ` src=`} {
		if found := regexp.MustCompile(pattern).FindString(text); found != "" {
			t.Errorf("the page has %q", found)
		}
	}
	ids := map[string]int{}
	for _, m := range regexp.MustCompile(` id="([^"]+)"`).FindAllStringSubmatch(text, -1) {
		if ids[m[1]]++; ids[m[1]] > 1 {
			t.Errorf("the id %q stands twice", m[1])
		}
	}
	for _, m := range regexp.MustCompile(` href="#([^"]+)"`).FindAllStringSubmatch(text, -1) {
		if ids[m[1]] == 0 {
			t.Errorf("a link leads to %q, which is not there", m[1])
		}
	}
	for _, m := range regexp.MustCompile(` aria-labelledby="([^"]+)"`).FindAllStringSubmatch(text, -1) {
		if ids[m[1]] == 0 {
			t.Errorf("aria-labelledby names %q, which is not there", m[1])
		}
	}
	if text != page(t) {
		t.Error("the page is not the same twice")
	}
}

// TestPageIsWellFormed reads the page as XML would be read, so that every
// element is closed where it was opened, and holds its outline: headings go
// down one step at a time, and main, nav, header and footer stand once.
func TestPageIsWellFormed(t *testing.T) {
	d := xml.NewDecoder(strings.NewReader(page(t)))
	d.Entity = xml.HTMLEntity
	seen, depth := map[string]int{}, 0
	for {
		token, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		e, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		name := e.Name.Local
		seen[name]++
		if len(name) == 2 && name[0] == 'h' && name[1] >= '1' && name[1] <= '6' {
			level := int(name[1] - '0')
			if level > depth+1 {
				t.Errorf("a heading jumps from level %d to %d", depth, level)
			}
			depth = level
		}
	}
	for _, name := range []string{"main", "nav", "header", "footer", "h1", "title"} {
		if seen[name] != 1 {
			t.Errorf("there are %d of <%s>, want one", seen[name], name)
		}
	}
	if seen["article"] < 170 {
		t.Errorf("the page has %d articles, want one for each rule", seen["article"])
	}
}

// TestTextOfOneRule holds what a terminal shows of a rule.
func TestTextOfOneRule(t *testing.T) {
	book := wholeBook(t)
	for name, write := range map[string]func(io.Writer, *rulebook.Entry) error{"text": rulebook.WriteText, "markdown": rulebook.WriteRuleMarkdown} {
		var b strings.Builder
		if err := write(&b, book.Find("drain/too_flat")); err != nil {
			t.Fatal(err)
		}
		for _, part := range []string{"Horizontal drain too flat", "the drain stops up under the slab", `"slope": "1/8 in/ft"`,
			`drain "wet-2" falls 1/8 in/ft; 1/4 in/ft or more is required for its size`, `drain "wet-2" meets it`,
			"18-29-704.1", "checked", "704.1", "from memory", "drain/too_steep", "erify with local authority"} {
			if !strings.Contains(b.String(), part) {
				t.Errorf("%s of drain/too_flat lacks %q", name, part)
			}
		}
	}
}

// TestRelatedRules holds that rules are related by tables before topics.
func TestRelatedRules(t *testing.T) {
	e := wholeBook(t).Find("drain/too_flat")
	if len(e.Related) == 0 || !strings.Contains(e.Related[0].Why, "drain.min_slope") {
		t.Errorf("the first rule related to drain/too_flat is %+v, want one that reads drain.min_slope", e.Related)
	}
}
