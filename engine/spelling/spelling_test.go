package spelling

import "testing"

// TestSlips: the example words are those the literature of edit distances
// uses ("kitten" and "sitting" are three apart); swaps count once.
func TestSlips(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{{"kitten", "sitting", 3}, {"", "abc", 3}, {"abc", "abc", 0}, {"ab", "ba", 1}, {"ca", "abc", 3}, {"flaw", "lawn", 2}} {
		if got := Slips(c.a, c.b); got != c.want {
			t.Errorf("%s, %s: %d, want %d", c.a, c.b, got, c.want)
		}
	}
}

func TestQuoted(t *testing.T) {
	for _, c := range []struct {
		words []string
		want  string
	}{
		{nil, ""}, {[]string{"a"}, `"a"`}, {[]string{"a", "b"}, `"a" or "b"`}, {[]string{"a", "b", "c\n"}, `"a", "b" or "c\n"`},
	} {
		if got := Quoted(c.words, "or"); got != c.want {
			t.Errorf("Quoted(%q) = %s, want %s", c.words, got, c.want)
		}
	}
}
