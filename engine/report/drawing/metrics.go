package drawing

import "unicode/utf8"

// fontFamily is metric-compatible on most systems; no font is sent along.
const fontFamily = "Arial, Helvetica, 'Liberation Sans', sans-serif"

// advance holds the widths of the printable ASCII characters, thousandths of
// the font size, of the sans-serif faces that share the metrics of Helvetica.
var advance = [95]int{
	278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278,
	556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556,
	1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833, 722, 778,
	667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556,
	333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556,
	556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,
}

// Slack for faces that run wider than the table, and for bold.
const (
	plainSlack = 1.12
	boldSlack  = 1.22
	otherWidth = 700  // thousandths: a letter outside ASCII
	wideWidth  = 1050 // thousandths: scripts of full-width signs
)

// textWidth is the room that s needs at a font size, on the safe side.
func textWidth(s string, size float64, bold bool) float64 {
	sum := 0
	for _, r := range s {
		switch {
		case r >= ' ' && r <= '~':
			sum += advance[r-' ']
		case r >= 0x2e80:
			sum += wideWidth
		default:
			sum += otherWidth
		}
	}
	if bold {
		return float64(sum) / 1000 * size * boldSlack
	}
	return float64(sum) / 1000 * size * plainSlack
}

// shorten cuts s to at most n characters, the last one then a full stop mark.
func shorten(s string, n int) string {
	if utf8.RuneCountInString(s) <= n {
		return s
	}
	return string([]rune(s)[:n-1]) + "…"
}

// wrap breaks s at spaces into lines no wider than width; a longer word stays
// whole on a line of its own.
func wrap(s string, size, width float64) []string {
	var lines []string
	line, word := "", ""
	flush := func() {
		switch {
		case word == "":
		case line == "":
			line = word
		case textWidth(line+" "+word, size, false) <= width:
			line += " " + word
		default:
			lines = append(lines, line)
			line = word
		}
		word = ""
	}
	for _, r := range s {
		if r == ' ' {
			flush()
			continue
		}
		word += string(r)
	}
	flush()
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}
