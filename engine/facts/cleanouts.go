package facts

import (
	"slices"

	"backpitch/engine/design"
	"backpitch/engine/network"
)

// standsHere is how near a cleanout must be to stand at a place: 2 ft, about
// what a fitting and its cleanout take up (common practice).
const standsHere = int64(609_600_000)

// reach is how far the last cleanout lies behind a point of a drain.
type reach struct {
	any      bool
	distance int64 // nm back to it, or unknown
	since    int64 // nm back to it or to the upper end of the run, or unknown
	turned   int64 // sum of the turns since then, 1/1000 degree
}

// cleanoutsAt lists the distances of a pipe's cleanouts from its upstream end.
// One without a stated place is taken to stand at the upper end of a
// horizontal drain and at the base of a vertical one (common practice).
func (v *derivation) cleanoutsAt(q *pipe) []int64 {
	var at []int64
	for i := range q.p.Devices {
		d := &q.p.Devices[i]
		if d.Kind != "cleanout" {
			continue
		}
		x := nanometres(d.At)
		if x == unknown {
			x = 0
			if q.standing() {
				x = max(0, q.length)
			}
		}
		at = append(at, x)
	}
	slices.Sort(at)
	return at
}

func (v *derivation) cleanoutAtTop(q *pipe) bool {
	at := v.cleanoutsAt(q)
	return len(at) > 0 && at[0] <= standsHere
}

// cleanoutAtBase: a cleanout stands at the lower end of a stack or at the
// upper end of the horizontal drain below it.
func (v *derivation) cleanoutAtBase(q *pipe) bool {
	for _, x := range v.cleanoutsAt(q) {
		if q.length >= 0 && q.length-x <= standsHere || hasUnplaced(q.p) {
			return true
		}
	}
	next := v.outDrain(q.edge.To)
	return next != nil && v.cleanoutAtTop(next)
}

func hasUnplaced(p *design.Pipe) bool {
	for i := range p.Devices {
		if d := &p.Devices[i]; d.Kind == "cleanout" && d.At.IsZero() {
			return true
		}
	}
	return false
}

// runs says whether a drain belongs to a horizontal run that cleanouts serve:
// every horizontal drain but fixture drains, which are rodded through their
// traps (common practice).
func (q *pipe) runs() bool {
	return q.isDrain() && q.lie == horizontal && q.role != fixtureDrain
}

// before is the drain upstream of a drain in a straight line: the run of the
// junction it starts at, if that is horizontal too. A fixture drain may come
// first: one can rod through it, but the run begins where it ends.
func (v *derivation) before(q *pipe) int {
	from := q.edge.From
	if v.n.Nodes[from].Kind != network.Junction {
		return network.None
	}
	if e := v.run(from, q); e != network.None && v.pipes[e].lie == horizontal {
		return e
	}
	return network.None
}

func (v *derivation) cleanouts() {
	below := make([]int64, len(v.n.Nodes)) // nm of horizontal drain from a node to the end of its run
	order := v.n.Order()
	for i := len(order) - 1; i >= 0; i-- {
		at := order[i]
		if q := v.outDrain(at); q != nil && q.lie == horizontal {
			below[at] = plus(q.length, below[q.edge.To])
		}
	}
	reached := make([]reach, len(v.pipes)) // at the lower end
	for _, at := range order {
		q := v.outDrain(at)
		if q == nil {
			continue
		}
		v.listCleanouts(q)
		e := v.n.Nodes[at].Outlet
		start, fresh := v.startOf(q, reached)
		reached[e] = v.throughDrain(q, start)
		if fresh && q.runs() && (q.role == branch || q.role == buildingDrain) {
			v.upperEnd(q, start, below[at])
		}
		v.turns(q, start, below[at])
		v.stackBase(q, below)
		v.buildingExit(q, reached[e])
	}
}

// startOf is what lies behind the upper end of a drain, and whether its run
// begins there. A stack with a cleanout at its base serves the drain below.
func (v *derivation) startOf(q *pipe, reached []reach) (r reach, fresh bool) {
	if e := v.before(q); e != network.None {
		r, fresh = reached[e], q.runs() && !v.pipes[e].runs()
		if fresh && !r.any {
			r.since, r.turned = 0, 0
		}
		return r, fresh
	}
	for _, e := range v.n.Nodes[q.edge.From].DrainIn {
		if in := &v.pipes[e]; in.role == stack && in.standing() && v.cleanoutAtBase(in) && !v.cleanoutAtTop(q) {
			return reach{any: true}, true
		}
	}
	return reach{distance: unknown}, true
}

// turned sums the turns of a drain between its cleanouts: one sum before the
// first, one after each. A bend without a stated place counts in every one.
func turned(q *pipe, stands []int64) []int64 {
	sums := make([]int64, len(stands)+1)
	for k := range q.p.Bends {
		b := &q.p.Bends[k]
		if b.Change != "" && b.Change != "horizontal_to_horizontal" {
			continue
		}
		at := nanometres(b.At)
		for i := range sums {
			if at == unknown || (i == 0 || at >= stands[i-1]) && (i == len(stands) || at < stands[i]) {
				sums[i] += turn(b.Kind)
			}
		}
	}
	return sums
}

// throughDrain carries a reach to the lower end of a drain and notes the
// longest stretch, and the one that turns the most, without a cleanout that
// ends in it.
func (v *derivation) throughDrain(q *pipe, r reach) reach {
	if q.lie != horizontal {
		return reach{distance: unknown}
	}
	longest, last := int64(0), int64(0)
	stands := v.cleanoutsAt(q)
	turns := turned(q, stands)
	r.turned += turns[0]
	most := r.turned
	for i, x := range stands {
		stretch := plus(r.since, x-last)
		longest = longer(longest, stretch)
		r, last = reach{any: true, turned: turns[i+1]}, x
		most = max(most, r.turned)
	}
	r.since = plus(r.since, restOf(q.length, last))
	if r.any {
		r.distance = plus(r.distance, restOf(q.length, last))
	}
	next := v.outDrain(q.edge.To)
	goesOn := false
	if next != nil && next.runs() {
		e := v.before(next)
		goesOn = e != network.None && &v.pipes[e] == q
	}
	if !goesOn {
		longest = longer(longest, r.since)
	} else if len(stands) == 0 {
		return r
	}
	if !q.runs() {
		return r
	}
	v.facts.CleanoutRuns = append(v.facts.CleanoutRuns, CleanoutRun{
		ID: q.p.ID, Role: q.role, Size: sizeKey(q.dn), DN: some(q.dn), Length: micrometres(longest), Turns: most,
	})
	return r
}

func restOf(length, at int64) int64 {
	if length < 0 {
		return unknown
	}
	return max(0, length-at)
}

// longer is the greater length, unknown where either is.
func longer(a, b int64) int64 {
	if a < 0 || b < 0 {
		return unknown
	}
	return max(a, b)
}

func (v *derivation) listCleanouts(q *pipe) {
	for i := range q.p.Devices {
		if d := &q.p.Devices[i]; d.Kind == "cleanout" {
			v.facts.Cleanouts = append(v.facts.Cleanouts, Cleanout{
				ID: d.ID, PipeID: q.p.ID, DN: fixed(d.Size.Value), PipeDN: some(q.dn), PipeSize: sizeKey(q.dn),
				Clearance: fixed(d.Clearance.Value), Access: copied(d.Access),
			})
		}
	}
}

func (v *derivation) need(q *pipe, id, reason string, r reach) *CleanoutNeed {
	v.facts.CleanoutNeeds = append(v.facts.CleanoutNeeds, CleanoutNeed{
		ID: id, Reason: reason, PipeID: q.p.ID, Role: q.role, Any: r.any,
		HasOne: r.any && r.distance >= 0 && r.distance <= standsHere,
		Kinds:  v.kindNames(q.sums.kinds),
	})
	o := &v.facts.CleanoutNeeds[len(v.facts.CleanoutNeeds)-1]
	if r.any {
		o.Distance = micrometres(r.distance)
	}
	return o
}

// upperEnd: the first drain of a horizontal run of branch or building drain.
func (v *derivation) upperEnd(q *pipe, start reach, length int64) {
	r := start
	if v.cleanoutAtTop(q) {
		r = reach{any: true}
	}
	o := v.need(q, q.p.ID+"/upper-end", "upper_end", r)
	o.Length = micrometres(length)
	o.Closet = v.removable(q)
}

// removable: a fixture at the upper end can be lifted, or its trap taken off,
// to rod the drain (common practice): water closets, and sinks, lavatories,
// bidets and laundry trays with a trap that is no part of them.
func (v *derivation) removable(q *pipe) bool {
	for _, e := range v.n.Nodes[q.edge.From].DrainIn {
		in := &v.pipes[e]
		if in.role != fixtureDrain || in.sums.only < 0 {
			continue
		}
		f := &v.d.Fixtures[v.n.Nodes[in.sums.only].Item]
		switch f.Kind {
		case "water_closet":
			return true
		case "lavatory", "kitchen_sink", "bar_sink", "sink", "bidet", "laundry_tray":
			if f.Trap != nil && f.Trap.Type == "p_trap" {
				return true
			}
		}
	}
	return false
}

// turns: every bend of a horizontal drain that turns the flow by more than 45
// degrees within the horizontal.
func (v *derivation) turns(q *pipe, start reach, length int64) {
	if !q.runs() {
		return
	}
	for k := range q.p.Bends {
		b := &q.p.Bends[k]
		angle := turn(b.Kind)
		if angle <= 45_000 || b.Change != "" && b.Change != "horizontal_to_horizontal" {
			continue
		}
		at := nanometres(b.At)
		r := start
		if at == unknown {
			r.any = r.any || len(v.cleanoutsAt(q)) > 0
			r.distance = unknown
		} else {
			r.distance = plus(r.distance, at)
			for _, x := range v.cleanoutsAt(q) {
				if x <= at+standsHere {
					r = reach{any: true, distance: max(0, at-x)}
				}
			}
		}
		o := v.need(q, place(q.p.ID, "turn", k), "direction_change", r)
		o.Turn = ptr(angle)
		if at != unknown && length >= at {
			o.Length = micrometres(length - at)
		}
	}
}

// stackBase: where a stack turns into a horizontal drain or leaves the design.
func (v *derivation) stackBase(q *pipe, below []int64) {
	if q.role != stack || !q.standing() {
		return
	}
	next := v.outDrain(q.edge.To)
	if next != nil && next.standing() {
		return
	}
	r := reach{distance: unknown}
	if v.cleanoutAtBase(q) {
		r = reach{any: true}
	} else if len(v.cleanoutsAt(q)) > 0 {
		at := v.cleanoutsAt(q)
		r = reach{any: true, distance: restOf(q.length, at[len(at)-1])}
	}
	o := v.need(q, q.p.ID+"/stack-base", "stack_base", r)
	if next != nil {
		o.Length = micrometres(below[q.edge.To])
	}
}

// buildingExit: where the building drain passes into the building sewer. Where
// a building drain arrives there, a branch that joins at the same place has no
// exit of its own, and neither has one that joins the run of another branch:
// what serves the exit stands in the line that goes on (common practice).
func (v *derivation) buildingExit(q *pipe, end reach) {
	if !q.runs() || q.role == buildingSewer {
		return
	}
	to := v.n.Nodes[q.edge.To]
	next := v.outDrain(q.edge.To)
	leaves := to.Kind == network.Connection && v.d.Connections[to.Item].Kind == buildingSewer
	if next != nil && next.role == buildingSewer {
		leaves = true
		if v.cleanoutAtTop(next) {
			end = reach{any: true}
		}
	}
	if leaves && !v.joinsAtExit(q, next) {
		v.need(q, q.p.ID+"/exit", "building_exit", end)
	}
}

// joinsAtExit: a branch whose flow leaves the building through another drain
// that arrives at the same place. next is the sewer, nil at a connection.
func (v *derivation) joinsAtExit(q, next *pipe) bool {
	if q.role == buildingDrain {
		return false
	}
	for _, e := range v.n.Nodes[q.edge.To].DrainIn {
		if in := &v.pipes[e]; in.role == buildingDrain && in.runs() {
			return true
		}
	}
	if next == nil {
		return false
	}
	run := v.run(q.edge.To, next)
	return run != network.None && &v.pipes[run] != q && v.pipes[run].runs()
}
