package finding

import (
	"cmp"
	"slices"
)

// Sort orders findings by file, line, column, rule and subject.
func Sort(list []Finding) {
	slices.SortStableFunc(list, func(a, b Finding) int {
		return cmp.Or(comparePlaces(a.Place, b.Place), cmp.Compare(a.Rule, b.Rule), cmp.Compare(a.Subject, b.Subject))
	})
}

// SortProblems orders problems by file, line, column and code.
func SortProblems(list []Problem) {
	slices.SortStableFunc(list, func(a, b Problem) int {
		return cmp.Or(comparePlaces(a.Place, b.Place), cmp.Compare(a.Code, b.Code), cmp.Compare(a.Message, b.Message))
	})
}

func comparePlaces(a, b Place) int {
	return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Col, b.Col))
}
