package profile

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"backpitch/engine/spelling"
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

// Error lists the errors; see [Lines].
func (list Errors) Error() string { return Lines(list) }

// HintText returns the hint of a single error; see [OneHint].
func (list Errors) HintText() string { return OneHint(list) }

// hinted is an error that says apart what to do about it.
type hinted interface {
	error
	HintText() string
}

// Lines lists errors, one a line, each with its hint below it; a single error
// leaves its hint to OneHint. After the first hundred the rest is counted.
func Lines[E hinted](list []E) string {
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
		if hint := e.HintText(); hint != "" {
			b.WriteString("\n  hint: " + hint)
		}
	}
	return b.String()
}

// OneHint returns the hint of a single error; of more, each stands beside its
// error already.
func OneHint[E hinted](list []E) string {
	if len(list) == 1 {
		return list[0].HintText()
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
		if diff := len(name) - len(n); diff > limit || -diff > limit {
			continue // so many slips at the least
		}
		if far := spelling.Slips(name, n); far <= limit {
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
		return "did you mean " + spelling.Quoted(near, "or") + "?"
	}
	if len(names) == 0 || len(names) > 8 {
		return ""
	}
	all := slices.Clone(names)
	slices.Sort(all)
	return "there is " + spelling.Quoted(all, "and")
}
