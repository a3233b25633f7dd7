package drawing

import (
	"cmp"
	"math"
	"slices"
)

// giveWay leads the vents of a block that would run into what comes on top of
// it, between limit and right, to the left and up there.
func (l *layout) giveWay(b *block, limit, right float64) {
	var moving []*port
	for _, p := range b.ports {
		if p.at().x > limit && p.at().x < right {
			moving = append(moving, p)
		}
	}
	slices.SortStableFunc(moving, func(a, c *port) int { return cmp.Compare(a.at().x, c.at().x) })
	columns := l.freeColumns(b, limit-10, len(moving))
	for i, p := range moving {
		x := columns[len(moving)-1-i]
		row := math.Min(p.clear, b.top(x-8, p.at().x+8)-ventBlank)
		for _, q := range b.ports {
			if q != p && q.at().x > x-6 && q.at().x < p.at().x+20 {
				row = math.Min(row, q.clear)
			}
		}
		at := p.at()
		p.path = append(p.path, point{at.x, row}, point{x, row})
		p.clear = row - ventBlank
		if l.data.Nodes[p.node].Kind == AirValve {
			p.clear -= l.valveHeight(p.node)
		}
		b.sky = append(b.sky, span{x - 4, at.x + 4, row - 4})
		b.cover(box{x - 22, row, at.x, row})
	}
}

// freeColumns finds n columns left of a limit, from right to left, that keep
// off the vents already there.
func (l *layout) freeColumns(b *block, limit float64, n int) []float64 {
	var out []float64
	for x := limit; len(out) < n; {
		busy := false
		for _, p := range b.ports {
			if math.Abs(p.at().x-x) < corridor-2 && p.at().x <= limit+10 {
				busy, x = true, p.at().x-corridor
				break
			}
		}
		if !busy {
			out = append(out, x)
			x -= corridor
		}
	}
	return out
}
