package report

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"io"
	"regexp"
	"strings"
	"sync"

	"backpitch/engine/finding"
	"backpitch/engine/report/drawing"
)

// htmlLetters prints correction lists as one page: no script, no font, no
// picture or style sheet from elsewhere, and a content policy that forbids
// them. Several letters stand in one page under an index.
type htmlLetters struct {
	w     io.Writer
	o     Options
	body  spool
	index []indexed
}

//go:embed assets/letter.css
var letterCSS string

//go:embed assets/letter.gohtml
var letterHTML string

var letterPage = sync.OnceValue(func() *template.Template {
	return template.Must(template.New("page").Funcs(template.FuncMap{
		"place":    func(p finding.Problem) string { return Place(p.Place) },
		"sentence": sentence,
		"hint":     func(p finding.Problem) string { return p.Message + hintText(p.Hint) },
		"gap":      gapText,
		"each":     func(l *letter, items []item) itemList { return itemList{l, items} },
		"grouped":  func(l *letter, g group) letterGroup { return letterGroup{l, g} },
	}).Parse(letterHTML))
})

// itemList is items and the letter they stand in.
type itemList struct {
	Letter *letter
	Items  []item
}

// letterGroup is a group and the letter it stands in.
type letterGroup struct {
	Letter *letter
	Group  group
}

func newHTML(w io.Writer, o Options) Sink {
	return &htmlLetters{w: w, o: o, body: spool{open: o.Spool}}
}

func (h *htmlLetters) Review(e Entry) error {
	l := newLetter(e, len(h.index)+1, h.o)
	h.index = append(h.index, indexed{l.Prefix, l.name(), l.File, l.sum()})
	return h.print(&h.body, "letter", l)
}

// print writes a part of the page. Package template escapes every text in it.
func (h *htmlLetters) print(w io.Writer, part string, data any) error {
	var buf bytes.Buffer
	if err := letterPage().ExecuteTemplate(&buf, part, data); err != nil {
		return err
	}
	_, err := w.Write(cleanLines(buf.Bytes()))
	return err
}

// page is the frame around the letters.
type page struct {
	Title  string
	Style  template.HTML
	Policy string
	Index  []indexed
}

func (h *htmlLetters) Close() error {
	p := page{Title: "Correction lists of " + plural(len(h.index), "submission"), Index: h.index}
	if len(h.index) == 1 {
		i := h.index[0]
		p.Title = "Correction list: " + strings.Join(nonEmpty(i.Name), "")
		if i.Name == "" {
			p.Title += i.File
		}
		p.Index = nil
	}
	css := letterCSS + runningHeads(h.index)
	p.Style = template.HTML("<style>" + css + "</style>") //nolint:gosec // own text, names of designs are escaped by cssString
	sum := sha256.Sum256([]byte(css))
	p.Policy = "default-src 'none'; style-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'; base-uri 'none'; form-action 'none'"
	if err := h.print(h.w, "head", p); err != nil {
		return err
	}
	if err := h.body.copyTo(h.w); err != nil {
		return err
	}
	return h.print(h.w, "foot", p)
}

// runningHeads gives the pages of each letter on paper their own head.
func runningHeads(index []indexed) string {
	var b strings.Builder
	for n, i := range index {
		name := i.Name
		if name == "" {
			name = i.File
		}
		for _, page := range []string{"letter", "wide"} {
			size := ""
			if page == "wide" {
				size = " size: landscape;"
			}
			fmt.Fprintf(&b, "@page %s%d {%s @top-left { content: %s; } }\n", page, n+1, size, cssString(shortName(string(cleanLines([]byte(name))))))
		}
		fmt.Fprintf(&b, "#%sletter { page: letter%d; }\n#%sletter .wide { page: wide%d; }\n", i.Prefix, n+1, i.Prefix, n+1)
	}
	if len(index) == 1 {
		b.WriteString("body { page: letter1; }\n")
	}
	return b.String()
}

func shortName(s string) string {
	const most = 70
	if r := []rune(s); len(r) > most {
		return string(r[:most]) + "…"
	}
	return s
}

// cssString writes a CSS string in which all but letters, digits and blanks is
// escaped, so that no name can end it; an escape takes one blank after it with
// it (CSS Syntax Level 3, section 4.3.7).
func cssString(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == ' ':
			b.WriteRune(r)
		default:
			fmt.Fprintf(&b, `\%06x `, r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// markTitle is the name of a mark inside its link, whose label says the same.
var markTitle = regexp.MustCompile(`(<a [^>]*aria-label=[^>]*><g>)<title>[^<]*</title>`)

// Picture is a drawing as part of the page: it has the size it was drawn for
// and, because of its links, the role of a group instead of a single image.
func (p plate) Picture() template.HTML {
	width, height := drawing.ViewBox(p.SVG)
	open := fmt.Sprintf(`<svg width="%d" height="%d" `, width, height)
	svg := bytes.Replace(p.SVG, []byte("<svg "), []byte(open), 1)
	if bytes.Contains(svg, []byte("<a ")) {
		svg = bytes.Replace(svg, []byte(`role="img"`), []byte(`role="group"`), 1)
		svg = markTitle.ReplaceAll(svg, []byte("$1"))
	}
	return template.HTML(svg) //nolint:gosec // package drawing escapes all text
}

// One says that an item is about a single element.
func (i item) One() bool { return len(i.Spots) == 1 }

// Many says that an item has so many places that they stand after the rest.
func (i item) Many() bool { return len(i.Spots) > 8 }

// Class is the tag of an item as a class.
func (i item) Class() string { return strings.ReplaceAll(i.Tag, " ", "-") }

// First is the anchor of a spot's first mark; "" where no drawing shows it.
func (s *spot) First() string {
	if len(s.Links) == 0 {
		return ""
	}
	return s.Links[0].Anchor
}

// Name, HeadLines and Groups are for the page.
func (l *letter) Title() string {
	if l.Project.Name != "" {
		return l.Project.Name
	}
	return l.File
}

func (l *letter) HeadLines() []term { return l.headLines() }

func (l *letter) Groups() []group {
	var list []group
	for _, g := range l.groups() {
		if len(g.Items) > 0 {
			list = append(list, g)
		}
	}
	return list
}

// HasPump says that there is a pump calculation.
func (l *letter) HasPump() bool { return len(l.Pumped)+len(l.Steps)+len(l.Gaps) > 0 }
