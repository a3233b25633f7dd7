package rulebook

import (
	"bufio"
	_ "embed"
	"html/template"
	"io"
	"regexp"
	"strings"
	"sync"

	"backpitch/engine/finding"
)

//go:embed book.html.tmpl
var page string

//go:embed book.css
var style string

var bookTemplate = sync.OnceValue(func() *template.Template {
	return template.Must(template.New("book").Funcs(template.FuncMap{
		"anchor":    anchor,
		"join":      func(words []string) string { return strings.Join(words, ", ") },
		"basis":     func(b finding.Basis) string { return strings.ReplaceAll(string(b), " ", "-") },
		"failing":   func(x *Example) template.HTML { return markedUp(x.Failing.JSON, counterpart(x, passingJSON(x))) },
		"passing":   func(x *Example) template.HTML { return markedUp(x.Passing.JSON, counterpart(x, x.Failing.JSON)) },
		"web":       func(url string) bool { return strings.HasPrefix(url, "https://") || strings.HasPrefix(url, "http://") },
		"intro":     func() string { return intro },
		"howToRead": func() []string { return howToRead },
		"verify":    func() string { return verify },
	}).Parse(page))
})

// WriteHTML prints the whole book as one file that asks for nothing else.
func WriteHTML(out io.Writer, b *Book) error {
	w := bufio.NewWriter(out)
	// The style is the package's own file, so it is no text of a stranger.
	if err := bookTemplate().Execute(w, map[string]any{"Book": b, "Style": template.CSS(style)}); err != nil {
		return err
	}
	return w.Flush()
}

func passingJSON(x *Example) string {
	if x.Passing == nil {
		return ""
	}
	return x.Passing.JSON
}

// counterpart is the other case's excerpt where both are of one subject, so that
// what differs can be marked.
func counterpart(x *Example, json string) string {
	if x.Passing == nil || x.Passing.Subject != x.Failing.Subject || x.Passing.Design != x.Failing.Design {
		return ""
	}
	return json
}

var token = regexp.MustCompile(`"[^"]*"|,|[^",\s]+|\s+`)

// markedUp is a text with what the other lacks in <mark>; nothing is marked
// where there is nothing to compare with.
func markedUp(text, other string) template.HTML {
	mine, theirs := token.FindAllString(text, -1), token.FindAllString(other, -1)
	kept := common(mine, theirs)
	var b strings.Builder
	open := false
	mark := func(on bool) {
		if on != open {
			b.WriteString(map[bool]string{true: "<mark>", false: "</mark>"}[on])
			open = on
		}
	}
	for i, t := range mine {
		blank := strings.TrimSpace(t) == ""
		if !blank || strings.Contains(t, "\n") {
			mark(other != "" && !kept[i] && !blank)
		}
		b.WriteString(template.HTMLEscapeString(t))
	}
	mark(false)
	return template.HTML(b.String())
}

// common says which of mine are part of the longest sequence that theirs has too.
func common(mine, theirs []string) []bool {
	length := make([][]int, len(mine)+1)
	for i := range length {
		length[i] = make([]int, len(theirs)+1)
	}
	for i := len(mine) - 1; i >= 0; i-- {
		for j := len(theirs) - 1; j >= 0; j-- {
			if mine[i] == theirs[j] {
				length[i][j] = length[i+1][j+1] + 1
			} else {
				length[i][j] = max(length[i+1][j], length[i][j+1])
			}
		}
	}
	kept := make([]bool, len(mine))
	for i, j := 0, 0; i < len(mine) && j < len(theirs); {
		switch {
		case mine[i] == theirs[j]:
			kept[i] = true
			i, j = i+1, j+1
		case length[i+1][j] >= length[i][j+1]:
			i++
		default:
			j++
		}
	}
	return kept
}
