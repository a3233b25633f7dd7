// Package random makes valid designs of building drainage from a seed, for
// tests that look for what nobody thought of.
//
// What enters: a seed and a size. What leaves: the bytes of one design
// document in trade notation that reads without a problem, the same on every
// machine. A design holds together: levels follow from lengths and slopes, pipes
// run where they may, air and water find their way or end where a rule can say
// so. It is no good design: what a rule judges is right or wrong at the care of
// that design, often stands exactly at a limit, and may be left out. Nothing
// here knows a profile, and nothing is judged.
//
// Every length is a whole number of nanometres, so that no machine rounds
// otherwise than another.
package random

import (
	"math/rand/v2"
	"strconv"
)

// Most is the greatest number of elements that Design is meant for.
const Most = 5000

// Design returns a design document with about that many elements: what has an
// id counts, devices in pipes too. Fewer than 10 elements stand by themselves,
// more are joined. The same seed and number give the same bytes.
func Design(seed uint64, elements int) []byte {
	g := &maker{Rand: rand.New(rand.NewPCG(seed, uint64(elements))), want: max(elements, 0)}
	g.mood()
	g.describe()
	if g.want < 10 {
		g.loose()
	} else {
		for g.made < g.want {
			g.system()
		}
	}
	return g.write()
}

// sizes are numbers of elements, most of them as people draw.
var sizes = [...]int{1, 2, 3, 5, 8, 12, 20, 30, 30, 50, 50, 80, 80, 120, 120, 200, 300}

// Size is the number of elements of Mixed, from 1 to 300.
func Size(seed uint64) int { return sizes[seed%uint64(len(sizes))] }

// Mixed is Design in sizes that change with the seed.
func Mixed(seed uint64) []byte { return Design(seed, Size(seed)) }

// maker makes one design.
type maker struct {
	*rand.Rand
	want, made int

	metric bool // lengths in whole millimetres; else in sixteenths of an inch
	mixed  bool // a quantity may be written in the other system
	care   int  // percent: how often a choice is the usual one
	silent int  // thousandths: how often something is left out
	closed bool // no vent reaches the open air

	next  map[string]int // number of the last id by word; asked by key only
	lists [kinds][]*element
	head  []*element // project and building, in this order

	storeyHeight int64
	receivers    []receiver // what a pumped line can end at
	airways      []airway   // junctions of vents that lead to the open air
}

// mood draws what holds for the whole design.
func (g *maker) mood() {
	g.next = map[string]int{}
	g.metric = g.chance(35)
	g.mixed = !g.metric && g.chance(15)
	g.care = pick(g, 98, 95, 90, 80, 60, 30)
	g.silent = pick(g, 0, 0, 0, 5, 20, 60, 200, 500)
	g.closed = g.chance(4)
	g.storeyHeight = g.length(96, 120)
}

// chance is true in so many of a hundred cases.
func (g *maker) chance(percent int) bool { return g.IntN(100) < percent }

// usual says whether a choice is the one that practice would take.
func (g *maker) usual() bool { return g.chance(g.care) }

// between draws a whole number from low to high.
func (g *maker) between(low, high int) int { return low + g.IntN(high-low+1) }

// pick draws one of some values.
func pick[T any](g *maker, from ...T) T { return from[g.IntN(len(from))] }

// either draws from the usual values, or, with less care, from the others.
func either[T any](g *maker, usual []T, others ...T) T {
	if g.usual() {
		return pick(g, usual...)
	}
	return pick(g, others...)
}

// name gives the next id that begins with a word.
func (g *maker) name(word string) string {
	g.next[word]++
	return word + "-" + strconv.Itoa(g.next[word])
}
