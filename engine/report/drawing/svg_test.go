package drawing

import (
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"math/rand"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// parsed is one element with its text.
type parsed struct {
	name string
	attr map[string]string
	text string
}

// parse reads a drawing as any XML reader does.
func parse(t *testing.T, svg []byte) []parsed {
	t.Helper()
	var out []parsed
	var open []int
	for d := xml.NewDecoder(strings.NewReader(string(svg))); ; {
		tok, err := d.Token()
		if err == io.EOF {
			return out
		}
		if err != nil {
			t.Fatalf("not well-formed: %v", err)
		}
		switch x := tok.(type) {
		case xml.StartElement:
			p := parsed{name: x.Name.Local, attr: map[string]string{}}
			for _, a := range x.Attr {
				p.attr[a.Name.Local] = a.Value
			}
			open = append(open, len(out))
			out = append(out, p)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			if len(open) > 0 {
				out[open[len(open)-1]].text += string(x)
			}
		}
	}
}

func TestEveryDrawingIsPlainAccessibleSVG(t *testing.T) {
	for name, svg := range cases() {
		checkSVG(t, name, svg)
	}
	for seed := range int64(20) {
		checkSVG(t, fmt.Sprint("seed ", seed), Riser(anyRiser(rand.New(rand.NewSource(seed)), 40)))
	}
}

// checkSVG holds a drawing to SVG 2 and to WAI-ARIA's graphics use: an image
// with a name and a description, ids that occur once, and references that stay
// inside it.
func checkSVG(t *testing.T, name string, svg []byte) {
	t.Helper()
	list := parse(t, svg)
	ids, texts := map[string]bool{}, map[string]string{}
	for _, p := range list {
		if id := p.attr["id"]; id != "" {
			if ids[id] {
				t.Errorf("%s: id %q occurs twice", name, id)
			}
			ids[id] = true
			texts[id] = p.text
		}
		switch p.name {
		case "svg", "g", "title", "desc", "defs", "pattern", "path", "text", "circle", "polyline", "polygon", "a":
		default:
			t.Errorf("%s: element %q", name, p.name)
		}
		for k, v := range p.attr {
			if k == "href" && !strings.HasPrefix(v, "#") {
				t.Errorf("%s: link %q leaves the page", name, v)
			}
			if k == "style" || k == "class" || strings.HasPrefix(k, "on") {
				t.Errorf("%s: attribute %s", name, k)
			}
			if ref, ok := strings.CutPrefix(v, "url(#"); ok && !strings.Contains(string(svg), `id="`+strings.TrimSuffix(ref, ")")+`"`) {
				t.Errorf("%s: %s refers to nothing", name, v)
			}
		}
	}
	root := list[0].attr
	if root["role"] != "img" {
		t.Errorf("%s: role %q", name, root["role"])
	}
	label := strings.Fields(root["aria-labelledby"])
	if len(label) != 2 || texts[label[0]] == "" || texts[label[1]] == "" {
		t.Errorf("%s: no title or description: %v", name, label)
	}
	if rest := strings.Replace(string(svg), `xmlns="http://www.w3.org/2000/svg"`, "", 1); strings.Contains(rest, "http") || strings.Contains(rest, "@import") {
		t.Errorf("%s: refers to something outside", name)
	}
	if w, h := ViewBox(svg); w <= 0 || h <= 0 {
		t.Errorf("%s: size %d x %d", name, w, h)
	}
}

var paint = regexp.MustCompile(`(?:stroke|fill|color)="([^"]*)"`)

// Everything is drawn in one ink, so nothing can depend on colour.
func TestOneInk(t *testing.T) {
	for name, svg := range cases() {
		for _, m := range paint.FindAllStringSubmatch(string(svg), -1) {
			switch v := m[1]; {
			case v == "currentColor", v == "none", v == "var(--drawing-mark, currentColor)", strings.HasPrefix(v, "url(#"):
			default:
				t.Errorf("%s: paint %q", name, v)
			}
		}
	}
	seen := map[string]string{}
	for name, p := range map[string]pen{"drain": drainPen, "vent": ventPen, "pumped": pumpedPen} {
		if other := seen[p.dash]; other != "" {
			t.Errorf("%s and %s have one line style", name, other)
		}
		seen[p.dash] = name
	}
	seen = map[string]string{}
	for name, p := range map[string]pen{"pump": pumpPen, "parallel": parallelPen, "expected": expectedPen, "static": staticPen, "least": leastPen} {
		if other := seen[p.dash]; other != "" {
			t.Errorf("%s and %s have one line style", name, other)
		}
		seen[p.dash] = name
	}
}

func TestSameDataSameBytes(t *testing.T) {
	first := cases()
	for range 5 {
		for name, svg := range cases() {
			if string(svg) != string(first[name]) {
				t.Errorf("%s differs from one run to the next", name)
			}
		}
	}
}

// scaleOf reads an axis back from its printed numbers: position of a value.
func scaleOf(t *testing.T, list []parsed, level bool) func(v float64) float64 {
	t.Helper()
	type tick struct{ v, at float64 }
	var ticks []tick
	for _, p := range list {
		v, err := strconv.ParseFloat(p.text, 64)
		if p.name != "text" || err != nil || p.attr["font-weight"] != "" {
			continue
		}
		x, _ := strconv.ParseFloat(p.attr["x"], 64)
		y, _ := strconv.ParseFloat(p.attr["y"], 64)
		switch {
		case level && p.attr["text-anchor"] == "middle":
			ticks = append(ticks, tick{v, x})
		case !level && p.attr["text-anchor"] == "end":
			ticks = append(ticks, tick{v, y - 4})
		}
	}
	if n := len(ticks); n < 5 || n > 11 {
		t.Fatalf("%d ticks", n)
	}
	a, b := ticks[0], ticks[len(ticks)-1]
	scale := func(v float64) float64 { return a.at + (v-a.v)*(b.at-a.at)/(b.v-a.v) }
	for _, k := range ticks {
		if math.Abs(scale(k.v)-k.at) > 0.02 {
			t.Errorf("tick %v stands at %v, not %v", k.v, k.at, scale(k.v))
		}
	}
	return scale
}

// The operating point stands where its values say, measured with the numbers
// printed on the axes. 1 gpm = 63.0901964 mL/s, 1 ft = 304 800 µm (NIST SP
// 811, appendix B.8).
func TestOperatingPointStandsAtItsValues(t *testing.T) {
	for name, c := range map[string]struct {
		data PumpData
		flow float64 // mL/s in one unit of the axis
		head float64
	}{
		"US": {demoPump(), 63.0901964, 304800}, "SI": {siPump(), 1000, 1e6}, "twin": {twinPumps(), 63.0901964, 304800},
	} {
		list := parse(t, PumpChart(c.data))
		x, y := scaleOf(t, list, true), scaleOf(t, list, false)
		for _, o := range c.data.Operating {
			wantX, wantY := x(float64(o.At.Flow)/c.flow), y(float64(o.At.Head)/c.head)
			found := false
			for _, p := range list {
				cx, _ := strconv.ParseFloat(p.attr["cx"], 64)
				cy, _ := strconv.ParseFloat(p.attr["cy"], 64)
				if p.name == "circle" && p.attr["r"] == "5" && math.Hypot(cx-wantX, cy-wantY) < 0.05 {
					found = true
				}
			}
			if !found {
				t.Errorf("%s: no operating point at %.2f, %.2f", name, wantX, wantY)
			}
		}
		// So do the stated points of the curve.
		for _, p := range c.data.Points {
			want := fmt.Sprintf(`<circle cx="%s" cy="%s" r="2.6"`, number(x(float64(p.Flow)/c.flow)), number(y(float64(p.Head)/c.head)))
			if !strings.Contains(string(PumpChart(c.data)), want) {
				t.Errorf("%s: no stated point %s", name, want)
			}
		}
	}
}

func siPump() PumpData {
	d := demoPump()
	d.Units = 1
	return d
}

// The section is to scale: widths and heights measured on paper have the
// proportions of the data.
func TestSectionIsToScale(t *testing.T) {
	d := demoBasin()
	s, _ := basinSheet(d)
	var level []float64
	var width float64
	for _, e := range s.elements {
		if strings.HasSuffix(e.title, " level") {
			a, b := e.shapes[0].at[0], e.shapes[0].at[1]
			level, width = append(level, a.y), b.x-a.x
		}
	}
	perInch := width / 30
	for i, want := range []float64{0, 10, 14} { // stop 8 in, start 18 in, alarm 22 in
		if got := (level[0] - level[i]) / perInch; math.Abs(got-want) > 1e-6 {
			t.Errorf("level %d stands %v in above the stop, want %v", i, got, want)
		}
	}
}

func TestMarksLinkWithinThePage(t *testing.T) {
	d := demoPump()
	d.Marks = map[string][]Mark{"op": {{Text: "7", Href: "javascript:alert(1)"}, {Text: "8", Href: "https://example.org/"}, {Text: "9", Href: "#f9", Name: `a "b" <c>`}}}
	svg := string(PumpChart(d))
	if strings.Contains(svg, "javascript") || strings.Contains(svg, "example") {
		t.Error("a link leads off the page")
	}
	if !strings.Contains(svg, `<a href="#f9" aria-label="a &quot;b&quot; &lt;c&gt;">`) {
		t.Error("the link inside the page is missing")
	}
}

func TestElementIDsStayApart(t *testing.T) {
	seen := map[string]string{}
	for _, id := range []string{"a b", "a_b", "a-b", "a.b", "a_20_b", "é", "_e9_", "", "_title", "a"} {
		x := ElementID("p-", id)
		if other, twice := seen[x]; twice {
			t.Errorf("%q and %q both give %q", id, other, x)
		}
		seen[x] = id
		if !regexp.MustCompile(`^p-[A-Za-z0-9_.-]*$`).MatchString(x) {
			t.Errorf("%q gives %q", id, x)
		}
	}
}

func TestHostileTextIsHarmless(t *testing.T) {
	d := demoRiser()
	d.Title = "a\x00b]]></title><script>x</script>\ufffe"
	for i := range d.Nodes {
		d.Nodes[i].Label = `<b>&"'` + "\x01"
	}
	for i := range d.Pipes {
		d.Pipes[i].Size = "\xff<"
	}
	for _, p := range parse(t, Riser(d)) {
		if p.name == "script" || p.name == "b" {
			t.Errorf("element %q came out of text", p.name)
		}
	}
}
