package exercise

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode"
)

// Formats are the ways a class is printed.
var Formats = []string{"text", "markdown", "csv", "json"}

// Extension ends the file of a format.
func Extension(format string) string {
	return map[string]string{"text": ".txt", "markdown": ".md", "csv": ".csv", "json": ".json"}[format]
}

// WriteClass prints the summary of a class.
func (c Class) Write(w io.Writer, format string) error {
	switch format {
	case "csv":
		return c.writeCSV(w)
	case "json":
		return c.writeJSON(w)
	}
	p := page{markdown: format == "markdown"}
	c.summary(&p)
	_, err := w.Write(p.b.Bytes())
	return err
}

// Write prints one sheet; csv has none of its own and gives the text.
func (m Marked) Write(w io.Writer, k *Key, format string) error {
	if format == "json" {
		return encode(w, m)
	}
	p := page{markdown: format == "markdown"}
	m.sheet(&p, k)
	_, err := w.Write(p.b.Bytes())
	return err
}

func encode(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(v)
}

// page prints headings and tables as text or as markdown.
type page struct {
	b        bytes.Buffer
	markdown bool
}

func (p *page) title(text string) {
	if p.markdown {
		fmt.Fprintf(&p.b, "# %s\n\n", p.safe(text))
		return
	}
	fmt.Fprintf(&p.b, "%s\n\n", p.safe(text))
}

func (p *page) line(format string, args ...any) {
	for i, a := range args {
		if s, ok := a.(string); ok {
			args[i] = p.safe(s)
		}
	}
	fmt.Fprintf(&p.b, format+"\n", args...)
}

func (p *page) gap() { p.b.WriteByte('\n') }

// table prints rows of cells in columns.
func (p *page) table(head []string, rows [][]string) {
	if len(rows) == 0 {
		return
	}
	for _, row := range rows {
		for i := range row {
			row[i] = p.safe(row[i])
		}
	}
	all := append([][]string{head}, rows...)
	if p.markdown {
		for i, row := range all {
			fmt.Fprintf(&p.b, "| %s |\n", strings.Join(row, " | "))
			if i == 0 {
				fmt.Fprintf(&p.b, "|%s\n", strings.Repeat(" --- |", len(head)))
			}
		}
		return
	}
	widths := make([]int, len(head))
	for _, row := range all {
		for i, cell := range row {
			widths[i] = max(widths[i], len([]rune(cell)))
		}
	}
	for _, row := range all {
		var b strings.Builder
		for i, cell := range row {
			b.WriteString(cell + strings.Repeat(" ", widths[i]-len([]rune(cell))+2))
		}
		p.b.WriteString("  " + strings.TrimRight(b.String(), " ") + "\n")
	}
}

// safe makes what a student wrote harmless: no control signs and, in markdown,
// nothing that is markup.
func (p *page) safe(text string) string {
	text = strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || unicode.Is(unicode.Cf, r) {
			return ' '
		}
		return r
	}, text)
	if !p.markdown {
		return text
	}
	return strings.NewReplacer(`\`, `\\`, "|", `\|`, "<", "&lt;", ">", "&gt;", "`", "\\`", "[", `\[`, "]", `\]`, "*", `\*`, "_", `\_`).Replace(text)
}

func tenths(n int) string { return strconv.Itoa(n/10) + "." + strconv.Itoa(n%10) }

// who names a student for people.
func (m Marked) who() string {
	if m.Student != "" {
		return m.Student
	}
	return m.File
}

func (c Class) summary(p *page) {
	k := c.Key
	full := blank(k, "").Full
	p.title("Marks of a class: " + k.Made.Design)
	p.line("judged under %s (%s, %s)", k.Profile.ID, k.Profile.Title, k.Profile.Edition)
	p.line("faults: %d; marks in full: %d; files marked: %d of %d; on average: %s", len(k.Faults), full, c.Marked(), len(c.Students), tenths(c.Average()))
	p.gap()
	var rows [][]string
	for _, s := range c.Students {
		rows = append(rows, []string{s.who(), s.File, fmt.Sprintf("%d of %d", s.Marks, s.Full), strconv.Itoa(s.foundCount()), strconv.Itoa(len(s.Faults) - s.foundCount()), strconv.Itoa(s.Alarms), s.note()})
	}
	p.table([]string{"student", "file", "marks", "found", "missed", "false alarms", "note"}, rows)
	p.gap()
	rows = nil
	for _, m := range c.Missed() {
		rows = append(rows, []string{fmt.Sprintf("%d of %d", m.Missed, m.Of), strconv.Itoa(m.Number), m.Subject, m.Rule})
	}
	if len(rows) > 0 {
		p.line("missed most")
		p.gap()
		p.table([]string{"missed by", "fault", "element", "rule"}, rows)
		p.gap()
	}
	for _, line := range k.schemeLines() {
		p.line("%s", line)
	}
	p.gap()
	p.line("%s", k.Profile.Verify)
}

func (m Marked) foundCount() int {
	n := 0
	for _, f := range m.Faults {
		if f.Found {
			n++
		}
	}
	return n
}

// note is why a file was not marked.
func (m Marked) note() string {
	if len(m.Problems) == 0 {
		return ""
	}
	p := m.Problems[0]
	text := "not marked: "
	if p.Place.Line > 0 {
		text += fmt.Sprintf("line %d: ", p.Place.Line)
	}
	return text + p.Message
}

func (m Marked) sheet(p *page, k *Key) {
	p.title("Marks of " + m.who())
	p.line("%s, judged under %s", k.Made.Design, k.Profile.ID)
	p.line("%d of %d marks", m.Marks, m.Full)
	if note := m.note(); note != "" {
		p.line("%s", note)
	}
	p.gap()
	if m.Sound != nil {
		said := "not called sound"
		if *m.Sound {
			said = "called sound, as it is"
		}
		p.line("the design has no planted fault; it was %s", said)
		p.gap()
	}
	var rows [][]string
	for i, a := range m.Answers {
		became := a.Became
		if a.Fault > 0 {
			became += " " + strconv.Itoa(a.Fault)
		}
		rows = append(rows, []string{strconv.Itoa(i + 1), a.Answer.Subject, a.Answer.Rule, string(a.Answer.Outcome), became, strconv.Itoa(a.Marks), strings.Join(a.Remarks, "; ")})
	}
	p.table([]string{"answer", "element", "what is wrong", "outcome", "became", "marks", "remarks"}, rows)
	if len(rows) > 0 {
		p.gap()
	}
	rows = nil
	for i, f := range m.Faults {
		if !f.Found {
			rows = append(rows, []string{strconv.Itoa(f.Number), k.Faults[i].Findings[0].Message, k.Faults[i].Findings[0].Section})
		}
	}
	if len(rows) > 0 && len(m.Problems) == 0 {
		p.line("missed")
		p.gap()
		p.table([]string{"fault", "what a review says", "section"}, rows)
		p.gap()
	}
	for _, line := range k.schemeLines() {
		p.line("%s", line)
	}
	p.gap()
	p.line("%s", k.Profile.Verify)
}

// schemeLines says how marks are given.
func (k *Key) schemeLines() []string {
	s := k.Scheme
	return []string{
		fmt.Sprintf("marks: %d for a fault found, %d for the section, %d for what is found, %d for what is required, %d for a sum where a value has to be worked out,", s.Found, s.Section, s.Measured, s.Limit, s.Sum),
		fmt.Sprintf("%d for naming what is not shown, %d for calling a sound design sound; each false alarm takes %d away, no sheet falls below 0;", s.Missing, s.Sound, s.FalseAlarm),
		fmt.Sprintf("values count within %d %%, sizes and counts exactly, in any unit", s.TolerancePercent),
	}
}

func (c Class) writeCSV(w io.Writer) error {
	out := csv.NewWriter(w)
	head := []string{"student", "file", "marks", "full", "found", "missed", "false_alarms"}
	for _, f := range c.Key.Faults {
		head = append(head, fmt.Sprintf("fault_%d", f.Number))
	}
	rows := [][]string{append(head, "note")}
	for _, s := range c.Students {
		row := []string{cell(s.Student), cell(s.File), strconv.Itoa(s.Marks), strconv.Itoa(s.Full), strconv.Itoa(s.foundCount()), strconv.Itoa(len(s.Faults) - s.foundCount()), strconv.Itoa(s.Alarms)}
		for _, f := range s.Faults {
			row = append(row, strconv.Itoa(f.Marks))
		}
		rows = append(rows, append(row, cell(s.note())))
	}
	return out.WriteAll(rows)
}

// cell keeps a spreadsheet from reading what a student wrote as a formula.
func cell(text string) string {
	text = (&page{}).safe(text)
	if text != "" && strings.ContainsRune("=+-@\t", rune(text[0])) {
		return "'" + text
	}
	return text
}

func (c Class) writeJSON(w io.Writer) error {
	return encode(w, struct {
		Exercise string     `json:"exercise"`
		Design   string     `json:"design"`
		Profile  KeyProfile `json:"profile"`
		Scheme   Scheme     `json:"scheme"`
		Marked   int        `json:"marked"`
		Students []Marked   `json:"students"`
		Missed   []Missed   `json:"missed"`
	}{c.Key.Exercise, c.Key.Made.Design, c.Key.Profile, c.Key.Scheme, c.Marked(), c.Students, c.Missed()})
}
