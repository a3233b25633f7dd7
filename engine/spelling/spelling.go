// Package spelling compares words, for hints that offer what was meant.
//
// What enters: words. What leaves: how many slips of the pen lie between two,
// and words set in quotes. Which are near enough to offer is the caller's
// business. It knows nothing of designs or profiles.
package spelling

import (
	"strconv"
	"strings"
)

// Slips counts the letters to insert, leave out, change or swap with their
// neighbour to turn a into b (optimal string alignment, in bytes). It is never
// less than the difference of their lengths.
func Slips(a, b string) int {
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := range len(a) {
		row[0] = i + 1
		for j := range len(b) {
			change := 1
			if a[i] == b[j] {
				change = 0
			}
			row[j+1] = min(last[j+1]+1, row[j]+1, last[j]+change)
			if i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
				row[j+1] = min(row[j+1], before[j-1]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}

// Quoted is `"a", "b" or "c"`, with the word given before the last one.
func Quoted(words []string, last string) string {
	var b strings.Builder
	for i, w := range words {
		switch {
		case i > 0 && i == len(words)-1:
			b.WriteString(" " + last + " ")
		case i > 0:
			b.WriteString(", ")
		}
		b.WriteString(strconv.Quote(w))
	}
	return b.String()
}
