package exercise

import (
	"slices"
	"strings"
	"unicode"

	"backpitch/engine/finding"
)

// sameSubject: people name an element by its id, with or without its kind
// before it and quotes around it. A part may be named by its element.
func sameSubject(answer, subject string) bool {
	said := strings.TrimSpace(answer)
	if _, rest, ok := strings.Cut(said, `"`); ok {
		said, _, _ = strings.Cut(rest, `"`)
	} else if fields := strings.Fields(said); len(fields) > 1 {
		said = fields[len(fields)-1]
	}
	return strings.EqualFold(said, subject) || strings.EqualFold(said, finding.ElementOf(subject))
}

// sameRule says whether an answer's rule, an id or words, means the finding,
// and how well: 2 for the id, 1 for words that fit.
func sameRule(answer string, f KeyFinding) int {
	said := strings.ToLower(strings.TrimSpace(answer))
	if said == f.Rule {
		return 2
	}
	if isRuleID(said) {
		return 0
	}
	topic := tokens(topicOf(f.Rule))
	own := slices.Concat(tokens(f.Rule), tokens(f.Title), tokens(f.Message))
	own = slices.DeleteFunc(own, func(w string) bool { return slices.Contains(topic, w) })
	if f.Measured != nil {
		own = append(own, tokens(f.Measured.Kind)...)
	}
	words := tokens(said)
	rest := slices.DeleteFunc(slices.Clone(words), func(w string) bool { return slices.Contains(topic, w) })
	switch {
	case len(words) == 0:
		return 0
	case len(rest) == 0:
		return 1 // the topic alone
	}
	fits := 0
	for _, w := range rest {
		if slices.Contains(own, w) {
			fits++
		}
	}
	if 3*fits >= len(rest) {
		return 1
	}
	return 0
}

// isRuleID tells drain/too_flat from words such as "slope/fall too flat".
func isRuleID(text string) bool {
	return strings.Count(text, "/") == 1 && !strings.HasPrefix(text, "/") && !strings.HasSuffix(text, "/") && strings.IndexFunc(text, func(r rune) bool {
		return r != '/' && r != '_' && (r < 'a' || r > 'z')
	}) < 0
}

// empty words say nothing about what is wrong.
var empty = strings.Fields("a an and are as at be by can cannot for from has have in is it its missing no none nor not of off on or out that the there this to too under with within wrong " +
	"least more less than most much be required require need needed must shall should fail failed fault bad")

// alike are words of the trade that mean the same here.
var alike = map[string]string{
	"slope": "fall", "pitch": "fall", "pitched": "fall", "grade": "fall", "gradient": "fall", "flat": "fall", "steep": "fall",
	"diameter": "size", "undersized": "size", "small": "size", "smaller": "size", "larger": "size", "narrow": "size",
	"toilet": "closet", "wc": "closet", "sump": "basin", "pit": "basin", "manhole": "basin", "lid": "cover",
	"nonreturn": "check", "aav": "valve", "shut-off": "shutoff", "isolation": "shutoff", "material": "material",
	"reachable": "access", "accessible": "access", "reached": "access", "gas-tight": "tight", "gastight": "tight",
}

// tokens are the telling words of a text: lower case, endings off, words that
// mean the same made the same.
func tokens(text string) []string {
	fields := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool {
		return !unicode.IsLetter(r) && r != '-'
	})
	var out []string
	for _, w := range fields {
		w = strings.Trim(w, "-")
		if same, ok := alike[w]; ok {
			w = same
		}
		if len(w) < 2 || slices.Contains(empty, w) {
			continue
		}
		if w = stem(w); !slices.Contains(out, w) {
			out = append(out, w)
		}
	}
	return out
}

func stem(w string) string {
	for _, end := range []string{"ings", "ing", "ies", "ed", "es", "s"} {
		if cut, ok := strings.CutSuffix(w, end); ok && len(cut) >= 4 {
			return cut
		}
	}
	return w
}

// sameSection compares sections by their numbers and letters. Where the key
// cites several, any of them will do.
func sameSection(answer, section string) bool {
	said := plainSection(answer)
	if said == "" {
		return false
	}
	if said == plainSection(section) {
		return true
	}
	for _, one := range strings.FieldsFunc(section, func(r rune) bool { return r == ',' || r == ';' }) {
		if said == plainSection(one) {
			return true
		}
	}
	return false
}

func plainSection(text string) string {
	text = strings.ToLower(text)
	for _, word := range []string{"section", "sect.", "sec.", "clause", "table", "§", "art."} {
		text = strings.ReplaceAll(text, word, "")
	}
	return strings.TrimRight(strings.Join(strings.Fields(text), ""), ".")
}

// sameMissing: the answer names a fact that the finding misses.
func sameMissing(answer string, missing []string) bool {
	said := tokens(answer)
	for _, m := range missing {
		for _, w := range tokens(m) {
			if slices.Contains(said, w) {
				return true
			}
		}
	}
	return false
}
