package drawing

import (
	"bytes"
	"fmt"
	"math"
	"strings"
)

// sheet collects the elements of one drawing and writes them.
type sheet struct {
	frame    Frame
	elements []element
}

func (s *sheet) add(e element) { s.elements = append(s.elements, e) }

// furniture adds shapes that belong to no element.
func (s *sheet) furniture(shapes ...shape) { s.add(element{shapes: shapes}) }

// thin is the line width where a pen states none.
const thin = 1.0

// hatchings are the fills that tell areas apart in black and white.
var hatchings = []struct{ name, body string }{
	{"rising", `<path d="M0 6L6 0" stroke-width="0.6"/>`},
	{"falling", `<path d="M0 0L6 6" stroke-width="0.6"/>`},
	{"dots", `<circle cx="1.5" cy="1.5" r="0.6" fill="currentColor" stroke="none"/><circle cx="4.5" cy="4.5" r="0.6" fill="currentColor" stroke="none"/>`},
	{"level", `<path d="M0 1.5H3M3 4.5H6" stroke-width="0.6"/>`},
}

// write prints the sheet, width by height of its own units.
func (s *sheet) write(width, height float64) []byte {
	var b bytes.Buffer
	f := s.frame
	w, h := int(math.Ceil(width)), int(math.Ceil(height))
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d" role="img" aria-labelledby="%s %s"`,
		w, h, s.id("_title"), s.id("_desc"))
	fmt.Fprintf(&b, ` font-family="%s" fill="none" stroke="currentColor" stroke-width="%s" stroke-linejoin="round" stroke-linecap="butt">`+"\n",
		fontFamily, number(thin))
	fmt.Fprintf(&b, "<title id=\"%s\">%s</title>\n<desc id=\"%s\">%s</desc>\n",
		s.id("_title"), escape(f.Title), s.id("_desc"), escape(f.Desc))
	s.writeHatchings(&b)
	for _, e := range s.elements {
		s.writeElement(&b, e)
	}
	b.WriteString("</svg>\n")
	return b.Bytes()
}

// id is an XML id of the drawing itself; the underscore keeps it apart from
// every ElementID, which doubles it.
func (s *sheet) id(name string) string { return escape(s.frame.Prefix) + name }

func (s *sheet) writeHatchings(b *bytes.Buffer) {
	used := map[string]bool{}
	for _, e := range s.elements {
		for _, sh := range e.shapes {
			used[sh.pen.fill] = true
		}
	}
	var defs strings.Builder
	for _, h := range hatchings {
		if used[h.name] {
			fmt.Fprintf(&defs, `<pattern id="%s" width="6" height="6" patternUnits="userSpaceOnUse" stroke="currentColor">%s</pattern>`,
				s.id("_"+h.name), h.body)
		}
	}
	if defs.Len() > 0 {
		fmt.Fprintf(b, "<defs>%s</defs>\n", defs.String())
	}
}

func (s *sheet) writeElement(b *bytes.Buffer, e element) {
	if len(e.shapes) == 0 {
		return
	}
	b.WriteString("<g")
	if e.id != "" {
		fmt.Fprintf(b, ` id="%s"`, escape(ElementID(s.frame.Prefix, e.id)))
	}
	b.WriteByte('>')
	if e.title != "" {
		fmt.Fprintf(b, "<title>%s</title>", escape(e.title))
	}
	for _, sh := range e.shapes {
		s.writeShape(b, sh)
	}
	b.WriteString("</g>\n")
}

func (s *sheet) writeShape(b *bytes.Buffer, sh shape) {
	switch sh.kind {
	case label:
		writeText(b, sh)
	case marking:
		writeMark(b, sh)
	case ring:
		fmt.Fprintf(b, `<circle cx="%s" cy="%s" r="%s"`, number(sh.at[0].x), number(sh.at[0].y), number(sh.r))
		s.writePen(b, sh.pen)
	default:
		name := "polyline"
		if sh.kind == outline {
			name = "polygon"
		}
		fmt.Fprintf(b, `<%s points="`, name)
		for i, p := range sh.at {
			if i > 0 {
				b.WriteByte(' ')
			}
			b.WriteString(number(p.x) + "," + number(p.y))
		}
		b.WriteByte('"')
		s.writePen(b, sh.pen)
	}
}

func (s *sheet) writePen(b *bytes.Buffer, p pen) {
	switch {
	case p.none:
		b.WriteString(` stroke="none"`)
	case p.width > 0 && p.width != thin:
		fmt.Fprintf(b, ` stroke-width="%s"`, number(p.width))
	}
	if p.dash != "" {
		fmt.Fprintf(b, ` stroke-dasharray="%s"`, p.dash)
	}
	switch p.fill {
	case "":
	case "ink":
		b.WriteString(` fill="currentColor"`)
	default:
		fmt.Fprintf(b, ` fill="url(#%s)"`, s.id("_"+p.fill))
	}
	b.WriteString("/>")
}

func writeText(b *bytes.Buffer, sh shape) {
	p := sh.at[0]
	fmt.Fprintf(b, `<text x="%s" y="%s" font-size="%s" fill="currentColor" stroke="none"`, number(p.x), number(p.y), number(sh.size))
	if sh.anchor != start {
		fmt.Fprintf(b, ` text-anchor="%s"`, anchorNames[sh.anchor])
	}
	if sh.bold {
		b.WriteString(` font-weight="bold"`)
	}
	if sh.turned {
		fmt.Fprintf(b, ` transform="rotate(-90 %s %s)"`, number(p.x), number(p.y))
	}
	fmt.Fprintf(b, ">%s</text>", escape(sh.text))
}

// writeMark prints the ring with its number, linked only inside the page.
func writeMark(b *bytes.Buffer, sh shape) {
	p, m := sh.at[0], sh.mark
	linked := strings.HasPrefix(m.Href, "#")
	if linked {
		fmt.Fprintf(b, `<a href="%s"`, escape(m.Href))
		if m.Name != "" {
			fmt.Fprintf(b, ` aria-label="%s"`, escape(m.Name))
		}
		b.WriteByte('>')
	}
	if m.Name != "" {
		fmt.Fprintf(b, "<g><title>%s</title>", escape(m.Name))
	} else {
		b.WriteString("<g>")
	}
	fmt.Fprintf(b, `<circle cx="%s" cy="%s" r="7.5" stroke-width="1.6" stroke="var(--drawing-mark, currentColor)"/>`, number(p.x), number(p.y))
	size := 9.5
	if len(m.Text) > 2 {
		size = 7
	}
	fmt.Fprintf(b, `<text x="%s" y="%s" font-size="%s" font-weight="bold" text-anchor="middle" fill="currentColor" stroke="none">%s</text></g>`,
		number(p.x), number(p.y+0.36*size), number(size), escape(shorten(m.Text, 3)))
	if linked {
		b.WriteString("</a>")
	}
}

// marks lays the marks of an element in a row that starts at x, their centres
// at y, and returns the room the row takes.
func (f Frame) marks(id string, x, y float64) ([]shape, float64) {
	var out []shape
	for i, m := range f.Marks[id] {
		out = append(out, shape{kind: marking, mark: m, at: []point{{x + markRadius + float64(i)*(2*markRadius+1), y}}})
	}
	return out, f.marksWidth(id)
}

// marksWidth is the room of the marks of an element in a row.
func (f Frame) marksWidth(id string) float64 {
	if n := len(f.Marks[id]); n > 0 {
		return float64(n)*(2*markRadius+1) - 1
	}
	return 0
}
