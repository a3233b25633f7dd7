package drawing

import (
	"cmp"
	"math"
	"slices"
)

// levelRun is a level stretch of a pipe.
type levelRun struct {
	y, x0, x1 float64
	element   int
}

// levelRuns lists the level stretches of all pipes by height.
func (s *sheet) levelRuns() []levelRun {
	var runs []levelRun
	for i, e := range s.elements {
		for _, sh := range e.shapes {
			for k := 1; sh.pipe && k < len(sh.at); k++ {
				if a, b := sh.at[k-1], sh.at[k]; math.Abs(a.y-b.y) < 0.01 && a.x != b.x {
					runs = append(runs, levelRun{a.y, math.Min(a.x, b.x), math.Max(a.x, b.x), i})
				}
			}
		}
	}
	slices.SortStableFunc(runs, func(a, b levelRun) int { return cmp.Compare(a.y, b.y) })
	return runs
}

// openCrossings breaks an upright pipe where it passes a level one without
// joining it, as draughtsmen do for the line behind.
func (s *sheet) openCrossings() {
	runs := s.levelRuns()
	for i := range s.elements {
		var out []shape
		for _, sh := range s.elements[i].shapes {
			if sh.pipe && sh.kind == stroke {
				out = append(out, broken(sh, i, runs)...)
			} else {
				out = append(out, sh)
			}
		}
		s.elements[i].shapes = out
	}
}

// broken cuts one pipe of element i into the pieces that stay visible.
func broken(sh shape, i int, runs []levelRun) []shape {
	const half = 4.5
	var out []shape
	part := []point{sh.at[0]}
	for k := 1; k < len(sh.at); k++ {
		a, b := sh.at[k-1], sh.at[k]
		sign := 1.0
		if b.y < a.y {
			sign = -1
		}
		for _, y := range passes(a, b, i, runs) {
			piece := sh
			piece.at = append(part, point{a.x, y - sign*half})
			out = append(out, piece)
			part = []point{{a.x, y + sign*half}}
		}
		part = append(part, b)
	}
	sh.at = part
	return append(out, sh)
}

// passes lists the heights where an upright stretch passes level pipes, in the
// direction of the stretch.
func passes(a, b point, i int, runs []levelRun) []float64 {
	if math.Abs(a.x-b.x) >= 0.01 {
		return nil
	}
	low, high := math.Min(a.y, b.y)+2, math.Max(a.y, b.y)-2
	first, _ := slices.BinarySearchFunc(runs, low, func(r levelRun, y float64) int {
		if r.y < y {
			return -1
		}
		return 1
	})
	var ys []float64
	for _, r := range runs[first:] {
		if r.y > high {
			break
		}
		near := len(ys) > 0 && r.y-ys[len(ys)-1] < 10
		if r.element != i && a.x > r.x0+2 && a.x < r.x1-2 && !near {
			ys = append(ys, r.y)
		}
	}
	if b.y < a.y {
		slices.Reverse(ys)
	}
	return ys
}
