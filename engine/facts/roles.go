package facts

import "backpitch/engine/network"

// roles gives every drain its part, as stated, else
//
//   - fixture_drain: it carries one fixture and nothing else, by gravity, all
//     the way from that fixture;
//   - stack: any other vertical drain;
//   - building_drain: a horizontal drain that carries a stack, whose flow goes
//     on through horizontal drains only and leaves by a connection of kind
//     building_drain or building_sewer;
//   - branch: all else.
//
// The words follow the definitions of the model codes (from memory).
func (v *derivation) roles() {
	carries := make([]bool, len(v.n.Nodes)) // a stack drains here
	for _, at := range v.n.Order() {
		q := v.outDrain(at)
		if q == nil {
			continue
		}
		if q.role == "" {
			switch {
			case v.fixtureDrain(q):
				q.role = fixtureDrain
			case q.standing():
				q.role = stack
			}
		}
		if carries[at] || q.role == stack {
			carries[q.edge.To] = true
		}
	}
	leaves := make([]bool, len(v.n.Nodes)) // horizontal from here to the building drain or sewer
	order := v.n.Order()
	for i := len(order) - 1; i >= 0; i-- {
		at := order[i]
		if n := v.n.Nodes[at]; n.Kind == network.Connection {
			kind := v.d.Connections[n.Item].Kind
			leaves[at] = kind == buildingDrain || kind == buildingSewer
			continue
		}
		q := v.outDrain(at)
		if q == nil {
			continue
		}
		leaves[at] = q.lie == horizontal && leaves[q.edge.To]
		if q.role == "" {
			q.role = branch
			if leaves[at] && carries[at] {
				q.role = buildingDrain
			}
		}
	}
}

func (v *derivation) fixtureDrain(q *pipe) bool {
	for _, e := range v.n.Nodes[q.edge.From].DrainIn {
		if v.pipes[e].role != fixtureDrain {
			return false
		}
	}
	s := &q.sums
	return s.only >= 0 && s.gravityFixtures == 1 && s.fixtures == 1 && !s.existing && s.pumped[highEnd]+s.unknownPumped == 0
}
