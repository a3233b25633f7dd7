package drawing

import "math"

// block is a laid-out part of the riser in its own frame. Its exit, where its
// water leaves, is at 0, 0; everything upstream lies to the left and above.
type block struct {
	elements []element
	kids     []kid
	room     box
	sky      []span
	ports    []*port
}

type kid struct {
	*block
	dx, dy float64
}

// span says how high up a stretch is taken; y falls upwards.
type span struct{ x0, x1, top float64 }

// port is a vent on its way up out of a block.
type port struct {
	pipe  int // -1: the merged vents of a terminal
	node  int // where it goes
	path  []point
	clear float64 // it may turn or be crossed from here up
	label float64 // where its turned label starts
	from  int     // node it starts at
}

func (p *port) at() point { return p.path[len(p.path)-1] }

// add puts an element into the block, widens its room and marks the sky.
func (b *block) add(e element) {
	if len(e.shapes) == 0 {
		return
	}
	for _, s := range e.shapes {
		r := s.bounds()
		b.room = b.room.with(r)
		b.sky = append(b.sky, span{r.x0, r.x1, r.y0})
	}
	b.elements = append(b.elements, e)
}

// cover widens the room without a mark on the sky.
func (b *block) cover(r box) { b.room = b.room.with(r) }

// put places another block into this one.
func (b *block) put(o *block, dx, dy float64) {
	b.kids = append(b.kids, kid{o, dx, dy})
	b.cover(o.room.moved(dx, dy))
	for _, p := range o.ports {
		for i := range p.path {
			p.path[i] = p.path[i].plus(dx, dy)
		}
		p.clear += dy
		p.label += dy
		b.ports = append(b.ports, p)
	}
	o.ports = nil
}

// top is the highest thing between x0 and x1, 0 where there is nothing.
func (b *block) top(x0, x1 float64) float64 {
	y := 0.0
	for _, s := range b.sky {
		if s.x0 < x1 && x0 < s.x1 {
			y = math.Min(y, s.top)
		}
	}
	for _, k := range b.kids {
		if k.room.x0+k.dx < x1 && x0 < k.room.x1+k.dx && k.room.y0+k.dy < y {
			y = math.Min(y, k.top(x0-k.dx, x1-k.dx)+k.dy)
		}
	}
	return y
}

// flatten hands every element of the block to f, in the order of drawing.
func (b *block) flatten(dx, dy float64, f func(element)) {
	for _, k := range b.kids {
		k.flatten(dx+k.dx, dy+k.dy, f)
	}
	for _, e := range b.elements {
		shapes := make([]shape, len(e.shapes))
		for i, s := range e.shapes {
			shapes[i] = s.moved(dx, dy)
		}
		e.shapes = shapes
		f(e)
	}
}
