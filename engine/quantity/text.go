package quantity

import (
	"strings"
	"unicode/utf8"
)

// vulgar spells out the Unicode vulgar fractions.
var vulgar = map[rune]string{
	'¼': "1/4", '½': "1/2", '¾': "3/4",
	'⅐': "1/7", '⅑': "1/9", '⅒': "1/10", '⅓': "1/3", '⅔': "2/3",
	'⅕': "1/5", '⅖': "2/5", '⅗': "3/5", '⅘': "4/5", '⅙': "1/6", '⅚': "5/6",
	'⅛': "1/8", '⅜': "3/8", '⅝': "5/8", '⅞': "7/8", '↉': "0/3",
}

// typographic maps what keyboards and word processors put in place of ASCII.
var typographic = map[rune]string{
	'−': "-", '–': "-", '‐': "-", '‑': "-",
	'⁄': "/", '∕': "/", '∶': ":",
	'′': "'", '’': "'", '‘': "'", '″': `"`, '”': `"`, '“': `"`,
	'\u00a0': " ", '\u2009': " ", '\u202f': " ", '\u2007': " ",
	'°': " deg", 'º': " deg", '％': "%",
}

// isASCII reports whether s needs no rewriting by [toASCII].
func isASCII(s string) bool {
	for i := 0; i < len(s); i++ {
		if s[i] >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// toASCII rewrites s in ASCII. It returns the first character it cannot, or
// one that would run into its neighbour ("½2"), as bad.
func toASCII(s string) (ascii, bad string) {
	var b strings.Builder
	last := byte(' ') // last byte written
	sealed := false   // a vulgar fraction was just written
	for _, r := range s {
		if r < utf8.RuneSelf {
			c := byte(r)
			if sealed && (digit(c) || c == '.' || c == ',' || c == '/') {
				return "", string(r)
			}
			b.WriteByte(c)
			last, sealed = c, false
			continue
		}
		text, ok := typographic[r]
		switch {
		case ok:
			sealed = sealed && text == "/"
			if sealed {
				return "", string(r)
			}
		case vulgar[r] != "":
			if sealed || last == '.' || last == '/' || last == ',' {
				return "", string(r)
			}
			text, sealed = vulgar[r], true
			if digit(last) {
				text = " " + text
			}
		case (r == '²' || r == '³') && letter(last):
			text = "2"
			if r == '³' {
				text = "3"
			}
		case r == '⅟' && !digit(last) && last != '.' && last != '/':
			text = "1/"
		default:
			return "", string(r)
		}
		b.WriteString(text)
		last = text[len(text)-1]
	}
	return b.String(), ""
}

// unitWords maps spelled-out words to the symbols of the unit table.
var unitWords = map[string]string{
	"inch": "in", "inches": "in", "foot": "ft", "feet": "ft",
	"millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
	"metre": "m", "metres": "m", "meter": "m", "meters": "m",
	"litre": "l", "litres": "l", "liter": "l", "liters": "l",
	"gallon": "gal", "gallons": "gal", "gals": "gal",
	"second": "s", "seconds": "s", "sec": "s", "minute": "min", "minutes": "min", "mins": "min",
	"hour": "h", "hours": "h", "hr": "h", "hrs": "h",
	"pound": "lb", "pounds": "lb", "lbs": "lb", "ounce": "oz", "ounces": "oz",
	"percent": "%", "degree": "deg", "degrees": "deg",
	"dfus": "dfu", "fus": "dfu",
}

// plainUnit reduces a written unit to the spelling the lookup tables use:
// lower case, "/" for "per", no dots, words as symbols, single spaces.
func plainUnit(s string) string {
	var b strings.Builder
	space := false // a space waits between two words
	afterWord := false
	word := func(w string) {
		if space && afterWord {
			b.WriteByte(' ')
		}
		b.WriteString(w)
		space, afterWord = false, true
	}
	for i := 0; i < len(s); {
		c := s[i]
		switch {
		case letter(c) || digit(c) || c >= utf8.RuneSelf || c == '.':
			j := i + 1
			for j < len(s) && (letter(s[j]) || digit(s[j]) || s[j] >= utf8.RuneSelf || s[j] == '.' || s[j] == '^') {
				j++
			}
			w := lowerWord(s[i:j])
			i = j
			if w == "per" {
				b.WriteByte('/')
				space, afterWord = false, false
				continue
			}
			if symbol, ok := unitWords[w]; ok {
				w = symbol
			}
			if w != "" {
				word(w)
			}
			continue
		case c == '"':
			word("in")
		case c == '\'':
			word("ft")
		case c == ' ' || c == '\t':
			space = true
		default:
			b.WriteByte(c)
			space, afterWord = false, c == '%'
		}
		i++
	}
	return b.String()
}

// lowerWord lowers one word and drops the dots and carets in it.
func lowerWord(s string) string {
	if s == "°" {
		return "deg"
	}
	var b strings.Builder
	for i := 0; i < len(s); i++ {
		switch c := s[i]; {
		case c == '.' || c == '^':
		case 'A' <= c && c <= 'Z':
			b.WriteByte(c + 'a' - 'A')
		default:
			b.WriteByte(c)
		}
	}
	return b.String()
}

func digit(c byte) bool { return '0' <= c && c <= '9' }

func letter(c byte) bool { return 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z' }
