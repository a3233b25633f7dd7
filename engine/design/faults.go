package design

import (
	"cmp"
	"fmt"
	"slices"

	"backpitch/engine/finding"
	"backpitch/engine/limit"
)

// fault is a problem whose words may not be made yet: hostile files have
// hundreds of thousands of faults, and only the first are told.
type fault struct {
	line, col     int32
	node          int32 // of the table, for the pointer; 0 is the document
	code          string
	message, hint string
	tell          func() (message, hint string) // where set, makes message and hint
}

// faults collects the faults of one file.
type faults struct {
	file   string
	noun   string // what the file holds, "design" where empty
	limits Limits
	table  *table // nil until the file is scanned
	list   []fault
}

// what names what the file holds.
func (f *faults) what() string {
	if f.noun == "" {
		return "design"
	}
	return f.noun
}

func (f *faults) add(x fault) { f.list = append(f.list, x) }

// addAt adds a fault of a node: at its key where atKey is set, else at its value.
func (f *faults) addAt(n int32, atKey bool, code string, tell func() (message, hint string)) {
	nd := &f.table.nodes[n]
	x := fault{line: nd.line, col: nd.col, node: n, code: code, tell: tell}
	if atKey {
		x.line, x.col = nd.keyLine, nd.keyCol
	}
	f.add(x)
}

// problems sorts the faults and puts the first of them in words.
func (f *faults) problems() []finding.Problem {
	if len(f.list) == 0 {
		return nil
	}
	limits := f.limits.OrDefault()
	slices.SortStableFunc(f.list, func(a, b fault) int {
		return cmp.Or(cmp.Compare(a.line, b.line), cmp.Compare(a.col, b.col), cmp.Compare(a.code, b.code))
	})
	told := f.list[:min(len(f.list), limits.Problems)]
	out := make([]finding.Problem, 0, len(told)+1)
	for _, x := range told {
		if x.tell != nil {
			x.message, x.hint = x.tell()
		}
		place := finding.Place{File: f.file, Line: int(x.line), Col: int(x.col)}
		if f.table != nil {
			place.Pointer = f.table.pointer(x.node)
		}
		out = append(out, finding.Problem{Place: place, Code: x.code, Message: x.message, Hint: x.hint})
	}
	if rest := len(f.list) - len(told); rest > 0 {
		out = append(out, limits.notListed(f.file, rest))
	}
	return out
}

// notListed is the last problem of a file that has more than are told.
func (l Limits) notListed(file string, rest int) finding.Problem {
	found := fmt.Sprintf("%d more problems are not listed", rest)
	if rest == 1 {
		found = "1 more problem is not listed"
	}
	return finding.Problem{Place: finding.Place{File: file}, Code: limit.Problems.Code(), Message: limit.Problems.Hit(found, l.Problems),
		Hint: "mend the first ones and review again; " + l.hint(limit.Problems)}
}

// Cut keeps the first problems of a file, sorted, and counts the rest in a last
// one.
func (l Limits) Cut(file string, problems []finding.Problem) []finding.Problem {
	l = l.OrDefault()
	rest := len(problems) - l.Problems
	if rest <= 0 {
		return problems
	}
	return append(problems[:l.Problems:l.Problems], l.notListed(file, rest))
}
