package drawing

import "math"

func distance(a, b point) float64 { return math.Hypot(b.x-a.x, b.y-a.y) }

// inside reports whether p lies in the area a closed line bounds (even-odd).
func inside(p point, area []point) bool {
	in := false
	for i, a := range area {
		b := area[(i+1)%len(area)]
		if (a.y > p.y) != (b.y > p.y) && p.x < a.x+(b.x-a.x)*(p.y-a.y)/(b.y-a.y) {
			in = !in
		}
	}
	return in
}

// spread moves intervals of the given heights, wanted at the given middles and
// in that order, as little as needed so that none overlaps and none starts
// before top. It returns their middles.
func spread(wanted, heights []float64, top float64) []float64 {
	type cluster struct {
		first, last int
		height      float64
		sum         float64 // of the starts its members would give it
		start       float64
	}
	var stack []cluster
	for i := range wanted {
		c := cluster{first: i, last: i, height: heights[i], sum: wanted[i] - heights[i]/2}
		c.start = max(top, c.sum)
		for len(stack) > 0 {
			before := stack[len(stack)-1]
			if before.start+before.height <= c.start {
				break
			}
			n := float64(before.last - before.first + 1)
			m := float64(c.last - c.first + 1)
			c.sum = before.sum + c.sum - m*before.height
			c.first, c.height = before.first, before.height+c.height
			c.start = max(top, c.sum/(n+m))
			stack = stack[:len(stack)-1]
		}
		stack = append(stack, c)
	}
	out := make([]float64, len(wanted))
	for _, c := range stack {
		y := c.start
		for i := c.first; i <= c.last; i++ {
			out[i] = y + heights[i]/2
			y += heights[i]
		}
	}
	return out
}

// clip cuts a segment to a box (the parametric way of Liang and Barsky).
func clip(a, b point, in box) (point, point, bool) {
	t0, t1 := 0.0, 1.0
	dx, dy := b.x-a.x, b.y-a.y
	for _, e := range [4][2]float64{{-dx, a.x - in.x0}, {dx, in.x1 - a.x}, {-dy, a.y - in.y0}, {dy, in.y1 - a.y}} {
		p, q := e[0], e[1]
		switch {
		case p == 0 && q < 0:
			return a, b, false
		case p < 0:
			t0 = max(t0, q/p)
		case p > 0:
			t1 = min(t1, q/p)
		}
	}
	if t0 > t1 {
		return a, b, false
	}
	return point{a.x + t0*dx, a.y + t0*dy}, point{a.x + t1*dx, a.y + t1*dy}, true
}

// clipArea cuts an area to a box, side by side (the way of Sutherland and
// Hodgman).
func clipArea(area []point, in box) []point {
	sides := []func(p point) float64{ // inside where not negative
		func(p point) float64 { return p.x - in.x0 },
		func(p point) float64 { return in.x1 - p.x },
		func(p point) float64 { return p.y - in.y0 },
		func(p point) float64 { return in.y1 - p.y },
	}
	for _, side := range sides {
		var kept []point
		for i, b := range area {
			a := area[(i+len(area)-1)%len(area)]
			da, db := side(a), side(b)
			if (da < 0) != (db < 0) {
				t := da / (da - db)
				kept = append(kept, point{a.x + t*(b.x-a.x), a.y + t*(b.y-a.y)})
			}
			if db >= 0 {
				kept = append(kept, b)
			}
		}
		area = kept
	}
	return area
}
