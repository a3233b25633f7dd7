package profile

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Error says what is wrong with a profile and where. Line and Col count from
// 1, 0 where no place can be named. Hint says what to do and is not part of
// Error().
type Error struct {
	File    string
	Line    int
	Col     int
	Message string
	Hint    string
}

// Error is "file:line:col: message".
func (e *Error) Error() string {
	switch {
	case e.File == "":
		return e.Message
	case e.Line == 0:
		return e.File + ": " + e.Message
	}
	return fmt.Sprintf("%s:%d:%d: %s", e.File, e.Line, e.Col, e.Message)
}

// HintText returns the hint, so that a caller need not know the type.
func (e *Error) HintText() string { return e.Hint }

// Errors is everything wrong with a profile, by file and place.
type Errors []*Error

// most is how many errors are listed; the rest is counted.
const most = 100

// Error lists the errors, one a line, each with its hint below it; a single
// error leaves its hint to HintText.
func (list Errors) Error() string {
	if len(list) == 1 {
		return list[0].Error()
	}
	var b strings.Builder
	for i, e := range list {
		if i == most {
			fmt.Fprintf(&b, "\nand %d more", len(list)-most)
			break
		}
		if i > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(e.Error())
		if e.Hint != "" {
			b.WriteString("\n  hint: " + e.Hint)
		}
	}
	return b.String()
}

// HintText returns the hint of a single error; of more, each stands beside its
// error already.
func (list Errors) HintText() string {
	if len(list) == 1 {
		return list[0].Hint
	}
	return ""
}

// Unwrap lets errors.As find each [*Error].
func (list Errors) Unwrap() []error {
	out := make([]error, len(list))
	for i, e := range list {
		out[i] = e
	}
	return out
}

func (list *Errors) add(e *Error) { *list = append(*list, e) }

// sorted returns nil for no errors, so that callers can return it as error.
func (list Errors) sorted() error {
	if len(list) == 0 {
		return nil
	}
	slices.SortStableFunc(list, func(a, b *Error) int {
		return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Col, b.Col),
			cmp.Compare(a.Message, b.Message))
	})
	return slices.CompactFunc(list, func(a, b *Error) bool { return *a == *b })
}

func (d *document) errorAt(off int, hint, format string, args ...any) *Error {
	line, col := d.place(off)
	return &Error{File: d.file, Line: line, Col: col, Message: fmt.Sprintf(format, args...), Hint: hint}
}

// errorf places an error at the node.
func (n *node) errorf(hint, format string, args ...any) *Error {
	return n.doc.errorAt(n.off, hint, format, args...)
}

// Nearest returns the names most like the one given, at most three, nearest
// first: those that differ by no more than a third of its letters. A hint
// "did you mean" can be made of them.
func Nearest(name string, names []string) []string {
	type candidate struct {
		name string
		far  int
	}
	limit := max(1, len(name)/3)
	var near []candidate
	for _, n := range names {
		if far := distance(name, n, limit); far <= limit {
			near = append(near, candidate{n, far})
		}
	}
	slices.SortFunc(near, func(a, b candidate) int {
		return cmp.Or(cmp.Compare(a.far, b.far), cmp.Compare(a.name, b.name))
	})
	var out []string
	for _, c := range near[:min(3, len(near))] {
		out = append(out, c.name)
	}
	return out
}

// DidYouMean is a hint with the nearest names, or with all of them where few
// exist and none is near; "" where there is nothing to offer.
func DidYouMean(name string, names []string) string {
	if near := Nearest(name, names); len(near) > 0 {
		return "did you mean " + quotedList(near, "or") + "?"
	}
	if len(names) == 0 || len(names) > 8 {
		return ""
	}
	all := slices.Clone(names)
	slices.Sort(all)
	return "there is " + quotedList(all, "and")
}

// quotedList is `"a", "b" or "c"`.
func quotedList(names []string, last string) string {
	var b strings.Builder
	for i, n := range names {
		switch {
		case i > 0 && i == len(names)-1:
			b.WriteString(" " + last + " ")
		case i > 0:
			b.WriteString(", ")
		}
		fmt.Fprintf(&b, "%q", n)
	}
	return b.String()
}

// distance counts the letters to insert, delete, change or swap with their
// neighbour; above limit the count is not exact.
func distance(a, b string, limit int) int {
	if diff := len(a) - len(b); diff > limit || -diff > limit {
		return limit + 1
	}
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}
