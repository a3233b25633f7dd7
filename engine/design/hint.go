package design

import (
	"slices"
	"strings"

	"backpitch/engine/spelling"
)

// didYouMean is the hint that offers the choices nearest to word, or "".
func didYouMean(word string, choices []string) string {
	near := nearest(word, choices)
	if near == nil {
		return ""
	}
	return "did you mean " + spelling.Quoted(near, "or") + "?"
}

// nearest returns the choices that word was probably meant to be: those with
// the fewest slips of the pen, at most three; none where all are far off.
func nearest(word string, choices []string) []string {
	const longest = 60
	w := plain(word)
	if len(w) == 0 || len(w) > longest {
		return nil
	}
	var found []string
	best := max(1, (len(w)+1)/3) + 1
	for _, choice := range choices {
		c := plain(choice)
		if len(c) == 0 || len(c) > longest {
			continue
		}
		d := spelling.Slips(w, c)
		if (len(w) > 2 && strings.HasPrefix(c, w)) || (len(c) > 2 && strings.HasPrefix(w, c)) {
			d = min(d, 2)
		}
		if d < best {
			best, found = d, nil
		}
		if d == best && len(found) < 3 && d <= max(1, (len(w)+1)/3) {
			found = append(found, choice)
		}
	}
	return found
}

// plain is the part of a word that counts when words are compared.
func plain(word string) string {
	return strings.NewReplacer("-", "_", " ", "_").Replace(strings.ToLower(word))
}

// join puts two hints into one line.
func join(first, second string) string {
	if first == "" || second == "" {
		return first + second
	}
	return first + " " + second
}

// sortedKeys returns the keys of m in order.
func sortedKeys[V any](m map[string]V) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}

// withArticle puts a or an before a noun.
func withArticle(noun string) string {
	if noun != "" && strings.IndexByte("aeiou", noun[0]) >= 0 {
		return "an " + noun
	}
	return "a " + noun
}
