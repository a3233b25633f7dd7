package exercise

import (
	"slices"
	"strings"

	"backpitch/engine/finding"
	"backpitch/engine/quantity"
)

// sameQuantity: the answer is the value in any unit, within the tolerance. A
// value that was printed rounded may be answered as it is printed. Sizes and
// counts must be exact, words the same words.
func sameQuantity(answer string, q *finding.Quantity, percent int) bool {
	said := strings.TrimSpace(answer)
	if q == nil || said == "" {
		return false
	}
	kind := quantity.Kind(q.Kind)
	if !isNumber(q) {
		return plainWords(said) == plainWords(q.Text) || sameFlag(said, q.Text) || slices.ContainsFunc(strings.Split(q.Text, ","), func(one string) bool { return plainWords(one) == plainWords(said) })
	}
	if strings.EqualFold(said, q.Text) {
		return true // a range, as it is printed
	}
	v, err := quantity.Parse(kind, said)
	if err != nil {
		return false
	}
	for _, right := range values(kind, q) {
		if near(kind, v.Fixed(), right, percent) {
			return true
		}
	}
	return false
}

// isNumber: the value is a quantity and not a word, a list or yes and no.
func isNumber(q *finding.Quantity) bool {
	return q != nil && slices.Contains(quantity.Kinds(), quantity.Kind(q.Kind))
}

// statesLimit: there is something to write under "required". What a rule
// forbids, and what must simply be so, is said by naming the fault.
func statesLimit(f KeyFinding) bool {
	return isNumber(f.Limit) || f.Limit != nil && f.Limit.Text != "none" && !isFlagText(f.Limit.Text)
}

// statesFound: there is something to write under "found".
func statesFound(f KeyFinding) bool { return f.Measured != nil && !isFlagText(f.Measured.Text) }

func isFlagText(text string) bool {
	_, is := flags[plainWords(text)]
	return is
}

// sameWords: where no number is found, an answer says in its own words what
// the review says.
func sameWords(answer string, f KeyFinding) bool {
	if isNumber(f.Measured) {
		return false
	}
	said, right := tokens(answer), append(tokens(f.Measured.Text), tokens(f.Message)...)
	own := tokens(f.SubjectName)
	return slices.ContainsFunc(said, func(w string) bool { return slices.Contains(right, w) && !slices.Contains(own, w) })
}

// slack is how far a value may be off whatever the percentage: half of what is
// printed.
var slack = map[quantity.Kind]int64{quantity.Length: 800, quantity.Slope: 50}

// values are the fixed values a quantity stands for: the exact one, the one
// that is printed, and the ends of a range.
func values(kind quantity.Kind, q *finding.Quantity) []int64 {
	var out []int64
	if q.Fixed != nil {
		out = append(out, *q.Fixed)
	}
	for _, text := range strings.Split(q.Text, " to ") {
		if v, err := quantity.Parse(kind, text); err == nil {
			out = append(out, v.Fixed())
		}
	}
	return out
}

func near(kind quantity.Kind, a, b int64, percent int) bool {
	if a == b {
		return true
	}
	if max(a-b, b-a) <= slack[kind] {
		return true
	}
	if kind == quantity.Size || kind == quantity.Count || (a < 0) != (b < 0) {
		return false
	}
	// Numbers of this size are far from the edge of int64: Unlimited is 2^53.
	return max(a-b, b-a)*100 <= max(b, -b)*int64(percent)
}

// plainWords: "P-Trap" and "p_trap" are the same.
func plainWords(text string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(text), func(r rune) bool {
		return r == ' ' || r == '_' || r == '-'
	}), " ")
}

var flags = map[string]bool{"yes": true, "true": true, "no": false, "false": false}

// sameFlag: yes and true are the same answer.
func sameFlag(a, b string) bool {
	x, isFlag := flags[plainWords(a)]
	y, too := flags[plainWords(b)]
	return isFlag && too && x == y
}
