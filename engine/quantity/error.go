package quantity

import (
	"fmt"
	"strings"
)

// ParseError says why a text is not a quantity of the kind that was asked for.
type ParseError struct {
	Kind   Kind
	Text   string // as given
	Reason string // lower case, no full stop
	Hint   string // what to write instead; not part of Error()
}

// Error gives the text, the kind and the reason, without the hint.
func (e *ParseError) Error() string {
	return fmt.Sprintf("%q is not %s: %s", shorten(e.Text), e.Kind.label(), e.Reason)
}

// shorten keeps hostile text from filling a report.
func shorten(s string) string {
	const most = 60
	if len(s) <= most {
		return s
	}
	return strings.ToValidUTF8(s[:most], "") + "…"
}

// choices joins quoted examples: "a", "b" or "c".
func choices(texts []string) string {
	var b strings.Builder
	for i, t := range texts {
		switch {
		case i > 0 && i == len(texts)-1:
			b.WriteString(" or ")
		case i > 0:
			b.WriteString(", ")
		}
		fmt.Fprintf(&b, "%q", t)
	}
	return b.String()
}

// accepted names the units of a kind.
func (info *kindInfo) accepted() string {
	if info.bare {
		return fmt.Sprintf("%s is written without a unit", info.kind.label())
	}
	names := make([]string, 0, len(info.units)+1)
	for i := range info.units {
		names = append(names, info.units[i].symbol)
	}
	if info.takesRatio() {
		names = append(names, "or 1:48")
	}
	return fmt.Sprintf("%s is written in %s", info.kind.label(), strings.Join(names, ", "))
}

// withUnit offers a bare number again with the usual units of the kind.
func (info *kindInfo) withUnit(number string) string {
	var out []string
	for _, symbol := range info.usual {
		switch {
		case info.kind == Size && symbol == "DN":
			continue
		case info.kind == Angle:
			out = append(out, number+"°", number+" deg")
		default:
			out = append(out, number+" "+symbol)
		}
	}
	if info.kind == Size {
		out = info.sizeExamples(number)
	}
	if info.kind == Slope {
		out = append(out, "1:48")
	}
	return "write " + choices(out)
}

// sizeExamples offers the readings of a bare number that are listed sizes.
func (info *kindInfo) sizeExamples(number string) []string {
	var out []string
	for _, text := range []string{number + " in", "DN " + number} {
		if _, err := Parse(Size, text); err == nil {
			out = append(out, text)
		}
	}
	if out == nil {
		out = []string{"3 in", "DN 80"}
	}
	return out
}

func (info *kindInfo) takesRatio() bool { return info.kind == Slope || info.kind == Ratio }
